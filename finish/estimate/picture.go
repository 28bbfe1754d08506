package estimate

import (
	"math"
	"math/big"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
)

// PictureOptions configure a picture. Nil and the zero value are the usual settings.
type PictureOptions struct {
	Locale measure.Locale // format of lengths and money

	// Width is in CSS pixels, 320 to 2000, zero for 672, which is 7 in on paper; 360 suits a
	// telephone.
	Width int
}

// filled returns the options, with defaults, or their faults.
func (o *PictureOptions) filled() (PictureOptions, error) {
	if o == nil {
		return PictureOptions{}, nil
	}
	var bad fault.List
	bad.Under("options.locale", o.Locale.Validate())
	bad.Under("options", svg.CheckWidth(o.Width))
	return *o, bad.Err()
}

// wideLabels is the width from which labels are beside bars, not above them.
const wideLabels = 520 * svg.One

var (
	inkStyle    = svg.Style{Stroke: svg.Ink}
	gridStyle   = svg.Style{Stroke: svg.Shade}
	fineHatch   = svg.Style{Stroke: svg.Quiet, Width: 60}
	strongStyle = svg.Style{Stroke: svg.Mark, Width: 180}
)

// portion returns the share part/all of the room, rounded down, and zero if it is negative.
func portion(part, all int64, room svg.Unit) svg.Unit {
	if part <= 0 || all <= 0 || room <= 0 {
		return 0
	}
	x := new(big.Int).Mul(big.NewInt(min(part, all)), big.NewInt(int64(room)))
	return svg.Unit(x.Quo(x, big.NewInt(all)).Int64())
}

// roundStep returns the least of 1, 2, 5, 10, 20, 50 and so on that divides a span into fewer
// than most steps.
func roundStep(span, most int64) int64 {
	for unit := int64(1); ; unit *= 10 {
		for _, by := range [...]int64{1, 2, 5} {
			if step := unit * by; span/step < most {
				return step
			}
		}
		if unit > math.MaxInt64/100 {
			return math.MaxInt64
		}
	}
}
