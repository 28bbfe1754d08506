package takeoff_test

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/panel"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
)

// paneledRoom makes a room with square corners, a rectangle or one with a corner cut out, with
// doors, windows, cabinets and outlets.
func paneledRoom(t *rapid.T) takeoff.Room {
	const in = measure.Inch
	x, y := length(8*12*in, 24*12*in).Draw(t, "x"), length(8*12*in, 24*12*in).Draw(t, "y")
	wall := func(name string, l measure.Length, k takeoff.CornerKind) takeoff.Wall {
		return takeoff.Wall{Name: name, Length: l, Corner: takeoff.Corner{Kind: k}}
	}
	r := takeoff.Room{Name: "classroom", Height: 10 * measure.Foot}
	if rapid.Bool().Draw(t, "cut out") {
		a, b := length(2*in, x-36*in).Draw(t, "cut x"), length(2*in, y-36*in).Draw(t, "cut y")
		r.Walls = []takeoff.Wall{
			wall("A", x-a, takeoff.CornerInside), wall("B", b, takeoff.CornerOutside), wall("C", a, takeoff.CornerInside),
			wall("D", y-b, takeoff.CornerInside), wall("E", x, takeoff.CornerInside), wall("F", y, takeoff.CornerInside),
		}
	} else {
		r.Walls = []takeoff.Wall{wall("A", x, 0), wall("B", y, 0), wall("C", x, 0), wall("D", y, 0)}
	}
	for i := range r.Walls {
		w := &r.Walls[i]
		w.Unpaneled = rapid.IntRange(0, 5).Draw(t, "unpaneled") == 0
		at := length(4*in, 60*in).Draw(t, "at")
		for rapid.IntRange(0, 2).Draw(t, "more") > 0 {
			width := length(20*in, 48*in).Draw(t, "width")
			if at+width+4*in > w.Length {
				break
			}
			switch rapid.IntRange(0, 3).Draw(t, "what") {
			case 0:
				w.Openings = append(w.Openings, takeoff.Opening{Kind: takeoff.OpeningDoor, At: at, Width: width})
			case 1, 2:
				w.Openings = append(w.Openings, takeoff.Opening{
					Kind: takeoff.OpeningWindow, At: at, Width: width, Height: 4 * measure.Foot, Sill: length(12*in, 50*in).Draw(t, "sill"),
				})
			default:
				w.Fixtures = append(w.Fixtures, takeoff.Fixture{Name: "bench", At: at, Width: width, Height: length(10*in, 40*in).Draw(t, "high"), Depth: 14 * in})
			}
			at += width + length(10*in, 60*in).Draw(t, "at")
		}
		for range rapid.IntRange(0, 2).Draw(t, "devices") {
			w.Devices = append(w.Devices, panel.Device{At: length(0, w.Length).Draw(t, "outlet"), Height: length(8*in, 50*in).Draw(t, "high")})
		}
	}
	return r
}

func wainscot(t *rapid.T) *takeoff.Wainscot {
	const in = measure.Inch
	w := &takeoff.Wainscot{
		Kind: panel.Kind(rapid.IntRange(0, 3).Draw(t, "kind")), Profile: board("field", length(in/2, in).Draw(t, "thick"), length(2*in, 4*in).Draw(t, "wide")),
		Target: length(12*in, 36*in).Draw(t, "target"), Match: rapid.Bool().Draw(t, "match"), Clear: in / 8,
		Cap: board("cap", 3*in/2, 3*in/4), Top: length(24*in, 44*in).Draw(t, "top"),
	}
	switch w.Kind {
	case panel.KindFrame:
		w.Rail, w.BottomRail, w.Tongue = board("rail", w.Profile.Thickness, 3*in), board("bottom rail", w.Profile.Thickness, 5*in), in/4
		if rapid.Bool().Draw(t, "wider") {
			w.CornerStile = board("corner", w.Profile.Thickness, 5*in)
		}
	case panel.KindBattens:
		w.Rail = board("rail", w.Profile.Thickness, 3*in)
	case panel.KindBoxes:
		w.Upper = &panel.Row{Bottom: w.Top + 4*in, Top: w.Top + 40*in}
	}
	if rapid.Bool().Draw(t, "sheet") {
		w.SheetThickness = in / 4
	}
	return w
}

// brick is a solid on a wall: along it, off it, and up.
type brick struct {
	label                   string
	from, to, back, face, z measure.Length
	top                     measure.Length
}

func (a brick) meets(b brick) bool {
	return a.from < b.to && b.from < a.to && a.back < b.face && b.back < a.face && a.z < b.top && b.z < a.top
}

// bricks are the members of the wainscot on a wall, as the runs say that they are cut.
func bricks(list *takeoff.List, s takeoff.Scheme, wall string) (bs []brick) {
	w := s.Wainscot
	section := map[string]*stock.Profile{}
	for _, p := range []*stock.Profile{w.Profile, w.Rail, w.BottomRail, w.CornerStile} {
		if p != nil {
			section[p.Name] = p
		}
	}
	for _, r := range list.Runs {
		p := section[r.Profile]
		if r.Wall != wall || p == nil || r.Role == stock.RoleRail && w.Kind == panel.KindBattens {
			continue
		}
		b := brick{label: r.Label, from: r.Start, back: r.Standoff, face: r.Standoff + p.Thickness, z: r.Bottom}
		along, up := r.Net, cmp.Or(r.Ripped, p.Width)
		if r.Slope == 90*measure.Degree || r.Slope == -90*measure.Degree {
			along, up = up, along
		}
		b.to, b.top = b.from+along, b.z+up
		bs = append(bs, b)
	}
	return bs
}

// The listed members are cut, set on their walls and against each other as solids: they do not overlap
// each other, casings, cabinets, base, cap and rail or, except for reported devices, plates; nor do
// they around corners. Fields and stiles fill each stretch of a frame without a gap. None of it is
// computed as in Take.
func TestWainscotSolids(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		r := paneledRoom(t)
		s := takeoff.Scheme{Base: board("base", 3*in/4, 5*in), Casing: casing(7 * in / 2), Wainscot: wainscot(t)}
		w := s.Wainscot
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		said := map[string]bool{} // walls with something too small, and devices that are hit
		for _, f := range list.Findings {
			if f.Code == takeoff.FindingSliver || f.Code == takeoff.FindingDevice && f.Severity == takeoff.SeverityAdvice {
				said[string(f.Code)+" "+f.Wall] = true
			}
		}
		labels := map[string]bool{}
		for _, p := range list.Pieces {
			if sum, err := total(p.Allowances); err != nil || sum != p.Length || p.Length <= 0 || labels[p.Label] {
				t.Fatalf("%+v", p)
			}
			labels[p.Label] = true
		}
		g := groundOf(r)
		var all [][]brick
		for _, wall := range r.Walls {
			bs := bricks(list, s, wall.Name)
			all = append(all, bs)
			if wall.Unpaneled && len(bs) > 0 {
				t.Fatalf("%s is not to be paneled: %v", wall.Name, bs)
			}
			var others []brick
			for _, o := range wall.Openings {
				m := s.Casing.Width + 3*in/16
				b := brick{"casing", o.At - m, o.At + o.Width + m, 0, 6 * in, 0, 80 * in}
				if o.Kind == takeoff.OpeningWindow {
					b.z, b.top = o.Sill-m, o.Sill+o.Height+m
				}
				others = append(others, b)
			}
			for _, f := range wall.Fixtures {
				others = append(others, brick{f.Name, f.At, f.At + f.Width, 0, f.Depth, 0, f.Height})
			}
			others = append(others, brick{"base", -in, wall.Length + in, 0, 4 * in, 0, 5 * in}, brick{"cap", -in, wall.Length + in, 0, 4 * in, w.Top, w.Top + 3*in/4})
			if w.Kind == panel.KindBattens {
				others = append(others, brick{"rail", -in, wall.Length + in, 0, 4 * in, w.Top - 3*in, w.Top})
			}
			if w.Kind != panel.KindStrips {
				for _, v := range wall.Devices {
					left, right, bottom, top := v.Plate()
					if !said["device "+wall.Name] {
						others = append(others, brick{"plate", left, right, 0, in, bottom, top})
					}
				}
			}
			for i, a := range bs {
				for _, b := range bs[:i] {
					sameBox := w.Kind == panel.KindBoxes && a.label[:strings.LastIndex(a.label, " ")] == b.label[:strings.LastIndex(b.label, " ")]
					if a.meets(b) && !sameBox {
						t.Fatalf("%+v and %+v share a place", a, b)
					}
				}
				for _, b := range others {
					notched := w.Kind == panel.KindStrips && (b.label == "casing" || b.label == "bench") && (a.from < b.from || a.to > b.to)
					inRail := b.label == "plate" && strings.Contains(a.label, " rail ") && b.z >= a.z && b.top <= a.top
					if a.meets(b) && !notched && !inRail {
						t.Fatalf("%+v and %+v share a place", a, b)
					}
				}
			}
		}
		// Around the corners, in plan.
		plan := func(i int, b brick) []place {
			return []place{g.at(i, b.from.Inches(), b.back.Inches()), g.at(i, b.to.Inches(), b.back.Inches()), g.at(i, b.to.Inches(), b.face.Inches()), g.at(i, b.from.Inches(), b.face.Inches())}
		}
		for i := range all {
			j := (i + 1) % len(all)
			for _, a := range all[i] {
				if a.to < r.Walls[i].Length-6*in {
					continue
				}
				for _, b := range all[j] {
					if d := depth(plan(i, a), plan(j, b)); b.from < 6*in && a.z < b.top && b.z < a.top && d > 1e-6 {
						t.Fatalf("%+v of %s and %+v of %s share %.4f in", a, r.Walls[i].Name, b, r.Walls[j].Name, d)
					}
				}
			}
		}
		if w.Kind != panel.KindFrame {
			return
		}
		// Along a line through the bottom rails everything is stile, rail, casing or cabinet, from
		// corner to corner.
		for i, wall := range r.Walls {
			if len(all[i]) == 0 || said["sliver "+wall.Name] {
				continue
			}
			z := 5*in + in/2
			var across [][2]measure.Length
			for _, b := range all[i] {
				if b.z < z && z < b.top {
					across = append(across, [2]measure.Length{b.from, b.to})
				}
			}
			for _, o := range wall.Openings {
				if m := s.Casing.Width + 3*in/16; o.Kind == takeoff.OpeningDoor || o.Sill-m <= z {
					across = append(across, [2]measure.Length{o.At - m, o.At + o.Width + m})
				}
			}
			for _, f := range wall.Fixtures {
				across = append(across, [2]measure.Length{f.At, f.At + f.Width})
			}
			slices.SortFunc(across, func(a, b [2]measure.Length) int { return cmp.Compare(a[0], b[0]) })
			at := across[0][0]
			for _, a := range across {
				if a[0] > at {
					t.Fatalf("%s: nothing from %v to %v of %v", wall.Name, at, a[0], across)
				}
				at = max(at, a[1])
			}
			before := r.Walls[(i+len(r.Walls)-1)%len(r.Walls)]
			thick := w.Profile.Thickness
			// Inside, the left one is whole and the right one butted to it; outside, too.
			start, end := []measure.Length{w.SheetThickness + thick, -w.SheetThickness}, []measure.Length{-w.SheetThickness, w.SheetThickness + thick}
			next := r.Walls[(i+1)%len(r.Walls)]
			// In a corner with a bare wall, or with something else near the corner, it ends elsewhere.
			plain := func(w takeoff.Wall, x measure.Length) bool {
				for _, o := range w.Openings {
					if o.At-6*in < x && x < o.At+o.Width+6*in {
						return false
					}
				}
				return !w.Unpaneled && len(w.Fixtures) == 0
			}
			if plain(wall, 0) && plain(before, before.Length) && !slices.Contains(start, across[0][0]) {
				t.Fatalf("%s begins at %v", wall.Name, across[0][0])
			}
			if plain(wall, wall.Length) && plain(next, 0) && !slices.Contains(end, at-wall.Length) {
				t.Fatalf("%s of %v ends at %v", wall.Name, wall.Length, at)
			}
		}
	})
}

// A wall that is the same from both ends is paneled the same from both ends.
func TestWainscotIsSymmetric(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		half := length(40*in, 150*in).Draw(t, "half")
		wall := takeoff.Wall{Name: "N", Length: 2 * half, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}
		if rapid.Bool().Draw(t, "window") {
			wide := length(10*in, 30*in).Draw(t, "wide")
			wall.Openings = []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: half - wide, Width: 2 * wide, Height: 4 * measure.Foot, Sill: length(20*in, 40*in).Draw(t, "sill")}}
		}
		s := takeoff.Scheme{Base: board("base", 3*in/4, 5*in), Casing: casing(7 * in / 2), Wainscot: wainscot(t)}
		list, err := takeoff.Take([]takeoff.Room{{Name: "classroom", Walls: []takeoff.Wall{wall}}}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		bs := bricks(list, s, "N")
		for _, a := range bs {
			if !slices.ContainsFunc(bs, func(b brick) bool {
				near := func(x, y measure.Length) bool { return max(x-y, y-x) <= 1 }
				return near(a.from, wall.Length-b.to) && near(a.to, wall.Length-b.from) && a.z == b.z && a.top == b.top
			}) {
				t.Fatalf("%+v has nothing across the middle of %v: %+v", a, half, bs)
			}
		}
	})
}

// Derived, by the rules of package panel's comments: the north wall of 12 ft between two inside
// corners, stiles of 3 in of 3/4 in stock. What shows goes from 3/4 to 143 1/4, 142 1/2 in. Without wider
// stock 2 1/4 shows of both stiles in a corner; five panels, between four stiles of 3, are
// (142 1/2 − 2·2 1/4 − 4·3)/5 = 25.2 wide. With wider stock 3 in shows:
// (142 1/2 − 6·3)/5 = 24.9, and the stiles are ripped to 3 3/4 and 3.
func TestWainscotInCorners(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "N", Length: 12 * ft}, {Name: "E", Length: 10 * ft}, {Name: "S", Length: 12 * ft}, {Name: "W", Length: 10 * ft}}}
	for _, c := range []struct {
		wider       *stock.Profile
		panel       measure.Length
		left, right measure.Length
	}{
		{nil, 252 * in / 10, 9 * in / 4, 0},
		{board("wide", 3*in/4, 4*in), 249 * in / 10, 0, 15 * in / 4},
	} {
		w := &takeoff.Wainscot{Kind: panel.KindFrame, Profile: board("stile", 3*in/4, 3*in), CornerStile: c.wider, Target: 24 * in}
		list := take(t, r, takeoff.Scheme{Wainscot: w})
		var stiles, rails []stock.Run
		for _, run := range list.Runs {
			switch {
			case run.Wall != "N":
			case run.Role == stock.RoleStile:
				stiles = append(stiles, run)
			case run.Bottom == 0:
				rails = append(rails, run)
			}
		}
		if len(stiles) != 6 || len(rails) != 5 {
			t.Fatalf("%d stiles, %d rails", len(stiles), len(rails))
		}
		for _, f := range list.Findings { // one for each corner, and nothing else
			if f.Code != takeoff.FindingCornerStile || f.Severity != takeoff.SeverityNote || f.Length != cmp.Or(c.right, 3*in) || f.Angle != 0 {
				t.Errorf("%+v", f)
			}
		}
		if len(list.Findings) != 4 {
			t.Errorf("%d findings", len(list.Findings))
		}
		first, last := stiles[0], stiles[5]
		if first.Start != 3*in/4 || first.Ripped != c.left || last.Ripped != c.right || last.Start != 12*ft-max(3*in, c.right) {
			t.Errorf("%+v\n%+v", first, last)
		}
		for _, rail := range rails {
			if rail.Length != c.panel {
				t.Errorf("rail %v, want %v", rail.Length, c.panel)
			}
		}
		if list.Joints.Butts != 2*2*(5+5+4+4) { // two rails in each of 18 panels
			t.Errorf("%d butts", list.Joints.Butts)
		}
	}
}

// Under a window the casing's outside width is a separate stretch: 34 + 2·(3/16 + 3 1/2) = 41 3/8;
// two boxes in margins of 3 and a gap of 3 are (41 3/8 − 9)/2 = 16 3/16 wide, and end as far below
// the casing, at 30 − 3 11/16 − 3 = 23 5/16.
func TestBoxesUnderWindow(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{
		Name: "N", Length: 16 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 7 * ft, Width: 34 * in, Height: 5 * ft, Sill: 30 * in}},
	}}}
	list := take(t, r, takeoff.Scheme{Base: board("base", 3*in/4, 5*in), Casing: casing(7 * in / 2), Wainscot: &takeoff.Wainscot{Profile: board("mold", in/2, in), Target: 20 * in}})
	from := 7*ft - 59*in/16
	tops := 0
	for _, run := range list.Runs {
		if run.Slope == 0 && run.Role == stock.RolePanelMold && run.Start > from && run.Start < from+41*in {
			tops++
			if run.Length != 259*in/16 || run.Bottom+in != 373*in/16 {
				t.Errorf("%+v", run)
			}
		}
	}
	if tops != 2 {
		t.Errorf("%d boxes", tops)
	}
}

// Boxes above a chair rail are over those below it, except beside a window.
func TestRowsAreInLine(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{
		Name: "N", Length: 20 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 7 * ft, Width: 34 * in, Height: 2 * ft, Sill: 44 * in}},
	}}}
	w := &takeoff.Wainscot{Profile: board("mold", in/2, in), Target: 20 * in, Top: 32 * in, Upper: &panel.Row{Bottom: 36 * in, Top: 96 * in}}
	list := take(t, r, takeoff.Scheme{Casing: casing(7 * in / 2), Wainscot: w})
	starts := map[measure.Length][]measure.Length{} // by the height of the lower edge
	for _, run := range list.Runs {
		if run.Role == stock.RolePanelMold && run.Slope == 0 {
			starts[run.Bottom] = append(starts[run.Bottom], run.Start)
		}
	}
	// Tops of boxes: 32 − 3 − 1 below, 96 − 3 − 1 above, and above the window's casing the same;
	// below the window, from 36 to 44 − 3 11/16, is too little for a box. Three of 22.8 in fit left of
	// it, two of 16.2 below its casing, five of 20.1 right of it.
	below, above := starts[28*in], starts[92*in]
	if len(starts) != 2 || len(below) != 10 || !slices.Equal(below, above) {
		t.Errorf("%v", starts)
	}
}

// Strips continue under a window: none is ripped at its casing, and those below it end there.
func TestStripsUnderWindow(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{
		Name: "N", Length: 8 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Openings: []takeoff.Opening{{Kind: takeoff.OpeningWindow, At: 2 * ft, Width: 34 * in, Height: 5 * ft, Sill: 24 * in, Flush: true}},
	}}}
	list := take(t, r, takeoff.Scheme{Base: board("base", 3*in/4, 5*in), Casing: casing(3 * in), Wainscot: &takeoff.Wainscot{Kind: panel.KindStrips, Profile: board("beadboard", 5*in/16, 3*in), Top: 40 * in}})
	// The casing reaches from 21 to 61 in: of 32 strips of 3 in those from 21 to 60 are short,
	// 24 − 3 − 5 = 16, and the one from 60 to 63 is notched.
	short, full := 0, 0
	for _, p := range list.Pieces {
		switch {
		case p.Profile != "beadboard":
		case p.Length == 16*in:
			short++
		case p.Length == 35*in:
			full++
		default:
			t.Errorf("%+v", p)
		}
	}
	if short != 13 || full != 19 {
		t.Errorf("%d short, %d full", short, full)
	}
}

// Widths that will look wrong are reported, and so is a rail that is neither as high as a stool nor
// clear of it.
func TestWainscotFindings(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	wall := func(l measure.Length, openings ...takeoff.Opening) takeoff.Room {
		return takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "N", Length: l, Corner: stop, Openings: openings}}}
	}
	door := takeoff.Opening{At: 14 * in, Width: 36 * in}
	window := takeoff.Opening{Kind: takeoff.OpeningWindow, At: 5 * ft, Width: 34 * in, Height: 4 * ft, Sill: 34 * in}
	boxes := &takeoff.Wainscot{Profile: board("mold", in/2, in), Target: 30 * in}
	frame := func(edit func(*takeoff.Wainscot)) takeoff.Scheme {
		w := &takeoff.Wainscot{Kind: panel.KindFrame, Profile: board("stile", 3*in/4, 3*in), Target: 20 * in, Cap: board("cap", 5*in/4, 3*in/4)}
		edit(w)
		return takeoff.Scheme{Casing: casing(7 * in / 2), Stool: board("stool", in, 4*in), Wainscot: w}
	}
	thinBase := frame(func(w *takeoff.Wainscot) { w.SheetThickness, w.Cap = in/4, nil })
	thinBase.Base, thinBase.Casing = board("base", in/2, 5*in), nil
	toFloor := func(off measure.Length) takeoff.Scheme { // stiles of 3/4 in behind the base
		s := frame(func(w *takeoff.Wainscot) { w.ToFloor, w.Cap = true, nil })
		s.Casing, s.Assemblies = nil, []takeoff.Assembly{{Name: "base", Members: []takeoff.Member{{Profile: *board("base", 9*in/16, 5*in), Off: off}}}}
		return s
	}
	two := *boxes
	two.Upper = &panel.Row{Bottom: 36 * in, Top: 80 * in}
	upper := takeoff.Scheme{Wainscot: &two}
	for _, c := range []struct {
		what string
		r    takeoff.Room
		s    takeoff.Scheme
		code takeoff.FindingCode
		l    measure.Length // of the finding; -1 if there is to be none
	}{
		// 14 − 3 11/16 − 2·3 = 4 5/16 beside the door, and more than 30 on its other side.
		{"beside a door", wall(12*ft, door), takeoff.Scheme{Casing: casing(7 * in / 2), Wainscot: boxes}, takeoff.FindingNarrowPanel, 69 * in / 16},
		{"no room beside it", wall(12*ft, takeoff.Opening{At: 10 * in, Width: 36 * in}), takeoff.Scheme{Casing: casing(7 * in / 2), Wainscot: boxes}, takeoff.FindingSliver, 101 * in / 16},
		// Cap from 32 to 32 3/4, stool from 33 to 34.
		{"cap at a stool", wall(12*ft, window), frame(func(*takeoff.Wainscot) {}), takeoff.FindingRailStool, 5 * in / 4},
		{"as high", wall(12*ft, window), frame(func(w *takeoff.Wainscot) { w.Top = 133 * in / 4 }), takeoff.FindingRailStool, -1},
		{"clear by 2 in", wall(12*ft, window), frame(func(w *takeoff.Wainscot) { w.Top = 121 * in / 4 }), takeoff.FindingRailStool, -1},
		{"cap of 1 1/4 on casing of 3/4", wall(12*ft, window), frame(func(*takeoff.Wainscot) {}), takeoff.FindingThickBase, in / 2},
		{"sill not measured", wall(12*ft, takeoff.Opening{Kind: takeoff.OpeningWindow, At: 5 * ft, Width: 34 * in, Height: 4 * ft}), takeoff.Scheme{Wainscot: boxes}, takeoff.FindingUnpaneled, 0},
		{"as high as a low room", takeoff.Room{Name: "hall", Height: 36 * in, Walls: wall(12 * ft).Walls}, upper, takeoff.FindingTrimFit, 44 * in},
		{"cap of 1/2 over 3/4", wall(12 * ft), frame(func(w *takeoff.Wainscot) { w.Cap.Thickness = in / 2 }), takeoff.FindingThinHead, in / 4},
		{"cap that reaches over it", wall(12 * ft), frame(func(w *takeoff.Wainscot) { w.SheetThickness = in / 2 }), takeoff.FindingThinHead, -1},
		{"base of 1/2 under 3/4 and a sheet of 1/4", wall(12 * ft), thinBase, takeoff.FindingThickBase, in / 2},
		{"base in the way", wall(12 * ft), toFloor(in / 2), takeoff.FindingThickBase, in / 4},
		{"base in front of it", wall(12 * ft), toFloor(3 * in / 4), takeoff.FindingThickBase, -1},
		{"no float", wall(12 * ft), frame(func(w *takeoff.Wainscot) { w.Solid = true }), takeoff.FindingPanelFloat, 0},
		{"plywood", wall(12 * ft), frame(func(*takeoff.Wainscot) {}), takeoff.FindingPanelFloat, -1},
	} {
		list := take(t, c.r, c.s)
		fs, err := takeoff.CheckTrim([]takeoff.Room{c.r}, c.s, takeoff.Conditions{})
		if err != nil {
			t.Fatal(err)
		}
		fs = append(fs, list.Findings...)
		i := slices.IndexFunc(fs, func(f takeoff.Finding) bool { return f.Code == c.code })
		switch {
		case c.l < 0 && i >= 0:
			t.Errorf("%s: %+v", c.what, fs[i])
		case c.l >= 0 && (i < 0 || fs[i].Length != c.l || fs[i].Reason == ""):
			t.Errorf("%s: %+v", c.what, fs)
		}
	}
	// Corners with less than an inch visible, and wider stock that is not wide enough.
	square := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "N", Length: 12 * ft}, {Name: "E", Length: 10 * ft}, {Name: "S", Length: 12 * ft}, {Name: "W", Length: 10 * ft}}}
	for _, c := range []struct {
		w    takeoff.Wainscot
		code takeoff.FindingCode
		l    measure.Length
	}{
		{takeoff.Wainscot{Kind: panel.KindBattens, Profile: board("batten", 3*in/4, 3*in/2), Target: 16 * in}, takeoff.FindingSliver, 3 * in / 4},
		{takeoff.Wainscot{Kind: panel.KindFrame, Profile: board("stile", 3*in/4, 3*in), CornerStile: board("wide", 3*in/4, 7*in/2), Target: 16 * in}, takeoff.FindingCornerStile, in / 4},
	} {
		list := take(t, square, takeoff.Scheme{Wainscot: &c.w})
		i := slices.IndexFunc(list.Findings, func(f takeoff.Finding) bool { return f.Code == c.code })
		if i < 0 || list.Findings[i].Length != c.l {
			t.Errorf("%v: %+v", c.w.Kind, list.Findings)
		}
	}
}

// An impossible value is an error that names the field; files without it read as before.
func TestWainscotErrors(t *testing.T) {
	const in = measure.Inch
	r := square()
	good := func() takeoff.Scheme {
		return takeoff.Scheme{Base: board("base", 3*in/4, 5*in), ChairRail: board("rail", in, 3*in), Wainscot: &takeoff.Wainscot{Profile: board("mold", in/2, in), Target: 20 * in}}
	}
	if _, err := takeoff.Take([]takeoff.Room{r}, good(), nil); err != nil {
		t.Fatal(err)
	}
	for field, spoil := range map[string]func(*takeoff.Scheme){
		"wainscot.profile":         func(s *takeoff.Scheme) { s.Wainscot.Profile = nil },
		"wainscot.profile.width":   func(s *takeoff.Scheme) { s.Wainscot.Profile.Width = 0 },
		"wainscot.target":          func(s *takeoff.Scheme) { s.Wainscot.Target = 0 },
		"wainscot.count":           func(s *takeoff.Scheme) { s.Wainscot.Count = -1 },
		"wainscot.bottom":          func(s *takeoff.Scheme) { s.Wainscot.Bottom = in },
		"wainscot.top":             func(s *takeoff.Scheme) { s.Wainscot.Top = 33 * in },
		"wainscot.upper.bottom":    func(s *takeoff.Scheme) { s.Wainscot.Upper = &panel.Row{Bottom: in, Top: 60 * in} },
		"wainscot.rail":            func(s *takeoff.Scheme) { s.Wainscot.Rail = board("rail", in, in) },
		"wainscot.kind":            func(s *takeoff.Scheme) { s.Wainscot.Kind = 9 },
		"wainscot.sheet_thickness": func(s *takeoff.Scheme) { s.Wainscot.SheetThickness = -1 },
		"wainscot.cap.thickness":   func(s *takeoff.Scheme) { s.Wainscot.Cap = board("cap", 0, in) },
		"wainscot.corner_stile.width": func(s *takeoff.Scheme) {
			s.Wainscot.Kind, s.Wainscot.CornerStile = panel.KindFrame, board("wide", in, in/2)
		},
	} {
		s := good()
		spoil(&s)
		_, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		var fe *measure.FieldError
		if !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	r.Walls[0].Devices = []panel.Device{{At: -1}}
	if _, err := takeoff.Take([]takeoff.Room{r}, good(), nil); err == nil || !strings.Contains(err.Error(), "walls[0].devices[0].at") {
		t.Errorf("%v", err)
	}
	for text, v := range map[string]any{
		`{"wainscot": {"top": "0in"}}`: &takeoff.Scheme{}, `{"wainscot": {"kind": "planks"}}`: &takeoff.Scheme{}, `{"devices": [{"at": "1in", "height": "16in", "plate_width": "0in"}]}`: &takeoff.Wall{},
	} {
		if err := json.Unmarshal([]byte(text), v); err == nil {
			t.Errorf("%s is read", text)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		room, s := paneledRoom(t), takeoff.Scheme{Wainscot: wainscot(t)}
		roundTrip(t, room, new(takeoff.Room))
		roundTrip(t, s, new(takeoff.Scheme))
		list, err := takeoff.Take([]takeoff.Room{room}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		roundTrip(t, *list, new(takeoff.List))
		again, err := takeoff.Take([]takeoff.Room{room}, s, nil)
		if err != nil || !reflect.DeepEqual(list, again) {
			t.Fatal("a different list for the same room")
		}
	})
}

// No wainscot panics, however wild.
func TestWildWainscot(t *testing.T) {
	wild := rapid.OneOf(
		rapid.Map(rapid.Int64(), func(l int64) measure.Length { return measure.Length(l) }),
		rapid.SampledFrom([]measure.Length{0, 1, -1, measure.Inch, 30 * measure.Inch, 1 << 62, -1 << 63, 1<<63 - 1}),
		length(0, 40*measure.Inch), length(0, 40*measure.Inch),
	)
	rapid.Check(t, func(t *rapid.T) {
		p := func(what string) *stock.Profile {
			if rapid.IntRange(0, 2).Draw(t, what) == 0 {
				return nil
			}
			return board(what, wild.Draw(t, "thick"), wild.Draw(t, "wide"))
		}
		w := takeoff.Wainscot{
			Kind: panel.Kind(rapid.IntRange(0, 4).Draw(t, "kind")), Profile: p("field"), Rail: p("rail"), BottomRail: p("bottom"), CornerStile: p("corner"), Cap: p("cap"),
			MiterCorners: rapid.Bool().Draw(t, "miter"), Bottom: wild.Draw(t, "bottom"), Top: wild.Draw(t, "top"), Target: wild.Draw(t, "target"),
			Match: true, Gap: wild.Draw(t, "gap"), Groove: wild.Draw(t, "groove"), Float: wild.Draw(t, "float"), SheetThickness: wild.Draw(t, "sheet"), Clear: wild.Draw(t, "clear"),
		}
		r := walls(t, everyCorner...)
		for i := range r.Walls {
			r.Walls[i].Devices = []panel.Device{{At: wild.Draw(t, "at"), Height: wild.Draw(t, "height")}}
		}
		s := takeoff.Scheme{Casing: p("casing"), ChairRail: p("chair rail"), Base: p("base"), Wainscot: &w}
		for _, f := range []func() error{
			func() error { _, err := takeoff.Take([]takeoff.Room{r}, s, nil); return err },
			func() error { _, err := takeoff.Check([]takeoff.Room{r}, s, nil); return err },
			func() error { _, err := takeoff.CheckTrim([]takeoff.Room{r}, s, takeoff.Conditions{}); return err },
		} {
			var fe *measure.FieldError
			var re *measure.RangeError
			if err := f(); err != nil && !errors.As(err, &fe) && !errors.As(err, &re) {
				t.Fatalf("%T: %v", err, err)
			}
		}
	})
}

// Fifty rooms with all of it.
func BenchmarkWainscot(b *testing.B) {
	const in, ft = measure.Inch, measure.Foot
	var rooms []takeoff.Room
	for i := range 50 {
		r := takeoff.Room{Name: fmt.Sprint("room ", i), Height: 9 * ft}
		for k, l := range []measure.Length{16 * ft, 12 * ft, 16 * ft, 12 * ft} {
			w := takeoff.Wall{Name: string(rune('A' + k)), Length: l, Devices: []panel.Device{{At: 3 * ft, Height: 16 * in}, {At: 10 * ft, Height: 16 * in}}}
			w.Openings = []takeoff.Opening{{Kind: takeoff.OpeningKind(k % 2), At: 5 * ft, Width: 34 * in, Height: 5 * ft, Sill: measure.Length(k%2) * 30 * in}}
			r.Walls = append(r.Walls, w)
		}
		rooms = append(rooms, r)
	}
	s := fullScheme()
	s.Wainscot = &takeoff.Wainscot{Profile: board("mold", in/2, in), Target: 24 * in, Upper: &panel.Row{Bottom: 38 * in, Top: 80 * in}, Top: 30 * in}
	for b.Loop() {
		if _, err := takeoff.Take(rooms, s, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// Around corners that are not square, before a sheet too, the two stiles are laid out in plan as
// they are ripped and beveled: they share no place, reach into no wall, and their faces meet.
func TestWainscotInLeaningCorners(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		c := takeoff.Corner{Kind: takeoff.CornerKind(rapid.IntRange(0, 1).Draw(t, "outside")), Angle: measure.Angle(rapid.IntRange(60, 150).Draw(t, "angle")) * measure.Degree}
		stop := takeoff.Corner{Kind: takeoff.CornerStop}
		r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "A", Length: 60 * in, Corner: c}, {Name: "B", Length: 60 * in, Corner: stop}}}
		w := &takeoff.Wainscot{
			Kind: panel.KindFrame, Profile: board("stile", length(in/2, in).Draw(t, "thick"), 4*in), Target: 16 * in,
			MiterCorners: rapid.Bool().Draw(t, "miter"), SheetThickness: length(0, in/2).Draw(t, "sheet"),
		}
		if rapid.Bool().Draw(t, "wider") {
			w.CornerStile = board("wider", w.Profile.Thickness, 8*in)
		}
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Wainscot: w}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var a, b stock.Run
		for _, run := range list.Runs {
			switch {
			case run.Role != stock.RoleStile:
			case run.Wall == "A":
				a = run // the last
			case b.Label == "":
				b = run
			}
		}
		bevel := measure.Angle(0)
		for _, f := range list.Findings {
			if f.Code == takeoff.FindingCornerStile && f.Severity == takeoff.SeverityNote {
				bevel = f.Angle
			}
		}
		g := groundOf(r)
		back, face := w.SheetThickness.Inches(), (w.SheetThickness + w.Profile.Thickness).Inches()
		lean := w.Profile.Thickness.Inches() * math.Tan(bevel.Radians())
		// How much farther toward the corner the back reaches than the face.
		obtuse := 1.0
		if c.Angle < 90*measure.Degree {
			obtuse = -1
		}
		la, lb := obtuse*lean, obtuse*lean // outside, butted
		switch {
		case w.MiterCorners && c.Kind == takeoff.CornerInside:
			la, lb = lean, lean
		case w.MiterCorners:
			la, lb = -lean, -lean
		case c.Kind == takeoff.CornerInside:
			la, lb = 0, -lb
		}
		from, to := a.Start.Inches(), (a.Start + cmp.Or(a.Ripped, 4*in)).Inches()
		as := []place{g.at(0, from, back), g.at(0, to-max(0, -la), back), g.at(0, to-max(0, la), face), g.at(0, from, face)}
		from, to = b.Start.Inches(), (b.Start + cmp.Or(b.Ripped, 4*in)).Inches()
		bs := []place{g.at(1, from+max(0, -lb), back), g.at(1, to, back), g.at(1, to, face), g.at(1, from+max(0, lb), face)}
		if d := depth(as, bs); d > 1e-4 {
			t.Fatalf("%v mitered %v: the stiles share %.4f in: %v %v", c, w.MiterCorners, d, as, bs)
		}
		for i := range 2 {
			for _, s := range [][]place{as, bs} {
				if d := depth(s, g.wall(i)); d > 1e-4 && c.Kind == takeoff.CornerInside {
					t.Fatalf("%v: a stile is %.4f in in a wall", c, d)
				}
			}
		}
		// The faces of both planes meet in one line: there, one of the two ends or the other's edge does.
		k := 1 / math.Tan(c.Angle.Radians()/2)
		if c.Kind == takeoff.CornerOutside {
			k = -k
		}
		meets := g.at(0, 60-k*face, face)
		near := math.Inf(1)
		for _, p := range append(as, bs...) {
			near = min(near, math.Hypot(p.x-meets.x, p.y-meets.y))
		}
		if near > 1e-4 {
			t.Fatalf("%v: the faces miss each other by %.4f in", c, near)
		}
		// Both show equally.
		shows := func(s []place, inner int) float64 { return math.Hypot(s[inner].x-meets.x, s[inner].y-meets.y) }
		if x, y := shows(as, 3), shows(bs, 2); math.Abs(x-y) > 1e-4 {
			t.Fatalf("%v: %.4f in of one is visible, and %.4f of the other", c, x, y)
		}
	})
}

// A curved wall is not paneled, with a finding, and before a bullnose of 3/4 in paneling ends where the
// round begins: as far from the corner as its radius, at 90°.
func TestWainscotBesideCurves(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	w := &takeoff.Wainscot{Kind: panel.KindFrame, Profile: board("stile", 3*in/4, 3*in), Target: 20 * in, Cap: board("cap", in, in)}
	r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{
		{Name: "A", Length: 8 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerOutside}, Bullnose: 3 * in / 4}, {Name: "B", Length: 8 * ft, Corner: stop},
	}}
	list := take(t, r, takeoff.Scheme{Wainscot: w})
	end, start := measure.Length(0), 8*ft
	caps := 0
	for _, run := range list.Runs {
		switch {
		case run.Role == stock.RoleCap:
			caps++
		case run.Role == stock.RoleStile && run.Wall == "A":
			end = max(end, run.Start+3*in)
		case run.Role == stock.RoleStile:
			start = min(start, run.Start)
		}
	}
	if end != 8*ft-3*in/4 || start != 3*in/4 || caps != 3 {
		t.Errorf("it ends at %v and begins at %v, with %d caps", end, start, caps)
	}
	r.Walls[0] = takeoff.Wall{Name: "A", Corner: takeoff.Corner{Angle: 180 * measure.Degree}, Curve: &takeoff.Curve{Arc: curve.Arc{Radius: 5 * ft, Angle: 90 * measure.Degree}}}
	list = take(t, r, takeoff.Scheme{Wainscot: w})
	for _, run := range list.Runs {
		if run.Wall == "A" {
			t.Errorf("%+v", run)
		}
	}
	if i := slices.IndexFunc(list.Findings, func(f takeoff.Finding) bool { return f.Code == takeoff.FindingUnpaneled }); i < 0 || list.Findings[i].Wall != "A" {
		t.Errorf("%+v", list.Findings)
	}
}

// Stiles that go to the floor behind the base are as high as the paneling, and the base turns its
// corners before them: 12 ft less 3/4 in at either end.
func TestWainscotToFloor(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "N", Length: 12 * ft}, {Name: "E", Length: 10 * ft}, {Name: "S", Length: 12 * ft}, {Name: "W", Length: 10 * ft}}}
	list := take(t, r, takeoff.Scheme{
		Assemblies: []takeoff.Assembly{{Name: "base", Members: []takeoff.Member{{Profile: *board("base", 9*in/16, 5*in), Off: 3 * in / 4}}}},
		Wainscot:   &takeoff.Wainscot{Kind: panel.KindFrame, Profile: board("stile", 3*in/4, 3*in), Target: 24 * in, ToFloor: true, Top: 36 * in},
	})
	stiles := 0
	for _, run := range list.Runs {
		switch {
		case run.Role == stock.RoleStile:
			if stiles++; run.Bottom != 0 || run.Length != 36*in {
				t.Errorf("%+v", run)
			}
		case run.Role == stock.RoleBase && run.Wall == "N" && (run.Standoff != 3*in/4 || run.Length != 12*ft-3*in/2):
			t.Errorf("%+v", run)
		}
	}
	if stiles == 0 {
		t.Error("no stiles")
	}
}

// Above old base that is higher than the new, and around a register in the wall, paneling continues
// with the rest: 36 in of wall with old base of 8 in, and a register from 10 to 16 in up.
func TestWainscotGoesOnAbove(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{
		Name: "N", Length: 12 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop},
		Stretches: []takeoff.Stretch{{Name: "old base", At: 0, Width: 36 * in, Profile: *board("old", in, 8*in), Existing: true}},
		Fixtures:  []takeoff.Fixture{{Name: "register", At: 60 * in, Width: 20 * in, Bottom: 10 * in, Height: 16 * in, Notch: in / 8}},
	}}}
	list := take(t, r, takeoff.Scheme{Base: board("base", 3*in/4, 5*in), Wainscot: &takeoff.Wainscot{Kind: panel.KindBattens, Profile: board("batten", in/2, 2*in), Target: 10 * in}})
	var over, beside, above int
	for _, run := range list.Runs {
		switch {
		case run.Role != stock.RoleBatten:
		case run.Start < 36*in && run.Bottom == 8*in && run.Length == 24*in:
			over++
		case run.Start > 59*in && run.Start < 80*in && run.Bottom == 16*in && run.Length == 16*in:
			above++
		case run.Bottom == 5*in && run.Length == 27*in && (run.Start >= 36*in && run.Start < 60*in || run.Start >= 80*in):
			beside++
		case run.Bottom == 5*in && run.Length == 5*in && run.Start > 59*in && run.Start < 80*in: // below the register
		default:
			t.Errorf("%+v", run)
		}
	}
	if over == 0 || beside == 0 || above == 0 {
		t.Errorf("%d over the old base, %d beside, %d above the register", over, beside, above)
	}
}

// A wainscot of more pieces than anybody cuts is refused before it is taken off.
func TestWainscotIsBounded(t *testing.T) {
	const in = measure.Inch
	var rooms []takeoff.Room
	for i := range 100 {
		r := takeoff.Room{Name: fmt.Sprint(i)}
		for k := range 50 {
			r.Walls = append(r.Walls, takeoff.Wall{
				Name: fmt.Sprint(k), Length: 30 * in, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Devices: []panel.Device{{At: 4 * in, Height: 12 * in}},
			})
		}
		rooms = append(rooms, r)
	}
	for _, target := range []measure.Length{in / 30, in / 1000, 4} {
		w := &takeoff.Wainscot{Profile: board("mold", in, 1), Target: target, Gap: 1, Margin: in, Above: in, Below: in}
		list, err := takeoff.Take(rooms, takeoff.Scheme{Wainscot: w}, nil)
		var fe *measure.FieldError
		if !errors.As(err, &fe) || !strings.Contains(err.Error(), "target") || list != nil {
			t.Errorf("%v: %v", target, err)
		}
	}
	if _, err := takeoff.Take(rooms, takeoff.Scheme{Wainscot: &takeoff.Wainscot{Profile: board("mold", in, in), Target: 8 * in}}, nil); err != nil {
		t.Error(err)
	}
}

// Nothing is taken off along a stair, and that is said; the wall before it ends in its corner.
func TestWainscotBesideStair(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	flight := stair.Flight{Rise: 15 * in / 2, Run: 10 * in, Risers: 14}
	r := takeoff.Room{Name: "entry", Walls: []takeoff.Wall{
		{Name: "N", Length: 8 * ft}, {Name: "E", Length: 16 * ft, Corner: stop, Stair: &takeoff.Stair{Flight: flight, At: 2 * ft}},
	}}
	w := &takeoff.Wainscot{Kind: panel.KindFrame, Profile: board("stile", 3*in/4, 3*in), Target: 20 * in, Cap: board("cap", in, in)}
	list := take(t, r, takeoff.Scheme{Wainscot: w})
	end := measure.Length(0)
	for _, run := range list.Runs {
		if run.Wall != "N" {
			t.Errorf("%+v", run)
		}
		if run.Role == stock.RoleStile {
			end = max(end, run.Start+3*in)
		}
	}
	if end != 8*ft {
		t.Errorf("it ends at %v", end)
	}
	if i := slices.IndexFunc(list.Findings, func(f takeoff.Finding) bool { return f.Code == takeoff.FindingUnpaneled }); i < 0 || list.Findings[i].Wall != "E" {
		t.Errorf("%+v", list.Findings)
	}
}
