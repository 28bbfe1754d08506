package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Fixture is an obstacle to the trim on a wall: a cabinet, a tub, a hearth, a built-in, a
// radiator.
type Fixture struct {
	Name  string         `json:"name"`  // required
	At    measure.Length `json:"at"`    // left edge, from the left end of the wall
	Width measure.Length `json:"width"` // along the wall, more than zero

	// Fixtures stop trim between Bottom and Height. Height is the top above the floor, more
	// than Bottom; zero stops all trim except that hanging from the ceiling.
	Bottom measure.Length `json:"bottom,omitzero"`
	Height measure.Length `json:"height,omitzero"`

	// Notch is the clearance on each side of a fixture around which trim is notched, such as a
	// register or an outlet box: usually 1/8 in (common practice, no source). Trim is notched
	// if 1 in or more of it remains above or below; other trim stops at that distance on both
	// sides, and is returned there unless Ends says otherwise. Zero means that all trim is
	// stopped.
	Notch measure.Length `json:"notch,omitzero"`

	// Depth is its extent into the room. In an inside corner it shortens the trim of the
	// neighboring wall by that amount; zero does not.
	Depth measure.Length `json:"depth,omitzero"`

	// Ends is the cut of the trim at either side: EndSquare, the zero value, or EndButt to die
	// into it, EndReturn to be returned to the wall, EndScribe to be left long and scribed.
	Ends stock.EndKind `json:"ends,omitzero"`
}
