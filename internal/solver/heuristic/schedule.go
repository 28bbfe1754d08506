package heuristic

import "example.com/longpoint/internal/meter"

// Turn says when a heuristic is tried in a tree of boxes.
type Turn struct {
	Name  string // one of those below
	Every int    // the number of boxes between tries
	Share int64  // a try requires that all tries took at most 1/Share of the tree's work
	Tries int    // failed neighborhoods after which a try ends
}

// The heuristics of turns.
const (
	DiveTurn         = "dive"
	NeighborhoodTurn = "neighborhood"
)

// Schedule tries heuristics by a table, in its order.
type Schedule struct {
	Turns []Turn
	Meter *meter.Meter
	Try   func(t *Turn)
	Spent int64 // steps of all tries, and of other work that counts as one

	running bool
	begun   int64
}

// Box tries the heuristics that are due at a box. The caller numbers the boxes. The tree's work counts from
// the first box on, or from Begin.
func (s *Schedule) Box(n int) {
	s.Begin()
	before := s.Meter.Used()
	var due []*Turn
	for k := range s.Turns {
		t := &s.Turns[k]
		if n%t.Every == 0 && s.Spent <= (before-s.begun)/t.Share {
			due = append(due, t)
		}
	}
	for _, t := range due {
		s.Try(t)
	}
	s.Spent += s.Meter.Used() - before
}

// Begin begins to count the tree's work, the first time that it is called.
func (s *Schedule) Begin() {
	if !s.running {
		s.running, s.begun = true, s.Meter.Used()
	}
}
