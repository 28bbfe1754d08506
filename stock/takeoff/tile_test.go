package takeoff_test

import (
	"errors"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestLay(t *testing.T) {
	const in = measure.Inch
	s := func(ls ...measure.Length) []measure.Length { return ls }
	for _, c := range []struct {
		name   string
		tiling takeoff.Tiling
		length measure.Length
		want   []measure.Length
	}{
		{"fits", takeoff.Tiling{Strip: 12 * in, Joint: in / 8}, 36*in + in/4, s(12*in, 12*in, 12*in)},
		{"one", takeoff.Tiling{Strip: 12 * in, Joint: in / 8}, 7 * in, s(7 * in)},
		{"centered", takeoff.Tiling{Strip: 12 * in}, 40 * in, s(8*in, 12*in, 12*in, 8*in)},
		// A full strip first would leave a sliver of 1 in; the last two share.
		{"full at left", takeoff.Tiling{Strip: 12 * in, FullLeft: true}, 37 * in, s(12*in, 12*in, 6*in+in/2, 6*in+in/2)},
		{"full at left, good rest", takeoff.Tiling{Strip: 12 * in, FullLeft: true}, 44 * in, s(12*in, 12*in, 12*in, 8*in)},
		{"full at right", takeoff.Tiling{Strip: 12 * in, FullRight: true}, 37 * in, s(6*in+in/2, 6*in+in/2, 12*in, 12*in)},
		{"full at both", takeoff.Tiling{Strip: 12 * in, FullLeft: true, FullRight: true}, 44 * in, s(12*in, 12*in, 8*in, 12*in)},
		{"full at both, sliver", takeoff.Tiling{Strip: 12 * in, FullLeft: true, FullRight: true}, 37 * in, s(12*in, 6*in+in/2, 6*in+in/2, 12*in)},
		{"two, both seen", takeoff.Tiling{Strip: 12 * in, FullLeft: true, FullRight: true}, 20 * in, s(12*in, 8*in)},
		{"three, both seen", takeoff.Tiling{Strip: 12 * in, FullLeft: true, FullRight: true}, 32 * in, s(12*in, 8*in, 12*in)},
	} {
		got, err := c.tiling.Lay(c.length)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		} else if d := cmp.Diff(c.want, got.Strips); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, d)
		}
	}
	for field, x := range map[string]struct {
		tiling takeoff.Tiling
		length measure.Length
	}{
		"strip":  {takeoff.Tiling{}, in},
		"joint":  {takeoff.Tiling{Strip: in, Joint: in}, in},
		"length": {takeoff.Tiling{Strip: in}, 0},
	} {
		var fe *measure.FieldError
		if _, err := x.tiling.Lay(x.length); !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	var fe *measure.FieldError
	if _, err := (takeoff.Tiling{Strip: 1}).Lay(in); !errors.As(err, &fe) || fe.Field != "strip" {
		t.Errorf("two million strips: %v", err)
	}
}

// Strips and joints fill the wall, with as few strips as possible and no sliver.
func TestNoSlivers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tiling := takeoff.Tiling{
			Strip: measure.Length(rapid.IntRange(1, 1000).Draw(t, "strip")), FullLeft: rapid.Bool().Draw(t, "left"), FullRight: rapid.Bool().Draw(t, "right"),
		}
		tiling.Joint = measure.Length(rapid.IntRange(0, int(tiling.Strip)-1).Draw(t, "joint"))
		length := measure.Length(rapid.IntRange(1, 9000).Draw(t, "length"))
		got, err := tiling.Lay(length)
		if err != nil {
			t.Fatal(err)
		}
		n := measure.Length(len(got.Strips))
		sum := (n - 1) * tiling.Joint
		for i, s := range got.Strips {
			sum += s
			if s <= 0 || s > tiling.Strip || (n > 1 && 2*s < tiling.Strip-tiling.Joint-1) {
				t.Fatalf("strip %d of %v", i, got.Strips)
			}
		}
		if sum != length || len(got.Joints) != len(got.Strips)-1 || (n > 1 && (n-1)*tiling.Strip+(n-2)*tiling.Joint >= length) {
			t.Fatalf("%v fills %v of %v", got.Strips, sum, length)
		}
		if n > 1 && tiling.FullLeft && got.Strips[0] != tiling.Strip && !(n == 2) {
			t.Fatalf("not full at left: %v", got.Strips)
		}
		if n > 2 && tiling.FullRight && got.Strips[n-1] != tiling.Strip && !(n == 3 && tiling.FullLeft) {
			t.Fatalf("not full at right: %v", got.Strips)
		}
		if !tiling.FullLeft && !tiling.FullRight && n > 1 {
			if d := got.Strips[0] - got.Strips[n-1]; d < -1 || d > 1 {
				t.Fatalf("not centered: %v", got.Strips)
			}
		}
	})
}

// A tile base in a room: full tiles begin at the outside corner, joints at casing and
// inside corners are for sealant, and every wall is filled.
func TestTileBase(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	tile := &stock.Profile{
		Name: "tile", Material: "ceramic tile", Thickness: 3 * in / 8, Width: 4 * in, Inside: stock.JointButt, ButtSpliced: true,
		StripJoint: in / 16, Lengths: []measure.Length{ft},
	}
	r := takeoff.Room{Name: "cloakroom", Walls: []takeoff.Wall{
		{Name: "A", Length: 5 * ft},
		{Name: "B", Length: 3 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerOutside}},
		{Name: "C", Length: 4 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	list := take(t, r, takeoff.Scheme{Base: tile})
	// A: from the stop (1/8 in) to the corner, where it runs through. B: short by A's 3/8 in and 1/8 in
	// of sealant, longer by its own 3/8 at the outside corner, less half a joint there. C: likewise, to
	// the stop.
	for i, want := range []measure.Length{5*ft - in/8, 3*ft - 3*in/8 - in/8 + 3*in/8 - in/32, 4*ft + 3*in/8 - in/32 - in/8} {
		run := list.Runs[i]
		if run.Length != want {
			t.Errorf("%s is %v, want %v: %v", run.Label, run.Length, want, run.Allowances)
		}
		sum := measure.Length(0)
		var strips []measure.Length
		for _, p := range list.Pieces {
			if p.Run == run.Label {
				sum += p.Length
				strips = append(strips, p.Length)
			}
		}
		if open := measure.Length(len(run.Splices)) * in / 16; sum+open != run.Length {
			t.Errorf("%s: %v and joints of %v", run.Label, strips, open)
		}
		if slices.Min(strips) < 5*in+in/2 {
			t.Errorf("%s has a sliver: %v", run.Label, strips)
		}
		switch run.Wall {
		case "B":
			if strips[len(strips)-1] != ft {
				t.Errorf("no full tile at the outside corner: %v", strips)
			}
		case "C":
			if strips[0] != ft {
				t.Errorf("no full tile at the outside corner: %v", strips)
			}
		}
	}
	if list.Joints.Scarfs != 0 || list.Joints.Copes != 0 {
		t.Errorf("%+v", list.Joints)
	}
}
