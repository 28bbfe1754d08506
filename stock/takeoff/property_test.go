package takeoff_test

import (
	"cmp"
	"errors"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

func length(lo, hi measure.Length) *rapid.Generator[measure.Length] {
	const grain = measure.Inch / 16
	return rapid.Map(rapid.Int64Range(int64(lo/grain), int64(hi/grain)), func(n int64) measure.Length { return measure.Length(n) * grain })
}

// walls makes a room that a person could have measured, to sixteenths: any corner,
// openings and fixtures in order.
func walls(t *rapid.T, corners ...takeoff.Corner) takeoff.Room {
	r := takeoff.Room{Name: "classroom", Height: 10 * measure.Foot}
	for i := range rapid.IntRange(1, 8).Draw(t, "walls") {
		w := takeoff.Wall{Name: string(rune('A' + i)), Length: length(2*measure.Foot, 40*measure.Foot).Draw(t, "wall")}
		w.Corner = rapid.SampledFrom(corners).Draw(t, "corner")
		at := measure.Length(0)
		for rapid.Bool().Draw(t, "more") {
			at += length(0, 6*measure.Foot).Draw(t, "at")
			width := length(measure.Foot, 5*measure.Foot).Draw(t, "width")
			if at+width > w.Length {
				break
			}
			if rapid.Bool().Draw(t, "fixture") {
				w.Fixtures = append(w.Fixtures, takeoff.Fixture{
					Name: "cabinet", At: at, Width: width, Depth: length(0, 2*measure.Foot).Draw(t, "depth"),
					Ends: rapid.SampledFrom([]stock.EndKind{stock.EndSquare, stock.EndReturn, stock.EndScribe, stock.EndButt}).Draw(t, "ends"),
				})
			} else {
				w.Openings = append(w.Openings, takeoff.Opening{
					Kind: takeoff.OpeningKind(rapid.IntRange(0, 3).Draw(t, "kind")), At: at, Width: width, Height: 6 * measure.Foot,
				})
			}
			at += width
		}
		r.Walls = append(r.Walls, w)
	}
	return r
}

// everyCorner has the usual corners, and two hard ones: a sharp one and none.
var everyCorner = []takeoff.Corner{
	{}, {}, {Kind: takeoff.CornerOutside}, {Angle: 135 * measure.Degree}, {Kind: takeoff.CornerOutside, Angle: 135 * measure.Degree},
	{Angle: 88 * measure.Degree}, {Angle: 92 * measure.Degree}, {Angle: 60 * measure.Degree},
	{Kind: takeoff.CornerOutside, Angle: 30 * measure.Degree}, {Angle: 180 * measure.Degree},
	{Kind: takeoff.CornerOpen}, {Kind: takeoff.CornerStop}, {Kind: takeoff.CornerRough},
}

func fullScheme() takeoff.Scheme {
	profile := func(name string, thickness, width measure.Length) *stock.Profile {
		return &stock.Profile{Name: name, Thickness: thickness, Width: width, Lengths: []measure.Length{8 * measure.Foot, 16 * measure.Foot}}
	}
	const in = measure.Inch
	return takeoff.Scheme{
		Base: profile("base", 9*in/16, 5*in), Shoe: profile("shoe", in/2, 3*in/4), ChairRail: profile("chair rail", in, 3*in),
		PictureRail: profile("picture rail", in, 2*in), Casing: profile("casing", 3*in/4, 7*in/2), Crown: profile("crown", 3*in/4, 4*in),
	}
}

// Lengths explain themselves: the allowances of every piece and run sum to its length, a run is its
// part of the wall plus the additions of its ends, the parts of a run make the run and its overlaps, no
// part is longer than a stick, and no two labels are equal.
func TestLengthsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, s := walls(t, everyCorner...), fullScheme()
		bow := stock.UsualBow()
		var o *takeoff.Options
		if rapid.Bool().Draw(t, "habits") {
			const in = measure.Inch
			o = &takeoff.Options{Sight: length(0, 4*measure.Foot).Draw(t, "sight"), LapFromEntry: true, ReturnApron: true, Fit: &stock.Fit{Bow: &bow}}
			s.Stool, s.Apron, s.Plinth, s.Backband = board("stool", in, 5*in), board("apron", in, 3*in), board("plinth", in, 4*in), board("band", in, in)
			if rapid.Bool().Draw(t, "built up") {
				s.Base, s.Shoe, s.Crown = nil, nil, nil
				s.Assemblies = []takeoff.Assembly{stack(t, "foot", false), stack(t, "cornice", true)}
				for i, a := range s.Assemblies {
					for k := range a.Members {
						m := &s.Assemblies[i].Members[k]
						m.Profile.Lengths = []measure.Length{8 * measure.Foot, 16 * measure.Foot}
						if m.Profile.Role.Sprung() {
							m.Backing = &takeoff.Backing{Profile: *board("backing", in, in), Clearance: in / 16}
						}
					}
				}
				if s.ChairRailAt = 40 * in; rapid.Bool().Draw(t, "blocks") {
					for _, m := range s.Assemblies[1].Members {
						if m.Backing != nil {
							m.Backing.BlockLength = 6 * in
						}
					}
				}
			}
			for i := range r.Walls {
				r.Walls[i].KeepClear = []takeoff.KeepClear{{At: length(0, 20*measure.Foot).Draw(t, "avoid"), Width: 3 * in}}
			}
		}
		list, err := takeoff.Take([]takeoff.Room{r}, s, o)
		if err != nil {
			t.Fatal(err)
		}
		placed(t, list, []takeoff.Room{r})
		labels := map[string]bool{}
		parts := map[string][]stock.Piece{}
		for _, p := range list.Pieces {
			if sum, err := total(p.Allowances); err != nil || sum != p.Length || p.Length <= 0 {
				t.Fatalf("%s: length %v, allowances %v", p.Label, p.Length, p.Allowances)
			}
			if p.Label == "" || labels[p.Label] {
				t.Fatalf("label %q is used twice", p.Label)
			}
			labels[p.Label] = true
			if p.Length > 16*measure.Foot && p.Profile != "casing" && p.Profile != "backing" {
				t.Fatalf("%s: %v does not fit a stick", p.Label, p.Length)
			}
			parts[p.Run] = append(parts[p.Run], p)
		}
		for _, run := range list.Runs {
			var wall, ends measure.Length
			for i, a := range run.Allowances {
				switch {
				case i == 0 || strings.Contains(a.Name, " part of the wall") || strings.Contains(a.Name, " in the corner "):
					wall += a.Length
				default:
					ends += a.Length
				}
			}
			if onWall := run.Role < stock.RoleCasing || run.Role == stock.RoleCrown || run.Assembly != ""; onWall && wall != run.Net {
				t.Fatalf("%s: %v less its ends is %v of wall, not %v", run.Label, run.Length, wall, run.Net)
			}
			if wall+ends != run.Length {
				t.Fatalf("%s: allowances make %v, not %v", run.Label, wall+ends, run.Length)
			}
			var sum measure.Length
			ps := parts[run.Label]
			for i, p := range ps {
				sum += p.Length
				if p.Part != i+1 || p.Parts != len(ps) || (len(ps) > 1 && p.Length < 16*measure.Inch) {
					t.Fatalf("%s: part %d of %d, %v", p.Label, p.Part, p.Parts, p.Length)
				}
			}
			if want := run.Length + measure.Length(len(run.Splices))*run.Splice.Overlap; sum != want || len(ps) != len(run.Splices)+1 {
				t.Fatalf("%s: %d parts sum to %v, want %v", run.Label, len(ps), sum, want)
			}
			for _, x := range run.Splices {
				if !run.Splice.Anywhere && !slices.Contains(run.Splice.At, x) && !slices.Contains(run.Splice.Avoid, x) {
					t.Fatalf("%s: splice at %v is on no stud of %v", run.Label, x, run.Splice.At)
				}
			}
			if run.Role == stock.RoleBase && run.Assembly == "" {
				studs(t, r, run)
			}
		}
		again, err := takeoff.Take([]takeoff.Room{r}, s, o)
		if err != nil || gocmp.Diff(list, again) != "" {
			t.Fatal("the same room gives a different list")
		}
	})
}

// studs checks that the splices of a run fall on the middles of studs, 16 in apart
// from the left end of the wall, at least 24 in from the ends of the run.
func studs(t *rapid.T, r takeoff.Room, run stock.Run) {
	if len(run.Splices) == 0 {
		return
	}
	var reach measure.Length // of the left long point beyond the start of the run
	for _, a := range run.Allowances {
		switch a.Name {
		case "outside miter at left", "slant of the corner at left", "scribe at left":
			reach += a.Length
		}
	}
	for _, x := range run.Splices {
		on := x - reach + run.Start
		if on%(16*measure.Inch) != 0 || on-run.Start < 24*measure.Inch || run.Start+run.Net-on < 24*measure.Inch {
			t.Fatalf("%s: splice at %v of the wall, run from %v over %v", run.Label, on, run.Start, run.Net)
		}
	}
}

// mirror returns the room as seen in a mirror: walls and everything on them the
// other way round.
func mirror(r takeoff.Room) takeoff.Room {
	m := r
	n := len(r.Walls)
	m.Walls = make([]takeoff.Wall, n)
	for i, w := range r.Walls {
		v := w
		v.Corner = r.Walls[(i+n-1)%n].Corner
		if v.Start = (takeoff.Corner{}); w.Corner.Kind > takeoff.CornerOutside {
			v.Start = w.Corner
		}
		v.Openings, v.Fixtures = nil, nil
		for j := len(w.Openings) - 1; j >= 0; j-- {
			o := w.Openings[j]
			o.At = w.Length - o.At - o.Width
			v.Openings = append(v.Openings, o)
		}
		for j := len(w.Fixtures) - 1; j >= 0; j-- {
			f := w.Fixtures[j]
			f.At = w.Length - f.At - f.Width
			v.Fixtures = append(v.Fixtures, f)
		}
		stud := 16 * measure.Inch
		v.Studs.First, v.Studs.Spacing = w.Length%stud, stud
		m.Walls[n-1-i] = v
	}
	return m
}

// shape is a piece without its label and its hand.
type shape struct {
	Wall, Use string
	Length    measure.Length
	A, B      stock.EndKind
}

func shapes(list *takeoff.List, mirrored bool) (ss []shape) {
	wall, use := map[string]string{}, map[string]string{}
	for _, r := range list.Runs {
		wall[r.Label], use[r.Label] = r.Wall, r.Role.String()
	}
	for _, p := range list.Pieces {
		s := shape{wall[p.Run], use[p.Run], p.Length, p.Left.Kind, p.Right.Kind}
		if mirrored && s.Use != "casing" {
			s.A, s.B = s.B, s.A
		}
		for _, k := range []*stock.EndKind{&s.A, &s.B} {
			if *k == stock.EndScarfUnder {
				*k = stock.EndScarfOver // the lap does not turn with the room
			}
		}
		ss = append(ss, s)
	}
	slices.SortFunc(ss, func(a, b shape) int {
		return cmp.Or(cmp.Compare(a.Wall, b.Wall), cmp.Compare(a.Use, b.Use), cmp.Compare(a.Length, b.Length), cmp.Compare(a.A, b.A), cmp.Compare(a.B, b.B))
	})
	return ss
}

// A mirrored room gives mirrored pieces.
func TestMirroredRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t, everyCorner...)
		r.Entry = r.Walls[0].Name
		s := fullScheme()
		s.Shoe = nil // where a splice needs no stud, full sticks start at the left
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		if ambiguous(list) {
			t.Skip("two runs are equally good as the first piece, or nothing breaks the ring")
		}
		other, err := takeoff.Take([]takeoff.Room{mirror(r)}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		if list.Joints != other.Joints {
			t.Fatalf("joints %+v, mirrored %+v", list.Joints, other.Joints)
		}
		if d := gocmp.Diff(shapes(list, false), shapes(other, true)); d != "" {
			t.Fatalf("mirrored pieces (-want +got):\n%s", d)
		}
	})
}

// ambiguous reports whether the mirrored room may differ for a good reason: two runs
// of one course are equally long, so that the first piece may be either, a run may be
// spliced from both ends alike, or a ring of copes has no break.
func ambiguous(list *takeoff.List) bool {
	type key struct {
		use stock.Role
		net measure.Length
	}
	seen, ring := map[key]bool{}, map[stock.Role]bool{}
	for _, r := range list.Runs {
		if r.Role == stock.RoleCasing {
			continue
		}
		k := key{r.Role, r.Net}
		if seen[k] {
			return true
		}
		seen[k] = true
		if len(r.Splices) > 0 && !slices.ContainsFunc(r.Splices, func(x measure.Length) bool { return !slices.Contains(r.Splice.At, r.Length-x) }) {
			return true
		}
		if _, ok := ring[r.Role]; !ok {
			ring[r.Role] = true
		}
		for _, e := range []stock.End{r.Left, r.Right} {
			coped := e.Kind == stock.EndCope || (e.Kind == stock.EndSquare && hasNeighbor(r))
			ring[r.Role] = ring[r.Role] && coped
		}
	}
	for _, closed := range ring {
		if closed {
			return true
		}
	}
	return false
}

// hasNeighbor reports whether a square end may be the mate of a cope: nothing on the
// wall stopped the run.
func hasNeighbor(r stock.Run) bool {
	return !slices.ContainsFunc(r.Allowances, func(a stock.Allowance) bool {
		return a.Name == "left part of the wall" || a.Name == "right part of the wall"
	})
}

// Splitting a wall at an imaginary corner of 180° changes nothing but the number of
// joints.
func TestStraightCorner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t, takeoff.Corner{}, takeoff.Corner{Kind: takeoff.CornerOutside}, takeoff.Corner{Angle: 135 * measure.Degree}, takeoff.Corner{Kind: takeoff.CornerOpen})
		for i := range r.Walls { // the split must not run through anything
			r.Walls[i].Openings, r.Walls[i].Fixtures = nil, nil
		}
		i := rapid.IntRange(0, len(r.Walls)-1).Draw(t, "wall")
		if len(r.Walls) == 1 && r.Walls[0].Corner.Kind != takeoff.CornerOpen {
			t.Skip("a single wall that meets itself")
		}
		s := fullScheme()
		for _, p := range []*stock.Profile{s.Base, s.Shoe, s.ChairRail, s.PictureRail, s.Casing, s.Crown} {
			p.Lengths = nil
		}
		x := length(measure.Foot, r.Walls[i].Length-measure.Foot).Draw(t, "split at")
		split := r
		a, b := r.Walls[i], r.Walls[i]
		a.Name, a.Length, a.Corner = a.Name+"1", x, takeoff.Corner{Angle: 180 * measure.Degree}
		b.Name, b.Length, b.Start = b.Name+"2", b.Length-x, takeoff.Corner{}
		split.Walls = slices.Replace(slices.Clone(r.Walls), i, i+1, a, b)

		whole, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		parts, err := takeoff.Take([]takeoff.Room{split}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		const courses = 5
		want := whole.Joints
		want.Butts += courses
		if parts.Joints != want {
			t.Fatalf("joints %+v, want %+v", parts.Joints, want)
		}
		if len(parts.Pieces) != len(whole.Pieces)+courses {
			t.Fatalf("%d pieces, want %d and %d", len(parts.Pieces), len(whole.Pieces), courses)
		}
		total := func(l *takeoff.List) (sum measure.Length) {
			for _, p := range l.Pieces {
				sum += p.Length
			}
			return sum
		}
		if total(parts) != total(whole) {
			t.Fatalf("pieces sum to %v, want %v", total(parts), total(whole))
		}
		before, err := r.Traverse()
		if err != nil {
			t.Fatal(err)
		}
		after, err := split.Traverse()
		if err != nil || before.Closed != after.Closed || before.Turn != after.Turn || before.Perimeter != after.Perimeter {
			t.Fatalf("traverse %+v, split %+v, %v", before, after, err)
		}
	})
}

// No room panics, however wild, and every error is one of the package's types.
func TestWildRooms(t *testing.T) {
	wild := rapid.OneOf(
		rapid.Map(rapid.Int64(), func(l int64) measure.Length { return measure.Length(l) }),
		rapid.SampledFrom([]measure.Length{0, 1, -1, measure.Inch, measure.Foot, 20 * measure.Foot, 1 << 62, -1 << 63, 1<<63 - 1}),
		length(0, 30*measure.Foot),
	)
	angle := rapid.OneOf(
		rapid.Map(rapid.Int64(), func(a int64) measure.Angle { return measure.Angle(a) }),
		rapid.SampledFrom([]measure.Angle{0, 1, -1, 90 * measure.Degree, 180 * measure.Degree, 180*measure.Degree - 1, 200 * measure.Degree}),
	)
	rapid.Check(t, func(t *rapid.T) {
		var rooms []takeoff.Room
		for range rapid.IntRange(0, 3).Draw(t, "rooms") {
			r := takeoff.Room{
				Name: rapid.SampledFrom([]string{"", "a", "b", "c"}).Draw(t, "room"), Height: wild.Draw(t, "height"),
				Entry:     rapid.SampledFrom([]string{"", "", "A", "Z"}).Draw(t, "entry"),
				Studs:     takeoff.Studs{First: wild.Draw(t, "first"), Spacing: wild.Draw(t, "spacing")},
				PaintLine: wild.Draw(t, "paint"), Wet: true,
			}
			if rapid.Bool().Draw(t, "plain studs") {
				r.Studs = takeoff.Studs{}
			}
			for i := range rapid.IntRange(0, 5).Draw(t, "walls") {
				w := takeoff.Wall{
					Name: string(rune('A' + i)), Length: wild.Draw(t, "length"),
					Corner: takeoff.Corner{Kind: takeoff.CornerKind(rapid.IntRange(0, 6).Draw(t, "kind")), Angle: angle.Draw(t, "angle")},
				}
				if rapid.Bool().Draw(t, "more") {
					w.TopLength, w.HeightLeft = wild.Draw(t, "top"), wild.Draw(t, "height left")
					w.KeepClear = []takeoff.KeepClear{{At: wild.Draw(t, "avoid"), Width: wild.Draw(t, "wide")}}
				}
				for range rapid.IntRange(0, 2).Draw(t, "openings") {
					w.Openings = append(w.Openings, takeoff.Opening{
						Kind: takeoff.OpeningKind(rapid.IntRange(0, 4).Draw(t, "opening")), At: wild.Draw(t, "at"), Width: wild.Draw(t, "width"),
						Height: wild.Draw(t, "high"), Sill: wild.Draw(t, "sill"), Reveal: wild.Draw(t, "reveal"),
						TopWidth: wild.Draw(t, "top width"), RightHeight: wild.Draw(t, "right height"),
					})
				}
				for range rapid.IntRange(0, 1).Draw(t, "fixtures") {
					w.Fixtures = append(w.Fixtures, takeoff.Fixture{Name: "hearth", At: wild.Draw(t, "at"), Width: wild.Draw(t, "width"), Depth: wild.Draw(t, "depth")})
				}
				r.Walls = append(r.Walls, w)
			}
			rooms = append(rooms, r)
		}
		s := fullScheme()
		if rapid.Bool().Draw(t, "wild profile") {
			s.Base = &stock.Profile{
				Name: "wild", Thickness: wild.Draw(t, "thickness"), Width: wild.Draw(t, "face"), Spring: angle.Draw(t, "spring"),
				Inside: stock.InsideJoint(rapid.IntRange(0, 3).Draw(t, "inside")), EndTrim: wild.Draw(t, "trim"),
				Lengths: []measure.Length{wild.Draw(t, "stick")},
			}
			s.Base.StripJoint, s.Base.ButtSpliced, s.Base.MillShort = wild.Draw(t, "joint"), rapid.Bool().Draw(t, "plain"), wild.Draw(t, "short")
			s.Crown, s.Plinth, s.Stool, s.PlinthHeight = s.Base, s.Base, s.Base, wild.Draw(t, "plinth")
		}
		if rapid.Bool().Draw(t, "assemblies") {
			s.Base, s.Shoe, s.Crown = nil, nil, nil
			for _, name := range []string{"foot", "cornice"} {
				a := stack(t, name, name == "cornice")
				a.Rooms = rapid.SampledFrom([][]string{nil, {"a"}, {"z", "b"}}).Draw(t, "in rooms")
				if rapid.Bool().Draw(t, "wild assembly") {
					a.At = wild.Draw(t, "assembly at")
					m := &a.Members[len(a.Members)-1]
					m.At, m.Off, m.Profile.Width = wild.Draw(t, "member at"), wild.Draw(t, "off"), wild.Draw(t, "member width")
					m.Profile.Role = stock.Role(rapid.IntRange(0, 30).Draw(t, "role"))
					m.Backing = &takeoff.Backing{Profile: *board("backing", wild.Draw(t, "backing"), measure.Inch), Clearance: wild.Draw(t, "clearance"),
						HoldBack: wild.Draw(t, "hold back"), BlockLength: wild.Draw(t, "block"), Spacing: wild.Draw(t, "spacing")}
				}
				s.Assemblies = append(s.Assemblies, a)
			}
		}
		o := &takeoff.Options{Bevel: angle.Draw(t, "bevel"), Clear: wild.Draw(t, "clear"), MinPart: wild.Draw(t, "min part"), FloorGap: wild.Draw(t, "gap")}
		if rapid.Bool().Draw(t, "fitted") {
			o = &takeoff.Options{
				Sight: wild.Draw(t, "sight"), LapFromEntry: true, Horn: wild.Draw(t, "horn"), MovementJoint: wild.Draw(t, "movement"),
				Fit: &stock.Fit{BetweenFinished: wild.Draw(t, "between"), MaxTemp: measure.Temperature(rapid.Int64().Draw(t, "warmest"))},
			}
		}
		if rapid.Bool().Draw(t, "no options") {
			o = nil
		}
		list, err := takeoff.Take(rooms, s, o)
		if (list == nil) != (err != nil) {
			t.Fatalf("list %v, error %v", list, err)
		}
		known(t, err)
		if list != nil {
			placed(t, list, rooms)
			_, err = list.Compare("wild", takeoff.RoughRule{Round: wild.Draw(t, "round")}, []takeoff.WallReading{{Length: wild.Draw(t, "reading")}},
				[]stock.Stick{{Length: wild.Draw(t, "stick"), Price: rapid.Int64().Draw(t, "price"), TrimEnd: wild.Draw(t, "trim end")}}, wild.Draw(t, "kerf"))
			known(t, err)
		}
		_, err = takeoff.CheckTrim(rooms, s, takeoff.Conditions{MaxTransport: wild.Draw(t, "vehicle"), MaxTemp: measure.Temperature(rapid.Int64().Draw(t, "warm"))})
		known(t, err)
		_, err = takeoff.Check(rooms, s, nil)
		known(t, err)
		for _, r := range rooms {
			_, err = r.Traverse()
			known(t, err)
		}
	})
}

func known(t *rapid.T, err error) {
	var fe *measure.FieldError
	var se *takeoff.SpliceError
	var out *measure.RangeError
	if err != nil && !errors.As(err, &fe) && !errors.As(err, &se) && !errors.As(err, &out) {
		t.Fatalf("%T: %v", err, err)
	}
}
