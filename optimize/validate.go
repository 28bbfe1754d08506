package optimize

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Validate reports a field of p that makes no sense, as [Solve] does before it begins, or
// nil. A problem that makes sense may still have no plan, or totals that leave the range of
// what Solve takes: only Solve tells.
func (p *Problem) Validate() error { return cmp.Or(validate(p), validatePrices(p)) }

// validate reports the first field of p that makes no sense by itself. What
// needs several fields at once, sums above all, is found by compile.
func validate(p *Problem) error {
	if len(p.Sticks) == 0 {
		return &ProblemError{"Sticks", "empty", "at least one stick"}
	}
	if len(p.Pieces) == 0 && len(p.Runs) == 0 {
		return &ProblemError{"Pieces", "empty", "at least one piece"}
	}
	if p.Kerf < 0 {
		return badLength("Kerf", p.Kerf, "zero or more")
	}
	for i := range p.Sticks {
		s := &p.Sticks[i]
		field := func(name string) string { return fmt.Sprintf("Sticks[%d].%s", i, name) }
		switch {
		case s.Length <= 0:
			return badLength(field("Length"), s.Length, "more than zero")
		case s.TrimStart < 0:
			return badLength(field("TrimStart"), s.TrimStart, "zero or more")
		case s.TrimEnd < 0:
			return badLength(field("TrimEnd"), s.TrimEnd, "zero or more")
		case s.TrimStart >= s.Length:
			return badLength(field("TrimStart"), s.TrimStart,
				fmt.Sprintf("less than the stick's length, %v", s.Length.About()))
		case s.TrimEnd >= s.Length-s.TrimStart:
			return badLength(field("TrimEnd"), s.TrimEnd,
				fmt.Sprintf("less than what TrimStart leaves of the stick, %v", (s.Length-s.TrimStart).About(s.Length)))
		case s.Length-s.TrimStart-s.TrimEnd > math.MaxInt64-p.Kerf:
			return badLength(field("Length"), s.Length, "a usable length that fits the range of Length with a kerf added")
		case s.Price < 0:
			return &ProblemError{field("Price"), strconv.FormatInt(s.Price, 10), "zero or more, in cents"}
		case s.Limit < stock.SoldOut:
			return &ProblemError{field("Limit"), strconv.Itoa(s.Limit), "zero (no limit) or more, or stock.SoldOut"}
		}
	}
	for i := range p.Pieces {
		pc := &p.Pieces[i]
		field := func(name string) string { return fmt.Sprintf("Pieces[%d].%s", i, name) }
		switch {
		case pc.Length <= 0:
			return badLength(field("Length"), pc.Length, "more than zero")
		case pc.Length > math.MaxInt64-p.Kerf:
			return badLength(field("Length"), pc.Length, "a length that fits the range of Length with a kerf added")
		case pc.Quantity < 0:
			return &ProblemError{field("Quantity"), strconv.Itoa(pc.Quantity), "zero (meaning one) or more"}
		}
	}
	if err := validateRules(p); err != nil {
		return err
	}
	return validateProfiles(p)
}

// validateProfiles keeps a piece of one profile off the sticks of another.
func validateProfiles(p *Problem) error {
	profile, from := "", ""
	see := func(list string, i int, name string) error {
		switch {
		case name == "" || name == profile:
			return nil
		case profile == "":
			profile, from = name, fmt.Sprintf("%s[%d]", list, i)
			return nil
		}
		return &ProblemError{fmt.Sprintf("%s[%d].Profile", list, i), strconv.Quote(name),
			fmt.Sprintf("the profile of %s, %q: each profile is a problem of its own", from, profile)}
	}
	for i := range p.Sticks {
		if err := see("Sticks", i, p.Sticks[i].Profile); err != nil {
			return err
		}
	}
	for i := range p.Pieces {
		if err := see("Pieces", i, p.Pieces[i].Profile); err != nil {
			return err
		}
	}
	for i := range p.Runs {
		if err := see("Runs", i, p.Runs[i].Profile); err != nil {
			return err
		}
	}
	return nil
}

func badLength(field string, l measure.Length, want string) error {
	return &ProblemError{field, fmt.Sprint(l.About()), want}
}

// validatePrices reports a stick whose price seems to have been forgotten: the plan would
// be proven to cost what it does not.
func validatePrices(p *Problem) error {
	dear := slices.IndexFunc(p.Sticks, hasPrice)
	if dear < 0 {
		return nil
	}
	for i, s := range p.Sticks {
		if s.Price == 0 && len(s.Breaks) > 0 && !s.Rack {
			return &ProblemError{fmt.Sprintf("Sticks[%d].Price", i), "0", fmt.Sprintf("the price of fewer than %d, since Breaks has one for more, or Rack for what is owned", s.Breaks[0].From)}
		}
		if !hasPrice(s) && !s.Rack {
			return &ProblemError{fmt.Sprintf("Sticks[%d].Price", i), "0", fmt.Sprintf("a price, since Sticks[%d] has one, or Rack for what is owned", dear)}
		}
	}
	return nil
}

func hasPrice(s stock.Stick) bool {
	return s.Price != 0 || slices.ContainsFunc(s.Breaks, func(b stock.PriceBreak) bool { return b.Price != 0 })
}
