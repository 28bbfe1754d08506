package optimize

import (
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

func (p *Problem) validateRuns(f *faults) {
	kerf := p.soundKerf()
	for r := range p.Runs {
		if f.full() {
			return
		}
		run := &p.Runs[r]
		rule := &run.Splice
		bad := func(name string, value any, want string) { f.add(fmt.Sprintf("runs[%d].%s", r, name), value, want) }
		length := run.Length
		switch {
		case run.Length <= 0:
			bad("length", run.Length.About(), "more than zero")
			length = -1
		case run.Length > lengthLimit:
			bad("length", run.Length.About(), withRules(lengthLimit))
			length = -1
		}
		if rule.Anywhere {
			bad("splice.anywhere", true, "a list of positions in at: stock.SpliceRule.Every makes one")
		}
		validatePositions(rule.At, length, bad)
		if o := rule.Overlap; o > lengthLimit || o < -lengthLimit {
			bad("splice.overlap", o.About(), withRules(lengthLimit))
		}
		if rule.Clear < 0 || rule.Clear > lengthLimit {
			bad("splice.clear", rule.Clear.About(), fmt.Sprintf("zero or more and at most %v", lengthLimit.About()))
		}
		if rule.MinPart < 0 {
			bad("splice.min_part", rule.MinPart.About(), "zero or more")
		}
		if rule.MaxSplices < 0 {
			bad("splice.max_splices", rule.MaxSplices, "zero (no limit) or more")
		}
		if rule.Price < 0 {
			bad("splice.price", rule.Price, "zero or more, in cents")
		}
		if !p.Rules.Nest {
			continue
		}
		validateShape(run.Left, run.Right, length, kerf, bad)
		scarf := stock.End{Kind: stock.EndScarfOver, Angle: rule.Bevel}
		switch b := rule.Bevel; {
		case b < 0 || b >= rightAngle:
			bad("splice.bevel", b, "zero (a square joint) or more and less than a right angle")
		case b > 0 && scarf.KerfAlong(kerf) > lengthLimit:
			bad("splice.bevel", b, lessSteep())
		}
	}
}

// validatePositions checks the splice positions of a run; a negative length is already an
// error.
func validatePositions(at []measure.Length, length measure.Length, bad func(name string, value any, want string)) {
	last := measure.Length(0)
	found := 0
	for k, x := range at {
		if found >= maxFaults {
			return
		}
		if x > last && (length < 0 || x < length) {
			last = x
			continue
		}
		want := fmt.Sprintf("more than %v", last.About())
		if length >= 0 {
			want += fmt.Sprintf(" and less than the run's length, %v", length.About())
		}
		bad(fmt.Sprintf("splice.at[%d]", k), x.About(), want)
		last, found = 0, found+1 // nothing follows from an invalid position
	}
}

func (p *Problem) validateNumbers(f *faults) {
	r := &p.Rules
	if r.MaxPieces < 0 {
		f.add("rules.max_pieces", r.MaxPieces, "zero (no limit) or more")
	}
	switch {
	case r.MinHold < 0:
		f.add("rules.min_hold", r.MinHold.About(), "zero or more")
	case r.MinHold > lengthLimit/4:
		f.add("rules.min_hold", r.MinHold.About(), withRules(lengthLimit/4))
	}
	switch {
	case r.MaxTransport < 0:
		f.add("rules.max_transport", r.MaxTransport.About(), "zero (no limit) or more")
	case r.MaxTransport > lengthLimit/4:
		f.add("rules.max_transport", r.MaxTransport.About(), withRules(lengthLimit/4))
	}
	switch {
	case r.YardCut < 0:
		f.add("rules.yard_cut", r.YardCut, "zero or more, in cents")
	case r.YardCut > 0 && r.MaxTransport == 0:
		f.add("rules.yard_cut", r.YardCut, "zero, or a length in max_transport")
	}
	switch {
	case r.Spare < 0:
		f.add("rules.spare", r.Spare, "zero or more")
	case r.Spare > maxSold:
		f.add("rules.spare", r.Spare, fmt.Sprintf("at most %d", maxSold))
	}
}

func (p *Problem) validateCharges(f *faults) {
	charges := p.Rules.Charges
	if n := len(charges); n > maxCharges {
		f.add("rules.charges", n, fmt.Sprintf("at most %d charges", maxCharges))
		return
	}
	charged := make(map[string]int, len(charges))
	for k, c := range charges {
		if f.full() {
			return
		}
		field := fmt.Sprintf("rules.charges[%d]", k)
		j, known := charged[c.Supplier]
		switch {
		case c.Supplier == "":
			f.add(field+".supplier", "", "a supplier as sticks name it")
		case known:
			f.add(field+".supplier", c.Supplier, fmt.Sprintf("another, rules.charges[%d] has this one", j))
		default:
			charged[c.Supplier] = k
		}
		if c.Amount < 0 {
			f.add(field+".amount", c.Amount, "zero or more, in cents")
		}
	}
}

// maxWorth is the greatest value of one offcut.
const maxWorth = 1 << 40

func (p *Problem) validateOffcutValues(f *faults) {
	last := OffcutValue{}
	for k, w := range p.Rules.OffcutValues {
		if f.full() {
			return
		}
		field := fmt.Sprintf("rules.offcut_values[%d]", k)
		switch {
		case w.Length <= last.Length:
			f.add(field+".length", w.Length.About(), fmt.Sprintf("more than %v", last.Length.About()))
			w.Length = 0 // nothing follows from an invalid step
		case w.Length > lengthLimit:
			f.add(field+".length", w.Length.About(), withRules(lengthLimit))
			w.Length = 0
		}
		if w.Value <= last.Value || w.Value > maxWorth {
			f.add(field+".value", w.Value, fmt.Sprintf("cents, more than %d and at most %d", last.Value, int64(maxWorth)))
			w.Value = 0
		}
		last = w
	}
}

func (p *Problem) validateGroups(f *faults) {
	in := make([]int, len(p.Pieces))
	for g := range p.Rules.Groups {
		if f.full() {
			return
		}
		gr := &p.Rules.Groups[g]
		bad := func(name string, value any, want string) {
			f.add(fmt.Sprintf("rules.groups[%d].%s", g, name), value, want)
		}
		oneLot := gr.Kind == GroupOneLot
		switch {
		case gr.Kind > GroupOneLot:
			bad("kind", gr.Kind, groupNames.want())
			oneLot = true // or another unknown kind
		case gr.Kind == GroupOneStick && p.Rules.Nest:
			bad("kind", gr.Kind, GroupInSequence.String()+": where ends nest, order counts")
		}
		switch {
		case gr.Started && !oneLot:
			bad("started", true, "false, or a group of one lot")
		case gr.Lot != "" && !gr.Started:
			bad("lot", gr.Lot, "nothing for a group that is not started")
		}
		switch {
		case gr.Started && len(gr.Pieces) < 1:
			bad("pieces", 0, "one piece or more")
		case !gr.Started && len(gr.Pieces) < 2:
			bad("pieces", len(gr.Pieces), "two pieces or more")
		}
		p.validateMembers(g, in, bad, f)
	}
}

// validateMembers checks the pieces of a group. In is the group of each piece, counted from
// one.
func (p *Problem) validateMembers(g int, in []int, bad func(name string, value any, want string), f *faults) {
	gr := &p.Rules.Groups[g]
	first := -1 // the first piece with a valid quantity
	found := 0
	for k, i := range gr.Pieces {
		if found >= maxFaults {
			return
		}
		field := fmt.Sprintf("pieces[%d]", k)
		found++
		switch {
		case i < 0 || i >= len(p.Pieces):
			bad(field, i, fmt.Sprintf("an index below %d", len(p.Pieces)))
			continue
		case in[i] > 0:
			bad(field, i, fmt.Sprintf("a piece of no other group; rules.groups[%d] has this one", in[i]-1))
			continue
		}
		in[i] = g + 1
		switch {
		case gr.Started || p.Pieces[i].Quantity < 0:
		case first < 0:
			first = i
		case wanted(p, i) != wanted(p, first):
			bad(field, i, fmt.Sprintf("a piece with the quantity of pieces[%d], %d", first, wanted(p, first)))
			continue
		}
		found--
	}
}

func (p *Problem) validateGoals(f *faults) {
	for k, g := range p.Rules.Goals {
		if f.full() {
			return
		}
		field := fmt.Sprintf("rules.goals[%d]", k)
		switch {
		case g > GoalSplices:
			f.add(field, g, goalNames.want())
		case k == 0 && g != GoalCost:
			f.add(field, g, GoalCost.String())
		case slices.Contains(p.Rules.Goals[:k], g):
			f.add(field, g, "each goal once")
		case g == GoalOffcutValue && len(p.Rules.OffcutValues) == 0:
			f.add(field, g, "steps in rules.offcut_values, which give the values of offcuts")
		}
	}
}

// validateYard reports rules that cannot be combined with a cut in the yard.
func (p *Problem) validateYard(f *faults) {
	r := &p.Rules
	if r.MaxTransport <= 0 || f.has("rules.max_transport") {
		return
	}
	for i := range p.Sticks {
		if f.full() {
			return
		}
		s := &p.Sticks[i]
		if s.Rack || s.Length <= r.MaxTransport {
			continue
		}
		without := func(what string) {
			f.add(fmt.Sprintf("sticks[%d].length", i), s.Length.About(), fmt.Sprintf("at most rules.max_transport, %v: a stick that is cut in the yard does not go with %s", r.MaxTransport.About(), what))
		}
		goal := slices.IndexFunc(r.Goals, func(g Goal) bool { return g == GoalOffcutValue || g == GoalCuts })
		switch {
		case len(s.Defects) > 0:
			without("defects")
		case r.Nest:
			without("rules.nest")
		case r.MaxTransport <= s.TrimStart && !f.has("sticks[%d].trim_start", i) || r.MaxTransport <= s.TrimEnd && !f.has("sticks[%d].trim_end", i):
			f.add("rules.max_transport", r.MaxTransport.About(), fmt.Sprintf("more than the ends of sticks[%d] that cannot be used", i))
		case goal >= 0:
			without("the goal " + r.Goals[goal].String())
		}
	}
}
