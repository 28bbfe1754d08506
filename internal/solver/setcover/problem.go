package setcover

import (
	"math"

	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/model"
)

// Free is the limit of a row that has none on that side: -Free below, Free above.
const Free = math.MaxInt64

// Problem is what is to be chosen from. Rows are numbered through: the items first, then
// the others.
type Problem struct {
	// Items are wanted at least so many times; with Exact no more often, either. Demand
	// may be below zero where columns take of an item. Sizes matter twice: pairs of large
	// items are branched on first, and no column holds more than Cap of them, which bounds
	// its dual value.
	Items []model.Item
	Exact bool
	Cap   int64

	Rows    []Row
	Columns []Column
	Places  []Place
	Runs    []int // node -> its run: nodes that the assemblies of runs pass

	Base   int64 // cost of every plan, on top of its columns
	Always int   // so many of the columns, the first, are in every relaxation
	Cuts   bool  // look for cuts, which make each node dearer and nodes fewer, far fewer where there is no plan

	ColumnsFirst bool // branch on columns before pairs of items, also as long as it is open how many sticks there are
	PairsFirst   bool // branch on pairs before columns, also once that is known

	// Accept is told of columns that a relaxation uses whole times. It reports whether they are a
	// plan, which may then cost less than they do, and below which cost others are still of use.
	Accept func(chosen []Chosen) (cutoff int64, ok bool)

	// Record asks for the tree of a problem of one stick a column whose rows count classes of sticks;
	// Recorded is that after a search that was complete, nil where it would be too long.
	Record   bool
	Recorded *certificate.Node
}

// Row limits the sum of its coefficients.
type Row struct {
	Lo, Hi int64
	Loosen float64 // added to Hi in the relaxation, where rounding must not make it infeasible
}

// Column is a column with its coefficients: those of items come first, in increasing order. Only
// items may have coefficients below zero in a row that has a lower limit.
type Column struct {
	Rows   []int32
	Coef   []int64
	Cost   int64
	Lo, Hi int64
	Passes []int32 // of an assembly of a run: nodes; each column that has some is of one run
}

// Place is something that is used so often: by the sum of a row, or, where Column is not
// negative, by that column, which stands for sticks that have Bins stretches each.
type Place struct {
	Row, Column int32
	Cost        int64 // a guide: dear ones are branched on first
	Bins        int64
}

// Chosen is a column, so often.
type Chosen struct {
	Column int32
	N      int64
}
