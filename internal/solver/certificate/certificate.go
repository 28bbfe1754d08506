// Package certificate writes the evidence for a bound as bytes and reads it back. The form of
// the bytes is documented at optimize.Proof, for whoever reads them without this package.
//
// What it reads it takes for no more than numbers: whether they fit a problem and what
// they show is the business of a check.
package certificate

import "iter"

// Leaf is one box in the space of how often each class of sticks is used, with the values
// that show what a plan in it costs at least. See optimize.Proof.
type Leaf struct {
	Lo, Hi []int64 // per class
	Values []int64 // per piece
	Scale  int64
	Sums   bool
	Parts  []Part // of runs
	Spare  int64  // the value of a spare stick
	Used   []int  // per charge: 1 paid, -1 not paid, 0 either
}

// Part is the value of the parts of a length.
type Part struct{ Length, Value int64 }

// Evidence is a proof as its maker has it: all leaves in full. All of them have the same
// numbers of classes, of pieces and of charges.
type Evidence struct {
	Unit, LeafBound int64
	Leaves          []Leaf
	Beyond          *Searching // nil: nothing
}

// All goes through the leaves.
func (e *Evidence) All() iter.Seq2[int, *Leaf] {
	return func(yield func(int, *Leaf) bool) {
		for k := range e.Leaves {
			if !yield(k, &e.Leaves[k]) {
				return
			}
		}
	}
}
