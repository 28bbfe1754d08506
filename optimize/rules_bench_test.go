package optimize_test

import (
	"context"
	"errors"
	"flag"
	"slices"
	"testing"
	"time"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// variant adds one rule to a job.
type variant struct {
	name string
	add  func(p *optimize.Problem)
}

var variants = []variant{
	{"plain", func(*optimize.Problem) {}},
	{"grades", func(p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Grade = i % 2
		}
		for i := range p.Pieces {
			if i%4 == 0 && p.Pieces[i].Length < 9*measure.Foot {
				p.Pieces[i].Grade = 1
			}
		}
	}},
	{"most 6 pieces", func(p *optimize.Problem) { p.Rules.MaxPieces = 6 }},
	{"hold 20 in", func(p *optimize.Problem) { p.Rules.MinHold = 20 * measure.Inch }},
	{"spares", func(p *optimize.Problem) { p.Rules.Spare = 2 }},
	{"transport 15 ft", func(p *optimize.Problem) { p.Rules.MaxTransport, p.Rules.YardCut = 15*measure.Foot, 100 }},
	{"sequences", func(p *optimize.Problem) {
		for i := 0; i+1 < len(p.Pieces) && len(p.Rules.Groups) < 6; i++ {
			a, b := &p.Pieces[i], &p.Pieces[i+1]
			if a.Length+b.Length < 10*measure.Foot && max(a.Quantity, 1) == max(b.Quantity, 1) {
				p.Rules.Groups = append(p.Rules.Groups, optimize.Group{Kind: optimize.GroupInSequence, Pieces: []int{i, i + 1}})
				i++
			}
		}
	}},
	{"one lot", func(p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Lot = string(rune('A' + i%2))
		}
		p.Rules.Groups = []optimize.Group{{Kind: optimize.GroupOneLot, Pieces: []int{1, 3}}}
		p.Pieces[3].Quantity = p.Pieces[1].Quantity
	}},
	{"bundles of 2", func(p *optimize.Problem) {
		for i := range p.Sticks {
			if p.Sticks[i].Limit == 0 {
				p.Sticks[i].Bundle = 2
			}
		}
	}},
	{"price breaks", func(p *optimize.Problem) {
		for i := range p.Sticks {
			if s := &p.Sticks[i]; s.Limit == 0 {
				s.Breaks = []stock.PriceBreak{{From: 10, Price: s.Price * 95 / 100}, {From: 30, Price: s.Price * 90 / 100}}
			}
		}
	}},
	{"two suppliers", func(p *optimize.Problem) {
		n := 0
		for i := range p.Sticks {
			if p.Sticks[i].Price > 0 {
				p.Sticks[i].Supplier = string(rune('M' + n%2))
				n++
			}
		}
		p.Rules.Charges = []optimize.Charge{{Supplier: "M", Amount: 4500}, {Supplier: "N", Amount: 6000}}
	}},
	{"defects", func(p *optimize.Problem) {
		for n := range 3 {
			p.Sticks = append(p.Sticks, stock.Stick{Label: "knotty " + string(rune('1'+n)), Length: 16 * measure.Foot, Price: 900, Limit: 1,
				Defects: []stock.Defect{{From: measure.Length(50+20*n) * measure.Inch, To: measure.Length(52+20*n) * measure.Inch}}})
		}
		for i := range p.Sticks {
			if p.Sticks[i].Label == "" {
				p.Sticks[i].Label = "stick " + string(rune('a'+i))
			}
		}
	}},
	{"nesting", func(p *optimize.Problem) {
		p.Rules.Nest = true
		for i := range p.Pieces {
			pc := &p.Pieces[i]
			miter := stock.End{Kind: stock.EndOutsideMiter, Setback: 9 * measure.Inch / 16}
			inside := stock.End{Kind: stock.EndInsideMiter, Setback: 9 * measure.Inch / 16}
			switch i % 4 {
			case 0:
				pc.Left, pc.Right = inside, miter
			case 1:
				pc.Left = miter
			}
		}
	}},
	{"runs", func(p *optimize.Problem) {
		for r := range 6 {
			run := stock.Run{Label: "run " + string(rune('A'+r)), Length: measure.Length(300+37*r) * measure.Inch}
			run.Splice = stock.SpliceRule{Overlap: measure.Inch / 2, Bevel: 45 * measure.Degree, Price: 150, MaxSplices: 3, MinPart: 24 * measure.Inch}
			for x := measure.Length(16+r) * measure.Inch; x < run.Length; x += 16 * measure.Inch {
				run.Splice.At = append(run.Splice.At, x)
			}
			p.Runs = append(p.Runs, run)
		}
	}},
	{"worth", func(p *optimize.Problem) {
		p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 24 * measure.Inch, Value: 100}, {Length: 48 * measure.Inch, Value: 260}, {Length: 96 * measure.Inch, Value: 700}}
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue}
	}},
}

var (
	ruleJobs  = flag.Int("rulejobs", 2, "jobs for BenchmarkRules, of 20")
	ruleLimit = flag.Duration("rulelimit", time.Second, "time for each job of BenchmarkRules")
	ruleWork  = flag.Int64("rulework", 0, "steps for each job of BenchmarkRules, the same on every machine; 0: as many as the time allows")
)

// BenchmarkRules solves jobs of house size with one rule more and reports how many were
// proven and the median time. Compare its lines with "plain", which the other engine solves.
func BenchmarkRules(b *testing.B) {
	for _, v := range variants {
		b.Run(v.name, func(b *testing.B) {
			for b.Loop() {
				var times []time.Duration
				proven, count, shown, goals, known := 0, 0, 0, 0, 0
				gap, work := 0.0, int64(0)
				for _, k := range trimjob.OfClass("house")[:*ruleJobs] {
					p := problem(k.Job())
					v.add(&p)
					ctx, cancel := context.WithTimeout(b.Context(), *ruleLimit)
					start := time.Now()
					plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: *ruleWork})
					took := time.Since(start)
					cancel()
					if errors.As(err, new(*optimize.InfeasibleError)) {
						continue // the rule is too much for this job's supply
					}
					if err != nil {
						b.Fatalf("%s: %v", k.Name, err)
					}
					r, err := optimize.Audit(context.Background(), p, plan)
					if err != nil {
						b.Fatalf("%s: %v", k.Name, err)
					}
					if _, whole := r.Bound(); whole && plan.Proven {
						shown++
					}
					of, open := goalsOf(plan, r)
					goals, known = goals+of, known+of-open
					times = append(times, took)
					g := 100 * float64(plan.Cost-plan.Bound) / float64(max(plan.Cost, 1))
					gap = max(gap, g)
					count++
					work += plan.Work
					if plan.Proven {
						proven++
					}
					b.Logf("%-9s cost %8d bound %8d %.3f%% %-16v %8.1f ms work %d %v", k.Name, plan.Cost, plan.Bound, g, plan.Stop, ms(took), plan.Work, plan.Proof.Kind())
				}
				slices.Sort(times)
				b.ReportMetric(float64(proven), "proven")
				b.ReportMetric(float64(count), "jobs")
				b.ReportMetric(float64(shown), "shown")
				if goals > 0 {
					b.ReportMetric(float64(goals), "goals")
					b.ReportMetric(float64(known), "goals-shown")
				}
				b.ReportMetric(gap, "open%")
				b.ReportMetric(float64(work), "steps")
				b.ReportMetric(ms(times[len(times)/2]), "median-ms")
				b.ReportMetric(ms(times[len(times)-1]), "worst-ms")
			}
		})
	}
}
