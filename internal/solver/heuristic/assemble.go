package heuristic

import (
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
)

// assemblyTurns limits the choices of assemblies that are tried until one fits the sticks.
const assemblyTurns = 6

// assembler chooses assemblies by length alone.
type assembler struct {
	p           *rules.Problem
	must        *meter.Meter
	size, short []int64 // of items; by short, long items are expensive
	weight      int64   // of money relative to length
}

func newAssembler(b *builder, mt *meter.Meter) *assembler {
	p := b.p
	a := &assembler{p: p, must: mt.First(firstSteps), size: b.size, weight: 1}
	// The price of the cheapest class, per unit of capacity.
	rate, top := math.Inf(1), int64(1)
	for k := range p.Classes {
		for _, b := range p.Classes[k].Bins {
			if p.Bins[b].Cap > 0 {
				rate = min(rate, float64(p.Classes[k].Tiers[0].Price)/float64(p.Bins[b].Cap))
			}
			top = max(top, p.Bins[b].Cap)
		}
	}
	if rate > 0 && rate < 1 {
		a.weight = int64(min(1/rate, 1<<20))
	}
	a.short = make([]int64, len(a.size))
	for i, v := range a.size {
		a.short[i] = v + int64(float64(v)/float64(top)*float64(v))
	}
	return a
}

// choose returns an assembly for each run, different in each turn, and the resulting demand of
// the items; false if a run has no assembly or time is up.
func (a *assembler) choose(turn int) (wanted []int64, chosen []rules.ColumnCount, ok bool) {
	p := a.p
	for i := range p.Items {
		wanted = append(wanted, p.Items[i].Demand)
	}
	for r := range p.Runs {
		if !a.must.Watch(int64(8 * (p.Runs[r].Nodes + len(p.Runs[r].Arcs)))) {
			return nil, nil, false
		}
		x := pricing.NewPaths(p, r)
		worth := a.size
		if turn > 0 && turn < 3 {
			worth = a.short // long sticks may be scarce
		}
		v := x.Price(worth, &[rules.Criteria]int64{rules.Price: a.weight})
		if v >= rules.NoCost {
			return nil, nil, false
		}
		skip, limit := turn/2, v
		if skip > 0 {
			limit = v + v/4
		}
		var best rules.Path
		x.Walk(limit, func(q rules.Path, _ int64) bool {
			best = q
			skip--
			return skip >= 0
		})
		col := p.Assembly(r, best)
		chosen = append(chosen, rules.ColumnCount{Column: &col, N: 1})
		for _, u := range p.Runs[r].Uses(best) {
			wanted[u.Item] += u.N
		}
	}
	return wanted, chosen, true
}
