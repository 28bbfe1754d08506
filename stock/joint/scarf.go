package joint

import (
	"errors"

	"example.com/longpoint/measure"
)

// ScarfOverlap returns how far the two parts of a scarf lap over each other,
// thickness·tan(bevel), with the bevel counted from the square cut; it is what one
// splice adds to the stock that a run consumes. At 45° it is the thickness and at 0°
// nothing, exactly. Published bevels run from 15° to 45°.
//
// Crown is scarfed as its corners are mitered, nested at its spring angle, so that the
// saw goes through its projection: give that in place of the thickness (derived).
func ScarfOverlap(thickness measure.Length, bevel measure.Angle) (measure.Length, error) {
	if err := errors.Join(notNegative("thickness", thickness), acute("bevel", bevel)); err != nil {
		return 0, err
	}
	return tangent(thickness, bevel)
}
