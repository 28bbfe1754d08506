package finish

// Weight is a mass as the trade weighs it, an exact count of 0.3125 nanograms.
// That is the coarsest unit in which every 1/16 and every 0.001 of an ounce, and
// every milligram, is a whole number; the pound is 0.45359237 kg exactly
// (definition). The range is over six million pounds (2800 metric tons).
type Weight int64

const (
	Ounce    Weight = 45_359_237 * 2000
	Pound           = 16 * Ounce
	Gram     Weight = 1_600_000 * 2000
	Kilogram        = 1000 * Gram
)

// String returns the weight in the unit a person would use, rounded for
// reading. [Amount.MarshalText] is exact.
func (w Weight) String() string { return OfWeight(w).String() }
