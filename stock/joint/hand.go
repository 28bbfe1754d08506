package joint

import (
	"fmt"

	"example.com/longpoint/stock"
)

// Side is left or right.
type Side uint8

const (
	SideNone Side = iota // straight, or of no importance
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

func (s Side) other() Side {
	switch s {
	case SideLeft:
		return SideRight
	case SideRight:
		return SideLeft
	}
	return s
}

// Hand is how a cut is made at a saw whose table turns, by someone who stands before it.
type Hand struct {
	Arm  Side // the arm of the saw is turned to this side
	Keep Side // the piece is what lies to this side of the blade
}

// HandOf returns how the end of a piece at the given side (Left or Right, as package stock
// names them) is cut standing: base with its bottom on the table and its back against the
// fence, crown nested upside down with the edge of the wall against the fence, casing
// flat with its face up and its outer edge against the fence, so that the upper end of a
// left leg lies at the right and that of a right leg at the left. All derived.
//
// It is the zero Hand for a side that is neither, and its Arm is Neither for a cut that
// is square.
func HandOf(p stock.Profile, e stock.End, side Side) Hand {
	if side != SideLeft && side != SideRight {
		return Hand{}
	}
	// Upside down, what is left on the wall lies at the right.
	if p.Role == stock.RoleCrown && e.Kind != stock.EndFlatMiter {
		side = side.other()
	}
	h := Hand{Keep: side.other()}
	// At a left end the blade runs from the long point at the back, far and left, to the
	// near side at the right: the arm goes right, toward the piece.
	switch e.LongPoint() {
	case stock.BackPoint, stock.OuterPoint:
		h.Arm = side.other()
	case stock.FacePoint:
		h.Arm = side
	}
	return h
}
