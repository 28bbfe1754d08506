package takeoff_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// pine is a 1×6 for jamb extensions.
func pine() *takeoff.ExtensionStock {
	const in = measure.Inch
	return &takeoff.ExtensionStock{Board: stock.Profile{Name: "pine 1x6", Thickness: 3 * in / 4, Width: 11 * in / 2}, Kerf: in / 8}
}

func depths(tl, tr, bl, br measure.Length) *scribe.Depths {
	return &scribe.Depths{TopLeft: tl, TopRight: tr, BottomLeft: bl, BottomRight: br}
}

// The window of the teacher's room, by hand. Four sides, set back by 3/16 in: the frame is
// 30 + 3/8 by 60 + 3/8 in inside, the head and the sill lie over the legs and are 1 1/2 in
// longer. The casing goes around it with its own 3/16: 30 3/8 + 3/8 + 2 · 3. Rips of 1/2, 5/8
// and 9/16 in are alike: strips of 5/8 in, of which (5 1/2 + 1/8)/(5/8 + 1/8) = 7 come from a
// board (derived).
func TestWindowExtension(t *testing.T) {
	const in = measure.Inch
	o := window()
	o.Depths = depths(in/2, 5*in/8, 9*in/16, 9*in/16)
	s := takeoff.Scheme{Casing: casing(3 * in), Extension: pine()}
	list, err := takeoff.Take(doorWall(o), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	for _, p := range list.Pieces {
		got[strings.TrimPrefix(p.Label, "corridor S window ")] = p.Length.Format(measure.Style{Unit: in})
		sum := measure.Length(0)
		for _, a := range p.Allowances {
			sum += a.Length
		}
		if sum != p.Length {
			t.Errorf("%s: allowances make %v", p.Label, sum)
		}
	}
	want := map[string]string{
		"jamb extension leg left": `60-3/8"`, "jamb extension leg right": `60-3/8"`, "jamb extension head": `31-7/8"`, "jamb extension sill": `31-7/8"`,
		"casing leg left": `66-3/4"`, "casing leg right": `66-3/4"`, "casing head": `36-3/4"`, "bottom casing": `36-3/4"`,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if len(list.Strips) != 1 {
		t.Fatalf("%+v", list.Strips)
	}
	strip := list.Strips[0]
	if strip.Profile.Name != `pine 1x6 ripped to 5/8"` || strip.Profile.Width != 5*in/8 || strip.Board != "pine 1x6" || strip.PerBoard != 7 {
		t.Errorf("%+v", strip)
	}
	if n, err := strip.Rip.Blanks(15); n != 3 || err != nil {
		t.Errorf("15 strips from %d boards, %v", n, err)
	}
	marks := map[string][]stock.ScribeMark{
		"leg left": {{At: 0, Depth: in / 16}, {At: 483 * in / 8, Depth: in / 8}}, "leg right": {{At: 0, Depth: in / 16}, {At: 483 * in / 8, Depth: 0}},
		"head": {{At: 0, Depth: in / 8}, {At: 255 * in / 8, Depth: 0}}, "sill": {{At: 0, Depth: in / 16}, {At: 255 * in / 8, Depth: in / 16}},
	}
	for _, r := range list.Runs {
		if side, ok := strings.CutPrefix(r.Label, "corridor S window jamb extension "); ok {
			if d := cmp.Diff(marks[side], r.Scribe); d != "" || r.Role != stock.RoleExtension {
				t.Errorf("%s: %+v\n%s", side, r, d)
			}
		}
	}
	if len(list.Findings) != 0 { // 1/8 in of range, corners 1/32 in off
		t.Errorf("%+v", list.Findings)
	}
	if j := list.TotalsOf(strip.Profile.Name).Joints; j != (takeoff.Joints{Butts: 4}) {
		t.Errorf("%+v", j)
	}
}

// Extensions are where there is something to extend, of as many layers as it takes.
func TestWhatIsExtended(t *testing.T) {
	const in = measure.Inch
	for _, c := range []struct {
		name  string
		make  func(*takeoff.Opening, *takeoff.Scheme)
		parts int
	}{
		{"a door has three sides", func(*takeoff.Opening, *takeoff.Scheme) {}, 3},
		{"not measured", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.Depths = nil }, 0},
		{"no stock", func(_ *takeoff.Opening, s *takeoff.Scheme) { s.Extension = nil }, 0},
		{"casing that stays", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.ExistingWidth = 3 * in }, 0},
		{"no jamb", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.Kind = takeoff.OpeningPlain }, 0},
		{"beaten down", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.Depths = depths(in/8, in/8, in/8, in/16) }, 0},
		{"an arch", func(o *takeoff.Opening, s *takeoff.Scheme) { o.ArchRise, s.Casing = 6*in, nil }, 0},
		{"proud at a corner", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.Depths.TopLeft = -in / 16 }, 0},
		{"two layers", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.Depths = depths(6*in, 6*in, 6*in, 6*in) }, 6},
		{"three layers", func(o *takeoff.Opening, _ *takeoff.Scheme) { o.Depths = depths(12*in, 12*in, 12*in, 12*in) }, 9},
		{"a stool has three sides", func(o *takeoff.Opening, s *takeoff.Scheme) {
			d := o.Depths
			*o = window()
			o.Depths, s.Stool = d, board("stool", in, 5*in)
		}, 3},
		{"a window has four", func(o *takeoff.Opening, s *takeoff.Scheme) {
			d := o.Depths
			*o = window()
			o.Depths = d
		}, 4},
	} {
		o := takeoff.Opening{At: 48 * in, Width: 32 * in, Depths: depths(in/2, in/2, in/2, in/2)}
		s := takeoff.Scheme{Casing: casing(3 * in), Extension: pine()}
		c.make(&o, &s)
		list, err := takeoff.Take(doorWall(o), s, nil)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		n := 0
		for _, r := range list.Runs {
			if r.Role == stock.RoleExtension {
				n++
			}
		}
		if n != c.parts || (n > 0) != (len(list.Strips) > 0) {
			t.Errorf("%s: %d boards, want %d, %d strips", c.name, n, c.parts, len(list.Strips))
		}
	}
}

// Depths in words.
func TestDepthFindings(t *testing.T) {
	const in = measure.Inch
	for _, c := range []struct {
		d    *scribe.Depths
		want []string
		arch measure.Length
	}{
		{depths(in/2, in/2, in/2, in/2), nil, 0},
		{depths(in/2, in/2, in/2, in/2), []string{
			`jamb depth advice 1/2": door: the wall is up to 1/2" beyond the jamb; the extension of an arched jamb is bent, and is not in the list`}, 6 * in},
		{depths(in/2, in/2, in/2, -in/16), []string{
			`proud jamb doubt 1/16": door: the jamb stands 1/16" proud of the wall; plane it flush, or bring the wall out: there is nothing to extend`,
			`jamb depth advice 9/16": door: the wall is from -1/16" to 1/2" beyond the jamb, 9/16" apart; measure again, or true the wall before the casing shows it`,
			`jamb twist advice 9/16": door: the corners of the wall are twisted by 9/16": casing in one plane is 9/64" off each of them`}, 0},
		{depths(in/8, in/8, in/8, in/8), []string{
			`thin rip advice 1/8": door: the wall stands only 1/8" beyond the jamb; beat down or plane the plaster rather than rip an extension`}, 0},
		{&scribe.Depths{TopLeft: in / 2, TopRight: in / 2, BottomLeft: in / 2, BottomRight: in / 2, Left: 9 * in / 16, Head: 7 * in / 16}, []string{
			`jamb bow advice 1/16": door: the wall is bowed out by 1/16" along its left side; scribe the extension to it`,
			`jamb bow advice 1/16": door: the wall is bowed in by 1/16" along its head; scribe the extension to it`}, 0},
		{depths(5*in/16, 7*in/16, 5*in/16, 7*in/16), []string{
			`thin rip advice 5/16": door: the extension at its left side is 5/16" wide at its narrow end; under 3/8 in it splits when it is nailed: glue it`,
			`thin rip advice 5/16": door: the extension at its head is 5/16" wide at its narrow end; under 3/8 in it splits when it is nailed: glue it`}, 0},
	} {
		o := takeoff.Opening{At: 48 * in, Width: 32 * in, Depths: c.d, ArchRise: c.arch}
		fs, err := takeoff.Check(doorWall(o), takeoff.Scheme{Casing: casing(3 * in), Extension: pine()}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range fs {
			got = append(got, fmt.Sprint(f.Code, " ", f.Severity, " ", f.Length, ": ", f.Reason))
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("(-want +got):\n%s", d)
		}
	}
}

// box is a board on the wall, in inches: from left to right and from the floor up.
type box struct {
	label          string
	x0, x1, y0, y1 float64
}

// The boards of an extension and the casing, set on the wall where their runs say, leave
// the edge of the jamb and the edge of the extension free by setback and reveal, cover all
// else without a gap, and are nowhere in each other.
func TestExtensionAndCasingOnTheWall(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		eighth := func(lo, hi int, label string) measure.Length {
			return measure.Length(rapid.IntRange(lo, hi).Draw(t, label)) * in / 8
		}
		o := takeoff.Opening{Kind: takeoff.OpeningWindow, At: eighth(100, 200, "at"), Width: eighth(160, 300, "width"), Height: eighth(160, 500, "height"), Sill: eighth(100, 200, "sill")}
		o.Reveal = eighth(1, 3, "reveal")
		if rapid.Bool().Draw(t, "door") {
			o.Kind, o.Sill = takeoff.OpeningDoor, 0
		}
		o.Depths = depths(eighth(6, 60, "tl"), eighth(6, 60, "tr"), eighth(6, 60, "bl"), eighth(6, 60, "br"))
		s := takeoff.Scheme{Casing: casing(eighth(8, 32, "casing")), Extension: pine()}
		s.Extension.Setback, s.Extension.Flush = eighth(1, 3, "setback"), false
		list, err := takeoff.Take(doorWall(o), s, nil)
		var fe *measure.FieldError
		if errors.As(err, &fe) { // layers as wide as the shallowest corner
			least, greatest := o.Depths.Range()
			if greatest <= s.Extension.Board.Width || least > greatest/2+in/8 {
				t.Fatalf("%v with depths from %v to %v", err, least, greatest)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		layers := 0
		var boxes []box
		for _, r := range list.Runs {
			if r.Role != stock.RoleExtension {
				continue
			}
			thick := s.Extension.Board.Thickness.Inches()
			b := box{r.Label, r.Start.Inches(), r.Start.Inches() + r.Length.Inches(), r.Bottom.Inches(), r.Bottom.Inches() + thick}
			if r.Slope != 0 {
				b.x1, b.y1 = b.x0+thick, b.y0+r.Length.Inches()
			} else {
				layers++
			}
			boxes = append(boxes, b)
		}
		sides := 3
		if o.Kind == takeoff.OpeningWindow {
			sides, layers = 4, layers/2
		}
		if len(boxes) != sides*layers {
			t.Fatalf("%d boards in %d layers", len(boxes), layers)
		}
		for k := range layers {
			set := s.Extension.Setback.Inches() * float64(k+1)
			x0, x1 := o.At.Inches()-set, (o.At+o.Width).Inches()+set
			y0, y1 := o.Sill.Inches(), (o.Sill+o.Height).Inches()+set
			if o.Kind == takeoff.OpeningWindow {
				y0 -= set
			}
			thick := s.Extension.Board.Thickness.Inches()
			want := []box{{"leg left", x0 - thick, x0, y0, y1}, {"leg right", x1, x1 + thick, y0, y1}, {"head", x0 - thick, x1 + thick, y1, y1 + thick}, {"sill", x0 - thick, x1 + thick, y0 - thick, y0}}
			for i, b := range boxes[k*sides : (k+1)*sides] {
				w := want[i]
				if !strings.Contains(b.label, w.label) || math.Abs(b.x0-w.x0)+math.Abs(b.x1-w.x1)+math.Abs(b.y0-w.y0)+math.Abs(b.y1-w.y1) > 1e-9 {
					t.Fatalf("%+v, want %+v", b, w)
				}
			}
		}
		// The casing's short points are the reveal off the last frame.
		off := 2 * (s.Extension.Setback*measure.Length(layers) + o.Reveal + s.Casing.Width)
		for _, p := range list.PiecesOf("casing") {
			if strings.HasSuffix(p.Label, "head") && p.Length != o.Width+off {
				t.Fatalf("%s is %v, want %v", p.Label, p.Length, o.Width+off)
			}
		}
		// Every board is as wide as the wall is deep there, out of the strip that it names.
		wide := map[string]measure.Length{}
		for _, st := range list.Strips {
			wide[st.Profile.Name] = st.Rip.Strip
			if y, err := st.Rip.Blank(); err != nil || y.Strips != st.PerBoard || st.PerBoard < 1 {
				t.Fatalf("%+v, %+v, %v", st, y, err)
			}
		}
		filled := measure.Length(0)
		for _, r := range list.Runs {
			if r.Role != stock.RoleExtension || !strings.Contains(r.Label, "leg left") {
				continue
			}
			top := wide[r.Profile]
			if len(r.Scribe) > 0 {
				top -= r.Scribe[len(r.Scribe)-1].Depth
			}
			filled += top
		}
		if filled != o.Depths.TopLeft {
			t.Fatalf("the boards reach %v at the top left, the wall is %v deep: %+v", filled, o.Depths.TopLeft, list.Strips)
		}
	})
}

// Legs of a door leave the floor gap, and are as long as its two sides were measured.
func TestDoorExtension(t *testing.T) {
	const in = measure.Inch
	o := takeoff.Opening{At: 48 * in, Width: 32 * in, TopWidth: 129 * in / 4, RightHeight: 161 * in / 2, Depths: depths(in/2, in/2, in/2, in/2)}
	s := takeoff.Scheme{Casing: casing(3 * in), Extension: pine()}
	list, err := takeoff.Take(doorWall(o), s, &takeoff.Options{FloorGap: in / 2})
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		label, length string
		bottom        measure.Length
	}{
		{"leg left", `79-11/16"`, in / 2}, {"leg right", `80-3/16"`, 0}, {"head", `34-1/8"`, 80*in + 3*in/16},
		{"casing leg left", `82-7/8"`, in / 2}, {"casing leg right", `83-3/8"`, 0}, {"casing head", `39"`, -1},
	}
	for i, r := range list.Runs {
		if l := r.Length.Format(measure.Style{Unit: in}); !strings.HasSuffix(r.Label, want[i].label) || l != want[i].length || want[i].bottom >= 0 && r.Bottom != want[i].bottom {
			t.Errorf("%s is %s long from %v, want %+v", r.Label, l, r.Bottom, want[i])
		}
	}
}

// What cannot be extended is an error that says where.
func TestExtensionErrors(t *testing.T) {
	const in = measure.Inch
	fields := func(o takeoff.Opening, e *takeoff.ExtensionStock) string {
		_, err := takeoff.Take(doorWall(o), takeoff.Scheme{Casing: casing(3 * in), Extension: e}, nil)
		var out []string
		for fe := range measure.FieldErrors(err) {
			out = append(out, fe.Field)
		}
		return strings.Join(out, " ")
	}
	door := takeoff.Opening{At: 48 * in, Width: 32 * in, Depths: depths(in/2, in/2, in/2, in/2)}
	const opening = "rooms[0].walls[0].openings[0]"
	e := pine()
	e.Board.Lengths, e.Board.EndTrim = []measure.Length{72 * in}, in
	if got := fields(door, e); got != opening { // legs of 80 in
		t.Errorf("%q", got)
	}
	e = pine()
	e.Board.Width, e.Kerf, e.Setback, e.Flush, e.Proud = 0, -1, in, true, -1
	if got := fields(door, e); got != "extension.board.width extension.kerf extension.setback extension.proud" {
		t.Errorf("%q", got)
	}
	bad := door
	bad.Depths = &scribe.Depths{Head: 2000 * measure.Foot}
	if got := fields(bad, pine()); got != opening+".depths.head" {
		t.Errorf("%q", got)
	}
	bad.Depths = depths(9*in, 9*in, 9*in, 4*in) // two layers, of which the first fills 4 1/2
	if got := fields(bad, pine()); got != opening {
		t.Errorf("%q", got)
	}
	bad.Depths = &scribe.Depths{TopLeft: 5 * in, TopRight: 5 * in, BottomLeft: 4 * in, BottomRight: 4 * in, Left: 11 * in / 2}
	if got := fields(bad, pine()); got != opening+".depths" { // 5 in and a bow of 1 in
		t.Errorf("%q", got)
	}
	bad.Depths = depths(200*in, 200*in, 200*in, 200*in)
	if got := fields(bad, pine()); got != opening+".depths" {
		t.Errorf("%q", got)
	}
	bad = window()
	bad.Height, bad.Depths = 0, depths(in, in, in, in)
	if got := fields(bad, pine()); !strings.Contains(got, opening+".height") {
		t.Errorf("%q", got)
	}
}

func TestDepthsInJSON(t *testing.T) {
	const in = measure.Inch
	o := window()
	o.Depths = depths(in/2, 0, in/2, in/2)
	s := takeoff.Scheme{Extension: pine()}
	same := func(v, into any) {
		t.Helper()
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if err := measure.UnmarshalStrict(text, into); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(v, into); d != "" {
			t.Errorf("%s\n%s", text, d)
		}
	}
	same(&o, &takeoff.Opening{})
	same(&s, &takeoff.Scheme{})
	o.Depths.TopRight = in / 2
	s.Casing = casing(3 * in)
	list, err := takeoff.Take(doorWall(o), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	same(list, &takeoff.List{})
	var fe *measure.FieldError
	if err := measure.UnmarshalStrict([]byte(`{"extension": {"board": {"name": "x"}, "setback": "0in"}}`), &s); !errors.As(err, &fe) || fe.Field != "extension.setback" {
		t.Errorf("%v", err)
	}
	if err := measure.UnmarshalStrict([]byte(`{"depths": {"sill": "0in"}}`), &o); !errors.As(err, &fe) || fe.Field != "depths.sill" {
		t.Errorf("%v", err)
	}
}

// What is ripped does not depend on how findings are written. A board that is sold in
// millimeters is ripped to them.
func TestStripsOfAMetricBoard(t *testing.T) {
	const mm = measure.Millimeter
	o := window()
	o.Depths = depths(14*mm+mm/2, 16*mm, 15*mm, 15*mm)
	s := takeoff.Scheme{Casing: casing(70 * mm), Extension: &takeoff.ExtensionStock{Board: stock.Profile{Name: "board", Thickness: 18 * mm, Width: 144 * mm}, Proud: mm / 2, Kerf: 3 * mm}}
	var first *takeoff.List
	for _, locale := range []measure.Locale{{}, {Metric: true}} {
		list, err := takeoff.Take(doorWall(o), s, &takeoff.Options{Locale: locale})
		if err != nil {
			t.Fatal(err)
		}
		// 16 1/2 mm to 17: (144 + 3)/(17 + 3) = 7.
		if st := list.Strips; len(st) != 1 || st[0].Profile.Name != "board ripped to 17mm" || st[0].PerBoard != 7 {
			t.Errorf("%+v", st)
		}
		for i := range list.Pieces { // these do
			list.Pieces[i].Notes = nil
		}
		for i := range list.Runs {
			list.Runs[i].Notes = nil
		}
		if list.Findings = nil; first == nil {
			first = list
		}
		if d := cmp.Diff(first, list); d != "" {
			t.Errorf("%+v (-us +metric):\n%s", locale, d)
		}
	}
}

// Two windows that are joined have extensions each, and the casing around both and between
// them goes around these, by hand: 6 in of wall less 2 · 3/16 of setback and 2 · 3/16 of reveal
// are between; over all are 66 + 2 · (3/16 + 3/16 + 3).
func TestJoinedExtensions(t *testing.T) {
	const in = measure.Inch
	left, right := window(), window()
	left.Joined, left.Depths = true, depths(in, in, in, in)
	right.At, right.Depths = left.At+left.Width+6*in, depths(in, in, in, in)
	s := takeoff.Scheme{Casing: casing(3 * in), Extension: pine(), CasingStyles: []takeoff.CasingStyle{{Name: "pair", Mullion: casing(6 * in)}}}
	list, err := takeoff.Take(doorWall(left, right), s, nil)
	if err != nil {
		t.Fatal(err)
	}
	boards, heads, mullions := 0, 0, 0
	for _, r := range list.Runs {
		switch {
		case r.Role == stock.RoleExtension:
			boards++
		case strings.HasSuffix(r.Label, "casing head"):
			heads++
		case strings.HasSuffix(r.Label, "casing mullion"):
			mullions++
		}
		if strings.HasSuffix(r.Label, "casing head") && r.Length != 66*in+27*in/4 {
			t.Errorf("%s is %v long", r.Label, r.Length)
		}
		if want := left.At + left.Width + 3*in/8; strings.HasSuffix(r.Label, "mullion") && r.Start != want {
			t.Errorf("%s begins at %v, want %v", r.Label, r.Start, want)
		}
	}
	if boards != 8 || heads != 1 || mullions != 1 {
		t.Errorf("%d boards of extensions, %d heads and %d mullions of casing", boards, heads, mullions)
	}
}
