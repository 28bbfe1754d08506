package drawing_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/internal/svg/svgcheck"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
	"example.com/longpoint/stock/takeoff/drawing"
)

var (
	update = flag.Bool("update", false, "rewrite the recorded pictures")
	store  = flag.Bool("store", false, "take the stored rooms off anew")
)

// stored is a room with its takeoff, so that pictures stay the same when takeoffs change.
type stored struct {
	Room     takeoff.Room      `json:"room"`
	Scheme   takeoff.Scheme    `json:"scheme"`
	List     takeoff.List      `json:"list"`
	Findings []takeoff.Finding `json:"findings,omitempty"`
	Sticks   map[string]string `json:"sticks,omitempty"`
}

func load(t testing.TB, name string) stored {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	var s stored
	if err := measure.UnmarshalStrict(data, &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// picture draws and checks the drawing.
func picture(t testing.TB, draw func(w *bytes.Buffer) error) ([]byte, *svgcheck.Picture) {
	t.Helper()
	var b bytes.Buffer
	if err := draw(&b); err != nil {
		t.Fatal(err)
	}
	p, err := svgcheck.Check(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), p
}

// golden compares a picture with the recorded one.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name+".svg")
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		at := 0
		for at < len(got) && at < len(want) && got[at] == want[at] {
			at++
		}
		t.Errorf("%s differs from byte %d on: %.120q, want %.120q; -update rewrites it, then look at it", path, at, got[at:], want[at:])
	}
}

var widths = map[string]int{"paper": drawing.PaperWidth, "phone": drawing.PhoneWidth}

// The classroom has a bay, a chimney breast, paneling and a cornice; the teacher's room a stair; the
// shed does not close.
func TestStoredRooms(t *testing.T) {
	for _, name := range []string{"classroom", "teachers-room", "shed"} {
		s := load(t, name)
		for size, width := range widths {
			o := &drawing.Options{Width: width, Sticks: s.Sticks, Findings: s.Findings}
			got, p := picture(t, func(w *bytes.Buffer) error { return drawing.Elevation(w, s.Room, s.Scheme, &s.List, o) })
			golden(t, name+"-walls-"+size, got)
			everyPiece(t, p, s.Room, &s.List)
			toScale(t, p, s.Room, s.Scheme, &s.List)
			got, p = picture(t, func(w *bytes.Buffer) error { return drawing.Plan(w, s.Room, &s.List, o) })
			golden(t, name+"-plan-"+size, got)
			sameJoints(t, p, s.Room, &s.List)
		}
	}
	if *update {
		return
	}
	s := load(t, "shed")
	_, p := picture(t, func(w *bytes.Buffer) error {
		return drawing.Plan(w, s.Room, &s.List, &drawing.Options{Findings: s.Findings})
	})
	for _, want := range []string{"gap\n", "drawn larger", `24' 4-1/2" ?`, `24' 3-1/2" ?`, `W ends 1" to the right of where N begins`, "Measure again"} {
		if !strings.Contains(p.Words(), want) {
			t.Errorf("the plan of the shed does not contain %q", want)
		}
	}
}

// everyPiece checks that each piece of the room is drawn once and listed once.
func everyPiece(t testing.TB, p *svgcheck.Picture, r takeoff.Room, l *takeoff.List) {
	t.Helper()
	drawn := map[string]int{}
	for _, s := range p.Shapes {
		if s.Name == "polygon" {
			drawn[s.Group]++
		}
	}
	rooms := map[string]bool{}
	want := map[string]int{}
	for _, run := range l.Runs {
		rooms[run.Label] = run.Room == r.Name && run.Wall != ""
	}
	n := 0
	for _, q := range l.Pieces {
		if rooms[q.Run] {
			want[q.Label]++
			n++
		}
	}
	for label, times := range want {
		if drawn[label] != times {
			t.Fatalf("%s is drawn %d times, want %d", label, drawn[label], times)
		}
	}
	numbers := map[string]int{}
	for _, x := range p.Texts {
		numbers[x.Anchor+x.S]++
	}
	for i := 1; i <= n; i++ {
		if n := strconv.Itoa(i); numbers["middle"+n] != 1 || numbers["end"+n] != 1 {
			t.Fatalf("number %d is written %d times on the wall and %d times in the list", i, numbers["middle"+n], numbers["end"+n])
		}
	}
	if numbers["end"+strconv.Itoa(n+1)] != 0 {
		t.Fatalf("number %d of %d", n+1, n)
	}
	unseen := 0
	for _, q := range l.Pieces {
		if q.Run == "" && strings.HasPrefix(q.Label, r.Name+" ") {
			unseen++
		}
	}
	if got := numbers["end-"]; got < unseen {
		t.Fatalf("%d pieces are listed as not drawn, want %d", got, unseen)
	}
}

// toScale recomputes lengths and heights of level pieces from the coordinates.
func toScale(t testing.TB, p *svgcheck.Picture, r takeoff.Room, s takeoff.Scheme, l *takeoff.List) {
	t.Helper()
	places, err := r.Places()
	if err != nil {
		t.Fatal(err)
	}
	extent := func(points [][2]float64) (w, h float64) {
		lo, hi := points[0], points[0]
		for _, q := range points {
			for k := range q {
				lo[k], hi[k] = min(lo[k], q[k]), max(hi[k], q[k])
			}
		}
		return hi[0] - lo[0], hi[1] - lo[1]
	}
	scale, left := map[string]float64{}, map[string]float64{} // units an inch
	shapes := map[string][]svgcheck.Shape{}
	for _, x := range p.Shapes {
		if x.Name == "polygon" {
			shapes[x.Group] = append(shapes[x.Group], x)
		}
	}
	for i, w := range r.Walls {
		wall := shapes[r.Name+" "+w.Name][0]
		wide, _ := extent(wall.Points)
		scale[w.Name] = wide / places[i].Length.Inches()
		left[w.Name] = wall.Points[0][0]
	}
	heights := map[string]measure.Length{}
	for _, q := range s.Profiles() {
		heights[q.Name+q.Role.String()] = q.Drop()
	}
	raked := slices.ContainsFunc(r.Walls, func(w takeoff.Wall) bool { return w.Raked }) // where crown is rolled
	checked := 0
	for _, run := range l.Runs {
		k := scale[run.Wall]
		if slices.ContainsFunc(l.Curves, func(c takeoff.CurvedTrim) bool { return slices.Contains(c.Runs, run.Label) }) {
			continue
		}
		if n := len(run.Splices); run.Room == r.Name && k > 0 && n > 0 && run.Slope == 0 { // its parts make up the whole
			sum := 0.0
			for _, q := range l.Pieces {
				if q.Run == run.Label && len(shapes[q.Label]) == 1 {
					w, _ := extent(shapes[q.Label][0].Points)
					sum += w
				}
			}
			if want := run.Length.Inches() * k; math.Abs(sum-want) > 0.03*float64(n+1) {
				t.Fatalf("the parts of %s are %.2f wide, want %.2f", run.Label, sum, want)
			}
		}
		if run.Room != r.Name || k == 0 || run.Slope != 0 || len(run.Splices) > 0 || len(run.Outline) > 0 ||
			slices.ContainsFunc(r.Walls, func(w takeoff.Wall) bool { return w.Name == run.Wall && w.Curve != nil }) {
			continue
		}
		x := shapes[run.Label]
		if len(x) != 1 {
			continue
		}
		w, h := extent(x[0].Points)
		if want := run.Length.Inches() * k; math.Abs(w-want) > 0.03 {
			t.Fatalf("%s, %v, is %.2f wide at %.4f an inch, want %.2f", run.Label, run.Length, w, k, want)
		}
		if want, ok := heights[run.Profile+run.Role.String()]; ok && run.Role != stock.RoleStool && run.Ripped == 0 && len(run.Scribe) == 0 && !(raked && run.Role.Sprung()) && math.Abs(h-want.Inches()*k) > 0.03 {
			t.Fatalf("%s is %.2f high, want %v, %.2f", run.Label, h, want, want.Inches()*k)
		}
		x0 := x[0].Points[0][0]
		for _, q := range x[0].Points {
			x0 = min(x0, q[0])
		}
		if want := left[run.Wall] + (run.Start-run.Reach).Inches()*k; math.Abs(x0-want) > 0.03 {
			t.Fatalf("%s begins at %.2f, want %.2f", run.Label, x0, want)
		}
		checked++
	}
	if checked == 0 && len(l.Runs) > 20 {
		t.Log("no level run of one piece")
	}
}

var jointCount = regexp.MustCompile(`(\d+) (cope|inside miter|outside miter)s?\b`)

// sameJoints checks that the plan has as many joints in its corners as the list.
func sameJoints(t testing.TB, p *svgcheck.Picture, r takeoff.Room, l *takeoff.List) {
	t.Helper()
	if slices.ContainsFunc(r.Walls, func(w takeoff.Wall) bool { return w.Curve != nil || w.Bullnose != 0 }) {
		return // segments are mitered between corners
	}
	var want takeoff.Joints
	for _, x := range l.RoomTotals {
		if x.Room == r.Name {
			want.Copes += x.Joints.Copes
			want.InsideMiters += x.Joints.InsideMiters
			want.OutsideMiters += x.Joints.OutsideMiters
		}
	}
	var got takeoff.Joints
	_, words, _ := strings.Cut(strings.ReplaceAll(p.Words(), "\n", " "), "In the corners: ")
	words, _, _ = strings.Cut(words, ".")
	for _, m := range jointCount.FindAllStringSubmatch(words, -1) {
		n, _ := strconv.Atoi(m[1])
		switch m[2] {
		case "cope":
			got.Copes = n
		case "inside miter":
			got.InsideMiters = n
		default:
			got.OutsideMiters = n
		}
	}
	if got != want {
		t.Fatalf("corners have %+v, the list %+v: %q", got, want, words)
	}
}

// house makes random rooms: any corners, openings, things at the wall, studs, long names.
type house struct{ *rand.Rand }

func (h house) length(lo, hi measure.Length) measure.Length {
	const grain = measure.Inch / 16
	return lo + grain*measure.Length(h.Int64N(int64((hi-lo)/grain)+1))
}

func pick[T any](h house, of ...T) T { return of[h.IntN(len(of))] }

func (h house) room() takeoff.Room {
	r := takeoff.Room{Name: pick(h, "classroom", "教室", "<b>room</b> & \"hall\"", "кабинет", strings.Repeat("long room ", 12)+"end"), Height: h.length(7*measure.Foot, 14*measure.Foot)}
	if h.IntN(5) == 0 {
		r.Height = 0
	}
	if h.IntN(3) == 0 {
		r.Studs = takeoff.Studs{Spacing: h.length(10*measure.Inch, 30*measure.Inch)}
	}
	closed := h.IntN(2) == 0
	n := 1 + h.IntN(9)
	if closed {
		n = 4
	}
	a, b := h.length(2*measure.Foot, 30*measure.Foot), h.length(2*measure.Foot, 30*measure.Foot)
	for i := range n {
		w := takeoff.Wall{Name: string(rune('A' + i)), Length: h.length(measure.Foot, pick(h, 3*measure.Foot, 12*measure.Foot, 60*measure.Foot))}
		if closed {
			w.Length = []measure.Length{a, b}[i%2]
			if h.IntN(3) == 0 {
				w.Length += h.length(0, 2*measure.Inch)
			}
		} else {
			w.Corner = pick(h, takeoff.Corner{}, takeoff.Corner{}, takeoff.Corner{Kind: takeoff.CornerOutside}, takeoff.Corner{Angle: 135 * measure.Degree},
				takeoff.Corner{Kind: takeoff.CornerOutside, Angle: 120 * measure.Degree}, takeoff.Corner{Kind: takeoff.CornerOpen}, takeoff.Corner{Kind: takeoff.CornerStop}, takeoff.Corner{Kind: takeoff.CornerRough})
		}
		if h.IntN(4) == 0 {
			w.HeightLeft, w.HeightRight = h.length(7*measure.Foot, 9*measure.Foot), h.length(7*measure.Foot, 9*measure.Foot)
		}
		if h.IntN(6) == 0 {
			w.Name += pick(h, " with a very long name that goes on and on and on and on and on", " стена", " 壁", " <i>")
		}
		at := measure.Length(0)
		for h.IntN(2) == 0 {
			at += h.length(0, 6*measure.Foot)
			wide := h.length(measure.Foot, 5*measure.Foot)
			if at+wide > w.Length {
				break
			}
			switch h.IntN(4) {
			case 0:
				w.Fixtures = append(w.Fixtures, takeoff.Fixture{Name: pick(h, "bench", "stove", "a cabinet of some length"), At: at, Width: wide,
					Height: h.length(2*measure.Foot, 6*measure.Foot), Depth: h.length(0, 2*measure.Foot), Ends: pick(h, stock.EndSquare, stock.EndReturn, stock.EndScribe)})
			case 1:
				w.Openings = append(w.Openings, takeoff.Opening{Kind: takeoff.OpeningWindow, At: at, Width: wide, Height: h.length(2*measure.Foot, 4*measure.Foot), Sill: pick(h, 0, 30*measure.Inch)})
			default:
				w.Openings = append(w.Openings, takeoff.Opening{Kind: pick(h, takeoff.OpeningDoor, takeoff.OpeningCased, takeoff.OpeningPlain), At: at, Width: wide})
			}
			at += wide
		}
		r.Walls = append(r.Walls, w)
	}
	return r
}

func (h house) scheme() takeoff.Scheme {
	profile := func(name string, thick, wide measure.Length) *stock.Profile {
		if h.IntN(4) == 0 {
			return nil
		}
		p := &stock.Profile{Name: name, Thickness: thick, Width: wide, Inside: pick(h, stock.JointCope, stock.JointMiter, stock.JointButt)}
		if h.IntN(2) == 0 {
			p.Lengths = []measure.Length{8 * measure.Foot, 16 * measure.Foot}
		}
		return p
	}
	const eighth = measure.Inch / 8
	s := takeoff.Scheme{
		Base: profile("base", 5*eighth, 42*eighth), Shoe: profile("shoe", 4*eighth, 6*eighth), ChairRail: profile("rail", 6*eighth, 20*eighth),
		PictureRail: profile("picture rail", 6*eighth, 14*eighth), Casing: profile("casing", 6*eighth, 28*eighth), Crown: profile("crown", 5*eighth, 30*eighth),
		Stool: profile("stool", 8*eighth, 36*eighth), Apron: profile("apron", 5*eighth, 28*eighth), Backband: profile("backband", 9*eighth, 5*eighth),
	}
	if s.Casing == nil {
		s.Stool, s.Apron, s.Backband = nil, nil, nil
	}
	for _, p := range []*stock.Profile{s.Casing, s.Stool, s.Apron, s.Backband} {
		if p != nil {
			p.Lengths = nil
		}
	}
	return s
}

// Random rooms, in both sizes: nothing outside, no text upon another, each piece once, to scale, the
// joints of the list.
func TestRandomRooms(t *testing.T) {
	n := uint64(3000)
	if testing.Short() {
		n = 300
	}
	drawn := 0
	for seed := range n {
		h := house{rand.New(rand.NewPCG(seed, 17))}
		r, s := h.room(), h.scheme()
		l, err := takeoff.Take([]takeoff.Room{r}, s, nil)
		if err != nil {
			continue // too narrow for its trim
		}
		drawn++
		findings, err := takeoff.Check([]takeoff.Room{r}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		o := &drawing.Options{Width: []int{drawing.PaperWidth, drawing.PhoneWidth, 320}[seed%3], Findings: findings, Locale: measure.Locale{Metric: seed%5 == 0}}
		for name, draw := range map[string]func(w *bytes.Buffer) error{
			"elevation": func(w *bytes.Buffer) error { return drawing.Elevation(w, r, s, l, o) },
			"plan":      func(w *bytes.Buffer) error { return drawing.Plan(w, r, l, o) },
		} {
			var b, again bytes.Buffer
			if err := errors.Join(draw(&b), draw(&again)); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if !bytes.Equal(b.Bytes(), again.Bytes()) {
				t.Fatalf("seed %d: two different pictures of one room", seed)
			}
			p, err := svgcheck.Check(b.Bytes())
			if err != nil {
				t.Fatalf("seed %d, %s: %v", seed, name, err)
			}
			t.Run(fmt.Sprint(name, " ", seed), func(t *testing.T) {
				if name == "plan" {
					sameJoints(t, p, r, l)
					return
				}
				everyPiece(t, p, r, l)
				toScale(t, p, r, s, l)
			})
		}
	}
	if drawn < int(n)/3 {
		t.Errorf("only %d of %d rooms could be drawn", drawn, n)
	}
}

// With a metric locale no picture has an inch or a foot in it.
func TestMetric(t *testing.T) {
	imperial := regexp.MustCompile(`\d ?(['"]|in\b|ft\b)`)
	for _, name := range []string{"classroom", "shed"} {
		s := load(t, name)
		o := &drawing.Options{Locale: measure.Locale{Metric: true}}
		for what, draw := range map[string]func(w *bytes.Buffer) error{
			"elevation": func(w *bytes.Buffer) error { return drawing.Elevation(w, s.Room, s.Scheme, &s.List, o) },
			"plan":      func(w *bytes.Buffer) error { return drawing.Plan(w, s.Room, &s.List, o) },
			"cope":      func(w *bytes.Buffer) error { return drawing.Joint(w, oak, stock.End{Kind: stock.EndCope}, o) },
			"skirt": func(w *bytes.Buffer) error {
				return drawing.Skirt(w, stair.Flight{Risers: 5, Rise: 180 * measure.Millimeter, Run: 250 * measure.Millimeter}, stair.Skirt{Width: 250 * measure.Millimeter}, o)
			},
			"cornice": func(w *bytes.Buffer) error {
				if name == "shed" {
					return drawing.Plan(w, s.Room, &s.List, o)
				}
				return drawing.BuiltUp(w, s.Scheme, &s.List, "cornice", o)
			},
		} {
			_, p := picture(t, draw)
			if found := imperial.FindString(p.Words() + p.Desc); found != "" {
				t.Errorf("%s of the %s says %q", what, name, found)
			}
		}
	}
}

// Stores the rooms of the schoolhouse with their takeoff, when one is added.
func TestStore(t *testing.T) {
	if !*store {
		t.Skip("the stored rooms stay as they are")
	}
	data, err := os.ReadFile("testdata/schoolhouse.json")
	if err != nil {
		t.Fatal(err)
	}
	var j struct {
		Rooms []takeoff.Room `json:"rooms"`
		Trim  takeoff.Scheme `json:"trim"`
	}
	if err := measure.UnmarshalStrict(data, &j); err != nil {
		t.Fatal(err)
	}
	for _, r := range j.Rooms {
		l, err := takeoff.Take([]takeoff.Room{r}, j.Trim, nil)
		if err != nil {
			t.Fatal(err)
		}
		fs, err := takeoff.Check([]takeoff.Room{r}, j.Trim, nil)
		if err != nil {
			t.Fatal(err)
		}
		s := stored{Room: r, Scheme: j.Trim, List: *l, Findings: fs, Sticks: map[string]string{}}
		for i, p := range l.Pieces {
			s.Sticks[p.Label] = fmt.Sprint("stick P", 1+i/3)
		}
		out, err := json.MarshalIndent(s, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile("testdata/"+strings.ReplaceAll(strings.ReplaceAll(r.Name, "'", ""), " ", "-")+".json", out, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
