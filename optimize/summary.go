package optimize

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Summary has the totals of a plan. Amounts are in the currency's minor unit, and zero if the
// plan counts length.
type Summary struct {
	Buy  []Purchase     `json:"buy"`            // what to buy and take from the rack, as in Plan.Buy
	Kept []stock.Offcut `json:"kept,omitempty"` // offcuts worth keeping, grouped by equal length

	StickCost   int64 `json:"stick_cost"`    // of the sticks
	SpliceCost  int64 `json:"splice_cost"`   // of the splices: labor, not taxed as material
	YardCutCost int64 `json:"yard_cut_cost"` // of the yard's cuts
	ChargeCost  int64 `json:"charge_cost"`   // suppliers' charges, such as for delivery
	Cost        int64 `json:"cost"`          // sum of all four, as Plan.Cost

	// Bought is the length of all sticks bought, as delivered, and of those off the rack that
	// are cut. It is the sum of Used, Kept, Kerf and Waste.
	Bought     measure.Length `json:"bought"`
	Used       measure.Length `json:"used"`        // in pieces; the length that nested ends share counts once
	KeptLength measure.Length `json:"kept_length"` // total length of Kept
	Kerf       measure.Length `json:"kerf"`        // sawdust
	Waste      measure.Length `json:"waste"`       // shorter offcuts, defects and unusable ends
}

// Summary returns what to buy, its cost and the use of the length. An offcut of length keep or
// more is kept; a shorter one is waste.
//
// For a negative keep or an invalid problem, the error is a [*measure.FieldError]; for a plan
// that cannot be cut as described, a [*CheckError] (the proof is ignored); for a total length
// out of range, a [*measure.RangeError].
func (pl *Plan) Summary(p Problem, keep measure.Length) (*Summary, error) {
	if keep < 0 {
		return nil, fieldError("keep", keep.About(), "zero or more")
	}
	change, err := pl.RackChange(p, "")
	if err != nil {
		return nil, err
	}
	s := &Summary{Buy: append([]Purchase{}, pl.Buy...)}
	if !pl.ByLength {
		s.bill(&p, pl)
	}
	if !s.lengths(&p, pl, change.Leaves, keep) {
		return nil, &measure.RangeError{Op: "optimize", Value: "total length", Reason: "too large to represent"}
	}
	return s, nil
}

// bill splits the cost of a plan into its parts.
func (s *Summary) bill(p *Problem, pl *Plan) {
	c := &ruleCheck{p: p, plan: pl}
	for k := range pl.Spliced {
		s.SpliceCost += p.Runs[k].Splice.Price * int64(len(pl.Spliced[k].At))
	}
	for k := range pl.Patterns {
		if c.inYard(&p.Sticks[pl.Patterns[k].Stick]) {
			s.YardCutCost += p.Rules.YardCut * int64(pl.Patterns[k].Count)
		}
	}
	visited := make(map[string]bool)
	for _, b := range pl.Buy {
		s.StickCost += b.Cost
		visited[p.Sticks[b.Stick].Supplier] = true
	}
	s.StickCost -= s.YardCutCost
	for _, ch := range p.Rules.Charges {
		if visited[ch.Supplier] {
			s.ChargeCost += ch.Amount
		}
	}
	s.Cost = pl.Cost
}

// lengths adds up the use of the length, given all offcuts; it returns false on overflow.
func (s *Summary) lengths(p *Problem, pl *Plan, leaves []stock.Offcut, keep measure.Length) bool {
	var bought, clear, used, kept, left int128
	cut := make([]int, len(p.Sticks))
	c := &ruleCheck{p: p, plan: pl}
	for k := range pl.Patterns {
		pat := &pl.Patterns[k]
		cut[pat.Stick] += pat.Count
		for j, i := range pat.Pieces {
			used = used.add(mul(int64(c.piece(i).Length), int64(pat.Count)))
			if j == 0 || !p.Rules.Nest || pat.YardAfter == j && c.inYard(&p.Sticks[pat.Stick]) || pat.Stretch != nil && pat.Stretch[j] != pat.Stretch[j-1] {
				continue
			}
			_, before := c.ends(pat, j-1)
			if l, _ := c.ends(pat, j); parallel(before, l) {
				used = used.add(mul(-int64(l.Setback), int64(pat.Count)))
			}
		}
	}
	for _, b := range pl.Buy {
		st := &p.Sticks[b.Stick]
		n := b.Count
		if st.Rack {
			n = cut[b.Stick] // the others stay on the rack
		}
		bought = bought.add(mul(int64(st.Length), int64(n)))
		for _, w := range stretches(st) {
			clear = clear.add(mul(int64(w.To-w.From), int64(n)))
		}
	}
	for _, o := range leaves {
		all := mul(int64(o.Length), int64(o.Count))
		left = left.add(all)
		if o.Length >= keep {
			s.Kept = append(s.Kept, o)
			kept = kept.add(all)
		}
	}
	total, ok := bought.int64()
	if !ok {
		return false
	}
	// All else is part of that.
	in, _ := clear.int64()
	u, _ := used.int64()
	k, _ := kept.int64()
	l, _ := left.int64()
	s.Bought, s.Used, s.KeptLength = measure.Length(total), measure.Length(u), measure.Length(k)
	s.Kerf = measure.Length(in - u - l)
	s.Waste = measure.Length(total - in + l - k)
	return true
}
