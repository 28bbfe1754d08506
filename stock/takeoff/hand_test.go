package takeoff_test

import (
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/takeoff"
)

type point struct{ x, y measure.Length }

// onWall returns the positions of the four corners of a piece of a surround on the wall, from the left
// end's outer corner clockwise. On the saw the piece lies face up with its outer edge away: outer edge
// at y = width, left end at x = 0. Molded trim may be turned in its plane from there, by quarters, and
// never turned over.
func onWall(p stock.Piece, width measure.Length, quarters int) [4]point {
	in := func(e stock.End) measure.Length {
		if e.Kind == stock.EndFlatMiter {
			return e.Setback
		}
		return 0
	}
	c := [4]point{{0, width}, {p.Length, width}, {p.Length - in(p.Right), 0}, {in(p.Left), 0}}
	for range quarters {
		for i, q := range c {
			c[i] = point{-q.y, q.x}
		}
	}
	return c
}

// cutLine returns the direction from outer to inner corner of the left or the right end.
func cutLine(c [4]point, side joint.Side) point {
	outer, inner := c[0], c[3]
	if side == joint.SideRight {
		outer, inner = c[1], c[2]
	}
	return point{inner.x - outer.x, inner.y - outer.y}
}

// The pieces around an opening meet if they are only turned in their plane: two legs of molded casing
// are a left and a right one. Derived.
func TestSurroundIsOneOfEachHand(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Casing: casing(3 * in), Backband: board("band", 5*in/4, in)}
	list, err := takeoff.Take(doorWall(
		takeoff.Opening{At: 2 * measure.Foot, Width: 36 * in},
		takeoff.Opening{Kind: takeoff.OpeningWindow, At: 8 * measure.Foot, Width: 30 * in, Height: 60 * in, Sill: 20 * in},
	), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	// From the saw to the wall, seen from the room: quarters of a turn to the left.
	turns := []struct {
		name     string
		quarters int
	}{{"leg left", 1}, {"leg right", 3}, {"head", 0}, {"bottom", 2}}
	n := 0
	for _, kind := range []string{"door casing", "door backband", "window casing", "window backband"} {
		opening, trim, _ := strings.Cut(kind, " ")
		lines := map[string][2]point{} // where a piece's cuts run on the wall
		for _, q := range turns {
			for _, p := range list.Pieces {
				if strings.HasSuffix(p.Label, kind+" "+q.name) || strings.HasSuffix(p.Label, opening+" "+q.name+" "+trim) {
					width := 3 * in
					if p.Profile == "band" {
						width = in
					}
					c := onWall(p, width, q.quarters)
					lines[q.name] = [2]point{cutLine(c, joint.SideLeft), cutLine(c, joint.SideRight)}
					n++
				}
			}
		}
		meets := func(a string, ai int, b string, bi int) {
			if lines[a][ai] != lines[b][bi] || lines[a][ai].x == 0 || lines[a][ai].y == 0 {
				t.Errorf("%s: the cut of the %s runs %v on the wall, that of the %s %v", kind, a, lines[a][ai], b, lines[b][bi])
			}
		}
		// Laid with the outer edge away, the left leg's upper end lies at the right and the
		// right leg's at the left.
		meets("leg left", 1, "head", 0)
		meets("leg right", 0, "head", 1)
		if strings.HasPrefix(kind, "window") {
			meets("leg left", 0, "bottom", 1)
			meets("leg right", 1, "bottom", 0)
		}
	}
	if n != 14 {
		t.Errorf("%d pieces, want 14", n)
	}

	// So the saw is swung to opposite sides for the two, and opposite sides are kept.
	var hands []joint.Hand
	for _, p := range list.Pieces {
		if !strings.Contains(p.Label, "door casing leg") {
			continue
		}
		side, e := joint.SideLeft, p.Left
		if e.Kind != stock.EndFlatMiter {
			side, e = joint.SideRight, p.Right
		}
		cut, err := joint.NewCut(stock.Profile{Role: stock.RoleCasing}, e)
		if err != nil {
			t.Fatal(err)
		}
		hands = append(hands, cut.Hand(side))
	}
	want := []joint.Hand{{Miter: joint.SideLeft, Keep: joint.SideLeft}, {Miter: joint.SideRight, Keep: joint.SideRight}}
	if len(hands) != 2 || hands[0] != want[0] || hands[1] != want[1] {
		t.Errorf("legs are cut %+v, want %+v", hands, want)
	}
}
