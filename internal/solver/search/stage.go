package search

import "fmt"

// Stage is a stage of a run.
type Stage uint8

// The stages in order; lists and dives occur more than once.
const (
	Quick Stage = iota + 1 // a quick plan met the material bound
	Tight                  // the search for a plan with almost no waste
	Root                   // the relaxation
	List                   // search over a list of patterns
	Dive
	Improve
	Tree
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
	case Improve:
		return "improve"
	case Tree:
		return "tree"
	}
	return fmt.Sprintf("stage %d", s)
}
