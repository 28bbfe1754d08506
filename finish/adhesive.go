package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Adhesive is a bead on the back of the trim, straight or serpentine.
type Adhesive struct {
	Material string         `json:"material,omitempty"` // "" = "adhesive"
	Section  Section        `json:"section,omitzero"`   // zero = 1/4 in round
	Length   measure.Length `json:"length"`             // of the trim; >= 0
	Path     measure.Ratio  `json:"path,omitempty"`     // bead length per length of trim; 0 = 130 %, a serpentine (common practice, no source)
	Waste    Waste          `json:"waste,omitzero"`
}

// Need returns the volume of adhesive.
func (a Adhesive) Need() (Need, error) { return a.need(words{}) }

func (a Adhesive) need(w words) (Need, error) {
	path := a.Path
	if path == 0 {
		path = 130 * measure.Percent
	}
	a.Section = a.Section.or(BeadRound, measure.Inch/4)
	if err := a.Section.check(); err != nil {
		return Need{}, fault.Under("section", err)
	}
	if err := fault.Below("path", path, 100*whole); err != nil {
		return Need{}, err
	}
	if a.Length < 0 {
		return Need{}, fault.Field("length", AmountOf(a.Length), "zero or more")
	}
	num, den := a.Section.factors()
	v, ok := volumeOf(natural.Up, append(num, int64(path)), append(den, int64(whole)), a.Length)
	if !ok {
		return Need{}, tooLarge("the volume of adhesive")
	}
	net := AmountOf(v)
	return w.need(or(a.Material, "adhesive"), net, a.Waste,
		"a "+w.section(a.Section)+" bead "+w.FormatRatio(path)+" as long as "+w.along(a.Length)+" of trim is "+w.amount(net))
}
