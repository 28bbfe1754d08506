package solvertest

import (
	"math/rand/v2"

	"example.com/longpoint/internal/solver/rules"
)

// Feature is a rule that a problem may have.
type Feature uint

const (
	WithBars Feature = 1 << iota
	WithMost
	WithHold
	WithNest
	WithPart
	WithBuying
	WithCharges
	WithPairedBins
	WithRuns
	WithSpares
	Features
)

// Tiny draws a problem with rules that can be solved by trying everything.
func Tiny(r *rand.Rand, with Feature) *rules.Problem {
	p := &rules.Problem{}
	on := func(f Feature) bool { return with&f != 0 }
	double := int64(1)
	if on(WithNest) {
		double = 2
		for range 1 + r.IntN(2) {
			p.Setbacks = append(p.Setbacks, 2*(1+r.Int64N(3)))
		}
	}
	pieces := 0
	for len(p.Items) < 4 && pieces < 5 {
		d := 1 + r.Int64N(2)
		it := rules.Item{Demand: d, Most: d, Pieces: 1, Long: r.IntN(2) == 0}
		size := double * (7 + r.Int64N(9))
		end := func() int {
			if !on(WithNest) || r.IntN(3) == 0 {
				return rules.Square
			}
			return r.IntN(len(p.Setbacks))
		}
		w := rules.Orientation{Size: size, Left: end(), Right: end()}
		it.Orientations = []rules.Orientation{w}
		if on(WithNest) && r.IntN(2) == 0 {
			it.Orientations = append(it.Orientations, rules.Orientation{Size: size, Left: w.Right, Right: w.Left})
		}
		pieces += int(d)
		p.Items = append(p.Items, it)
	}
	kinds := 1 + r.IntN(2)
	for range kinds {
		k := rules.PatternRules{Kerf: r.Int64N(2), Spare: r.IntN(2) == 0}
		if on(WithBars) {
			k.Barred = make([]bool, len(p.Items))
			for i := range k.Barred {
				k.Barred[i] = r.IntN(4) == 0
			}
		}
		if on(WithMost) {
			k.Most = 1 + r.Int64N(3)
		}
		if on(WithHold) {
			k.Hold = double * (1 + r.Int64N(10))
			p.Exact = true
		}
		if on(WithPart) && r.IntN(2) == 0 {
			k.Part = [2]int64{double * (10 + r.Int64N(15)), double * (10 + r.Int64N(15))}
		}
		p.Kinds = append(p.Kinds, k)
	}
	for range 1 + r.IntN(2) {
		c := rules.StockClass{Limit: 1 + r.Int64N(6), Bundle: 1, Minimum: 1, Tiers: []rules.Tier{{From: 1, Price: r.Int64N(20)}}}
		n := 1
		if on(WithPairedBins) && r.IntN(2) == 0 {
			n = 2
		}
		for range n {
			c.Bins = append(c.Bins, len(p.Bins))
			b := rules.Bin{Cap: double * (14 + r.Int64N(30)), Kind: r.IntN(kinds)}
			if on(WithPart) && r.IntN(2) == 0 {
				b.Own[rules.Price] = r.Int64N(5)
			}
			p.Bins = append(p.Bins, b)
		}
		if on(WithBuying) {
			c.Bundle = 1 + r.Int64N(3)
			c.Minimum = 1 + r.Int64N(3)
			if r.IntN(2) == 0 {
				c.Tiers = append(c.Tiers, rules.Tier{From: 2 + r.Int64N(3), Price: r.Int64N(20)})
			}
		}
		p.Classes = append(p.Classes, c)
	}
	if on(WithCharges) {
		s := rules.Supplier{Charge: r.Int64N(25)}
		for c := range p.Classes {
			if r.IntN(2) == 0 || len(s.Classes) == 0 && c == len(p.Classes)-1 {
				s.Classes = append(s.Classes, c)
			}
		}
		p.Suppliers = append(p.Suppliers, s)
		if len(p.Classes) > len(s.Classes) {
			t := rules.Supplier{Charge: r.Int64N(25)}
			for c := range p.Classes {
				in := false
				for _, d := range s.Classes {
					in = in || c == d
				}
				if !in {
					t.Classes = append(t.Classes, c)
				}
			}
			p.Suppliers = append(p.Suppliers, t)
		}
	}
	if on(WithRuns) && pieces <= 4 {
		// Two parts of several lengths, or one long one.
		base := len(p.Items)
		for range 4 {
			p.Items = append(p.Items, rules.Item{Most: 2, Pieces: 1, Long: true, Orientations: []rules.Orientation{{Size: double * (5 + r.Int64N(20)), Left: rules.Square, Right: rules.Square}}})
		}
		for k := range p.Kinds {
			if b := p.Kinds[k].Barred; b != nil {
				p.Kinds[k].Barred = append(b, false, false, true, false)
			}
		}
		run := rules.Run{Nodes: 3, Most: r.IntN(3), Arcs: []rules.Arc{{From: 0, To: 1, Item: base, N: 1, Cost: r.Int64N(4), Splices: 1}, {From: 0, To: 1, Item: base + 1, N: 1, Cost: 0, Splices: 1}, {From: 0, To: 2, Item: base + 2, N: 1, Cost: 0, Splices: 0}, {From: 1, To: 2, Item: base + 3, N: 1, Cost: r.Int64N(4), Splices: 0}, {From: 1, To: 2, Item: base, N: 1, Cost: r.Int64N(4), Splices: 1}}}
		p.Runs = append(p.Runs, run)
	}
	if on(WithSpares) && pieces <= 4 && len(p.Runs) == 0 {
		n := 1 + r.Int64N(2)
		p.Items = append(p.Items, rules.Item{Demand: n, Most: n, Pieces: 0, Alone: true, Orientations: []rules.Orientation{{Size: 1, Left: rules.Square, Right: rules.Square}}})
		for k := range p.Kinds {
			if b := p.Kinds[k].Barred; b != nil {
				p.Kinds[k].Barred = append(b, false)
			}
		}
		for c := range p.Classes {
			if len(p.Classes[c].Bins) > 1 {
				for _, b := range p.Classes[c].Bins {
					p.Kinds[p.Bins[b].Kind].Spare = false
				}
			}
		}
	}
	return p
}
