package takeoff

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"example.com/longpoint/measure"
)

// giveUp finds lines without room because of the joints at their ends. If a miter instead of a
// cope makes room, as on a jog that is shallower than the trim is thick, the corner is mitered;
// else nothing is run there, nor on the two sides of an alcove that is too narrow for both. It
// reports whether the corners must be joined again.
func (t *taker) giveUp() bool {
	changed := false
	var gone []int
	for k := range t.lines {
		l := &t.lines[k]
		switch {
		case l.gone || t.holds(l, false):
		case (l.left.cope || l.right.cope) && t.holds(l, true):
			n := len(t.room.Walls)
			if l.left.cope {
				t.mitered[(l.wall+n-1)%n] = true
			}
			if l.right.cope {
				t.mitered[l.wall] = true
			}
			changed = true
		default:
			gone = append(gone, k)
		}
	}
	for _, k := range gone {
		l := &t.lines[k]
		gone = append(gone, t.facing(l)...)
	}
	slices.Sort(gone)
	for _, k := range slices.Compact(gone) {
		l := &t.lines[k]
		t.sliver(l.wall, l.to-l.from, t.beside(l))
		t.lose(k)
		changed = true
	}
	return changed
}

// facing returns the lines at the two sides of a wall that is too narrow for both, if at least
// half of each lies in the narrow part.
func (t *taker) facing(l *line) []int {
	a, b, n := l.left.next, l.right.next, len(t.room.Walls)
	if a < 0 || b < 0 || n < 3 || t.room.before(l.wall).Kind != CornerInside || t.room.Walls[l.wall].Corner.Kind != CornerInside {
		return nil
	}
	rays := t.plan((l.wall+n-1)%n, 3)
	left, right := t.lines[a], t.lines[b]
	left.right, right.left = meeting{next: -1}, meeting{next: -1} // they run to the wall, which is bare
	common := t.outline(&left, rays[0]).and(t.outline(&right, rays[2]))
	var out []int
	for i, k := range []int{a, b} {
		if t.lines[k].gone || !common.thick() {
			continue
		}
		u, _ := rays[2*i].extent(common)
		if 2*asLength(u[1]-u[0]) >= t.lines[k].to-t.lines[k].from {
			out = append(out, k)
		}
	}
	return out
}

// beside names the end of a line.
func (t *taker) beside(l *line) string {
	walls := t.room.Walls
	name := func(b *block, wall int) string {
		if b != nil {
			return b.name
		}
		return walls[(wall+len(walls))%len(walls)].Name
	}
	return name(l.before, l.wall-1) + " and " + name(l.after, l.wall+1)
}

// lose drops line k, which bares the corners that it reached.
func (t *taker) lose(k int) {
	l := &t.lines[k]
	l.gone = true
	s := &t.spans[l.wall]
	if s.left == k {
		s.left = -1
	}
	if s.right == k {
		s.right = -1
	}
}

// solid is something in plan that trim cannot go through.
type solid struct {
	outline polygon
	box     [4]float64 // west, east, north, south
	pos     int        // its wall, counted from the first in plan
	trim    bool       // of this course; otherwise an obstacle, a course behind it, or
	wall    bool       // the wall itself
}

// maxCrowded is the greatest number of crowded pairs of walls that are reported individually.
const maxCrowded = 100

// crowd reports trim that runs into trim or into a wall that is not its neighbor: in a passage
// that is too narrow, or beside something small in a corner. Walls of a room that closes are
// laid out the shorter way around, so that measurement errors hardly matter.
func (t *taker) crowd() {
	if t.bendsAnywhere() {
		return // its plan would need arcs
	}
	walls := t.room.Walls
	n, open := len(walls), -1
	for i, w := range walls {
		if !w.Corner.joined() {
			open = i
		}
	}
	if open >= 0 {
		for first := (open + 1) % n; ; {
			count := 1
			for walls[(first+count-1)%n].Corner.joined() {
				count++
			}
			t.crowdAmong(first, count, func(p, q int) bool { return true })
			if first = (first + count) % n; first == (open+1)%n {
				return
			}
		}
	}
	turn := -2 * halfTurn
	for _, w := range walls {
		turn += w.Corner.turn()
	}
	if turn > maxTurn || turn < -maxTurn {
		return // no room at all: Check reports it
	}
	t.crowdAmong(0, n, func(p, q int) bool { return 2*(q-p) <= n })
	half := n / 2
	t.crowdAmong(half, n, func(p, q int) bool {
		return 2*(q-p) < n && p < n-half && q >= n-half // around the corner where the first began
	})
}

// crowdAmong checks the given number of walls from the first on, in the pairs for which ask
// returns true.
func (t *taker) crowdAmong(first, count int, ask func(p, q int) bool) {
	rays := t.plan(first, count)
	solids := t.solids(first, rays)
	slices.SortStableFunc(solids, func(a, b solid) int { return cmp.Compare(a.box[0], b.box[0]) })
	told := map[[2]int]measure.Length{}
	for i, x := range solids {
		for _, y := range solids[i+1:] {
			if y.box[0] >= x.box[1] {
				break
			}
			x, y := x, y
			if x.pos > y.pos {
				x, y = y, x
			}
			// What is on one wall was laid out so.
			if x.pos == y.pos || !x.trim && !y.trim || y.box[2] >= x.box[3] || x.box[2] >= y.box[3] || !ask(x.pos, y.pos) {
				continue
			}
			if !x.trim {
				x, y = y, x
			}
			common := x.outline.and(y.outline)
			if !common.thick() {
				continue
			}
			_, v := rays[x.pos].extent(common)
			away := max(0, asLength(v[0]))
			if y.trim {
				away += t.tight()
			}
			i, j := (first+x.pos)%len(t.room.Walls), (first+y.pos)%len(t.room.Walls)
			pair := [2]int{min(i, j), max(i, j)}
			if before, ok := told[pair]; !ok || away < before {
				told[pair] = away
			}
		}
	}
	t.noteCrowded(told)
}

// solids returns everything that trim cannot go through on the walls that the rays lie along,
// of which the first is given.
func (t *taker) solids(first int, rays []ray) []solid {
	solids := make([]solid, 0, 8*len(rays))
	add := func(p polygon, s solid) {
		s.outline = p
		s.box = [4]float64{p[0].x, p[0].x, p[0].y, p[0].y}
		for _, q := range p {
			s.box = [4]float64{min(s.box[0], q.x), max(s.box[1], q.x), min(s.box[2], q.y), max(s.box[3], q.y)}
		}
		solids = append(solids, s)
	}
	for pos, r := range rays {
		wall := (first + pos) % len(t.room.Walls)
		s := t.spans[wall]
		for k := s.first; k < s.last; k++ {
			if l := &t.lines[k]; !l.gone {
				add(t.outline(l, r), solid{pos: pos, trim: true})
				for _, p := range t.returned(l, r) {
					add(p, solid{pos: pos, trim: true})
				}
			}
		}
		const thick = measure.Inch / 16 // of a wall, as far as it matters here
		from, to := t.section(wall).left, s.length-t.section(wall).right
		add(polygon{r.to(from, -thick), r.to(to, -thick), r.to(to, 0), r.to(from, 0)}, solid{pos: pos, wall: true})
		for _, b := range s.blocks {
			if b.depth > 0 {
				add(polygon{r.to(b.from, 0), r.to(b.to, 0), r.to(b.to, b.depth), r.to(b.from, b.depth)}, solid{pos: pos})
			}
		}
		for _, base := range t.hidden() {
			for k := base.spans[wall].first; k < base.spans[wall].last; k++ {
				if l := &base.lines[k]; !l.gone {
					add(base.outline(l, r), solid{pos: pos})
				}
			}
		}
	}
	return solids
}

// noteCrowded reports pairs of walls whose trim is in each other's way, with the room between
// them.
func (t *taker) noteCrowded(told map[[2]int]measure.Length) {
	pairs := slices.SortedFunc(maps.Keys(told), func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
	others := 0
	if len(pairs) > maxCrowded {
		pairs, others = pairs[:maxCrowded], len(pairs)-maxCrowded
	}
	for k, p := range pairs {
		more := ""
		if others > 0 && k == len(pairs)-1 {
			more = fmt.Sprintf("; so do %d other pairs of walls", others)
		}
		a, b := t.room.Walls[p[0]], t.room.Walls[p[1]]
		t.note(Finding{
			Code: FindingSliver, Severity: SeverityDoubt, Room: t.room.Name, Wall: a.Name, Length: told[p], Suspects: []string{a.Name, b.Name},
			Reason: fmt.Sprintf("%s on %s and what is on %s get into each other's way, %s apart%s", t.course.profile.Role, a.Name, b.Name, t.opt.words().about(told[p]), more),
		})
	}
}
