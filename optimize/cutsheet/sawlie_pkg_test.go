package cutsheet

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// vec is a direction: x to the right along the wall, y into the wall, z up. Of a saw: x to the
// right, y toward the fence, z up.
type vec struct{ x, y, z float64 }

func (v vec) dot(w vec) float64 { return v.x*w.x + v.y*w.y + v.z*w.z }

// outward returns the direction that the plane of a cut at the right end of a piece faces, from the
// geometry of the joint: two walls meet at the corner, and the cut lies in the plane between them.
func outward(p stock.Profile, e stock.End) vec {
	a := e.Corner().Radians()
	sin, cos := math.Sin(a), math.Cos(a)
	switch e.Kind {
	case stock.EndCope, stock.EndInsideMiter:
		// The piece comes from (-1, 0), the other wall goes to (-cos, -sin); between them lies their sum.
		return vec{sin, -(1 + cos), 0}
	case stock.EndOutsideMiter, stock.EndReturn:
		return vec{sin, 1 + cos, 0} // the other wall goes to (-cos, sin)
	case stock.EndFlatMiter:
		return vec{sin, 0, -(1 + cos)} // the corner is in the plane of the wall; the outer edge is up
	case stock.EndButt:
		return vec{sin, -cos, 0} // along the other wall
	case stock.EndPlumb, stock.EndLevel, stock.EndRake:
		return vec{cos, 0, -sin}
	case stock.EndScarfOver, stock.EndScarfUnder:
		if e.Kind == stock.EndScarfOver { // longest at the face
			sin = -sin
		}
		if p.Role == stock.RoleSoffit { // whose back is up
			return vec{cos, 0, -sin}
		}
		return vec{cos, -sin, 0}
	}
	return vec{1, 0, 0}
}

// layOn turns a direction of a piece on the wall as the piece is turned for the saw.
func layOn(p stock.Profile, l sawLie, v vec) vec {
	switch l.name {
	case "nested": // half a turn about the axis into the wall
		return vec{-v.x, v.y, -v.z}
	case "flat": // about its length, until the back faces down
		s := 0.0
		if p.Role.Sprung() && l.fence != "outer edge" {
			s = p.SpringAngle().Radians()
		}
		v = vec{v.x, v.dot(vec{0, -math.Sin(s), math.Cos(s)}), v.dot(vec{0, -math.Cos(s), -math.Sin(s)})}
		if l.fence == "bottom edge" || l.fence == "wall edge" { // half a turn on the table
			v.x, v.y = -v.x, -v.y
		}
	}
	return v
}

func sideOf(x float64) joint.Side {
	switch {
	case math.Abs(x) < 1e-12:
		return joint.SideNone
	case x < 0:
		return joint.SideLeft
	}
	return joint.SideRight
}

func sign(x float64) int {
	switch {
	case math.Abs(x) < 1e-12:
		return 0
	case x < 0:
		return -1
	}
	return 1
}

// The position of the piece, the side kept and the setting of the saw cut exactly the plane of the
// joint: computed by rotating that plane in space.
func TestSawLieFromFirstPrinciples(t *testing.T) {
	rnd := rand.New(rand.NewPCG(17, 6))
	ends := []stock.EndKind{
		stock.EndSquare, stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndScarfOver, stock.EndScarfUnder, stock.EndReturn,
		stock.EndFlatMiter, stock.EndButt, stock.EndScribe, stock.EndPlumb, stock.EndLevel, stock.EndRake,
	}
	roles := []stock.Role{stock.RoleBase, stock.RoleCasing, stock.RoleCrown, stock.RoleBed, stock.RoleSoffit}
	for range 20000 {
		p := stock.Profile{Name: "p", Role: roles[rnd.IntN(len(roles))], Thickness: measure.Inch / 2, Width: 4 * measure.Inch}
		if p.Role.Sprung() {
			p.Spring = measure.Angle(5+rnd.Int64N(80)) * measure.Degree
		}
		e := stock.End{Kind: ends[rnd.IntN(len(ends))]}
		switch {
		case e.Kind.Spliced():
			e.Angle = measure.Angle(1+rnd.Int64N(80)) * measure.Degree
		case e.Kind.Raked():
			e.Angle = measure.Angle(rnd.Int64N(161)-80) * measure.Degree
		case e.Kind.Mitered(), e.Kind == stock.EndButt:
			e.Angle = measure.Angle(10+rnd.Int64N(161)) * measure.Degree
		}
		c, err := joint.NewCut(p, e)
		if err != nil {
			t.Fatal(err)
		}
		side := joint.SideLeft + joint.Side(rnd.IntN(2))
		flat := rnd.IntN(2) == 1
		l := lieOnSaw(p, c, side, flat)
		n := outward(p, c.End)
		if side == joint.SideLeft {
			n.x = -n.x
		}
		n = layOn(p, l, n)

		keep := joint.SideLeft // the cut faces right
		if n.x < 0 {
			keep = joint.SideRight
		}
		// The blade on the table goes from the fence to (dx, -1), and from there up to (lean, 1).
		dx, lean := n.y/n.x, -n.z/n.x
		miter, bevel := math.Atan(math.Abs(dx)), math.Asin(math.Abs(n.z)/math.Sqrt(n.dot(n)))
		long := sawCorner{sign(-n.y), sign(-n.z)}
		if l.keep != keep || l.miter() != sideOf(dx) || l.tilt() != sideOf(lean) || l.long != long ||
			math.Abs(l.set.Miter.Radians()-miter) > 1e-9 || math.Abs(l.set.Bevel.Radians()-bevel) > 1e-9 {
			t.Fatalf("%v %v at the %v of %v, flat %v: %+v, miter %v, tilt %v; want keep %v, miter %v %.9f, tilt %v %.9f, long %v", e.Kind, e.Angle, side, p.Role, flat, l,
				l.miter(), l.tilt(), keep, sideOf(dx), miter, sideOf(lean), bevel, long)
		}
		if l.name == "flat" && l.set.Bevel != 0 && l.tilt() != joint.SideLeft {
			t.Fatalf("%v %v at the %v of %v: the blade tilts %v", e.Kind, e.Angle, side, p.Role, l.tilt())
		}
		// The list of settings says the same.
		if h := c.Hand(side); l.name != "flat" && (h.Keep != l.keep || h.Miter != l.miter()) {
			t.Fatalf("%v %v at the %v of %v: %+v, but the hand is %+v", e.Kind, e.Angle, side, p.Role, l, h)
		}
	}
}

// The table for a piece at a square corner in a saw's manual (Bosch 4412, p. 28, for base; for
// crown derived, its edges as the MS1065LZ's manual has them, p. 24).
func TestSawLieTable(t *testing.T) {
	base := stock.Profile{Name: "base", Role: stock.RoleBase, Thickness: measure.Inch / 2, Width: 5 * measure.Inch}
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: measure.Inch / 2, Width: 4 * measure.Inch}
	const l, r = joint.SideLeft, joint.SideRight
	for _, c := range []struct {
		kind    stock.EndKind
		end     joint.Side // a piece left of a corner is cut at its right
		upright joint.Side // arm of upright base, which is kept at keep[0]
		edge    string     // of flat base to the fence, kept at keep[1]
		flat    string     // of flat crown, kept there too
		arm     joint.Side // of flat crown
		nested  joint.Side // arm of nested crown, kept at keep[2]
		keep    [3]joint.Side
	}{
		{stock.EndInsideMiter, r, l, "top edge", "ceiling edge", r, r, [3]joint.Side{l, l, r}},
		{stock.EndInsideMiter, l, r, "bottom edge", "wall edge", l, l, [3]joint.Side{r, l, l}},
		{stock.EndOutsideMiter, r, r, "bottom edge", "wall edge", l, l, [3]joint.Side{l, r, r}},
		{stock.EndOutsideMiter, l, l, "top edge", "ceiling edge", r, r, [3]joint.Side{r, r, l}},
	} {
		of := func(p stock.Profile, flat bool) sawLie {
			cut, err := joint.NewCut(p, stock.End{Kind: c.kind})
			if err != nil {
				t.Fatal(err)
			}
			return lieOnSaw(p, cut, c.end, flat)
		}
		if l := of(base, false); l.miter() != c.upright || l.keep != c.keep[0] {
			t.Errorf("%v, %v end, base upright: %+v", c.kind, c.end, l)
		}
		if l := of(base, true); l.fence != c.edge || l.keep != c.keep[1] {
			t.Errorf("%v, %v end, base flat: %+v", c.kind, c.end, l)
		}
		if l := of(crown, true); l.fence != c.flat || l.miter() != c.arm || l.keep != c.keep[1] {
			t.Errorf("%v, %v end, crown flat: %+v", c.kind, c.end, l)
		}
		if l := of(crown, false); l.miter() != c.nested || l.keep != c.keep[2] {
			t.Errorf("%v, %v end, crown nested: %+v", c.kind, c.end, l)
		}
	}
}
