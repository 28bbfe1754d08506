package stair

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Joint is the joint between a skirt and the base at its foot and at its head.
type Joint uint8

const (
	// JointBisect is a miter: the upper edges meet, and so do the lower edges. It looks
	// best if base and skirt are equally wide.
	JointBisect Joint = iota
	// JointPlumb is a plumb cut at the place where the skirt is as high as the base, which
	// stays square; a level cut on the floor removes the rest of the skirt. It is the
	// simple way.
	JointPlumb
)

var jointNames = [...]string{JointBisect: "bisect", JointPlumb: "plumb"}

// String returns "bisect" or "plumb".
func (j Joint) String() string { return kind.Text("Joint", jointNames[:], j) }

// MarshalText writes the name; an unknown joint is a [*measure.FieldError].
func (j Joint) MarshalText() ([]byte, error) {
	return kind.Marshal("Joint", "a joint", jointNames[:], j)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (j *Joint) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a joint", jointNames[:], text, j)
}

// A Skirt is a board along a flight, its lower edge on the inner corners of the steps.
type Skirt struct {
	Width measure.Length `json:"width"` // of the board; more than the depth of the steps without their nosings

	// Foot and Head are the heights of the base that it meets on the lower and the upper
	// floor. Zero means no base: the skirt then ends plumb at the first or last riser.
	Foot measure.Length `json:"foot,omitzero"`
	Head measure.Length `json:"head,omitzero"`

	Joint Joint `json:"joint,omitzero"` // with the base
}

// A Board is a skirt as cut, for a flight that rises to the right.
type Board struct {
	Length measure.Length `json:"length"` // of the stock, long point to long point
	Edge   measure.Length `json:"edge"`   // of its upper edge, which is visible
	Plumb  measure.Length `json:"plumb"`  // its height in a plumb section, width/cos

	// AboveNosings is the distance of its upper edge above the line of the nosings, square
	// to it. If it is zero or less, the nosings extend beyond the board.
	AboveNosings measure.Length `json:"above_nosings"`

	// Foot and Head are its ends, with a Setback of zero if a level cut removes a corner.
	// FootBase is the right end of the base on the lower floor, HeadBase the left end of
	// the base on the upper floor.
	Foot     stock.End `json:"foot,omitzero"`
	Head     stock.End `json:"head,omitzero"`
	FootBase stock.End `json:"foot_base,omitzero"`
	HeadBase stock.End `json:"head_base,omitzero"`

	// BaseEnd is the position of the long point of the base on the lower floor, from the
	// first riser to the right: negative in front of the riser. BaseStart is the beginning
	// of the base on the upper floor, from the last riser to the right.
	BaseEnd   measure.Length `json:"base_end,omitzero"`
	BaseStart measure.Length `json:"base_start,omitzero"`

	// FootLevel and HeadLevel are the lengths of the level cuts on the floors.
	FootLevel measure.Length `json:"foot_level,omitzero"`
	HeadLevel measure.Length `json:"head_level,omitzero"`

	// FootLack and HeadLack are the heights of the base above the skirt in a plumb joint if
	// the skirt is too narrow; HeadLack is negative if the skirt is so wide that it is
	// higher than the base at the last riser.
	FootLack measure.Length `json:"foot_lack,omitzero"`
	HeadLack measure.Length `json:"head_lack,omitzero"`

	// Reach is the distance of its left long point before the foot of the first riser,
	// along the slope. Outline has its corners, from the left end of the lower edge
	// counterclockwise: lower edge, head, upper edge, foot.
	Reach   measure.Length `json:"reach,omitzero"`
	Outline []stock.Point  `json:"outline"`
}

// spot is a place on the wall, in ticks from the foot of the first riser.
type spot struct{ x, y float64 }

// Skirt computes the board. Its ends are plumb cuts at the first and the last riser, or
// meet the base. With a base on the upper floor, it is notched over the last riser and the
// floor: the lower edge ends at the riser, goes up it by one rise, and continues along the
// floor.
//
// The error is a [*measure.FieldError] for every fault of the flight, and for a width or a
// height of base out of range (skirt.width, skirt.foot, skirt.head) or an unknown joint
// (skirt.joint), joined; otherwise for a board that is no wider than the depth of the
// steps, or so wide that its ends cross (skirt.width).
func (f Flight) Skirt(s Skirt) (Board, error) {
	var bad fault.List
	bad.Under("", f.Validate())
	length(&bad, "skirt.width", s.Width, 1)
	length(&bad, "skirt.foot", s.Foot, 0)
	length(&bad, "skirt.head", s.Head, 0)
	if int(s.Joint) >= len(jointNames) {
		bad.Add("skirt.joint", s.Joint.String(), kind.OneOf("a joint", jointNames[:]))
	}
	if err := bad.Err(); err != nil {
		return Board{}, err
	}
	k := f.slant()
	if deep := round(float64(f.Rise) * k.cos); s.Width <= deep {
		bad.Add("skirt.width", s.Width.About(), "more than "+deep.About()+", how deep the steps are square to the slope")
		return Board{}, bad.Err()
	}
	c := cutter{f: f, s: s, k: k, plumb: float64(s.Width) / k.cos}
	b := Board{Plumb: round(c.plumb), AboveNosings: s.Width - round(f.depth(k))}
	foot := c.foot(&b)
	head := c.head(&b)
	if c.lay(&b, foot, head); b.Edge <= 0 {
		bad.Add("skirt.width", s.Width.About(), "narrower, or another joint: the cuts at foot and head cross before its upper edge")
		return Board{}, bad.Err()
	}
	return b, nil
}

// cutter computes one board.
type cutter struct {
	f     Flight
	s     Skirt
	k     slant
	plumb float64 // section of the board
}

// overlap returns the distance from the end of the lower edge, to the left at the foot,
// at which the upper edge is as high above the floor as the base; negative if the upper
// edge is lower than the base at that end.
func (c *cutter) overlap(base measure.Length) float64 {
	return (c.plumb - float64(base)) / c.k.tan
}

// plumbEnd returns a plumb cut: on a board that rises to the right, the lower edge is long
// at its left end.
func (c *cutter) plumbEnd(right bool, setback measure.Length) stock.End {
	if right {
		return stock.End{Kind: stock.EndPlumb, Angle: c.k.angle, Setback: setback}
	}
	return stock.End{Kind: stock.EndPlumb, Angle: -c.k.angle, Setback: setback}
}

func (c *cutter) setback() measure.Length { return round(float64(c.s.Width) * c.k.tan) }

// miter returns a miter at an angle from square, with a distance of along between its
// points.
func miter(angle measure.Angle, along float64) stock.End {
	if angle == 0 {
		return stock.End{}
	}
	return stock.End{Kind: stock.EndRake, Angle: angle, Setback: round(math.Abs(along))}
}

// foot returns the corners of the left end from the lower edge to the upper one.
func (c *cutter) foot(b *Board) []spot {
	over := c.overlap(c.s.Foot)
	switch {
	case c.s.Foot == 0:
		b.Foot = c.plumbEnd(false, c.setback())
		return []spot{{0, 0}, {0, c.plumb}}
	case c.s.Joint == JointBisect:
		m := meet(c.k, c.s.Foot, c.s.Width)
		top := spot{-over, float64(c.s.Foot)}
		if c.s.Foot == c.s.Width {
			top.x = -float64(float64(c.s.Foot) * c.k.half())
		}
		b.Foot, b.FootBase = miter(m.Rake, c.along(top)), miter(m.Level, top.x)
		if m.Level > 0 {
			b.BaseEnd = round(top.x) // the upper edge is the longer
		}
		return []spot{{0, 0}, top}
	case over >= 0:
		b.FootLevel = round(over)
		b.BaseEnd = -b.FootLevel
		b.Foot = c.plumbEnd(false, 0)
		if b.FootLevel == 0 {
			b.Foot.Setback = c.setback()
			return []spot{{0, 0}, {0, c.plumb}}
		}
		return []spot{{0, 0}, {-over, 0}, {-over, float64(c.s.Foot)}}
	}
	b.FootLack = c.s.Foot - b.Plumb
	b.Foot = c.plumbEnd(false, c.setback())
	return []spot{{0, 0}, {0, c.plumb}}
}

// head returns the corners of the right end from the lower edge to the upper one.
func (c *cutter) head(b *Board) []spot {
	n := float64(c.f.Risers)
	run, rise := float64(c.f.Run), float64(c.f.Rise)
	last := spot{float64((n - 1) * run), float64((n - 1) * rise)} // the foot of the last riser
	floor := float64(n * rise)
	over := c.overlap(c.s.Head)
	switch {
	case c.s.Head == 0:
		b.Head = c.plumbEnd(true, c.setback())
		return []spot{last, {last.x, last.y + c.plumb}}
	case c.s.Joint == JointBisect:
		m := meet(c.k, c.s.Head, c.s.Width)
		low, top := spot{float64(n * run), floor}, spot{float64(n*run) - over, floor + float64(c.s.Head)}
		if c.s.Head == c.s.Width {
			top.x = low.x - float64(float64(c.s.Head)*c.k.half())
		}
		b.HeadLevel = c.f.Run
		b.Head, b.HeadBase = miter(-m.Rake, c.along(spot{top.x - low.x, float64(c.s.Head)})), miter(-m.Level, top.x-low.x)
		b.BaseStart = c.f.Run
		if m.Level < 0 {
			b.BaseStart = round(top.x - last.x)
		}
		return []spot{last, {last.x, floor}, low, top}
	}
	end := float64(n*run) - over
	if end <= last.x { // the skirt is already higher than the base at the riser
		b.HeadLack = c.s.Head - round(last.y+c.plumb-floor)
		b.Head = c.plumbEnd(true, c.setback())
		return []spot{last, {last.x, last.y + c.plumb}}
	}
	b.Head = c.plumbEnd(true, 0)
	if over < 0 { // the skirt ends before it is as high as the base
		b.HeadLack = c.s.Head - b.Plumb
		end = float64(n * run)
	}
	b.HeadLevel = round(end - last.x)
	b.BaseStart = b.HeadLevel
	top := spot{end, float64(end*c.k.tan) + c.plumb}
	return []spot{last, {last.x, floor}, {end, floor}, top}
}

// along returns the position of a spot along the slope, up its position square to it.
func (c *cutter) along(p spot) float64 { return float64(p.x*c.k.cos) + float64(p.y*c.k.sin) }
func (c *cutter) up(p spot) float64    { return float64(p.y*c.k.cos) - float64(p.x*c.k.sin) }

// lay lays the board flat and measures it.
func (c *cutter) lay(b *Board, foot, head []spot) {
	left, right := math.Inf(1), math.Inf(-1)
	for _, p := range foot {
		left = min(left, c.along(p))
	}
	for _, p := range head {
		right = max(right, c.along(p))
	}
	b.Reach = round(-left)
	b.Length = round(right - left)
	b.Edge = round(c.along(head[len(head)-1]) - c.along(foot[len(foot)-1]))
	point := func(p spot) {
		b.Outline = append(b.Outline, stock.Point{Along: round(c.along(p) - left), Up: round(c.up(p))})
	}
	point(foot[0])
	for _, p := range head {
		point(p)
	}
	for i := len(foot) - 1; i > 0; i-- {
		point(foot[i])
	}
}

// A Rail is a rail or another molding that runs level, then up the flight, then level
// again, at the same plumb height above the floors and the nosings.
type Rail struct {
	Length measure.Length `json:"length"` // of the piece along the flight, long point to long point
	Edge   measure.Length `json:"edge"`   // of its lower edge, from turn to turn

	// FootAt and HeadAt are the positions at which its lower edge turns, from the first
	// riser to the right: one run before the first nosing, and at the last nosing.
	FootAt measure.Length `json:"foot_at"`
	HeadAt measure.Length `json:"head_at"`

	Foot stock.End `json:"foot"` // its ends; those of the level pieces are the same
	Head stock.End `json:"head"`
}

// Rail computes a rail of the width. The error is that of Validate, or a
// [*measure.FieldError] for a width that is not above zero or is above 1,000 ft (width).
func (f Flight) Rail(width measure.Length) (Rail, error) {
	var bad fault.List
	bad.Under("", f.Validate())
	length(&bad, "width", width, 1)
	if err := bad.Err(); err != nil {
		return Rail{}, err
	}
	k := f.slant()
	half := k.angle / 2
	slip := round(float64(width) * k.half())
	r := Rail{
		Edge:   round(k.along(float64(measure.Length(f.Risers) * f.Run))),
		FootAt: -f.Run - f.Nosing, HeadAt: measure.Length(f.Risers-1)*f.Run - f.Nosing,
		Foot: stock.End{Kind: stock.EndRake, Angle: -half, Setback: slip},
		Head: stock.End{Kind: stock.EndRake, Angle: half, Setback: slip},
	}
	r.Length = r.Edge + slip
	return r, nil
}
