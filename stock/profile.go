package stock

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Role is the purpose of trim, which determines how it lies on the saw.
type Role uint8

const (
	RoleBase        Role = iota // stands against the fence; mitered through its thickness
	RoleShoe                    // in front of the base, on the floor
	RoleChairRail               // on the wall, at the height of a chair's back
	RolePictureRail             // on the wall, above the doors
	RoleCasing                  // around an opening; lies flat, mitered across its face
	RoleCrown                   // in the angle of wall and ceiling; compound cuts
	RoleStool                   // the inner sill of a window, on which its casing stands
	RoleApron                   // under the stool
	RolePlinth                  // a block at the foot of a casing, into which the base dies
	RoleBackband                // around the outer edge of a casing
	RoleCap                     // on the upper edge of a base or a panel
	RoleFrieze                  // a flat board on the wall, below crown or above the head of a casing
	RoleSoffit                  // a flat board on the ceiling; Width is how far it reaches from the wall
	RoleBed                     // in the angle below crown, sprung like it; one with a flat back is a RoleBand
	RoleBand                    // a flat member above, below or behind another
	RoleBacking                 // strips and blocks behind trim, to nail it to; not seen
	RoleFillet                  // a thin strip between two members, such as head and frieze
	RoleBlock                   // in the corner of a casing, or at the end of one trim against another
	RoleExtension               // widens a jamb to the face of the wall
	RolePanelMold               // a box of molding on a wall or in a panel
	RoleStile                   // an upright of paneling
	RoleRail                    // a horizontal of paneling
	RolePanel                   // the panel that stiles and rails hold
	RoleBatten                  // over the joints of boards
	RoleSkirt                   // along the slope of a stair
)

var roleNames = [...]string{
	RoleBase: "base", RoleShoe: "shoe", RoleChairRail: "chair rail", RolePictureRail: "picture rail",
	RoleCasing: "casing", RoleCrown: "crown", RoleStool: "stool", RoleApron: "apron", RolePlinth: "plinth", RoleBackband: "backband",
	RoleCap: "cap", RoleFrieze: "frieze", RoleSoffit: "soffit", RoleBed: "bed molding", RoleBand: "band", RoleBacking: "backing",
	RoleFillet: "fillet", RoleBlock: "block", RoleExtension: "jamb extension", RolePanelMold: "panel molding",
	RoleStile: "stile", RoleRail: "rail", RolePanel: "panel", RoleBatten: "batten", RoleSkirt: "skirt",
}

// String returns the trade's short name, such as "base" or "chair rail".
func (r Role) String() string { return kind.Text("Role", roleNames[:], r) }

// MarshalText writes the name; an unknown role is a [*measure.FieldError].
func (r Role) MarshalText() ([]byte, error) { return kind.Marshal("Role", "a role", roleNames[:], r) }

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (r *Role) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a role", roleNames[:], text, r)
}

// Sprung reports whether trim of the role leans at its spring angle between the wall and
// the surface above it, as crown and bed molding do. It is cut nested, or flat with a
// bevel.
func (r Role) Sprung() bool { return r == RoleCrown || r == RoleBed }

// InsideJoint is the joint of a profile with itself in an inside corner.
type InsideJoint uint8

const (
	JointCope  InsideJoint = iota // one end square, the other coped over it
	JointMiter                    // both ends mitered
	JointButt                     // one end square, the other short by the thickness: square-edged base, stone
)

var insideNames = [...]string{JointCope: "cope", JointMiter: "miter", JointButt: "butt"}

// String returns "cope", "miter" or "butt".
func (j InsideJoint) String() string { return kind.Text("InsideJoint", insideNames[:], j) }

// MarshalText writes the name; an unknown joint is a [*measure.FieldError].
func (j InsideJoint) MarshalText() ([]byte, error) {
	return kind.Marshal("InsideJoint", "a joint", insideNames[:], j)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (j *InsideJoint) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a joint", insideNames[:], text, j)
}

// A Profile is the section of trim - a molding, a board, a strip of stone or tile - and
// the lengths in which it is sold.
type Profile struct {
	Name     string `json:"name"`               // required and unique
	Material string `json:"material,omitempty"` // name of a Material, or empty
	Role     Role   `json:"role,omitzero"`      // its purpose

	// Thickness is the distance that base and casing stand off the wall. Width is the
	// height of base, the width of the face of casing, the width of crown that lies flat on
	// the table, and the distance that a soffit reaches from the wall.
	Thickness measure.Length `json:"thickness"`
	Width     measure.Length `json:"width"`

	// Face is the developed face: the width that a brush covers across the profile. Zero
	// means Width plus Thickness, as for a flat board with its top edge. In JSON a zero is
	// an error.
	Face measure.Length `json:"face,omitzero" zero:"what a brush covers, or nothing for width plus thickness"`

	// Spring is the angle between the back of crown, or of a bed molding, and the wall (not
	// the ceiling), more than 0° and less than 90°; zero means 38°, and in JSON is an
	// error. Ask the supplier for it: it cannot be computed from the rounded drop and
	// projection of a catalog.
	Spring measure.Angle `json:"spring,omitzero" zero:"more than 0deg, or nothing for 38deg"`

	// Inside is the joint of the profile with itself in an inside corner. Stone and tile
	// are never coped: if the profile has such a Material or a StripJoint, a cope is
	// treated as a butt. ButtSpliced is set if the profile is never scarfed, like stone: a
	// splice is then a square joint that needs no stud.
	Inside      InsideJoint `json:"inside,omitzero"`
	ButtSpliced bool        `json:"butt_spliced,omitempty"`

	// StripJoint is the width of the open joint between two strips of a ButtSpliced
	// profile, which is grouted or sealed. If it is not zero, the strips are laid out along
	// each wall without slivers; see takeoff.Tiling.
	StripJoint measure.Length `json:"strip_joint,omitzero"`

	// Symmetry tells how a piece of the profile may be turned.
	Symmetry Symmetry `json:"symmetry,omitzero"`

	// Lengths are the lengths sold, in any order; EndTrim is the length squared off each
	// end of a new stick. MillShort is the amount by which a delivered stick may be
	// shorter than its nominal length: up to 6 in for specified lengths (mill ordering
	// rules).
	Lengths   []measure.Length `json:"lengths,omitempty"`
	EndTrim   measure.Length   `json:"end_trim,omitzero"`
	MillShort measure.Length   `json:"mill_short,omitzero"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero that would stand
// for a default is a [*measure.FieldError]: see Face and Spring.
func (p *Profile) UnmarshalJSON(data []byte) error {
	type plain Profile
	return fault.Unmarshal(data, (*plain)(p))
}

// SpringAngle returns the spring angle of a sprung profile, with its default of 38°
// filled in.
func (p Profile) SpringAngle() measure.Angle {
	if p.Spring == 0 {
		return 38 * measure.Degree
	}
	return p.Spring
}

// Projection returns the distance that the trim reaches into the room: Thickness, or
// for crown and bed molding Width·sin(spring), to the nearest tick, or for a soffit
// Width.
func (p Profile) Projection() measure.Length {
	switch {
	case p.Role == RoleSoffit:
		return p.Width
	case !p.Role.Sprung():
		return p.Thickness
	case p.SpringAngle() == 30*measure.Degree: // sin 30° is 1/2, which a float64 misses
		return p.Width / 2
	}
	return scale(p.Width, math.Sin(p.SpringAngle().Radians()))
}

// Drop returns the distance that the trim reaches down or up the wall: Width, or for
// crown and bed molding Width·cos(spring), to the nearest tick, or for a soffit
// Thickness.
func (p Profile) Drop() measure.Length {
	switch {
	case p.Role == RoleSoffit:
		return p.Thickness
	case !p.Role.Sprung():
		return p.Width
	case p.SpringAngle() == 60*measure.Degree:
		return p.Width / 2
	}
	return scale(p.Width, math.Cos(p.SpringAngle().Radians()))
}

// scale returns l·f to the nearest tick for |f| <= 1. A width so near the end of
// the range that a float64 cannot hold it is returned as it is; Validate rejects it.
func scale(l measure.Length, f float64) measure.Length {
	x := math.RoundToEven(float64(l) * f)
	if !(math.Abs(x) < 1<<62) {
		return l
	}
	return measure.Length(x)
}

// Developed returns the developed face with its default filled in.
func (p Profile) Developed() measure.Length {
	if p.Face != 0 {
		return p.Face
	}
	sum, err := p.Width.Add(p.Thickness)
	if err != nil {
		return p.Width
	}
	return sum
}

// Longest returns the longest piece that a new stick is guaranteed to yield, with both
// ends squared off; zero means that no length is given and pieces are not limited.
func (p Profile) Longest() measure.Length {
	var longest measure.Length
	for _, l := range p.Lengths {
		longest = max(longest, l)
	}
	if longest == 0 {
		return 0
	}
	return max(0, longest-p.MillShort-2*p.EndTrim)
}

// Sticks returns the lengths sold, as sticks without a price, longest first, each once.
// Length is the guaranteed length, Nominal the length as sold if that is more, and
// TrimStart and TrimEnd are EndTrim. Lengths that yield nothing are omitted.
func (p Profile) Sticks() []Stick {
	var sticks []Stick
	for _, l := range p.Lengths {
		s := Stick{Length: l - p.MillShort, TrimStart: p.EndTrim, TrimEnd: p.EndTrim, Profile: p.Name}
		if p.MillShort < 0 || p.EndTrim < 0 || l <= p.MillShort || s.Length-p.EndTrim <= p.EndTrim {
			continue
		}
		if p.MillShort > 0 {
			s.Nominal = l
		}
		sticks = append(sticks, s)
	}
	slices.SortStableFunc(sticks, func(a, b Stick) int { return cmp.Compare(b.Length, a.Length) })
	return slices.CompactFunc(sticks, func(a, b Stick) bool { return a.Length == b.Length })
}

// maxSection bounds the section of a profile. Trim is inches wide; the bound
// keeps every product of the section with a tangent far from overflow.
const maxSection = 1000 * measure.Foot

// Validate returns nil if the profile is valid, or a [*measure.FieldError] for
// every fault, joined.
func (p Profile) Validate() error {
	var bad fault.List
	if p.Name == "" {
		bad.Add("name", "", "a name")
	}
	if int(p.Role) >= len(roleNames) {
		bad.Add("role", p.Role.String(), kind.OneOf("a role", roleNames[:]))
	}
	if p.Thickness <= 0 || p.Thickness > maxSection {
		bad.Add("thickness", p.Thickness.About(), "more than zero, at most 1000 ft")
	}
	if p.Width <= 0 || p.Width > maxSection {
		bad.Add("width", p.Width.About(), "more than zero, at most 1000 ft")
	}
	if p.Face < 0 {
		bad.Add("face", p.Face.About(), "zero or more")
	}
	if p.Spring < 0 || p.Spring >= rightAngle {
		bad.Add("spring", p.Spring.String(), "more than 0° and less than 90°, or zero for 38°")
	}
	if int(p.Inside) >= len(insideNames) {
		bad.Add("inside", p.Inside.String(), kind.OneOf("a joint", insideNames[:]))
	}
	switch {
	case p.StripJoint < 0 || p.StripJoint > maxSection:
		bad.Add("strip_joint", p.StripJoint.About(), "zero or more, at most 1000 ft")
	case p.StripJoint > 0 && !p.ButtSpliced:
		bad.Add("strip_joint", p.StripJoint.About(), "nothing, because the profile is scarfed, not butt spliced")
	}
	if int(p.Symmetry) >= len(symmetryNames) {
		bad.Add("symmetry", p.Symmetry.String(), kind.OneOf("a symmetry", symmetryNames[:]))
	}
	for i, l := range p.Lengths {
		if l <= 0 || l <= 2*p.EndTrim || l-2*p.EndTrim <= p.MillShort {
			bad.Add(fmt.Sprintf("lengths[%d]", i), l.About(), "more than the two trimmed ends and mill_short")
		}
	}
	if p.EndTrim < 0 || p.EndTrim > maxSection {
		bad.Add("end_trim", p.EndTrim.About(), "zero or more, at most 1000 ft")
	}
	if p.MillShort < 0 || p.MillShort > maxSection {
		bad.Add("mill_short", p.MillShort.About(), "zero or more, at most 1000 ft")
	}
	return bad.Err()
}
