package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// cope decides for each inside corner which of the two ends is coped (or, for
// butt-jointed trim, cut short), and works out the length of every line.
//
// Lines that are linked by such corners form chains. In a chain that has two ends
// the line opposite the entry is the first piece, and from it both ways round each
// next line is coped onto the one before: nobody has two copes. A chain that closes
// on itself has as many corners as lines. A spliced line in it can take two, one for
// each of its parts; without one, each line is coped at its left end.
func (t *taker) cope() error {
	seen := make([]bool, len(t.lines))
	sight := t.sight()
	for i := range t.lines {
		if seen[i] {
			continue
		}
		chain, closed := t.chain(i)
		for _, k := range chain {
			seen[k] = true
		}
		t.orient(chain, closed, sight)
	}
	for i := range t.lines {
		if err := t.size(&t.lines[i]); err != nil {
			return err
		}
	}
	return nil
}

// chain returns the lines that are linked with line i by corners to be coped, from
// left to right, and whether the last is linked with the first.
func (t *taker) chain(i int) (chain []int, closed bool) {
	first := i
	for t.lines[first].left.cope {
		if first = t.lines[first].left.next; first == i {
			closed = true
			break
		}
	}
	chain = append(chain, first)
	for k := first; t.lines[k].right.cope; {
		if k = t.lines[k].right.next; k == first {
			break
		}
		chain = append(chain, k)
	}
	return chain, closed
}

func (t *taker) orient(chain []int, closed bool, sight []measure.Angle) {
	rank := func(k int) (measure.Angle, measure.Length) {
		l := t.lines[k]
		return sight[l.wall], l.to - l.from
	}
	farther := func(a, b int) bool {
		sa, la := rank(a)
		sb, lb := rank(b)
		return sa < sb || (sa == sb && la > lb)
	}
	if !closed {
		root := 0
		for i := range chain {
			if farther(chain[i], chain[root]) {
				root = i
			}
		}
		for i := 1; i <= root; i++ {
			t.fit(&t.lines[chain[i-1]].right)
		}
		for i := root; i < len(chain)-1; i++ {
			t.fit(&t.lines[chain[i+1]].left)
		}
		return
	}

	last := -1 // the spliced line nearest to the entry
	for i, k := range chain {
		if t.spliced(k) && (last < 0 || farther(chain[last], k)) {
			last = i
		}
	}
	if last < 0 || len(chain) < 3 {
		for _, k := range chain {
			t.fit(&t.lines[k].left)
		}
		return
	}
	rest := append(append([]int(nil), chain[last+1:]...), chain[:last]...)
	t.fit(&t.lines[chain[last]].left)
	t.fit(&t.lines[chain[last]].right)
	t.orient(rest, false, sight)
}

// fit makes m the end that is fitted to its neighbor.
func (t *taker) fit(m *meeting) {
	m.end.Kind = stock.Cope
	if t.course.profile.Inside == stock.ButtJointed {
		m.end.Kind = stock.Butt
	}
	m.name = m.end.Kind.String()
}

// sight returns for each wall how far it is from facing the entry: 0 for the wall
// opposite, 180° for the entry's own. Without an entry all are alike.
func (t *taker) sight() []measure.Angle {
	walls := t.room.Walls
	off := make([]measure.Angle, len(walls))
	entry := -1
	for i, w := range walls {
		if t.room.Entry == w.Name {
			entry = i
		}
		for _, o := range w.Openings {
			if t.room.Entry == "" && entry < 0 && (o.Kind == Door || o.Kind == CasedOpening) {
				entry = i
			}
		}
	}
	if entry < 0 {
		return off
	}
	const full = 2 * halfTurn
	var heading measure.Angle
	for k := range walls {
		i := (entry + k) % len(walls)
		off[i] = heading - halfTurn
		if off[i] < 0 {
			off[i] = -off[i]
		}
		heading = ((heading+walls[i].Corner.turn())%full + full) % full
	}
	return off
}

// spliced reports whether a line will not fit the longest stick. It is asked before
// the copes are decided, which change no length by more than a corner's slant.
func (t *taker) spliced(k int) bool {
	longest := t.course.profile.Longest()
	l := t.lines[k]
	return longest > 0 && l.to-l.from > longest
}

// size fills in the two ends of a line, its length and its allowances.
func (t *taker) size(l *line) error {
	w := t.room.Walls[l.wall]
	full := t.spans[l.wall].length
	l.as = append(l.as, stock.Allowance{Name: "wall " + w.Name, Length: full})
	var reach measure.Length
	add := func(name string, x measure.Length) {
		reach += x
		if x != 0 {
			l.as = append(l.as, stock.Allowance{Name: name, Length: x})
		}
	}
	add("left part of the wall", -l.from)
	add("right part of the wall", l.to-full)
	for _, e := range []struct {
		m    *meeting
		side string
		c    Corner
	}{{&l.left, "left", t.room.before(l.wall)}, {&l.right, "right", w.Corner}} {
		m := e.m
		if m == &l.left {
			reach = 0
		}
		cut, err := joint.Of(t.course.profile, m.end)
		if err != nil {
			return t.fault(l, err)
		}
		m.end = cut.End
		if m.end.Kind == stock.Square {
			add("slant of the corner at "+e.side, cut.Allowance)
		} else {
			add(m.name+" at "+e.side, cut.Allowance)
		}
		add(m.why+" in the corner at "+e.side, -m.short)
		if m.end.Kind == stock.Scribe {
			add("scribe at "+e.side, t.opt.Scribe)
		}
		if m.next >= 0 && t.course.standoff > 0 && !e.c.straight() {
			off, err := joint.Offset(t.course.standoff, e.c.angle())
			if err != nil {
				return t.fault(l, err)
			}
			if e.c.Kind == Inside {
				off = -off
			}
			add("base behind it at "+e.side, off)
		}
		if m == &l.left {
			l.reach = reach
		}
	}
	var err error
	if l.length, err = stock.SumAllowances(l.as); err != nil {
		return t.fault(l, err)
	}
	if l.length <= 0 {
		return t.fault(l, fmt.Errorf("its joints take %v more than there is", -l.length))
	}
	return nil
}

// fault turns what makes a line impossible into an error that names its wall.
func (t *taker) fault(l *line, err error) error {
	return &RunError{Run: t.label(l.wall), Length: l.to - l.from, Err: err}
}

func (t *taker) label(wall int) string {
	return t.room.Name + " " + t.room.Walls[wall].Name + " " + t.course.profile.Use.String()
}
