package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Masking is tape along the edges of painted trim.
type Masking struct {
	Material string         `json:"material,omitempty"` // "" = "tape"
	Length   measure.Length `json:"length"`             // of trim; >= 0
	Lines    int64          `json:"lines,omitempty"`    // edges taped; 0 = 2
	Waste    Waste          `json:"waste,omitzero"`     // tears: 5-10 % of need (common practice, no source)
}

// Need returns the length of tape.
func (m Masking) Need() (Need, error) { return m.need(words{}) }

func (m Masking) need(w words) (Need, error) {
	if m.Lines == 0 {
		m.Lines = 2
	}
	switch {
	case m.Length < 0:
		return Need{}, fault.Field("length", AmountOf(m.Length), "zero or more")
	case m.Lines < 0:
		return Need{}, fault.Field("lines", m.Lines, "zero or more")
	}
	l, ok := natural.Mul(int64(m.Length), m.Lines)
	if !ok {
		return Need{}, tooLarge("the length of tape")
	}
	net := AmountOf(measure.Length(l))
	return w.need(or(m.Material, "tape"), net, m.Waste,
		w.along(m.Length)+" taped along "+counted(m.Lines, "edge")+": "+w.amount(net))
}
