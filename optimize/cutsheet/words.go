package cutsheet

import (
	"math/bits"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// head names the job of the sheet, its date and revision, and the plan.
func (s *Sheet) head() string {
	return strings.TrimPrefix(s.about()+"; fingerprint "+s.fingerprint, "; ")
}

// about names the job of the sheet, its date and its revision.
func (s *Sheet) about() string {
	o := &s.options
	var parts []string
	for _, text := range [...]string{o.Job, o.Date} {
		if text != "" {
			parts = append(parts, text)
		}
	}
	if o.Revision != "" {
		parts = append(parts, "revision "+o.Revision)
	}
	return strings.Join(parts, "; ")
}

// summary is the job in one line.
func (s *Sheet) summary() string {
	var parts []string
	switch t := &s.sum; {
	case t.owned == 0:
		parts = append(parts, s.plural(t.bought, "stick")+" to buy")
	case t.bought == 0:
		parts = append(parts, s.plural(t.owned, "stick")+" off the rack, nothing to buy")
	default:
		parts = append(parts, s.plural(t.bought, "stick")+" to buy", s.plural(t.owned, "stick")+" off the rack")
	}
	parts = append(parts, s.plural(s.sum.pieces, "piece")+" to cut")
	return strings.Join(append(parts, s.costName()+" "+s.cost(s.plan.Cost)), "; ")
}

func (s *Sheet) costName() string {
	if s.priced() {
		return "cost"
	}
	return "total length"
}

// yield describes the use of the material.
func (s *Sheet) yield() string {
	share, ok := s.sum.share()
	if !ok {
		return ""
	}
	text := "The pieces use " + s.percent(uint64(share)) + " of the stock."
	if s.sum.whole > 0 {
		text = strings.Replace(text, "the stock", "the sticks that are cut", 1)
	}
	switch {
	case len(s.offcuts) == 1 && s.offcuts[0].count == 1:
		text += " The offcut to keep is " + s.length(s.offcuts[0].length) + "."
	case s.sum.left > 0:
		text += " Offcuts to keep total " + s.length(s.sum.left) + "; the longest is " + s.length(s.offcuts[0].length) + "."
	}
	return text
}

// wasted describes the offcuts that are too short to keep, or returns nothing.
func (s *Sheet) wasted() string {
	if s.scrap.count == 0 {
		return ""
	}
	text := "Waste, shorter than " + s.length(s.keep) + ": " + s.plural(s.scrap.count, "piece")
	if !s.sum.huge {
		text += ", " + s.length(s.scrap.length) + " in all"
	}
	return text + "."
}

// proofLine says in one line how good the plan is known to be: no more than proof does, and
// without a bound that carries no information.
func (s *Sheet) proofLine() string {
	p := s.plan
	less := "no plan " + s.lessThan(p.Cost)
	if s.ruled() {
		less = "no plan that keeps the rules of this job " + s.lessThan(p.Cost)
	}
	omitted := p.Proof.Kind() == optimize.ProofOmitted
	shown, complete := s.report.Bound()
	switch {
	case omitted && p.Cost == p.Bound:
		return "Claimed, not shown: " + less + "; the proof was left out."
	case p.Proven && complete:
		return "Proven: " + less + "; a separate check confirms it."
	case p.Proven && shown > 0:
		return "Proven by the search: " + less + "; a separate check confirms that none " + s.lessThan(shown) + "."
	case p.Proven:
		return "Proven by the search alone: " + less + "."
	case p.Bound > 0 && omitted:
		return "Not proven: at most " + s.cost(p.Cost-p.Bound) + " (" + s.gap() + ") could be saved, as is claimed; the proof was left out."
	case p.Bound > 0:
		return "Not proven: at most " + s.cost(p.Cost-p.Bound) + " (" + s.gap() + ") could be saved."
	}
	return "Not proven: a better plan may exist."
}

// proof says in plain words how good the plan is known to be, and by which evidence.
func (s *Sheet) proof() string {
	p := s.plan
	less := s.lessThan(p.Bound)
	checked := "A separate check, which shares nothing with the search, confirms it."
	omitted := p.Proof.Kind() == optimize.ProofOmitted
	shown, complete := s.report.Bound()
	switch {
	case omitted:
		checked = "The proof was left out, so a separate check could not confirm it."
	case complete:
	case shown > 0 && s.ruled():
		checked = "A separate check, which shares nothing with the search, confirms that no plan " + s.lessThan(shown) +
			"; the rest relies on the search, which tried every case in between that the rules allow."
	case shown > 0:
		checked = "A separate check, which shares nothing with the search, confirms that no plan " + s.lessThan(shown) +
			"; for the range in between this relies on the search alone."
	default:
		checked = "This rests on the search alone; a separate check could not confirm it."
	}
	if p.Proven || omitted && p.Cost == p.Bound {
		claim := "Proven"
		if omitted {
			claim = "Claimed, not shown"
		}
		if s.ruled() {
			return claim + ": no plan that keeps the rules of this job " + less + ". " + checked
		}
		return claim + ": no way to cut these pieces from these sticks " + less + ". " + checked
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

// goals returns a line with the result for each goal of the job.
func (s *Sheet) goals() []string {
	var lines []string
	for k := range s.plan.Goals {
		l := &s.plan.Goals[k]
		more := l.Goal == optimize.GoalOffcutValue || l.Goal == optimize.GoalLongestOffcut
		text := l.Goal.String() + ": " + s.reached(l.Goal, l.Value) + "; "
		switch {
		case l.Proven:
			text += "proven"
		case l.Value == l.Bound:
			text += "no plan as good in the earlier goals does better, but one of those is not proven"
		case !more && l.Bound <= 0: // a bound without information
			text += "not proven"
		case more:
			text += "not proven, up to " + s.reached(l.Goal, l.Bound) + " may be possible"
		default:
			text += "not proven, down to " + s.reached(l.Goal, l.Bound) + " may be possible"
		}
		lines = append(lines, strconv.Itoa(k+1)+". "+text)
	}
	return lines
}

// unshown names the claims about goals that a check does not verify.
func (s *Sheet) unshown() string {
	var open []string
	after := 0
	for k := range s.plan.Goals {
		g := s.plan.Goals[k].Goal.String()
		if k > 0 {
			after++
		}
		if slices.ContainsFunc(s.report.Open(), func(what string) bool { return strings.HasSuffix(what, "of the goal "+g) }) {
			open = append(open, g)
		}
	}
	if len(open) == 0 {
		return ""
	}
	of := "those after the cost"
	if len(open) < after {
		of = strings.Join(open, ", ")
	}
	return "What the plan reaches of each goal is checked; that no plan does better by " + of + " rests on the search alone."
}

const goalsNote = "Goals of the plan, each among the plans that are as good in the earlier ones:"

// reached writes a result in the unit of its goal.
func (s *Sheet) reached(g optimize.Goal, v int64) string {
	switch g {
	case optimize.GoalCost:
		return s.cost(v)
	case optimize.GoalOffcutValue:
		return s.money(v)
	case optimize.GoalLongestOffcut:
		return s.length(measure.Length(v))
	}
	return s.count(v)
}

// together lists the groups of pieces, a line for each.
func (s *Sheet) together() []string {
	var lines []string
	for k := range s.problem.Rules.Groups {
		g := &s.problem.Rules.Groups[k]
		names := make([]string, len(g.Pieces))
		for i, n := range g.Pieces {
			names[i] = s.pieceName(n)
		}
		how := "From one stick: "
		switch g.Kind {
		case optimize.GroupInSequence:
			how = "Side by side from one stick, in this order: "
		case optimize.GroupOneLot:
			how = "From sticks of one lot: "
			switch {
			case g.Started && g.Lot != "":
				how = "From sticks of lot " + g.Lot + ", like what is cut already: "
			case g.Started:
				how = "From sticks of no named lot, like what is cut already: "
			}
		}
		lines = append(lines, how+list(names)+".")
	}
	return lines
}

func (s *Sheet) lessThan(bound int64) string {
	if s.priced() {
		return "costs less than " + s.cost(bound)
	}
	return "takes less stock than " + s.cost(bound)
}

// gap returns the largest possible saving in percent of the cost, rounded up to a tenth.
func (s *Sheet) gap() string {
	if s.plan.Cost <= 0 {
		return s.percent(0)
	}
	hi, lo := bits.Mul64(uint64(s.plan.Cost-s.plan.Bound), 1000)
	q, rest := bits.Div64(hi, lo, uint64(s.plan.Cost)) // the quotient is at most 1000
	if rest > 0 {
		q++
	}
	return s.percent(q)
}

func stopped(stop optimize.Stop) string {
	switch stop {
	case optimize.StopWork:
		return "reached its work limit"
	case optimize.StopDeadline:
		return "ran out of time"
	case optimize.StopCanceled:
		return "was stopped early"
	case optimize.StopExhausted:
		return "tried every method that it has"
	}
	return ""
}

// stickName describes a stick.
func (s *Sheet) stickName(i int) string {
	st := &s.problem.Sticks[i]
	text := s.length(soldAs(st))
	if label := s.stickLabel(st); label != "" {
		text += ", " + label
	}
	if st.Rack {
		text += ", off the rack"
		if st.ID != "" {
			text += " as " + st.ID
		}
	}
	return text
}

// stickLabel returns the label of a stick without its length, which labels often repeat, or
// nothing.
func (s *Sheet) stickLabel(st *stock.Stick) string {
	if st.Label == typeset.Unmarked(s.length(soldAs(st))) {
		return ""
	}
	return st.Label
}

// remarks returns further notes about a stick, or nothing.
func (s *Sheet) remarks(i int) string {
	st := &s.problem.Sticks[i]
	var parts []string
	if st.Nominal != 0 && st.Nominal != st.Length {
		parts = append(parts, "counted as "+s.length(st.Length))
	}
	switch {
	case st.TrimStart > 0 && st.TrimStart == st.TrimEnd:
		parts = append(parts, "trim "+s.length(st.TrimStart)+" off each end")
	case st.TrimStart > 0 && st.TrimEnd > 0:
		parts = append(parts, "trim "+s.length(st.TrimStart)+" off the start and "+s.length(st.TrimEnd)+" off the end")
	case st.TrimStart > 0:
		parts = append(parts, "trim "+s.length(st.TrimStart)+" off the start")
	case st.TrimEnd > 0:
		parts = append(parts, "trim "+s.length(st.TrimEnd)+" off the end")
	}
	if st.Lot != "" {
		parts = append(parts, "lot "+st.Lot)
	}
	if st.Grade != 0 {
		parts = append(parts, "grade "+strconv.Itoa(st.Grade))
	}
	if n := len(st.Defects); n > 0 {
		const most = 8
		var spans []string
		for _, d := range st.Defects[:min(n, most)] {
			spans = append(spans, s.span(d))
		}
		if n > most {
			spans = append(spans, s.count(int64(n-most))+" more places")
		}
		parts = append(parts, "cannot be used "+list(spans))
	}
	return strings.Join(parts, "; ")
}

// span writes a stretch of a stick.
func (s *Sheet) span(x stock.Defect) string {
	return "from " + s.length(x.From) + " to " + s.length(x.To)
}

// bayName names one of several parts of a stick.
func (s *Sheet) bayName(p *pattern, n int) string {
	b := &p.bays[n]
	if p.yard.To > 0 {
		if n == 0 {
			return "before the yard's cut, " + s.length(b.carried) + " to carry"
		}
		return "after the yard's cut, " + s.length(b.carried) + " to carry"
	}
	return "clear stretch " + strconv.Itoa(n+1) + ", " + s.span(b.Defect)
}

// yardCut describes where the yard cuts the sticks of a pattern, or returns nothing.
func (s *Sheet) yardCut(p *pattern) string {
	if p.yard.To == 0 {
		return ""
	}
	text := "The yard cuts it at " + s.length(p.yard.From) + " from the start"
	switch n := p.YardAfter; {
	case n == 0:
		return text + ", before the first piece."
	case n == len(p.Pieces):
		return text + ", after the last piece."
	case n == 1:
		return text + ", after the first piece."
	default:
		return text + ", after the first " + s.count(int64(n)) + " pieces."
	}
}

// lies describes how a turned piece lies.
func lies(t optimize.Turn) string {
	if t == (optimize.Turn{}) {
		return ""
	}
	return t.String()
}

// only describes the work on the i-th piece besides its cuts, and that the piece therefore fits
// only its own place; it is empty if there is none. n is the number of such pieces.
func (s *Sheet) only(i int, n int64) string {
	var notes []string
	said := s.piece(i).Notes
	if n := len(s.problem.Pieces); i >= n {
		said = s.partNotes[i-n]
	}
	for _, note := range said {
		if note = strings.TrimSpace(note); note != "" {
			notes = append(notes, note)
		}
	}
	switch {
	case notes == nil:
		return ""
	case n == 1:
		return onlyThis + strings.Join(notes, "; ")
	}
	return onlyThese + strings.Join(notes, "; ")
}

const (
	onlyThis  = "only this piece: "
	onlyThese = "only these pieces: "
)

// cutWords describes the ends of a cut, how it lies and its cautions, or returns nothing.
func (s *Sheet) cutWords(c *cut) string {
	words := slices.DeleteFunc([]string{s.ends(s.piece(c.piece)), lies(c.turn), s.careWords(c)}, func(w string) bool { return w == "" })
	return strings.Join(words, "; ")
}

// careWords returns the cautions of a cut: a short remnant, an assumed stud, a room that waits;
// or nothing.
func (s *Sheet) careWords(c *cut) string {
	words := slices.DeleteFunc([]string{s.remnantNote(c), s.assumedWords(c.piece), s.waitWords(c)}, func(w string) bool { return w == "" })
	return strings.Join(words, "; ")
}

// assumedWords returns the note for a part spliced over an assumed stud, or nothing.
func (s *Sheet) assumedWords(i int) string {
	if n := len(s.problem.Pieces); i < n && !s.piece(i).Assumed ||
		i >= n && (s.piece(i).Parts < 2 || !s.assumed(s.runOf(i))) {
		return ""
	}
	return "spliced on an assumed stud: find it first"
}

// basis explains the lengths.
func (s *Sheet) basis() string {
	var b strings.Builder
	if p := s.options.Profile; p != nil && p.Name != "" {
		b.WriteString("Profile: " + p.Name + ". ")
	}
	if s.problem.Kerf > 0 {
		b.WriteString("Kerf " + s.length(s.problem.Kerf) + ". ")
	} else {
		b.WriteString("No kerf. ")
	}
	if s.problem.Rules.Nest {
		b.WriteString("Neighbors whose ends are parallel share one cut. ")
	}
	b.WriteString("Lengths are from long point to long point, " + s.rounding() + ".")
	if s.inexact() {
		b.WriteString(" A + after a length means a hair over the mark, a - a hair under.")
	}
	return b.String()
}

func (s *Sheet) rounding() string {
	exact := s.style
	exact.Graduation, exact.MarkInexact = 0, false
	grain := typeset.Unbroken(s.style.Graduation.Format(exact))
	switch {
	case s.style.Graduation <= 0:
		return "exactly"
	case s.style.Rounding == measure.RoundDown:
		return "rounded down to " + grain
	case s.style.Rounding == measure.RoundUp:
		return "rounded up to " + grain
	}
	return "to the nearest " + grain
}

// turnNote explains patterns with turned pieces; it is empty if there are none.
func (s *Sheet) turnNote() string {
	if !s.sum.turned {
		return ""
	}
	return "A piece turned end for end, or turned and rolled, has its left end at the right; a piece rolled over has its back up."
}

// settingsNote explains the saw settings.
func (s *Sheet) settingsNote() string {
	head := "Upright"
	if s.upright() == "nested" {
		head = "Nested"
	}
	text := "Miter and bevel are the readings of the saw's two scales, 0 for a square cut, to the nearest " + s.options.Locale.FormatAngle(s.options.graduation())
	if s.inexactAngle() {
		text += " (+ a hair over the mark, - a hair under)"
	}
	text += ". In the lists the angle beside an end is the miter for a piece cut " + s.upright() + " or, at a flat miter, flat. Miter left: swing the saw to the left; keep left: your piece is on the left of the blade. " + head + ": back against the fence, as on the wall"
	if slices.ContainsFunc(s.settings, func(t setting) bool { return t.kind.Raked() && t.flat.Bevel == 0 }) {
		text = strings.Replace(text, "at a flat miter,", "at a flat miter or a cut for a slope,", 1)
	}
	if s.sum.turned {
		text = strings.Replace(text, ". "+head+":", ". That is for a piece that is not turned; cut a turned one as the drawing shows. "+head+":", 1)
	}
	if s.options.Profile == nil {
		return text + ". Flat: back on the table. Do not use these settings for crown: they need its profile."
	}
	if s.options.Profile.Role.Sprung() {
		text += ", but upside down, at the spring angle of " + s.angle(s.options.Profile.SpringAngle())
	}
	return text + ". Flat: back on the table."
}

// caution is printed on every sheet for the saw.
const caution = "Saws cause serious injuries. Follow the saw's manual, keep the guards on and your hands out of the path of the blade, " +
	"wear eye and hearing protection, and do not breathe the dust. Cut a piece too short to hold against the fence off the end of a " +
	"longer one, and let the blade stop before you take it away. Local codes and licensed professionals take precedence over this sheet."

// orderNote explains how to read a pattern.
const orderNote = "Cut in numbered order from the start of the stick, and measure each piece from the last cut."

// ruled reports whether the job has runs or rules.
func (s *Sheet) ruled() bool {
	p := &s.problem
	r := &p.Rules
	if len(p.Runs) > 0 || r.MaxPieces != 0 || r.MinHold != 0 || r.Nest || r.MaxTransport != 0 || r.YardCut != 0 || len(r.Groups) > 0 ||
		len(r.Charges) > 0 || r.Spare != 0 || len(r.OffcutValues) > 0 || len(r.Goals) > 0 {
		return true
	}
	for i := range p.Sticks {
		if st := &p.Sticks[i]; len(st.Defects) > 0 || st.Bundle > 1 || st.Minimum > 1 || len(st.Breaks) > 0 {
			return true
		}
	}
	return slices.ContainsFunc(p.Pieces, func(pc stock.Piece) bool { return pc.Grade != 0 })
}
