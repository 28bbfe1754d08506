package stock

import (
	"fmt"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Bow is the extra length of a long piece, which is bent into place to close its joints,
// and the deduction from a short piece, which would not go in otherwise. The zero value
// adds and deducts nothing.
type Bow struct {
	LongerThan measure.Length `json:"longer_than,omitzero"` // a piece longer than this
	Add        measure.Length `json:"add,omitzero"`         // is cut longer by Add,
	Per        measure.Length `json:"per,omitzero"`         // or, if not zero, by Add for each Per of its length

	ShorterThan measure.Length `json:"shorter_than,omitzero"` // a piece shorter than this
	Deduct      measure.Length `json:"deduct,omitzero"`       // is cut shorter by Deduct
}

// UsualBow returns 1/16 in more for each 10 ft of a piece longer than 6 ft, and 1/32 in
// less for one shorter than 6 in: 1/32 to 1/16 in up to 10 ft is common practice, no
// source. For long pieces it comes to the published 1/8 in ("Baseboard Done Better", Fine
// Homebuilding, Oct/Nov 2005), which bows a short piece too far.
func UsualBow() Bow {
	return Bow{LongerThan: 6 * measure.Foot, Add: measure.Inch / 16, Per: 10 * measure.Foot, ShorterThan: 6 * measure.Inch, Deduct: measure.Inch / 32}
}

// validate returns every fault, joined.
func (b Bow) validate() error {
	var bad fault.List
	length := func(field string, l measure.Length) {
		if l < 0 || l > maxSection {
			bad.Add(field, l.About(), "zero or more, at most 1000 ft")
		}
	}
	length("longer_than", b.LongerThan)
	length("add", b.Add)
	length("per", b.Per)
	if length("shorter_than", b.ShorterThan); b.ShorterThan > b.LongerThan && b.LongerThan > 0 {
		bad.Add("shorter_than", b.ShorterThan.About(), fmt.Sprintf("at most %v, the length from which pieces are bowed", b.LongerThan.About()))
	}
	length("deduct", b.Deduct)
	return bad.Err()
}

// amount returns the amount that the rule adds to a length.
func (b Bow) amount(l measure.Length) (measure.Length, error) {
	switch {
	case l < b.ShorterThan:
		return -b.Deduct, nil
	case l > b.LongerThan && b.Per > 0:
		add, _, err := b.Add.MulDiv(int64(l), int64(b.Per), measure.RoundHalfEven)
		return add, err
	case l > b.LongerThan:
		return b.Add, nil
	}
	return 0, nil
}

// A GapStep is one line of a published rule for plastics: if the trim is installed below
// a temperature, each length Per gets a gap of Gap. Steps ascend, and the first that
// applies is used; at and above the last temperature there is no gap.
type GapStep struct {
	Below measure.Temperature `json:"below"`
	Gap   measure.Length      `json:"gap"`
	Per   measure.Length      `json:"per"`
}

// Fit describes how pieces are cut so that they fit tightly and stay tight. The zero value
// cuts to the measured length.
type Fit struct {
	// Bow applies to every material that has no Bow itself and is not rigid; nil means
	// none.
	Bow *Bow `json:"bow,omitempty"`

	// BetweenFinished is deducted from a piece between two finished faces.
	BetweenFinished measure.Length `json:"between_finished,omitzero"`

	// InstallTemp is the temperature of the piece when it is fastened, MaxTemp the highest
	// temperature that it will reach. If they are equal, no gap is left for thermal
	// expansion. None is left for wood in any case: it expands by less than a joint hides,
	// and it dries as it warms. Published uses the material's own gap rule if it has one;
	// such rules assume that fasteners restrain the piece.
	InstallTemp measure.Temperature `json:"install_temp,omitzero"`
	MaxTemp     measure.Temperature `json:"max_temp,omitzero"`
	Published   bool                `json:"published,omitempty"`

	// InstallMoisture is the moisture content of the piece when it is fastened,
	// MaxMoisture the highest moisture content that it will have. If they are equal,
	// no gap is left for swelling.
	InstallMoisture measure.Ratio `json:"install_moisture,omitzero"`
	MaxMoisture     measure.Ratio `json:"max_moisture,omitzero"`
}

// Validate returns nil if the fit is valid, or a [*measure.FieldError] for every
// amount, temperature and moisture content out of range, joined.
func (f Fit) Validate() error {
	var bad fault.List
	moisture := func(field string, m measure.Ratio) {
		if m < 0 || m > maxMoisture {
			bad.Add(field, m.String(), "from 0% to 500%")
		}
	}
	if f.Bow != nil {
		bad.Under("bow", f.Bow.validate())
	}
	if f.BetweenFinished < 0 || f.BetweenFinished > maxSection {
		bad.Add("between_finished", f.BetweenFinished.About(), "zero or more, at most 1000 ft")
	}
	noteTemperature(&bad, "install_temp", f.InstallTemp)
	noteTemperature(&bad, "max_temp", f.MaxTemp)
	moisture("install_moisture", f.InstallMoisture)
	moisture("max_moisture", f.MaxMoisture)
	return bad.Err()
}

// Allowances returns the amounts to add to a piece of length l (positive) or to deduct from
// it (negative) so that it fits between two things that hold its ends, each under its own
// name. A piece that expands or swells along its length gets room for that and no other
// allowance (wood expands too little to count). If finished is set, both ends meet finished
// faces that must not be pushed, such as casings or cabinets, and the piece is short by
// BetweenFinished. Otherwise it meets walls, or trim in corners, and is bowed, unless it is
// stone, tile or rigid.
//
// A piece with a free end, such as one at an outside corner, gets no allowance: do not
// call Allowances for it.
//
// The error is a [*measure.FieldError] for a coefficient of the material out of range
// (thermal, along), for a temperature or a moisture content out of range of the fit or of
// the material (install_temp, max_temp, install_moisture, max_moisture), or a
// [*measure.RangeError].
func (f Fit) Allowances(m Material, l measure.Length, finished bool) ([]Allowance, error) {
	if l <= 0 {
		return nil, nil
	}
	var as []Allowance
	room, name, err := f.warmth(m, l)
	if err != nil {
		return nil, renamed(err, "install_temp", "max_temp")
	}
	if room > 0 {
		as = append(as, Allowance{Name: name, Length: -room})
	}
	if f.MaxMoisture > f.InstallMoisture && m.Along != 0 {
		room, err := m.SwellAlong(l, f.InstallMoisture, f.MaxMoisture)
		if err != nil {
			return nil, renamed(err, "install_moisture", "max_moisture")
		}
		if room > 0 {
			as = append(as, Allowance{Name: fmt.Sprintf("room to swell from %v to %v", f.InstallMoisture, f.MaxMoisture), Length: -room})
		}
	}
	if len(as) > 0 {
		return as, nil
	}
	if finished {
		if f.BetweenFinished != 0 {
			as = append(as, Allowance{Name: "between two finished faces", Length: -f.BetweenFinished})
		}
		return as, nil
	}
	bow := f.Bow
	if bow != nil && m.Bow != nil {
		bow = m.Bow
	}
	if bow == nil || m.Rigid || m.Class.Mineral() {
		return nil, nil
	}
	add, err := bow.amount(l)
	switch {
	case err != nil:
		return nil, err
	case add > 0:
		as = append(as, Allowance{Name: "long, to be bowed in", Length: add})
	case add < 0:
		as = append(as, Allowance{Name: "short, to go in", Length: add})
	}
	return as, nil
}

// renamed returns an error of Expansion or SwellAlong with the fields from and to named as
// in Fit.
func renamed(err error, from, to string) error {
	var bad fault.List
	for e := range measure.FieldErrors(err) {
		f := *e
		switch f.Field {
		case "from":
			f.Field = from
		case "to":
			f.Field = to
		}
		bad.Under("", &f)
	}
	if len(bad) == 0 {
		return err
	}
	return bad.Err()
}

// alongGrain exceeds the thermal expansion of any wood along the grain, in parts per
// billion per kelvin: 3,000 to 5,000 is from memory. A material of ClassWood that
// expands more is not wood; its class was not given.
const alongGrain = 10_000

// warmth returns the room that a piece needs for thermal expansion, and the name of the
// allowance.
func (f Fit) warmth(m Material, l measure.Length) (measure.Length, string, error) {
	if f.InstallTemp == f.MaxTemp {
		return 0, "", nil
	}
	if f.Published && len(m.Gaps) > 0 {
		for _, g := range m.Gaps {
			if f.InstallTemp < g.Below {
				room, _, err := g.Gap.MulDiv(int64(l), int64(max(1, g.Per)), measure.RoundHalfEven)
				return room, fmt.Sprintf("gap when installed at %v, as published", f.InstallTemp), err
			}
		}
		return 0, "", nil
	}
	if m.Class == ClassWood && m.Thermal <= alongGrain {
		return 0, "", nil
	}
	room, err := m.Expansion(l, f.InstallTemp, f.MaxTemp)
	return room, fmt.Sprintf("room to expand from %v to %v", f.InstallTemp, f.MaxTemp), err
}
