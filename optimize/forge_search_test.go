package optimize_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// inside are all numbers and indexes in a search, and its nodes.
type inside struct {
	numbers []*int64
	indexes []*int
	nodes   []**optimize.Node
}

func (in *inside) vector(v *optimize.Vector) {
	in.numbers = append(in.numbers, &v.Scale)
	for _, all := range [][]int64{v.Items, v.Classes, v.Rows} {
		for k := range all {
			in.numbers = append(in.numbers, &all[k])
		}
	}
	for k := range v.Cuts {
		in.numbers = append(in.numbers, &v.Cuts[k].By)
	}
}

func (in *inside) node(at **optimize.Node) {
	n := *at
	if n == nil {
		return
	}
	in.nodes = append(in.nodes, at)
	switch {
	case n.Vector != nil:
		in.vector(n.Vector)
	case n.Way != nil:
		in.indexes = append(in.indexes, &n.Way.Run, &n.Way.At)
	default:
		in.numbers, in.indexes = append(in.numbers, &n.At), append(in.indexes, &n.Row.Class)
		for k := range n.Row.Holds {
			in.numbers, in.indexes = append(in.numbers, &n.Row.Holds[k].N), append(in.indexes, &n.Row.Holds[k].Item)
		}
	}
	in.node(&n.Then)
	in.node(&n.Less)
	in.node(&n.More)
}

func insideOf(o *optimize.OpenProof) *inside {
	in := &inside{}
	for k := range o.Beyond.Searches {
		s := &o.Beyond.Searches[k]
		in.indexes = append(in.indexes, &s.Leaf)
		for j := range s.Filters {
			in.vector(&s.Filters[j])
		}
		in.node(&s.Root)
	}
	for k := range o.Beyond.Forced {
		for j := range o.Beyond.Forced[k] {
			in.indexes = append(in.indexes, &o.Beyond.Forced[k][j])
		}
	}
	return in
}

// searchForgeries change a search, which the bytes may not be able to say afterwards.
var searchForgeries = []struct {
	name string
	make func(r *rand.Rand, p *optimize.Problem, o *optimize.OpenProof, in *inside)
}{
	{"as it was", func(*rand.Rand, *optimize.Problem, *optimize.OpenProof, *inside) {}},
	{"a number more", func(r *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		*in.numbers[r.IntN(len(in.numbers))] += 1 + r.Int64N(1<<r.IntN(40))
	}},
	{"a number less", func(r *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		*in.numbers[r.IntN(len(in.numbers))] -= 1 + r.Int64N(1<<r.IntN(40))
	}},
	{"some numbers other", func(r *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for range 1 + r.IntN(6) {
			*in.numbers[r.IntN(len(in.numbers))] = oneOf(r, 0, 1, 2, r.Int64N(10), huge(r), -huge(r))
		}
	}},
	{"all numbers twice", func(_ *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for _, x := range in.numbers {
			*x *= 2
		}
	}},
	{"the scale less", func(r *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for _, n := range in.nodes {
			if v := (*n).Vector; v != nil && r.IntN(2) == 0 {
				v.Scale /= 2 + r.Int64N(20)
			}
		}
	}},
	{"no scale", func(_ *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for _, n := range in.nodes {
			if v := (*n).Vector; v != nil && (*n).Then == nil {
				v.Scale = 0
			}
		}
	}},
	{"other signs", func(r *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for range 1 + r.IntN(4) {
			x := in.numbers[r.IntN(len(in.numbers))]
			*x = -*x
		}
	}},
	{"an index other", func(r *rand.Rand, p *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		*in.indexes[r.IntN(len(in.indexes))] = r.IntN(len(p.Pieces)+2) - 1
	}},
	{"another branch", func(r *rand.Rand, p *optimize.Problem, o *optimize.OpenProof, in *inside) {
		for _, at := range in.nodes {
			n := *at
			if n.Less == nil {
				continue
			}
			if n.Way != nil {
				n.Way = &optimize.Way{Run: r.IntN(len(p.Runs) + len(p.Rules.Groups) + 1), At: r.IntN(6)}
			} else if len(n.Row.Holds) > 0 {
				n.Row.Holds = []optimize.Hold{{Item: r.IntN(o.Beyond.Items), N: 1 + r.Int64N(3)}}
			} else {
				n.Row.Class = r.IntN(len(o.Leaves[0].Lo))
			}
		}
	}},
	{"a way that all pass, or none", func(r *rand.Rand, p *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		at := in.nodes[r.IntN(len(in.nodes))]
		way := optimize.Way{Run: r.IntN(len(p.Runs) + len(p.Rules.Groups) + 1), At: r.IntN(8)}
		nothing := &optimize.Node{Vector: &optimize.Vector{Items: make([]int64, len((*in.nodes[len(in.nodes)-1]).Vector.Items)), Classes: make([]int64, len((*in.nodes[len(in.nodes)-1]).Vector.Classes))}}
		n := &optimize.Node{Way: &way, Less: nothing, More: *at}
		if r.IntN(2) == 0 {
			n.Less, n.More = n.More, n.Less
		}
		*at = n
	}},
	{"a half only", func(r *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for _, n := range in.nodes {
			if (*n).Less != nil && r.IntN(2) == 0 {
				*n = (*n).Less
				return
			}
		}
	}},
	{"the other half only", func(r *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for _, n := range in.nodes {
			if (*n).More != nil && r.IntN(2) == 0 {
				*n = (*n).More
				return
			}
		}
	}},
	{"both the same", func(_ *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for _, n := range in.nodes {
			if (*n).Less != nil {
				(*n).Less = (*n).More
			}
		}
	}},
	{"halves changed over", func(_ *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for _, n := range in.nodes {
			(*n).Less, (*n).More = (*n).More, (*n).Less
		}
	}},
	{"patterns taken out for nothing", func(r *rand.Rand, _ *optimize.Problem, _ *optimize.OpenProof, in *inside) {
		for _, at := range in.nodes {
			if n := *at; n.Vector != nil {
				v := *n.Vector
				v.Items = slices.Clone(v.Items)
				v.Scale = oneOf(r, v.Scale, 1, huge(r))
				for i := range v.Items {
					if r.IntN(2) == 0 {
						v.Items[i] = oneOf(r, 0, v.Items[i]*2, v.Items[i]/2, huge(r))
					}
				}
				*at = &optimize.Node{Vector: &v, Then: n}
				return
			}
		}
	}},
	{"a cut of anything", func(r *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, in *inside) {
		for _, at := range in.nodes {
			if v := (*at).Vector; v != nil {
				w := optimize.Weight{By: oneOf(r, 1, v.Scale, huge(r))}
				for i := range o.Beyond.Items {
					if r.IntN(2) == 0 {
						w.Items = append(w.Items, i)
					}
				}
				v.Cuts = append(v.Cuts, w)
			}
		}
	}},
	{"a row in which nothing or all counts", func(r *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, in *inside) {
		at := in.nodes[0]
		row := optimize.Row{Class: -1}
		if r.IntN(2) == 0 {
			row.Holds = []optimize.Hold{{Item: r.IntN(o.Beyond.Items), N: oneOf[int64](r, 0, -1, 1, math.MaxInt64)}}
		}
		down := oneOf[int64](r, 0, 1, 3, -1, math.MaxInt64)
		for _, n := range in.nodes {
			if v := (*n).Vector; v != nil {
				v.Rows = append([]int64{0}, v.Rows...)
			}
		}
		*at = &optimize.Node{Row: row, At: down, Less: *at, More: *at}
	}},
	{"filters of nothing", func(r *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) {
		f := optimize.Vector{Scale: oneOf(r, 0, 1, -1, huge(r)), Items: make([]int64, o.Beyond.Items)}
		for i := range f.Items {
			f.Items[i] = oneOf(r, 0, 1, r.Int64N(100), huge(r))
		}
		for k := range o.Beyond.Searches {
			s := &o.Beyond.Searches[k]
			s.Filters = append(slices.Clip(s.Filters[:r.IntN(2)]), f)
		}
	}},
	{"no filters", func(_ *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) {
		o.Beyond.Searches[0].Filters = nil
	}},
	{"no searches", func(_ *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) { o.Beyond.Searches = nil }},
	{"sums of costs", func(_ *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) {
		o.Leaves[0].Sums = !o.Leaves[0].Sums
	}},
	{"a smaller box", func(r *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) {
		l := &o.Leaves[0]
		if c := r.IntN(len(l.Hi)); l.Hi[c] > 0 {
			l.Hi[c]--
		}
	}},
	{"boxes with a search for one", func(r *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) {
		o.Leaves = cutBoxes(r, o.Leaves, 1+r.IntN(3))
	}},
	{"sticks that nobody forces", func(r *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) {
		for range 1 + r.IntN(2) {
			o.Beyond.Forced = append(o.Beyond.Forced, [3]int{r.IntN(o.Beyond.Items), r.IntN(o.Beyond.Items), r.IntN(o.Beyond.Items+1) - 1})
		}
	}},
	{"unit", func(r *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) {
		o.Unit = oneOf(r, 0, -1, 1, 2*o.Unit, math.MaxInt64)
	}},
	{"items", func(r *rand.Rand, _ *optimize.Problem, o *optimize.OpenProof, _ *inside) {
		o.Beyond.Items += r.IntN(3) - 1
	}},
}

// TestForgedSearches makes searches that prove the least cost, and forges them: nothing above the least
// cost is accepted as verified.
func TestForgedSearches(t *testing.T) {
	t.Parallel()
	jobs := *forgedJobs
	if testing.Short() {
		jobs = min(jobs, 120)
	}
	shown, refused := make([]int, len(searchForgeries)), make([]int, len(searchForgeries))
	branched := 0
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 73))
		p := tiny(r)
		least, ok := bruteSolve(&p)
		right := solveOrNil(p)
		if !ok || right == nil || least[0] == 0 {
			continue
		}
		honest := optimize.Searched(&p, least[0], nil, r.IntN(2) == 0)
		if honest == nil {
			t.Fatalf("seed %d: no search shows the least cost %d\n%s", seed, least[0], written(&p))
		}
		if len(insideOf(honest).nodes) > 2 {
			branched++
		}
		sealed, err := honest.Sealed()
		if err != nil {
			t.Fatal(err)
		}
		plans := []*optimize.Plan{right}
		if d := dearer(r, &p); d != nil && d.Cost > least[0] {
			plans = append(plans, d)
		}
		for k := range searchForgeries {
			for _, plan := range plans {
				pr := optimize.Unseal(sealed)
				searchForgeries[k].make(r, &p, pr, insideOf(pr))
				tally(t, &p, plan, pr, least[0], &shown[k], &refused[k])
				if t.Failed() {
					t.Fatalf("seed %d: %s", seed, searchForgeries[k].name)
				}
			}
		}
	}
	for k := range searchForgeries {
		if shown[k]+refused[k] == 0 {
			t.Errorf("%s: neither rejected nor verified", searchForgeries[k].name)
		}
	}
	if shown[0] == 0 || branched < jobs/20 {
		t.Errorf("%d verified unchanged, %d with more than two nodes: this tests little", shown[0], branched)
	}
}

// perfect returns a problem of one class of sticks that two or three pieces fill, some of them nearly.
func perfect(r *rand.Rand) optimize.Problem {
	size := 8 + r.Int64N(24)
	p := optimize.Problem{Kerf: measure.Length(r.IntN(2))}
	full := size + int64(p.Kerf)
	p.Sticks = []stock.Stick{{Length: measure.Length(size), Price: 1 + r.Int64N(3)}}
	add := func(v int64) {
		if v -= int64(p.Kerf); v > 0 && v <= size {
			p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(v)})
		}
	}
	for range 2 + r.IntN(2) {
		a := full/3 + r.Int64N(full/3)
		b := 1 + r.Int64N(full-a-1)
		add(a)
		add(b)
		add(full - a - b + oneOf[int64](r, 0, 0, 0, 1, -1))
	}
	return p
}

// TestForgedPackings removes sticks from a problem that may be in no plan of that many sticks, and
// proves with a true search that the rest needs more: nothing above the least cost is accepted as
// verified.
func TestForgedPackings(t *testing.T) {
	t.Parallel()
	jobs := 25 * *forgedJobs
	if testing.Short() {
		jobs = min(jobs, 2_500)
	}
	right, wrong, taken := 0, 0, 0
	for seed := range uint64(jobs) {
		r := rand.New(rand.NewPCG(seed, 79))
		p := perfect(r)
		if len(p.Pieces) == 0 {
			continue
		}
		var sizes []measure.Length
		for i := range p.Pieces {
			sizes = append(sizes, p.Pieces[i].Length)
		}
		slices.Sort(sizes)
		sizes = slices.Compact(sizes)
		full := p.Sticks[0].Length + p.Kerf
		var fills [][3]int
		for a := range sizes {
			if 2*(sizes[a]+p.Kerf) < full && r.IntN(3) > 0 {
				continue // others nearly always fill that stick
			}
			for b := range sizes {
				if sizes[a]+sizes[b]+2*p.Kerf == full {
					fills = append(fills, [3]int{a, b, -1})
				}
				for c := range sizes {
					if sizes[a]+sizes[b]+sizes[c]+3*p.Kerf == full {
						fills = append(fills, [3]int{a, b, c})
					}
				}
			}
		}
		if len(fills) == 0 {
			continue
		}
		least, ok := bruteSolve(&p)
		if !ok {
			t.Fatalf("seed %d: no plan\n%s", seed, written(&p))
		}
		var forced [][3]int
		for range 1 + r.IntN(2) {
			forced = append(forced, fills[r.IntN(len(fills))])
		}
		price := p.Sticks[0].Price
		for _, bound := range []int64{least[0], least[0] + price} {
			o := optimize.Searched(&p, bound, forced, true)
			if o == nil {
				continue
			}
			// A plan of more sticks than needed, so that there is something to claim.
			worse := spread(&p)
			if worse == nil || worse.Cost < bound {
				continue
			}
			worse.Bound, worse.Proven = bound, worse.Cost == bound
			var err error
			if worse.Proof, err = o.Sealed(); err != nil {
				t.Fatal(err)
			}
			_, err = optimize.Audit(context.Background(), p, worse)
			switch {
			case bound > least[0] && err == nil:
				t.Fatalf("seed %d: Check accepts the bound %d by %v, but the least cost is %d\n%s", seed, bound, forced, least[0], written(&p))
			case bound > least[0]:
				wrong++
			case err == nil:
				right++
			default:
				taken++
			}
		}
	}
	t.Logf("%d right and accepted, %d right and rejected, %d wrong and rejected", right, taken, wrong)
	if right < jobs/400 || wrong < jobs/400 {
		t.Errorf("%d right proofs were accepted and %d wrong ones rejected: this tests little", right, wrong)
	}
}

// spread is a plan with a stick to each piece.
func spread(p *optimize.Problem) *optimize.Plan {
	plan := &optimize.Plan{Stop: optimize.StopUnknown}
	n := 0
	for i := range p.Pieces {
		q := max(1, p.Pieces[i].Quantity)
		off := p.Sticks[0].Length - p.Pieces[i].Length - p.Kerf
		plan.Patterns = append(plan.Patterns, optimize.Pattern{Count: q, Pieces: []int{i}, Offcut: max(0, off)})
		n += q
	}
	plan.Cost = int64(n) * p.Sticks[0].Price
	plan.Buy = []optimize.Purchase{{Stick: 0, Count: n, Cost: plan.Cost}}
	return plan
}
