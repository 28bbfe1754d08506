package joint

import (
	"errors"

	"example.com/longpoint/measure"
)

// ScarfOverlap returns the overlap of the two parts of a scarf,
// thickness·tan(bevel), with the bevel counted from the square cut; each splice adds
// that length to the stock that a run consumes. At 45° it is exactly the thickness,
// and at 0° exactly zero. Published bevels run from 15° to 45°.
//
// Crown is scarfed as its corners are mitered, nested at its spring angle, so that the
// saw cuts through its projection: pass that instead of the thickness (derived).
func ScarfOverlap(thickness measure.Length, bevel measure.Angle) (measure.Length, error) {
	if err := errors.Join(notNegative("thickness", thickness), acute("bevel", bevel)); err != nil {
		return 0, err
	}
	return tangent(thickness, bevel)
}
