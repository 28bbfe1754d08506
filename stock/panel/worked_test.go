package panel_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/panel"
)

const in = measure.Inch

// Divisions in published examples, by the formulas of the packages' comments.
func TestPublishedSpacing(t *testing.T) {
	for _, c := range []struct {
		what   string
		s      panel.Spacing
		length measure.Length
		n      int
		width  measure.Length // of each, to the tick below
	}{
		// "Wainscoting Layout" (G. Katz) lays out 96 in with stiles of 3 in for panels of
		// about 10 in and finds seven; 7·w + 8·3 = 96 gives w = 72/7.
		{"stiles", panel.Spacing{Left: 3 * in, Right: 3 * in, Between: 3 * in, Target: 10 * in}, 96 * in, 7, 72 * in / 7},
		// "Wall frames" (This Old House): three frames in 60 in, 3 in everywhere. Its printed
		// formula lacks a bracket: (60 − 4·3)/3 = 16.
		{"frames", panel.Spacing{Left: 3 * in, Right: 3 * in, Between: 3 * in, Count: 3}, 60 * in, 3, 16 * in},
		// "Picture-frame molding" (a home owner's account): 116 in within the margins, five
		// boxes, gaps of 4 in: (116 − 16)/5 = 20.
		{"boxes", panel.Spacing{Between: 4 * in, Count: 5}, 116 * in, 5, 20 * in},
		// Derived: (144 − 2·3 − 3·4)/4 = 31.5.
		{"margins", panel.Spacing{Left: 3 * in, Right: 3 * in, Between: 4 * in, Count: 4}, 144 * in, 4, 63 * in / 2},
		// Derived: battens of 2 in at both ends, (100 − 6·2)/5 = 17.6 between six of them.
		{"battens", panel.Spacing{Left: 2 * in, Right: 2 * in, Between: 2 * in, Target: 18 * in}, 100 * in, 5, 88 * in / 5},
		// Derived: alone in its stretch, however far from the target.
		{"one", panel.Spacing{Left: in, Right: in, Between: in, Target: 30 * in}, 10 * in, 1, 8 * in},
		// Derived: (23 − 1)/2 = 11 and (23 − 2)/3 = 7 are as far from 9; the fewer win.
		{"tie", panel.Spacing{Between: in, Target: 9 * in}, 23 * in, 2, 11 * in},
	} {
		fs, err := c.s.Divide(c.length)
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if len(fs) != c.n {
			t.Errorf("%s: %d fields, want %d", c.what, len(fs), c.n)
		}
		for _, f := range fs {
			if f.Width != c.width && f.Width != c.width+1 {
				t.Errorf("%s: a field of %v, want %v", c.what, f.Width, c.width)
			}
		}
	}
}

// Derived: a stile of 3 in about 40 in and a plate of 2 3/4 in about 43 in are
// 43 − 40 − (3 + 2 3/4)/2 = 1/8 in apart.
func TestDeviceClearance(t *testing.T) {
	stile := panel.Member{Role: stock.RoleStile, Start: 40*in - 3*in/2, Width: 3 * in, Height: 30 * in}
	outlet := panel.Device{At: 43 * in, Height: 16 * in}
	if c := outlet.Clearance(stile); c != in/8 {
		t.Errorf("%v, want 1/8 in", c)
	}
	outlet.At = 42 * in
	if c := outlet.Clearance(stile); c != -7*in/8 {
		t.Errorf("%v, want -7/8 in", c)
	}
	// Above it by 2 in, less half of 4 1/2 in.
	outlet.Height = 32 * in
	if c := outlet.Clearance(stile); c != 2*in-9*in/4 {
		t.Errorf("%v, want -1/4 in", c)
	}
}

// Derived, for stiles of 3 in, 3/4 in thick: a + t and a if butted inside, a and a − t outside, a + t
// each if mitered inside, a each if mitered outside.
func TestCornerStiles(t *testing.T) {
	const a, thick = 3 * in, 3 * in / 4
	for _, c := range []struct {
		corner              panel.Corner
		left, right         measure.Length // ripped
		faceLeft, faceRight measure.Length
		bevel               measure.Angle // of the right one
	}{
		{panel.Corner{}, a + thick, a, thick, thick, 0},
		{panel.Corner{Outside: true}, a, a - thick, -thick, -thick, 0},
		{panel.Corner{Miter: true}, a + thick, a + thick, thick, thick, 45 * measure.Degree},
		{panel.Corner{Outside: true, Miter: true}, a, a, -thick, -thick, 45 * measure.Degree},
	} {
		l, r, err := c.corner.Stiles(thick)
		if err != nil {
			t.Fatal(err)
		}
		if a+l.Extra != c.left || a+r.Extra != c.right || l.Face != c.faceLeft || r.Face != c.faceRight || r.Bevel != c.bevel {
			t.Errorf("%+v: %+v and %+v", c.corner, l, r)
		}
	}
}

// A wall of 8 ft between two corners, stiles of 3 in, as of the first published example, with
// rails that have a tongue and panels that float. Derived: panels 72/7 = 10.2857 wide; with
// rails of 5 and 3 in a row of 30 in leaves 22; a blank is 10.2857 + 2·3/8 − 1/8 by 22 5/8.
func TestFrame(t *testing.T) {
	d := panel.Design{
		Kind: panel.KindFrame, Target: 10 * in, Width: 3 * in, BottomRail: 5 * in,
		Tongue: 3 * in / 8, Groove: 3 * in / 8, Float: in / 8,
	}
	l, err := d.Lay(panel.Stretch{Length: 96 * in, Rows: []panel.Row{{Bottom: 0, Top: 30 * in}}})
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Fields) != 7 || len(l.Panels) != 7 || len(l.Members) != 8+14 {
		t.Fatalf("%d fields, %d panels, %d members", len(l.Fields), len(l.Panels), len(l.Members))
	}
	for _, m := range l.Members {
		switch {
		case m.Role == stock.RoleStile && (m.Length != 30*in || m.Width != 3*in):
			t.Errorf("stile %+v", m)
		case m.Role == stock.RoleRail && m.Length != m.Width+3*in/4:
			t.Errorf("rail %+v", m)
		}
	}
	for _, p := range l.Panels {
		if p.Height != 22*in || p.Bottom != 5*in || p.BlankHeight != 22*in+5*in/8 || p.BlankWidth != p.Width+5*in/8 {
			t.Errorf("panel %+v", p)
		}
		if p.Width != 72*in/7 && p.Width != 72*in/7+1 {
			t.Errorf("panel %v wide", p.Width)
		}
	}
}

// A box of 20 by 24 overall takes two pieces of 20 and two of 24, mitered at both ends, and is 2 in
// wider than the field inside molding of 1 in: 2·(20 + 24) = 88 in of stock.
func TestBox(t *testing.T) {
	d := panel.Design{Count: 5, Gap: 4 * in, Margin: 3 * in, Below: 3 * in, Above: 3 * in, Width: 1 * in}
	l, err := d.Lay(panel.Stretch{Length: 122 * in, Rows: []panel.Row{{Bottom: 5 * in, Top: 35 * in}}})
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Members) != 20 {
		t.Fatalf("%d members", len(l.Members))
	}
	var sum measure.Length
	for _, m := range l.Members[:4] {
		sum += m.Length
		want := 20 * in
		if m.Upright() {
			want = 24 * in
		}
		if m.Length != want || m.Allowances[0].Length != want-2*in || m.Ends != stock.EndFlatMiter {
			t.Errorf("%+v", m)
		}
	}
	if sum != 88*in {
		t.Errorf("%v of stock", sum)
	}
}

// Outlets in the way of members, derived. 96 in with stiles of 3 in: seven panels of 72/7 in put a
// stile at every 13 2/7, the second from there to 16 2/7.
func TestDevicesAreKeptClear(t *testing.T) {
	frame := panel.Design{Kind: panel.KindFrame, Target: 10 * in, Width: 3 * in, BottomRail: 6 * in}
	boxes := panel.Design{Target: 20 * in, Width: in, Gap: 4 * in}
	row := []panel.Row{{Top: 30 * in}}
	for _, c := range []struct {
		what   string
		d      panel.Design
		length measure.Length
		at, z  measure.Length
		n      int
		shift  measure.Length
		hits   int
	}{
		{"in a panel", frame, 96 * in, 10 * in, 16 * in, 7, 0, 0},
		// Eight panels of 8 5/8 have stiles up to 14 5/8 and from 23 1/4 on, six of 12 1/2 one
		// from 15 1/2 on; a plate about 16 begins at 14 5/8.
		{"on a stile", frame, 96 * in, 16 * in, 16 * in, 8, 0, 0},
		// A plate of 4 1/2 in within a bottom rail of 6 in is where it belongs, half in it is not.
		{"in the rail", frame, 96 * in, 5 * in, 3 * in, 7, 0, 0},
		{"half in the rail", frame, 96 * in, 8 * in, 6 * in, 7, 0, 1},
		// Of four boxes in 4·20 + 5·4 = 100 in the second stands from 28 to 48. A plate about
		// 28 1/4 reaches from 26 7/8 to 29 5/8: to the left the boxes would go by
		// 29 − 26 7/8 = 2 1/8, to the right by 29 5/8 − 28 = 1 5/8, which is less, and less than
		// half the margin.
		{"on a box", fixed(boxes, 4), 100 * in, 113 * in / 4, 16 * in, 4, 13 * in / 8, 0},
		// On its lower side no shift helps: the plate is in the middle of the box.
		{"below a box", fixed(boxes, 4), 100 * in, 38 * in, 5 * in, 4, 0, 1},
	} {
		l, err := c.d.Lay(panel.Stretch{Length: c.length, Rows: row, Devices: []panel.Device{{At: c.at, Height: c.z}}})
		if err != nil {
			t.Fatal(err)
		}
		if len(l.Fields) != c.n || l.Shift != c.shift || len(l.Hits) != c.hits {
			t.Errorf("%s: %d fields, moved by %v, hits %v", c.what, len(l.Fields), l.Shift, l.Hits)
		}
	}
}

func fixed(d panel.Design, n int) panel.Design {
	d.Count, d.Target = n, 0
	return d
}

// Beadboard of 3 1/4 in on 8 ft of which 3/4 in, around an outside corner, is the edge of
// the other wall's: 29 boards are 94 1/4 wide and 30 are 97 1/2, 2 1/4 more than 95 1/4, so
// that the two at the ends are ripped to 3 1/4 − 1 1/8, derived.
func TestStrips(t *testing.T) {
	d := panel.Design{Kind: panel.KindStrips, Width: 13 * in / 4}
	l, err := d.Lay(panel.Stretch{Length: 96 * in, Right: panel.Side{Extra: -3 * in / 4}, Rows: []panel.Row{{Bottom: 5 * in, Top: 32 * in}}})
	if err != nil {
		t.Fatal(err)
	}
	n := len(l.Members)
	if n != 30 || l.Members[0].Ripped != 17*in/8 || l.Members[n-1].Ripped != 17*in/8 || l.Members[n-1].Width != 23*in/8 || l.Members[1].Ripped != 0 {
		t.Errorf("%d strips, %+v ... %+v", n, l.Members[0], l.Members[n-1])
	}
}
