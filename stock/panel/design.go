package panel

import (
	"fmt"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Kind is the kind of paneling.
type Kind uint8

const (
	KindBoxes   Kind = iota // boxes of molding on the wall, mitered at their corners
	KindFrame               // stiles from bottom to top, rails between them, panels in the openings
	KindBattens             // upright battens over a sheet or the wall
	KindStrips              // upright boards edge to edge, such as beadboard
)

var kindNames = [...]string{KindBoxes: "boxes", KindFrame: "frame", KindBattens: "battens", KindStrips: "strips"}

// String returns "boxes", "frame", "battens" or "strips".
func (k Kind) String() string { return kind.Text("Kind", kindNames[:], k) }

// MarshalText writes the name; an unknown kind is a [*measure.FieldError].
func (k Kind) MarshalText() ([]byte, error) {
	return kind.Marshal("Kind", "a kind of paneling", kindNames[:], k)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (k *Kind) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a kind of paneling", kindNames[:], text, k)
}

// A Design describes how paneling is built. Lengths are more than zero unless stated
// otherwise, and at most two miles.
type Design struct {
	Kind Kind `json:"kind,omitzero"`

	// Target is the desired width of a field: the overall width of a box, the visible width
	// of a panel, the space between two battens. Count sets the number of fields of every
	// stretch instead; zero, which in JSON is an error, means the number that comes nearest
	// to the target. Strips have neither.
	Target measure.Length `json:"target,omitzero"`
	Count  int            `json:"count,omitempty" zero:"1 or more, or nothing for the number that comes nearest to the target"`

	// Graduation is the graduation of the Spacing; zero divides to the tick.
	Graduation measure.Length `json:"graduation,omitzero"`

	// Width is the width of the face of the members: the molding of a box, a stile, a
	// batten, a strip (without its tongue).
	Width measure.Length `json:"width"`

	// Gap is the space between two boxes, Margin the space before the first and after the
	// last, and Below and Above are the spaces between boxes and the edges of their row. A
	// Gap of zero means 3 in ("Wall frames", This Old House, has 2 3/4 to 3 1/2), and a
	// zero in any of the others means the gap. In JSON a zero is an error.
	Gap    measure.Length `json:"gap,omitzero" zero:"more than zero, or nothing for 3in"`
	Margin measure.Length `json:"margin,omitzero" zero:"more than zero, or nothing for the gap"`
	Below  measure.Length `json:"below,omitzero" zero:"more than zero, or nothing for the gap"`
	Above  measure.Length `json:"above,omitzero" zero:"more than zero, or nothing for the gap"`

	// TopRail and BottomRail are the widths of the rails of a frame; zero means the Width.
	// MidRails are the heights of the lower edges of further rails above the floor,
	// ascending; they are as wide as the top rail. A row has those that leave an inch of
	// panel below and above.
	TopRail    measure.Length   `json:"top_rail,omitzero" zero:"more than zero, or nothing for the width of a stile"`
	BottomRail measure.Length   `json:"bottom_rail,omitzero" zero:"more than zero, or nothing for the width of a stile"`
	MidRails   []measure.Length `json:"mid_rails,omitempty"`

	// Tongue is the length of a rail inside the stile at either end; zero if the rail is
	// butted, with dowels or screws. Groove is the width of a panel inside stiles and
	// rails, all around; zero if the panel lies behind them. Float is the total amount by
	// which a panel is made smaller so that it can swell.
	Tongue measure.Length `json:"tongue,omitzero"`
	Groove measure.Length `json:"groove,omitzero"`
	Float  measure.Length `json:"float,omitzero"`

	// Clear is the least distance of the plate of a device from a member; zero if it may
	// touch.
	Clear measure.Length `json:"clear,omitzero"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero that would mean a
// default is a [*measure.FieldError]: see Count, Gap, Margin, Below, Above, TopRail and
// BottomRail.
func (d *Design) UnmarshalJSON(data []byte) error {
	type plain Design
	return fault.Unmarshal(data, (*plain)(d))
}

// maxRails bounds the rails of a frame between top and bottom.
const maxRails = 100

// Validate returns nil if the design can be built, or a [*measure.FieldError] for every
// fault, joined. It checks only the fields that the Kind uses.
func (d Design) Validate() error {
	var bad fault.List
	if int(d.Kind) >= len(kindNames) {
		bad.Add("kind", d.Kind, kind.OneOf("a kind of paneling", kindNames[:]))
	}
	if d.Kind != KindStrips {
		counted(&bad, d.Count, "target", d.Target)
		within(&bad, "graduation", d.Graduation, 0)
	}
	within(&bad, "width", d.Width, 1)
	switch d.Kind {
	case KindBoxes:
		within(&bad, "gap", d.Gap, 0)
		within(&bad, "margin", d.Margin, 0)
		within(&bad, "below", d.Below, 0)
		within(&bad, "above", d.Above, 0)
		if d.Target > 0 && d.Width > 0 && d.Width <= maxLength && d.Target <= 2*d.Width && d.Count == 0 {
			bad.Add("target", d.Target.About(), fmt.Sprintf("more than twice the width of the molding, %v", d.Width.About()))
		}
	case KindFrame:
		within(&bad, "top_rail", d.TopRail, 0)
		within(&bad, "bottom_rail", d.BottomRail, 0)
		if len(d.MidRails) > maxRails {
			bad.Add("mid_rails", strconv.Itoa(len(d.MidRails))+" rails", fmt.Sprintf("at most %d", maxRails))
			break
		}
		for i, z := range d.MidRails {
			at := fmt.Sprintf("mid_rails[%d]", i)
			if within(&bad, at, z, 1); i > 0 && z <= d.MidRails[i-1] {
				bad.Add(at, z.About(), "more than the one before")
			}
		}
		within(&bad, "tongue", d.Tongue, 0)
		within(&bad, "groove", d.Groove, 0)
		within(&bad, "float", d.Float, 0)
		if d.Tongue > d.Width/2 {
			bad.Add("tongue", d.Tongue.About(), "at most half the width of a stile")
		}
	}
	within(&bad, "clear", d.Clear, 0)
	return bad.Err()
}

// filled returns a valid design with its defaults filled in.
func (d Design) filled() Design {
	usual := func(l *measure.Length, u measure.Length) {
		if *l == 0 {
			*l = u
		}
	}
	usual(&d.Gap, 3*measure.Inch)
	usual(&d.Margin, d.Gap)
	usual(&d.Below, d.Gap)
	usual(&d.Above, d.Gap)
	usual(&d.TopRail, d.Width)
	usual(&d.BottomRail, d.Width)
	return d
}
