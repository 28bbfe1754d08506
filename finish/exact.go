package finish

import (
	"example.com/longpoint/internal/suited"
	"example.com/longpoint/measure"
)

// Pi to eighteen decimals, rounded down. The error is a sixth of one part in
// 10^18, so it cannot move a need by a whole unit within int64.
const (
	piNum = 3_141_592_653_589_793_238
	piDen = 1_000_000_000_000_000_000
)

// The small units of area and volume, in square and cubic ticks of length.
const (
	ticksPerInch       = int64(measure.Inch)
	squareTicksPerUnit = ticksPerInch * ticksPerInch / int64(measure.SquareInch)
	cubicTicksPerUnit  = ticksPerInch * ticksPerInch * ticksPerInch / int64(measure.CubicInch)
)

// Both divisions must be exact, or this does not compile.
const (
	_ = uint(-(ticksPerInch * ticksPerInch % int64(measure.SquareInch)))
	_ = uint(-(ticksPerInch * ticksPerInch * ticksPerInch % int64(measure.CubicInch)))
)

// fixed formats n/d, n >= 0 and d > 0, with at most places decimals, rounded
// half to even, without trailing zeros.
func fixed(n, d int64, places int) string {
	return string(suited.AppendFixed(make([]byte, 0, 24), n, d, places))
}
