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

// Tiny draws a problem with rules that is small enough for brute force.
func Tiny(r *rand.Rand, with Feature) *rules.Problem {
	d := drawing{r: r, with: with, p: &rules.Problem{}, double: 1}
	if d.on(WithNest) {
		d.double = 2
		for range 1 + r.IntN(2) {
			d.p.Setbacks = append(d.p.Setbacks, 2*(1+r.Int64N(3)))
		}
	}
	d.items()
	d.rules()
	d.classes()
	d.suppliers()
	d.runs()
	d.spares()
	return d.p
}

// drawing is a problem being drawn.
type drawing struct {
	r             *rand.Rand
	with          Feature
	p             *rules.Problem
	double        int64 // sizes are even if ends nest
	pieces, kinds int
}

func (d *drawing) on(f Feature) bool { return d.with&f != 0 }

func (d *drawing) items() {
	for len(d.p.Items) < 4 && d.pieces < 5 {
		n := 1 + d.r.Int64N(2)
		it := rules.Item{Demand: n, Most: n, Pieces: 1, Long: d.r.IntN(2) == 0}
		size := d.double * (7 + d.r.Int64N(9))
		end := func() int {
			if !d.on(WithNest) || d.r.IntN(3) == 0 {
				return rules.Square
			}
			return d.r.IntN(len(d.p.Setbacks))
		}
		w := rules.Orientation{Size: size, Left: end(), Right: end()}
		it.Orientations = []rules.Orientation{w}
		if d.on(WithNest) && d.r.IntN(2) == 0 {
			it.Orientations = append(it.Orientations, rules.Orientation{Size: size, Left: w.Right, Right: w.Left})
		}
		d.pieces += int(n)
		d.p.Items = append(d.p.Items, it)
	}
}

func (d *drawing) rules() {
	d.kinds = 1 + d.r.IntN(2)
	for range d.kinds {
		k := rules.PatternRules{Kerf: d.r.Int64N(2), Spare: d.r.IntN(2) == 0}
		if d.on(WithBars) {
			k.Barred = make([]bool, len(d.p.Items))
			for i := range k.Barred {
				k.Barred[i] = d.r.IntN(4) == 0
			}
		}
		if d.on(WithMost) {
			k.Most = 1 + d.r.Int64N(3)
		}
		if d.on(WithHold) {
			k.Hold = d.double * (1 + d.r.Int64N(10))
			d.p.Exact = true
		}
		if d.on(WithPart) && d.r.IntN(2) == 0 {
			k.Part = [2]int64{d.double * (10 + d.r.Int64N(15)), d.double * (10 + d.r.Int64N(15))}
		}
		d.p.Kinds = append(d.p.Kinds, k)
	}
}

func (d *drawing) classes() {
	for range 1 + d.r.IntN(2) {
		c := rules.StockClass{Limit: 1 + d.r.Int64N(6), Bundle: 1, Minimum: 1, Tiers: []rules.Tier{{From: 1, Price: d.r.Int64N(20)}}}
		n := 1
		if d.on(WithPairedBins) && d.r.IntN(2) == 0 {
			n = 2
		}
		for range n {
			c.Bins = append(c.Bins, len(d.p.Bins))
			b := rules.Bin{Cap: d.double * (14 + d.r.Int64N(30)), Kind: d.r.IntN(d.kinds)}
			if d.on(WithPart) && d.r.IntN(2) == 0 {
				b.Own[rules.Price] = d.r.Int64N(5)
			}
			d.p.Bins = append(d.p.Bins, b)
		}
		if d.on(WithBuying) {
			c.Bundle = 1 + d.r.Int64N(3)
			c.Minimum = 1 + d.r.Int64N(3)
			if d.r.IntN(2) == 0 {
				c.Tiers = append(c.Tiers, rules.Tier{From: 2 + d.r.Int64N(3), Price: d.r.Int64N(20)})
			}
		}
		d.p.Classes = append(d.p.Classes, c)
	}
}

func (d *drawing) suppliers() {
	if d.on(WithCharges) {
		s := rules.Supplier{Charge: d.r.Int64N(25)}
		for c := range d.p.Classes {
			if d.r.IntN(2) == 0 || len(s.Classes) == 0 && c == len(d.p.Classes)-1 {
				s.Classes = append(s.Classes, c)
			}
		}
		d.p.Suppliers = append(d.p.Suppliers, s)
		if len(d.p.Classes) > len(s.Classes) {
			t := rules.Supplier{Charge: d.r.Int64N(25)}
			for c := range d.p.Classes {
				in := false
				for _, x := range s.Classes {
					in = in || c == x
				}
				if !in {
					t.Classes = append(t.Classes, c)
				}
			}
			d.p.Suppliers = append(d.p.Suppliers, t)
		}
	}
}

func (d *drawing) runs() {
	if d.on(WithRuns) && d.pieces <= 4 {
		// Two parts of several lengths, or one long one.
		base := len(d.p.Items)
		for range 4 {
			d.p.Items = append(d.p.Items, rules.Item{Most: 2, Pieces: 1, Long: true, Orientations: []rules.Orientation{{Size: d.double * (5 + d.r.Int64N(20)), Left: rules.Square, Right: rules.Square}}})
		}
		for k := range d.p.Kinds {
			if b := d.p.Kinds[k].Barred; b != nil {
				d.p.Kinds[k].Barred = append(b, false, false, true, false)
			}
		}
		run := rules.Run{Nodes: 3, Most: d.r.IntN(3), Arcs: []rules.Arc{{From: 0, To: 1, Item: base, N: 1, Cost: d.r.Int64N(4), Splices: 1}, {From: 0, To: 1, Item: base + 1, N: 1, Cost: 0, Splices: 1}, {From: 0, To: 2, Item: base + 2, N: 1, Cost: 0, Splices: 0}, {From: 1, To: 2, Item: base + 3, N: 1, Cost: d.r.Int64N(4), Splices: 0}, {From: 1, To: 2, Item: base, N: 1, Cost: d.r.Int64N(4), Splices: 1}}}
		d.p.Runs = append(d.p.Runs, run)
	}
}

func (d *drawing) spares() {
	if d.on(WithSpares) && d.pieces <= 4 && len(d.p.Runs) == 0 {
		n := 1 + d.r.Int64N(2)
		d.p.Items = append(d.p.Items, rules.Item{Demand: n, Most: n, Pieces: 0, Alone: true, Orientations: []rules.Orientation{{Size: 1, Left: rules.Square, Right: rules.Square}}})
		for k := range d.p.Kinds {
			if b := d.p.Kinds[k].Barred; b != nil {
				d.p.Kinds[k].Barred = append(b, false)
			}
		}
		for c := range d.p.Classes {
			if len(d.p.Classes[c].Bins) > 1 {
				for _, b := range d.p.Classes[c].Bins {
					d.p.Kinds[d.p.Bins[b].Kind].Spare = false
				}
			}
		}
	}
}
