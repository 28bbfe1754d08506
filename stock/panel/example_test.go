package panel_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/panel"
)

// Panels of about 10 in along 8 ft, between stiles of 3 in: seven, each 72/7 in wide. To the
// sixteenth four of them are a sixteenth wider, two at either end.
func ExampleSpacing() {
	s := panel.Spacing{Left: 3 * measure.Inch, Right: 3 * measure.Inch, Between: 3 * measure.Inch, Target: 10 * measure.Inch, Graduation: measure.Inch / 16}
	fields, err := s.Divide(8 * measure.Foot)
	if err != nil {
		fmt.Println(err)
		return
	}
	var f panel.Field
	for _, f = range fields {
		fmt.Println(f.Width.About(), "from", f.Start.About())
	}
	// Output:
	// 10-5/16" from 3"
	// 10-5/16" from 1' 4-5/16"
	// 10-1/4" from 2' 5-5/8"
	// 10-1/4" from 3' 6-7/8"
	// 10-1/4" from 4' 8-1/8"
	// 10-5/16" from 5' 9-3/8"
	// 10-5/16" from 6' 10-11/16"
}

// The classroom's wall is 12 ft long and gets boxes of about 3 ft, 3 in apart. An outlet
// would lie on the second of four: five are clear of it.
func ExampleDesign_Lay() {
	const in = measure.Inch
	d := panel.Design{Kind: panel.KindBoxes, Target: 36 * in, Width: 5 * in / 4, Clear: in / 4}
	outlet := panel.Device{Name: "outlet", At: 74 * in, Height: 16 * in}
	l, err := d.Lay(panel.Stretch{Length: 144 * in, Rows: []panel.Row{{Bottom: 6 * in, Top: 32 * in}}, Devices: []panel.Device{outlet}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d boxes, usually %d, moved by %v\n", len(l.Fields), l.Usual, l.Shift.About())
	for _, m := range l.Members[:4] {
		fmt.Printf("%-6v %v, %v: %v\n", m.Place, m.Role, m.Ends, m.Length.About())
	}
	// Output:
	// 5 boxes, usually 4, moved by 0"
	// left   panel molding, flat miter: 1' 8"
	// right  panel molding, flat miter: 1' 8"
	// bottom panel molding, flat miter: 25.2"
	// top    panel molding, flat miter: 25.2"
}

// A frame has stiles, rails with tongues between them, and panels in grooves that can swell.
func ExampleLayout() {
	const in = measure.Inch
	d := panel.Design{
		Kind: panel.KindFrame, Count: 2, Width: 3 * in, BottomRail: 6 * in, MidRails: []measure.Length{20 * in},
		Tongue: 3 * in / 8, Groove: 3 * in / 8, Float: in / 8,
	}
	var l panel.Layout
	l, err := d.Lay(panel.Stretch{Length: 45 * in, Left: panel.Side{Extra: 3 * in / 4}, Right: panel.Side{None: true}, Rows: []panel.Row{{Top: 36 * in}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	var m panel.Member
	for _, m = range l.Members {
		switch {
		case m.Upright() && m.Ripped > 0:
			fmt.Println("stile", m.Length.About(), "ripped to", m.Ripped.About())
		case m.Place == panel.PlaceUpright:
			fmt.Println("stile", m.Length.About())
		case m.Field == 0 && (m.Place == panel.PlaceBottom || m.Place == panel.PlaceMiddle || m.Place == panel.PlaceTop):
			fmt.Println(m.Place, "rail", m.Length.About())
		}
	}
	var p panel.Panel
	for _, p = range l.Panels[:2] {
		fmt.Println("panel", p.BlankWidth.About(), "by", p.BlankHeight.About())
	}
	// Output:
	// stile 3' ripped to 3-3/4"
	// stile 3'
	// bottom rail 1' 8-1/4"
	// middle rail 1' 8-1/4"
	// top rail 1' 8-1/4"
	// panel 1' 8-1/8" by 1' 2-5/8"
	// panel 1' 8-1/8" by 10-5/8"
}

// Boards edge to edge, and battens over boards, on the same wall.
func ExampleKind() {
	const in = measure.Inch
	wall := panel.Stretch{Length: 60 * in, Rows: []panel.Row{{Bottom: 5 * in, Top: 32 * in}}}
	for _, d := range []panel.Design{
		{Kind: panel.KindStrips, Width: 13 * in / 4},
		{Kind: panel.KindBattens, Width: 2 * in, Target: 12 * in},
	} {
		l, err := d.Lay(wall)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %d, the first %v wide\n", d.Kind, len(l.Members), l.Members[0].Width.About())
	}
	// Output:
	// strips: 19, the first 2-3/8" wide
	// battens: 5, the first 2" wide
}

// A plate half an inch off a stile, and the position of each side of a box.
func ExampleDevice_Clearance() {
	const in = measure.Inch
	stile := panel.Member{Role: stock.RoleStile, Start: 40 * in, Width: 3 * in, Height: 30 * in}
	fmt.Println(panel.Device{At: 44*in + 7*in/8, Height: 16 * in}.Clearance(stile).About())
	left, right, bottom, top := panel.Device{At: 44 * in, Height: 16 * in, PlateWidth: 4 * in}.Plate()
	fmt.Println(left.About(), right.About(), bottom.About(), top.About())
	fmt.Println(panel.PlaceLeft, panel.PlaceRight)
	// Output:
	// 1/2"
	// 3' 6" 3' 10" 1' 1-3/4" 1' 6-1/4"
	// left right
}

// Stiles 3/4 in thick with 3 in visible: their ripped widths where two walls meet.
func ExampleCorner_Stiles() {
	const in = measure.Inch
	for _, c := range []panel.Corner{{}, {Outside: true}, {Outside: true, Miter: true}, {Outside: true, Angle: 135 * measure.Degree}} {
		var left, right panel.CornerStile
		left, right, err := c.Stiles(3 * in / 4)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s and %s, beveled %v and %v\n", (3*in + left.Extra).About(), (3*in + right.Extra).About(), left.Bevel, right.Bevel)
	}
	// Output:
	// 3-3/4" and 3", beveled 0° and 0°
	// 3" and 2-1/4", beveled 0° and 0°
	// 3" and 3", beveled 45° and 45°
	// 3-3/4" and about 2-11/16", beveled 45° and 45°
}

// A box with a device on it, however the boxes are divided.
func ExampleHit() {
	const in = measure.Inch
	d := panel.Design{Count: 1, Width: in}
	l, err := d.Lay(panel.Stretch{Length: 30 * in, Rows: []panel.Row{{Top: 30 * in}}, Devices: []panel.Device{{At: 15 * in, Height: 4 * in}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	var h panel.Hit
	for _, h = range l.Hits {
		fmt.Println(l.Members[h.Member].Place, h.Clearance.About())
	}
	// Output:
	// bottom -2-1/4"
}
