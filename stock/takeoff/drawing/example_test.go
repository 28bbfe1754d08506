package drawing_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
	"example.com/longpoint/stock/takeoff/drawing"
)

// The cloakroom of a schoolhouse, to be drawn.
func cloakroom() (takeoff.Room, takeoff.Scheme, *takeoff.List) {
	room := takeoff.Room{Name: "cloakroom", Height: 9 * measure.Foot, Walls: []takeoff.Wall{
		{Name: "N", Length: 10 * measure.Foot},
		{Name: "E", Length: 6 * measure.Foot, Openings: []takeoff.Opening{{Kind: takeoff.OpeningDoor, At: 2 * measure.Foot, Width: 32 * measure.Inch}}},
		{Name: "S", Length: 10*measure.Foot + 2*measure.Inch},
		{Name: "W", Length: 6 * measure.Foot},
	}}
	scheme := takeoff.Scheme{Base: &stock.Profile{Name: "oak base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch}}
	list, err := takeoff.Take([]takeoff.Room{room}, scheme, nil)
	if err != nil {
		panic(err)
	}
	return room, scheme, list
}

// desc returns a picture's text description, for people who do not see it.
func desc(picture string) string {
	_, rest, _ := strings.Cut(picture, "<desc>")
	text, _, _ := strings.Cut(rest, "</desc>")
	return strings.NewReplacer("&#39;", "'", "&#34;", `"`, ". ", ".\n").Replace(text)
}

// The walls of a room, for paper. Sticks maps the labels of the pieces to their sticks.
func ExampleElevation() {
	room, scheme, list := cloakroom()
	var picture bytes.Buffer
	err := drawing.Elevation(&picture, room, scheme, list, &drawing.Options{
		Title:  "Cloakroom, seen from within",
		Width:  drawing.PaperWidth,
		Sticks: map[string]string{"cloakroom N base": "stick 1"},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(desc(picture.String()))
	// Output:
	// The 4 walls of cloakroom, each as one faces it from the room, from left to right.
	// N: 10' long, 9' high, 1 piece.
	// E: 6' long, 9' high, door from 2' to 4' 8", 2 pieces.
	// S: 10' 2" long, 9' high, 1 piece.
	// W: 6' long, 9' high, 1 piece.
}

// The room from above, for a telephone, with the findings of Check.
func ExamplePlan() {
	room, scheme, list := cloakroom()
	findings, err := takeoff.Check([]takeoff.Room{room}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	var picture bytes.Buffer
	if err := drawing.Plan(&picture, room, list, &drawing.Options{Width: drawing.PhoneWidth, Findings: findings}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(desc(picture.String()))
	// Output:
	// The room cloakroom from above, with 4 walls.
	// N, 10'; at its right inside corner: base coped on E.
	// E, 6', door; at its right inside corner: base coped on E.
	// S, 10' 2"; at its right inside corner: base coped on S.
	// W, 6'; at its right inside corner: base coped on N.
	// The walls fail to close by 2", more than careful readings may add up to.
}

// Options are read as part of a request for a picture. They determine the format of lengths.
func ExampleOptions() {
	var o drawing.Options
	if err := json.Unmarshal([]byte(`{"width": 360, "locale": {"metric": true}}`), &o); err != nil {
		fmt.Println(err)
		return
	}
	room, scheme, _ := cloakroom()
	fmt.Println(drawing.Elevation(io.Discard, room, scheme, nil, &o))

	err := json.Unmarshal([]byte(`{"width": 0}`), &o)
	fmt.Println(err)
	// Output:
	// <nil>
	// width is 0, want 320 to 2000, or nothing for 672
}

// A cope in a wide corner: the description of the picture has the facts of the drawing.
func ExampleJoint() {
	base := stock.Profile{Name: "oak base", Thickness: 9 * measure.Inch / 16, Width: 5 * measure.Inch}
	var picture bytes.Buffer
	if err := drawing.Joint(&picture, base, stock.End{Kind: stock.EndCope, Angle: 100 * measure.Degree}, nil); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(desc(picture.String()))
	// Output:
	// From above: the wall is at the top, the room below.
	// The corner is 100°.
	// Cut as an inside miter first (broken line), long point at the wall, then coped along the profile: at the face about 15/32" from the corner.
	// The back stops about 9/16" from the corner: undercut by 10° at least.
	// Adds nothing to the length, which is measured at the back.
	// Saw settings, 0 for a square cut: upright against the fence miter 40°; flat on the table bevel 40°.
}

// A cornice of two members in the classroom.
func ExampleBuiltUp() {
	scheme := takeoff.Scheme{Assemblies: []takeoff.Assembly{{Name: "cornice", FromCeiling: true, Members: []takeoff.Member{
		{Profile: stock.Profile{Name: "pine frieze", Role: stock.RoleFrieze, Thickness: 3 * measure.Inch / 4, Width: 6 * measure.Inch}},
		{Profile: stock.Profile{Name: "pine crown", Role: stock.RoleCrown, Thickness: measure.Inch / 2, Width: 4 * measure.Inch, Spring: 30 * measure.Degree}},
	}}}}
	room := takeoff.Room{Name: "classroom", Height: 11 * measure.Foot, Walls: []takeoff.Wall{{Name: "N", Length: 12 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}
	list, err := takeoff.Take([]takeoff.Room{room}, scheme, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	var picture bytes.Buffer
	if err := drawing.BuiltUp(&picture, scheme, list, "cornice", nil); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(desc(picture.String()))
	// Output:
	// Trim built up of 2 members, in section and from above.
	// 1, frieze, pine frieze: on the wall, reaches 3/4" into the room, from the ceiling to 6" below it; at each outside corner of 90° 3/4" longer than the wall.
	// 2, crown, pine crown: stands 3/4" off the wall, reaches 2-3/4" into the room, from the ceiling to about 3-15/32" below it; at each outside corner of 90° 2-3/4" longer than the wall, in each inside corner 3/4" shorter.
}

// The board beside the six steps of the teacher's room.
func ExampleSkirt() {
	flight := stair.Flight{Risers: 6, Rise: 15 * measure.Inch / 2, Run: 10 * measure.Inch, Nosing: measure.Inch}
	var picture bytes.Buffer
	if err := drawing.Skirt(&picture, flight, stair.Skirt{Width: 10 * measure.Inch, Foot: 5 * measure.Inch, Joint: stair.JointPlumb}, nil); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(desc(picture.String()))
	// Output:
	// The board beside a stair, on the wall and as it lies on the bench.
	// 6 risers of 7-1/2", run 10"; slope about 36.9°.
	// The board is 6' 6" from long point to long point and 10" wide; in a plumb section 1' 1/2".
	// Its upper edge lies about 3-13/32" above the line of the nosings, square to it.
	// Foot: plumb cut, about 36.9° from square, with a level cut of 10" on the floor; it meets base of 5".
	// Head: plumb cut, about 36.9° from square.
	// The base on the lower floor ends 10" before the first riser.
}
