package svg

import (
	"strconv"

	"example.com/longpoint/measure"
)

// The limits of a requested width: the narrowest at which drawings and their text fit side by
// side, and the widest that a screen shows.
const (
	leastWidth = 320
	mostWidth  = 2000
)

// CheckWidth returns a *measure.FieldError for width unless it is 320 to 2000, or zero for
// [Wide].
func CheckWidth(width int) error {
	if width != 0 && (width < leastWidth || width > mostWidth) {
		return &measure.FieldError{Field: "width", Value: strconv.Itoa(width), Want: "320 to 2000, or zero for 672"}
	}
	return nil
}

// Titled returns a picture with its title written, and the position below it. The width is in
// units of a picture; zero is Wide.
func Titled(width int, title, desc string) (*Picture, Unit) {
	w := Wide
	if width > 0 {
		w = Unit(width) * One
	}
	p := New(w, title, desc)
	return p, p.Paragraph(margin, title, Large, true) + 4*One
}
