package cutsheet_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// stored reads the plan that the pictures of these tests are drawn from: the base of the
// classroom, with two runs over studs. No test finds it again.
func stored(t testing.TB) (optimize.Problem, *optimize.Plan, *cutsheet.Sheet) {
	t.Helper()
	b, err := os.ReadFile("testdata/pictured.json")
	if err != nil {
		t.Fatal(err)
	}
	p, plan, o, err := cutsheet.ReadJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	s, err := cutsheet.New(context.Background(), p, plan, o)
	if err != nil {
		t.Fatal(err)
	}
	return p, plan, s
}

// rack is the rack before the classroom is cut, and after.
func rack(t testing.TB, p optimize.Problem, plan *optimize.Plan) (before, after stock.Rack) {
	t.Helper()
	before = stock.Rack{Keep: 12 * measure.Inch, Offcuts: []stock.Offcut{
		{ID: "porch-2", Label: "from the porch", Profile: "base", Length: ft(6, 2, 4), Count: 2},
		{Profile: "base", Length: ft(1, 9, 0), Count: 7},
		{Profile: "casing", Material: "oak", Length: ft(7, 0, 8)},
		{Profile: "casing", Material: "poplar", Length: ft(2, 11, 8), Count: 3},
	}}
	change, err := plan.RackChange(p, "classroom")
	if err != nil {
		t.Fatal(err)
	}
	if after, err = before.Apply(change); err != nil {
		t.Fatal(err)
	}
	return before, after
}

// draw checks a picture as a reader would see it and returns it.
func drawPicture(t testing.TB, name string, f func(io.Writer) error) (string, *svgcheck.Picture) {
	t.Helper()
	var b bytes.Buffer
	if err := f(&b); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	p, err := svgcheck.Check(b.Bytes())
	if err != nil {
		t.Fatalf("%.300s: %.1000v", name, err)
	}
	return b.String(), p
}

// sawProfiles are the profiles in the pictures of ends.
var sawProfiles = map[string]*stock.Profile{
	"base":   {Name: "base", Role: stock.RoleBase, Thickness: measure.Inch / 2, Width: 5 * measure.Inch},
	"casing": {Name: "casing", Role: stock.RoleCasing, Thickness: 11 * measure.Inch / 16, Width: 7 * measure.Inch / 2},
	"crown":  {Name: "crown", Role: stock.RoleCrown, Thickness: 9 * measure.Inch / 16, Width: 29 * measure.Inch / 8},
}

// Every picture is as recorded, in both sizes.
func TestPictureGolden(t *testing.T) {
	p, plan, s := stored(t)
	before, after := rack(t, p, plan)
	guessed := p // whose studs are assumed
	guessed.Runs = slices.Clone(p.Runs)
	guessed.Runs[0].Splice.Assumed = true
	marked := *plan
	marked.Parts = slices.Clone(plan.Parts)
	for _, n := range plan.Spliced[0].Pieces {
		marked.Parts[n-len(p.Pieces)].Assumed = true
	}
	assumed, err := cutsheet.New(context.Background(), guessed, &marked, nil)
	if err != nil {
		t.Fatal(err)
	}
	dollars := &cutsheet.Options{Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}}
	// A plan by hand whose material bound leaves room for a better plan.
	open := optimize.Problem{Kerf: measure.Inch / 8, Sticks: []stock.Stick{{Length: ft(8, 0, 0), Price: 1190}, {Length: ft(16, 0, 0), Price: 2490}}, Pieces: []stock.Piece{{Label: "rail", Length: ft(5, 0, 0), Quantity: 6}}}
	byHand, err := optimize.Evaluate(context.Background(), open, &optimize.Plan{Patterns: []optimize.Pattern{{Count: 6, Pieces: []int{0}}}})
	if err != nil {
		t.Fatal(err)
	}
	gap, err := cutsheet.New(context.Background(), open, byHand, dollars)
	if err != nil {
		t.Fatal(err)
	}
	ruled, err := optimize.Evaluate(context.Background(), p, plan) // with rules nothing is shown
	if err != nil {
		t.Fatal(err)
	}
	unknown, err := cutsheet.New(context.Background(), p, ruled, dollars)
	if err != nil {
		t.Fatal(err)
	}
	ends := func(profile string, e cutsheet.SawEnd) func(io.Writer, int) error {
		return func(w io.Writer, width int) error {
			return e.Picture(w, &cutsheet.PictureOptions{Profile: sawProfiles[profile], Width: width})
		}
	}
	for name, f := range map[string]func(io.Writer, int) error{
		"run":        func(w io.Writer, width int) error { return s.RunPicture(w, 0, ofWidth(width)) },
		"assumed":    func(w io.Writer, width int) error { return assumed.RunPicture(w, 0, ofWidth(width)) },
		"purchase":   func(w io.Writer, width int) error { return s.PurchasePicture(w, ofWidth(width)) },
		"proof":      func(w io.Writer, width int) error { return s.ProofPicture(w, ofWidth(width)) },
		"proof-open": func(w io.Writer, width int) error { return gap.ProofPicture(w, ofWidth(width)) },
		"proof-none": func(w io.Writer, width int) error { return unknown.ProofPicture(w, ofWidth(width)) },
		"rack":       func(w io.Writer, width int) error { return cutsheet.RackPicture(w, before, nil, ofWidth(width)) },
		"rack-after": func(w io.Writer, width int) error { return cutsheet.RackPicture(w, before, &after, ofWidth(width)) },
		"end-base":   ends("base", cutsheet.SawEnd{Piece: "classroom bay N", End: end(stock.EndInsideMiter, 135), Side: joint.SideRight}),
		"end-flat":   ends("base", cutsheet.SawEnd{Piece: "chimney W", End: end(stock.EndOutsideMiter, 0), Side: joint.SideRight, Flat: true}),
		"end-casing": ends("casing", cutsheet.SawEnd{Piece: "door head", End: end(stock.EndFlatMiter, 0), Side: joint.SideLeft}),
		"end-nested": ends("crown", cutsheet.SawEnd{Piece: "teacher's room N", End: end(stock.EndCope, 0), Side: joint.SideLeft}),
		"end-crown":  ends("crown", cutsheet.SawEnd{Piece: "flue face", End: end(stock.EndOutsideMiter, 0), Side: joint.SideRight, Flat: true}),
	} {
		for suffix, width := range map[string]int{"": 0, "-narrow": 360} {
			got, _ := drawPicture(t, name+suffix, func(w io.Writer) error { return f(w, width) })
			file := filepath.Join("testdata", "pictures", name+suffix+".svg")
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s differs from the recorded one; run with -update and look at the difference", file)
			}
		}
	}
}

// The picture of an end says which side is kept, and draws that side plain and on that side; the blade
// leans by the angle that is read.
func TestSawEndPicture(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 9))
	for range 400 {
		profile := []string{"base", "casing", "crown"}[rnd.IntN(3)]
		e := cutsheet.SawEnd{End: stock.End{Kind: stock.EndKind(rnd.IntN(13))}, Side: joint.SideLeft + joint.Side(rnd.IntN(2)), Flat: rnd.IntN(2) == 1}
		switch k := e.End.Kind; {
		case k == stock.EndSquare, k == stock.EndScribe:
		case k.Raked():
			e.End.Angle = measure.Angle(rnd.Int64N(177)-88) * measure.Degree
		case k.Spliced():
			e.End.Angle = measure.Angle(1+rnd.Int64N(88)) * measure.Degree
		default:
			e.End.Angle = measure.Angle(1+rnd.Int64N(179)) * measure.Degree
		}
		o := &cutsheet.PictureOptions{Profile: sawProfiles[profile]}
		name := fmt.Sprintf("%+v of %s", e, profile)
		_, pic := drawPicture(t, name, func(w io.Writer) error { o.Width = 320 + rnd.IntN(600); return e.Picture(w, o) })
		keep := "left"
		if strings.Contains(pic.Desc, "Keep the right side") {
			keep = "right"
		} else if !strings.Contains(pic.Desc, "Keep the left side") {
			t.Fatalf("%s: %s", name, pic.Desc)
		}
		// The words stand on their sides of the blade.
		var kept, away svgcheck.Text
		for _, w := range pic.Texts {
			switch {
			case w.S == "keep this side" && kept.S == "":
				kept = w
			case w.S == "waste side" && away.S == "":
				away = w
			}
		}
		if kept.S == "" || away.S == "" || (kept.X < away.X) != (keep == "left") {
			t.Fatalf("%s: %q at %v, %q at %v", name, kept.S, kept.X, away.S, away.X)
		}
		if blade := bladeLine(pic); !strings.Contains(pic.Desc, "miter 0") && !strings.Contains(pic.Desc, "Saw: square") && !strings.Contains(pic.Desc, "bevel 9") {
			dx, dy := blade[1][0]-blade[0][0], blade[1][1]-blade[0][1]
			cut, err := joint.NewCut(*o.Profile, e.End)
			if err != nil {
				t.Fatal(err)
			}
			angle := math.Abs(math.Atan2(dx, dy))
			if d := min(math.Abs(angle-cut.Standing.Miter.Radians()), math.Abs(angle-cut.Flat.Miter.Radians())); d > 0.01 {
				t.Errorf("%s: the blade is drawn at %.3f of %v and %v", name, angle*180/math.Pi, cut.Standing.Miter, cut.Flat.Miter)
			}
			if side := strings.Contains(pic.Desc, "to the left, bevel"); side != (dx < 0) {
				t.Errorf("%s: the blade goes %v to the right: %s", name, dx, pic.Desc)
			}
		}
	}
}

// bladeLine returns the line of the blade from above, from the fence toward the operator.
func bladeLine(p *svgcheck.Picture) [][2]float64 {
	for _, s := range p.Shapes {
		if s.Name == "line" && s.Attr["stroke"] == "#8c1d18" && s.Attr["stroke-dasharray"] == "" {
			return s.Points
		}
	}
	return [][2]float64{{}, {}}
}

// Pictures of random plans are consistent, and the lengths and amounts of the purchases equal the
// plan's summary.
func TestPicturesOfRandomPlans(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 1))
	n := 0
	for range 200 {
		p := brute.Job(rnd)
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 200_000})
		if err != nil {
			continue
		}
		n++
		keep := measure.Length(1+rnd.Int64N(20)) * measure.Inch
		s, err := cutsheet.New(context.Background(), p, plan, &cutsheet.Options{Keep: keep})
		if err != nil {
			t.Fatal(err)
		}
		width := 320 + rnd.IntN(800)
		drawPicture(t, brute.Written(&p), func(w io.Writer) error { return s.PurchasePicture(w, ofWidth(width)) })
		drawPicture(t, brute.Written(&p), func(w io.Writer) error { return s.ProofPicture(w, ofWidth(width)) })
		for k := range p.Runs {
			_, pic := drawPicture(t, brute.Written(&p), func(w io.Writer) error { return s.RunPicture(w, k, ofWidth(width)) })
			checkRunToScale(t, &p, plan, k, pic)
			run := p.Runs[k]
			run.Splices = plan.Spliced[k].At
			_, before := drawPicture(t, brute.Written(&p), func(w io.Writer) error {
				return cutsheet.SplicedRunPicture(w, run, map[string]string{run.Label: "stick 1"}, ofWidth(width))
			})
			if got, want := wood(before), wood(pic); !slices.Equal(got, want) {
				t.Fatalf("spliced before the plan, the bars are %v, not %v", got, want)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d plans", n)
	}
}

// wood returns the ends of the bars of pieces.
func wood(pic *svgcheck.Picture) (at []float64) {
	for _, s := range pic.Shapes {
		if s.Name == "rect" && s.Attr["fill"] == "#f3e7cf" {
			at = append(at, s.Points[0][0], s.Points[1][0])
		}
	}
	return at
}

// checkRunToScale checks the parts of a run against their lengths.
func checkRunToScale(t *testing.T, p *optimize.Problem, plan *optimize.Plan, k int, pic *svgcheck.Picture) {
	t.Helper()
	at := wood(pic)
	sp := &plan.Spliced[k]
	if len(at) != 2*len(sp.Pieces) {
		t.Fatalf("run %d: %d bars, want %d", k, len(at)/2, len(sp.Pieces))
	}
	whole := at[len(at)-1] - at[0]
	for i, l := range sp.At {
		want := at[0] + whole*l.Inches()/p.Runs[k].Length.Inches()
		if math.Abs(at[2*i+1]-want) > 0.011 || math.Abs(at[2*i+2]-want) > 0.011 {
			t.Errorf("run %d: splice %d drawn at %v and %v, want %v", k, i, at[2*i+1], at[2*i+2], want)
		}
	}
	words := pic.Words()
	for i, n := range sp.Pieces {
		key := ""
		for j := range plan.Patterns {
			if slices.Contains(plan.Patterns[j].Pieces, n) {
				key = string(rune('A' + j))
				break
			}
		}
		if !strings.Contains(strings.ReplaceAll(words, "\n", " "), key) || key == "" {
			t.Errorf("part %d: no stick %q in %q", i, key, words)
		}
	}
}

// The picture of the rack is to scale, and shows every offcut.
func TestRackPicture(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for range 60 {
		var before stock.Rack
		names := append([]string{"crown", "base", "casing"}, hostile...)
		for range 1 + rnd.IntN(40) {
			before.Offcuts = append(before.Offcuts, stock.Offcut{
				Profile: strings.ToValidUTF8(names[rnd.IntN(3)], ""), Material: names[rnd.IntN(2)], Label: strings.ToValidUTF8(names[rnd.IntN(len(names))], "?"),
				Length: measure.Length(1+rnd.Int64N(200)) * measure.Inch, Count: rnd.IntN(4),
			})
		}
		after := stock.Rack{Offcuts: slices.Clone(before.Offcuts[:rnd.IntN(len(before.Offcuts)+1)])}
		after.Offcuts = append(after.Offcuts, stock.Offcut{Profile: "shoe", Length: ft(3, 1, 0), Count: 2})
		width := 320 + rnd.IntN(700)
		_, pic := drawPicture(t, "rack", func(w io.Writer) error { return cutsheet.RackPicture(w, before, nil, ofWidth(width)) })
		drawPicture(t, "rack after", func(w io.Writer) error { return cutsheet.RackPicture(w, before, &after, ofWidth(width)) })
		widths := make(map[measure.Length]float64)
		longest := measure.Length(0)
		for _, o := range before.Offcuts {
			longest = max(longest, o.Length)
		}
		var bars []float64
		for _, s := range pic.Shapes {
			if s.Name == "rect" && s.Attr["fill"] == "#f3e7cf" {
				bars = append(bars, s.Points[1][0]-s.Points[0][0])
			}
		}
		for _, o := range before.Offcuts {
			widths[o.Length] = slices.Max(bars) * float64(o.Length) / float64(longest)
			if !slices.ContainsFunc(bars, func(w float64) bool { return math.Abs(w-max(widths[o.Length], 1)) < 0.03 }) {
				t.Fatalf("no bar for %v among %v", o.Length.About(), bars)
			}
		}
	}
}

// Huge, empty and strange input is drawn or refused.
func TestPictureHostile(t *testing.T) {
	ctx := context.Background()
	billion := optimize.Problem{Sticks: []stock.Stick{{Length: 1 << 27, Price: 3}, {Length: 1 << 28, Price: 5}}, Pieces: []stock.Piece{{Length: 1 << 26, Quantity: 1_000_000_000}, {Length: 3 << 25, Quantity: 7}}}
	many := optimize.Problem{Kerf: measure.Inch / 8, Sticks: []stock.Stick{{Length: 192 * measure.Inch}, {Length: 144 * measure.Inch}}}
	for i := range measure.Length(1000) {
		many.Pieces = append(many.Pieces, stock.Piece{Label: hostile[int(i)%len(hostile)], Length: 5*measure.Inch + i*measure.Inch/16})
	}
	free := optimize.Problem{Sticks: []stock.Stick{{Length: 96 * measure.Inch, Rack: true}}, Pieces: []stock.Piece{{Length: measure.Inch}}}
	named, options := hostileJob()
	for i, r := range hostile {
		named.Runs = append(named.Runs, stock.Run{Label: r, Room: r, Wall: r, Length: ft(1, 0, measure.Length(i)), Net: ft(1, 0, 0)})
	}
	named.Sticks = append(named.Sticks, stock.Stick{Length: ft(16, 0, 0), Price: 100})
	for name, p := range map[string]optimize.Problem{"billion": billion, "many": many, "free": free, "named": named} {
		o := &cutsheet.Options{}
		if name == "named" {
			o = options
		}
		plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: 20_000_000})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		s, err := cutsheet.New(ctx, p, plan, o)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for _, width := range []int{0, 320, 360, 2000} {
			drawPicture(t, name, func(w io.Writer) error { return s.PurchasePicture(w, ofWidth(width)) })
			drawPicture(t, name, func(w io.Writer) error { return s.ProofPicture(w, ofWidth(width)) })
			for k := range p.Runs {
				drawPicture(t, name, func(w io.Writer) error { return s.RunPicture(w, k, ofWidth(width)) })
				drawPicture(t, name, func(w io.Writer) error {
					return cutsheet.SplicedRunPicture(w, p.Runs[k], map[string]string{p.Runs[k].Label: p.Runs[k].Label + "\xff"}, ofWidth(width))
				})
			}
		}
		var field *measure.FieldError
		if err := s.RunPicture(io.Discard, len(p.Runs), ofWidth(0)); !errors.As(err, &field) || field.Field != "run" {
			t.Errorf("%s: a run beyond the last: %v", name, err)
		}
	}
	for _, thick := range []measure.Length{1, measure.Inch, 1000 * measure.Foot} {
		for _, wide := range []measure.Length{1, measure.Inch, 1000 * measure.Foot} {
			for _, role := range []stock.Role{stock.RoleBase, stock.RoleCrown, stock.RoleSoffit} {
				for _, e := range []stock.End{{Kind: stock.EndOutsideMiter}, {Kind: stock.EndFlatMiter, Angle: measure.Degree}, {Kind: stock.EndRake, Angle: -89 * measure.Degree}, {Kind: stock.EndScarfUnder, Angle: 1}} {
					p := stock.Profile{Name: "p", Role: role, Thickness: thick, Width: wide}
					for _, flat := range []bool{false, true} {
						drawPicture(t, fmt.Sprint(p, e, flat), func(w io.Writer) error {
							return cutsheet.SawEnd{End: e, Flat: flat}.Picture(w, &cutsheet.PictureOptions{Profile: &p, Width: 360})
						})
					}
				}
			}
		}
	}
	for _, l := range hostile {
		e := cutsheet.SawEnd{Piece: l, End: end(stock.EndOutsideMiter, 0)}
		drawPicture(t, l, func(w io.Writer) error { return e.Picture(w, ofWidth(360)) })
		drawPicture(t, l, func(w io.Writer) error { return e.Picture(w, ofWidth(0)) })
	}
}

// What cannot be drawn is reported by its field.
func TestPictureErrors(t *testing.T) {
	_, _, s := stored(t)
	bad := errors.New("full")
	for name, f := range map[string]func(io.Writer) error{
		"run":      func(w io.Writer) error { return s.RunPicture(w, 0, ofWidth(0)) },
		"purchase": func(w io.Writer) error { return s.PurchasePicture(w, ofWidth(0)) },
		"proof":    func(w io.Writer) error { return s.ProofPicture(w, ofWidth(0)) },
		"rack":     func(w io.Writer) error { return cutsheet.RackPicture(w, stock.Rack{}, nil, ofWidth(0)) },
		"end":      func(w io.Writer) error { return cutsheet.SawEnd{}.Picture(w, ofWidth(0)) },
	} {
		if err := f(failing{bad}); !errors.Is(err, bad) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for want, err := range map[string]error{
		"run":                     s.RunPicture(io.Discard, -1, ofWidth(0)),
		"end.angle":               cutsheet.SawEnd{End: stock.End{Kind: stock.EndCope, Angle: 200 * measure.Degree}}.Picture(io.Discard, ofWidth(0)),
		"piece":                   cutsheet.SawEnd{Piece: "\xff"}.Picture(io.Discard, ofWidth(0)),
		"side":                    cutsheet.SawEnd{Side: 3}.Picture(io.Discard, ofWidth(0)),
		"options.graduation":      cutsheet.SawEnd{}.Picture(io.Discard, &cutsheet.PictureOptions{Graduation: -1}),
		"run.length":              cutsheet.SplicedRunPicture(io.Discard, stock.Run{}, nil, ofWidth(0)),
		"run.label":               cutsheet.SplicedRunPicture(io.Discard, stock.Run{Length: 1, Label: "\xff"}, nil, ofWidth(0)),
		"run.at[0]":               cutsheet.SplicedRunPicture(io.Discard, stock.Run{Length: 10, Splices: []measure.Length{20}}, nil, ofWidth(0)),
		"before.offcuts[0].label": cutsheet.RackPicture(io.Discard, stock.Rack{Offcuts: []stock.Offcut{{Length: 1, Label: "\xff"}}}, nil, ofWidth(0)),
		"after.offcuts[0].length": cutsheet.RackPicture(io.Discard, stock.Rack{}, &stock.Rack{Offcuts: []stock.Offcut{{}}}, ofWidth(0)),
	} {
		var field *measure.FieldError
		if !errors.As(err, &field) || field.Field != want {
			t.Errorf("%v, want one of %s", err, want)
		}
	}
	for name, err := range map[string]error{
		"run":      s.RunPicture(io.Discard, 0, ofWidth(-1)),
		"spliced":  cutsheet.SplicedRunPicture(io.Discard, stock.Run{Length: measure.Foot}, nil, ofWidth(319)),
		"purchase": s.PurchasePicture(io.Discard, ofWidth(2001)),
		"proof":    s.ProofPicture(io.Discard, ofWidth(math.MaxInt)),
		"rack":     cutsheet.RackPicture(io.Discard, stock.Rack{}, nil, ofWidth(1)),
		"end":      cutsheet.SawEnd{}.Picture(io.Discard, ofWidth(math.MinInt)),
	} {
		if field := new(measure.FieldError); !errors.As(err, &field) || field.Field != "options.width" {
			t.Errorf("%s: %v, want one of options.width", name, err)
		}
	}
}

// ofWidth returns the options of a picture of a width.
func ofWidth(width int) *cutsheet.PictureOptions { return &cutsheet.PictureOptions{Width: width} }

// failing is a writer that has no room.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
