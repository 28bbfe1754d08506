package stock

import (
	"fmt"

	"example.com/longpoint/measure"
)

// Bow is how much a piece is cut long, so that it is bent in and presses its
// joints shut, or short, so that it goes in at all. The zero value is neither.
type Bow struct {
	LongerThan measure.Length `json:"over,omitzero"` // a piece longer than this
	Add        measure.Length `json:"add,omitzero"`  // is cut so much longer,
	Per        measure.Length `json:"per,omitzero"`  // or, if not zero, so much for each of these lengths

	ShorterThan measure.Length `json:"under,omitzero"` // a piece shorter than this
	Deduct      measure.Length `json:"take,omitzero"`  // is cut so much shorter
}

// UsualBow is 1/16 in for each 10 ft of a piece of more than 6 ft, and 1/32 in less
// for one under 6 in: 1/32 to 1/16 in up to 10 ft is common practice, no source. For long
// pieces it comes to the 1/8 in that is published ("Baseboard Done Better", Fine
// Homebuilding, Oct/Nov 2005), which bows a short one too far.
func UsualBow() Bow {
	return Bow{LongerThan: 6 * measure.Foot, Add: measure.Inch / 16, Per: 10 * measure.Foot, ShorterThan: 6 * measure.Inch, Deduct: measure.Inch / 32}
}

// validate returns every fault, joined.
func (b Bow) validate() error {
	var bad faults
	length := func(field string, l measure.Length) {
		if l < 0 || l > maxSection {
			bad.add(field, l.About(), "zero or more, at most 1000 ft")
		}
	}
	length("over", b.LongerThan)
	length("add", b.Add)
	length("per", b.Per)
	if length("under", b.ShorterThan); b.ShorterThan > b.LongerThan && b.LongerThan > 0 {
		bad.add("under", b.ShorterThan.About(), fmt.Sprintf("at most %v, the length from which pieces are bowed", b.LongerThan.About()))
	}
	length("take", b.Deduct)
	return bad.err()
}

// amount returns what the rule adds to a length.
func (s Bow) amount(l measure.Length) (measure.Length, error) {
	switch {
	case l < s.ShorterThan:
		return -s.Deduct, nil
	case l > s.LongerThan && s.Per > 0:
		add, _, err := s.Add.MulDiv(int64(l), int64(s.Per), measure.RoundHalfEven)
		return add, err
	case l > s.LongerThan:
		return s.Add, nil
	}
	return 0, nil
}

// GapStep is one line of a published rule for plastics: laid below a temperature, a
// length Per gets a gap of Gap. Steps ascend, and the first that applies counts; at and
// above the last temperature there is no gap.
type GapStep struct {
	Below measure.Temperature `json:"below"`
	Gap   measure.Length      `json:"gap"`
	Per   measure.Length      `json:"per"`
}

// Bearing is what the end of a piece has beyond it.
type Bearing uint8

const (
	Free     Bearing = iota // nothing: an outside corner, a return, an end to be scribed
	Against                 // a wall, or trim in a corner
	Finished                // a finished face that must not be pushed: a casing, a cabinet
)

// Fit says how pieces are cut to go in tight and stay so. The zero value cuts to the
// measured length.
type Fit struct {
	// Bow is for every material that has none of its own and is not rigid; nil
	// for none.
	Bow *Bow `json:"spring,omitempty"`

	// BetweenFinished is taken from a piece that goes between two finished faces.
	BetweenFinished measure.Length `json:"between,omitzero"`

	// InstallTemp is the temperature of the trim when it is fastened, Warmest the highest
	// that it will see. Where they are alike there is no gap for warmth, and none is
	// left for wood: it grows by less than a joint hides, and dries as it warms. Published
	// takes the gap from the material's own rule where it has one: such rules assume
	// that fasteners restrain the piece.
	InstallTemp measure.Temperature `json:"laid,omitzero"`
	MaxTemp     measure.Temperature `json:"warmest,omitzero"`
	Published   bool                `json:"published,omitempty"`

	// InstallMoisture is the moisture content of the trim when it is fastened, Dampest the
	// highest that it will have. Where they are alike there is no gap for damp.
	InstallMoisture measure.Ratio `json:"laid_at,omitzero"`
	MaxMoisture     measure.Ratio `json:"dampest,omitzero"`
}

// Validate returns nil if the fit can be used, or a [*measure.FieldError] for every
// amount, temperature and moisture content out of range, joined.
func (f Fit) Validate() error {
	var bad faults
	temperature := func(field string, t measure.Temperature) {
		if t < -maxTemperature || t > maxTemperature {
			bad.add(field, t.String(), "at most 10,000°F")
		}
	}
	moisture := func(field string, m measure.Ratio) {
		if m < 0 || m > maxMoisture {
			bad.add(field, m.String(), "from 0% to 500%")
		}
	}
	if f.Bow != nil {
		bad.under("spring", f.Bow.validate())
	}
	if f.BetweenFinished < 0 || f.BetweenFinished > maxSection {
		bad.add("between", f.BetweenFinished.About(), "zero or more, at most 1000 ft")
	}
	temperature("laid", f.InstallTemp)
	temperature("warmest", f.MaxTemp)
	moisture("laid_at", f.InstallMoisture)
	moisture("dampest", f.MaxMoisture)
	return bad.err()
}

// Allowances returns what is added to a piece of the length (positive) or taken from it
// (negative) so that it fits, each amount under its own name:
//
//   - room to expand and room to swell, where neither end is free;
//   - otherwise, between two finished faces, the fixed deduction;
//   - otherwise, where neither end is free, the spring.
//
// A piece that needs room is not sprung (wood needs none for warmth), and neither is stone, tile or what is rigid.
// The errors are those of Expansion and Swelling.
func (f Fit) Allowances(m Material, l measure.Length, left, right Bearing) ([]Allowance, error) {
	if left == Free || right == Free || l <= 0 {
		return nil, nil
	}
	var as []Allowance
	room, name, err := f.warmth(m, l)
	if err != nil {
		return nil, err
	}
	if room > 0 {
		as = append(as, Allowance{Name: name, Length: -room})
	}
	if f.MaxMoisture > f.InstallMoisture && m.Along != 0 {
		room, err := m.Swelling(l, Along, f.InstallMoisture, f.MaxMoisture)
		if err != nil {
			return nil, err
		}
		if room > 0 {
			as = append(as, Allowance{Name: fmt.Sprintf("room to swell from %v to %v", f.InstallMoisture, f.MaxMoisture), Length: -room})
		}
	}
	if len(as) > 0 {
		return as, nil
	}
	if left == Finished && right == Finished {
		if f.BetweenFinished != 0 {
			as = append(as, Allowance{Name: "between two finished faces", Length: -f.BetweenFinished})
		}
		return as, nil
	}
	spring := f.Bow
	if spring != nil && m.Bow != nil {
		spring = m.Bow
	}
	if spring == nil || m.Rigid || m.Class.Mineral() {
		return nil, nil
	}
	add, err := spring.amount(l)
	switch {
	case err != nil:
		return nil, err
	case add > 0:
		as = append(as, Allowance{Name: "long, to be sprung in", Length: add})
	case add < 0:
		as = append(as, Allowance{Name: "short, to go in", Length: add})
	}
	return as, nil
}

// alongGrain is more than any wood grows with warmth along the grain, in parts per
// billion for each kelvin: 3,000 to 5,000 is from memory. A material of class Wood that
// grows more is something else, whose class was not given.
const alongGrain = 10_000

// warmth returns the room that a piece needs for warmth and what it is called.
func (f Fit) warmth(m Material, l measure.Length) (measure.Length, string, error) {
	if f.InstallTemp == f.MaxTemp {
		return 0, "", nil
	}
	if f.Published && len(m.Gaps) > 0 {
		for _, g := range m.Gaps {
			if f.InstallTemp < g.Below {
				room, _, err := g.Gap.MulDiv(int64(l), int64(max(1, g.Per)), measure.RoundHalfEven)
				return room, fmt.Sprintf("gap when laid at %v, as published", f.InstallTemp), err
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
