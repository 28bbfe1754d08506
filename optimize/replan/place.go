package replan

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// Place is where a stick is, or what is left of one.
type Place uint8

const (
	PlaceSupplier Place = iota // at the supplier's, or on the rack as before
	PlaceWhole                 // on hand, not cut
	PlaceStarted               // on hand, cut in part: see Started
	PlaceLeftover              // kept of a stick that was cut
)

var placeNames = [...]string{"supplier", "whole", "started", "leftover"}

// placeLabels stand beside a stick's own label.
var placeLabels = [...]string{"", "in hand", "started", "offcut"}

// String returns the place in words, and Place(9) for one that is unknown.
func (p Place) String() string {
	if int(p) < len(placeNames) {
		return placeNames[p]
	}
	return fmt.Sprintf("Place(%d)", uint8(p))
}

// MarshalText implements [encoding.TextMarshaler]. The error for an unknown place is a
// *[measure.FieldError].
func (p Place) MarshalText() ([]byte, error) {
	if int(p) < len(placeNames) {
		return []byte(placeNames[p]), nil
	}
	return nil, badPlace(strconv.Itoa(int(p)))
}

// UnmarshalText implements [encoding.TextUnmarshaler]. The error for an unknown place is a
// *[measure.FieldError].
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
