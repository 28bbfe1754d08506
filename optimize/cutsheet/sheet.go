package cutsheet

import (
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Sheet is a plan that is ready to be written. It keeps the problem and the plan
// that it was made of, which must not be changed while it is in use. Its methods
// change nothing and may be called from several goroutines.
type Sheet struct {
	problem optimize.Problem
	plan    *optimize.Plan
	options Options
	style   measure.Style

	audit    optimize.Audited
	lines    []line    // what is needed, in the order of the problem
	patterns []pattern // in the order of the plan
	settings []setting
	offcuts  []offcut // longest first
	sum      totals
}

// line is one length of stick that the plan uses.
type line struct {
	stick int
	count int64
}

// pattern is a pattern of the plan with its pieces gathered.
type pattern struct {
	*optimize.Pattern
	key  string // A, B, ... Z, AA, ...
	cuts []cut
	dust measure.Length // the remainder, where it is no offcut
}

// cut is a number of equal pieces that come one after the other.
type cut struct {
	piece int // index into Problem.Pieces
	n     int // on each stick
}

// offcut is what is left of all the sticks that leave the same.
type offcut struct {
	length measure.Length
	count  int64
	from   []string // keys of patterns
}

type totals struct {
	bought, owned, pieces int64
	used, stock, left     measure.Length // in the pieces, in the sticks, in the offcuts
	huge                  bool           // the lengths are beyond the range of Length
}

// New makes a sheet of a plan. It checks the plan by [optimize.Audit] first: a
// sheet that lacks a piece, or that claims more than its plan shows, is never
// written. Nil options are the zero value.
//
// The errors are those of Audit; an [InputError] for text that is not UTF-8, an
// end whose kind or angle makes no sense, or an option out of range; and the
// errors of [stock.Profile.Validate] for the profile.
func New(p optimize.Problem, plan *optimize.Plan, o *Options) (*Sheet, error) {
	s := &Sheet{problem: p, plan: plan}
	if o != nil {
		s.options = *o
	}
	if err := s.options.check(); err != nil {
		return nil, err
	}
	s.style = s.options.style()
	if err := checkTexts(&p); err != nil {
		return nil, err
	}
	var err error
	if s.audit, err = optimize.Audit(p, plan); err != nil {
		return nil, err
	}
	if s.settings, err = settings(&p, &s.options); err != nil {
		return nil, err
	}
	s.gather()
	return s, nil
}

func checkTexts(p *optimize.Problem) error {
	for i := range p.Sticks {
		st := &p.Sticks[i]
		for _, f := range [...]struct{ name, text string }{{"Label", st.Label}, {"Profile", st.Profile}} {
			if err := checkText(fmt.Sprintf("Sticks[%d].%s", i, f.name), f.text); err != nil {
				return err
			}
		}
	}
	for i := range p.Pieces {
		pc := &p.Pieces[i]
		for _, f := range [...]struct{ name, text string }{{"Label", pc.Label}, {"Profile", pc.Profile}, {"Run", pc.Run}} {
			if err := checkText(fmt.Sprintf("Pieces[%d].%s", i, f.name), f.text); err != nil {
				return err
			}
		}
		for k := range pc.Allowances {
			if err := checkText(fmt.Sprintf("Pieces[%d].Allowances[%d].Name", i, k), pc.Allowances[k].Name); err != nil {
				return err
			}
		}
	}
	return nil
}

// gather works out everything that several renderings show.
func (s *Sheet) gather() {
	counts := make([]int64, len(s.problem.Sticks))
	t := &s.sum
	for k := range s.plan.Patterns {
		pat := pattern{Pattern: &s.plan.Patterns[k], key: key(k)}
		st := &s.problem.Sticks[pat.Stick]
		rest := st.Length - st.TrimStart - st.TrimEnd + s.problem.Kerf
		for _, i := range pat.Pieces {
			rest -= s.problem.Pieces[i].Length + s.problem.Kerf
			if last := len(pat.cuts) - 1; last >= 0 && pat.cuts[last].piece == i {
				pat.cuts[last].n++
			} else {
				pat.cuts = append(pat.cuts, cut{piece: i, n: 1})
			}
			t.add(&t.used, s.problem.Pieces[i].Length, pat.Count)
		}
		if pat.Offcut == 0 {
			pat.dust = rest
		}
		s.patterns = append(s.patterns, pat)
		counts[pat.Stick] += int64(pat.Count)
		t.pieces += int64(pat.Count) * int64(len(pat.Pieces))
		t.add(&t.stock, st.Length, pat.Count)
		t.add(&t.left, pat.Offcut, pat.Count)
		if st.Rack {
			t.owned += int64(pat.Count)
		} else {
			t.bought += int64(pat.Count)
		}
		if pat.Offcut > 0 {
			at := slices.IndexFunc(s.offcuts, func(o offcut) bool { return o.length == pat.Offcut })
			if at < 0 {
				at = len(s.offcuts)
				s.offcuts = append(s.offcuts, offcut{length: pat.Offcut})
			}
			s.offcuts[at].count += int64(pat.Count)
			s.offcuts[at].from = append(s.offcuts[at].from, pat.key)
		}
	}
	slices.SortFunc(s.offcuts, func(a, b offcut) int { return int(min(1, max(-1, b.length-a.length))) })
	for i, n := range counts {
		if n > 0 {
			s.lines = append(s.lines, line{i, n})
		}
	}
}

// add adds n times l to sum, or gives the sums up.
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
	q, _, err := t.used.MulDiv(1000, int64(t.stock), measure.Down)
	return int64(q), err == nil
}

// key names the k-th pattern: A to Z, then AA, AB and so on.
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

// length writes a length for people.
func (s *Sheet) length(l measure.Length) string { return l.Format(s.style) }

// soldAs is what one asks for at the counter.
func soldAs(st *stock.Stick) measure.Length {
	if st.Nominal != 0 {
		return st.Nominal
	}
	return st.Length
}

// pieceName returns what the i-th piece is called.
func (s *Sheet) pieceName(i int) string {
	if l := s.problem.Pieces[i].Label; l != "" {
		return l
	}
	return "piece " + strconv.Itoa(i+1)
}

// priced reports whether amounts of money mean anything.
func (s *Sheet) priced() bool { return s.plan.Objective == optimize.LeastPrice }

// cost writes an amount in the unit of the plan's cost.
func (s *Sheet) cost(n int64) string {
	if s.priced() {
		return s.options.Money.amount(n)
	}
	return s.length(measure.Length(n))
}

// inexact reports whether any length on the sheet is marked with + or -.
func (s *Sheet) inexact() bool {
	off := func(l measure.Length) bool { return l != l.Round(s.style.Grain, s.style.Rounding) }
	for _, l := range s.lines {
		if off(s.problem.Sticks[l.stick].Length) {
			return true
		}
	}
	for i := range s.problem.Pieces {
		if off(s.problem.Pieces[i].Length) {
			return true
		}
	}
	for _, o := range s.offcuts {
		if off(o.length) {
			return true
		}
	}
	return off(s.problem.Kerf)
}
