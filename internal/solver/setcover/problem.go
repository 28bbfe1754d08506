package setcover

import (
	"math"

	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/model"
)

// Free is the limit of a row without one on that side: -Free below, Free above.
const Free = math.MaxInt64

// Problem is the problem of choosing columns. Rows are numbered consecutively: first the items, then
// the others.
type Problem struct {
	// Items must be yielded at least as often as their Demand says, and exactly that often if Exact is
	// set. A demand may be negative if columns consume the item. Sizes have two uses: pairs of large
	// items are branched on first, and no column holds items of a total size above Cap, which bounds
	// dual values.
	Items []model.Item
	Exact bool
	Cap   int64

	Rows    []Row
	Columns []Column
	Places  []Place
	Runs    []int // the run of each node that assemblies pass

	Base   int64 // added to the cost of every plan
	Always int   // the first columns, as many as this, are in every relaxation

	Branching

	// Accept is called with the columns of a relaxation whose values are whole. It reports whether they
	// are a plan, which may cost less than the columns, and the cost below which other plans are still
	// wanted.
	Accept func(chosen []Chosen) (cutoff int64, ok bool)

	// Record requests the search tree. Its classes are rows, counted from the items on; the column of a
	// place is a class, too, numbered from the last row on. After a complete search Recorded is that tree,
	// or nil if it is too large.
	Record   bool
	Recorded *certificate.Node
}

// Branching is how a search branches.
type Branching struct {
	Cuts         bool // add cuts: nodes take longer, but there are fewer, far fewer if there is no plan
	ColumnsFirst bool // on columns before pairs of items, even while numbers of sticks are open
	PairsFirst   bool // on pairs before columns, even if these numbers are fixed
}

// Row limits the sum of its coefficients.
type Row struct {
	Lo, Hi int64
	Loosen float64 // added to Hi in the relaxation, if rounding must not make it infeasible
}

// Column is a column with its coefficients: those of items come first, in increasing order.
// Coefficients in a row with a lower limit may be negative only if the row is of an item.
type Column struct {
	Rows   []int32
	Coef   []int64
	Cost   int64
	Lo, Hi int64
	Passes []int32 // the nodes that an assembly passes, all of one run; nil for other columns
}

// Place is something whose number of uses is branched on: the sum of a row or, if Column is not
// negative, that column. It stands for sticks with Bins stretches each.
type Place struct {
	Row, Column int32
	Cost        int64 // a guide: expensive places are branched on first
	Bins        int64
}

// Chosen is a column and its number of uses.
type Chosen struct {
	Column int32
	N      int64
}
