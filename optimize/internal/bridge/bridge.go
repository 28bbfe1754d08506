// Package bridge lets the packages below optimize use what optimize knows and exports to
// nobody. Package optimize sets these functions when it is initialized, and nothing sets
// them again.
//
// Problems and plans are pointers to types of optimize, which this package cannot name.
package bridge

import (
	"context"
	"math/big"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Leaf is what a leaf of a proof says about a stick that is not on the list, in the unit of
// the plan's cost.
type Leaf struct {
	Shows  *big.Rat // what the leaf shows of plans without the stick, before rounding
	Holds  *big.Rat // the most that the stick holds by the leaf's values
	Rounds *big.Rat // what rounding up to sums of costs adds, for plans without the stick
}

// Enter returns what the leaves of a plan's proof say about a stick, those left out that
// show that there is no plan, and the proof's unit; false where they say nothing.
var Enter func(ctx context.Context, problem, plan any, s *stock.Stick) (leaves []Leaf, unit int64, ok bool)

// Used returns what the pieces of a pattern take of a stick without defects, a kerf after
// the last one included.
var Used func(problem, pattern any) (measure.Length, error)
