// Package bridge gives the packages below optimize access to unexported functions of optimize.
// Package optimize sets them when it is initialized, and nothing sets them again.
//
// Problems and plans are pointers to types of optimize, which this package cannot name.
package bridge

import (
	"context"
	"math/big"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Leaf is the evaluation of a leaf of a proof for a stick that is not on the list, in the unit
// of the plan's cost.
type Leaf struct {
	Shows  *big.Rat // the leaf's bound for plans without the stick, before rounding
	Holds  *big.Rat // the greatest value of pieces from the stick, by the leaf's dual values
	Rounds *big.Rat // the amount added by rounding up to attainable costs, for plans without the stick
}

// Enter returns the evaluations of a stick by the leaves of a plan's proof, omitting leaves
// that show that there is no plan, and the proof's unit; ok is false if they say nothing.
var Enter func(ctx context.Context, problem, plan any, s *stock.Stick) (leaves []Leaf, unit int64, ok bool)

// Used returns the length of a stick without defects that the pieces of a pattern take,
// including a kerf after the last one.
var Used func(problem, pattern any) (measure.Length, error)
