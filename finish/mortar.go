package finish

import "example.com/longpoint/measure"

// Notch is a notched trowel and the coverage of a 50 lb bag of thinset with it.
type Notch struct {
	Name   string `json:"name"`   // of the trowel's notch, as sold
	Low    Yield  `json:"low"`    // the conservative end; use it for a base that is back-buttered
	High   Yield  `json:"high"`   // the optimistic end
	Source string `json:"source"` // publication
}

// Notches returns the usual trowels, as a fresh slice. The figures are the
// widest range of several web pages that agree with one another; a page that
// gives 150-200 ft2 for the 1/4 in square notch is an outlier and omitted. A
// product's own sheet takes precedence.
func Notches() []Notch {
	const source = "thinset coverage pages (weak, but in agreement)"
	perBag := func(ft2 int64) Yield {
		return Yield{Covers: AmountOf(measure.Area(ft2) * measure.SquareFoot), Of: AmountOf(50 * measure.Pound)}
	}
	return []Notch{
		{"1/4 in square", perBag(80), perBag(100), source},
		{"1/4 x 3/8 in", perBag(60), perBag(80), source},
		{"1/2 in square", perBag(40), perBag(50), source},
	}
}

// Mortar is the setting bed of a stone or tile base: thinset by the bag, or
// mastic by the gallon, at the coverage of the notch.
type Mortar struct {
	Material string         `json:"material,omitempty"` // "" = "thinset"
	Length   measure.Length `json:"length,omitempty"`   // of the base; >= 0
	Height   measure.Length `json:"height,omitempty"`   // of the base; >= 0
	Area     measure.Area   `json:"area,omitempty"`     // additional surface; >= 0
	Coverage Yield          `json:"coverage"`           // area per weight or volume, such as 80 ft2 per 50 lb
	Waste    Waste          `json:"waste,omitzero"`
}

// Need returns the weight (or volume) of setting material.
func (m Mortar) Need() (Need, error) { return m.need(words{}) }

func (m Mortar) need(w words) (Need, error) {
	if err := m.Coverage.check("coverage"); err != nil {
		return Need{}, err
	}
	if m.Coverage.Covers.dim != byArea {
		return Need{}, wrongKind("coverage", m.Coverage.Covers, byArea)
	}
	a, err := surface(m.Length, m.Height, m.Area)
	if err != nil {
		if f, ok := err.(*measure.FieldError); ok && f.Field == "face" {
			f.Field = "height"
		}
		return Need{}, err
	}
	net, err := m.Coverage.Material(AmountOf(a))
	if err != nil {
		return Need{}, err
	}
	var why []string
	if m.Length > 0 {
		why = append(why, w.along(m.Length)+" of base "+w.across(m.Height)+" high")
	}
	why = append(why, w.amount(AmountOf(a))+", "+w.yield(m.Coverage)+": "+w.amount(net))
	return w.need(or(m.Material, "thinset"), net, m.Waste, why...)
}
