package tree_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/solvertest"
	"example.com/longpoint/internal/solver/tree"
)

// host searches points by trying every plan.
type host struct {
	p    *model.Problem
	cost int64
}

func (h *host) Incumbent() int64 { return h.cost }

func (h *host) Reachable(b bound.Box) *bound.ReachableCosts {
	return bound.Reachable(h.p, b, h.cost, new(meter.Meter))
}

// A tree that splits at the relaxation's values and tries every plan of a point finds the cheapest
// plan, from whatever cost it begins. Its leaves cover all counts, each once, and none proves more than
// the cost of the cheapest plan in it, or than the best cost if that is less.
func TestTreeAgainstEveryPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(77, 3))
	leaves, points, fixed := 0, 0, 0
	for k := range 600 {
		p := &model.Problem{}
		for size := int64(20); size > 3 && len(p.Items) < 3; size -= 1 + r.Int64N(9) {
			p.Items = append(p.Items, model.Item{Size: size, Demand: 1 + r.Int64N(3)})
		}
		for range 1 + r.IntN(3) {
			p.Bins = append(p.Bins, model.Bin{Cap: 20 + r.Int64N(40), Cost: 3 + r.Int64N(40), Limit: 1 + r.Int64N(p.Pieces())})
		}
		least, ok := solvertest.LeastOfAll(p)
		h := &host{p, search.NoPlan}
		if ok && r.IntN(3) > 0 {
			h.cost = least + r.Int64N(20)
		}
		began := h.cost
		m := master.New(p)
		for i, it := range p.Items {
			for b, bin := range p.Bins {
				if n := min(it.Demand, bin.Cap/it.Size); n > 0 {
					m.Add(b, []model.Use{{Item: i, N: n}})
				}
			}
		}
		tr := tree.New(h, m, tree.Node[struct{}]{Box: bound.Full(p)})
		for len(tr.Open) > 0 {
			n := tr.Take(tr.Least())
			costs, st, shut := tr.Relax(&n, new(meter.Meter))
			if shut {
				continue
			}
			if st == master.Stopped {
				t.Fatalf("problem %d: stopped in %v\n%+v", k, n.Box, p)
			}
			here := m.Duals.Clone()
			before := len(tr.Leaves)
			if tr.Fix(&n, &here, costs.Cutoff(h.cost)) {
				continue
			}
			fixed += len(tr.Leaves) - before
			counts := make([]int64, len(p.Bins))
			for b, x := range m.Sticks() {
				counts[b] = int64(math.Round(x))
			}
			point, around := m.Split(n.Box, counts)
			for _, b := range around {
				tr.Open = append(tr.Open, tree.Node[struct{}]{Box: b, Bound: n.Bound, Leaf: n.Leaf, Start: tr.Basis()})
			}
			n.Box = point
			if v, ok := solvertest.Least(p, point); ok {
				h.cost = min(h.cost, v)
			}
			tr.SearchedOut(&n)
			points++
		}
		if want := min(began, least); ok && (h.cost != want || tr.Closed < want) || !ok && h.cost != search.NoPlan {
			t.Fatalf("problem %d: best plan %d, closed at %d; the cheapest plan costs %d, the first %d\n%+v", k, h.cost, tr.Closed, least, began, p)
		}
		leaves += len(tr.Leaves)
		for i, l := range tr.Leaves {
			box := bound.Box{Lo: l.Lo, Hi: l.Hi}
			if l.RoundedUp || len(l.Dual) == 0 {
				continue
			}
			d := master.Duals{Scale: l.Scale, Item: l.Dual, Best: make([]int64, len(p.Bins))}
			d.Weight[0] = l.Scale
			for b, bin := range p.Bins {
				d.Best[b] = solvertest.Most(p, l.Dual, bin.Cap)
			}
			v, ok := solvertest.Least(p, box)
			if l.Scale == 0 {
				if ok || m.Numerator(&d, box).Sign() <= 0 {
					t.Fatalf("problem %d: leaf %d claims that there is no plan in %v, or does not prove it\n%+v", k, i, box, p)
				}
			} else if ok && m.BoundOf(&d, box) > v {
				t.Fatalf("problem %d: leaf %d shows %d in %v, where a plan costs %d\n%+v", k, i, m.BoundOf(&d, box), box, v, p)
			}
		}
		for counts := range every(bound.Full(p)) {
			in := 0
			for _, l := range tr.Leaves {
				holds := true
				for b, n := range counts {
					holds = holds && l.Lo[b] <= n && n <= l.Hi[b]
				}
				if holds {
					in++
				}
			}
			if in != 1 {
				t.Fatalf("problem %d: %v is in %d leaves\n%+v", k, counts, in, p)
			}
		}
	}
	if leaves < 1500 || points < 300 || fixed < 100 {
		t.Errorf("%d leaves, %d points, %d parts excluded", leaves, points, fixed)
	}
	t.Logf("%d leaves, %d points, %d parts excluded", leaves, points, fixed)
}

// every enumerates the counts of a box.
func every(b bound.Box) func(yield func([]int64) bool) {
	return func(yield func([]int64) bool) {
		n := slices.Clone(b.Lo)
		for {
			if !yield(n) {
				return
			}
			k := 0
			for ; k < len(n); k++ {
				if n[k]++; n[k] <= b.Hi[k] {
					break
				}
				n[k] = b.Lo[k]
			}
			if k == len(n) {
				return
			}
		}
	}
}

// The parts of a box lie in it and contain all of its counts, each once, even if the count to split at lies outside of it:
// the counts of a relaxation do, if the box became smaller since.
func TestHalvesStayInside(t *testing.T) {
	for lo := range int64(4) {
		for hi := lo; hi < 5; hi++ {
			for at := range int64(6) {
				x, y := tree.Halves(bound.Box{Lo: []int64{lo, 1}, Hi: []int64{hi, 2}}, 0, at)
				for n := range int64(8) {
					in := 0
					for _, b := range [...]bound.Box{x, y} {
						if b.Lo[0] <= n && n <= b.Hi[0] {
							in++
						}
					}
					want := 0
					if lo <= n && n <= hi {
						want = 1
					}
					if in != want {
						t.Errorf("%d to %d at %d: %d lies in %d parts", lo, hi, at, n, in)
					}
				}
			}
		}
	}
}
