package takeoff_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/takeoff"
)

// roundRoom is 20 ft by 16 ft with its north-east corner replaced by a quarter circle: hollow
// between two corners of 180°, or bulging into the room between two of 90°.
func roundRoom(radius measure.Length, bend curve.Bend) takeoff.Room {
	const ft, deg = measure.Foot, measure.Degree
	corner := takeoff.Corner{Angle: 180 * deg}
	if bend == curve.BendConvex {
		corner = takeoff.Corner{}
	}
	return takeoff.Room{Name: "entry", Height: 9 * ft, Walls: []takeoff.Wall{
		{Name: "N", Length: 20*ft - radius, Corner: corner},
		{Name: "NE", Corner: corner, Curve: &takeoff.Curve{Arc: curve.Arc{Radius: radius, Angle: 90 * deg}, Bend: bend}},
		{Name: "E", Length: 16*ft - radius}, {Name: "S", Length: 20 * ft}, {Name: "W", Length: 16 * ft},
	}}
}

// bowedRoom is 20 ft by 16 ft with its south wall replaced by an arc over it.
func bowedRoom(rise measure.Length, bend curve.Bend) takeoff.Room {
	const ft = measure.Foot
	arc := curve.Arc{Chord: 20 * ft, Rise: rise}
	d, err := arc.Dimensions()
	if err != nil {
		panic(err)
	}
	corner := takeoff.Corner{Angle: 90*measure.Degree + d.Angle/2}
	if bend == curve.BendConvex {
		corner.Angle = 90*measure.Degree - d.Angle/2
	}
	return takeoff.Room{Name: "entry", Height: 9 * ft, Walls: []takeoff.Wall{
		{Name: "N", Length: 20 * ft}, {Name: "E", Length: 16 * ft, Corner: corner},
		{Name: "S", Corner: corner, Curve: &takeoff.Curve{Arc: arc, Bend: bend}}, {Name: "W", Length: 16 * ft},
	}}
}

func closeTo(got measure.Length, want float64) bool { return math.Abs(got.Inches()-want) < 0.00005 }

// The check values of 18 segments, derived in TestSegments of package curve: 5.2343 along the wall,
// mitered at 2.5°, here with corners of 175° between them and of 177.5° to the walls beside.
func TestCurveInSegments(t *testing.T) {
	const in, deg = measure.Inch, measure.Degree
	list, err := takeoff.Take([]takeoff.Room{roundRoom(60*in, curve.BendConcave)}, takeoff.Scheme{Base: board("base", 9*in/16, 5*in)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(list.Curves) != 1 || len(list.Curves[0].Runs) != 18 || list.Curves[0].Segments.Count != 18 || list.Curves[0].Radius != 60*in {
		t.Fatalf("curves: %+v", list.Curves)
	}
	along := measure.Length(0)
	for i, run := range list.Runs[1:19] {
		if run.Label != list.Curves[0].Runs[i] || run.Wall != "NE" || !closeTo(run.Length, 5.2343) {
			t.Errorf("run %d: %+v", i, run)
		}
		left, right := 175*deg, 175*deg
		if i == 0 {
			left += 5 * deg / 2
		}
		if i == 17 {
			right += 5 * deg / 2
		}
		if run.Left.Kind != stock.EndInsideMiter || run.Left.Angle != left || run.Right.Kind != stock.EndInsideMiter || run.Right.Angle != right {
			t.Errorf("run %d: ends %+v, %+v", i, run.Left, run.Right)
		}
		if off := run.Start - along; off < -2 || off > 2 { // evenly along the wall
			t.Errorf("run %d begins at %v, want %v", i, run.Start, along)
		}
		d, _ := curve.Arc{Radius: 60 * in, Angle: 90 * deg}.Dimensions()
		along = d.Length * measure.Length(i+1) / 18
	}
	if list.Runs[0].Net != 15*measure.Foot || list.Runs[19].Net != 11*measure.Foot {
		t.Errorf("walls beside the curve: %v, %v", list.Runs[0].Net, list.Runs[19].Net)
	}
}

// Derived in TestFlexible of package curve: 94.2478 along a back at R 60, a face of 95.1314 in
// front of a convex wall. Shoe of 1/2 in reaches (60 + 9/16 + 1/2)·π/2 = 95.9168 at its face
// there; before a concave one its back is (60 - 9/16)·π/2 = 93.3642. A web of 1/16 hinges at 60 +
// 1/2: 95.0332.
func TestCurveInOnePiece(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Base: board("base", 9*in/16, 5*in), Shoe: board("shoe", in/2, 3*in/4), Crown: board("crown", in, 4*in)}
	flex := *board("flexible base", 9*in/16, 5*in)
	flex.Lengths = []measure.Length{12 * measure.Foot}
	s.Flexible = []stock.Profile{flex}
	for _, c := range []struct {
		bend       curve.Bend
		trim       takeoff.CurveMethod
		base, shoe float64
		profile    string
	}{
		{curve.BendConvex, takeoff.CurveFlexible, 95.1314, 95.9168, "flexible base"},
		{curve.BendConcave, takeoff.CurveFlexible, 94.2478, 93.3642, "flexible base"},
		{curve.BendConvex, takeoff.CurveKerfed, 95.0332, 0, "base"},
	} {
		r := roundRoom(60*in, c.bend)
		r.Walls[1].Curve.Trim, r.Walls[1].Curve.Kerf = c.trim, curve.Kerf{Width: in / 8}
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Errorf("%v: %v", c.bend, err)
			continue
		}
		var crowns int
		for _, run := range list.Runs {
			ends := measure.Length(0)
			for _, a := range run.Allowances {
				if strings.Contains(a.Name, " at left") || strings.Contains(a.Name, " at right") {
					ends += a.Length
				}
			}
			bare := run.Length - ends // the corner's joints belong to the walls beside
			switch {
			case run.Wall != "NE":
			case run.Role == stock.RoleBase && (!closeTo(bare, c.base) || run.Profile != c.profile):
				t.Errorf("%v %v: base %v of %s, want %v of %s", c.bend, c.trim, bare.Inches(), run.Profile, c.base, c.profile)
			case run.Role == stock.RoleShoe && c.shoe != 0 && !closeTo(bare, c.shoe):
				t.Errorf("%v %v: shoe %v, want %v", c.bend, c.trim, bare.Inches(), c.shoe)
			case run.Role == stock.RoleCrown:
				crowns++
			}
		}
		if crowns < 10 {
			t.Errorf("%d runs of crown, want segments", crowns)
		}
		for _, v := range list.Curves {
			if v.Method == takeoff.CurveKerfed && v.Role == stock.RoleBase && (v.Kerfs.Count == 0 || v.Kerfs.Web != in/16 || len(v.Runs) != 1) {
				t.Errorf("%+v", v)
			}
		}
	}
}

// Derived from 3/4·tan 22.5°: the runs end .4393 before the sharp corner and the piece between is
// .6213 at its back and 1.0873 at its face.
func TestBullnoseCorner(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	r := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{
		{Name: "W", Length: 5 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerOutside}, Bullnose: 3 * in / 4, Start: takeoff.Corner{Kind: takeoff.CornerStop}},
		{Name: "N", Length: 8 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: board("base", 9*in/16, 5*in)}, nil)
	if err != nil || len(list.Runs) != 3 {
		t.Fatalf("%+v, %v", list, err)
	}
	w, piece, n := list.Runs[0], list.Runs[1], list.Runs[2]
	if !closeTo(60*in-w.Net, .4393) || !closeTo(96*in-n.Net, .4393) || !closeTo(n.Start, .4393) {
		t.Errorf("runs %v and %v, from %v", w.Net, n.Net, n.Start)
	}
	if !closeTo(piece.Net, .6213) || !closeTo(piece.Length, 1.0873) || piece.Left.Angle != 135*measure.Degree || piece.Label != "corridor W bullnose base" {
		t.Errorf("piece %+v", piece)
	}
	if w.Allowances[0].Length != 60*in || w.Allowances[1].Name != "bullnose in the corner at right" {
		t.Errorf("allowances %v", w.Allowances)
	}
}

// Pieces laid from wall to wall around a bullnose go around the true bead and arrive on the other
// wall, whatever the corner; a usual fit takes nothing off them, nor off segments.
func TestBullnosePiecesMeet(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	rapid.Check(t, func(t *rapid.T) {
		bead := length(in/16, 3*in).Draw(t, "bead")
		angle := measure.Angle(rapid.Int64Range(45, 170).Draw(t, "angle")) * measure.Degree
		r := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{
			{Name: "W", Length: 5 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerOutside, Angle: angle}, Bullnose: bead, Start: takeoff.Corner{Kind: takeoff.CornerStop}},
			{Name: "N", Length: 8 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
		}}
		bow := stock.UsualBow()
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: board("base", in/2, 5*in)}, &takeoff.Options{Fit: &stock.Fit{Bow: &bow}})
		if err != nil || len(list.Runs) != 3 {
			t.Fatalf("%+v, %v", list, err)
		}
		at := spot{}
		delta := math.Pi - angle.Radians()
		center := spot{x: 60 - bead.Inches()*math.Tan(delta/2), y: -bead.Inches()} // the room is at y > 0
		for i, run := range list.Runs {
			back := run.Length
			for _, e := range []stock.End{run.Left, run.Right} {
				back -= e.Setback
			}
			nearest := math.Inf(1)
			for k := range 1001 {
				f := back.Inches() * float64(k) / 1000
				nearest = min(nearest, math.Hypot(at.x+f*math.Cos(at.heading)-center.x, at.y+f*math.Sin(at.heading)-center.y))
			}
			if nearest < bead.Inches()-1e-5 || i == 1 && nearest > bead.Inches()+1e-4 {
				t.Fatalf("%s passes %v from the center of a bead of %v", run.Label, nearest, bead)
			}
			at.x += back.Inches() * math.Cos(at.heading)
			at.y += back.Inches() * math.Sin(at.heading)
			if i < 2 {
				at.heading -= math.Pi - run.Right.Angle.Radians()
			}
		}
		end := spot{x: 60 + 96*math.Cos(delta), y: -96 * math.Sin(delta)}
		if math.Hypot(at.x-end.x, at.y-end.y) > 1e-4 {
			t.Fatalf("the pieces end at %v, the wall at %v", at, end)
		}
	})
}

// A wall that continues in the direction of the first segment does not meet it in a corner: both keep
// their lengths. A wall whose name could be taken for a segment's does not share its label.
func TestSegmentsInLine(t *testing.T) {
	const in, deg = measure.Inch, measure.Degree
	arc := curve.Arc{Radius: 60 * in, Angle: 90 * deg}
	segs, err := curve.Strip{Arc: arc, Thickness: in}.Segments(in / 16)
	if err != nil {
		t.Fatal(err)
	}
	stop := takeoff.Corner{Kind: takeoff.CornerStop}
	for _, c := range []struct {
		turn  measure.Angle // to the right, at the corner
		exact bool
	}{{segs.Miter, true}, {segs.Miter + deg/100, true}, {0, false}} {
		r := takeoff.Room{Name: "entry", Walls: []takeoff.Wall{
			{Name: "W", Length: 120 * in, Start: stop, Corner: takeoff.Corner{Angle: 180*deg - c.turn}},
			{Name: "tower", Curve: &takeoff.Curve{Arc: arc}, Corner: takeoff.Corner{Kind: takeoff.CornerOutside, Angle: 179 * deg}},
			{Name: "tower segment 1 of 18", Length: 60 * in, Corner: stop},
		}}
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: board("base", in/2, 5*in)}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := list.Runs[0].Net == 120*in && list.Runs[1].Net == segs.Back; got != c.exact {
			t.Errorf("turned by %v: %v and %v", c.turn, list.Runs[0].Net, list.Runs[1].Net)
		}
		labels := map[string]bool{}
		for _, run := range list.Runs {
			if labels[run.Label] {
				t.Errorf("label %q is used twice", run.Label)
			}
			labels[run.Label] = true
		}
		if segs.Count != 18 || !labels["\"entry tower\" segment 1 of 18 base"] {
			t.Errorf("%d segments, labels %v", segs.Count, labels)
		}
	}
}

// spot returns the end of a row of pieces laid back to back from a point.
type spot struct{ x, y, heading float64 }

// The pieces around rooms with curved walls, laid one after the other as cut - from the back of each,
// turned by the angle of its end - come back to their start; so do their faces, on their own course;
// each back stays within the tolerance of its true wall, in front of it.
func TestCurvedPiecesMeet(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		bend := curve.Bend(rapid.IntRange(0, 1).Draw(t, "bend"))
		tolerance := length(in/64, in/8).Draw(t, "tolerance")
		if tolerance == 0 {
			tolerance = in / 64
		}
		var r takeoff.Room
		curved := 1
		if rapid.Bool().Draw(t, "bowed") {
			curved = 2
			r = bowedRoom(length(6*in, 48*in).Draw(t, "rise"), bend)
		} else {
			r = roundRoom(length(20*in, 150*in).Draw(t, "radius"), bend)
		}
		r.Walls[curved].Curve.Tolerance = tolerance
		base, shoe := board("base", length(in/4, 3*in/4).Draw(t, "thickness"), 5*in), board("shoe", in/2, 3*in/4)
		base.Inside, shoe.Inside = stock.JointMiter, stock.JointMiter
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: base, Shoe: shoe}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(list.Findings) != len(coded(list.Findings, takeoff.FindingShortReturn)) {
			t.Fatalf("findings %+v", list.Findings)
		}
		d, _ := r.Walls[curved].Curve.Arc.Dimensions()
		var faces []measure.Length
		runs := list.Runs
		for _, role := range []stock.Role{stock.RoleBase, stock.RoleShoe} {
			var back, face spot
			back.x = runs[0].Start.Inches()
			var backs []measure.Length
			at := back
			for i := 0; i < len(runs) && runs[i].Role == role; i++ {
				run := runs[i]
				b, f, turn := run.Length, run.Length, 0.0
				for _, e := range []stock.End{run.Left, run.Right} {
					if e.Kind == stock.EndOutsideMiter {
						b -= e.Setback
						turn = e.Angle.Radians() - math.Pi
					} else {
						f -= e.Setback
						turn = math.Pi - e.Angle.Radians()
					}
				}
				if next := i + 1; next < len(runs) && runs[next].Role == role && (run.Right.Angle != runs[next].Left.Angle || run.Right.Kind != runs[next].Left.Kind) {
					t.Fatalf("%s and %s are cut apart: %+v, %+v", run.Label, runs[next].Label, run.Right, runs[next].Left)
				}
				if role == stock.RoleBase {
					nearWall(t, r, curved, d, run, at, b.Inches(), tolerance.Inches())
				}
				if role == stock.RoleShoe && i < 2*len(faces) {
					if behind := faces[len(backs)]; b-behind > 8 || behind-b > 8 {
						t.Fatalf("%s is %v long at its back and the base before it %v at its face", run.Label, b, behind)
					}
				}
				backs = append(backs, b)
				if role == stock.RoleBase {
					faces = append(faces, f)
				}
				for _, p := range []struct {
					s *spot
					l measure.Length
				}{{&at, b}, {&face, f}} {
					p.s.x += p.l.Inches() * math.Cos(p.s.heading)
					p.s.y += p.l.Inches() * math.Sin(p.s.heading)
					p.s.heading += turn
				}
			}
			n := len(backs)
			if off := math.Hypot(at.x-back.x, at.y-back.y); off > 1e-4 || math.Hypot(face.x, face.y) > 1e-4 {
				t.Fatalf("%d pieces of %s miss their beginning by %v at the back and by %v at the face", n, role, off, face)
			}
			runs = runs[n:]
		}
	})
}

// Every member of built-up trim closes around a room with a curved wall, at its back and at its face,
// and members in front of each other are equally long where they touch.
func TestCurvedStacksMeet(t *testing.T) {
	const in = measure.Inch
	rapid.Check(t, func(t *rapid.T) {
		bend := curve.Bend(rapid.IntRange(0, 1).Draw(t, "bend"))
		r := roundRoom(length(40*in, 120*in).Draw(t, "radius"), bend)
		r.Walls[1].Curve.Tolerance = length(in/16, in/4).Draw(t, "tolerance")
		member := func(name string, role stock.Role, thickness, width, at measure.Length) takeoff.Member {
			p := *board(name, thickness, width)
			p.Role, p.Inside = role, stock.JointMiter
			return takeoff.Member{Profile: p, At: at}
		}
		thick := func(name string) measure.Length { return length(in/4, in).Draw(t, name) }
		s := takeoff.Scheme{Assemblies: []takeoff.Assembly{
			{Name: "tall base", Members: []takeoff.Member{
				member("base", stock.RoleBase, thick("base"), 5*in, 0), member("cap", stock.RoleCap, thick("cap"), in, 5*in), member("shoe", stock.RoleShoe, thick("shoe"), in/2, 0),
			}},
			{Name: "cornice", FromCeiling: true, Members: []takeoff.Member{
				member("frieze", stock.RoleFrieze, thick("frieze"), 6*in, 0), member("crown", stock.RoleCrown, thick("crown"), 4*in, 0),
			}},
		}}
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		sections := map[stock.Role]stock.Profile{}
		for _, a := range s.Assemblies {
			for _, m := range a.Members {
				sections[m.Profile.Role] = m.Profile
			}
		}
		backs, faces := map[stock.Role][]measure.Length{}, map[stock.Role][]measure.Length{}
		for _, run := range list.Runs {
			b, f := run.Length, run.Length
			for _, e := range []stock.End{run.Left, run.Right} {
				switch e.Kind {
				case stock.EndOutsideMiter:
					b -= e.Setback
				case stock.EndInsideMiter:
					f -= e.Setback
				default:
					t.Fatalf("%s ends in %v", run.Label, e.Kind)
				}
			}
			backs[run.Role], faces[run.Role] = append(backs[run.Role], b), append(faces[run.Role], f)
		}
		for role, p := range sections {
			for depth, ls := range map[string][]measure.Length{"back": backs[role], "face": faces[role]} {
				at, i := spot{}, 0
				for _, run := range list.Runs {
					if run.Role != role {
						continue
					}
					at.x += ls[i].Inches() * math.Cos(at.heading)
					at.y += ls[i].Inches() * math.Sin(at.heading)
					turn := math.Pi - run.Right.Angle.Radians()
					if run.Right.Kind == stock.EndOutsideMiter {
						turn = -turn
					}
					at.heading += turn
					i++
				}
				if i < 6 || math.Hypot(at.x, at.y) > 1e-4 || math.Abs(at.heading-2*math.Pi) > 1e-9*float64(i) {
					t.Fatalf("%d pieces of %s miss their beginning at the %s by %v", i, p.Name, depth, at)
				}
			}
		}
		for _, pair := range [][2]stock.Role{{stock.RoleBase, stock.RoleShoe}, {stock.RoleFrieze, stock.RoleCrown}} {
			for i, f := range faces[pair[0]] {
				if b := backs[pair[1]][i]; f-b > 8 || b-f > 8 {
					t.Fatalf("piece %d of %v is %v long at its face, %v before it %v at its back", i, pair[0], f, pair[1], b)
				}
			}
		}
	})
}

// nearWall fails unless the back of a piece that is laid at a spot stays in front of its wall and
// within the tolerance. Walls are laid out from the corner at the left of the first.
func nearWall(t *rapid.T, r takeoff.Room, curved int, d curve.Dimensions, run stock.Run, at spot, long, tolerance float64) {
	corner := spot{}
	for i, w := range r.Walls {
		wall := func(x, y float64) float64 { // how far in front of the wall
			return -(x-corner.x)*math.Sin(corner.heading) + (y-corner.y)*math.Cos(corner.heading)
		}
		next := corner
		if i == curved {
			R, sign := d.Radius.Inches(), 1.0
			if w.Curve.Bend == curve.BendConvex {
				sign = -1
			}
			center := spot{x: corner.x - sign*R*math.Sin(corner.heading), y: corner.y + sign*R*math.Cos(corner.heading)}
			wall = func(x, y float64) float64 { return sign * (R - math.Hypot(x-center.x, y-center.y)) }
			next.heading += sign * d.Angle.Radians()
			next.x = center.x + sign*R*math.Sin(next.heading)
			next.y = center.y - sign*R*math.Cos(next.heading)
		} else {
			next.x += w.Length.Inches() * math.Cos(corner.heading)
			next.y += w.Length.Inches() * math.Sin(corner.heading)
		}
		if w.Name == run.Wall {
			for k := range 101 {
				f := long * float64(k) / 100
				off := wall(at.x+f*math.Cos(at.heading), at.y+f*math.Sin(at.heading))
				most := 1e-4
				if i == curved {
					most += tolerance
					if k == 0 || k == 100 { // lines of tangents meet a little farther off in oblique corners
						most = 2*tolerance + 1e-4
					}
				}
				if off < -1e-4 || off > most {
					t.Fatalf("%s is %v in front of %s, tolerance %v", run.Label, off, w.Name, tolerance)
				}
			}
		}
		turn := 90.0
		if w.Corner.Angle != 0 {
			turn = 180 - w.Corner.Angle.Degrees()
		}
		corner = next
		corner.heading += turn * math.Pi / 180
	}
}

// A room whose walls were drawn to close does, curve and all, and two inches more of the curve's
// chord do not.
func TestCurvedRoomCloses(t *testing.T) {
	const in = measure.Inch
	for name, r := range map[string]takeoff.Room{
		"hollow corner": roundRoom(60*in, curve.BendConcave), "round corner": roundRoom(60*in, curve.BendConvex),
		"bay": bowedRoom(30*in, curve.BendConcave), "bow": bowedRoom(30*in, curve.BendConvex),
	} {
		w, err := r.Traverse()
		if err != nil || !w.Closed || w.Turn > 4 || w.Turn < -4 || w.Misclosure > in/10000 {
			t.Errorf("%s: %+v, %v", name, w, err)
		}
		if list, err := takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{}, nil); err != nil || hasCode(list, takeoff.FindingCurveFit) || worst(list) > takeoff.SeverityNote {
			t.Errorf("%s: %+v, %v", name, list, err)
		}
		for i := range r.Walls {
			if c := r.Walls[i].Curve; c != nil {
				d, _ := c.Arc.Dimensions()
				c.Arc = curve.Arc{Chord: d.Chord + 2*in, Rise: d.Rise}
				r.Walls[i].Length = d.Length + 3*in
			}
		}
		w, err = r.Traverse()
		if err != nil || w.Misclosure < in/4 { // some of it is taken for turned corners
			t.Errorf("%s with a longer chord: %+v, %v", name, w, err)
		}
		r.Walls[1].Length += 4 * in
		if list, err := takeoff.Check([]takeoff.Room{r}, takeoff.Scheme{}, nil); err != nil || r.Walls[1].Curve != nil && !hasCode(list, takeoff.FindingCurveFit) {
			t.Errorf("%s: %+v, %v", name, list, err)
		}
	}
}

func hasCode(fs []takeoff.Finding, code takeoff.FindingCode) bool {
	for _, f := range fs {
		if f.Code == code {
			return true
		}
	}
	return false
}

func worst(fs []takeoff.Finding) (s takeoff.Severity) {
	for _, f := range fs {
		s = max(s, f.Severity)
	}
	return s
}

// A door in a curved wall interrupts the segments at its casing, wherever they begin.
func TestDoorInCurve(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Base: board("base", in/2, 5*in), Casing: board("casing", in/2, 3*in)}
	for _, m := range []takeoff.CurveMethod{takeoff.CurveSegments, takeoff.CurveFlexible} {
		r := roundRoom(60*in, curve.BendConcave)
		c := r.Walls[1].Curve
		c.Trim = m
		r.Walls[1].Openings = []takeoff.Opening{{At: 30 * in, Width: 32 * in, Flush: true}}
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		// Derived: the head is 32 + 2·3 in wide; 60 - √(60² - 19²) = 3.0878.
		if found := coded(list.Findings, takeoff.FindingCurvedHead); len(found) != 1 || !closeTo(found[0].Length, 3.0878) || len(list.Findings) != 2 {
			t.Errorf("%v: %+v", m, list.Findings)
		}
		d, _ := c.Arc.Dimensions()
		var net measure.Length
		for _, run := range list.Runs {
			if run.Wall != "NE" || run.Role != stock.RoleBase {
				continue
			}
			net += run.Net
			if run.Start < 65*in && run.Start+run.Net > 27*in+in/64 && run.Start < 27*in-in/64 || run.Start > 27*in && run.Start < 65*in-in/64 {
				t.Errorf("%v: %s from %v over %v stands in the door", m, run.Label, run.Start, run.Net)
			}
		}
		if want := (d.Length - 38*in).Inches(); math.Abs(net.Inches()-want) > .1 {
			t.Errorf("%v: %v of base beside the door, want %v", m, net.Inches(), want)
		}
	}
}

func TestCurveFindings(t *testing.T) {
	const in = measure.Inch
	r := roundRoom(16*in, curve.BendConvex)
	r.Walls[1].Curve.Trim = takeoff.CurveFlexible
	bends := func(width measure.Length) takeoff.Scheme {
		p := *board("flexible base", in/2, width)
		p.Role = stock.RoleBase
		return takeoff.Scheme{Base: board("base", in/2, width), Flexible: []stock.Profile{p}}
	}
	list, err := takeoff.Take([]takeoff.Room{r}, bends(21*in/4), nil)
	if err != nil || len(list.Findings) != 1 || list.Findings[0].Code != takeoff.FindingTightCurve || list.Findings[0].Length != 18*in {
		t.Errorf("5 1/4 at R 16: %+v, %v", list, err)
	}
	if list, err = takeoff.Take([]takeoff.Room{r}, bends(5*in), nil); err != nil || len(list.Findings) != 0 {
		t.Errorf("5 at R 16: %+v, %v", list, err)
	}
	if list, err = takeoff.Take([]takeoff.Room{r}, bends(11*in), nil); err != nil || len(list.Findings) != 1 || list.Findings[0].Length != 0 {
		t.Errorf("11 at R 16: %+v, %v", list, err)
	}
}

func TestCurveErrors(t *testing.T) {
	const in = measure.Inch
	s := takeoff.Scheme{Base: board("base", in/2, 5*in)}
	for _, c := range []struct {
		field string
		spoil func(*takeoff.Room, *takeoff.Scheme)
	}{
		{"rooms[0].walls[1].curve.arc.chord", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Curve.Arc = curve.Arc{} }},
		{"rooms[0].walls[1].curve.arc", func(r *takeoff.Room, _ *takeoff.Scheme) {
			r.Walls[1].Curve.Arc = curve.Arc{Radius: 5280 * measure.Foot, Angle: 90 * measure.Degree}
		}},
		{"rooms[0].walls[1].curve.bend", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Curve.Bend = 9 }},
		{"rooms[0].walls[1].curve.trim", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Curve.Trim = 9 }},
		{"rooms[0].walls[1].curve.trim", func(r *takeoff.Room, _ *takeoff.Scheme) {
			r.Walls[1].Curve.Trim, r.Walls[1].Curve.Bend = takeoff.CurveKerfed, curve.BendConcave
		}},
		{"rooms[0].walls[1].curve.crown", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Curve.Crown = takeoff.CurveKerfed }},
		{"rooms[0].walls[1].curve.tolerance", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Curve.Tolerance = -1 }},
		{"rooms[0].walls[1].curve.tolerance", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Curve.Tolerance = 1 }},
		{"rooms[0].walls[1].length", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Length = -1 }},
		{"rooms[0].walls[1].top_length", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].TopLength = in }},
		{"rooms[0].walls[1].bullnose", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Bullnose = in }},
		{"rooms[0].walls[2].bullnose", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[2].Bullnose = -in }},
		{"rooms[0].walls[0].bullnose", func(r *takeoff.Room, _ *takeoff.Scheme) {
			r.Walls[0].Bullnose, r.Walls[0].Corner = in, takeoff.Corner{Kind: takeoff.CornerOutside}
		}},
		{"rooms[0].walls[1]", func(r *takeoff.Room, _ *takeoff.Scheme) { r.Walls[1].Curve.Trim = takeoff.CurveKerfed }}, // no kerf is given
		{"rooms[0].walls[1]", func(r *takeoff.Room, s *takeoff.Scheme) {
			*r = roundRoom(60*in, curve.BendConcave)
			r.Walls[1].Curve.Trim = takeoff.CurveFlexible
			s.Base = board("base", 61*in, 5*in)
		}},
		{"flexible[0].role", func(_ *takeoff.Room, s *takeoff.Scheme) {
			s.Flexible = []stock.Profile{{Name: "x", Thickness: in, Width: in, Role: stock.RoleShoe}}
		}},
		{"flexible[0].thickness", func(_ *takeoff.Room, s *takeoff.Scheme) {
			s.Flexible = []stock.Profile{{Name: "x", Thickness: in, Width: 5 * in}}
		}},
		{"flexible[0].width", func(_ *takeoff.Room, s *takeoff.Scheme) {
			s.Flexible = []stock.Profile{{Name: "x", Thickness: in / 2, Width: in}}
		}},
		{"flexible[0].name", func(_ *takeoff.Room, s *takeoff.Scheme) { s.Flexible = []stock.Profile{*s.Base} }},
		{"flexible[1].role", func(_ *takeoff.Room, s *takeoff.Scheme) {
			p := *s.Base
			p.Name = "x"
			s.Flexible = []stock.Profile{p, p}
		}},
	} {
		r, spoiled := roundRoom(60*in, curve.BendConvex), s
		c.spoil(&r, &spoiled)
		_, err := takeoff.Take([]takeoff.Room{r}, spoiled, nil)
		found := false
		for e := range measure.FieldErrors(err) {
			found = found || e.Field == c.field
		}
		if !found {
			t.Errorf("%s: %v", c.field, err)
		}
	}
}

func TestCurveJSON(t *testing.T) {
	text := `{"name":"entry","walls":[{"name":"N","length":"10ft","corner":"outside","bullnose":"3/4in"},
		{"name":"E","length":"0in","curve":{"arc":{"chord":"96in","rise":"24in"},"bend":"concave","trim":"flexible","tolerance":"1/8in","kerf":{"width":"1/8in"}}}]}`
	var r, again takeoff.Room
	if err := measure.UnmarshalStrict([]byte(text), &r); err != nil {
		t.Fatal(err)
	}
	if c := r.Walls[1].Curve; c.Arc.Rise != 24*measure.Inch || c.Bend != curve.BendConcave || c.Trim != takeoff.CurveFlexible {
		t.Errorf("%+v", c)
	}
	out, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(out, &again); err != nil || gocmp.Diff(r, again) != "" {
		t.Errorf("%s: %v %s", out, err, gocmp.Diff(r, again))
	}
	for _, bad := range []string{`{"tolerance":"0in"}`, `{"trim":"bent"}`, `{"kerf":{"depth":"0in"}}`} {
		var c takeoff.Curve
		if err := json.Unmarshal([]byte(bad), &c); err == nil {
			t.Errorf("%s is read", bad)
		}
	}
	if _, err := takeoff.CurveMethod(7).MarshalText(); err == nil {
		t.Error("an unknown method was marshaled")
	}
}

// No curve makes a takeoff or a check panic or hang.
func TestWildCurves(t *testing.T) {
	counted := map[bool]int{}
	defer func() {
		if counted[true] < counted[false] {
			t.Errorf("%d lists and %d errors: too few rooms are valid", counted[true], counted[false])
		}
	}()
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t, everyCorner...)
		for i := range r.Walls {
			if r.Walls[i].Corner.Kind == takeoff.CornerOutside && rapid.Bool().Draw(t, "bullnose") {
				r.Walls[i].Bullnose = length(0, 60*measure.Inch).Draw(t, "bead")
			}
			if rapid.IntRange(0, 2).Draw(t, "straight") > 0 {
				continue
			}
			c := &takeoff.Curve{
				Bend: curve.Bend(rapid.IntRange(0, 1).Draw(t, "bend")), Trim: takeoff.CurveMethod(rapid.IntRange(0, 2).Draw(t, "trim")), Crown: takeoff.CurveMethod(rapid.IntRange(0, 1).Draw(t, "crown")),
				Tolerance: length(0, measure.Inch).Draw(t, "tolerance"), Kerf: curve.Kerf{Width: length(measure.Inch/16, measure.Inch).Draw(t, "kerf")},
				Arc: curve.Arc{Radius: length(20*measure.Inch, 300*measure.Inch).Draw(t, "radius"), Angle: measure.Angle(rapid.Int64Range(5, 350).Draw(t, "angle")) * measure.Degree},
			}
			if c.Trim == takeoff.CurveKerfed && rapid.IntRange(0, 9).Draw(t, "wrong") > 0 {
				c.Bend = curve.BendConvex
			}
			r.Walls[i].Curve, r.Walls[i].Bullnose = c, 0
			r.Walls[(i+len(r.Walls)-1)%len(r.Walls)].Bullnose = 0
			if d, err := c.Arc.Dimensions(); err == nil && rapid.IntRange(0, 9).Draw(t, "beyond") > 0 {
				r.Walls[i].Openings = slices.DeleteFunc(r.Walls[i].Openings, func(o takeoff.Opening) bool { return o.At+o.Width > d.Length })
				r.Walls[i].Fixtures = slices.DeleteFunc(r.Walls[i].Fixtures, func(f takeoff.Fixture) bool { return f.At+f.Width > d.Length })
			}
		}
		scheme := fullScheme()
		for _, p := range []*stock.Profile{scheme.Base, scheme.ChairRail, scheme.Crown} {
			p.Inside = stock.InsideJoint(rapid.IntRange(0, 2).Draw(t, "inside"))
		}
		list, err := takeoff.Take([]takeoff.Room{r}, scheme, nil)
		if (list == nil) != (err != nil) {
			t.Fatal(list, err)
		}
		counted[list != nil]++
		if list != nil {
			labels := map[string]bool{}
			for _, p := range list.Pieces {
				if sum, err := total(p.Allowances); err != nil || sum != p.Length || p.Length <= 0 {
					t.Fatalf("%s: length %v, allowances %v", p.Label, p.Length, p.Allowances)
				}
				if labels[p.Label] {
					t.Fatalf("label %q is used twice", p.Label)
				}
				labels[p.Label] = true
			}
		}
		if _, err := takeoff.Check([]takeoff.Room{r}, fullScheme(), nil); err == nil && list == nil {
			return // trim that fits no joint is not a fault of the room
		}
		if _, err := r.Traverse(); err != nil && list != nil {
			t.Fatal(err)
		}
		if _, err := takeoff.CheckTrim([]takeoff.Room{r}, fullScheme(), takeoff.Conditions{}); err != nil && list != nil {
			t.Fatal(err)
		}
	})
}
