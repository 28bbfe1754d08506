package optimize

import (
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Validate reports every invalid field of p, as [Solve] does before it begins. The errors are
// [*measure.FieldError] values, joined in the order of the data, at most 100. A valid problem
// may still have no plan, or totals beyond the range of Solve; only Solve reports those.
func (p *Problem) Validate() error {
	if p == nil {
		return fieldError("", "nil", "a problem")
	}
	f := p.faults()
	p.validatePrices(f)
	return f.join()
}

// validate is Validate without the check for forgotten prices: a plan for a problem without
// prices can be checked.
func validate(p *Problem) error { return p.faults().join() }

// faults checks every field by itself and in combination. Sums are left to compile. Each check
// goes through its own list and relies on the fields that earlier checks have found valid.
func (p *Problem) faults() *faults {
	f := &faults{}
	if len(p.Sticks) == 0 {
		f.add("sticks", "empty", "at least one stick")
	}
	if len(p.Pieces) == 0 && len(p.Runs) == 0 {
		f.add("pieces", "empty", "at least one piece, or a run")
	}
	switch {
	case p.Kerf < 0:
		f.add("kerf", p.Kerf.About(), "zero or more")
	case !p.plain() && p.Kerf > lengthLimit/4:
		f.add("kerf", p.Kerf.About(), withRules(lengthLimit/4))
	}
	if p.MinRemnant < 0 {
		f.add("min_remnant", p.MinRemnant.About(), "zero (meaning 8\") or more")
	}
	for _, check := range []func(*faults){
		p.validateSticks, p.validatePieces, p.validateRuns, p.validateNumbers, p.validateOffcutValues,
		p.validateGroups, p.validateCharges, p.validateGoals, p.validateYard, p.validateProfiles,
	} {
		one := &faults{at: f.at} // each check finds its own first faults
		check(one)
		f.list, f.at = append(f.list, one.list...), one.at
	}
	return f
}

// soundKerf returns the kerf for checks that add it to lengths, or zero if it is invalid.
func (p *Problem) soundKerf() measure.Length {
	if p.Kerf < 0 || !p.plain() && p.Kerf > lengthLimit/4 {
		return 0
	}
	return p.Kerf
}

// lengthLimit keeps doubled sums of a few lengths in range, also in Check.
const lengthLimit = measure.Length(1) << 58

func withRules(most measure.Length) string {
	return fmt.Sprintf("at most %v in a problem with rules", most.About())
}

func (p *Problem) validateSticks(f *faults) {
	kerf, plain := p.soundKerf(), p.plain()
	breaks := 0
	for i := range p.Sticks {
		if f.full() {
			return
		}
		s := &p.Sticks[i]
		bad := func(name string, value any, want string) { f.add(fmt.Sprintf("sticks[%d].%s", i, name), value, want) }
		switch {
		case s.Length <= 0:
			bad("length", s.Length.About(), "more than zero")
			validEnds(s, bad)
		case !plain && s.Length > lengthLimit:
			bad("length", s.Length.About(), withRules(lengthLimit))
			validEnds(s, bad)
		default:
			ok := validTrim(s, bad)
			if ok && s.Length-s.TrimStart-s.TrimEnd > math.MaxInt64-kerf {
				bad("length", s.Length.About(), "a usable length that fits the range of lengths with a kerf added")
				ok = false
			}
			validateDefects(s, ok, bad)
		}
		if s.Nominal < 0 {
			bad("nominal", s.Nominal.About(), "zero (meaning the length) or more")
		}
		if s.Price < 0 {
			bad("price", s.Price, "zero or more, in cents")
		}
		switch {
		case s.Limit < stock.SoldOut:
			bad("limit", s.Limit, "zero (no limit) or more, or stock.SoldOut")
		case len(s.Defects) == 0:
		case s.Limit == 0:
			bad("limit", 0, "how many sticks have these defects")
		case s.Limit > maxFlawed:
			bad("limit", s.Limit, fmt.Sprintf("at most %d sticks with the same defects", maxFlawed))
		}
		validateSelling(s, bad)
		breaks = validateBreaks(s, breaks, bad)
	}
}

// validEnds checks the ends of a stick with an invalid length.
func validEnds(s *stock.Stick, bad func(name string, value any, want string)) {
	if s.TrimStart < 0 {
		bad("trim_start", s.TrimStart.About(), "zero or more")
	}
	if s.TrimEnd < 0 {
		bad("trim_end", s.TrimEnd.About(), "zero or more")
	}
}

// validTrim reports whether the unusable ends leave some of a stick.
func validTrim(s *stock.Stick, bad func(name string, value any, want string)) bool {
	ok := false
	switch {
	case s.TrimStart < 0:
		bad("trim_start", s.TrimStart.About(), "zero or more")
	case s.TrimStart >= s.Length:
		bad("trim_start", s.TrimStart.About(), fmt.Sprintf("less than the stick's length, %v", s.Length.About()))
	default:
		ok = true
	}
	switch {
	case s.TrimEnd < 0:
		bad("trim_end", s.TrimEnd.About(), "zero or more")
	case ok && s.TrimEnd >= s.Length-s.TrimStart:
		bad("trim_end", s.TrimEnd.About(), fmt.Sprintf("less than the length that trim_start leaves of the stick, %v", (s.Length-s.TrimStart).About(s.Length)))
	default:
		return ok
	}
	return false
}

// validateDefects checks the defects of a stick with a valid length; ends reports whether its
// ends are valid too.
func validateDefects(s *stock.Stick, ends bool, bad func(name string, value any, want string)) {
	if len(s.Defects) == 0 {
		return
	}
	if n := len(s.Defects); s.Limit > 0 && s.Limit <= maxFlawed && n > maxDefects/s.Limit {
		bad("defects", n, fmt.Sprintf("at most %d defects on all sticks of the limit, %d, together", maxDefects, s.Limit))
		return
	}
	ok, found := true, 0
	for k, d := range s.Defects {
		if found >= maxFaults {
			return
		}
		switch {
		case d.From < 0 || d.From >= s.Length:
			bad(fmt.Sprintf("defects[%d].from", k), d.From.About(), fmt.Sprintf("zero or more and less than the stick's length, %v", s.Length.About()))
		case d.To <= d.From || d.To > s.Length:
			bad(fmt.Sprintf("defects[%d].to", k), d.To.About(), fmt.Sprintf("more than from, %v, and at most the stick's length, %v", d.From.About(), s.Length.About()))
		default:
			continue
		}
		ok, found = false, found+1
	}
	if ok && ends && len(stretches(s)) == 0 {
		bad("defects", "the whole stick", "something that can be used")
	}
}

// maxFlawed limits the sticks with one set of defects, which are cut one by one, and maxDefects
// their defects.
const (
	maxFlawed  = 10_000
	maxDefects = 100_000
)

// validateSelling checks bundles and minimums.
func validateSelling(s *stock.Stick, bad func(name string, value any, want string)) {
	for _, x := range [...]struct {
		name string
		n    int
	}{{"bundle", s.Bundle}, {"minimum", s.Minimum}} {
		switch {
		case x.n < 0:
			bad(x.name, x.n, "zero (meaning one) or more")
		case x.n > maxSold:
			bad(x.name, x.n, fmt.Sprintf("at most %d", maxSold))
		case s.Limit > 0 && x.n > s.Limit:
			bad(x.name, x.n, fmt.Sprintf("at most the limit, %d", s.Limit))
		}
	}
}

// These limits keep the time to consider all purchases short.
const (
	maxSold      = 1 << 30
	maxBreaks    = 32 // per stick
	maxAllBreaks = 1_000
	maxCharges   = 1_000
)

// validateBreaks checks the price breaks of a stick. It returns their number plus the number
// before, or just the latter if there are too many already.
func validateBreaks(s *stock.Stick, before int, bad func(name string, value any, want string)) int {
	n := len(s.Breaks)
	switch all := before + n; {
	case n > maxBreaks:
		bad("breaks", n, fmt.Sprintf("at most %d price breaks", maxBreaks))
		return before
	case before <= maxAllBreaks && all > maxAllBreaks:
		bad("breaks", all, fmt.Sprintf("with those before at most %d price breaks of all sticks", maxAllBreaks))
		return all
	}
	from := 1
	for k, b := range s.Breaks {
		switch field := fmt.Sprintf("breaks[%d].from", k); {
		case b.From <= from:
			bad(field, b.From, fmt.Sprintf("more than %d: numbers from 2 on, ascending", from))
			from = 1 // nothing follows from an invalid number
		case b.From > maxSold:
			bad(field, b.From, fmt.Sprintf("at most %d", maxSold))
			from = 1
		default:
			from = b.From
		}
		if b.Price < 0 {
			bad(fmt.Sprintf("breaks[%d].price", k), b.Price, "zero or more, in cents")
		}
	}
	return before + n
}

func (p *Problem) validatePieces(f *faults) {
	kerf, plain := p.soundKerf(), p.plain()
	for i := range p.Pieces {
		if f.full() {
			return
		}
		pc := &p.Pieces[i]
		bad := func(name string, value any, want string) { f.add(fmt.Sprintf("pieces[%d].%s", i, name), value, want) }
		length := pc.Length
		switch {
		case pc.Length <= 0:
			bad("length", pc.Length.About(), "more than zero")
			length = -1
		case !plain && pc.Length > lengthLimit:
			bad("length", pc.Length.About(), withRules(lengthLimit))
			length = -1
		case pc.Length > math.MaxInt64-kerf:
			bad("length", pc.Length.About(), "a length that fits the range of lengths with a kerf added")
		}
		if pc.Quantity < 0 {
			bad("quantity", pc.Quantity, "zero (meaning one) or more")
		}
		if !p.Rules.Nest {
			continue
		}
		if _, err := pc.Symmetry.MarshalText(); err != nil {
			bad("symmetry", pc.Symmetry, "a known symmetry")
		}
		validateShape(pc.Left, pc.Right, length, kerf, bad)
	}
}

// validatePrices reports every stick whose price seems to be missing, since a plan would claim
// a wrong cost as proven.
func (p *Problem) validatePrices(f *faults) {
	dear := slices.IndexFunc(p.Sticks, hasPrice)
	if dear < 0 {
		return
	}
	one := &faults{at: f.at}
	for i, s := range p.Sticks {
		if one.full() {
			break
		}
		switch field := fmt.Sprintf("sticks[%d].price", i); {
		case s.Price != 0 || s.Rack:
		case len(s.Breaks) > 0:
			one.add(field, 0, fmt.Sprintf("the price of fewer than %d, since breaks has one for more, or rack for what is owned", s.Breaks[0].From))
		default:
			one.add(field, 0, fmt.Sprintf("a price, since sticks[%d] has one, or rack for what is owned", dear))
		}
	}
	f.list, f.at = append(f.list, one.list...), one.at
}

func hasPrice(s stock.Stick) bool {
	return s.Price > 0 || slices.ContainsFunc(s.Breaks, func(b stock.PriceBreak) bool { return b.Price > 0 })
}

// validateProfiles checks that pieces and sticks have the same profile.
func (p *Problem) validateProfiles(f *faults) {
	profile, from := "", ""
	see := func(list string, i int, name string) {
		switch {
		case name == "" || name == profile || f.full():
		case profile == "":
			profile, from = name, fmt.Sprintf("%s[%d]", list, i)
		default:
			f.add(fmt.Sprintf("%s[%d].profile", list, i), name,
				fmt.Sprintf("the profile of %s, %q: each profile is a separate problem", from, profile))
		}
	}
	for i := range p.Sticks {
		see("sticks", i, p.Sticks[i].Profile)
	}
	for i := range p.Pieces {
		see("pieces", i, p.Pieces[i].Profile)
	}
	for i := range p.Runs {
		see("runs", i, p.Runs[i].Profile)
	}
}
