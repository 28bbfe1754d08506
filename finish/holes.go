package finish

import (
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Holes is a number of round nail holes to fill, by default as wide and as deep as the dent that a
// nailer leaves around a 15 gauge nail of 0.072 in set by 1/16 in. With 300 % waste 1000 of them take
// 3.4 fl oz; a newspaper's count is 2 jars of putty and a pint of spackle for 2,600 ft of base and
// casing, some 4000 holes (Virginian-Pilot, 6 April 1996), and others say a quart for 1500 to 3000
// (common practice, no source).
type Holes struct {
	Material string         `json:"material,omitempty"` // "" = "filler"
	Count    int64          `json:"count"`              // >= 0
	Diameter measure.Length `json:"diameter,omitempty"` // 0 = 1/8 in
	Depth    measure.Length `json:"depth,omitempty"`    // 0 = 1/8 in
	Waste    Waste          `json:"waste,omitzero"`     // most of it stays on the knife: 200-400 % of need (common practice, no source)
}

// Need returns the volume of filler.
func (h Holes) Need() (Need, error) { return h.need(words{}) }

func (h Holes) need(w words) (Need, error) {
	if h.Diameter == 0 {
		h.Diameter = measure.Inch / 8
	}
	if h.Depth == 0 {
		h.Depth = measure.Inch / 8
	}
	switch {
	case h.Count < 0:
		return Need{}, fault.Field("count", h.Count, "zero or more")
	case h.Diameter < 0:
		return Need{}, fault.Field("diameter", AmountOf(h.Diameter), "zero or more")
	case h.Depth < 0:
		return Need{}, fault.Field("depth", AmountOf(h.Depth), "zero or more")
	}
	v, ok := volumeOf(natural.Up,
		[]int64{h.Count, int64(h.Diameter), int64(h.Diameter), piNum}, []int64{4, piDen}, h.Depth)
	if !ok {
		return Need{}, tooLarge("the volume of filler")
	}
	net := AmountOf(v)
	return w.need(or(h.Material, "filler"), net, h.Waste,
		itoa(h.Count)+" holes "+w.across(h.Diameter)+" wide and "+w.across(h.Depth)+" deep hold "+w.amount(net))
}

func itoa(n int64) string { return strconv.FormatInt(n, 10) }
