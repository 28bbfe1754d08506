package measure

// Area is an exact count of 1/264,257,536 square inch.
type Area int64

const (
	SquareInch       Area = 16384 * 127 * 127 // exact for 1/128 in by 1/128 in
	SquareFoot            = 144 * SquareInch
	SquareMillimeter Area = 409_600 // SquareInch / 645.16
	SquareMeter           = 1_000_000 * SquareMillimeter
)

// Volume is an exact count of 1/1,048,772,096 cubic inch.
type Volume int64

const (
	CubicInch  Volume = 512 * 127 * 127 * 127
	Milliliter Volume = 64_000_000 // CubicInch / 16.387064
	Liter             = 1000 * Milliliter
	FluidOunce        = Gallon / 128
	Quart             = Gallon / 4
	Gallon            = 231 * CubicInch
	BoardFoot         = 144 * CubicInch
)
