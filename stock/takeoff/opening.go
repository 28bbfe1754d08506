package takeoff

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/scribe"
)

// An OpeningKind is the kind of an opening.
type OpeningKind uint8

const (
	OpeningDoor   OpeningKind = iota
	OpeningWindow             // base passes below it
	OpeningCased              // jambs and casing, no door
	OpeningPlain              // with a drywall or plaster return: no casing, trim is returned
)

var openingNames = [...]string{OpeningDoor: "door", OpeningWindow: "window", OpeningCased: "cased opening", OpeningPlain: "plain opening"}

// String returns "door", "window", "cased opening" or "plain opening".
func (k OpeningKind) String() string {
	return kind.Text("OpeningKind", openingNames[:], k)
}

// MarshalText writes the name; an unknown kind is a *measure.FieldError.
func (k OpeningKind) MarshalText() ([]byte, error) {
	return kind.Marshal("OpeningKind", "a kind of opening", openingNames[:], k)
}

// UnmarshalText reads the name; any other text is a *measure.FieldError.
func (k *OpeningKind) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a kind of opening", openingNames[:], text, k)
}

// An Opening is a hole in a wall, measured between the jambs.
type Opening struct {
	// Name is unique on the wall. Empty means the kind, with a number if the wall has several.
	Name string         `json:"name,omitempty"`
	Kind OpeningKind    `json:"kind,omitzero"`
	At   measure.Length `json:"at"` // near jamb, from the left end of the wall

	// Width and Height are clear between the jambs. Height zero means 80 in for a door or a
	// cased opening; a cased window needs its own.
	Width  measure.Length `json:"width"`
	Height measure.Length `json:"height,omitzero"`

	// TopWidth is the width measured again at the head, and RightHeight the height measured
	// again at the right jamb; zero means the same as Width and Height.
	TopWidth    measure.Length `json:"top_width,omitzero"`
	RightHeight measure.Length `json:"right_height,omitzero"`

	// ArchRise is nonzero if the head is an arc over the width, at most half a circle: the
	// height of its middle above Height, where the jambs end. Its casing is flexible or
	// preformed, from Scheme.Flexible if that has casing; other trim stops at it up to that
	// height.
	ArchRise measure.Length `json:"arch_rise,omitzero"`

	// Sill is the bottom of a window above the floor. Zero means not measured: the window is
	// then assumed to be above the base and in the way of a chair rail.
	Sill measure.Length `json:"sill,omitzero"`

	// Reveal is the width of the jamb's edge that the casing leaves free; zero means 3/16 in
	// (NAVEDTRA 14044, Builder). Flush means none; in JSON a zero is an error.
	Reveal measure.Length `json:"reveal,omitzero" zero:"\"flush\": true for none, or nothing for 3/16in"`
	Flush  bool           `json:"flush,omitempty"`

	// Style is the name of its CasingStyle; empty means the first one of the Scheme for its
	// kind, or the mitered casing if there is none.
	Style string `json:"style,omitempty"`

	// Joined cases the opening together with the next one to its right, with one head and one stool
	// over all and a mullion casing between the two, under the name of the leftmost. They must have
	// the same kind, height, sill, reveal and style.
	Joined bool `json:"joined,omitempty"`

	// Depths are the distances from the jamb's edge to the face of the wall on this side, at
	// the corners and halfway; nil if not measured. They are used by Check, and by a Scheme
	// with an Extension.
	Depths *scribe.Depths `json:"depths,omitempty"`

	// Sash is the distance of a window's sash behind the face of the wall, around which its
	// stool is notched; nil if not measured.
	Sash *scribe.SashDepths `json:"sash,omitempty"`

	// ExistingWidth is the width of an existing casing that stays; no new casing is taken off. Zero
	// means the casing of the Scheme.
	ExistingWidth measure.Length `json:"existing_width,omitzero"`

	// ExistingThickness is the projection of that casing from the wall, including its
	// paint; zero if not measured.
	ExistingThickness measure.Length `json:"existing_thickness,omitzero"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero reveal is a
// *measure.FieldError.
func (o *Opening) UnmarshalJSON(data []byte) error {
	type plain Opening
	return fault.Unmarshal(data, (*plain)(o))
}

const (
	usualReveal     = 3 * measure.Inch / 16
	usualDoorHeight = 80 * measure.Inch
	unknownSill     = measure.Length(2) * measure.Foot
)

func (o Opening) reveal() measure.Length {
	switch {
	case o.Flush:
		return 0
	case o.Reveal == 0:
		return usualReveal
	}
	return o.Reveal
}

func (o Opening) height() measure.Length {
	if o.Height == 0 && o.Kind != OpeningWindow {
		return usualDoorHeight
	}
	return o.Height
}

// rightHeight returns the height at the right jamb.
func (o Opening) rightHeight() measure.Length {
	if o.RightHeight == 0 {
		return o.height()
	}
	return o.RightHeight
}

// topWidth returns the width at the head.
func (o Opening) topWidth() measure.Length {
	if o.TopWidth == 0 {
		return o.Width
	}
	return o.TopWidth
}

// widens returns how much farther the head jamb reaches to either side than the opening below.
func (o Opening) widens() measure.Length { return (o.topWidth() - o.Width) / 2 }

// casing returns the width and thickness of the casing around the opening, with its backband.
// Here and below, the scheme is the result of Scheme.at. The thickness of an existing casing
// that was not measured counts as zero.
func (o Opening) casing(s Scheme) (width, thickness measure.Length) {
	switch {
	case o.Kind == OpeningPlain:
		return 0, 0
	case o.ExistingWidth != 0:
		return o.ExistingWidth, o.ExistingThickness
	case s.Casing != nil && s.Backband != nil:
		return s.Casing.Width + s.Backband.Width - s.BackbandLap, max(s.Casing.Thickness, s.Backband.Thickness)
	case s.Casing != nil:
		return s.Casing.Width, s.Casing.Thickness
	}
	return 0, 0
}

// cased reports whether the scheme's casing goes around the opening.
func (o Opening) cased(s Scheme) bool {
	return s.Casing != nil && o.Kind != OpeningPlain && o.ExistingWidth == 0
}

// margin returns the distance of the casing's outer edge from the jamb.
func (o Opening) margin(s Scheme) measure.Length {
	w, _ := o.casing(s)
	if w == 0 {
		return 0
	}
	return o.reveal() + w
}

// footing returns the distance of a plinth's outer edge from the jamb, and its height; zero if
// there is none.
func (o Opening) footing(s Scheme) (margin, height measure.Length) {
	if s.Plinth == nil || !o.cased(s) || o.Kind == OpeningWindow {
		return 0, 0
	}
	return o.reveal() + s.Plinth.Width, s.plinthHeight()
}

// hasStool reports whether a window gets a stool.
func (o Opening) hasStool(s Scheme) bool {
	return s.Stool != nil && o.Kind == OpeningWindow && o.cased(s)
}
