package takeoff

import (
	"fmt"
	"math"
	"strconv"

	"example.com/longpoint/measure"
)

// Diagonal is a distance at floor level between two corners of a closed room that no wall
// joins. A corner is named by the wall at whose right-hand end it is.
type Diagonal struct {
	From   string         `json:"from"`
	To     string         `json:"to"`
	Length measure.Length `json:"length"` // at most a mile
}

// same reports whether both are between the same two corners.
func (d Diagonal) same(e Diagonal) bool {
	return d.From == e.From && d.To == e.To || d.From == e.To && d.To == e.From
}

// maxDiagonals limits the diagonals of a room.
const maxDiagonals = 32

// wall returns the index of the wall of the name, or -1.
func (r *Room) wall(name string) int {
	for i, w := range r.Walls {
		if w.Name == name {
			return i
		}
	}
	return -1
}

// corner names the corner at the right-hand end of wall i.
func (r *Room) corner(i int) string {
	return r.Walls[i].Name + "/" + r.Walls[(i+1)%len(r.Walls)].Name
}

// across names the diagonal between the right-hand ends of two walls.
func (r *Room) across(from, to int) string {
	a, b := r.corner(from), r.corner(to)
	if b < a {
		a, b = b, a
	}
	return "the diagonal from corner " + a + " to corner " + b
}

// validateDiagonals returns every fault of the diagonals, joined.
func (r *Room) validateDiagonals() error {
	var bad faults
	n := len(r.Walls)
	switch {
	case len(r.Diagonals) == 0:
		return nil
	case len(r.Diagonals) > maxDiagonals:
		bad.Add("diagonals", strconv.Itoa(len(r.Diagonals)), fmt.Sprintf("at most %d", maxDiagonals))
		return bad.Err()
	case !r.closed():
		bad.Add("diagonals", strconv.Itoa(len(r.Diagonals)), "none, because the walls do not close")
		return bad.Err()
	}
	seen := map[[2]int]bool{}
	for i, d := range r.Diagonals {
		at := indexed("diagonals", i)
		from, to := r.wall(d.From), r.wall(d.To)
		if from < 0 {
			bad.Add(at+".from", d.From, "the name of a wall of the room")
		}
		if to < 0 {
			bad.Add(at+".to", d.To, "the name of a wall of the room")
		}
		if from >= 0 && to >= 0 {
			pair := [2]int{min(from, to), max(from, to)}
			switch apart := pair[1] - pair[0]; {
			case apart == 0 || apart == 1 || apart == n-1:
				bad.Add(at+".to", d.To, "a wall whose right-hand end no wall joins with that of "+d.From)
			case seen[pair]:
				bad.Add(at, d.From+" to "+d.To, "a diagonal that is given once")
			}
			seen[pair] = true
		}
		bad.positive(at+".length", d.Length, maxWall)
	}
	return bad.Err()
}

// quadrilateral compares two diagonals with the four walls as lengths only, whatever the
// corners are: given one diagonal, the walls determine the other. It returns false if the room
// does not have four walls and both diagonals, or they do not form triangles.
func (r *Room) quadrilateral() (off, allowed measure.Length, ok bool) {
	if len(r.Walls) != 4 || len(r.Diagonals) != 2 {
		return 0, 0, false
	}
	var given [6]measure.Length // the walls, then the diagonals from the end of wall 3 and of wall 0
	for i, w := range r.Walls {
		given[i] = w.Length
	}
	for _, d := range r.Diagonals {
		if from := r.wall(d.From); from == 1 || from == 3 {
			given[4] = d.Length
		} else {
			given[5] = d.Length
		}
	}
	var sides [6]float64
	for i, l := range given {
		sides[i] = l.Inches()
	}
	second := func(s [6]float64) (float64, bool) {
		x1, y1, ok1 := apex(s[0], s[1], s[4])
		x2, y2, ok2 := apex(s[3], s[2], s[4])
		return math.Hypot(x1-x2, y1+y2), ok1 && ok2
	}
	want, ok := second(sides)
	if !ok {
		return 0, 0, false
	}
	var sum float64 // of the squares of each reading's possible change
	for i, l := range given {
		moved := 1.0
		limit := readingLimit(l)
		if i < 5 {
			s := sides
			s[i] += limit
			longer, ok := second(s)
			if !ok {
				return 0, 0, false
			}
			moved = (longer - want) / limit
		}
		sum += float64(moved * moved * limit * limit)
	}
	return toLength(math.Abs(want - sides[5])), toLength(significance * math.Sqrt(sum)), true
}

// apex returns the third corner of a triangle on a base from the origin to (base, 0) with the
// side a at the origin and b at the other end, and reports whether there is one.
func apex(a, b, base float64) (x, y float64, ok bool) {
	x = (float64(a*a) - float64(b*b) + float64(base*base)) / (2 * base)
	square := float64(a*a) - float64(x*x)
	if square <= 0 {
		return 0, 0, false
	}
	return x, math.Sqrt(square), true
}

// mostOff returns the corner whose walls and diagonal show the greatest deviation from a right
// angle, to a tenth of a degree; it returns false if there is none.
func (r *Room) mostOff() (corner int, angle measure.Angle, ok bool) {
	var most measure.Angle
	for _, d := range r.Diagonals {
		n := len(r.Walls)
		from, to := r.wall(d.From), r.wall(d.To)
		for range 2 { // the corner between, where there is just one
			if (from+2)%n == to {
				k := (from + 1) % n
				a, b := r.Walls[k].Length.Inches(), r.Walls[(k+1)%n].Length.Inches()
				g := d.Length.Inches()
				cos := (float64(a*a) + float64(b*b) - float64(g*g)) / (2 * a * b)
				if a, err := measure.FromDegrees(math.Acos(max(-1, min(cos, 1))) * 180 / math.Pi); err == nil {
					a = a.Round(measure.Degree/10, measure.RoundHalfEven)
					if off := max(a-rightAngle, rightAngle-a); !ok || off > most {
						corner, angle, most, ok = k, a, off, true
					}
				}
			}
			from, to = to, from
		}
	}
	return corner, angle, ok
}
