package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
)

// line is a run being built: an interval of a wall, and the joints at its ends.
type line struct {
	wall        int
	from, to    measure.Length
	left, right meeting
	length      measure.Length // long point to long point
	reach       measure.Length // distance of the left long point beyond from
	as          []stock.Allowance
	gone        bool // nothing is run there

	leanLeft, leanRight measure.Length // projection of the top of an end beyond its foot

	uncut bool // it cannot be cut as measured

	before, after *block // the block at which it ends; nil in a corner
}

// meeting is the joint at one end of a line.
type meeting struct {
	end    stock.End      // its cut; that of a coped corner is decided later
	name   string         // name of the joint's allowance
	next   int            // the line it is joined to, -1 for none
	cope   bool           // the corner is to be coped by one of the two
	short  measure.Length // taken away by an obstacle in the corner
	why    string         // name of that obstacle
	count  *int           // the joint's counter
	own    bool           // this end counts the joint
	corner bool           // the joint goes around a corner
	face   bool           // it dies into a finished face, which must not be pushed
	back   measure.Length // setback of a returned end for the returns in front of it
	near   measure.Length // distance of its return's end from the wall, if it goes to the wall
	behind measure.Length // projection of the course behind the line on the other wall, which has no line
	roll   scribe.Roll    // of crown that is rolled there
}

// span is one wall for a course.
type span struct {
	length      measure.Length
	first, last int // its lines, last exclusive
	left, right int // the lines that reach its corners, -1 for none
	blocks      []block
}

// block is a part of a wall that a course cannot use.
type block struct {
	from, to measure.Length
	lo, hi   measure.Length // above the floor
	depth    measure.Length
	name     string
	ends     stock.EndKind // square, return or scribe
	with     *joining      // the joint of other lines at it; may be nil
	foot     stock.End     // of the trim that turns up a stair there, zero for none
	right    bool          // the foot is at the right
}

// unknownHeight is the assumed top of a fixture whose height was not measured.
const unknownHeight = 2 * maxHeight

// blocks returns the obstacles to the course on a wall, from left to right, clipped to the
// wall.
func (t *taker) blocks(wall int, length measure.Length) []block {
	w := t.room.Walls[wall]
	if (t.course.paneled || t.course.paneling) && !t.paneledAt(wall) {
		return []block{{to: length, name: w.Name}}
	}
	var bs []block
	put := func(b block, lo, hi measure.Length) {
		s := t.section(wall)
		b.from, b.to, b.lo, b.hi = max(s.on(b.from, length), 0), min(s.on(b.to, length), length), lo, hi
		if b.from < b.to {
			bs = append(bs, b)
		}
	}
	add := func(b block, lo, hi measure.Length) {
		if t.stops(wall, lo, hi) && !t.clears(wall, b, hi) {
			put(b, lo, hi)
		}
	}
	for _, g := range w.groups() {
		o := g.Opening
		ends := stock.EndSquare
		if o.Kind == OpeningPlain {
			ends = stock.EndReturn
		}
		for _, b := range t.bands(o) {
			if t.course.paneling && b.part == "stool" {
				continue // paneling is notched around its horns
			}
			add(t.meetsAt(block{from: o.At - b.out, to: o.At + o.Width + b.out, depth: b.depth, name: b.called(w.openingName(g.first)), ends: ends}), b.lo, b.hi)
		}
	}
	for _, f := range w.Fixtures {
		hi := f.Height
		if hi == 0 {
			hi = unknownHeight
		}
		if t.course.ceiling && f.Height == 0 {
			continue
		}
		if _, _, ok := t.notch(wall, f); !ok || t.course.paneling {
			add(t.stopAt(f), f.Bottom, hi)
		}
	}
	lo, hi, _ := t.course.edges(t.room, wall)
	for _, b := range t.stretches(wall) {
		put(b, lo, hi)
	}
	for _, b := range t.oldBase(wall) {
		add(b, b.lo, b.hi)
	}
	bs = append(bs, t.stairBlock(wall, length)...)
	slices.SortStableFunc(bs, func(a, b block) int { return cmp.Compare(a.from, b.from) })
	return bs
}

// bands returns the parts of the wall covered by the trim of an opening that matter to the
// course. Unmeasured parts of a window are in the way of the rails, but not of trim on the
// floor or at the ceiling.
func (t *taker) bands(o Opening) []band {
	low := unknownSill
	if t.course.paneling {
		low = 0 // pieces are not cut to a guess
	}
	if t.course.ceiling && o.Kind == OpeningWindow && (o.Sill == 0 || o.Height == 0) {
		return nil
	}
	if t.course.foot {
		low = max(low, t.course.hi)
	}
	return o.bands(t.scheme.at(o), t.opt, low)
}

// stops reports whether an obstacle from lo to hi above the floor stops the course on a wall.
func (t *taker) stops(wall int, lo, hi measure.Length) bool {
	bottom, top, known := t.course.edges(t.room, wall)
	return known && lo < top && hi > bottom
}

// layOut cuts every wall into lines between the obstacles.
func (t *taker) layOut() {
	for i := range t.room.Walls {
		length := t.room.lengthAt(i, t.course)
		s := span{length: length, first: len(t.lines), left: -1, right: -1, blocks: t.blocks(i, length)}
		var at measure.Length
		var before *block
		run := func(to measure.Length, after *block) {
			if to <= at {
				return
			}
			if (before != nil || after != nil) && to-at < t.narrowest(i, before, after) {
				t.sliver(i, to-at, nameOf(before, after))
				return
			}
			l := line{wall: i, from: at, to: to, left: meeting{next: -1}, right: meeting{next: -1}, before: before, after: after}
			t.end(&l.left, before)
			t.end(&l.right, after)
			l.turn()
			t.lines = append(t.lines, l)
		}
		for _, b := range s.blocks {
			run(b.from, &b)
			if b.to >= at {
				at, before = b.to, &b
			}
		}
		run(length, nil)
		s.last = len(t.lines)
		if s.last > s.first && t.lines[s.first].from == 0 {
			s.left = s.first
		}
		if s.last > s.first && t.lines[s.last-1].to == length {
			s.right = s.last - 1
		}
		t.spans = append(t.spans, s)
	}
	for _, base := range t.behind { // trim that covers other trim, as shoe the foot of a base, is run where that is
		for wall, s := range t.spans {
			k := s.first
			for i := base.spans[wall].first; i < base.spans[wall].last; i++ {
				b := base.lines[i]
				for k < s.last && t.lines[k].to <= b.from {
					k++
				}
				for j := k; b.gone && j < s.last && t.lines[j].from < b.to; j++ {
					if l := &t.lines[j]; !l.gone {
						t.sliver(wall, l.to-l.from, t.beside(l))
						t.lose(j)
					}
				}
			}
		}
	}
}

// tight returns the width of wall that the trim of a neighbor occupies in a square corner.
func (t *taker) tight() measure.Length { return t.course.profile.Projection() + t.course.standoff }

// narrowest returns the width of wall below which a line between two blocks, or between one and
// a corner, is omitted: in an inside corner the width occupied by the neighbor's trim, and at a
// return the projection of the course. Elsewhere nothing is deducted, whatever the standoff of
// the course; but a piece narrower than its thickness is no trim.
func (t *taker) narrowest(wall int, before, after *block) measure.Length {
	least := t.course.profile.Thickness
	for _, b := range [...]*block{before, after} {
		if b != nil && b.ends == stock.EndReturn {
			least = max(least, t.course.profile.Projection())
		}
	}
	at := func(c Corner) {
		if c.Kind == CornerInside {
			least = max(least, min(t.tight(), miterAt(t.tight(), c.angle())))
		}
	}
	if before == nil {
		at(t.room.before(wall))
	}
	if after == nil {
		at(t.room.Walls[wall].Corner)
	}
	return least
}

// sliver reports a piece of wall that is too narrow for the course.
func (t *taker) sliver(wall int, width measure.Length, beside string) {
	t.note(Finding{
		Code: FindingSliver, Severity: SeverityAdvice, Room: t.room.Name, Wall: t.room.Walls[wall].Name, Length: width,
		Reason: fmt.Sprintf("%v of wall beside %s is too narrow for %s; nothing is run there",
			t.opt.words().About(width, t.room.Walls[wall].Length), beside, t.course.profile.Role),
	})
}

func nameOf(before, after *block) string {
	if before != nil {
		return before.name
	}
	return after.name
}

// dying returns the cut of trim with the given ends: if it dies into something, it is square.
func dying(ends stock.EndKind) stock.EndKind {
	if ends == stock.EndButt {
		return stock.EndSquare
	}
	return ends
}

// end sets the joint of a line at a block; at nil the wall ends and the corner decides.
func (t *taker) end(m *meeting, b *block) {
	if b == nil {
		return
	}
	t.terminate(m, b.ends, b.name)
	m.face = b.ends == stock.EndSquare
}

func (t *taker) terminate(m *meeting, how stock.EndKind, name string) {
	m.own, m.name = true, name
	switch how {
	case stock.EndReturn:
		m.end.Kind = how
		m.count = &t.ends.Returns
	case stock.EndScribe:
		m.end.Kind = how
		m.count = &t.ends.Scribes
	default:
		m.count = &t.ends.Stops
	}
}
