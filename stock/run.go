package stock

import (
	"fmt"

	"example.com/longpoint/measure"
)

// A Run is an unbroken line of one profile between two ends, such as a wall from corner to
// corner, a handrail, or the plate of a stud wall. It is cut as one piece, or as several
// spliced pieces.
type Run struct {
	Label   string `json:"label"`             // any text
	Profile string `json:"profile,omitempty"` // name of the section, as Stick.Profile
	Role    Role   `json:"role,omitzero"`     // purpose of the trim
	Room    string `json:"room,omitempty"`    // where it is
	Wall    string `json:"wall,omitempty"`    // on which wall of the room

	// Assembly is the built-up trim of which the run is a member, Order its position in the
	// order of installation, from 1; empty and zero for trim of one member.
	Assembly string `json:"assembly,omitempty"`
	Order    int    `json:"order,omitempty"`

	// Start is the beginning of the run, from the left end of the wall; Net is the length
	// that it covers along the wall, which is the length paid for and finished. Reach is
	// the distance of its left long point to the left of Start, as around an outside
	// corner; negative if the long point lies to the right.
	Start measure.Length `json:"start,omitzero"`
	Net   measure.Length `json:"net"`
	Reach measure.Length `json:"reach,omitzero"`

	// Bottom is the height of the lower edge of its left end above the finished floor, zero
	// if unknown; around a door it is the height above the floor at the left jamb, so it is
	// negative for a leg that goes down to a lower floor. Standoff is the distance from the
	// wall to the back of the run: the members behind it.
	Bottom   measure.Length `json:"bottom,omitzero"`
	Standoff measure.Length `json:"standoff,omitzero"`

	// Slope is the direction from the left end of the run to its right end, from level:
	// positive if it rises to the right, 90° if it stands upright on its left end. Casing
	// has its outer edge to the left of that direction: a leg at the right hangs from its
	// left end (−90°), and a member below a window lies upside down (180°). Start and
	// Bottom of an upright or upside-down run are its left and its lower edge on the wall.
	Slope measure.Angle `json:"slope,omitzero"`

	// Scribe is the line along which an edge is cut to the adjoining surface: the lower
	// edge of base to a floor that is out of level, the outer edge of a jamb extension to
	// the wall, the back edge of a stool around the jambs; nil if no edge is cut. LeanLeft
	// and LeanRight are the distance that the top of an end extends beyond its bottom, away
	// from the run, at a wall that is out of plumb; negative if the top is short of the
	// bottom. Such a run is neither turned nor swapped with another.
	Scribe    []ScribeMark   `json:"scribe,omitempty"`
	LeanLeft  measure.Length `json:"lean_left,omitzero"`
	LeanRight measure.Length `json:"lean_right,omitzero"`

	// DropLeft and DropRight are the drops to which crown is rolled at its ends so that its
	// lower edge is level below a ceiling that is not level; zero if it has the drop of its
	// profile. Its miters are cut with that drop in the saw.
	DropLeft  measure.Length `json:"drop_left,omitzero"`
	DropRight measure.Length `json:"drop_right,omitzero"`

	// Ripped is the overall width to which its stock is ripped, if that is not the width of
	// its profile: for a stile in a corner, or the last board on a wall.
	Ripped measure.Length `json:"ripped,omitzero"`

	// Length is the length of the run as one piece, long point to long point: the sum
	// of the Allowances if there are any.
	Length     measure.Length `json:"length"`
	Left       End            `json:"left,omitzero"`
	Right      End            `json:"right,omitzero"`
	Allowances []Allowance    `json:"allowances,omitempty"`

	// Outline has the corners of a run with a shape of more than four corners, such as the
	// skirt of a stair that is notched over a floor: from the left end of the lower edge to
	// its right end, around, and back. It is nil for all other runs.
	Outline []Point `json:"outline,omitempty"`

	// Splice gives the positions at which the run may be spliced, even if it need not be:
	// other positions, or shorter sticks, give other pieces. Splices holds the positions at
	// which it is spliced.
	Splice  SpliceRule       `json:"splice,omitzero"`
	Splices []measure.Length `json:"splices,omitempty"`

	// Notes describe the work on the run besides its cuts, as those of a Piece do;
	// distances along the run are counted from its left end.
	Notes []RunNote `json:"notes,omitempty"`
}

// A RunNote describes work on a stretch of a run. From and To are counted from the left
// long point; they are equal for a single place, such as an end.
type RunNote struct {
	From measure.Length `json:"from,omitzero"`
	To   measure.Length `json:"to,omitzero"`
	Text string         `json:"text"`
}

// notesOn returns the notes of the part between two places of the run. Distances in them
// are still counted from the left end of the run, as their beginning states.
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

// A Point is a place on a piece that lies on its back: Along its length from the left long
// point, Up from its lower edge. For a profile, Along is the distance out from the wall.
type Point struct {
	Along measure.Length `json:"along"`
	Up    measure.Length `json:"up"`
}
