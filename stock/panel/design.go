package panel

import (
	"fmt"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Kind is what paneling is built of.
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

// A Design is how paneling is built. Lengths are more than zero where nothing else is said,
// and at most two miles.
type Design struct {
	Kind Kind `json:"kind,omitzero"`

	// Target is the width that a field should come near to: of a box over all, of a panel
	// as it shows, of the space between two battens. Count is the number of fields of every
	// stretch instead; zero, which in JSON is an error, means what comes nearest to the
	// target. Strips have neither.
	Target measure.Length `json:"target,omitzero"`
	Count  int            `json:"count,omitempty" zero:"1 or more, or nothing for the number that comes nearest to the target"`

	// Graduation is that of a Spacing; zero divides to the tick.
	Graduation measure.Length `json:"graduation,omitzero"`

	// Width is the face of what the fields are built of: the molding of a box, a stile, a
	// batten, a strip (without its tongue).
	Width measure.Length `json:"width"`

	// Gap is between two boxes, Margin before the first and after the last, Below and Above
	// are between them and the edges of their row. A Gap of zero means 3 in ("Wall frames",
	// This Old House, has 2 3/4 to 3 1/2), and any other of zero means the gap. In JSON a zero is an error.
	Gap    measure.Length `json:"gap,omitzero" zero:"more than zero, or nothing for 3in"`
	Margin measure.Length `json:"margin,omitzero" zero:"more than zero, or nothing for the gap"`
	Below  measure.Length `json:"below,omitzero" zero:"more than zero, or nothing for the gap"`
	Above  measure.Length `json:"above,omitzero" zero:"more than zero, or nothing for the gap"`

	// TopRail and BottomRail are the widths of the rails of a frame; zero means the Width.
	// MidRails are the lower edges of others, as wide as the top rail, above the floor,
	// ascending; a row has those that leave an inch of panel below and above.
	TopRail    measure.Length   `json:"top_rail,omitzero" zero:"more than zero, or nothing for the width of a stile"`
	BottomRail measure.Length   `json:"bottom_rail,omitzero" zero:"more than zero, or nothing for the width of a stile"`
	MidRails   []measure.Length `json:"mid_rails,omitempty"`

	// Tongue is how far a rail reaches into the stile at either end; zero if it is butted to
	// it, with dowels or screws. Groove is how far a panel reaches into stiles and rails, all around; zero if it
	// lies behind them. Float is what a panel is made smaller by, in all, so that it can
	// swell.
	Tongue measure.Length `json:"tongue,omitzero"`
	Groove measure.Length `json:"groove,omitzero"`
	Float  measure.Length `json:"float,omitzero"`

	// Clear is how far the plate of a device stays away from what is built; zero if it may
	// touch.
	Clear measure.Length `json:"clear,omitzero"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero that would stand for
// something else is a [*measure.FieldError]: see Count, Gap, Margin, Below, Above, TopRail and
// BottomRail.
func (d *Design) UnmarshalJSON(data []byte) error {
	type plain Design
	return fault.Unmarshal(data, (*plain)(d))
}

// maxRails bounds the rails of a frame between top and bottom.
const maxRails = 100

// Validate returns nil if the design can be built, or a [*measure.FieldError] for every
// fault, joined. It looks at what the Kind uses only.
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
