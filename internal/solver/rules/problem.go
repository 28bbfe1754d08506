package rules

import "example.com/longpoint/internal/solver/model"

// Orientation is how an item can lie in a bin.
type Orientation struct {
	Size        int64 // capacity that it takes, the cut at its right end included; > half the Setbacks of its ends
	Left, Right int   // classes of its ends, Square where none can nest
}

// Square is the class of an end that saves nothing.
const Square = -1

// Item is a piece, or pieces that stay together, wanted Demand times. Parts of
// runs are wanted as the runs decide; where some of them are cut already, Demand is
// below zero.
type Item struct {
	Demand       int64
	Most         int64         // no plan uses more; at least Demand and zero
	Orientations []Orientation // at least one
	Pieces       int64         // how many pieces it stands for; at least 1
	Long         bool          // holds itself at the saw: see Kind.Hold

	// Alone says that it takes a whole stick and costs nothing to fill: a spare. It
	// has no size; Kind.Spare says which bins can serve.
	Alone bool

	// Uncut says that it needs no cut where it takes a whole stick: see Kind.Trim.
	Uncut bool

	// Offcut, where it is more than zero, makes it no piece but the offcut of a pattern of
	// others, which is to be this long at least. A pattern then comes to what it does
	// without, and the size of its one orientation is Offcut and the kerf of each kind that may
	// have it.
	Offcut int64
}

// SalvageStep is what an offcut of at least Length is worth.
type SalvageStep struct{ Length, Value int64 }

// PatternRules is what a pattern must keep to besides its size, for all bins of the kind.
type PatternRules struct {
	Barred  []bool        // items that cannot be cut from it; nil: none
	Most    int64         // pieces at most; 0: no limit
	Hold    int64         // an offcut this long is needed where no item is Long; 0: none is
	Kerf    int64         // what the last cut takes before there is an offcut
	Part    [2]int64      // sizes of the two parts that a yard cut leaves at most; 0: no yard cut
	Trim    [2]bool       // the start, the end is cut off; where neither is an Uncut item may fill a bin with no cut
	Spare   bool          // a whole one can serve as a spare
	Salvage []SalvageStep // of offcuts, ascending in both
}

// Bin is what one stick, or one stretch of it, offers.
type Bin struct {
	Cap  int64
	Kind int

	// Own is what one pattern costs for each criterion, beyond what its offcut and
	// its cuts come to. A spare costs none of it.
	Own [Criteria]int64
}

// Tier is the price of each stick for who buys at least From.
type Tier struct{ From, Price int64 }

// StockClass is sticks that are alike. A stick gives one of each of the class's bins.
type StockClass struct {
	Bins    []int
	Limit   int64  // how many there are
	Most    int64  // how many can be of use; 0: Limit
	Tiers   []Tier // ascending; the first is From 1
	Bundle  int64  // at least 1
	Minimum int64  // at least 1
	Count   int64  // what a stick of it counts as a stick, where its bins do not
	Idle    int64  // what a stick of it costs of Salvage while all its bins are idle
	Settled int64  // sticks that are settled: costs count from there on; at most Limit
}

// Supplier asks Charge once if a stick of any of its classes is used.
type Supplier struct {
	Charge  int64 // zero where it is settled
	Classes []int
}

// Arc is one step of an assembly of a run: N of an item, for a price.
type Arc struct {
	From, To int // nodes, From < To
	Item     int
	N        int64
	Cost     int64
	Splices  int64 // what it counts by that criterion
}

// Run is wanted once: a path of arcs from node 0 to the last node.
type Run struct {
	Nodes int
	Arcs  []Arc // ascending in From
	Most  int   // arcs at most; 0: no limit

	upTo []Use // what an assembly takes of each item at most; worked out when needed
}

// Problem asks for the cheapest set of patterns and assemblies of the runs that
// yields every item as often as it is wanted and used, from no more sticks than
// there are.
type Problem struct {
	Items     []Item
	Kinds     []PatternRules
	Bins      []Bin
	Classes   []StockClass
	Suppliers []Supplier
	Runs      []Run
	Setbacks  []int64 // per class of ends: what two parallel neighbors save

	// Exact says that a pattern may stop being one when an item is left out of it,
	// so that no more may be cut than is wanted.
	Exact bool
}

// The criteria by which plans can be compared.
const (
	Price   = iota // money, or length
	Sticks         // sticks cut
	Salvage        // lost worth of offcuts: less is better, below zero is a gain
	Cuts
	Splices
	Criteria
)

// A pattern is the same whether there are rules or not.
type (
	Use          = model.Use
	Pattern      = model.Pattern
	PatternCount = model.PatternCount
)

// ClassOf returns for each bin its class.
func (p *Problem) ClassOf() []int {
	of := make([]int, len(p.Bins))
	for c := range p.Classes {
		for _, b := range p.Classes[c].Bins {
			of[b] = c
		}
	}
	return of
}
