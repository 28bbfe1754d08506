package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Sanding is trim rubbed down between coats.
type Sanding struct {
	Material string         `json:"material,omitempty"` // "" = "sandpaper"
	Length   measure.Length `json:"length"`             // of trim; >= 0
	Times    int64          `json:"times,omitempty"`    // number of times; 0 = 1
	Reach    Yield          `json:"reach,omitzero"`     // length per count of sheets; zero = 50 ft per sheet (common practice, no source)
	Waste    Waste          `json:"waste,omitzero"`
}

// Need returns the number of sheets, with fractions of a sheet.
func (s Sanding) Need() (Need, error) { return s.need(words{}) }

func (s Sanding) need(w words) (Need, error) {
	if s.Times == 0 {
		s.Times = 1
	}
	if s.Reach.IsZero() {
		s.Reach = Yield{Covers: AmountOf(50 * measure.Foot), Of: Count(1)}
	}
	switch {
	case s.Length < 0:
		return Need{}, fault.Field("length", AmountOf(s.Length), "zero or more")
	case s.Times < 0:
		return Need{}, fault.Field("times", s.Times, "zero or more")
	}
	if err := s.Reach.must("reach", byLength, byCount); err != nil {
		return Need{}, err
	}
	n, ok := natural.Quotient(natural.Up, []int64{int64(s.Length), s.Times, s.Reach.Of.n}, []int64{s.Reach.Covers.n})
	if !ok {
		return Need{}, tooLarge("the number of sheets")
	}
	net := Amount{byCount, n}
	return w.need(or(s.Material, "sandpaper"), net, s.Waste,
		w.along(s.Length)+" sanded "+timesOver(s.Times)+", "+w.yield(s.Reach)+": "+w.amount(net))
}
