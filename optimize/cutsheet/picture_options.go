package cutsheet

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// PictureOptions configure a picture. Nil and the zero value are the usual settings. The
// pictures of a [Sheet] use only Width, since the sheet has its own Options.
type PictureOptions struct {
	// Width is in CSS pixels, 320 to 2000; zero means 672, which is 7 in on paper; 360 suits a
	// telephone.
	Width int

	// Locale is the format of lengths and other numbers, as [Options.Locale].
	Locale measure.Locale

	// Profile and Graduation are for [SawEnd.Picture]: the molding that is cut and the division of
	// the saw's scale, as in [Options]. Nil means trim with a flat back, zero a tenth of a degree.
	Profile    *stock.Profile
	Graduation measure.Angle
}

// width returns the width, zero for the usual one.
func (o *PictureOptions) width() int {
	if o == nil {
		return 0
	}
	return o.Width
}

// checkWidth returns a fault of the width.
func (o *PictureOptions) checkWidth() error {
	var bad fault.List
	bad.Under("options", svg.CheckWidth(o.width()))
	return bad.Err()
}

// sheet returns the options of a sheet with the same settings.
func (o *PictureOptions) sheet() *Options {
	if o == nil {
		return &Options{}
	}
	return &Options{Locale: o.Locale, Profile: o.Profile, Graduation: o.Graduation}
}
