package measure

// Weight is a mass as the trade weighs it, an exact count of 0.3125 nanograms.
// That is the coarsest unit in which every 1/16 and every 0.001 of an ounce, and
// every milligram, is a whole number; the pound is 0.45359237 kg exactly
// (definition). The range is over six million pounds (2800 metric tons).
//
// The zero value is no weight. Weights compare with ==, < and >. The operators
// do not check for overflow.
type Weight int64

// Weights to multiply by: the avoirdupois ounce and pound, and the metric units.
const (
	Ounce    Weight = 45_359_237 * 2000
	Pound    Weight = 16 * Ounce
	Gram     Weight = 1_600_000 * 2000
	Kilogram Weight = 1000 * Gram
)

// ParseWeight reads a weight: 50 lb, 2 1/2 lb, 2 lb 4 oz, 25 kg, 300 g, 5 mg. The
// number follows the rules of [Parse], and so do the errors.
func ParseWeight(s string) (Weight, error) {
	var t text
	v, ok := read(&t, s, weights, Parser{})
	if !ok {
		return 0, t.err(weights, s, Parser{})
	}
	return Weight(v), nil
}

// String returns w in the form that [ParseWeight] reads back to the same value,
// in the unit that suits it: lb, oz, kg, or g if the others do not terminate.
func (w Weight) String() string {
	var buf [48]byte
	return string(appendScaled(buf[:0], int64(w), weightForms[:]))
}

// AppendText appends what String returns to b. It never fails.
func (w Weight) AppendText(b []byte) ([]byte, error) {
	return appendScaled(b, int64(w), weightForms[:]), nil
}

// MarshalText returns what String returns. It never fails.
func (w Weight) MarshalText() ([]byte, error) { return w.AppendText(make([]byte, 0, 24)) }

// UnmarshalText reads what [ParseWeight] reads.
func (w *Weight) UnmarshalText(b []byte) error {
	v, err := ParseWeight(string(b))
	if err == nil {
		*w = v
	}
	return err
}

var weightForms = [...]form{
	{" lb", uint64(Pound), 3, false},
	{" oz", uint64(Ounce), 4, true},
	{" kg", uint64(Kilogram), 3, false},
	{" g", uint64(Gram), 13, true}, // 3.2e9 is 2^13 * 5^8
}

// weightUnit reads the unit of weight at i.
func (t *text) weightUnit(i int) (unit, int) {
	if !isLetter(t.b[i]) {
		return unit{}, noUnit
	}
	const (
		avoirdupois = 1
		metric      = 2
	)
	j := t.word(i)
	var u unit
	switch string(t.b[i:j]) {
	case "lb", "lbs", "pound", "pounds":
		u = unit{uint64(Pound), avoirdupois, 2}
	case "oz", "ounce", "ounces":
		u = unit{uint64(Ounce), avoirdupois, 1}
	case "kg", "kilogram", "kilograms":
		u = unit{uint64(Kilogram), metric, 3}
	case "g", "gram", "grams":
		u = unit{uint64(Gram), metric, 2}
	case "mg", "milligram", "milligrams":
		u = unit{uint64(Gram) / 1000, metric, 1}
	default:
		return unit{}, unknownUnit
	}
	return u, t.abbreviation(j)
}
