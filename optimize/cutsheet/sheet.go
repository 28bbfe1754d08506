package cutsheet

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Sheet is a plan ready to be written. It keeps the problem and the plan that were passed to
// New, which must not be changed while it is in use. Its methods may be called concurrently.
type Sheet struct {
	problem optimize.Problem
	plan    *optimize.Plan
	options Options
	style   measure.Style

	report     *optimize.Report
	lines      []line                 // the sticks, in the order of the problem
	bill       []charge               // costs other than sticks to buy
	patterns   []pattern              // in the order of the plan
	offcutAt   map[measure.Length]int // index in offcuts of a length, until they are sorted
	longestCut measure.Length         // the longest stick that is cut
	settings   []setting
	keep       measure.Length // the shortest offcut to keep
	offcuts    []offcut       // those to keep, longest first
	scrap      scrap
	sum        totals
	waits      []waiting  // rooms that wait
	partNotes  [][]string // notes of the parts of runs; the plan may lack them

	fingerprint string
}

// orEmpty returns s or, in place of nil and the zero value, a sheet of a plan without sticks.
func (s *Sheet) orEmpty() *Sheet {
	if s == nil || s.plan == nil {
		return &Sheet{plan: new(optimize.Plan), report: new(optimize.Report)}
	}
	return s
}

// pattern is a pattern of the plan with its pieces gathered.
type pattern struct {
	*optimize.Pattern
	layout
	key  string // A, B, ... Z, AA, ...
	wait bool   // one of its pieces is for a room that waits
	cuts []cut
}

// cut is a number of equal consecutive pieces that lie alike.
type cut struct {
	piece int // as in Pattern.Pieces
	n     int // on each stick
	at    int // index of the first in Pattern.Pieces
	bay   int
	turn  optimize.Turn
	short shortCuts
	wait  bool // its room waits
}

// total returns the number of pieces of a cut on all the sticks.
func (p *pattern) total(c *cut) int64 { return int64(c.n) * int64(p.Count) }

// offcut is the offcuts of one length.
type offcut struct {
	length measure.Length
	count  int64
	from   []string // keys of patterns
}

// scrap is the offcuts that are too short to keep.
type scrap struct {
	count  int64
	length measure.Length
}

type totals struct {
	bought, owned, whole, pieces int64
	used, stock, left            measure.Length // in the pieces, in the sticks that are cut, in the offcuts
	huge                         bool           // the lengths are out of the range of Length
	turned, shared               bool           // a piece is turned, or shares its cut
}

// New makes a sheet of a plan. It first checks the plan by [optimize.Audit], so a sheet never
// lacks a piece and never claims more than its plan proves. Nil options mean the zero value. If
// the context ends first, New returns its cause; a nil context never ends.
//
// The errors are a [*measure.FieldError] for each text that is not UTF-8 and each invalid
// option (options.profile.width), joined; if there are none, those of Audit, and one for an end
// with an invalid kind or angle.
func New(ctx context.Context, p optimize.Problem, plan *optimize.Plan, o *Options) (*Sheet, error) {
	s := &Sheet{problem: p, plan: plan}
	if o != nil {
		s.options = *o
	}
	if err := errors.Join(checkTexts(&p), s.options.check()); err != nil {
		return nil, err
	}
	s.style = s.options.style()
	s.keep = s.options.keep(&p.Rules)
	var err error
	if s.report, err = optimize.Audit(ctx, p, plan); err != nil {
		return nil, err
	}
	if s.settings, err = settings(ctx, &p, plan, &s.options); err != nil {
		return nil, err
	}
	if err := s.gather(ctx); err != nil {
		return nil, err
	}
	for k := range plan.Spliced {
		parts, err := p.Runs[k].Pieces(plan.Spliced[k].At)
		if err != nil {
			return nil, err // Audit has checked them
		}
		for i := range parts {
			s.partNotes = append(s.partNotes, parts[i].Notes)
		}
	}
	s.wait()
	s.fingerprint = fingerprint(&s.problem, s.plan)
	return s, nil
}

// checkTexts reports every text of a problem that is not UTF-8, at most 100.
func checkTexts(p *optimize.Problem) error {
	var faults []error
	check := func(field, text string) {
		if err := checkText(field, text); err != nil && len(faults) < 100 {
			faults = append(faults, err)
		}
	}
	for i := range p.Sticks {
		st := &p.Sticks[i]
		for _, f := range [...]struct{ name, text string }{{"id", st.ID}, {"label", st.Label}, {"profile", st.Profile}, {"lot", st.Lot}, {"supplier", st.Supplier}} {
			check(fmt.Sprintf("sticks[%d].%s", i, f.name), f.text)
		}
	}
	for i := range p.Pieces {
		pc := &p.Pieces[i]
		for _, f := range [...]struct{ name, text string }{{"label", pc.Label}, {"profile", pc.Profile}, {"run", pc.Run}, {"room", pc.Room}, {"wall", pc.Wall}} {
			check(fmt.Sprintf("pieces[%d].%s", i, f.name), f.text)
		}
		for k := range pc.Allowances {
			check(fmt.Sprintf("pieces[%d].allowances[%d].name", i, k), pc.Allowances[k].Name)
		}
		for k := range pc.Notes {
			check(fmt.Sprintf("pieces[%d].notes[%d]", i, k), pc.Notes[k])
		}
	}
	for k := range p.Runs {
		r := &p.Runs[k]
		for _, f := range [...]struct{ name, text string }{{"label", r.Label}, {"profile", r.Profile}, {"room", r.Room}, {"wall", r.Wall}} {
			check(fmt.Sprintf("runs[%d].%s", k, f.name), f.text)
		}
		for i := range r.Notes {
			check(fmt.Sprintf("runs[%d].notes[%d].text", k, i), r.Notes[i].Text)
		}
		for i := range r.Allowances {
			check(fmt.Sprintf("runs[%d].allowances[%d].name", k, i), r.Allowances[i].Name)
		}
	}
	for k := range p.Rules.Groups {
		check(fmt.Sprintf("rules.groups[%d].lot", k), p.Rules.Groups[k].Lot)
	}
	for k := range p.Rules.Charges {
		check(fmt.Sprintf("rules.charges[%d].supplier", k), p.Rules.Charges[k].Supplier)
	}
	return errors.Join(faults...)
}

// gather computes the values that several outputs share.
func (s *Sheet) gather(ctx context.Context) error {
	used := make([]int64, len(s.problem.Sticks))
	t := &s.sum
	looked := 0
	s.offcutAt = make(map[measure.Length]int)
	for k := range s.plan.Patterns {
		if looked += 1 + len(s.plan.Patterns[k].Pieces); k == 0 || looked >= lookEvery {
			looked = 0
			if err := ended(ctx); err != nil {
				return err
			}
		}
		pat := pattern{Pattern: &s.plan.Patterns[k], key: key(k)}
		pat.layout = s.layout(pat.Pattern)
		for n := range pat.bays {
			b := &pat.bays[n]
			for j := b.first; j < b.end; j++ {
				i, p := pat.Pieces[j], &pat.layout.pieces[j]
				if last := len(pat.cuts) - 1; j > b.first && pat.cuts[last].piece == i && pat.cuts[last].turn == p.turn {
					pat.cuts[last].n++
				} else {
					pat.cuts = append(pat.cuts, cut{piece: i, n: 1, at: j, bay: n, turn: p.turn})
				}
				length := p.to - p.from
				if p.shared {
					length -= p.left.Setback // which the neighbor has too
				}
				t.add(&t.used, length, pat.Count)
				t.turned = t.turned || p.turn != optimize.Turn{}
				t.shared = t.shared || p.shared
			}
			s.leave(&pat, width(b.offcut))
		}
		for k := range pat.cuts {
			pat.cuts[k].short = s.short(&pat, &pat.cuts[k])
		}
		s.patterns = append(s.patterns, pat)
		s.longestCut = max(s.longestCut, s.problem.Sticks[pat.Stick].Length)
		used[pat.Stick] += int64(pat.Count)
		t.pieces += int64(pat.Count) * int64(len(pat.Pieces))
		t.add(&t.stock, s.problem.Sticks[pat.Stick].Length, pat.Count)
	}
	slices.SortFunc(s.offcuts, func(a, b offcut) int { return cmp.Compare(b.length, a.length) })
	s.purchases(used)
	for _, l := range s.lines {
		if s.problem.Sticks[l.stick].Rack {
			t.owned += l.count
		} else {
			t.bought += l.count
		}
		t.whole += l.count - l.cut
	}
	return nil
}

// lookEvery is the number of pieces laid out between two checks of the context: some
// milliseconds.
const lookEvery = 1 << 12

// ended returns the cause of the context's end, or nil.
func ended(ctx context.Context) error {
	if ctx == nil || ctx.Err() == nil {
		return nil
	}
	return cmp.Or(context.Cause(ctx), ctx.Err())
}

// leave counts the offcuts of a pattern in one place of each stick.
func (s *Sheet) leave(pat *pattern, length measure.Length) {
	if length <= 0 {
		return
	}
	if length < s.keep {
		s.scrap.count += int64(pat.Count)
		s.sum.add(&s.scrap.length, length, pat.Count)
		return
	}
	s.sum.add(&s.sum.left, length, pat.Count)
	at, known := s.offcutAt[length]
	if !known {
		at = len(s.offcuts)
		s.offcutAt[length] = at
		s.offcuts = append(s.offcuts, offcut{length: length})
	}
	o := &s.offcuts[at]
	o.count += int64(pat.Count)
	if last := len(o.from) - 1; last < 0 || o.from[last] != pat.key {
		o.from = append(o.from, pat.key)
	}
}

// rest returns the name of a stretch left of a stick.
func (s *Sheet) rest(l measure.Length) string {
	if l < s.keep {
		return "waste"
	}
	return "offcut"
}

// add adds n times l to sum, or sets huge on overflow.
func (t *totals) add(sum *measure.Length, l measure.Length, n int) {
	product, err := l.Mul(int64(n))
	if err == nil {
		product, err = sum.Add(product)
	}
	if err != nil {
		t.huge = true
		return
	}
	*sum = product
}

// share returns used in thousandths of stock, rounded down.
func (t *totals) share() (int64, bool) {
	if t.huge || t.stock <= 0 {
		return 0, false
	}
	q, _, err := t.used.MulDiv(1000, int64(t.stock), measure.RoundDown)
	return int64(q), err == nil
}

// key returns the key of the k-th pattern: A to Z, then AA, AB and so on.
func key(k int) string {
	s := ""
	for k++; k > 0; k = (k - 1) / 26 {
		s = string(rune('A'+(k-1)%26)) + s
	}
	return s
}

func (s *Sheet) title() string {
	if s.options.Title != "" {
		return s.options.Title
	}
	return defaultTitle
}

// length writes a length for people, unbroken.
func (s *Sheet) length(l measure.Length) string { return typeset.Unbroken(l.Format(s.style)) }

// soldAs returns the length as it is sold.
func soldAs(st *stock.Stick) measure.Length {
	if st.Nominal != 0 {
		return st.Nominal
	}
	return st.Length
}

// piece returns a piece by its number in Pattern.Pieces, where the parts of runs
// follow the pieces of the problem.
func (s *Sheet) piece(i int) *stock.Piece {
	if n := len(s.problem.Pieces); i >= n {
		return &s.plan.Parts[i-n]
	}
	return &s.problem.Pieces[i]
}

// pieceName returns the name of the i-th piece.
func (s *Sheet) pieceName(i int) string {
	pc := s.piece(i)
	switch {
	case i < len(s.problem.Pieces) && pc.Label == "":
		return "piece " + strconv.Itoa(i+1)
	case i >= len(s.problem.Pieces) && pc.Run == "":
		if part := strings.TrimSpace(pc.Label); part != "" {
			return s.runName(s.runOf(i)) + " part " + part
		}
		return s.runName(s.runOf(i))
	}
	return pc.Label
}

// priced reports whether the cost is money.
func (s *Sheet) priced() bool { return !s.plan.ByLength }

// cost writes an amount in the unit of the plan's cost.
func (s *Sheet) cost(n int64) string {
	if s.priced() {
		return s.money(n)
	}
	return s.length(measure.Length(n))
}

// inexact reports whether any length on the sheet is marked with + or -.
func (s *Sheet) inexact() bool {
	off := func(l measure.Length) bool { return l != l.Round(s.style.Graduation, s.style.Rounding) }
	for _, l := range s.lines {
		st := &s.problem.Sticks[l.stick]
		if off(st.Length) || off(st.Nominal) || off(st.TrimStart) || off(st.TrimEnd) {
			return true
		}
	}
	for i := range s.problem.Pieces {
		if off(s.problem.Pieces[i].Length) {
			return true
		}
	}
	for i := range s.plan.Parts {
		if off(s.plan.Parts[i].Length) {
			return true
		}
	}
	for i := range s.plan.Spliced {
		if slices.ContainsFunc(s.plan.Spliced[i].At, off) {
			return true
		}
	}
	for k := range s.patterns {
		p := &s.patterns[k]
		if off(p.yard.From) || slices.ContainsFunc(p.unusable, func(u stock.Defect) bool { return off(u.From) || off(u.To) }) {
			return true
		}
	}
	for k := range s.patterns {
		for n := range s.patterns[k].bays {
			b := &s.patterns[k].bays[n]
			if off(b.From) || off(b.To) || off(b.carried) || off(width(b.offcut)) || off(b.dust) {
				return true
			}
		}
	}
	for k := range s.plan.Spliced {
		if off(s.problem.Runs[k].Length) {
			return true
		}
	}
	return off(s.problem.Kerf) || off(s.keep) || off(s.sum.left) || off(s.scrap.length)
}
