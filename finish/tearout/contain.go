package tearout

import (
	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Containment holds the figures for containing dust in a room and for verifying that the
// room is clean.
type Containment struct {
	Reach  measure.Length `json:"reach"` // least extent of plastic on the floor beyond the work surfaces; > 0
	Cloth  measure.Area   `json:"cloth"` // of floor for each wet cloth, at most; > 0
	Door   measure.Area   `json:"door"`  // of plastic on a door or an opening; >= 0
	Duct   measure.Area   `json:"duct"`  // of plastic on a register or a grille; >= 0
	Taped  measure.Length `json:"taped"` // of tape around a door; >= 0
	Laps   finish.Waste   `json:"laps"`  // of plastic and tape
	Signs  int64          `json:"signs"` // for each door, and one for a room without doors; >= 0
	Source string         `json:"source,omitempty"`
}

// DefaultContainment returns 6 ft of plastic beyond the work and 40 square feet of floor to
// a cloth (40 CFR 745.85(a)(2) and (b), from memory). Plastic of 4 by 8 ft and 24 ft of
// tape on a door, of 2 by 2 ft on a duct, a sign at each door and 10 % for laps are common
// practice without a source.
func DefaultContainment() Containment {
	return Containment{
		Reach: 6 * measure.Foot, Cloth: 40 * measure.SquareFoot, Door: 32 * measure.SquareFoot, Duct: 4 * measure.SquareFoot,
		Taped: 24 * measure.Foot, Laps: finish.Waste{Share: 10 * measure.Percent}, Signs: 1,
		Source: "40 CFR 745.85(a)(2) and (b), from memory; doors, ducts, signs and laps " + commonPractice,
	}
}

func (c Containment) check() error {
	var f fault.List
	if c.Reach <= 0 || c.Reach > longest {
		f.Add("reach", c.Reach.About(), "more than zero, at most "+longest.About())
	}
	if c.Cloth <= 0 {
		f.Add("cloth", c.Cloth, "more than zero")
	}
	if c.Door < 0 {
		f.Add("door", c.Door, "zero or more")
	}
	if c.Duct < 0 {
		f.Add("duct", c.Duct, "zero or more")
	}
	if c.Taped < 0 {
		f.Add("taped", c.Taped.About(), "zero or more")
	}
	if c.Signs < 0 {
		f.Add("signs", c.Signs, "zero or more")
	}
	if _, err := c.Laps.Apply(finish.Count(1)); err != nil {
		f.Add("laps.share", c.Laps.Share, "at least 0%; at most 1000% of the need, less than 100% of the purchase")
	}
	return f.Err()
}

// Sheet returns the plastic on the floor of a room and the tape along its edges. The
// plastic extends from the trim by Reach. Trim is assumed to be on the walls: the area is
// the smaller of the band along all walls, which is the whole floor of a small room, and of
// a strip around each piece by itself (derived). Part.Count gives the number of separate
// pieces. The dust may require more than this. A result out of range is a
// [*measure.RangeError].
func (c Containment) Sheet(room Room, parts []Part) (plastic measure.Area, tape measure.Length, err error) {
	var t tally
	area, edges := c.sheet(&t, room, parts)
	return measure.Area(area), measure.Length(edges), t.err()
}

// area returns the product of num, among which are two lengths, as an area.
func (t *tally) area(what string, num ...int64) int64 {
	return t.product(append(num, int64(measure.SquareInch)), []int64{int64(measure.Inch), int64(measure.Inch)}, what)
}

func (c Containment) sheet(t *tally, room Room, parts []Part) (area, tape int64) {
	l, w, reach := int64(room.Length), int64(room.Width), int64(c.Reach)
	const floor, edges = "the plastic on the floor", "the tape around it"
	tape = 2 * (l + w)
	if l > 2*reach && w > 2*reach {
		// l w - (l - 2 reach)(w - 2 reach)
		area = t.area(floor, 2, reach, l+w-2*reach)
		t.add(&tape, 2*(l+w-4*reach), edges)
	} else {
		area = t.area(floor, l, w)
	}
	// The strips may overflow even if the band does not.
	var strips tally
	var narrow, around int64
	for _, p := range parts {
		strips.add(&narrow, strips.area(floor, p.count(), int64(p.Length)+2*reach, reach), floor)
		strips.add(&around, strips.product([]int64{2, p.count(), int64(p.Length) + 3*reach}, []int64{1}, edges), edges)
	}
	if strips.bad == "" && narrow < area {
		return narrow, around
	}
	return area, tape
}

// cloths returns the number of wet cloths that verify a room.
func (c Containment) cloths(t *tally, room Room, sheet int64) int64 {
	n := t.product([]int64{sheet}, []int64{int64(c.Cloth)}, "the cloths")
	t.add(&n, room.Sills, "the cloths")
	return n
}
