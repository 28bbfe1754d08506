package joint

import (
	"fmt"
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/stock"
)

// Side is left or right, of a piece or of a saw.
type Side uint8

const (
	SideNone Side = iota // neither
	SideLeft
	SideRight
)

var sideNames = [...]string{SideNone: "neither", SideLeft: "left", SideRight: "right"}

// String returns "neither", "left" or "right".
func (s Side) String() string {
	if int(s) < len(sideNames) {
		return sideNames[s]
	}
	return fmt.Sprintf("Side(%d)", uint8(s))
}

// MarshalText writes the name; an unknown side is a [*measure.FieldError].
func (s Side) MarshalText() ([]byte, error) {
	if int(s) < len(sideNames) {
		return []byte(sideNames[s]), nil
	}
	return nil, fault.Field("", s, wantSide)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (s *Side) UnmarshalText(text []byte) error {
	i := slices.Index(sideNames[:], string(text))
	if i < 0 {
		return fault.Field("", string(text), wantSide)
	}
	*s = Side(i)
	return nil
}

const wantSide = "a side: neither, left, right"

func (s Side) other() Side {
	switch s {
	case SideLeft:
		return SideRight
	case SideRight:
		return SideLeft
	}
	return s
}

// Hand tells how a cut is made, as seen by the operator in front of the saw: miter left,
// keep left.
type Hand struct {
	Miter Side `json:"miter,omitzero"` // the saw's arm is set to this side; SideNone for a square cut
	Keep  Side `json:"keep,omitzero"`  // the piece lies to this side of the blade
}

// Hand returns how to make the cut if it is at the given end of the piece (SideLeft or
// SideRight, as named in package stock). The piece stands: base with its bottom on the
// table and its back against the fence, crown nested upside down with its wall edge against
// the fence. Casing lies flat, face up, with its outer edge against the fence, so that the
// upper end of a left leg is at the right and that of a right leg at the left; a piece cut
// for a slope lies the same way, with its upper edge against the fence. For crown on a
// slope, and for the scarf of a soffit, the blade is beveled and the arm stays square. All
// derived.
//
// For any other side, Hand returns the zero Hand.
func (c Cut) Hand(side Side) Hand {
	if side != SideLeft && side != SideRight {
		return Hand{}
	}
	// Upside down, the left side on the wall lies at the right.
	if c.nested() {
		side = side.other()
	}
	h := Hand{Keep: side.other()}
	// At a left end the blade runs from the long point at the back, far and left, to the
	// near side at the right: the arm goes right, toward the piece.
	switch c.End.LongPoint() {
	case stock.SectionBack, stock.SectionOuterEdge, stock.SectionUpperEdge:
		h.Miter = side.other()
	case stock.SectionFace, stock.SectionLowerEdge:
		h.Miter = side
	}
	if c.End.Kind.Raked() && c.sprung || c.End.Kind.Spliced() && c.Standing.Miter == 0 { // only the blade is set
		h.Miter = SideNone
	}
	return h
}
