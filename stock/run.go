package stock

import (
	"fmt"

	"example.com/longpoint/measure"
)

// A Run is an unbroken line of one profile between two ends, such as a wall from corner to
// corner, a handrail, or the plate of a stud wall. It is cut as one piece, or as several
// that are spliced.
type Run struct {
	Label   string `json:"label"`             // any text
	Profile string `json:"profile,omitempty"` // name of the section, as Stick.Profile
	Role    Role   `json:"use,omitzero"`      // what it is, for trim
	Room    string `json:"room,omitempty"`    // where it is
	Wall    string `json:"wall,omitempty"`    // on which wall of the room

	// Assembly is the built-up trim that the run is a member of, Order its place in the order
	// in which the members are put up, from 1; empty and zero for trim of one member.
	Assembly string `json:"assembly,omitempty"`
	Order    int    `json:"order,omitempty"`

	// Start is where the run begins, from the left end of the wall; Net is the length that
	// it covers along the wall, which is what is paid for and finished. Reach is how far its
	// left long point lies beyond Start, to the left, as around an outside corner; negative if it
	// stays short of it.
	Start measure.Length `json:"start,omitzero"`
	Net   measure.Length `json:"net"`
	Reach measure.Length `json:"reach,omitzero"`

	// Bottom is the lower edge of its left end above the finished floor, zero if that is not
	// known; around a door above the floor at its left jamb, so that it is below zero where a leg
	// goes down to a lower floor. Standoff is what is between the wall and its back: the members
	// behind it.
	Bottom   measure.Length `json:"bottom,omitzero"`
	Standoff measure.Length `json:"standoff,omitzero"`

	// Slope is the way from the left end of the run to its right end, from level: more than
	// 0° if it rises to the right, 90° if it stands upright on its left end. Casing has its outer
	// edge to the left of that way: a leg at the right hangs from its left end, −90°, and what is
	// below a window lies upside down, 180°. Start and Bottom of what is upright or upside down
	// are its left and its lower edge on the wall.
	Slope measure.Angle `json:"slope,omitzero"`

	// Scribe is the line along which an edge is cut to what it meets: the lower edge of base to
	// a floor that is out of level, the outer edge of a jamb extension to the wall, the back
	// edge of a stool around the jambs; nil if it is not cut. LeanLeft and LeanRight are how far the top of an end stands out beyond
	// its bottom, away from the run, where it meets a wall that is out of plumb; negative if
	// the top stays short. Such a run is neither turned nor swapped with another.
	Scribe    []ScribeMark   `json:"scribe,omitempty"`
	LeanLeft  measure.Length `json:"lean_left,omitzero"`
	LeanRight measure.Length `json:"lean_right,omitzero"`

	// DropLeft and DropRight are the drops to which crown is rolled at its ends so that its lower
	// edge is level below a ceiling that is not; zero if it lies as its profile says. Its miters
	// are cut with that drop in the saw.
	DropLeft  measure.Length `json:"drop_left,omitzero"`
	DropRight measure.Length `json:"drop_right,omitzero"`

	// Ripped is how wide its stock is ripped, over all, if that is not the width of its profile:
	// of a stile in a corner, or of the last board on a wall.
	Ripped measure.Length `json:"ripped,omitzero"`

	// Length is that of the run as one piece, long point to long point: the sum of the
	// Allowances if there are any.
	Length     measure.Length `json:"length"`
	Left       End            `json:"left,omitzero"`
	Right      End            `json:"right,omitzero"`
	Allowances []Allowance    `json:"allowances,omitempty"`

	// Outline has the corners of what has more edges than two and their ends, such as the skirt
	// of a stair that is notched over a floor: from the left end of the lower edge to its right end,
	// around, and back. Nil for all else.
	Outline []Point `json:"outline,omitempty"`

	// Splice says where the run may be spliced, even if it need not be: another choice of
	// positions, or shorter sticks, give other pieces. Splices holds the positions at which
	// it was spliced.
	Splice  SpliceRule       `json:"splice,omitzero"`
	Splices []measure.Length `json:"splices,omitempty"`

	// Notes say what is done to the run besides its cuts, as those of a Piece do, with what is
	// measured along it counted from its left end.
	Notes []RunNote `json:"notes,omitempty"`
}

// A RunNote says what is done to a stretch of a run. From and To are counted from the left long
// point; they are equal where it is one place, such as an end.
type RunNote struct {
	From measure.Length `json:"from,omitzero"`
	To   measure.Length `json:"to,omitzero"`
	Text string         `json:"text"`
}

// notesOn returns the notes of the part from one place of the run to another. What they say is
// still counted from the left end of the run, which is said first.
func (r *Run) notesOn(from, to measure.Length) []string {
	whole := from <= 0 && to >= r.Length
	var notes []string
	for _, n := range r.Notes {
		if on := n.From < to && n.To > from || n.From == n.To && n.From >= from && n.To <= to; !on {
			continue
		}
		if notes == nil && !whole {
			notes = append(notes, fmt.Sprintf("what follows is measured along the whole run, this part from %v to %v", from.About(r.Length), to.About(r.Length)))
		}
		notes = append(notes, n.Text)
	}
	return notes
}

// A Point is a place on what lies on its back: Along its length from the left long point, Up
// from its lower edge. Of a profile Along is how far it stands out from the wall.
type Point struct {
	Along measure.Length `json:"along"`
	Up    measure.Length `json:"up"`
}
