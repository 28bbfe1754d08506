package stock

import (
	"cmp"
	"fmt"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Class is the family of a material, which determines the applicable rules of the
// trade.
type Class uint8

const (
	ClassWood      Class = iota // solid or finger-jointed: coped, scarfed, bowed
	ClassComposite              // fiberboard and the like: treated as wood, but swells along its length, too
	ClassPlastic                // moves with temperature; never coped tight in the cold
	ClassStone                  // ripped from slab; butted, never coped, scarfed or bowed
	ClassTile                   // fixed strips with joints; treated as stone
)

var classNames = [...]string{ClassWood: "wood", ClassComposite: "composite", ClassPlastic: "plastic", ClassStone: "stone", ClassTile: "tile"}

// String returns "wood", "composite", "plastic", "stone" or "tile".
func (c Class) String() string { return kind.Text("Class", classNames[:], c) }

// MarshalText writes the name; an unknown class is a [*measure.FieldError].
func (c Class) MarshalText() ([]byte, error) {
	return kind.Marshal("Class", "a class", classNames[:], c)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (c *Class) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a class", classNames[:], text, c)
}

// Mineral reports whether the class is stone or tile, to which the rules for wood do not
// apply.
func (c Class) Mineral() bool { return c == ClassStone || c == ClassTile }

// A Material describes the properties of a material that affect how a profile is cut,
// fitted and bought. The zero value is a wood with no known properties.
type Material struct {
	Name  string `json:"name"`           // required and unique
	Class Class  `json:"class,omitzero"` // determines the rules of the trade

	// Thermal is the expansion of a length per kelvin (1.8 °F), in parts per billion:
	// 54,000 for 54e-6/K, which is 30e-6/°F. Zero means not known to matter.
	Thermal int64 `json:"thermal,omitzero"`

	// Along, Across and Through are the swelling per percent of moisture content along the
	// length, across the width and through the thickness, at most 100%: 0.369% for a
	// coefficient of 0.00369. For wood Across is the tangential coefficient of a flat-sawn
	// board, or the radial one of a quarter-sawn board, and Along is about zero. See
	// SwellAlong.
	Along   measure.Ratio `json:"along,omitzero"`
	Across  measure.Ratio `json:"across,omitzero"`
	Through measure.Ratio `json:"through,omitzero"`

	// MinMoisture and MaxMoisture are the range of moisture contents in which the three
	// coefficients are valid; if both are zero, there is no limit.
	MinMoisture measure.Ratio `json:"min_moisture,omitzero"`
	MaxMoisture measure.Ratio `json:"max_moisture,omitzero"`

	// WaterSensitive is set if a wet floor ruins the material. Swell24h is the share of its
	// thickness that it gains in 24 hours of soaking, from its data sheet, at most 100%; zero
	// means unknown.
	WaterSensitive bool          `json:"water_sensitive,omitempty"`
	Swell24h       measure.Ratio `json:"swell24h,omitzero"`

	// Bow is the material's own rule for bowed pieces; nil means the rule of the Fit.
	// Rigid is set if the material is never bowed, whatever its class; stone and tile
	// never are.
	Bow   *Bow `json:"bow,omitempty"`
	Rigid bool `json:"rigid,omitempty"`

	// Gaps is a published rule for the gaps at the ends, used in place of the calculated
	// gaps if Fit.Published is set.
	Gaps []GapStep `json:"gaps,omitempty"`

	// Lengths are the lengths in which it is commonly sold, for information.
	Lengths []measure.Length `json:"lengths,omitempty"`
}

// maxThermal and maxPerPercent bound the coefficients; at the bounds, a length doubles for
// one degree or one percent.
const (
	maxThermal    = 1_000_000_000
	maxPerPercent = 100 * measure.Percent
)

// Expansion returns the growth of the length l between two temperatures, negative if
// it shrinks: l·Thermal·(to − from), to the nearest tick, half to even. An
// unrestrained piece moves that much; a nailed one moves less and pushes.
//
// The error is a [*measure.FieldError] for a coefficient or a temperature out of range
// (its fields are thermal, from and to), or a [*measure.RangeError].
func (m Material) Expansion(l measure.Length, from, to measure.Temperature) (measure.Length, error) {
	var bad fault.List
	if m.Thermal < 0 || m.Thermal > maxThermal {
		bad.Add("thermal", strconv.FormatInt(m.Thermal, 10), "0 to 1,000,000,000 parts per billion")
	}
	noteTemperature(&bad, "from", from)
	noteTemperature(&bad, "to", to)
	if err := bad.Err(); err != nil {
		return 0, err
	}
	// At most 1e9 · 1e6: no overflow.
	grown, _, err := l.MulDiv(m.Thermal*int64(to-from), 1_000_000_000*int64(measure.DegreeC), measure.RoundHalfEven)
	return grown, err
}

// SwellAlong returns the growth of the length l of a piece between two moisture
// contents, negative if it shrinks: l·Along·(to − from), to the nearest tick, half to
// even (Wood Handbook, FPL-GTR-190, equation 13-2, which holds from 6% to 14%).
//
// The error is a [*measure.FieldError] for a coefficient that is out of range (along) and
// for a moisture content outside MinMoisture to MaxMoisture (from and to), or a
// [*measure.RangeError].
func (m Material) SwellAlong(l measure.Length, from, to measure.Ratio) (measure.Length, error) {
	return m.swell("along", m.Along, l, from, to)
}

// SwellAcross returns the growth of the width l of a piece by Across, as SwellAlong does
// for its length. A coefficient of zero is an error for wood and composite, for which zero
// means unknown.
func (m Material) SwellAcross(l measure.Length, from, to measure.Ratio) (measure.Length, error) {
	return m.swell("across", m.Across, l, from, to)
}

// SwellThrough returns the growth of the thickness l of a piece by Through, as SwellAcross
// does for its width.
func (m Material) SwellThrough(l measure.Length, from, to measure.Ratio) (measure.Length, error) {
	return m.swell("through", m.Through, l, from, to)
}

// swell applies one coefficient; field is its name.
func (m Material) swell(field string, c measure.Ratio, l measure.Length, from, to measure.Ratio) (measure.Length, error) {
	var bad fault.List
	switch {
	case c < 0 || c > maxPerPercent:
		bad.Add(field, c.String(), "from 0% to 100%")
	case c == 0 && field != "along" && (m.Class == ClassWood || m.Class == ClassComposite):
		bad.Add(field, "0%", "the coefficient, which is not known for this material")
	}
	lo, hi := m.MinMoisture, m.MaxMoisture
	if lo == 0 && hi == 0 {
		hi = maxMoisture
	}
	moisture := func(field string, mc measure.Ratio) {
		if mc < lo || mc > hi {
			bad.Add(field, mc.String(), fmt.Sprintf("from %v to %v, the range in which the coefficient of %s holds", lo, hi, cmp.Or(m.Name, "the material")))
		}
	}
	moisture("from", from)
	moisture("to", to)
	if err := bad.Err(); err != nil {
		return 0, err
	}
	grown, _, err := l.MulDiv(int64(c)*int64(to-from), int64(100*measure.Percent)*int64(measure.Percent), measure.RoundHalfEven)
	return grown, err
}

// Validate returns nil if the material is valid, or a [*measure.FieldError] for
// every fault, joined.
func (m Material) Validate() error {
	var bad fault.List
	swelling := func(field string, v measure.Ratio) {
		if v < 0 || v > maxPerPercent {
			bad.Add(field, v.String(), "from 0% to 100%")
		}
	}
	if m.Name == "" {
		bad.Add("name", "", "a name")
	}
	if int(m.Class) >= len(classNames) {
		bad.Add("class", m.Class.String(), kind.OneOf("a class", classNames[:]))
	}
	if m.Thermal < 0 || m.Thermal > maxThermal {
		bad.Add("thermal", strconv.FormatInt(m.Thermal, 10), fmt.Sprintf("0 to %d", maxThermal))
	}
	swelling("along", m.Along)
	swelling("across", m.Across)
	swelling("through", m.Through)
	if m.MinMoisture < 0 || m.MinMoisture > maxMoisture {
		bad.Add("min_moisture", m.MinMoisture.String(), "from 0% to 500%")
	}
	if m.MaxMoisture < m.MinMoisture || m.MaxMoisture > maxMoisture {
		bad.Add("max_moisture", m.MaxMoisture.String(), fmt.Sprintf("from min_moisture, %v, to 500%%", m.MinMoisture))
	}
	swelling("swell24h", m.Swell24h)
	if m.Bow != nil {
		bad.Under("bow", m.Bow.validate())
	}
	for i, g := range m.Gaps {
		at := fmt.Sprintf("gaps[%d].", i)
		if i > 0 && g.Below <= m.Gaps[i-1].Below {
			bad.Add(at+"below", g.Below.String(), "more than the one before")
		}
		if g.Gap < 0 || g.Gap > maxSection {
			bad.Add(at+"gap", g.Gap.About(), "zero or more, at most 1000 ft")
		}
		if g.Per <= 0 {
			bad.Add(at+"per", g.Per.About(), "more than zero")
		}
	}
	for i, l := range m.Lengths {
		if l <= 0 {
			bad.Add(fmt.Sprintf("lengths[%d]", i), l.About(), "more than zero")
		}
	}
	return bad.Err()
}
