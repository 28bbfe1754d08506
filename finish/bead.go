package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// BeadShape is the cross-section of a bead of caulk, sealant or adhesive.
type BeadShape uint8

const (
	BeadRectangle BeadShape = iota // fills a joint Width x Depth
	BeadFillet                     // a triangle in a corner, legs Width and Depth
	BeadHalfRound                  // tooled on a surface, Width across the flat
	BeadRound                      // as it leaves the nozzle, Width through
)

var beadNames = [...]string{"rectangle", "fillet", "half-round", "round"}

// String returns the shape in words.
func (s BeadShape) String() string { return kind.Text("BeadShape", beadNames[:], s) }

// MarshalText writes "rectangle", "fillet", "half-round" or "round".
func (s BeadShape) MarshalText() ([]byte, error) {
	return kind.Marshal("BeadShape", "a shape", beadNames[:], s)
}

// UnmarshalText reads "rectangle", "fillet", "half-round" or "round".
func (s *BeadShape) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a shape", beadNames[:], b, s)
}

// Section is the cross-section of a bead.
type Section struct {
	Shape BeadShape      `json:"shape"`
	Width measure.Length `json:"width"`           // > 0
	Depth measure.Length `json:"depth,omitempty"` // 0 = Width; round and half-round have none
}

func (s Section) check() error {
	switch {
	case s.Width <= 0:
		return fault.Field("width", AmountOf(s.Width), "more than zero")
	case s.Depth < 0:
		return fault.Field("depth", AmountOf(s.Depth), "zero or more")
	case s.Shape > BeadRound:
		return fault.Field("shape", uint8(s.Shape), "Rectangle, Fillet, HalfRound or Round")
	case s.Shape >= BeadHalfRound && s.Depth != 0:
		return fault.Field("depth", AmountOf(s.Depth), "zero for a "+s.Shape.String()+" bead")
	}
	return nil
}

// factors returns the section's area as products: num/den square ticks.
func (s Section) factors() (num, den []int64) {
	w, d := int64(s.Width), int64(s.Depth)
	if d == 0 {
		d = w
	}
	switch s.Shape {
	case BeadFillet:
		return []int64{w, d}, []int64{2}
	case BeadHalfRound: // half a circle of diameter w: pi w^2 / 8
		return []int64{w, w, piNum}, []int64{8, piDen}
	case BeadRound: // pi w^2 / 4
		return []int64{w, w, piNum}, []int64{4, piDen}
	}
	return []int64{w, d}, nil
}

// volumeOf returns the volume of a section num/den over the length l.
func volumeOf(mode natural.Rounding, num, den []int64, l measure.Length) (measure.Volume, bool) {
	n := append(append(make([]int64, 0, 6), num...), int64(l))
	d := append(append(make([]int64, 0, 6), den...), cubicTicksPerUnit)
	v, ok := natural.Quotient(mode, n, d)
	return measure.Volume(v), ok
}

// Area returns the section's area, rounded up to the unit.
func (s Section) Area() (measure.Area, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	num, den := s.factors()
	a, ok := natural.Quotient(natural.Up, num, append(den, squareTicksPerUnit))
	if !ok {
		return 0, tooLarge("the area of the bead")
	}
	return measure.Area(a), nil
}

// Reach returns the length of bead from a package of the given volume without
// waste, rounded down. A 1/4 x 1/4 in bead from a 10.1 fl oz cartridge reaches
// 24.3 ft.
func (s Section) Reach(pack measure.Volume) (measure.Length, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if pack < 0 {
		return 0, fault.Field("package", AmountOf(pack), "zero or more")
	}
	num, den := s.factors()
	l, ok := natural.Quotient(natural.Down,
		append(den, int64(pack), cubicTicksPerUnit), num)
	if !ok {
		return 0, tooLarge("the reach of " + AmountOf(pack).String())
	}
	return measure.Length(l), nil
}

// String returns the shape and its dimensions.
func (s Section) String() string { return words{}.section(s) }

// Bead is a line of caulk or sealant of one section, or in the gap between straight trim
// and a wavy wall, given by a few readings of its width. The gap changes linearly between
// two readings and is constant before the first and after the last; Section then has only
// its Depth.
type Bead struct {
	Material string         `json:"material,omitempty"` // "" = "caulk"
	Section  Section        `json:"section,omitzero"`
	Length   measure.Length `json:"length"`             // of the joint; >= 0
	Readings []GapReading   `json:"readings,omitempty"` // in order along the gap
	Waste    Waste          `json:"waste,omitzero"`
}

// Need returns the volume of the bead.
func (b Bead) Need() (Need, error) { return b.need(words{}) }

func (b Bead) need(w words) (Need, error) {
	if len(b.Readings) > 0 {
		return b.gap(w)
	}
	if err := b.Section.check(); err != nil {
		return Need{}, fault.Under("section", err)
	}
	if b.Length < 0 {
		return Need{}, fault.Field("length", AmountOf(b.Length), "zero or more")
	}
	num, den := b.Section.factors()
	v, ok := volumeOf(natural.Up, num, den, b.Length)
	if !ok {
		return Need{}, tooLarge("the volume of the bead")
	}
	net := AmountOf(v)
	return w.need(or(b.Material, "caulk"), net, b.Waste,
		w.along(b.Length)+" of "+w.section(b.Section)+" bead is "+w.amount(net))
}
