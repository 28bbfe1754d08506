// Package certificate encodes the evidence for a bound as bytes and decodes it. The format is
// documented at optimize.Proof, for independent readers.
//
// Decoding yields only numbers: whether they fit a problem, and what they prove, is for a checker
// to decide.
package certificate

import "iter"

// Leaf is a box of stick counts per class, with the values that prove a lower bound on the cost of
// every plan in it. See optimize.Proof.
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

// Evidence is a proof before encoding, with complete leaves. All of them have the same numbers of
// classes, pieces and charges.
type Evidence struct {
	Unit, LeafBound int64
	Leaves          []Leaf
	Beyond          *Searching // nil: none
}

// All iterates over the leaves.
func (e *Evidence) All() iter.Seq2[int, *Leaf] {
	return func(yield func(int, *Leaf) bool) {
		for k := range e.Leaves {
			if !yield(k, &e.Leaves[k]) {
				return
			}
		}
	}
}
