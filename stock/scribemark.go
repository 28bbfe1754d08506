package stock

import "example.com/longpoint/measure"

// A ScribeMark is one mark of the line along which an edge of a run is cut to a floor or a
// wall. The line is straight from mark to mark, and square to the edge between two marks
// at one place.
type ScribeMark struct {
	At    measure.Length `json:"at"`    // from the left end of the wall length that the run covers
	Depth measure.Length `json:"depth"` // taken off there, from the uncut edge
}
