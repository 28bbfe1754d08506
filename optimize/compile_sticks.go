package optimize

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// class is a set of sticks that are equal for the solver.
type class struct {
	sticks  []int // in increasing order
	usable  measure.Length
	clear   []stock.Defect // clear stretches; several only with defects
	yard    bool
	special bool // with its own terms of sale
}

// listed returns the rank of each class in the order of the sticks, which is the order of a proof's classes.
func (in *instance) listed() []int {
	order := make([]int, len(in.classes))
	for c := range order {
		order[c] = c
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(in.classes[a].sticks[0], in.classes[b].sticks[0]) })
	at := make([]int, len(order))
	for k, c := range order {
		at[c] = k
	}
	return at
}

// kindKey has the properties of a stick that determine which pieces it may yield.
type kindKey struct {
	grade int
	lot   string
}

// addSticks makes classes and their bins.
func (in *instance) addSticks() error {
	p := in.problem
	in.countUseful()
	in.byLength = !p.money()
	known := map[classKey]int{}
	for _, i := range in.stickOrder() {
		s := &p.Sticks[i]
		yard := p.Rules.MaxTransport > 0 && !s.Rack && s.Length > p.Rules.MaxTransport
		if yard && s.Length-p.Kerf-p.Rules.MaxTransport > p.Rules.MaxTransport {
			continue // no single cut makes it short enough
		}
		special := s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0 || len(s.Defects) > 0
		k := in.classKey(s)
		c, ok := known[k]
		if special || !ok {
			c = len(in.classes)
			if !special {
				known[k] = c
			}
			if in.addClass(i, yard, special); len(in.model.Bins) > maxKinds {
				return in.small()
			}
		} else {
			in.classes[c].sticks = append(in.classes[c].sticks, i)
		}
		cl := &in.model.Classes[c]
		if n := int64(s.Limit); n == 0 {
			cl.Limit = math.MaxInt64 / 8
		} else {
			cl.Limit += min(n, math.MaxInt64/8-cl.Limit)
		}
	}
	if len(in.classes) == 0 && in.ruled {
		return infeasible(ReasonSupplyDoesNotFit)
	}
	for c := range in.model.Classes {
		cl := &in.model.Classes[c]
		cl.Most = in.useful
		top := in.useful + cl.Bundle + cl.Minimum
		for _, t := range cl.Tiers {
			top = max(top, t.From+cl.Bundle)
		}
		cl.Limit = min(cl.Limit, top)
	}
	in.addSuppliers()
	return nil
}

// countUseful computes the number of useful sticks: no plan needs more than pieces, parts and
// spares.
func (in *instance) countUseful() {
	p := in.problem
	in.useful = in.total + int64(p.Rules.Spare)
	for r := range p.Runs {
		n := int64(len(p.Runs[r].Splice.At) + 1)
		if m := p.Runs[r].Splice.MaxSplices; m > 0 {
			n = min(n, int64(m)+1)
		}
		in.useful += n
	}
}

// stickOrder returns the available sticks in the order of their classes: as listed or, without
// rules, the longest first, so that the solver sees the same problem in any order.
func (in *instance) stickOrder() (order []int) {
	p := in.problem
	for i := range p.Sticks {
		if p.Sticks[i].Limit != stock.SoldOut {
			order = append(order, i)
		}
	}
	if !in.ruled {
		slices.SortStableFunc(order, func(a, b int) int {
			return cmp.Or(cmp.Compare(usable(&p.Sticks[b]), usable(&p.Sticks[a])), cmp.Compare(in.price(a), in.price(b)))
		})
	}
	return order
}

// price returns the cost of one stick, regardless of quantities.
func (in *instance) price(stick int) int64 {
	s := &in.problem.Sticks[stick]
	if in.byLength {
		return int64(s.Length)
	}
	return s.Price
}

// classKey is the same for equal sticks.
type classKey struct {
	length, start, end measure.Length
	price              int64
	supplier, lot      string
	grade              int
	rack               bool
}

// classKey returns the key of a stick's class. Without rules that is its usable length and
// cost.
func (in *instance) classKey(s *stock.Stick) classKey {
	if in.ruled {
		return classKey{s.Length, s.TrimStart, s.TrimEnd, s.Price, s.Supplier, s.Lot, s.Grade, s.Rack}
	}
	k := classKey{length: usable(s), price: s.Price}
	if in.byLength {
		k.price = int64(s.Length)
	}
	return k
}

// addClass makes a class for a stick, and a bin for each of its clear stretches.
func (in *instance) addClass(i int, yard, special bool) {
	p, price := in.problem, in.price(i)
	s := &p.Sticks[i]
	c := class{sticks: []int{i}, usable: usable(s), clear: clearStretches(s), yard: yard, special: special}
	cl := rules.StockClass{Tiers: []rules.Tier{{From: 1, Price: price}}, Bundle: int64(max(1, s.Bundle)), Minimum: int64(max(1, s.Minimum))}
	for _, b := range s.Breaks {
		v := b.Price
		if in.byLength {
			v = price
		}
		cl.Tiers = append(cl.Tiers, rules.Tier{From: int64(b.From), Price: v})
	}
	k := rules.PatternRules{Kerf: int64(p.Kerf) * in.double, Most: int64(p.Rules.MaxPieces), Hold: int64(p.Rules.MinHold) * in.double}
	if yard {
		if k.Hold > 0 {
			k.Trim = [2]bool{s.TrimStart > 0, s.TrimEnd > 0}
		}
		k.Part = [2]int64{int64(p.Rules.MaxTransport-s.TrimStart+p.Kerf) * in.double, int64(p.Rules.MaxTransport-s.TrimEnd+p.Kerf) * in.double}
	}
	if slices.Contains(p.Rules.Goals, GoalOffcutValue) {
		for _, w := range p.Rules.OffcutValues {
			k.Salvage = append(k.Salvage, rules.SalvageStep{Length: int64(w.Length) * in.double, Value: w.Value})
		}
	}
	k.Spare = p.Rules.Spare > 0 && len(s.Defects) == 0 && usable(s) >= in.longest && !yard
	worth := slices.Contains(p.Rules.Goals, GoalOffcutValue)
	if whole := len(c.clear) == 1 && c.usable == s.Length && len(s.Defects) == 0; k.Hold > 0 && !yard && !whole {
		k.Trim = [2]bool{true, true}
	}
	for _, stretch := range c.clear {
		b := rules.Bin{Cap: int64(stretch.To-stretch.From+p.Kerf) * in.double, Kind: len(in.model.Kinds)}
		if len(c.clear) == 1 {
			b.Own[rules.Sticks] = 1
		}
		if yard {
			b.Own[rules.Price] = p.Rules.YardCut
		}
		if width := worthOf(p.Rules.OffcutValues, stretch.To-stretch.From); worth && len(c.clear) > 1 {
			// An uncut stretch is an offcut too; on the rack it was one before.
			b.Own[rules.Salvage] = width
			if !s.Rack {
				cl.Idle -= width
			}
		} else if worth && s.Rack {
			b.Own[rules.Salvage] = width
			if len(s.Defects) == 0 {
				b.Own[rules.Salvage] = worthOf(p.Rules.OffcutValues, s.Length)
			}
		}
		cl.Bins = append(cl.Bins, len(in.model.Bins))
		in.model.Bins = append(in.model.Bins, b)
	}
	if len(c.clear) > 1 {
		cl.Count = 1
	}
	in.kindOf = append(in.kindOf, kindKey{s.Grade, s.Lot})
	in.model.Kinds = append(in.model.Kinds, k)
	in.classes = append(in.classes, c)
	in.model.Classes = append(in.model.Classes, cl)
}

// clearStretches returns the stretches of a stick between its ends and defects, from its start.
func clearStretches(s *stock.Stick) []stock.Defect {
	defects := slices.Clone(s.Defects)
	slices.SortFunc(defects, func(a, b stock.Defect) int { return cmp.Compare(a.From, b.From) })
	at, end := s.TrimStart, s.Length-s.TrimEnd
	var out []stock.Defect
	for _, d := range defects {
		if min(d.From, end) > at {
			out = append(out, stock.Defect{From: at, To: min(d.From, end)})
		}
		at = max(at, d.To)
	}
	if at < end {
		out = append(out, stock.Defect{From: at, To: end})
	}
	return out
}

// worthOf returns the value of an offcut of the given length.
func worthOf(steps []OffcutValue, l measure.Length) int64 {
	v := int64(0)
	for _, s := range steps {
		if l >= s.Length {
			v = s.Value
		}
	}
	return v
}

// addSpares makes the item of the spare sticks.
func (in *instance) addSpares() {
	n := int64(in.problem.Rules.Spare)
	in.spare = -1
	if n == 0 {
		return
	}
	in.spare = len(in.items)
	in.items = append(in.items, item{lot: -1, turns: []Turn{{}}})
	in.grades = append(in.grades, math.MinInt)
	in.model.Items = append(in.model.Items, rules.Item{Demand: n, Alone: true, Orientations: []rules.Orientation{{Size: in.double, Left: rules.Square, Right: rules.Square}}})
}

func usable(s *stock.Stick) measure.Length { return s.Length - s.TrimStart - s.TrimEnd }
