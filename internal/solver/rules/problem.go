package rules

import "example.com/longpoint/internal/solver/model"

// Orientation is a way to lay an item in a bin.
type Orientation struct {
	Size        int64 // capacity that it takes, including the cut at its right end; > half the Setbacks of its ends
	Left, Right int   // classes of its ends; Square if an end cannot nest
}

// Square is the class of an end that saves nothing.
const Square = -1

// Item is a piece, or pieces that stay together. Its demand is Demand. The runs decide how many
// of their parts are needed; if some of these are cut already, Demand is below zero.
type Item struct {
	Demand       int64
	Most         int64         // no plan uses more; at least Demand and zero
	Orientations []Orientation // at least one
	Pieces       int64         // number of pieces it represents; at least 1
	Long         bool          // long enough to be held at the saw: see PatternRules.Hold

	// Alone means that the item takes a whole stick and costs nothing to fill: a spare. It has
	// no size; PatternRules.Spare says which bins can serve.
	Alone bool

	// Uncut means that the item needs no cut if it takes a whole stick: see PatternRules.Trim.
	Uncut bool

	// If Offcut is above zero, the item is not a piece but the offcut, at least this long, of a
	// pattern of other items. The pattern is evaluated without it, and the size of its one
	// orientation is Offcut and the kerf of each kind that may have it.
	Offcut int64
}

// SalvageStep is the value of an offcut of at least Length.
type SalvageStep struct{ Length, Value int64 }

// PatternRules has the constraints on patterns besides size, for all bins of the kind.
type PatternRules struct {
	Barred  []bool        // items that cannot be cut from it; nil: none
	Most    int64         // pieces at most; 0: no limit
	Hold    int64         // length of the offcut that is needed if no item is Long; 0: none is
	Kerf    int64         // the length that the last cut takes from the offcut
	Part    [2]int64      // greatest sizes of the two parts of a yard cut; 0: no yard cut
	Trim    [2]bool       // whether the start and the end are cut off; if neither is, an Uncut item may fill a bin without a cut
	Spare   bool          // a whole one can serve as a spare
	Salvage []SalvageStep // of offcuts, ascending in both
}

// Bin is one stick, or one stretch of it.
type Bin struct {
	Cap  int64
	Kind int

	// Own is the cost of one pattern by each criterion, without its offcut and its cuts. A
	// spare costs none of it.
	Own [Criteria]int64
}

// Tier is the price of each stick if at least From are bought.
type Tier struct{ From, Price int64 }

// StockClass is a class of equal sticks. A stick provides one of each of the class's bins.
type StockClass struct {
	Bins    []int
	Limit   int64  // supply
	Most    int64  // the most that can be useful; 0: Limit
	Tiers   []Tier // ascending; the first is From 1
	Bundle  int64  // at least 1
	Minimum int64  // at least 1
	Count   int64  // by how many a stick counts in Sticks, besides its bins
	Idle    int64  // the Salvage of a stick while all its bins are idle
	Settled int64  // number of sticks already fixed: costs count from there; at most Limit
}

// Supplier has a Charge, due once if any stick of its classes is used.
type Supplier struct {
	Charge  int64 // zero if already fixed
	Classes []int
}

// Arc is a step of an assembly of a run: N of an item, at a price.
type Arc struct {
	From, To int // nodes, From < To
	Item     int
	N        int64
	Cost     int64
	Splices  int64 // number of splices it counts
}

// Run is a run with demand one. An assembly is a path of arcs from node 0 to the last node.
type Run struct {
	Nodes int
	Arcs  []Arc // ascending in From
	Most  int   // arcs at most; 0: no limit

	upTo []Use // the most that an assembly takes of each item; computed when needed
}

// Problem asks for the cheapest set of patterns and assemblies that yields every item as often
// as it is demanded and used by runs, within the supply of sticks.
type Problem struct {
	Items     []Item
	Kinds     []PatternRules
	Bins      []Bin
	Classes   []StockClass
	Suppliers []Supplier
	Runs      []Run
	Setbacks  []int64 // per class of ends: how much two parallel neighbors save

	// Exact means that a pattern may no longer be allowed when an item is left out of it, so
	// that surplus items must not be cut.
	Exact bool

	Parting *Parting // shared by problems derived from this one; nil: not counted
}

// The criteria by which plans are compared.
const (
	Price   = iota // money, or length
	Sticks         // sticks cut
	Salvage        // lost value of offcuts: less is better, below zero is a gain
	Cuts
	Splices
	Criteria
)

// Patterns are the same with and without rules.
type (
	Use          = model.Use
	Pattern      = model.Pattern
	PatternCount = model.PatternCount
)

// ClassOf returns the class of each bin.
func (p *Problem) ClassOf() []int {
	of := make([]int, len(p.Bins))
	for c := range p.Classes {
		for _, b := range p.Classes[c].Bins {
			of[b] = c
		}
	}
	return of
}
