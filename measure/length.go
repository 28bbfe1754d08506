package measure

// Length is a signed distance, an exact count of ticks of 1/2,032,000 inch
// (12.5 nanometers).
type Length int64

const (
	Micrometer Length = 80
	Millimeter        = 1000 * Micrometer
	Centimeter        = 10 * Millimeter
	Meter             = 1000 * Millimeter
	Inch              = 25400 * Micrometer
	Foot              = 12 * Inch
	Yard              = 3 * Foot
)
