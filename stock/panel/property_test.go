package panel_test

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/panel"
)

func length(lo, hi measure.Length) *rapid.Generator[measure.Length] {
	const grain = in / 16
	return rapid.Map(rapid.Int64Range(int64(lo/grain), int64(hi/grain)), func(n int64) measure.Length { return measure.Length(n) * grain })
}

// Fields sum to the stretch, differ by a graduation at most, mirror each other as far as
// they can, and no other number of them comes nearer to the target: all numbers are tried.
func TestDivide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := panel.Spacing{
			Left: length(0, 6*in).Draw(t, "left"), Right: length(0, 6*in).Draw(t, "right"), Between: length(0, 12*in).Draw(t, "between"),
			Target: length(in/16, 48*in).Draw(t, "target"), Graduation: rapid.SampledFrom([]measure.Length{0, 1, in / 16, in / 32, 127, 3 * in}).Draw(t, "graduation"),
		}
		whole := length(in, 200*in).Draw(t, "length") + measure.Length(rapid.IntRange(0, 100).Draw(t, "ticks"))
		if rapid.Bool().Draw(t, "counted") {
			s.Count = rapid.IntRange(1, 12).Draw(t, "count")
		}
		fs, err := s.Divide(whole)
		room := func(n int) measure.Length { return whole - s.Left - s.Right - measure.Length(n-1)*s.Between }
		holds := func(n int) bool { // a graduation for each, and a tick
			return room(n) >= measure.Length(n)*max(1, s.Graduation)
		}
		if err != nil {
			if n := max(1, s.Count); holds(n) {
				t.Fatalf("%d fields have room: %v", n, err)
			}
			return
		}
		n := len(fs)
		at, short, wide := s.Left, fs[0].Width, fs[0].Width
		beyond := room(n) % max(1, s.Graduation)
		for i, f := range fs {
			if f.Start != at || f.Width <= 0 {
				t.Fatalf("field %d %+v, want it at %v", i, f, at)
			}
			at += f.Width + s.Between
			short, wide = min(short, f.Width), max(wide, f.Width)
			if i != n/2 && i != n-1-n/2 && f.Width != fs[n-1-i].Width {
				t.Fatalf("not symmetric: %v", fs)
			}
		}
		if at-s.Between+s.Right != whole {
			t.Fatalf("sums to %v, not %v", at-s.Between+s.Right, whole)
		}
		if wide-short > max(1, s.Graduation)+beyond {
			t.Fatalf("from %v to %v", short, wide)
		}
		if beyond == 0 && (n%2 == 1 || room(n)/max(1, s.Graduation)%2 == 0) && n > 1 && fs[n/2].Width != fs[n-1-n/2].Width {
			t.Fatalf("could be symmetric: %v", fs)
		}
		if s.Count != 0 {
			if n != s.Count {
				t.Fatalf("%d fields, want %d", n, s.Count)
			}
			return
		}
		// |room/k − target| for every k, as fractions of k.
		off := func(k int) int64 {
			d := int64(room(k)) - int64(k)*int64(s.Target)
			return max(d, -d)
		}
		best := 1
		for k := 2; k < 4000 && room(k) > 0; k++ {
			if holds(k) && off(k)*int64(best) < off(best)*int64(k) {
				best = k
			}
		}
		if n != best {
			t.Fatalf("%d fields, %d come nearer to %v in %v", n, best, s.Target, whole)
		}
	})
}

// design makes something that a person could build.
func design(t *rapid.T) panel.Design {
	d := panel.Design{
		Kind: panel.Kind(rapid.IntRange(0, 3).Draw(t, "kind")), Width: length(in, 4*in).Draw(t, "width"),
		Target: length(9*in, 40*in).Draw(t, "target"), Graduation: rapid.SampledFrom([]measure.Length{0, in / 16}).Draw(t, "graduation"),
		Gap: length(0, 5*in).Draw(t, "gap"), Margin: length(0, 5*in).Draw(t, "margin"), Below: length(0, 4*in).Draw(t, "below"), Above: length(0, 4*in).Draw(t, "above"),
		TopRail: length(0, 4*in).Draw(t, "top rail"), BottomRail: length(0, 7*in).Draw(t, "bottom rail"),
		Groove: length(0, in/2).Draw(t, "groove"), Float: length(0, in/4).Draw(t, "float"), Clear: length(0, in/2).Draw(t, "clear"),
	}
	d.Tongue = min(d.Width/2, length(0, in/2).Draw(t, "tongue"))
	if rapid.IntRange(0, 3).Draw(t, "counted") == 0 {
		d.Count = rapid.IntRange(1, 8).Draw(t, "count")
	}
	for z := measure.Length(0); rapid.IntRange(0, 2).Draw(t, "mid rail") == 0; {
		z += length(in, 24*in).Draw(t, "at")
		d.MidRails = append(d.MidRails, z)
	}
	return d
}

func stretch(t *rapid.T) panel.Stretch {
	s := panel.Stretch{Length: length(30*in, 180*in).Draw(t, "length")}
	if rapid.IntRange(0, 3).Draw(t, "short") == 0 {
		s.Length = length(in, 30*in).Draw(t, "length")
	}
	z := length(0, 8*in).Draw(t, "bottom")
	for range rapid.IntRange(1, 2).Draw(t, "rows") {
		r := panel.Row{Bottom: z, Top: z + length(6*in, 40*in).Draw(t, "row")}
		s.Rows = append(s.Rows, r)
		z = r.Top + length(0, 4*in).Draw(t, "rail")
	}
	for _, e := range []*panel.Side{&s.Left, &s.Right} {
		switch rapid.IntRange(0, 3).Draw(t, "side") {
		case 0:
			e.None = true
		case 1:
			e.Visible = length(in/2, 4*in).Draw(t, "shows")
		case 2:
			e.Extra = length(-in, in).Draw(t, "extra")
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "devices") {
		v := panel.Device{At: length(0, s.Length).Draw(t, "at"), Height: (s.Rows[0].Bottom + s.Rows[0].Top) / 2}
		if rapid.IntRange(0, 2).Draw(t, "anywhere") == 0 {
			v.At, v.Height = length(-3*in, s.Length+3*in).Draw(t, "at"), length(0, z+6*in).Draw(t, "height")
			v.PlateWidth, v.PlateHeight = length(0, 6*in).Draw(t, "plate"), length(0, 6*in).Draw(t, "high")
		}
		s.Devices = append(s.Devices, v)
	}
	return s
}

// covers reports whether a point of the wall lies in the visible part of a member, away from its edges.
// Sides of a box end along the miters, from corner to corner.
func covers(m panel.Member, x, z float64) bool {
	l, b := float64(m.Start), float64(m.Bottom)
	x, z = x-l, z-b
	w, h := float64(m.Width), float64(m.Height)
	if x <= 0 || z <= 0 || x >= w || z >= h {
		return false
	}
	if m.Ends != stock.EndFlatMiter {
		return true
	}
	switch m.Place {
	case panel.PlaceLeft:
		return x < z && x < h-z
	case panel.PlaceRight:
		return w-x < z && w-x < h-z
	case panel.PlaceBottom:
		return z < x && z < w-x
	}
	return h-z < x && h-z < w-x
}

// The built members are compared with each other point by point, without the formulas: nothing
// overlaps, a frame fills its row without a hole, so do strips, all of it stays within the stretch and
// its row, and no clear device is reached. Lengths equal the sum of their parts.
func TestLayouts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := design(t), stretch(t)
		l, err := d.Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		if len(l.Members) == 0 {
			if len(l.Fields)+len(l.Panels)+len(l.Hits) > 0 {
				t.Fatalf("nothing is laid out, but %+v", l)
			}
			return
		}
		filled := d.Kind == panel.KindFrame || d.Kind == panel.KindStrips
		rows := map[int]bool{}
		for i, m := range l.Members {
			rows[m.Row] = true
			var sum measure.Length
			for _, a := range m.Allowances {
				sum += a.Length
			}
			if sum != m.Length || m.Length <= 0 || m.Width <= 0 || m.Height <= 0 || m.Ripped < 0 {
				t.Fatalf("member %d: %+v", i, m)
			}
			r := s.Rows[m.Row]
			if m.Start < 0 || m.Start+m.Width > s.Length || m.Bottom < r.Bottom || m.Bottom+m.Height > r.Top {
				t.Fatalf("member %d leaves its row: %+v", i, m)
			}
		}
		extra := s.Left.Extra < 0 || s.Right.Extra < 0 // then a stile may be all edge of another
		for row := range rows {
			r := s.Rows[row]
			var xs, zs []measure.Length // lines at which anything begins or ends
			xs, zs = []measure.Length{0, s.Length}, []measure.Length{r.Bottom, r.Top}
			for _, m := range l.Members {
				if m.Row == row {
					xs = append(xs, m.Start, m.Start+m.Width)
					zs = append(zs, m.Bottom, m.Bottom+m.Height)
				}
			}
			slices.Sort(xs)
			slices.Sort(zs)
			xs, zs = slices.Compact(xs), slices.Compact(zs)
			for i := 1; i < len(xs); i++ {
				for k := 1; k < len(zs); k++ {
					for _, at := range [][2]float64{{.31, .47}, {.47, .31}, {.83, .29}} { // on no miter
						x := float64(xs[i-1]) + at[0]*float64(xs[i]-xs[i-1])
						z := float64(zs[k-1]) + at[1]*float64(zs[k]-zs[k-1])
						n := 0
						for _, m := range l.Members {
							if m.Row == row && covers(m, x, z) {
								n++
							}
						}
						for _, p := range l.Panels {
							if p.Row == row && x > float64(p.Start) && x < float64(p.Start+p.Width) && z > float64(p.Bottom) && z < float64(p.Bottom+p.Height) {
								n++
							}
						}
						if n > 1 || n == 0 && filled && !extra && !(d.Kind == panel.KindFrame && (s.Left.None || s.Right.None)) {
							t.Fatalf("%d things at %.4f, %.4f in of row %d: %+v", n, x/float64(in), z/float64(in), row, l)
						}
					}
				}
			}
		}
		for i, v := range s.Devices {
			left, right, bottom, top := v.Plate()
			told := slices.ContainsFunc(l.Hits, func(h panel.Hit) bool { return h.Device == i })
			near := false
			for _, m := range l.Members {
				if d.Kind == panel.KindStrips {
					break
				}
				apart := left-d.Clear >= m.Start+m.Width || m.Start >= right+d.Clear || bottom-d.Clear >= m.Bottom+m.Height || m.Bottom >= top+d.Clear
				within := m.Role == stock.RoleRail && bottom-d.Clear >= m.Bottom && top+d.Clear <= m.Bottom+m.Height
				near = near || !apart && !within
			}
			if near != told {
				t.Fatalf("device %d is near: %v, reported: %v", i, near, told)
			}
		}
		again, err := d.Lay(s)
		if err != nil || gocmp.Diff(l, again) != "" {
			t.Fatal("a different layout of the same stretch")
		}
	})
}

// If boxes are moved for devices, no smaller shift suffices: every sixteenth up to half the margin is
// tried, and every other number of boxes that is near enough without one.
func TestShiftIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := panel.Design{Width: length(in, 2*in).Draw(t, "width"), Target: length(12*in, 40*in).Draw(t, "target"), Gap: length(3*in, 6*in).Draw(t, "gap"), Clear: in / 4}
		if rapid.Bool().Draw(t, "counted") {
			d.Count = rapid.IntRange(1, 4).Draw(t, "count")
		}
		s := stretch(t)
		s.Left, s.Right, s.Devices = panel.Side{}, panel.Side{}, nil
		free := s
		usual, err := d.Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 3).Draw(t, "devices") { // near the members
			if n := len(usual.Members); n > 0 {
				m := usual.Members[rapid.IntRange(0, n-1).Draw(t, "member")]
				s.Devices = append(s.Devices, panel.Device{At: m.Start + length(-3*in, 5*in).Draw(t, "off"), Height: m.Bottom + m.Height/2})
			}
		}
		l, err := d.Lay(s)
		if err != nil {
			t.Fatal(err)
		}
		if l.Shift == 0 && len(l.Hits) == 0 {
			return
		}
		fixed := d
		fixed.Count = len(l.Fields)
		plain, err := fixed.Lay(free)
		if err != nil {
			t.Fatal(err)
		}
		clear := func(shift measure.Length) bool {
			for _, m := range plain.Members {
				m.Start += shift
				for _, v := range s.Devices {
					if v.Clearance(m) < d.Clear {
						return false
					}
				}
			}
			return true
		}
		limit := d.Gap / 2
		if l.Shift != 0 {
			if !clear(l.Shift) || max(l.Shift, -l.Shift) > limit {
				t.Fatalf("moved by %v, which does not clear the devices", l.Shift)
			}
			limit = max(l.Shift, -l.Shift) - 1
		}
		for x := measure.Length(0); x <= limit; x += in / 64 {
			if clear(x) || clear(-x) {
				t.Fatalf("moved by %v, but %v suffices; hits %v", l.Shift, x, l.Hits)
			}
		}
	})
}

// point is one in plan.
type point struct{ x, y float64 }

// within reports whether a point lies in an outline, by the even-odd rule.
func within(p point, poly []point) bool {
	in := false
	for i, j := 0, len(poly)-1; i < len(poly); j, i = i, i+1 {
		a, b := poly[i], poly[j]
		if (a.y > p.y) != (b.y > p.y) && p.x < (b.x-a.x)*(p.y-a.y)/(b.y-a.y)+a.x {
			in = !in
		}
	}
	return in
}

// deep reports whether a point lies in an outline by more than a thousandth of the thickness: shapes
// that touch along a line share the points of the line.
func deep(p point, poly []point, thick float64) bool {
	d := thick / 1000
	for _, q := range []point{{p.x + d, p.y}, {p.x - d, p.y}, {p.x, p.y + d}, {p.x, p.y - d}} {
		if !within(q, poly) {
			return false
		}
	}
	return true
}

// Stiles in a corner of any angle are laid out in plan from their ripped widths, and compared with each
// other and the walls point by point: they touch, do not overlap, leave no gap at the face, and show
// equal widths.
func TestCornersInPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := panel.Corner{
			Outside: rapid.Bool().Draw(t, "outside"), Miter: rapid.Bool().Draw(t, "miter"),
			Angle: measure.Angle(rapid.IntRange(50, 150).Draw(t, "angle")) * measure.Degree,
		}
		thick := length(in/2, in).Draw(t, "thick")
		const shows = 4 * in
		left, right, err := c.Stiles(thick)
		if err != nil {
			t.Fatal(err)
		}
		th := float64(thick)
		// Sections along the own wall: from the corner x > 0 into the wall. The edge in the corner leans
		// by the bevel; which way follows from where the piece is longer.
		section := func(s panel.CornerStile, leans float64) []point {
			face, far := float64(s.Face), float64(s.Face+shows)
			over := float64(shows + s.Extra)
			// leans is how much farther toward the corner the back begins than the face.
			back := far - over
			front := back + leans
			if leans < 0 {
				front, back = back, back-leans
			}
			_ = face
			return []point{{back, 0}, {far, 0}, {far, th}, {front, th}}
		}
		a := c.Angle.Radians()
		tilt := func(s panel.CornerStile) float64 { return th * math.Tan(s.Bevel.Radians()) }
		obtuse := 1.0
		if c.Angle < 90*measure.Degree {
			obtuse = -1
		}
		var ls, rs []point
		switch {
		case c.Miter && c.Outside:
			ls, rs = section(left, -tilt(left)), section(right, -tilt(right))
		case c.Miter:
			ls, rs = section(left, tilt(left)), section(right, tilt(right))
		case c.Outside: // the edge of the left one is in the face of the right, the right one's at its back
			ls, rs = section(left, obtuse*tilt(left)), section(right, obtuse*tilt(right))
		default: // the edge of the right one lies on the face of the left
			ls, rs = section(left, 0), section(right, -obtuse*tilt(right))
		}
		// Into one plan: the left wall lies along −x, the room above it, the right wall turns
		// away from it by its corner.
		turn := math.Pi - a // inside: to the left, toward the room
		if c.Outside {
			turn = -turn
		}
		cos, sin := math.Cos(turn), math.Sin(turn)
		for i, p := range ls {
			ls[i] = point{-p.x, p.y}
		}
		for i, p := range rs {
			rs[i] = point{p.x*cos - p.y*sin, p.x*sin + p.y*cos}
		}
		inWall := func(p point) bool { // by how much is in the wall, off its surface
			const deep = float64(in) / 1000
			q := point{p.x*cos + p.y*sin, -p.x*sin + p.y*cos} // along and off the right wall
			if c.Outside {
				return p.y < -deep && q.y < -deep
			}
			return p.y < -deep || q.y < -deep
		}
		both, gaps := 0, 0
		step := th / 17.3
		for x := -1.4 * float64(shows); x < 1.4*float64(shows); x += step {
			for y := -1.4 * float64(shows); y < 1.4*float64(shows); y += step {
				p := point{x, y}
				l, r := within(p, ls), within(p, rs)
				if l && r && deep(p, ls, th) && deep(p, rs, th) {
					both++
				}
				if (l || r) && inWall(p) {
					t.Fatalf("%+v is in a wall: %v %v", c, ls, rs)
				}
			}
		}
		// Just behind the faces, from where they meet on, there is wood.
		for k := 1; k < 200; k++ {
			u := float64(left.Face) + float64(shows)*float64(k)/200
			v := float64(right.Face) + float64(shows)*float64(k)/200
			const skin = .001
			p := point{-u, th * (1 - skin)}
			q := point{v, th * (1 - skin)}
			q = point{q.x*cos - q.y*sin, q.x*sin + q.y*cos}
			if !within(p, ls) && !within(p, rs) || !within(q, ls) && !within(q, rs) {
				gaps++
			}
		}
		if left.Face != right.Face || both > 0 || gaps > 2 {
			t.Fatalf("%+v: %d points in both, %d without wood, %v and %v", c, both, gaps, ls, rs)
		}
	})
}

// Nothing panics, and an error names fields.
func TestWildDesigns(t *testing.T) {
	wild := rapid.OneOf(
		rapid.Map(rapid.Int64(), func(l int64) measure.Length { return measure.Length(l) }),
		rapid.SampledFrom([]measure.Length{0, 1, -1, in, 30 * in, 1 << 62, -1 << 63, 1<<63 - 1}),
		length(0, 30*in),
	)
	rapid.Check(t, func(t *rapid.T) {
		d := panel.Design{
			Kind: panel.Kind(rapid.IntRange(0, 5).Draw(t, "kind")), Target: wild.Draw(t, "target"), Count: rapid.OneOf(rapid.Just(0), rapid.Int()).Draw(t, "count"),
			Graduation: wild.Draw(t, "graduation"), Width: wild.Draw(t, "width"), Gap: wild.Draw(t, "gap"), Margin: wild.Draw(t, "margin"),
			Below: wild.Draw(t, "below"), Above: wild.Draw(t, "above"), TopRail: wild.Draw(t, "top rail"), BottomRail: wild.Draw(t, "bottom rail"),
			MidRails: []measure.Length{wild.Draw(t, "mid rail")}, Tongue: wild.Draw(t, "tongue"), Groove: wild.Draw(t, "groove"), Float: wild.Draw(t, "float"), Clear: wild.Draw(t, "clear"),
		}
		s := panel.Stretch{
			Length: wild.Draw(t, "length"), Left: panel.Side{Visible: wild.Draw(t, "shows"), Extra: wild.Draw(t, "extra")},
			Rows:    []panel.Row{{Bottom: wild.Draw(t, "bottom"), Top: wild.Draw(t, "top")}},
			Devices: []panel.Device{{At: wild.Draw(t, "at"), Height: wild.Draw(t, "height"), PlateWidth: wild.Draw(t, "plate")}},
		}
		fields := func(err error) {
			for e := range measure.FieldErrors(err) {
				if e.Field == "" || e.Want == "" {
					t.Fatalf("%+v", e)
				}
			}
			if fe := (*measure.FieldError)(nil); err != nil && !errors.As(err, &fe) {
				t.Fatalf("%v names no field", err)
			}
		}
		_, err := d.Lay(s)
		fields(err)
		_, err = panel.Spacing{Left: wild.Draw(t, "l"), Right: wild.Draw(t, "r"), Between: wild.Draw(t, "b"), Target: d.Target, Count: d.Count, Graduation: d.Graduation}.Divide(s.Length)
		fields(err)
		c := panel.Corner{Outside: rapid.Bool().Draw(t, "outside"), Miter: rapid.Bool().Draw(t, "miter"), Angle: measure.Angle(rapid.Int64().Draw(t, "angle"))}
		_, _, err = c.Stiles(wild.Draw(t, "thickness"))
		fields(err)
	})
}

// JSON reads back as it was written, and a zero that would stand for another number is rejected.
func TestJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, s := design(t), stretch(t)
		var e panel.Design
		var r panel.Stretch
		for _, c := range []struct{ from, to any }{{d, &e}, {s, &r}} {
			data, err := json.Marshal(c.from)
			if err == nil {
				err = json.Unmarshal(data, c.to)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		if diff := gocmp.Diff(d, e) + gocmp.Diff(s, r); diff != "" {
			t.Fatal(diff)
		}
	})
	for text, v := range map[string]any{
		`{"count": 0}`: &panel.Design{}, `{"gap": "0in"}`: &panel.Design{}, `{"top_rail": "0in"}`: &panel.Design{},
		`{"visible": "0in"}`: &panel.Side{}, `{"plate_width": "0in"}`: &panel.Device{}, `{"angle": "0deg"}`: &panel.Corner{},
		`{"kind": "planks"}`: &panel.Design{}, `{"place": "north"}`: &panel.Member{}, `{ "count": 0}`: &panel.Spacing{},
	} {
		var fe *measure.FieldError
		if err := json.Unmarshal([]byte(text), v); !errors.As(err, &fe) {
			t.Errorf("%s: %v", text, err)
		}
	}
}
