package optimize_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// everySum returns all sums of the base, up to most[i] times step[i] and one of each of the choices,
// ascending.
func everySum(base int64, step, most []int64, choices [][]int64) []int64 {
	all := map[int64]bool{base: true}
	add := func(some []int64) {
		next := map[int64]bool{}
		for v := range all {
			for _, x := range some {
				next[v+x] = true
			}
		}
		all = next
	}
	for i := range step {
		var some []int64
		for n := range most[i] + 1 {
			some = append(some, n*step[i])
		}
		add(some)
	}
	for _, c := range choices {
		add(c)
	}
	out := make([]int64, 0, len(all))
	for v := range all {
		out = append(out, v)
	}
	slices.Sort(out)
	return out
}

func TestNextSum(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 4))
	for range 3000 {
		factor := 1 + r.Int64N(4)
		base := r.Int64N(100)
		var step, most []int64
		for range r.IntN(4) {
			step = append(step, factor*r.Int64N(40))
			most = append(most, r.Int64N(6))
		}
		var choices [][]int64
		for range r.IntN(3) {
			c := []int64{0}
			for range r.IntN(4) {
				c = append(c, c[len(c)-1]+factor*(1+r.Int64N(30)))
			}
			choices = append(choices, c)
		}
		all := everySum(base, step, most, choices)
		limit := r.Int64N(600)
		for range 20 {
			v := r.Int64N(700)
			want := max(v, limit)
			if k, _ := slices.BinarySearch(all, v); k < len(all) && all[k] < want && v < limit {
				want = all[k]
			}
			got, ok := optimize.NextSum(base, step, most, choices, v, limit, 1<<20)
			if !ok || got != want {
				t.Fatalf("the next of %d below %d is %d, %v, want %d: base %d, %v times %v, %v", v, limit, got, ok, want, base, most, step, choices)
			}
			// With few steps it may only be less.
			if got, _ := optimize.NextSum(base, step, most, choices, v, limit, r.Int64N(40)); got > want || got < v {
				t.Fatalf("with few steps the next of %d below %d is %d, with many %d", v, limit, got, want)
			}
		}
	}
}

func TestNextSumOutOfRange(t *testing.T) {
	const huge = math.MaxInt64 / 2
	for _, c := range []struct {
		name           string
		base           int64
		step, most     []int64
		v, limit, want int64
	}{
		{"more sums than are listed", 1, []int64{6, 9}, []int64{1 << 40, 1 << 40}, 11, 20 * optimize.MaxSums, 13},
		{"the same, listed", 1, []int64{6, 9}, []int64{1 << 40, 1 << 40}, 3, optimize.MaxSums, 7},
		{"as many as are listed", 0, []int64{2}, []int64{1 << 62}, 3, 2 * optimize.MaxSums, 4},
		{"one sum", huge, []int64{0, 5}, []int64{9, 0}, 3, math.MaxInt64, huge},
		{"beyond the limit", huge, nil, nil, 3, 50, 50},
		{"beyond the claim", 0, []int64{7}, []int64{3}, 60, 50, 60},
		{"wide steps", 0, []int64{huge, 3}, []int64{2, 2}, 7, huge, 9}, // three divides huge
	} {
		if got, ok := optimize.NextSum(c.base, c.step, c.most, nil, c.v, c.limit, 1<<40); got != c.want || !ok {
			t.Errorf("%s: %d, %v, want %d", c.name, got, ok, c.want)
		}
	}
	if got, ok := optimize.NextSum(-1, nil, nil, nil, 5, 9, 100); got != 5 || ok {
		t.Errorf("below zero: %d, %v", got, ok)
	}
}

// Invented proofs with sums, in boxes cut at random: Audit's result equals that of trying every count, and
// never exceeds the optimum.
func TestAuditSums(t *testing.T) {
	runs := 4000
	if testing.Short() {
		runs = 600
	}
	rounded, refused := 0, 0
	for seed := range uint64(runs) {
		r := rand.New(rand.NewPCG(seed, 9))
		p := tiny(r)
		p.Sticks = append(p.Sticks, p.Sticks[0])
		for i := range p.Sticks { // prices with gaps between their sums
			p.Sticks[i].Limit = 1 + r.IntN(4)
			if p.Sticks[i].Price = int64(20 + r.IntN(60)); r.IntN(6) == 0 {
				p.Sticks[i].Price = 0
			}
		}
		owned(&p)
		optimum, ok := slowSolve(p)
		if !ok {
			continue
		}
		plan := clone(t, mustSolve(t, p))
		pr := optimize.Unseal(plan.Proof)
		if pr.Unit = max(1, pr.Unit); plan.Bound < pr.Unit {
			continue
		}
		classes := slowClasses(p, plan.ByLength)
		root := optimize.Leaf{Values: make([]int64, len(p.Pieces)), Scale: 1, Sums: true}
		for _, c := range classes {
			root.Lo, root.Hi = append(root.Lo, 0), append(root.Hi, c.limit)
		}
		if len(pr.Leaves) > 0 && r.IntN(3) > 0 {
			k := r.IntN(len(pr.Leaves))
			root.Values = slices.Clone(pr.Leaves[k].Values)
			if root.Scale = pr.Leaves[k].Scale; root.Scale < 1<<58 {
				root.Scale += root.Scale * r.Int64N(3) / 8 // shows less
			}
		}
		leaves := cutBoxes(r, []optimize.Leaf{root}, r.IntN(6))
		claim := r.Int64N(plan.Bound/pr.Unit) * pr.Unit
		want := int64(math.MaxInt64)
		for k := range leaves {
			l := &leaves[k]
			l.Sums = r.IntN(5) > 0
			b := slowLeaf(p, classes, *l, pr.Unit)
			if b == nil {
				continue
			}
			shown := b.Int64()
			if l.Sums && shown < claim {
				var base int64
				var step, most []int64
				for c, cl := range classes {
					base += l.Lo[c] * cl.cost
					step, most = append(step, cl.cost), append(most, l.Hi[c]-l.Lo[c])
				}
				next := claim
				for _, v := range everySum(base, step, most, nil) {
					if v >= shown {
						next = min(next, v)
						break
					}
				}
				if next > shown {
					rounded++
				}
				shown = next
			}
			want = min(want, shown)
		}
		pr.Kind, pr.Leaves, pr.LeafBound, pr.Beyond = optimize.ProofSearch, leaves, claim, nil
		seal(t, plan, pr)
		a, err := optimize.Audit(context.Background(), p, plan)
		if want < claim {
			refused++
			var ce *optimize.CheckError
			if !errors.As(err, &ce) || ce.Field != "proof.leaf_bound" {
				t.Fatalf("seed %d: error %v, shown %d, claimed %d\n%#v\n%+v", seed, err, want, claim, p, pr)
			}
			continue
		}
		if err != nil {
			t.Fatalf("seed %d: %v, want %d\n%#v\n%+v", seed, err, want, p, pr)
		}
		if shown, _ := a.Bound(); shown != min(want, plan.Bound) || shown > optimum.cost {
			t.Fatalf("seed %d: audited %d, error %v, want %d, optimum %d\n%#v\n%+v", seed, shown, err, want, optimum.cost, p, pr)
		}
	}
	if rounded < runs/20 || refused < runs/20 {
		t.Errorf("%d leaves rounded up, %d proofs rejected: too few of one kind", rounded, refused)
	}
}

// sumsJob is made up.
func sumsJob() optimize.Problem {
	return optimize.Problem{
		Sticks: []stock.Stick{{Label: "8 ft", Length: 8 * measure.Foot, Price: 1200}, {Label: "14 ft", Length: 14 * measure.Foot, Price: 2100}},
		Pieces: []stock.Piece{{Label: "rail", Length: 5 * measure.Foot, Quantity: 3}, {Label: "stile", Length: 3 * measure.Foot, Quantity: 5}, {Label: "cap", Length: 6 * measure.Foot, Quantity: 2}},
	}
}

// A proof that needs the sums is rejected without them, and with sums that are not those of the box.
func TestCheckNeedsSums(t *testing.T) {
	found := 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 12))
		p := sumsJob()
		for i := range p.Sticks {
			p.Sticks[i].Price = int64(100 * (7 + r.IntN(20)))
		}
		for i := range p.Pieces {
			p.Pieces[i].Quantity = 1 + r.IntN(6)
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		a, err := optimize.Audit(context.Background(), p, plan)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(optimize.Unseal(plan.Proof).Leaves, func(l optimize.Leaf) bool { return l.Sums }) || !complete(a, plan) || !plan.Proven {
			continue
		}
		bare := clone(t, plan)
		needed := false
		pr := optimize.Unseal(plan.Proof)
		for k := range pr.Leaves {
			pr.Leaves[k].Sums = false
			seal(t, bare, pr)
			q := clone(t, bare)
			forge(t, q, func(pr *optimize.OpenProof) { pr.Kind, pr.LeafBound = optimize.ProofSearch, 0 })
			if b, err := optimize.Audit(context.Background(), p, q); err == nil && !complete(b, plan) {
				needed = true
			}
		}
		if !needed {
			continue
		}
		found++
		var ce *optimize.CheckError
		if err := optimize.Check(context.Background(), p, bare); !errors.As(err, &ce) || ce.Field != "proof.leaf_bound" {
			t.Errorf("seed %d: without sums: %v", seed, err)
		}
		if _, ok := plan.PieceValues(); ok {
			t.Errorf("seed %d: values of a proof that rests on sums", seed)
		}
	}
	if found < 10 {
		t.Errorf("%d proofs needed sums: this tests little", found)
	}
}
