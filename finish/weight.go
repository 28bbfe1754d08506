package finish

// Weight is a mass as the trade weighs it, an exact count of 0.625 micrograms
// (1/45,359,237 of an avoirdupois ounce). That is the coarsest unit in which
// the ounce, the pound and the gram are all whole numbers; the pound is
// 0.45359237 kg exactly. The range is over five million metric tons.
type Weight int64

const (
	Ounce    Weight = 45_359_237
	Pound           = 16 * Ounce
	Gram     Weight = 1_600_000
	Kilogram        = 1000 * Gram
)

// String returns the weight in the unit a person would use, rounded for
// reading. [Amount.MarshalText] is exact.
func (w Weight) String() string { return OfWeight(w).String() }
