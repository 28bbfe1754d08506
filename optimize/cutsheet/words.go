package cutsheet

import (
	"math/bits"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// plural returns the count with its noun.
func plural(n int64, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return count(n) + " " + noun + "s"
}

// summary is the job in one line.
func (s *Sheet) summary() string {
	var parts []string
	switch t := &s.sum; {
	case t.owned == 0:
		parts = append(parts, plural(t.bought, "stick")+" to buy")
	case t.bought == 0:
		parts = append(parts, plural(t.owned, "stick")+" off the rack, nothing to buy")
	default:
		parts = append(parts, plural(t.bought, "stick")+" to buy", plural(t.owned, "stick")+" off the rack")
	}
	parts = append(parts, plural(s.sum.pieces, "piece")+" to cut")
	return strings.Join(append(parts, s.costName()+" "+s.cost(s.plan.Cost)), "; ")
}

func (s *Sheet) costName() string {
	if s.priced() {
		return "cost"
	}
	return "total length"
}

// yield says where the material goes.
func (s *Sheet) yield() string {
	share, ok := s.sum.share()
	if !ok {
		return ""
	}
	text := "Pieces take up " + strconv.FormatInt(share/10, 10) + "." + strconv.FormatInt(share%10, 10) + "% of the material."
	if s.sum.left > 0 {
		text += " Offcuts hold " + s.length(s.sum.left) + "; the longest is " + s.length(s.offcuts[0].length) + "."
	}
	return text
}

// proof says in plain words how good the plan is known to be, and how.
func (s *Sheet) proof() string {
	p := s.plan
	less := s.lessThan(p.Bound)
	checked := "A separate check, which shares nothing with the search, confirms it."
	switch {
	case len(s.audit.Open) == 0:
	case s.audit.Bound > 0:
		checked = "A separate check, which shares nothing with the search, confirms that no plan " + s.lessThan(s.audit.Bound) +
			"; that there is none between the two rests on the search alone."
	default:
		checked = "This rests on the search alone; a separate check could not confirm it."
	}
	if p.Proven {
		return "Proven: no way to cut these pieces from these sticks " + less + ". " + checked
	}
	text := "Not proven: a better plan may exist."
	if p.Bound > 0 {
		text += " No plan " + less + ", so at most " + s.cost(p.Cost-p.Bound) + " could be saved (" + s.gap() + ")."
	}
	if why := stopped(p.Stop); why != "" {
		text += " The search " + why + "."
	}
	if p.Bound > 0 {
		text += " " + checked
	}
	return text
}

func (s *Sheet) lessThan(bound int64) string {
	if s.priced() {
		return "costs less than " + s.cost(bound)
	}
	return "takes less stock than " + s.cost(bound)
}

// gap is what could be saved at most in percent of the cost, rounded up to a
// tenth.
func (s *Sheet) gap() string {
	if s.plan.Cost <= 0 {
		return "0.0%"
	}
	hi, lo := bits.Mul64(uint64(s.plan.Cost-s.plan.Bound), 1000)
	q, rest := bits.Div64(hi, lo, uint64(s.plan.Cost)) // the quotient is at most 1000
	if rest > 0 {
		q++
	}
	return strconv.FormatUint(q/10, 10) + "." + strconv.FormatUint(q%10, 10) + "%"
}

func stopped(stop optimize.Stop) string {
	switch stop {
	case optimize.StopWork:
		return "used up the work that it was allowed"
	case optimize.StopDeadline:
		return "ran out of time"
	case optimize.StopCanceled:
		return "was stopped early"
	case optimize.StopStuck:
		return "tried everything that it knows"
	}
	return ""
}

// stickName describes a stick.
func (s *Sheet) stickName(i int) string {
	st := &s.problem.Sticks[i]
	text := s.length(soldAs(st))
	if st.Label != "" {
		text += ", " + st.Label
	}
	if st.Rack {
		text += ", off the rack"
	}
	return text
}

// remarks says what else is to know about a stick, or nothing.
func (s *Sheet) remarks(i int) string {
	st := &s.problem.Sticks[i]
	var parts []string
	if st.Nominal != 0 && st.Nominal != st.Length {
		parts = append(parts, "counted on as "+s.length(st.Length))
	}
	switch {
	case st.TrimStart > 0 && st.TrimStart == st.TrimEnd:
		parts = append(parts, "square "+s.length(st.TrimStart)+" off each end")
	case st.TrimStart > 0 && st.TrimEnd > 0:
		parts = append(parts, "square "+s.length(st.TrimStart)+" off the start and "+s.length(st.TrimEnd)+" off the end")
	case st.TrimStart > 0:
		parts = append(parts, "square "+s.length(st.TrimStart)+" off the start")
	case st.TrimEnd > 0:
		parts = append(parts, "square "+s.length(st.TrimEnd)+" off the end")
	}
	return strings.Join(parts, "; ")
}

// basis says what the lengths mean.
func (s *Sheet) basis() string {
	var b strings.Builder
	if p := s.options.Profile; p != nil && p.Name != "" {
		b.WriteString("Profile: " + p.Name + ". ")
	}
	if s.problem.Kerf > 0 {
		b.WriteString("A saw cut takes " + s.length(s.problem.Kerf) + ". ")
	} else {
		b.WriteString("A saw cut takes nothing. ")
	}
	b.WriteString("Lengths are from long point to long point, " + s.rounding() + ".")
	if s.inexact() {
		b.WriteString(" A + behind a length means a hair over the mark, a - a hair under.")
	}
	return b.String()
}

func (s *Sheet) rounding() string {
	exact := s.style
	exact.Grain, exact.Residue = 0, false
	grain := s.style.Grain.Format(exact)
	switch {
	case s.style.Grain <= 0:
		return "exactly"
	case s.style.Rounding == measure.Down:
		return "rounded down to " + grain
	case s.style.Rounding == measure.Up:
		return "rounded up to " + grain
	}
	return "to the nearest " + grain
}

// settingsNote goes with the saw settings.
func (s *Sheet) settingsNote() string {
	text := "Angles are counted from the square cut, to the nearest " + s.options.graduation().String()
	if s.inexactAngle() {
		text += " (+ a hair over the mark, - a hair under)"
	}
	text += ". Standing: the back against the fence as on the wall"
	if s.options.Profile == nil {
		return text + ". Flat: the back on the table. For crown these settings are wrong; it needs its profile."
	}
	if s.options.Profile.Use == stock.Crown {
		text += ", but upside down, at the spring angle of " + s.angle(s.options.Profile.SpringAngle())
	}
	return text + ". Flat: the back on the table."
}

// caution is printed on every sheet that somebody takes to the saw.
const caution = "Saws injure. Follow the manual of the saw, keep the guards on and your hands out of the path of the blade, " +
	"wear eye and hearing protection, and breathe no dust. A piece too short to hold against the fence is cut from the end of a " +
	"longer one: let the blade stop before you take it away. Local codes and licensed people go before anything on this sheet."

// orderNote says how a pattern is to be read.
const orderNote = "Cut in the order of the numbers, from the start of the stick, and measure every piece anew from the last cut."
