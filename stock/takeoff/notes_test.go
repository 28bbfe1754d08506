package takeoff_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/curve"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// notesOf returns the notes of the pieces of a list, of those that have any.
func notesOf(list *takeoff.List) map[string][]string {
	out := map[string][]string{}
	for _, p := range list.Pieces {
		if len(p.Notes) > 0 {
			out[p.Label] = p.Notes
		}
	}
	return out
}

// Derived: TestScribedRoom has the depths by hand. In 12 ft of base from sticks of at most 8 the left
// part ends and the right part begins within a straight stretch of the line, a half scarf beyond the
// splice.
func TestNotesOfScribedRoom(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	base := board("base", 9*in/16, 21*in/4)
	check := func(name string, o *takeoff.Options, want map[string][]string) {
		t.Helper()
		list, err := takeoff.Take([]takeoff.Room{fallen()}, takeoff.Scheme{Base: base}, o)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, notesOf(list)); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
	check("in one piece", nil, map[string][]string{
		"classroom N base": {`scribe the lower edge, from the left end: take off 3/8" at 0", 1/4" at 4', 0" at 8', 1/8" at 12'`},
		"classroom E base": {`rip 1/8" off the lower edge`},
		"classroom S base": {`taper the lower edge: take off 1/8" at the left end, 1/4" at the right end`},
		"classroom W base": {`taper the lower edge: take off 1/4" at the left end, 3/8" at the right end`},
	})
	// The scarf is 9/16 in long: the north parts meet at 6 ft 8 in, and each reaches 9/32 in farther.
	base.Lengths = []measure.Length{8 * ft}
	check("spliced", nil, map[string][]string{
		"classroom N base 1 of 2": {`scribe the lower edge, from the left end: take off 3/8" at 0", 1/4" at 4', 3/32" at 6' 8-9/32"`},
		"classroom N base 2 of 2": {`scribe the lower edge, from the left end: take off 3/32" at 0", 0" at 1' 4-9/32", 1/8" at 5' 4-9/32"`},
		"classroom E base":        {`rip 1/8" off the lower edge`},
		"classroom S base 1 of 2": {`taper the lower edge: take off 1/8" at the left end, 3/16" at the right end`},
		"classroom S base 2 of 2": {`taper the lower edge: take off 3/16" at the left end, 1/4" at the right end`},
		"classroom W base":        {`taper the lower edge: take off 1/4" at the left end, 3/8" at the right end`},
	})
	base.Lengths = nil
	check("metric", &takeoff.Options{Locale: measure.Locale{Metric: true, DecimalComma: true}}, map[string][]string{
		"classroom N base": {"scribe the lower edge, from the left end: take off 9,5 mm at 0 mm, 6,5 mm at 1219,2 mm, 0 mm at 2438,4 mm, 3 mm at 3657,6 mm"},
		"classroom E base": {"rip 3 mm off the lower edge"},
		"classroom S base": {"taper the lower edge: take off 3 mm at the left end, 6,5 mm at the right end"},
		"classroom W base": {"taper the lower edge: take off 6,5 mm at the left end, 9,5 mm at the right end"},
	})
}

// All other work on a piece. Derived where each is taken off: TestLeaningWalls, TestNotches,
// TestCurveInOnePiece, TestWindowExtension, TestNotchedStool, TestRolledCrown. The skirt of the stair
// that rises 3 to 4 is cut level at its foot and at its head: over 9 1/4 in of width an end goes along
// by 3/4 of that, 6 15/16 in.
func TestNotesOfOtherWork(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	check := func(rooms []takeoff.Room, s takeoff.Scheme, o *takeoff.Options, want map[string][]string) {
		t.Helper()
		list, err := takeoff.Take(rooms, s, o)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, notesOf(list)); d != "" {
			t.Errorf("(-want +got):\n%s", d)
		}
	}
	leaning := rectangle("12ft", "8ft", "12ft", "8ft")
	leaning.Walls[1].Lean = scribe.Lean{Out: in, Over: 42 * in}
	leaning.Walls[3].Lean = scribe.Lean{Out: -in, Over: 42 * in}
	check([]takeoff.Room{leaning}, takeoff.Scheme{Base: board("base", 9*in/16, 21*in/4)}, nil, map[string][]string{
		"classroom N base": {`left end out of square: the top stays 1/8" short of the bottom`, `right end out of square: the top stands out 1/8" beyond the bottom`},
		"classroom S base": {`left end out of square: the top stands out 1/8" beyond the bottom`, `right end out of square: the top stays 1/8" short of the bottom`},
	})

	s := takeoff.Scheme{Base: board("base", 3*in/4, 21*in/4)}
	register := takeoff.Fixture{Name: "register", At: 60 * in, Width: 12 * in, Height: 4 * in, Notch: in / 8}
	box := takeoff.Fixture{Name: "outlet", At: 80 * in, Width: 9 * in / 4, Bottom: 3 * in / 2, Height: 5 * in, Notch: in / 8}
	check(bookRoom(nil, register, box), s, nil, map[string][]string{"book room N base": {
		`notch the lower edge 1' 1/4" x 4-1/8" up, 4' 11-7/8" from the left end`, `cut out 2-1/2" x 3-3/4" up, 6' 7-7/8" from the left end and 1-3/8" above the lower edge`,
	}})
	box.Height = 6 * in
	check(bookRoom(nil, box), s, nil, map[string][]string{"book room N base": {`notch the upper edge 2-1/2" x 3-7/8" down, 6' 7-7/8" from the left end`}})

	round := roundRoom(60*in, curve.BendConvex)
	round.Walls[1].Curve.Trim, round.Walls[1].Curve.Kerf = takeoff.CurveKerfed, curve.Kerf{Width: in / 8}
	s.Base = board("base", 9*in/16, 5*in)
	check([]takeoff.Room{round}, s, nil, map[string][]string{
		"entry NE base": {`kerf the back 7 times, 1/2" deep, 1' 1-9/16" apart from middle to middle, the first 6-25/32" from the left end`},
	})
	s.Base.Lengths = []measure.Length{6 * ft}
	check([]takeoff.Room{round}, s, nil, map[string][]string{
		"entry NE base 1 of 2": {`kerf the back 5 times, 1/2" deep, 1' 1-9/16" apart from middle to middle, the first 6-25/32" from the left end`},
		"entry NE base 2 of 2": {`kerf the back 2 times, 1/2" deep, 1' 1-9/16" apart from middle to middle, the first 10-15/16" from the left end`},
	})

	skirt := board("skirt", 3*in/4, 37*in/4)
	const around = "cut it around these corners, each along from the left end x up from the lower edge: "
	check(stairWall(schoolStair()), takeoff.Scheme{Skirt: skirt}, nil, map[string][]string{
		"classroom W skirt": {around + `0" x 0", 13' 6-1/2" x 0", 14' 1-7/16" x 9-1/4", 6-15/16" x 9-1/4"`},
	})
	skirt.Lengths = []measure.Length{12 * ft}
	check(stairWall(schoolStair()), takeoff.Scheme{Skirt: skirt}, nil, map[string][]string{
		"classroom W skirt 1 of 2": {around + `0" x 0", 11' 8-3/8" x 0", 11' 8-3/8" x 9-1/4", 6-15/16" x 9-1/4"`},
		"classroom W skirt 2 of 2": {around + `0" x 0", 1' 10-7/8" x 0", 2' 5-13/16" x 9-1/4", 0" x 9-1/4"`},
	})

	o := window()
	o.Depths = depths(in/2, 5*in/8, 9*in/16, 9*in/16)
	check(doorWall(o), takeoff.Scheme{Casing: casing(3 * in), Extension: pine()}, nil, map[string][]string{
		"corridor S window jamb extension leg left":  {`taper the outer edge: take off 1/16" at the bottom end, 1/8" at the top end`},
		"corridor S window jamb extension leg right": {`taper the outer edge: take off 1/16" at the bottom end, 0" at the top end`},
		"corridor S window jamb extension head":      {`taper the outer edge: take off 1/8" at the left end, 0" at the right end`},
		"corridor S window jamb extension sill":      {`rip 1/16" off the outer edge`},
	})
	o = window()
	o.Sash = &scribe.SashDepths{LeftJamb: 3 * in, LeftHorn: 25 * in / 8, RightJamb: 49 * in / 16}
	check(doorWall(o), takeoff.Scheme{Casing: casing(3 * in), Stool: board("stool", in, 5*in)}, nil, map[string][]string{
		"corridor S window stool": {`notch the back edge, from the left end: take off 3-1/16" at 0", 2-15/16" at 3-15/16", 0" at 3-15/16", 0" at 2' 9-15/16", 3" at 2' 9-15/16", 3" at 3' 1-7/8"`},
	})

	rising := takeoff.Room{Name: "teacher's room", Walls: []takeoff.Wall{
		{Name: "N", Length: 4 * ft, Ceiling: scribe.Surface{{At: 0, FromLine: 50 * in}, {At: 4 * ft, FromLine: 50*in + in/8}}, Corner: takeoff.Corner{Kind: takeoff.CornerStop}},
	}}
	crown := board("crown", 5*in/8, 37*in/8)
	drop := stock.Profile{Role: stock.RoleCrown, Thickness: crown.Thickness, Width: crown.Width}.Drop() + in/8
	check([]takeoff.Room{rising}, takeoff.Scheme{Crown: crown}, &takeoff.Options{Ceiling: scribe.CeilingRoll}, map[string][]string{
		"teacher's room N crown": {"cut the right end with the crown rolled to a drop of " + drop.Round(in/32, measure.RoundHalfEven).About()},
	})
}

// worked returns a random room with things that make work on pieces: a floor that falls, walls that
// lean, registers and outlets, a ceiling that rises, a curve, paneling, a stair.
func worked(t *rapid.T) (takeoff.Room, takeoff.Scheme) {
	const in, ft = measure.Inch, measure.Foot
	r, s := walls(t, everyCorner...), fullScheme()
	s.ChairRail, s.Stool = nil, board("stool", in, 6*in)
	s.Extension = pine()
	surface := func(w *takeoff.Wall, most int) (read scribe.Surface) {
		for at := measure.Length(0); at <= w.Length; at += length(6*in, 8*ft).Draw(t, "step") {
			read = append(read, scribe.Reading{At: at, FromLine: 50*in + measure.Length(rapid.IntRange(0, most).Draw(t, "reading"))*in/16})
		}
		return read
	}
	floor, ceiling := rapid.Bool().Draw(t, "floor"), rapid.Bool().Draw(t, "ceiling")
	for i := range r.Walls {
		w := &r.Walls[i]
		if floor {
			w.Floor = surface(w, 16)
		}
		if ceiling {
			w.Ceiling = surface(w, 8)
		}
		if rapid.Bool().Draw(t, "leans") {
			w.Lean = scribe.Lean{Out: length(-in, in).Draw(t, "out"), Over: 48 * in}
		}
		for k := range w.Fixtures {
			if f := &w.Fixtures[k]; rapid.Bool().Draw(t, "notched") {
				f.Depth, f.Notch, f.Bottom = 0, in/8, length(0, 4*in).Draw(t, "bottom")
				f.Height = f.Bottom + length(in, 4*in).Draw(t, "height")
			}
		}
		for k := range w.Openings {
			if o := &w.Openings[k]; o.Kind == takeoff.OpeningWindow && rapid.Bool().Draw(t, "measured") {
				o.Sill, o.Height = 30*in, 4*ft
				o.Depths = depths(in, length(in, 5*in/4).Draw(t, "depth"), in, in)
				o.Sash = &scribe.SashDepths{LeftJamb: length(2*in, 3*in).Draw(t, "jamb"), RightJamb: 2 * in}
			}
		}
	}
	if rapid.Bool().Draw(t, "paneled") {
		s.Wainscot = wainscot(t)
	}
	return r, s
}

// Every piece of a run that takes more than its two cuts says so, and no other; each part lists the
// work on it. In metric rooms no text has inches. The depths are found in another way: read off the
// line at many places of the piece.
func TestNotesOnEveryPiece(t *testing.T) {
	const in = measure.Inch
	had := map[string]int{} // how often each kind of work was seen
	rapid.Check(t, func(t *rapid.T) {
		r, s := worked(t)
		o := &takeoff.Options{Ceiling: scribe.CeilingFit(rapid.IntRange(0, 2).Draw(t, "shape")), ExactCut: rapid.Bool().Draw(t, "exact")}
		o.Locale.Metric = rapid.Bool().Draw(t, "metric")
		list, err := takeoff.Take([]takeoff.Room{r}, s, o)
		if err != nil {
			t.Skip(err)
		}
		placed(t, list, []takeoff.Room{r})
		runs := map[string]stock.Run{}
		for _, run := range list.Runs {
			runs[run.Label] = run
		}
		for _, p := range list.Pieces {
			text := strings.Join(p.Notes, "\n")
			if o.Locale.Metric && strings.ContainsAny(text, "\"'") || strings.Contains(text, "about") || strings.Contains(text, "%!") {
				t.Fatalf("%s: %s", p.Label, text)
			}
			run, ok := runs[p.Run]
			if !ok {
				if text != "" {
					t.Fatalf("no run for %s: %s", p.Label, text)
				}
				continue
			}
			want := 0
			says := func(yes bool, words string) {
				if got := strings.Contains(text, words); got != yes {
					t.Fatalf("%s: %q said %v, want %v:\n%s\n%+v", p.Label, words, got, yes, text, run)
				}
				if yes {
					want++
					had[words]++
				}
			}
			from, to := measure.Length(0), run.Length
			if p.Part > 1 {
				from = run.Splices[p.Part-2] - run.Splice.Overlap + run.Splice.Overlap/2
			}
			if p.Part < p.Parts {
				to = run.Splices[p.Part-1] + run.Splice.Overlap/2
			}
			if to-from != p.Length {
				t.Fatalf("%s is from %v to %v and %v long", p.Label, from, to, p.Length)
			}
			says(run.Ripped != 0, "rip it to ")
			says(p.Part == 1 && run.LeanLeft != 0, "left end out of square")
			says(p.Part == p.Parts && run.LeanRight != 0, "right end out of square")
			says(p.Part == 1 && run.DropLeft != 0, "cut the left end with the crown rolled")
			says(p.Part == p.Parts && run.DropRight != 0, "cut the right end with the crown rolled")
			says(len(run.Outline) > 0, "cut it around")
			deepest := measure.Length(0)
			for k := range measure.Length(401) {
				deepest = max(deepest, depthOf(run.Scribe, from-run.Reach+p.Length*k/400))
			}
			for _, m := range run.Scribe {
				if at := m.At + run.Reach; at > from && at < to {
					deepest = max(deepest, m.Depth)
				}
			}
			if deepest == 0 || deepest >= in/32 { // depths between may be too small to mark
				cutAt := false
				for _, how := range []string{" off the ", "taper the ", "scribe the ", "notch the back"} {
					cutAt = cutAt || strings.Contains(text, how)
				}
				if cutAt != (deepest > 0) || cutAt && !strings.Contains(text, edgeOf(run)) {
					t.Fatalf("%s: its %s is cut by up to %v:\n%s\n%+v", p.Label, edgeOf(run), deepest.About(), text, run)
				}
				if cutAt {
					want++
					had[edgeOf(run)]++
				}
			} else {
				want = -1 // as it comes
			}
			n := 0
			for _, c := range list.Notches {
				if c.Run == run.Label && c.At-run.Start+run.Reach < to && c.At+c.Width-run.Start+run.Reach > from {
					n++
				}
			}
			if got := strings.Count(text, "notch the lower") + strings.Count(text, "notch the upper") + strings.Count(text, "cut out"); got != n {
				t.Fatalf("%s: %d notches, want %d:\n%s", p.Label, got, n, text)
			}
			had["notch"] += n
			if want >= 0 && want+n != len(p.Notes) {
				t.Fatalf("%s: %d notes, want %d:\n%s", p.Label, len(p.Notes), want, text)
			}
		}
		if data, err := json.Marshal(list); err != nil {
			t.Fatal(err)
		} else if back := new(takeoff.List); measure.UnmarshalStrict(data, back) != nil || !reflect.DeepEqual(notesOf(back), notesOf(list)) {
			t.Fatal("notes are lost in JSON")
		}
	})
	t.Log(had)
}

// The notes of a run go with it if it is spliced later: a run in one piece has the notes of its piece,
// and of several parts each has the notches that are on it, and those that are ripped, cut around or
// out of square say so.
func TestNotesOfRuns(t *testing.T) {
	spliced := 0
	rapid.Check(t, func(t *rapid.T) {
		r, s := worked(t)
		list, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Skip(err)
		}
		at := 0
		for _, run := range list.Runs {
			for at < len(list.Pieces) && list.Pieces[at].Run != run.Label {
				at++
			}
			if at == len(list.Pieces) {
				t.Fatalf("%s has no pieces", run.Label)
			}
			pieces, err := run.Pieces(run.Splices)
			if err != nil {
				t.Fatal(err)
			}
			for k, p := range pieces {
				exact := list.Pieces[at+k]
				if p.Label != exact.Label || p.Room != exact.Room || p.Wall != exact.Wall || p.Assumed != exact.Assumed || p.Room != r.Name {
					t.Fatalf("%+v, want %+v", p, exact)
				}
				if len(pieces) == 1 {
					if !slices.Equal(p.Notes, exact.Notes) {
						t.Fatalf("%s: %q, want %q", p.Label, p.Notes, exact.Notes)
					}
					continue
				}
				spliced++
				got, want := strings.Join(p.Notes, "\n"), strings.Join(exact.Notes, "\n")
				for _, words := range []string{"out of square", "rip it to", "cut it around", "with the crown rolled"} {
					if strings.Contains(got, words) != strings.Contains(want, words) {
						t.Fatalf("%s: %q in\n%s\nand\n%s", p.Label, words, got, want)
					}
				}
				if len(exact.Notes) > 0 != (len(p.Notes) > 1 && strings.HasPrefix(got, "what follows is measured along the whole run")) && len(exact.Notes) > 0 {
					t.Fatalf("%s: %q, want text with %q", p.Label, got, want)
				}
			}
			at += len(pieces)
		}
	})
	t.Log(spliced, "parts")
}

// edgeOf is how the notes call the edge that is cut.
func edgeOf(run stock.Run) string {
	switch run.Role {
	case stock.RoleStool:
		return "back edge"
	case stock.RoleExtension:
		return "outer edge"
	}
	return "lower edge"
}

// depthOf reads the line of a scribe at a place, level beyond its ends.
func depthOf(marks []stock.ScribeMark, x measure.Length) measure.Length {
	for i, m := range marks {
		if x > m.At {
			continue
		}
		if i == 0 || x == m.At {
			return m.Depth
		}
		a := marks[i-1]
		return a.Depth + measure.Length(float64(m.Depth-a.Depth)*float64(x-a.At)/float64(m.At-a.At))
	}
	if len(marks) == 0 {
		return 0
	}
	return marks[len(marks)-1].Depth
}
