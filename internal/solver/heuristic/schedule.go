package heuristic

import "example.com/longpoint/internal/meter"

// Turn says when a heuristic is tried in a tree of boxes.
type Turn struct {
	Name  string // one of those below
	First int    // the box at which it is tried for the first time, whatever others took; 0: as Every has it
	Every int    // then after each so many boxes; 0: not again
	Share int64  // if all tries took one part in so many of the tree's work at most
	Tries int    // neighborhoods in vain
}

// What a turn may try.
const (
	DiveTurn         = "dive"
	NeighborhoodTurn = "neighborhood"
)

// Schedule tries heuristics by a table, in its order.
type Schedule struct {
	Turns []Turn
	Meter *meter.Meter
	Try   func(t *Turn)

	running      bool
	begun, spent int64
}

// Box tries what is due at a box; boxes are numbered by the caller, the tree's work counts from the
// first one on.
func (s *Schedule) Box(n int) {
	s.Begin()
	before := s.Meter.Used()
	var due []*Turn
	for k := range s.Turns {
		t := &s.Turns[k]
		if t.First > 0 && n == t.First || t.Every > 0 && n%t.Every == 0 && s.spent <= (before-s.begun)/t.Share {
			due = append(due, t)
		}
	}
	for _, t := range due {
		s.Try(t)
	}
	s.spent += s.Meter.Used() - before
}

// Begin is when the tree's work begins, once.
func (s *Schedule) Begin() {
	if !s.running {
		s.running, s.begun = true, s.Meter.Used()
	}
}
