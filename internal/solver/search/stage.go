package search

import "fmt"

// Stage is a stage that a run goes through.
type Stage uint8

// The stages in their order; lists and dives come more than once. Pairs are searched
// in the whole problem, where it has one bin, and within the tree: a run ends there
// when at least one box of the tree needed it.
const (
	Quick Stage = iota + 1 // a quick plan met the bound by material
	Tight                  // search for a plan that wastes next to nothing
	Root                   // the relaxation
	List                   // search over a list of patterns
	Dive
	Residual
	Improve
	Tree
	Pairs
)

// String returns the stage's name.
func (s Stage) String() string {
	switch s {
	case Quick:
		return "quick"
	case Tight:
		return "tight"
	case Root:
		return "root"
	case List:
		return "list"
	case Dive:
		return "dive"
	case Residual:
		return "residual"
	case Improve:
		return "improve"
	case Tree:
		return "tree"
	case Pairs:
		return "pairs"
	}
	return fmt.Sprintf("stage %d", s)
}
