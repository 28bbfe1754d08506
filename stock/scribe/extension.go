package scribe

import (
	"fmt"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// A Side is one of the sides of a frame.
type Side uint8

const (
	SideLeft Side = iota
	SideRight
	SideHead
	SideSill
)

var sideNames = [...]string{SideLeft: "left", SideRight: "right", SideHead: "head", SideSill: "sill"}

// String returns "left", "right", "head" or "sill".
func (s Side) String() string { return kind.Text("Side", sideNames[:], s) }

// MarshalText writes the name; an unknown side is a [*measure.FieldError].
func (s Side) MarshalText() ([]byte, error) {
	return kind.Marshal("Side", "a side", sideNames[:], s)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (s *Side) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a side", sideNames[:], text, s)
}

// An Extension is a frame that brings a jamb out to the face of the wall, so that casing
// lies on both: two legs and a head, or four sides if there is no stool and no floor. The
// head, and a sill, lie over the ends of the legs.
type Extension struct {
	Depths Depths `json:"depths"`

	// Width and Height are the clear dimensions between the jambs. TopWidth is the width
	// measured again at the head, RightHeight the height measured again at the right jamb;
	// zero means the same, and in JSON is an error.
	Width       measure.Length `json:"width"`
	Height      measure.Length `json:"height"`
	TopWidth    measure.Length `json:"top_width,omitzero" zero:"a width, or nothing if it is the same"`
	RightHeight measure.Length `json:"right_height,omitzero" zero:"a height, or nothing if it is the same"`

	// Thickness is the thickness of the stock. FourSided adds a sill.
	Thickness measure.Length `json:"thickness"`
	FourSided bool           `json:"four_sided,omitempty"`

	// Setback is the width of the jamb edge that the extension leaves exposed; zero means
	// 3/16 in ("Production Jamb Extensions", Journal of Light Construction), and in JSON is
	// an error. Flush means that there is no setback.
	Setback measure.Length `json:"setback,omitzero" zero:"\"flush\": true for none, or nothing for 3/16in"`
	Flush   bool           `json:"flush,omitempty"`

	// Proud is the distance that the extension stands out beyond the wall, usually at most
	// 1/32 in (common practice, no source); zero is flush with the wall.
	Proud measure.Length `json:"proud,omitzero"`

	// Layers are frames of the same stock between the jamb and the extension, from the jamb
	// outward, for a wall that is deeper than the width of a board.
	Layers []Layer `json:"layers,omitempty"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero top width,
// right height or setback is a [*measure.FieldError].
func (e *Extension) UnmarshalJSON(data []byte) error {
	type plain Extension
	return fault.Unmarshal(data, (*plain)(e))
}

// A Layer is one frame of a stack.
type Layer struct {
	Width measure.Length `json:"width"` // part of the depth that it fills, the same all around

	// Setback is the width of the edge of the frame behind it that it leaves exposed; zero
	// means 3/16 in, and in JSON is an error. Flush means that there is no setback.
	Setback measure.Length `json:"setback,omitzero" zero:"\"flush\": true for none, or nothing for 3/16in"`
	Flush   bool           `json:"flush,omitempty"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero setback is
// a [*measure.FieldError].
func (l *Layer) UnmarshalJSON(data []byte) error {
	type plain Layer
	return fault.Unmarshal(data, (*plain)(l))
}

const usualSetback = 3 * measure.Inch / 16

func setback(l measure.Length, flush bool) measure.Length {
	if l == 0 && !flush {
		return usualSetback
	}
	return l
}

// Inset returns the distance from the inner face of the jamb to that of the outermost
// frame: the sum of the setbacks. The opening for the casing is that much wider at either
// side.
func (e Extension) Inset() measure.Length {
	sum := setback(e.Setback, e.Flush)
	for _, l := range e.Layers {
		sum += setback(l.Setback, l.Flush)
	}
	return sum
}

// An ExtensionPart is one board of an extension. Its inner edge is straight and square to
// its ends, and the outer one follows the wall. Left and right are the ends of a head or
// a sill from left to right, and of a leg from the bottom up.
type ExtensionPart struct {
	Side  Side `json:"side"`
	Layer int  `json:"layer"` // from 0 at the jamb; the last one reaches the wall

	Length measure.Length `json:"length"`
	Left   measure.Length `json:"left"`  // width to rip at the left end
	Right  measure.Length `json:"right"` // width to rip at the right end

	// Bow is the width of the board halfway along minus the mean of Left and Right, which
	// is scribed to the wall. It is zero if the depth was not measured there.
	Bow measure.Length `json:"bow,omitzero"`

	// Blank is the width of the parallel strip from which the board is cut: the wider end
	// plus a positive Bow. Taper is the angle between inner and outer edge.
	Blank measure.Length `json:"blank"`
	Taper measure.Angle  `json:"taper,omitzero"`
}

// Parts returns the boards, frame by frame from the jamb outward, each left leg, right leg,
// head and sill. The length of a head is the inner width of the frame plus twice the
// thickness, and that of a leg the inner height of the frame. At its ends, the width of a
// board is the depth of the corner there.
//
// The error joins a [*measure.FieldError] for each field out of range, and for each end of
// a board with no width left, with the depth as its field.
func (e Extension) Parts() ([]ExtensionPart, error) {
	if err := e.validate(); err != nil {
		return nil, err
	}
	topWidth, rightHeight := e.TopWidth, e.RightHeight
	if topWidth == 0 {
		topWidth = e.Width
	}
	if rightHeight == 0 {
		rightHeight = e.Height
	}
	var parts []ExtensionPart
	var inset, filled measure.Length
	add := func(layer int, s Side, length, left, mid, right measure.Length) {
		p := ExtensionPart{Side: s, Layer: layer, Length: length, Left: left, Right: right, Bow: bow(left, mid, right)}
		p.Blank = max(left, right) + max(0, p.Bow)
		if left != right {
			p.Taper = degrees(math.Atan2(float64(max(left-right, right-left)), float64(length)))
		}
		parts = append(parts, p)
	}
	frame := func(layer int, depth func(measure.Length) measure.Length) {
		ends := inset // of the legs
		if e.FourSided {
			ends *= 2
		}
		over := 2*inset + 2*e.Thickness
		d := e.Depths
		bl, br, tl, tr := depth(d.BottomLeft), depth(d.BottomRight), depth(d.TopLeft), depth(d.TopRight)
		mid := func(m measure.Length) measure.Length {
			if m == 0 {
				return 0
			}
			return depth(m)
		}
		add(layer, SideLeft, e.Height+ends, bl, mid(d.Left), tl)
		add(layer, SideRight, rightHeight+ends, br, mid(d.Right), tr)
		add(layer, SideHead, topWidth+over, tl, mid(d.Head), tr)
		if e.FourSided {
			add(layer, SideSill, e.Width+over, bl, mid(d.Sill), br)
		}
	}
	for i, l := range e.Layers {
		inset += setback(l.Setback, l.Flush)
		frame(i, func(measure.Length) measure.Length { return l.Width })
		filled += l.Width
	}
	inset += setback(e.Setback, e.Flush)
	frame(len(e.Layers), func(d measure.Length) measure.Length { return d + e.Proud - filled })
	return parts, nil
}

const maxLayers = 10

func (e Extension) validate() error {
	var bad fault.List
	bad.Under("depths", e.Depths.Validate())
	along := func(field string, l, least measure.Length, want string) {
		if l < least || l > maxAlong {
			bad.Add(field, l.About(), want+", at most a mile")
		}
	}
	along("width", e.Width, 1, "more than zero")
	along("height", e.Height, 1, "more than zero")
	along("top_width", e.TopWidth, 0, "zero or more")
	along("right_height", e.RightHeight, 0, "zero or more")
	across(&bad, "thickness", e.Thickness, 1)
	set := func(at string, l measure.Length, flush bool) {
		if across(&bad, at+"setback", l, 0); flush && l != 0 {
			bad.Add(at+"setback", l.About(), "nothing, because it is flush")
		}
	}
	set("", e.Setback, e.Flush)
	across(&bad, "proud", e.Proud, 0)
	if len(e.Layers) > maxLayers {
		bad.Add("layers", len(e.Layers), fmt.Sprintf("at most %d", maxLayers))
		return bad.Err()
	}
	filled := -e.Proud
	for i, l := range e.Layers {
		at := fmt.Sprintf("layers[%d].", i)
		across(&bad, at+"width", l.Width, 1)
		set(at, l.Setback, l.Flush)
		filled += l.Width
	}
	if len(bad) > 0 {
		return bad.Err()
	}
	d := e.Depths
	for _, f := range []struct {
		name  string
		depth measure.Length
		asked bool
	}{
		{"top_left", d.TopLeft, true}, {"top_right", d.TopRight, true}, {"bottom_left", d.BottomLeft, true}, {"bottom_right", d.BottomRight, true},
		{"left", d.Left, d.Left != 0}, {"right", d.Right, d.Right != 0}, {"head", d.Head, d.Head != 0}, {"sill", d.Sill, d.Sill != 0},
	} {
		if f.asked && f.depth <= filled {
			bad.Add("depths."+f.name, f.depth.About(), fmt.Sprintf("more than %v, or no extension: the jamb, with the frames on it, reaches the wall", filled.About()))
		}
	}
	return bad.Err()
}
