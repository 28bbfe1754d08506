package optimize

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Problem is what there is to buy or to use up, what has to be cut from it,
// and what a cut costs. It is plain data: Solve and Check never change it.
//
// Where every price is zero the objective is the least total stock length,
// otherwise it is the least total price.
type Problem struct {
	Sticks []stock.Stick  // the lengths that can be had
	Pieces []stock.Piece  // the pieces that are wanted
	Kerf   measure.Length // width of one saw cut; zero or more
}

// Options limits the search. Nil and the zero value are what most people want.
type Options struct {
	// Work limits the search in deterministic steps: the same problem with the
	// same Work gives the same plan on every machine. Zero means DefaultWork,
	// a negative value no limit but the context's.
	Work int64
}
