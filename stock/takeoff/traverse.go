package takeoff

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/measure"
)

// A Traverse is a walk along the walls of a room, closed like a surveyor's traverse.
type Traverse struct {
	// Closed is set if every wall ends in a corner with the next. Otherwise the other fields
	// are zero.
	Closed bool `json:"closed"`

	// Turn is the turn of the corners in excess of once around (360°); zero for a closed room
	// without errors.
	Turn measure.Angle `json:"turn"`

	// Reference names the wall that runs east: the first wall in the direction along and across
	// which the walls have the greatest total length.
	Reference string `json:"reference"`

	// East and South are the end of the walk relative to its start. Misclosure is its distance,
	// to the nearest tick. They are exact if every wall runs along or across Reference.
	East       measure.Length `json:"east"`
	South      measure.Length `json:"south"`
	Misclosure measure.Length `json:"misclosure"`

	// Perimeter is the sum of the walls.
	Perimeter measure.Length `json:"perimeter"`

	// Tolerance is the possible sum of errors of careful readings in the direction of the
	// Misclosure: three standard deviations, if the tape, the reading, the angle of each
	// oblique corner and Room.OffSquare each have a uniform error up to their limits (derived).
	// The limits are those of a metal tape, half a sixteenth, and a quarter degree. A
	// Misclosure that is practically zero has no direction: then it is the greatest error of
	// one wall that could go unseen. It depends neither on the first wall of the list nor on
	// the orientation of the room.
	Tolerance measure.Length `json:"tolerance"`
}

// maxTurn is the greatest excess turn that is treated as a measuring error. More means that a
// corner is missing or of the wrong kind.
const maxTurn = 5 * measure.Degree

// Traverse walks along the walls at floor level, a curved one along its chord. A Turn of at
// most 5° is first distributed equally, as in surveying: among the corners whose angle was not
// given, or among all if every one was. If it is larger, the closing error means nothing.
//
// The error joins a *measure.FieldError for each field that Take would reject.
func (r Room) Traverse() (Traverse, error) {
	if err := cmp.Or(r.size(), r.validate(Scheme{})); err != nil {
		return Traverse{}, err
	}
	w := r.chords().walk()
	if w.Closed {
		w.Tolerance = w.survey(nil).adjust(r.OffSquare).tolerance(w.Traverse)
	}
	return w.Traverse, nil
}

// walk is a traverse with its directions and points.
type walk struct {
	Traverse
	r    *Room
	dirs [][2]float64 // of each wall, to the east and to the south
	at   [][2]float64 // left end of each wall in inches, the error shared in proportion to the walls
}

// closed reports whether every wall ends in a corner with the next.
func (r *Room) closed() bool {
	for _, w := range r.Walls {
		if !w.Corner.joined() {
			return false
		}
	}
	return true
}

func (r *Room) walk() walk {
	t := walk{r: r}
	if !r.closed() {
		return t
	}
	t.Closed = true
	for _, w := range r.Walls {
		t.Turn += w.Corner.turn()
		t.Perimeter += w.Length
	}
	t.Turn -= 2 * halfTurn

	const full = 2 * halfTurn
	hs := r.headings(t.Turn)
	ref := r.reference(hs)
	t.Reference = r.Walls[ref].Name
	var east, south measure.Length // along the four main directions, exactly
	var x, y float64               // the rest
	for i, h := range hs {
		h = (h - hs[ref] + full) % full
		l := r.Walls[i].Length
		dx, dy := direction(h)
		t.dirs = append(t.dirs, [2]float64{dx, dy})
		switch q, rest := quadrant(h); {
		case rest != 0:
			x += float64(dx * float64(l))
			y += float64(dy * float64(l))
		case q == 0:
			east += l
		case q == 1:
			south += l
		case q == 2:
			east -= l
		default:
			south -= l
		}
	}
	t.East = east + measure.Length(math.RoundToEven(x))
	t.South = south + measure.Length(math.RoundToEven(y))
	t.Misclosure = measure.Length(math.RoundToEven(math.Hypot(float64(t.East), float64(t.South))))
	if t.East == 0 || t.South == 0 {
		t.Misclosure = max(t.East, -t.East, t.South, -t.South)
	}

	var p [2]float64
	perimeter := t.Perimeter.Inches()
	for i, w := range r.Walls {
		t.at = append(t.at, p)
		l := w.Length.Inches()
		for k, miss := range []measure.Length{t.East, t.South} {
			p[k] += float64(l*t.dirs[i][k]) - float64(miss.Inches()*l)/perimeter
		}
	}
	return t
}

// reference returns the first wall along or across the direction that has the most wall along
// and across it.
func (r *Room) reference(hs []measure.Angle) int {
	order := make([]int, len(hs))
	for i := range order {
		order[i] = i
	}
	grid := func(i int) measure.Angle { return hs[i] % rightAngle }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(grid(a), grid(b)) })
	best, most := 0, measure.Length(0)
	for k := 0; k < len(order); {
		first, sum := order[k], measure.Length(0)
		for ; k < len(order) && grid(order[k]) == grid(first); k++ {
			sum += r.Walls[order[k]].Length
		}
		if sum > most || sum == most && first < best {
			best, most = first, sum
		}
	}
	return best
}

// headings returns the direction of each wall, clockwise from that of the first, after
// distributing the excess turn among the corners.
func (r *Room) headings(excess measure.Angle) []measure.Angle {
	const full = 2 * halfTurn
	if excess > maxTurn || excess < -maxTurn {
		excess = 0
	}
	n := measure.Angle(0) // corners that take a share
	for _, w := range r.Walls {
		if w.Corner.Angle == 0 {
			n++
		}
	}
	all := n == 0
	if all {
		n = measure.Angle(len(r.Walls))
	}
	hs := make([]measure.Angle, len(r.Walls))
	var h, k measure.Angle
	for i, w := range r.Walls {
		shared := excess/n*k + excess%n*k/n // excess·k/n, far from overflow
		hs[i] = ((h-shared)%full + full) % full
		h = (h + w.Corner.turn()) % full
		if all || w.Corner.Angle == 0 {
			k++
		}
	}
	return hs
}

// quadrant splits a heading of 0° to 360° into quarter turns and a rest.
func quadrant(h measure.Angle) (q int, rest measure.Angle) {
	return int(h / rightAngle), h % rightAngle
}

// direction returns the unit vector of a heading, east and south, exact for
// multiples of 90°.
func direction(h measure.Angle) (east, south float64) {
	q, rest := quadrant(h)
	east, south = math.Cos(rest.Radians()), math.Sin(rest.Radians())
	if rest == 0 {
		east, south = 1, 0
	}
	for ; q > 0; q-- {
		east, south = -south, east
	}
	return east, south
}

// readingTolerance is half a sixteenth, the accuracy of reading a wall; angleTolerance a
// quarter degree, that of an oblique corner (both derived).
const (
	readingTolerance = measure.Inch / 32
	angleTolerance   = measure.Degree / 4
)

// tapeTolerance returns the greatest error of a metal tape at a length ("Dimensional Tolerances
// in Construction and for Surface Accessibility", quoting NIST Handbook 44, 5.52); beyond 100
// ft, a quarter inch for each 100 ft begun (derived).
func tapeTolerance(l measure.Length) measure.Length {
	for _, row := range []struct{ upTo, off measure.Length }{
		{6 * measure.Foot, measure.Inch / 32},
		{30 * measure.Foot, measure.Inch / 16},
		{55 * measure.Foot, measure.Inch / 8},
		{80 * measure.Foot, 3 * measure.Inch / 16},
	} {
		if l <= row.upTo {
			return row.off
		}
	}
	return measure.Inch / 4 * ((l-1)/(100*measure.Foot) + 1)
}
