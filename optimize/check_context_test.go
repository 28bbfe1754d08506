package optimize_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"math"
	"testing"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/replan"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

// checkable is a plan for a problem that takes Check many steps.
type checkable struct {
	name string
	make func(testing.TB) (optimize.Problem, *optimize.Plan)
}

// manyLeaves is a proof of many boxes that overlap.
func manyLeaves(n, classes int) func(testing.TB) (optimize.Problem, *optimize.Plan) {
	return func(t testing.TB) (optimize.Problem, *optimize.Plan) {
		p := optimize.Problem{Pieces: []stock.Piece{{Length: 1000, Quantity: 1000}}}
		for c := range classes {
			p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(1_000_000 + c), Price: 7, Limit: 900})
		}
		plan := onePattern(1000, 1_000_000-1000*1000)
		plan.Cost, plan.Bound, plan.Proven = 7, 7, true
		buys(&p, plan)
		pr := &optimize.OpenProof{Kind: optimize.ProofTree, Unit: 7, LeafBound: 7}
		for k := range n {
			l := optimize.Leaf{Scale: 1, Values: []int64{1}}
			for c := range classes {
				at := int64((k*7919 + c*104729) % 900)
				l.Lo, l.Hi = append(l.Lo, at/2), append(l.Hi, at)
			}
			pr.Leaves = append(pr.Leaves, l)
		}
		seal(t, plan, pr)
		return p, plan
	}
}

// manyValues is a proof of one leaf, and of many values that no leaf uses.
func manyValues(n int) func(testing.TB) (optimize.Problem, *optimize.Plan) {
	return func(testing.TB) (optimize.Problem, *optimize.Plan) {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: 1000, Price: 7}}, Pieces: []stock.Piece{{Length: 700}}}
		plan := onePattern(1, 300)
		plan.Cost, plan.Bound, plan.Proven = 7, 7, true
		buys(&p, plan)
		data := binary.AppendVarint(nil, 7)                         // unit
		data = binary.AppendVarint(data, 7)                         // leaf bound
		data = append(data, 1, 1, 0, 0)                             // classes, pieces, charges, lists
		data = binary.AppendUvarint(data, uint64(n))                // rows
		data = append(data, bytes.Repeat([]byte{2, 0, 0, 2}, n)...) // scale 1, no spare, no list, value 1
		data = append(data, 1, 0, 0, 2)                             // one leaf of the first row, 0 to 1
		plan.Proof = optimize.ProofOf(optimize.ProofDual, string(data))
		return p, plan
	}
}

// onePattern cuts the first piece n times from one of the first stick.
func onePattern(n int, offcut measure.Length) *optimize.Plan {
	return &optimize.Plan{Patterns: []optimize.Pattern{{Count: 1, Pieces: make([]int, n), Offcut: offcut}}}
}

// hardValues is a proof by values for which the best pattern is as hard to find as possible.
func hardValues(rules func(*optimize.Problem)) func(testing.TB) (optimize.Problem, *optimize.Plan) {
	return func(t testing.TB) (optimize.Problem, *optimize.Plan) {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: 1 << 40, Price: 7}}}
		plan := &optimize.Plan{Cost: 7, Bound: 7, Proven: true, Buy: []optimize.Purchase{{Count: 1, Cost: 7}}, Patterns: []optimize.Pattern{{Count: 1, Offcut: 1 << 40}}}
		leaf := optimize.Leaf{Lo: []int64{0}, Hi: []int64{60}, Scale: 1 << 30}
		for i := range 60 {
			n := int64(i)
			l := measure.Length(1<<34 + (n*n*104729*7919)%(1<<30))
			p.Pieces = append(p.Pieces, stock.Piece{Length: l})
			leaf.Values = append(leaf.Values, int64(l/9))
			plan.Patterns[0].Pieces = append(plan.Patterns[0].Pieces, i)
			plan.Patterns[0].Offcut -= l
		}
		p.Sticks[0].Length -= plan.Patterns[0].Offcut - 1<<33
		plan.Patterns[0].Offcut = 1 << 33
		seal(t, plan, &optimize.OpenProof{Kind: optimize.ProofDual, Unit: 7, LeafBound: 7, Leaves: []optimize.Leaf{leaf}})
		rules(&p)
		return p, plan
	}
}

// splicedRun is a run with many positions that is cut in two, and a proof that values parts.
func splicedRun(positions, most int) func(testing.TB) (optimize.Problem, *optimize.Plan) {
	return func(t testing.TB) (optimize.Problem, *optimize.Plan) {
		p := longRun(1, positions, 0)
		run := &p.Runs[0]
		for k := range run.Splice.At { // no two parts alike
			run.Splice.At[k] += measure.Length(k*k) % 10
		}
		run.Splice.MaxSplices = most
		pieces, err := run.Pieces(run.Splice.At[:1])
		if err != nil {
			t.Fatal(err)
		}
		plan := &optimize.Plan{Cost: 7, Bound: 7, Proven: true, Buy: []optimize.Purchase{{Count: 1, Cost: 7}}, Parts: pieces, Spliced: []optimize.SplicedRun{{At: run.Splice.At[:1], Pieces: []int{0, 1}}},
			Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 1}, Offcut: 10_000_000 - run.Length}}}
		parts := int64(positions + 1)
		if most > 0 {
			parts = int64(most + 1)
		}
		seal(t, plan, &optimize.OpenProof{Kind: optimize.ProofDual, Unit: 7, LeafBound: 7,
			Leaves: []optimize.Leaf{{Lo: []int64{0}, Hi: []int64{parts}, Scale: 1, Parts: []optimize.Part{{Length: 10, Value: 1}}}}})
		return p, plan
	}
}

// twoByTwo is n patterns of two pieces each, of as many kinds of sticks.
func twoByTwo(n int, change func(p *optimize.Problem, i int)) func(testing.TB) (optimize.Problem, *optimize.Plan) {
	return func(testing.TB) (optimize.Problem, *optimize.Plan) {
		var p optimize.Problem
		plan := &optimize.Plan{Cost: int64(7 * n)}
		for i := range n {
			p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(1000 + i), Price: 7})
			p.Pieces = append(p.Pieces, stock.Piece{Length: 400}, stock.Piece{Length: 500})
			change(&p, i)
			plan.Buy = append(plan.Buy, optimize.Purchase{Stick: i, Count: 1, Cost: 7})
			plan.Patterns = append(plan.Patterns, optimize.Pattern{Stick: i, Count: 1, Pieces: []int{2 * i, 2*i + 1}, Offcut: measure.Length(100 + i)})
		}
		return p, plan
	}
}

func grouped(kind optimize.GroupKind) func(*optimize.Problem, int) {
	return func(p *optimize.Problem, i int) {
		p.Rules.Groups = append(p.Rules.Groups, optimize.Group{Kind: kind, Pieces: []int{2 * i, 2*i + 1}})
	}
}

// wideChecks take long if every pattern is compared with every other thing: lookups take a fraction of
// a second, searches run into the time limit of the whole test.
var wideChecks = []checkable{
	{"10^5 groups", twoByTwo(1e5, grouped(optimize.GroupOneStick))},
	{"10^5 sequences", twoByTwo(1e5, grouped(optimize.GroupInSequence))},
	{"10^5 groups of one lot", twoByTwo(1e5, grouped(optimize.GroupOneLot))},
	{"10^5 steps of worth", twoByTwo(1e5, func(p *optimize.Problem, i int) {
		p.Rules.OffcutValues = append(p.Rules.OffcutValues, optimize.OffcutValue{Length: measure.Length(i + 1), Value: int64(i + 1)})
	})},
	{"10^5 purchases", func(t testing.TB) (optimize.Problem, *optimize.Plan) {
		p, plan := twoByTwo(1e5, func(p *optimize.Problem, i int) { p.Sticks[i].Minimum = 1 })(t)
		p.Rules.Charges = []optimize.Charge{{Supplier: "mill", Amount: 0}}
		return p, plan
	}},
}

// deepChecks are proofs that take all the steps that a check has, or many.
var deepChecks = []checkable{
	{"10^4 leaves, 20 classes", manyLeaves(1e4, 20)},
	{"10^6 values of no leaf", manyValues(1e6)},
	{"hard values", hardValues(func(*optimize.Problem) {})},
	{"hard values, most pieces", hardValues(func(p *optimize.Problem) { p.Rules.MaxPieces = 60 })},
	{"a run of 3,000 positions", splicedRun(3000, 0)},
	{"a run of 400 positions, 300 splices", splicedRun(400, 300)},
}

func TestWideChecks(t *testing.T) {
	for _, h := range wideChecks {
		t.Run(h.name, func(t *testing.T) {
			p, plan := h.make(t)
			var never context.Context // nil
			if err := optimize.Check(never, p, plan); err != nil {
				t.Error(err)
			}
		})
	}
}

// counted counts the looks at a context that never ends.
type counted struct {
	context.Context
	looks int
}

func (c *counted) Err() error { c.looks++; return nil }

// Whatever the proof, Check and Audit look at the context regularly, and return its cause once it has ended.
func TestCheckHearsTheContext(t *testing.T) {
	for _, h := range deepChecks {
		t.Run(h.name, func(t *testing.T) {
			p, plan := h.make(t)
			all := &counted{Context: context.Background()}
			want := optimize.Check(all, p, plan)
			var wrong *optimize.CheckError
			if want != nil && !errors.As(want, &wrong) {
				t.Errorf("without an end: %v", want)
			}
			if all.looks < 10 {
				t.Errorf("%d checks of the context, want one for each %d steps", all.looks, optimize.AskEvery)
			}
			for _, n := range []int{1, 2, all.looks / 3, all.looks} {
				ctx := &looks{Context: context.Background(), left: n}
				if a, err := optimize.Audit(ctx, p, plan); err != context.DeadlineExceeded || a != nil {
					t.Errorf("ended at check %d: %+v, %v", n, a, err)
				}
				if ctx.after > 2 { // one to see it, one for the cause
					t.Errorf("ended at check %d: %d checks after that", n, ctx.after)
				}
			}
		})
	}
}

func TestCheckReturnsTheCause(t *testing.T) {
	p := openJob(t)
	p.Rules.MaxPieces = 12
	for _, p := range []optimize.Problem{openJob(t), p} {
		plan := mustSolve(t, p)
		told := errors.New("the shop closes")
		ctx, cancel := context.WithCancelCause(context.Background())
		if err := optimize.Check(ctx, p, plan); err != nil {
			t.Error(err)
		}
		cancel(told)
		if err := optimize.Check(ctx, p, plan); err != told {
			t.Errorf("ended: %v", err)
		}
		wrong := *plan
		wrong.Cost++
		if a, err := optimize.Audit(ctx, p, &wrong); err != told || a != nil {
			t.Errorf("wrong plan, context ended: %+v, %v", a, err)
		}
		for _, call := range []func() error{
			func() error { _, err := whatif.Solve(ctx, p, plan, nil); return err },
			func() error { _, err := whatif.Candidates(ctx, p, plan, nil, nil); return err },
			func() error { _, err := replan.Solve(ctx, p, plan, replan.Progress{}, nil); return err },
		} {
			if err := call(); err != told {
				t.Errorf("ended: %v", err)
			}
		}
		// A deadline that has passed by the clock, while no timer fires.
		if err := optimize.Check(&silentContext{context.Background(), 0}, p, plan); err != context.DeadlineExceeded {
			t.Errorf("a deadline without a timer: %v", err)
		}
		if err := optimize.Check(&silentContext{context.Background(), math.MaxInt}, p, plan); err != nil {
			t.Errorf("a future deadline: %v", err)
		}
	}
}

// BenchmarkCheckContext measures by how much Check exceeds a deadline of 20 ms.
func BenchmarkCheckContext(b *testing.B) {
	for _, h := range append(wideChecks, deepChecks...) {
		b.Run(h.name, func(b *testing.B) {
			p, plan := h.make(b)
			over := time.Duration(0)
			for range b.N {
				const limit = 20 * time.Millisecond
				ctx, cancel := context.WithTimeout(context.Background(), limit)
				start := time.Now()
				err := optimize.Check(ctx, p, plan)
				over = max(over, time.Since(start)-limit)
				cancel()
				b.Log(err)
			}
			b.ReportMetric(float64(over.Microseconds())/1000, "ms-over")
		})
	}
}
