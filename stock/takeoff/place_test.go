package takeoff_test

import (
	"fmt"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

// The positions of the runs of a wall, without the room: enough to draw it.
func ExampleTake_places() {
	const in, ft = measure.Inch, measure.Foot
	profile := func(name string, thickness, width measure.Length) *stock.Profile {
		return &stock.Profile{Name: name, Thickness: thickness, Width: width}
	}
	outside := takeoff.Corner{Kind: takeoff.CornerOutside}
	list, err := takeoff.Take([]takeoff.Room{{Name: "corridor", Height: 10 * ft, Walls: []takeoff.Wall{{Name: "W", Length: 2 * ft, Corner: outside}, {
		Name: "N", Length: 8 * ft, Corner: outside,
		Openings: []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 3 * ft, Width: 30 * in, Height: 4 * ft, Sill: 3 * ft, Flush: true}},
	}, {Name: "E", Length: 2 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}}, takeoff.Scheme{
		Base: profile("base", 3*in/4, 8*in), Shoe: profile("shoe", in/2, 3*in/4), Casing: profile("casing", 3*in/4, 4*in),
		Crown: &stock.Profile{Name: "crown", Thickness: 3 * in / 4, Width: 4 * in, Spring: 30 * measure.Degree},
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range list.Runs {
		if r.Wall == "N" {
			fmt.Printf("%-23s %9s long, left end at %6s, %15s up, %4s off the wall, %4v\n",
				r.Label[len("corridor N "):], r.Length.About(), (r.Start - r.Reach).About(), r.Bottom.About(), r.Standoff.About(), r.Slope)
		}
	}
	// Output:
	// base                    8' 1-1/2" long, left end at  -3/4",              0" up,   0" off the wall,   0°
	// shoe                    8' 2-1/2" long, left end at -1-1/4",              0" up, 3/4" off the wall,   0°
	// crown                       8' 4" long, left end at    -2", about 9' 8-9/16" up,   0" off the wall,   0°
	// window casing leg left      4' 8" long, left end at  2' 8",           2' 8" up,   0" off the wall,  90°
	// window casing leg right     4' 8" long, left end at  5' 6",           2' 8" up,   0" off the wall, -90°
	// window casing head          3' 2" long, left end at  2' 8",              7' up,   0" off the wall,   0°
	// window bottom casing        3' 2" long, left end at  2' 8",           2' 8" up,   0" off the wall, 180°
}

// The pieces around an opening, as rectangles on the wall, touch at their corners and edges: legs and
// head make the outline of opening, reveals and casing, plinths and stool carry them, and the backband
// goes around the casing that it laps over. Derived.
func TestPlacesAroundOpenings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const in = measure.Inch
		size := func(name string, lo, hi measure.Length) measure.Length { return length(lo, hi).Draw(t, name) }
		s := takeoff.Scheme{Casing: board("casing", in, size("casing", 2*in, 5*in))}
		o := takeoff.Opening{
			Kind: takeoff.OpeningKind(rapid.IntRange(0, 2).Draw(t, "kind")), At: 20 * in, Width: size("width", 10*in, 40*in), Height: size("height", 40*in, 70*in),
			Sill: size("sill", 20*in, 30*in), Reveal: size("reveal", in/16, in/2),
		}
		opt := &takeoff.Options{FloorGap: size("gap", 0, in), Horn: size("horn", in/16, in)}
		if rapid.Bool().Draw(t, "full") {
			s.Plinth, s.Stool, s.Apron = board("plinth", in, size("plinth", 2*in, 6*in)), board("stool", in, 4*in), board("apron", in, 3*in)
			s.Backband = board("band", in, size("band", in, 2*in))
			s.BackbandLap = size("lap", 0, in/2)
		}
		list, err := takeoff.Take(doorWall(o), s, opt)
		if err != nil {
			t.Fatal(err)
		}
		type rect struct{ left, right, bottom, top measure.Length }
		at := map[string]rect{}
		for _, run := range list.Runs {
			p := map[stock.Role]*stock.Profile{stock.RoleCasing: s.Casing, stock.RolePlinth: s.Plinth, stock.RoleApron: s.Apron, stock.RoleBackband: s.Backband}[run.Role]
			r := rect{left: run.Start, bottom: run.Bottom}
			switch {
			case run.Role == stock.RoleStool:
				r.right, r.top = r.left+run.Length, r.bottom+s.Stool.Thickness
			case run.Slope == 90*measure.Degree || run.Slope == -90*measure.Degree:
				r.right, r.top = r.left+p.Width, r.bottom+run.Length
			default:
				r.right, r.top = r.left+run.Length, r.bottom+p.Width
			}
			at[run.Label[len("corridor S "+o.Kind.String()+" "):]] = r
		}
		ground := measure.Length(0)
		if o.Kind == takeoff.OpeningWindow {
			ground = o.Sill
		}
		hole := rect{o.At - o.Reveal, o.At + o.Width + o.Reveal, ground, ground + o.Height + o.Reveal}
		frame := o.Kind == takeoff.OpeningWindow && s.Stool == nil
		if frame {
			hole.bottom -= o.Reveal
		}
		around := func(kind string, w measure.Length) {
			left, right, head := at[kind+" leg left"], at[kind+" leg right"], at[kind+" head"]
			foot := left.bottom
			if left.right != hole.left || right.left != hole.right || head.bottom != hole.top || left.top != head.top || right.top != head.top ||
				right.bottom != foot || head.left != left.left || head.right != right.right || left.right-left.left != w {
				t.Fatalf("%s: %v %v %v around %v", kind, left, right, head, hole)
			}
			switch {
			case frame:
				if b := at["bottom "+kind]; b.top != hole.bottom || b.bottom != foot || b.left != head.left || b.right != head.right {
					t.Fatalf("%s: %v below %v", kind, b, hole)
				}
			case o.Kind == takeoff.OpeningWindow:
				if stool := at["stool"]; foot != stool.top || foot != o.Sill {
					t.Fatalf("%s on %v", kind, stool)
				}
			case s.Plinth != nil:
				l, r := at["plinth left"], at["plinth right"]
				if foot != l.top || foot != r.top || l.bottom != opt.FloorGap || l.right != o.At-o.Reveal || r.left != o.At+o.Width+o.Reveal {
					t.Fatalf("%s on %v and %v", kind, l, r)
				}
			case foot != opt.FloorGap:
				t.Fatalf("%s ends %v above the floor", kind, foot)
			}
		}
		around("casing", s.Casing.Width)
		if s.Backband != nil {
			out := s.Casing.Width - s.BackbandLap
			hole = rect{hole.left - out, hole.right + out, hole.bottom, hole.top + out}
			if frame {
				hole.bottom -= out
			}
			around("backband", s.Backband.Width)
		}
		if o.Kind == takeoff.OpeningWindow && s.Stool != nil {
			stool, apron := at["stool"], at["apron"]
			if stool.bottom != apron.top || apron.left-stool.left != opt.Horn || stool.right-apron.right != opt.Horn || apron.left != hole.left-s.Backband.Width {
				t.Fatalf("stool %v, apron %v", stool, apron)
			}
		}
	})
}
