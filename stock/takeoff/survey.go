package takeoff

import (
	"math"
	"slices"

	"example.com/longpoint/measure"
)

// survey holds the conditions for the readings of a closed room: the walk along the walls must
// end where it began, to the east and to the south, and each diagonal must be as long as the
// walls between its ends make it. Lengths are in inches.
//
// To first order each miss is a sum of errors of the readings, each within its limit. The
// effect of one reading, wrong by any amount, is then compared with the possible sum of all
// others, as a surveyor tests observations for one blunder (Baarda, "A Testing Procedure for
// Use in Geodetic Networks", 1968; from memory).
type survey struct {
	miss    []float64
	errors  [][]float64 // effect of each error at its limit; of the readings
	corners [][]float64 // effect of an inch of deviation of a corner
	wrong   [][]float64 // effect of an inch in each wall, then in each diagonal
	turned  [][]float64 // effect of a radian in the corner at the right of each wall
}

// significance is the number of limits that count as more than chance: three standard
// deviations if errors are uniform within their limits, each of which is 1/√3 of it.
var significance = math.Sqrt(3)

// slack covers rounding errors of float64 in comparisons.
const slack = 1e-9

// readingLimit returns the greatest error of a careful reading of a length, in inches.
func readingLimit(l measure.Length) float64 { return (tapeTolerance(l) + readingTolerance).Inches() }

// toLength returns inches to the nearest tick, at most a hundred miles.
func toLength(inches float64) measure.Length {
	l, err := measure.FromInches(min(inches, 100*maxWall.Inches()))
	if err != nil {
		return 100 * maxWall
	}
	return l
}

// survey sets up the conditions for a closed room and some of its diagonals.
func (w walk) survey(diagonals []Diagonal) survey {
	n, rows := len(w.dirs), 2+len(diagonals)
	s := survey{miss: make([]float64, rows)}
	table := func(n int) [][]float64 {
		rs := make([][]float64, n)
		for i := range rs {
			rs[i] = make([]float64, rows)
		}
		return rs
	}
	s.wrong = table(n + len(diagonals))
	s.corners = table(2 * n)
	s.turned = table(n)

	s.miss[0], s.miss[1] = w.East.Inches(), w.South.Inches()
	for i, u := range w.dirs {
		before, next := w.dirs[(i+n-1)%n], w.at[(i+1)%n]
		copy(s.wrong[i], u[:])
		s.turned[i][0], s.turned[i][1] = next[1], -next[0]
		for x := range 2 {
			for row := range 2 {
				s.corners[2*i+x][row] = float64(before[x]*before[row]) - float64(u[x]*u[row])
			}
		}
	}
	for m, d := range diagonals {
		s.diagonal(w, m, d)
	}
	for i, l := range w.r.Walls {
		s.errors = append(s.errors, scaled(s.wrong[i], readingLimit(l.Length)))
	}
	for m, d := range diagonals {
		s.errors = append(s.errors, scaled(s.wrong[n+m], readingLimit(d.Length)))
	}
	s.errors = append(s.errors, s.angles(w)...)
	return s
}

// diagonal sets up the condition of the m-th diagonal.
func (s *survey) diagonal(w walk, m int, d Diagonal) {
	n, row := len(w.dirs), 2+m
	a, b := (w.r.wall(d.From)+1)%n, (w.r.wall(d.To)+1)%n
	// Taken from the ends of the walk; the part that the walk distributes is deducted from
	// the other two conditions.
	c := [2]float64{w.at[b][0] - w.at[a][0], w.at[b][1] - w.at[a][1]}
	long := math.Hypot(c[0], c[1])
	s.miss[row] = long - d.Length.Inches()
	s.wrong[n+m][row] = -1
	if long == 0 {
		return
	}
	c[0], c[1] = c[0]/long, c[1]/long
	for x := range 2 { // the corners at its ends take it with them
		s.corners[2*a+x][row] += c[x]
		s.corners[2*b+x][row] -= c[x]
	}
	var passed measure.Length
	for i := a; i != b; i = (i + 1) % n {
		passed += w.r.Walls[i].Length
		u := w.dirs[i]
		along := dot(c[:], u[:])
		s.wrong[i][row] = along
		next := (i + 1) % n
		for x := range 2 {
			s.corners[2*i+x][row] -= float64(along * u[x])
			s.corners[2*next+x][row] += float64(along * u[x])
		}
		if next != b {
			p, q := w.at[next], w.at[b]
			s.turned[i][row] = float64(c[1]*(q[0]-p[0])) - float64(c[0]*(q[1]-p[1]))
		}
	}
	share := passed.Inches() / w.Perimeter.Inches()
	for _, table := range [][][]float64{s.wrong, s.corners, s.turned} {
		for _, e := range table {
			e[row] -= float64(share * dot(c[:], e[:2]))
		}
	}
}

// angles returns the effects of the errors of the angles at their limits. The errors cancel:
// together they turn once around. That leaves of each its effect beyond the mean of all,
// weighted by their limits.
func (s *survey) angles(w walk) (errors [][]float64) {
	n, rows := len(s.turned), len(s.miss)
	var weight float64
	mean := make([]float64, rows)
	limits := make([]float64, n)
	limit := w.angleLimit()
	for i := range n {
		limits[i] = limit(w.r.Walls[i].Corner)
		square := float64(limits[i] * limits[i])
		weight += square
		for row := range rows {
			mean[row] += float64(square * s.turned[i][row])
		}
	}
	for i, q := range limits {
		if q == 0 {
			continue
		}
		e := make([]float64, rows)
		for row := range rows {
			e[row] = float64(q * (s.turned[i][row] - mean[row]/weight))
		}
		errors = append(errors, e)
	}
	return errors
}

// angleLimit returns the greatest error of a corner's angle, in radians. A square corner is
// limited by the room's OffSquare; one that takes a share of the excess turn may be off by all
// of it.
func (w walk) angleLimit() func(Corner) float64 {
	off := max(w.Turn, -w.Turn)
	if off > maxTurn {
		off = 0
	}
	all := !slices.ContainsFunc(w.r.Walls, func(w Wall) bool { return w.Corner.Angle == 0 })
	return func(c Corner) float64 {
		switch {
		case c.Angle == 0:
			return off.Radians()
		case c.Angle%rightAngle != 0 || all && off != 0:
			return angleTolerance.Radians()
		}
		return 0
	}
}

func dot(a, b []float64) float64 {
	var sum float64
	for i, x := range a {
		sum += float64(x * b[i])
	}
	return sum
}

func scaled(v []float64, by float64) []float64 {
	out := make([]float64, len(v))
	for i, x := range v {
		out[i] = float64(x * by)
	}
	return out
}

// adjusted is a survey with its misses measured by the possible sums of errors.
type adjusted struct {
	rows  int
	total float64 // square of the miss, in limits
	walls int
	tests []test // of each wall, then of each diagonal
}

// test is the effect of one wrong reading.
type test struct {
	by    float64 // inches by which the reading is too long, if it alone is wrong
	size  float64 // of that, in limits
	least float64 // inches that would certainly be found, if nothing else is off
	rest  float64 // square of the miss that remains, in limits
}

// adjust weighs the misses, given the deviation of corners.
func (s survey) adjust(off measure.Length) adjusted {
	rows := len(s.miss)
	// The sum of the squares of all errors, as a Cholesky factor. A millionth of a
	// square inch keeps it positive where walls run one way only.
	f := make([][]float64, rows)
	for i := range f {
		f[i] = make([]float64, i+1)
		f[i][i] = 1e-6
	}
	add := func(e []float64, by float64) {
		for i := range f {
			for j := range f[i] {
				f[i][j] += float64(e[i] * by * e[j] * by)
			}
		}
	}
	for _, e := range s.errors {
		add(e, 1)
	}
	if off > 0 {
		for _, e := range s.corners {
			add(e, off.Inches())
		}
	}
	for i := range f {
		for j := range i {
			f[i][j] = (f[i][j] - dot(f[i][:j], f[j][:j])) / f[j][j]
		}
		f[i][i] = math.Sqrt(max(1e-9, f[i][i]-dot(f[i][:i], f[i][:i])))
	}
	solve := func(v []float64) []float64 {
		x := make([]float64, rows)
		for i := range x {
			x[i] = (v[i] - dot(f[i][:i], x[:i])) / f[i][i]
		}
		return x
	}
	y := solve(s.miss)
	a := adjusted{rows: rows, total: dot(y, y), walls: len(s.wrong) - (rows - 2)}
	for _, b := range s.wrong {
		z := solve(b)
		long := math.Sqrt(dot(z, z))
		t := test{least: significance / long, rest: a.total}
		if long > 0 {
			t.by = dot(z, y) / long / long
			t.size = math.Abs(dot(z, y)) / long
			t.rest = max(0, a.total-float64(t.size*t.size))
		}
		a.tests = append(a.tests, t)
	}
	return a
}

// worst returns the largest test: the disagreement of the readings, in limits.
func (a adjusted) worst() float64 {
	var worst float64
	for _, t := range a.tests {
		worst = max(worst, t.size)
	}
	return worst
}

// agrees reports whether careful readings may miss by this much.
func (a adjusted) agrees() bool { return a.worst() <= significance+slack }

// explains reports whether one wrong reading alone would account for the miss.
func (a adjusted) explains(t test) bool {
	return t.size > significance+slack && t.rest <= float64(3*float64(a.rows-1))+slack
}

// unseen returns the greatest error of a wall that could go unseen.
func (a adjusted) unseen() measure.Length {
	var most measure.Length
	for _, t := range a.tests[:a.walls] {
		most = max(most, toLength(t.least))
	}
	return most
}

// tolerance returns the possible sum of errors of careful readings in the direction of the
// closing error. The survey must be without diagonals.
func (a adjusted) tolerance(t Traverse) measure.Length {
	if t.Misclosure <= readingTolerance {
		return max(t.Misclosure, a.unseen())
	}
	return toLength(t.Misclosure.Inches() * significance / a.worst())
}
