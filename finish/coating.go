package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Coating is material applied to a surface at a spreading rate: coats of primer, paint,
// varnish or sealer, or cleaner (with the Material "cleaner"). No sourced rate is known
// for cleaner: take it from the label, or for wipes as an area per count.
type Coating struct {
	Material string         `json:"material,omitempty"` // "" = "paint"
	Length   measure.Length `json:"length,omitempty"`   // of trim; >= 0
	Face     measure.Length `json:"face,omitempty"`     // developed width of the coated face; >= 0. For a board, its height plus its thickness; times 110-130 % if ornate (common practice, no source)
	Area     measure.Area   `json:"area,omitempty"`     // additional surface; >= 0
	Coats    int64          `json:"coats,omitempty"`    // 0 = 1
	Spread   Yield          `json:"spread,omitzero"`    // area per volume, such as 350 ft2 per gal, or per count of wipes
	Waste    Waste          `json:"waste,omitzero"`
}

// usualCleaner is the default material of cleaning steps.
const usualCleaner = "cleaner"

// surface returns length x face + area, rounded up.
func surface(length, face measure.Length, more measure.Area) (measure.Area, error) {
	switch {
	case length < 0:
		return 0, fault.Field("length", AmountOf(length), "zero or more")
	case face < 0:
		return 0, fault.Field("face", AmountOf(face), "zero or more")
	case more < 0:
		return 0, fault.Field("area", AmountOf(more), "zero or more")
	}
	a, ok := natural.Quotient(natural.Up, []int64{int64(length), int64(face)}, []int64{squareTicksPerUnit})
	if ok {
		a, ok = natural.Add(a, int64(more))
	}
	if !ok {
		return 0, tooLarge("the surface")
	}
	return measure.Area(a), nil
}

// Need returns the volume for all coats, or the number of wipes.
func (c Coating) Need() (Need, error) { return c.need(words{}) }

func (c Coating) need(w words) (Need, error) {
	if c.Coats == 0 {
		c.Coats = 1
	}
	if c.Coats < 0 {
		return Need{}, fault.Field("coats", c.Coats, "zero or more")
	}
	of := byVolume
	if c.Spread.Of.dim == byCount {
		of = byCount
	}
	if err := c.Spread.must("spread", byArea, of); err != nil {
		return Need{}, err
	}
	a, err := surface(c.Length, c.Face, c.Area)
	if err != nil {
		return Need{}, err
	}
	v, ok := natural.Quotient(natural.Up, []int64{int64(a), c.Coats, c.Spread.Of.n}, []int64{c.Spread.Covers.n})
	if !ok {
		return Need{}, tooLarge("the volume of paint")
	}
	net := Amount{of, v}
	times := counted(c.Coats, "coat")
	if c.Material == usualCleaner {
		times = "wiped " + timesOver(c.Coats)
	}
	var why []string
	if c.Length > 0 {
		why = append(why, w.along(c.Length)+" with a developed face of "+w.across(c.Face))
	}
	why = append(why, w.amount(AmountOf(a))+", "+times+", "+w.yield(c.Spread)+": "+w.amount(net))
	return w.need(or(c.Material, "paint"), net, c.Waste, why...)
}

// SpreadRate returns the spreading rate of a film: 1604.17 ft2 per gallon and mil, times
// the paint's solids by volume, less the loss in transfer, rounded down to the unit of
// area. For a dry film, solids are those of the paint, above 0 % and at most 100 %; for a
// wet film, they are 100 %. Loss is at least 0 % and below 100 %.
func SpreadRate(film measure.Length, solids, loss measure.Ratio) (Yield, error) {
	const field = "film"
	if film <= 0 {
		return Yield{}, fault.Field(field, AmountOf(film), "more than zero")
	}
	if solids <= 0 || solids > whole {
		return Yield{}, fault.Field("solids", solids, "over 0% and at most 100%")
	}
	if err := fault.Below("loss", loss, whole); err != nil {
		return Yield{}, err
	}
	a, ok := natural.Quotient(natural.Down, // gallon / film
		[]int64{int64(measure.Gallon), cubicTicksPerUnit, int64(solids), int64(whole - loss)},
		[]int64{int64(film), squareTicksPerUnit, int64(whole), int64(whole)})
	if !ok {
		return Yield{}, tooLarge("the spreading rate")
	}
	if a == 0 {
		return Yield{}, fault.Field(field, AmountOf(film), "a thinner film: a gallon covers nothing")
	}
	return Yield{Covers: AmountOf(measure.Area(a)), Of: AmountOf(measure.Gallon)}, nil
}

// must checks a yield and the kinds of its two amounts.
func (y Yield) must(field string, covers, of dimension) error {
	if err := y.check(field); err != nil {
		return err
	}
	if y.Covers.dim != covers {
		return wrongKind(field, y.Covers, covers)
	}
	if y.Of.dim != of {
		return wrongKind(field, y.Of, of)
	}
	return nil
}
