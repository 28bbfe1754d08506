package heuristic

import (
	"cmp"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// downsize moves each stick's pieces to the cheapest available bin that holds them, until
// nothing moves or the meter's context ends.
func (b *builder) downsize(plan []rules.ColumnCount, mt *meter.Meter) []rules.ColumnCount {
	p := b.p
	for c := range p.Classes {
		for _, k := range p.Classes[c].Bins {
			b.supply[k] = p.Classes[c].Limit - p.Classes[c].Settled
		}
	}
	for _, q := range plan {
		b.supply[q.Column.Fill.Bin] -= q.N
	}
	// Cheapest first, then smallest: the first that holds the pieces is the best.
	better := func(x, y int) int {
		return cmp.Or(cmp.Compare(b.price[x], b.price[y]), cmp.Compare(p.Bins[x].Cap, p.Bins[y].Cap))
	}
	order := b.sorted(better)
	for moved := true; moved; {
		moved = false
		for k := 0; k < len(plan); k++ {
			f := plan[k].Column.Fill
			if !mt.Watch(int64(10 + len(order) + len(f.Uses))) {
				return plan
			}
			if p.Items[f.Uses[0].Item].Alone {
				continue
			}
			x, _ := p.Fill(f)
			for _, bin := range order {
				if better(bin, plan[k].Column.Fill.Bin) >= 0 {
					break
				}
				if b.supply[bin] <= 0 || p.Bins[bin].Cap < x.Size {
					continue
				}
				g := rules.Pattern{Bin: bin, Uses: f.Uses}
				y, ok := p.Fill(&g)
				if !ok {
					continue
				}
				moved = true
				n := min(plan[k].N, b.supply[bin])
				b.supply[bin] -= n
				b.supply[plan[k].Column.Fill.Bin] += n
				c := rules.ColumnCount{Column: p.Cut(g, &y), N: n}
				if n == plan[k].N {
					plan[k] = c
					break
				}
				plan[k].N -= n
				plan = append(plan, c)
			}
		}
	}
	return plan
}
