package cutsheet

import (
	"slices"
	"strconv"
	"strings"
)

// indexRoom is a room in the index, with its pieces by wall.
type indexRoom struct {
	room string
	rows []indexRow
}

// indexRow is a cut of a piece.
type indexRow struct {
	wall  string
	piece int   // as in Pattern.Pieces
	count int64 // number that this cut gives, on all the sticks
	key   string
	cut   int // from 1
	wait  bool
}

// from names the cut of a piece, and the number of pieces if it is more than one.
func (s *Sheet) from(r *indexRow) string {
	text := r.key + " " + strconv.Itoa(r.cut)
	if r.count > 1 {
		text += " (" + s.count(r.count) + ")"
	}
	if r.wait {
		text += ", on hold"
	}
	return text
}

// nameIn returns the name of a piece under its room and wall, without repeating these.
func (s *Sheet) nameIn(i int) string {
	name := s.pieceName(i)
	room, wall := s.place(i)
	for _, known := range [...]string{room, wall} {
		if rest, is := strings.CutPrefix(name, known+" "); is && known != "" && strings.TrimSpace(rest) != "" {
			name = rest
		}
	}
	return name
}

// place returns the room and the wall of a piece; a part has those of its run.
func (s *Sheet) place(i int) (room, wall string) {
	if i >= len(s.problem.Pieces) {
		r := &s.problem.Runs[s.runOf(i)]
		return r.Room, r.Wall
	}
	pc := &s.problem.Pieces[i]
	return pc.Room, pc.Wall
}

// placed reports whether any piece has a room or wall.
func (s *Sheet) placed() bool {
	for i := range len(s.problem.Pieces) + len(s.plan.Parts) {
		if room, wall := s.place(i); room != "" || wall != "" {
			return true
		}
	}
	return false
}

// indexOf lists all the cuts by room and wall: the rooms, their walls and the pieces of each
// wall in the order in which the problem first names them, pieces without a room last, and the
// cuts of a piece in the order of the patterns. Each piece that is cut is in exactly one row.
func (s *Sheet) indexOf() []indexRoom {
	rows := make([][]indexRow, len(s.problem.Pieces)+len(s.plan.Parts)) // by piece
	for k := range s.patterns {
		p := &s.patterns[k]
		for i := range p.cuts {
			c := &p.cuts[i]
			_, wall := s.place(c.piece)
			rows[c.piece] = append(rows[c.piece], indexRow{wall, c.piece, p.total(c), p.key, i + 1, c.wait})
		}
	}
	type spot struct{ room, wall string }
	var spots [][]spot // of each room, in order
	roomAt, spotRows := make(map[string]int), make(map[spot][]indexRow)
	for i, r := range rows {
		var at spot
		at.room, at.wall = s.place(i)
		n, known := roomAt[at.room]
		if !known {
			n = len(spots)
			roomAt[at.room] = n
			spots = append(spots, nil)
		}
		if _, known := spotRows[at]; !known {
			spots[n] = append(spots[n], at)
			spotRows[at] = []indexRow{}
		}
		spotRows[at] = append(spotRows[at], r...)
	}
	index := make([]indexRoom, 0, len(spots))
	if n, some := roomAt[""]; some { // pieces without a room come last
		nameless := spots[n]
		spots = append(slices.Delete(spots, n, n+1), nameless)
	}
	for _, walls := range spots {
		room := indexRoom{room: walls[0].room}
		for _, at := range walls {
			room.rows = append(room.rows, spotRows[at]...)
		}
		if len(room.rows) > 0 {
			index = append(index, room)
		}
	}
	return index
}

const (
	indexHeading = "Where the pieces come from"
	indexNote    = "By room and wall: the letter is the stick's in this list, the number the cut's."
	noRoom       = "No room named"
)
