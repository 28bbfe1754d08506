package takeoff

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Fixture stops the trim on a wall: a cabinet, a tub, a hearth, a built-in, a radiator.
type Fixture struct {
	Name  string         `json:"name"`  // not empty
	At    measure.Length `json:"at"`    // left edge, from the left end of the wall
	Width measure.Length `json:"width"` // along the wall, more than zero

	// Trim that runs between Bottom and Height is stopped.
	// Height is the top above the floor, more than Bottom; zero stops all but what hangs
	// from the ceiling.
	Bottom measure.Length `json:"bottom,omitzero"`
	Height measure.Length `json:"height,omitzero"`

	// Notch is set for what trim is cut around, such as a register or the box of an outlet: the
	// clearance on each side, usually 1/8 in (common practice, no source). Trim of which 1 in or
	// more is left above or below is notched; other trim stops so far before it on both sides, and
	// is returned there if Ends says nothing else. Zero means that all trim is stopped.
	Notch measure.Length `json:"notch,omitzero"`

	// Depth is how far it reaches into the room. In an inside corner it shortens
	// the trim of the neighboring wall by as much; zero does not.
	Depth measure.Length `json:"depth,omitzero"`

	// Ends is how the trim is cut at either side: EndSquare, the zero value, or EndButt to
	// die into it, EndReturn to be returned to the wall, EndScribe to be left long and scribed.
	Ends stock.EndKind `json:"ends,omitzero"`
}
