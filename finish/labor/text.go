package labor

import (
	"io"
	"strconv"
	"strings"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
)

// WriteText writes lines for people: each with its parts, the number in brackets of the
// rate of each part, and its factors, then the total, and then the tables of the rates and
// factors used, with their sources. r must be the rates from which the lines were computed.
// The error is that of w, or a *[measure.FieldError] for a rate or a factor that r does not
// have.
func WriteText(w io.Writer, lines []Line, r Rates, loc measure.Locale) error {
	r = r.filled()
	t := text{rates: &r, Locale: loc, used: make([]bool, len(r.Table)), factors: make([]bool, len(r.Factors))}
	if err := t.check(lines); err != nil {
		return err
	}
	total, err := Total(lines)
	if err != nil {
		return err
	}
	room := ""
	for i := range lines {
		if l := &lines[i]; i == 0 || l.Room != room {
			room = l.Room
			t.line("", orElse(room, "all rooms"))
		}
		t.write(&lines[i])
	}
	t.line("", "labor: "+total.String())
	t.table()
	t.tableOfFactors()
	_, err = io.WriteString(w, t.b.String())
	return err
}

// text writes one text.
type text struct {
	measure.Locale
	rates   *Rates
	used    []bool // of the rates
	factors []bool // that were used
	b       strings.Builder
}

// check reports references of the lines to missing rates and factors.
func (t *text) check(lines []Line) error {
	for i := range lines {
		for k, p := range lines[i].Parts {
			if p.Rate < 0 || p.Rate >= len(t.rates.Table) {
				return fault.Field(fault.At("lines", i)+"."+fault.At("parts", k)+".rate", p.Rate, "the index of one of the rates")
			}
		}
		for k, f := range lines[i].Factors {
			if f.Factor < 0 || f.Factor >= len(t.rates.Factors) {
				return fault.Field(fault.At("lines", i)+"."+fault.At("factors", k)+".factor", f.Factor, "the index of one of the factors")
			}
		}
	}
	return nil
}

// line writes a line; invisible characters in callers' text are spelled out.
func (t *text) line(indent string, parts ...string) {
	t.b.WriteString(indent)
	t.b.WriteString(typeset.Visible(strings.Join(parts, "")))
	t.b.WriteByte('\n')
}

func (t *text) write(l *Line) {
	what := l.Step
	if l.Profile != "" || l.Kind == KindWork {
		what = orElse(l.Profile, l.Role.String()) + ": " + l.Step
	}
	if l.Kind != KindWork {
		what += " for " + l.Task.String()
	}
	what += ": " + l.Labor.String()
	if l.Skill != "" {
		what += ", " + l.Skill
	}
	if l.People > 1 {
		what += ", at least " + strconv.FormatInt(l.People, 10) + " people"
	}
	if len(l.Parts) == 0 {
		what += ", no rate"
	}
	t.line("  ", what)
	by := ""
	if l.Factor != whole {
		by = " x " + t.FormatRatio(l.Factor)
	}
	for _, p := range l.Parts {
		t.used[p.Rate] = true
		t.line("    ", p.Event.String(), ": ", t.quantity(p.Quantity), " x ", t.pace(&t.rates.Table[p.Rate]), by, " = ", p.Time.String(), " [", strconv.Itoa(p.Rate), "]")
	}
	if len(l.Factors) == 0 {
		return
	}
	names := make([]string, len(l.Factors))
	for i, f := range l.Factors {
		t.factors[f.Factor] = true
		names[i] = f.Name + " " + t.FormatRatio(f.By)
	}
	end := ""
	if l.Capped {
		end = ", but not more than that"
	}
	t.line("    ", t.FormatRatio(l.Factor), " = ", strings.Join(names, " x "), end)
}

// quantity formats a quantity.
func (t *text) quantity(a finish.Amount) string {
	if l, ok := a.Length(); ok {
		return t.About(l)
	}
	if s, ok := a.Area(); ok {
		return t.FormatArea(s)
	}
	n, _ := a.Pieces()
	return strconv.FormatInt(n, 10)
}

// pace formats the time of an event.
func (t *text) pace(r *Rate) string {
	per := r.per()
	what := ""
	if l, ok := per.Length(); ok {
		what = t.About(l)
	} else if s, ok := per.Area(); ok {
		what = t.FormatArea(s)
	} else if n, _ := per.Pieces(); n > 1 {
		what = strconv.FormatInt(n, 10)
	} else {
		return r.Time.String()
	}
	return r.Time.String() + " per " + what
}

// table writes the rates used.
func (t *text) table() {
	said, any := "", false
	for i, used := range t.used {
		if !used {
			continue
		}
		if !any {
			any = true
			t.line("", "rates")
		}
		r := &t.rates.Table[i]
		of := make([]string, len(r.Roles))
		for k, role := range r.Roles {
			of[k] = role.String()
		}
		what := r.Task.String() + ", " + r.Event.String()
		if len(of) > 0 {
			what += " of " + strings.Join(of, ", ")
		}
		if r.Step != "" {
			what += ", step " + r.Step
		}
		if r.Over != 0 {
			what += ", wider than " + t.About(r.Over)
		}
		if r.Above != 0 {
			what += ", from " + t.About(r.Above) + " up"
		}
		if note := joined(r.Source, r.Date, r.Condition); note != said || said == "" {
			said = note
			t.line("  ", orElse(note, "no source given"))
		}
		t.line("    ", "[", strconv.Itoa(i), "] ", what, ": ", t.pace(r))
	}
}

// tableOfFactors writes the factors used.
func (t *text) tableOfFactors() {
	said := false
	for i, used := range t.factors {
		if !used {
			continue
		}
		if !said {
			said = true
			t.line("", "factors")
		}
		f := &t.rates.Factors[i]
		what := f.Name + " " + t.FormatRatio(f.By)
		if f.Above != 0 {
			what += ", from " + t.About(f.Above) + " up"
		}
		if f.Under != 0 {
			what += ", in rooms of less than " + t.FormatArea(f.Under)
		}
		t.line("  ", what, ": ", orElse(joined(f.Source, f.Date, f.Condition), "no source given"))
	}
}

// joined joins the parts that are not empty.
func joined(parts ...string) string {
	var all []string
	for _, p := range parts {
		if p != "" {
			all = append(all, p)
		}
	}
	return strings.Join(all, "; ")
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
