package optimize_test

import (
	"context"
	"testing"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// splitFirst returns the problem with every run split in advance: as few splices as the longest stick
// allows, the longest part first. It returns the cost of the splices.
func splitFirst(p optimize.Problem) (optimize.Problem, int64, bool) {
	longest := measure.Length(0)
	for i := range p.Sticks {
		if p.Sticks[i].Limit == 0 {
			longest = max(longest, p.Sticks[i].Length)
		}
	}
	q := p
	q.Pieces = append([]stock.Piece(nil), p.Pieces...)
	q.Runs = nil
	cost := int64(0)
	for _, r := range p.Runs {
		at, ok := r.Splice.Place(r.Length, longest)
		if !ok {
			return q, 0, false
		}
		parts, err := r.Pieces(at)
		if err != nil {
			return q, 0, false
		}
		cost += int64(len(at)) * r.Splice.Price
		for _, pc := range parts {
			pc.Label = ""
			q.Pieces = append(q.Pieces, pc)
		}
	}
	for i := range q.Pieces {
		q.Pieces[i].Label = ""
	}
	return q, cost, true
}

// BenchmarkSplices compares jobs whose runs are spliced together with the cuts with the same
// jobs split first and packed second, both solved with the same work: how much less the one
// costs in percent, on average and at best, and how often it was proven.
func BenchmarkSplices(b *testing.B) {
	for b.Loop() {
		for _, class := range []string{trimjob.Room, trimjob.House} {
			n, proven := 0, 0
			sum, best := 0.0, 0.0
			for i, k := range trimjob.OfClass(class) {
				if i >= 12 {
					break
				}
				p := problem(k.Job())
				for _, v := range variants {
					if v.name == "runs" {
						v.add(&p)
					}
				}
				if class == trimjob.Room {
					p.Runs = p.Runs[:2]
				}
				q, extra, ok := splitFirst(p)
				if !ok {
					continue
				}
				work := &optimize.Options{Work: 300_000_000}
				one, err := optimize.Solve(context.Background(), p, work)
				if err != nil {
					b.Fatal(k.Name, err)
				}
				two, err := optimize.Solve(context.Background(), q, work)
				if err != nil {
					continue // split like that the sticks do not suffice
				}
				save := 100 * float64(two.Cost+extra-one.Cost) / float64(two.Cost+extra)
				sum += save
				best = max(best, save)
				n++
				if one.Proven {
					proven++
				}
				b.Logf("%s: together %d (proven %v), split first %d, %.2f %% less", k.Name, one.Cost, one.Proven, two.Cost+extra, save)
			}
			b.ReportMetric(sum/float64(n), class+"-less%")
			b.ReportMetric(best, class+"-most%")
			b.ReportMetric(float64(proven), class+"-proven")
			b.ReportMetric(float64(n), class+"-jobs")
		}
	}
}
