package optimize

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

const rightAngle = 90 * measure.Degree

func badNumber[T int | int64](field string, v T, want string) error {
	return &ProblemError{field, strconv.FormatInt(int64(v), 10), want}
}

// validateRules reports the first field that makes no sense by itself among those that a
// plain problem leaves at zero, or the first two rules that do not go together.
func validateRules(p *Problem) error {
	for _, check := range []func(*Problem) error{validateSelling, validateDefects, validateRuns, validateNumbers, validateGroups, validateGoals, validatePairs, validateEnds} {
		if err := check(p); err != nil {
			return err
		}
	}
	if p.plain() {
		return nil
	}
	return p.inRange() // so that Check, too, may add a few lengths
}

// validateSelling looks at bundles, minimums and price breaks.
func validateSelling(p *Problem) error {
	all := 0
	for i := range p.Sticks {
		s := &p.Sticks[i]
		field := func(name string) string { return fmt.Sprintf("Sticks[%d].%s", i, name) }
		switch {
		case s.Bundle < 0:
			return badNumber(field("Bundle"), s.Bundle, "zero (meaning one) or more")
		case s.Minimum < 0:
			return badNumber(field("Minimum"), s.Minimum, "zero or more")
		case s.Bundle > maxSold:
			return badNumber(field("Bundle"), s.Bundle, fmt.Sprintf("at most %d", maxSold))
		case s.Minimum > maxSold:
			return badNumber(field("Minimum"), s.Minimum, fmt.Sprintf("at most %d", maxSold))
		case s.Limit > 0 && s.Bundle > s.Limit:
			return badNumber(field("Bundle"), s.Bundle, fmt.Sprintf("at most the Limit, %d", s.Limit))
		case s.Limit > 0 && s.Minimum > s.Limit:
			return badNumber(field("Minimum"), s.Minimum, fmt.Sprintf("at most the Limit, %d", s.Limit))
		}
		if n := len(s.Breaks); n > maxBreaks {
			return &ProblemError{field("Breaks"), fmt.Sprintf("%d price breaks", n), fmt.Sprintf("at most %d", maxBreaks)}
		} else if all += n; all > maxAllBreaks {
			return &ProblemError{field("Breaks"), fmt.Sprintf("%d price breaks with those before", all), fmt.Sprintf("at most %d of all sticks", maxAllBreaks)}
		}
		from := 1
		for k, b := range s.Breaks {
			switch {
			case b.From <= from:
				return badNumber(field(fmt.Sprintf("Breaks[%d].From", k)), b.From, fmt.Sprintf("more than %d: numbers from 2 on, ascending", from))
			case b.From > maxSold:
				return badNumber(field(fmt.Sprintf("Breaks[%d].From", k)), b.From, fmt.Sprintf("at most %d", maxSold))
			case b.Price < 0:
				return badNumber(field(fmt.Sprintf("Breaks[%d].Price", k)), b.Price, "zero or more, in cents")
			}
			from = b.From
		}
	}
	return nil
}

// What is sold together, and in how many ways, is bounded, so that looking at it stays
// quick.
const (
	maxSold      = 1 << 30
	maxBreaks    = 32 // of one stick
	maxAllBreaks = 1_000
	maxCharges   = 1_000
)

func validateDefects(p *Problem) error {
	for i := range p.Sticks {
		s := &p.Sticks[i]
		for k, d := range s.Defects {
			field := func(name string) string { return fmt.Sprintf("Sticks[%d].Defects[%d].%s", i, k, name) }
			switch {
			case d.From < 0 || d.From >= s.Length:
				return badLength(field("From"), d.From, fmt.Sprintf("zero or more and less than the stick's length, %v", s.Length.About()))
			case d.To <= d.From || d.To > s.Length:
				return badLength(field("To"), d.To, fmt.Sprintf("more than From, %v, and at most the stick's length, %v", d.From.About(), s.Length.About()))
			}
		}
		if len(s.Defects) == 0 {
			continue
		}
		if s.Limit == 0 {
			return badNumber(fmt.Sprintf("Sticks[%d].Limit", i), 0, "how many sticks have these defects")
		}
		if s.Limit > maxFlawed {
			return badNumber(fmt.Sprintf("Sticks[%d].Limit", i), s.Limit, fmt.Sprintf("at most %d sticks with the same defects", maxFlawed))
		}
		if n := len(s.Defects); s.Limit > 0 && n > maxDefects/s.Limit {
			return &ProblemError{fmt.Sprintf("Sticks[%d].Defects", i), fmt.Sprintf("%d defects", n),
				fmt.Sprintf("at most %d on all sticks of the Limit, %d, together", maxDefects, s.Limit)}
		}
		if len(stretches(s)) == 0 {
			return &ProblemError{fmt.Sprintf("Sticks[%d].Defects", i), "the whole stick", "something that can be used"}
		}
	}
	return nil
}

// maxFlawed bounds the sticks with one set of defects, which are cut one by one, and
// maxDefects their defects.
const (
	maxFlawed  = 10_000
	maxDefects = 100_000
)

func validateRuns(p *Problem) error {
	for r := range p.Runs {
		run := &p.Runs[r]
		rule := &run.Splice
		field := func(name string) string { return fmt.Sprintf("Runs[%d].%s", r, name) }
		switch {
		case run.Length <= 0:
			return badLength(field("Length"), run.Length, "more than zero")
		case rule.Anywhere:
			return &ProblemError{field("Splice.Anywhere"), "true", "a list of positions in At: stock.SpliceRule.Every makes one"}
		case rule.MaxSplices < 0:
			return badNumber(field("Splice.MaxSplices"), rule.MaxSplices, "zero (no limit) or more")
		case rule.Price < 0:
			return badNumber(field("Splice.Price"), rule.Price, "zero or more, in cents")
		case rule.MinPart < 0:
			return badLength(field("Splice.MinPart"), rule.MinPart, "zero or more")
		case rule.Clear < 0 || rule.Clear > lengthLimit:
			return badLength(field("Splice.Clear"), rule.Clear, fmt.Sprintf("zero or more and at most %v", lengthLimit.About()))
		}
		last := measure.Length(0)
		for k, x := range rule.At {
			if x <= last || x >= run.Length {
				return badLength(field(fmt.Sprintf("Splice.At[%d]", k)), x, fmt.Sprintf("more than %v and less than the run's length, %v", last.About(), run.Length.About()))
			}
			last = x
		}
	}
	return nil
}

func validateNumbers(p *Problem) error {
	r := &p.Rules
	switch {
	case r.MaxPieces < 0:
		return badNumber("Rules.MaxPieces", r.MaxPieces, "zero (no limit) or more")
	case r.MinHold < 0:
		return badLength("Rules.MinHold", r.MinHold, "zero or more")
	case r.MaxTransport < 0:
		return badLength("Rules.MaxTransport", r.MaxTransport, "zero (no limit) or more")
	case r.YardCut < 0:
		return badNumber("Rules.YardCut", r.YardCut, "zero or more, in cents")
	case r.YardCut > 0 && r.MaxTransport == 0:
		return badNumber("Rules.YardCut", r.YardCut, "zero, or a length in Transport")
	case r.Spare < 0:
		return badNumber("Rules.Spare", r.Spare, "zero or more")
	case r.Spare > maxSold:
		return badNumber("Rules.Spare", r.Spare, fmt.Sprintf("at most %d", maxSold))
	}
	if n := len(r.Charges); n > maxCharges {
		return &ProblemError{"Rules.Charges", fmt.Sprintf("%d charges", n), fmt.Sprintf("at most %d", maxCharges)}
	}
	charged := make(map[string]int, len(r.Charges))
	for k, c := range r.Charges {
		switch {
		case c.Supplier == "":
			return &ProblemError{fmt.Sprintf("Rules.Charges[%d].Supplier", k), "empty", "a supplier as sticks name it"}
		case c.Amount < 0:
			return badNumber(fmt.Sprintf("Rules.Charges[%d].Amount", k), c.Amount, "zero or more, in cents")
		}
		if j, known := charged[c.Supplier]; known {
			return &ProblemError{fmt.Sprintf("Rules.Charges[%d].Supplier", k), strconv.Quote(c.Supplier), fmt.Sprintf("another, Rules.Charges[%d] has this one", j)}
		}
		charged[c.Supplier] = k
	}
	for k, w := range r.OffcutValues {
		last := OffcutValue{}
		if k > 0 {
			last = r.OffcutValues[k-1]
		}
		if w.Length <= last.Length {
			return badLength(fmt.Sprintf("Rules.OffcutValues[%d].Length", k), w.Length, fmt.Sprintf("more than %v", last.Length.About()))
		}
		if w.Value <= last.Value || w.Value > 1<<40 {
			return badNumber(fmt.Sprintf("Rules.OffcutValues[%d].Value", k), w.Value, fmt.Sprintf("cents, more than %d and at most %d", last.Value, int64(1<<40)))
		}
	}
	return nil
}

func validateGroups(p *Problem) error {
	in := make([]int, len(p.Pieces))
	for g := range p.Rules.Groups {
		gr := &p.Rules.Groups[g]
		field := fmt.Sprintf("Rules.Groups[%d]", g)
		if gr.Kind > GroupOneLot {
			return &ProblemError{field + ".Kind", gr.Kind.String(), "a kind that has a name"}
		}
		if gr.Kind == GroupOneStick && p.Rules.Nest {
			return &ProblemError{field + ".Kind", gr.Kind.String(), "InSequence: where ends nest, order counts"}
		}
		switch {
		case gr.Started && gr.Kind != GroupOneLot:
			return &ProblemError{field + ".Started", "true", "false, or a group of one lot"}
		case gr.Lot != "" && !gr.Started:
			return &ProblemError{field + ".Lot", strconv.Quote(gr.Lot), "empty where the group is not begun"}
		case gr.Started && len(gr.Pieces) < 1:
			return &ProblemError{field + ".Pieces", "no pieces", "one or more"}
		case !gr.Started && len(gr.Pieces) < 2:
			return &ProblemError{field + ".Pieces", fmt.Sprintf("%d pieces", len(gr.Pieces)), "two or more"}
		}
		for k, i := range gr.Pieces {
			f := fmt.Sprintf("%s.Pieces[%d]", field, k)
			switch {
			case i < 0 || i >= len(p.Pieces):
				return badNumber(f, i, fmt.Sprintf("an index below %d", len(p.Pieces)))
			case in[i] > 0:
				return badNumber(f, i, fmt.Sprintf("a piece of its own, Rules.Groups[%d] has this one", in[i]-1))
			case !gr.Started && wanted(p, i) != wanted(p, gr.Pieces[0]):
				return badNumber(f, i, fmt.Sprintf("a piece with the quantity of the group's first, %d", wanted(p, gr.Pieces[0])))
			}
			in[i] = g + 1
		}
	}
	return nil
}

func validateGoals(p *Problem) error {
	for k, g := range p.Rules.Goals {
		field := fmt.Sprintf("Rules.Goals[%d]", k)
		switch {
		case g > GoalSplices:
			return &ProblemError{field, g.String(), "a goal that has a name"}
		case k == 0 && g != GoalCost:
			return &ProblemError{field, g.String(), GoalCost.String()}
		case slices.Contains(p.Rules.Goals[:k], g):
			return &ProblemError{field, g.String(), "each goal once"}
		case g == GoalOffcutValue && len(p.Rules.OffcutValues) == 0:
			return &ProblemError{field, g.String(), "steps in Rules.OffcutValues, which say what an offcut is worth"}
		}
	}
	return nil
}

// validateEnds looks at what counts where ends nest.
func validateEnds(p *Problem) error {
	if !p.Rules.Nest {
		return nil
	}
	for i := range p.Pieces {
		pc := &p.Pieces[i]
		field := fmt.Sprintf("Pieces[%d]", i)
		if pc.Symmetry > stock.SymmetryAll {
			return &ProblemError{field + ".Symmetry", pc.Symmetry.String(), "a symmetry that has a name"}
		}
		if err := validateShape(field, pc.Left, pc.Right, pc.Length, p.Kerf); err != nil {
			return err
		}
	}
	for i := range p.Runs {
		run := &p.Runs[i]
		field := fmt.Sprintf("Runs[%d]", i)
		if err := validateShape(field, run.Left, run.Right, run.Length, p.Kerf); err != nil {
			return err
		}
		scarf := stock.End{Kind: stock.EndScarfOver, Angle: run.Splice.Bevel}
		switch b := run.Splice.Bevel; {
		case b < 0 || b >= rightAngle:
			return &ProblemError{field + ".Splice.Bevel", b.String(), "zero (a square joint) or more and less than a right angle"}
		case b > 0 && p.Kerf <= lengthLimit && scarf.KerfAlong(p.Kerf) > lengthLimit:
			return &ProblemError{field + ".Splice.Bevel", b.String(), lessSteep()}
		}
	}
	return nil
}

// lessSteep says what an angle may be where the kerf along the stick would leave the
// range.
func lessSteep() string {
	return fmt.Sprintf("an angle closer to square, at which the kerf takes at most %v of the stick", lengthLimit.About())
}

// validateShape looks at the two ends of what is cut in one piece.
func validateShape(field string, left, right stock.End, length, kerf measure.Length) error {
	if err := cmp.Or(validateEnd(field+".Left", left, length, kerf), validateEnd(field+".Right", right, length, kerf)); err != nil {
		return err
	}
	if !cuttable(left, right, length) {
		return badLength(field+".Right.Setback", right.Setback,
			fmt.Sprintf("one that leaves something of the length, %v, beside the left end's Setback, %v, and no edge below zero", length.About(), left.Setback.About()))
	}
	return nil
}

func validateEnd(field string, e stock.End, length, kerf measure.Length) error {
	if _, err := e.Kind.MarshalText(); err != nil {
		return &ProblemError{field + ".Kind", e.Kind.String(), "a kind that has a name"}
	}
	if e.Setback < 0 || e.Setback > length {
		return badLength(field+".Setback", e.Setback, fmt.Sprintf("zero or more and at most the length, %v", length.About()))
	}
	if most := 2 * rightAngle; e.Kind.Mitered() || e.Kind.Spliced() || e.Kind == stock.EndButt {
		if e.Kind.Spliced() {
			most = rightAngle
		}
		if e.Angle < 0 || e.Angle >= most {
			return &ProblemError{field + ".Angle", e.Angle.String(), fmt.Sprintf("zero (the usual angle) or more and less than %v", most)}
		}
		if e.KerfAlong(kerf) > lengthLimit && kerf <= lengthLimit {
			return &ProblemError{field + ".Angle", e.Angle.String(), lessSteep()}
		}
	}
	return nil
}

// cuttable reports whether the cuts at the two ends do not cross and leave something
// between them. Where they lean away from each other, or in different planes, some edge is
// short by both Setbacks.
func cuttable(left, right stock.End, length measure.Length) bool {
	a, b := left.LongPoint(), right.LongPoint()
	l, r := max(left.Setback, 0), max(right.Setback, 0)
	if a == longNowhere {
		l = 0
	}
	if b == longNowhere {
		r = 0
	}
	if a == longBack && b == longFace || a == longFace && b == longBack {
		return max(l, r) <= length && min(l, r) < length
	}
	return l <= length-r
}

// validatePairs reports rules that do not go together.
func validatePairs(p *Problem) error {
	r := &p.Rules
	for i := range p.Sticks {
		s := &p.Sticks[i]
		yard := r.MaxTransport > 0 && !s.Rack && s.Length > r.MaxTransport
		if yard {
			without := func(what string) error {
				return badLength(fmt.Sprintf("Sticks[%d].Length", i), s.Length, fmt.Sprintf("at most Rules.Transport, %v: a stick that is cut in the yard does not go with %s", r.MaxTransport.About(), what))
			}
			switch {
			case len(s.Defects) > 0:
				return without("Defects")
			case r.Nest:
				return without("Rules.Nest")
			case r.MaxTransport <= s.TrimStart || r.MaxTransport <= s.TrimEnd:
				return badLength("Rules.MaxTransport", r.MaxTransport, fmt.Sprintf("more than the ends of Sticks[%d] that cannot be used", i))
			}
			for _, g := range r.Goals {
				if g == GoalOffcutValue || g == GoalCuts {
					return without("the goal " + g.String())
				}
			}
		}
	}
	return nil
}
