package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

// greedyJob is an input that asks for as much time or memory as it can.
type greedyJob struct {
	name string
	make func() optimize.Problem
}

func withStick(s stock.Stick) func(int64, int) optimize.Problem {
	return func(length int64, quantity int) optimize.Problem {
		return optimize.Problem{Sticks: []stock.Stick{s}, Pieces: []stock.Piece{{Length: measure.Length(length), Quantity: quantity}}}
	}
}

// manyLengths is n distinct lengths of pieces, from one stick.
func manyLengths(n int) optimize.Problem {
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 200_000, Price: 7}, {Length: 150_001, Price: 6}}, Kerf: 3}
	for i := range n {
		p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(20_000 + i), Quantity: 1 + i%3})
	}
	return p
}

// manySticks is n kinds of sticks for some pieces.
func manySticks(n, pieces int) optimize.Problem {
	var p optimize.Problem
	for i := range n {
		p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(200_000 + i), Price: int64(1000 + i*7%1009), Limit: 1 + i%2})
	}
	for i := range pieces {
		p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(30_000 + 7*i), Quantity: 2})
	}
	return p
}

// twoPieces is two pieces of one length each, so often, from sticks that give a few.
func twoPieces(quantity int) optimize.Problem {
	return optimize.Problem{Kerf: 2, Sticks: []stock.Stick{{Length: 96 * inch, Price: 30}, {Length: 144 * inch, Price: 41}},
		Pieces: []stock.Piece{{Length: 23 * inch, Quantity: quantity}, {Length: 31 * inch, Quantity: quantity}}}
}

func sticksForThirty(n int) optimize.Problem { return manySticks(n, 30) }

// made is a problem with n of something, changed.
func made(base func(int) optimize.Problem, n int, change func(*optimize.Problem)) func() optimize.Problem {
	return func() optimize.Problem {
		p := base(n)
		change(&p)
		return p
	}
}

var hostiles = []greedyJob{
	{"a price break, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) { p.Sticks[0].Breaks = []stock.PriceBreak{{From: 10, Price: 25}} })},
	{"a late price break, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) { p.Sticks[0].Breaks = []stock.PriceBreak{{From: 1e7, Price: 25}} })},
	{"many price breaks, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) {
		for k := range 10_000 {
			p.Sticks[0].Breaks = append(p.Sticks[0].Breaks, stock.PriceBreak{From: 2 + 3*k, Price: int64(30_000 - 3*k)})
		}
		p.Sticks[0].Price = 30_001
	})},
	{"minimum 10^8", made(twoPieces, 3, func(p *optimize.Problem) { p.Sticks[0].Minimum = 1e8 })},
	{"minimum 10^8, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) { p.Sticks[0].Minimum = 1e8 })},
	{"bundle 10^6", made(twoPieces, 3, func(p *optimize.Problem) { p.Sticks[0].Bundle = 1e6 })},
	{"bundle 10^6, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) { p.Sticks[0].Bundle = 1e6 })},
	{"bundle 7, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) { p.Sticks[0].Bundle = 7 })},
	{"charge, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) {
		p.Sticks[0].Supplier, p.Rules.Charges = "mill", []optimize.Charge{{Supplier: "mill", Amount: 100}}
	})},
	{"10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) {})},
	{"10^11 pieces and a rule", made(twoPieces, int(min(int64(1e11), math.MaxInt)), func(p *optimize.Problem) { p.Rules.MaxPieces = 4 })},
	{"spare 10^9", made(twoPieces, 9, func(p *optimize.Problem) { p.Rules.Spare = 1 << 30 })},
	{"all goals, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) {
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalPatterns, optimize.GoalSticks, optimize.GoalCuts, optimize.GoalLongestOffcut}
	})},
	{"hold, 10^8 pieces", made(twoPieces, 1e8, func(p *optimize.Problem) { p.Rules.MinHold = 30 * inch })},
	{"10^5 lengths", func() optimize.Problem { return manyLengths(1e5) }},
	{"10^4 lengths", func() optimize.Problem { return manyLengths(1e4) }},
	{"10^4 lengths from 400 sticks", func() optimize.Problem {
		p := manyLengths(1e4)
		p.Sticks = append(manySticks(400, 0).Sticks, p.Sticks...)
		return p
	}},
	{"10^4 sticks", func() optimize.Problem { return manySticks(1e4, 30) }},
	{"10^4 free sticks", made(sticksForThirty, 1e4, func(p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Price, p.Sticks[i].Rack = int64(i%2), i%2 == 0
		}
	})},
	{"10^4 lengths and most pieces", made(manyLengths, 1e4, func(p *optimize.Problem) { p.Rules.MaxPieces = 12 })},
	{"10^5 lengths and most pieces", made(manyLengths, 1e5, func(p *optimize.Problem) { p.Rules.MaxPieces = 12 })},
	{"10^5 lengths and hold", made(manyLengths, 1e5, func(p *optimize.Problem) { p.Rules.MinHold = 50_000 })},
	{"10^5 lengths and the fewest patterns", made(manyLengths, 1e5, func(p *optimize.Problem) {
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalPatterns}
	})},
	{"2,000 lengths and nesting", made(manyLengths, 2000, func(p *optimize.Problem) {
		p.Rules.Nest = true
		for i := range p.Pieces {
			e := stock.End{Kind: stock.EndOutsideMiter, Setback: measure.Length(i%500) + 1, Angle: measure.Angle(i%300+60) * measure.Degree / 4}
			p.Pieces[i].Left, p.Pieces[i].Right, p.Pieces[i].Symmetry = e, e, stock.SymmetryAll
		}
	})},
	{"10^5 grades", made(manyLengths, 1e5, func(p *optimize.Problem) {
		p.Sticks[0].Grade, p.Sticks[1].Grade = 1e6, 1e6
		for i := range p.Pieces {
			p.Pieces[i].Length, p.Pieces[i].Grade = 20_000, i
		}
	})},
	{"10^5 sticks", func() optimize.Problem { return manySticks(1e5, 30) }},
	{"10^5 sticks and most pieces", made(sticksForThirty, 1e5, func(p *optimize.Problem) { p.Rules.MaxPieces = 12 })},
	{"10^4 sticks and most pieces", made(sticksForThirty, 1e4, func(p *optimize.Problem) { p.Rules.MaxPieces = 12 })},
	{"10^5 sticks of as many grades", made(sticksForThirty, 1e5, func(p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Grade = i
		}
		p.Pieces[0].Grade = 3
	})},
	{"2,000 sticks, 2,000 lengths", func() optimize.Problem { p := manySticks(2000, 2000); p.Sticks[0].Limit = 0; return p }},
	{"2,000 sticks, 2,000 lengths and most pieces", func() optimize.Problem {
		p := manySticks(2000, 2000)
		p.Sticks[0].Limit, p.Rules.MaxPieces = 0, 12
		return p
	}},
	{"10^5 charges", made(twoPieces, 10, func(p *optimize.Problem) {
		for i := range 100_000 {
			p.Rules.Charges = append(p.Rules.Charges, optimize.Charge{Supplier: strconv.Itoa(i), Amount: int64(i)})
		}
		p.Sticks[0].Supplier = "7"
	})},
	{"10^4 charges and sticks", made(sticksForThirty, 1e4, func(p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Supplier = strconv.Itoa(i)
			p.Rules.Charges = append(p.Rules.Charges, optimize.Charge{Supplier: strconv.Itoa(i), Amount: int64(i)})
		}
	})},
	{"3x10^7 pieces to a stick", func() optimize.Problem { return withStick(stock.Stick{Length: 3e7, Price: 5})(1, 3e7) }},
	{"3x10^7 pieces to a stick and spare", func() optimize.Problem {
		p := withStick(stock.Stick{Length: 3e7, Price: 5})(1, 3e7)
		p.Rules.Spare = 1
		return p
	}},
	{"3x10^7 pieces to a stick and hold", func() optimize.Problem {
		p := withStick(stock.Stick{Length: 3e7, Price: 5})(1, 3e7)
		p.Rules.MinHold = 3
		return p
	}},
	{"65,536 pieces to a stick and hold", func() optimize.Problem {
		p := withStick(stock.Stick{Length: 65_536, Price: 5})(1, 1e6)
		p.Rules.MinHold = 3
		return p
	}},
	{"coprime lengths of 2^50", func() optimize.Problem {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: 1<<50 + 7, Price: 10}, {Length: 1<<51 - 1, Price: 19}}, Kerf: 1<<40 + 1}
		for i := range 60 {
			p.Pieces = append(p.Pieces, stock.Piece{Length: 1<<47 + measure.Length(i*i*104729*7919), Quantity: 1 + i%5})
		}
		return p
	}},
	{"coprime lengths of 2^48 and hold", func() optimize.Problem {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: 1<<48 + 7, Price: 10}, {Length: 1<<49 - 1, Price: 19}}, Kerf: 1<<38 + 1}
		for i := range 60 {
			p.Pieces = append(p.Pieces, stock.Piece{Length: 1<<45 + measure.Length(i*i*104729*791), Quantity: 1 + i%3})
		}
		p.Rules.MinHold = 1 << 46
		return p
	}},
	{"200 lengths, capacities of millions", func() optimize.Problem {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: 5_000_011, Price: 10}}}
		for i := range 200 {
			p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(50_021 + 7919*i%1_500_000), Quantity: 1 + 7*i%40})
		}
		return p
	}},
	{"200 lengths, capacities of millions, and most pieces", func() optimize.Problem {
		p := optimize.Problem{Sticks: []stock.Stick{{Length: 5_000_011, Price: 10}}}
		for i := range 200 {
			p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(50_021 + 7919*i%1_500_000), Quantity: 1 + 7*i%40})
		}
		p.Rules.MaxPieces = 40
		return p
	}},
	{"a run of 10^6 positions", func() optimize.Problem { return longRun(1, 1e6, 0) }},
	{"a run of 10^6 positions, long parts only", func() optimize.Problem { return longRun(1, 1e6, 1e6) }},
	{"a run of 50,000 positions, few parts", func() optimize.Problem { return longRun(1, 50_000, 50_000*10) }},
	{"a run of 300 positions", func() optimize.Problem { return longRun(1, 300, 0) }},
	{"10^5 runs", func() optimize.Problem { return longRun(1e5, 0, 0) }},
	{"10^4 runs of 3 positions", func() optimize.Problem { return longRun(1e4, 3, 0) }},
	{"5x10^4 groups", made(manyLengths, 1e5, func(p *optimize.Problem) {
		for i := 0; i < len(p.Pieces); i += 2 {
			p.Pieces[i].Quantity, p.Pieces[i+1].Quantity = 1, 1
			p.Rules.Groups = append(p.Rules.Groups, optimize.Group{Kind: optimize.GroupOneStick, Pieces: []int{i, i + 1}})
		}
	})},
	{"a group of one lot of 10^4, 10^3 lots", func() optimize.Problem {
		p := manySticks(1000, 10_000)
		g := optimize.Group{Kind: optimize.GroupOneLot}
		for i := range p.Sticks {
			p.Sticks[i].Lot, p.Sticks[i].Limit = strconv.Itoa(i), 0
		}
		for i := range p.Pieces {
			p.Pieces[i].Length = measure.Length(30_000 + i)
			g.Pieces = append(g.Pieces, i)
		}
		p.Rules.Groups = []optimize.Group{g}
		return p
	}},
	{"10^5 defects", func() optimize.Problem {
		s := stock.Stick{Length: 10_000_000, Price: 5, Limit: 10_000}
		for i := range measure.Length(100_000) {
			s.Defects = append(s.Defects, stock.Defect{From: 100 * i, To: 100*i + 1})
		}
		p := withStick(s)(50, 1e6)
		p.Sticks = append(p.Sticks, stock.Stick{Length: 10_000, Price: 6})
		return p
	}},
	{"10^3 defects on 10^4 sticks", func() optimize.Problem {
		s := stock.Stick{Length: 100_000, Price: 5, Limit: 10_000}
		for i := range measure.Length(1_000) {
			s.Defects = append(s.Defects, stock.Defect{From: 100 * i, To: 100*i + 1})
		}
		return withStick(s)(50, 1e6)
	}},
	{"10^5 steps of worth", made(twoPieces, 20, func(p *optimize.Problem) {
		for i := range 100_000 {
			p.Rules.OffcutValues = append(p.Rules.OffcutValues, optimize.OffcutValue{Length: measure.Length(i + 1), Value: int64(i + 1)})
		}
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue}
	})},
	{"yard cuts of 10^4 lengths", made(manyLengths, 1e4, func(p *optimize.Problem) { p.Rules.MaxTransport, p.Rules.YardCut = 120_000, 3 })},
}

// longRun is n runs with m positions each.
func longRun(n, positions int, part measure.Length) optimize.Problem {
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 10_000_000, Price: 7}}}
	for range n {
		run := stock.Run{Length: measure.Length(positions+1) * 10, Splice: stock.SpliceRule{MinPart: part}}
		for k := range positions {
			run.Splice.At = append(run.Splice.At, measure.Length(k+1)*10)
		}
		p.Runs = append(p.Runs, run)
	}
	return p
}

// refused reports whether an error names the exceeded limit of a problem, or says that there was no
// time for a plan.
func refused(err error) bool {
	return errors.As(err, new(*measure.FieldError)) || errors.As(err, new(*optimize.InfeasibleError)) || errors.As(err, new(*optimize.LimitError)) ||
		errors.Is(err, context.DeadlineExceeded) || errors.Is(err, context.Canceled)
}

// looks is a context that ends at the nth look at it, and counts those after.
type looks struct {
	context.Context
	left, after int
}

func (c *looks) Err() error {
	if c.left--; c.left > 0 {
		return nil
	}
	c.after++
	return context.DeadlineExceeded
}

// TestHostile: whatever the problem is, once the context ends Solve returns, with a plan that Check
// accepts or an error that explains why not, within a bounded number of looks at the context and a
// bounded amount of memory. A search that never looks would run into the time limit of the whole test.
func TestHostile(t *testing.T) {
	const mostLooks, mostMemory = 2_000, 1 << 30
	for k, h := range hostiles {
		if testing.Short() && k%3 != 0 {
			continue
		}
		t.Run(h.name, func(t *testing.T) {
			p := h.make()
			for _, n := range []int{2, 40} {
				ctx := &looks{Context: context.Background(), left: n}
				var before, after runtime.MemStats
				runtime.ReadMemStats(&before)
				plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: -1})
				runtime.ReadMemStats(&after)
				if ctx.after > mostLooks {
					t.Errorf("%d checks of a context that has ended", ctx.after)
				}
				if got := after.TotalAlloc - before.TotalAlloc; got > mostMemory {
					t.Errorf("%d MiB allocated", got>>20)
				}
				if err != nil && !refused(err) {
					t.Error(err)
				}
				if err == nil && n == 2 && k%4 == 0 {
					if err := optimize.Check(context.Background(), p, plan); err != nil {
						t.Error(err)
					}
				}
			}
		})
	}
}

// BenchmarkHostile measures by how much each hostile input exceeds a deadline of 100 ms, and the
// greatest memory of the process so far.
func BenchmarkHostile(b *testing.B) {
	for _, h := range hostiles {
		b.Run(h.name, func(b *testing.B) {
			p := h.make()
			over := time.Duration(0)
			for range b.N {
				const limit = 100 * time.Millisecond
				ctx, cancel := context.WithTimeout(context.Background(), limit)
				start := time.Now()
				plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: -1})
				over = max(over, time.Since(start)-limit)
				cancel()
				if err != nil && !refused(err) {
					b.Error(err)
				}
				b.Log(said(plan, err))
			}
			b.ReportMetric(float64(over.Microseconds())/1000, "ms-over")
			b.ReportMetric(peak(), "MiB-peak")
		})
	}
}

func said(plan *optimize.Plan, err error) string {
	if err != nil {
		return err.Error()
	}
	return fmt.Sprintf("cost %d, bound %d, %v", plan.Cost, plan.Bound, plan.Stop)
}

// peak returns the greatest memory of the process, if the system reports it.
func peak() float64 {
	text, _ := os.ReadFile("/proc/self/status")
	_, rest, _ := strings.Cut(string(text), "VmHWM:")
	fields := strings.Fields(rest)
	if len(fields) == 0 {
		return 0
	}
	kib, _ := strconv.ParseFloat(fields[0], 64)
	return kib / 1024
}

// Candidates, too, returns when the context ends, however many there are, and whatever the proof
// requires.
func TestHostileCandidates(t *testing.T) {
	t.Parallel()
	p := manyLengths(300)
	plan := mustSolve(t, p)
	sticks := make([]stock.Stick, 2_000)
	for i := range sticks {
		sticks[i] = stock.Stick{Length: measure.Length(100_000 + i), Price: 5}
	}
	for _, n := range []int{2, 40} {
		ctx := &looks{Context: context.Background(), left: n}
		if c, err := whatif.Candidates(ctx, p, plan, sticks, nil); err != nil || len(c) != len(sticks) {
			t.Errorf("%d looks: %d candidates, %v", n, len(c), err)
		}
		if ctx.after > 10*len(sticks) {
			t.Errorf("%d checks of a context that has ended", ctx.after)
		}
	}
}

// A run with as many splices as it has positions is checked without looking through all of
// them for each.
func TestHostileSplices(t *testing.T) {
	p := longRun(1, 20_000, 0)
	run := &p.Runs[0]
	pieces, err := run.Pieces(run.Splice.At)
	if err != nil {
		t.Fatal(err)
	}
	plan := &optimize.Plan{Cost: 7, Parts: pieces, Spliced: []optimize.SplicedRun{{At: run.Splice.At}}, Patterns: []optimize.Pattern{{Count: 1, Offcut: 10_000_000 - run.Length}}}
	for i := range pieces {
		plan.Spliced[0].Pieces = append(plan.Spliced[0].Pieces, i)
		plan.Patterns[0].Pieces = append(plan.Patterns[0].Pieces, i)
	}
	buys(&p, plan)
	if err := optimize.Check(context.Background(), p, plan); err != nil {
		t.Error(err)
	}
}
