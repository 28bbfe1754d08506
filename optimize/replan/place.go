package replan

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// Place is the place of a stick, or of the rest of one.
type Place uint8

const (
	PlaceSupplier Place = iota // at the supplier's, or on the rack as before
	PlaceWhole                 // on hand, not cut
	PlaceStarted               // on hand, partly cut: see Started
	PlaceLeftover              // on hand, an offcut
)

var placeNames = [...]string{"supplier", "whole", "started", "leftover"}

// placeLabels are added to the label of a stick.
var placeLabels = [...]string{"", "on hand", "started", "offcut"}

// String returns the place in words, and Place(9) for an unknown one.
func (p Place) String() string {
	if int(p) < len(placeNames) {
		return placeNames[p]
	}
	return fmt.Sprintf("Place(%d)", uint8(p))
}

// MarshalText returns the words of String. The error for an unknown place is a
// [*measure.FieldError].
func (p Place) MarshalText() ([]byte, error) {
	if int(p) < len(placeNames) {
		return []byte(placeNames[p]), nil
	}
	return nil, badPlace(strconv.Itoa(int(p)))
}

// UnmarshalText reads the words of String. The error for any other text is a
// [*measure.FieldError].
func (p *Place) UnmarshalText(b []byte) error {
	for k, name := range placeNames {
		if name == string(b) {
			*p = Place(k)
			return nil
		}
	}
	return badPlace(string(b))
}

func badPlace(value string) error {
	return &measure.FieldError{Value: value, Want: "one of " + strings.Join(placeNames[:], ", ")}
}
