package main

import (
	"bytes"
	"context"
	"flag"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

var update = flag.Bool("update", false, "rewrite the recorded output")

// The schoolhouse as its next owner measures it, in millimeters and with decimal commas:
// all that the packages and the program say of it, on the page and on the cut sheets, is
// metric, and the arithmetic is the same.
func TestMetricSchoolhouse(t *testing.T) {
	skipIfShort(t)
	data, err := os.ReadFile("metric.json")
	if err != nil {
		t.Fatal(err)
	}
	j, err := readJob(data)
	if err != nil {
		t.Fatal(err)
	}
	w, err := workOut(j)
	if err != nil {
		t.Fatal(err)
	}
	got := report(w)
	golden := filepath.Join("testdata", "metric.golden")
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("the report changed (-recorded +now); read the difference, then run with -update:\n%s", d)
	}

	texts := map[string]string{"report": got}
	for _, c := range append(w.cuttings(), w.candidates[2].cut) {
		sheet, err := cutsheet.New(context.Background(), c.problem, c.plan, &cutsheet.Options{Title: c.Profile.Name, Locale: j.Locale, Profile: &c.Profile, Unicode: true})
		if err != nil {
			t.Fatal(err)
		}
		var text, page bytes.Buffer
		if sheet.Text(&text) != nil || sheet.HTML(&page) != nil {
			t.Fatal("a buffer refused a sheet")
		}
		texts["text of "+c.Profile.Name] = text.String()
		texts["page of "+c.Profile.Name] = html.UnescapeString(regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(page.String(), "\n"))
	}
	for _, s := range w.chosen.done.Steps {
		texts["reasoning"] += strings.Join(s.Need.Reasoning, "\n") + "\n"
	}
	for _, c := range w.candidates {
		for _, f := range c.list.Findings {
			texts["findings"] += f.Reason + "\n"
		}
	}
	trim, err := takeoff.CheckTrim(j.Rooms, j.scheme(&j.Base[1]), takeoff.Conditions{MaxTransport: 4 * measure.Meter, MinTemp: measure.Celsius(-5), MaxTemp: measure.Celsius(30),
		MinMoisture: 65 * measure.Percent / 10, MaxMoisture: 12 * measure.Percent, Locale: j.Locale})
	if err != nil || len(trim) == 0 {
		t.Fatalf("%v, %v", trim, err)
	}
	for _, f := range trim {
		texts["findings"] += f.Reason + "\n"
	}

	customary := regexp.MustCompile(`[0-9][ -]?(ft|in|yd|gal|qt|pt|fl oz|oz|lb|F)\b|[0-9][ -]?['"′″]|°F|\b(foot|feet|inch|inches|yards?|gallons?|quarts?|ounces?|pounds?)\b`)
	point := regexp.MustCompile(`[0-9]\.([0-9]{1,2}\b|[0-9]{4})`) // three digits are a group
	source := regexp.MustCompile(`(?s)\([^()]*(CFR|[Ss]ource|page|magazine|OSHA|MDF|Code)[^()]*(\([^()]*\)[^()]*)*\)`)
	for name, text := range texts {
		text = strings.NewReplacer(" in stock", " to be had", "m2 in ", "m² in ").Replace(source.ReplaceAllString(text, ""))
		for line := range strings.Lines(text) {
			if bad := customary.FindString(line) + point.FindString(line); bad != "" {
				t.Errorf("%s: %q in %s", name, bad, line)
			}
		}
		if len(text) < 200 {
			t.Errorf("%s: only %q", name, text)
		}
	}
	for _, q := range w.compared.Quotes {
		if q.Unit != measure.Meter {
			t.Errorf("%s is priced per %v", q.Label, q.Unit)
		}
	}
}

// Lines end nowhere between the feet and the inches of a length, however wide they are.
func TestWrapKeepsLengths(t *testing.T) {
	const text = `The east wall is 21' 11-1/2" long, which 12' and 9' 11-1/2" make up; the run from 3' 4" to 11' 3", seen from inside, is short by 1/2".`
	for width := 12; width < len(text)+2; width++ {
		lines := wrap(text, width)
		if got := strings.Join(lines, " "); got != text {
			t.Fatalf("%d wide it became %q", width, got)
		}
		for _, line := range lines {
			if len(line) > width || strings.HasSuffix(line, "'") && !strings.HasSuffix(line, "12'") {
				t.Errorf("%d wide a line is %q", width, line)
			}
		}
	}
}

func TestReport(t *testing.T) {
	skipIfShort(t)
	w, err := builtInWork()
	if err != nil {
		t.Fatal(err)
	}
	got := report(w)
	for i, line := range strings.Split(got, "\n") {
		if len(line) > pageWidth {
			t.Errorf("line %d is %d columns wide: %s", i+1, len(line), line)
		}
		if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r > '~' }) {
			t.Errorf("line %d is not plain ASCII: %q", i+1, line)
		}
	}
	// The sections in the order in which the work is done.
	rest := got
	for _, h := range []string{
		"[1] Cautions", "[2] What the measurements say", "[3] Takeoff", "[4] Sticks to buy", "[5] Cut list", "[6] Left for the rack",
		"[7] Finishing list", "[8] When", "[9] What each base costs installed",
	} {
		_, after, ok := strings.Cut(rest, h)
		if !ok {
			t.Errorf("heading %q is missing or out of order", h)
		}
		rest = after
	}

	golden := filepath.Join("testdata", "report.golden")
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("the report changed (-recorded +now); read the difference, then run with -update:\n%s", d)
	}
}

// skipIfShort leaves the whole job out where it would take minutes, as with the
// race detector; the small job below goes the same way.
func skipIfShort(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("the whole job takes a few seconds")
	}
}

// builtInWork works the built-in job out once for all tests.
var builtInWork = sync.OnceValues(func() (*work, error) {
	j, err := readJob(builtIn)
	if err != nil {
		return nil, err
	}
	return workOut(j)
})

// The job is there to show something: it should not shrink unnoticed.
func TestBuiltInJobIsAWholeJob(t *testing.T) {
	j, err := readJob(builtIn)
	if err != nil {
		t.Fatal(err)
	}
	walls, openings, oblique := 0, 0, 0
	for _, r := range j.Rooms {
		walls += len(r.Walls)
		for _, w := range r.Walls {
			openings += len(w.Openings)
			if w.Corner.Angle != 0 {
				oblique++
			}
		}
	}
	limited := 0
	for _, m := range j.materials() {
		for _, s := range m.Sticks {
			if s.Limit > 0 {
				limited++
			}
		}
	}
	lengths := map[string]bool{}
	for _, m := range j.Base {
		var b strings.Builder
		for _, s := range m.Sticks {
			b.WriteString(s.Label + " ")
		}
		lengths[b.String()] = true
	}
	for _, c := range []struct {
		what      string
		got, want int
	}{
		{"rooms", len(j.Rooms), 4},
		{"walls", walls, 40},
		{"openings", openings, 12},
		{"corners that are not square", oblique, 4},
		{"profiles", len(j.materials()) - len(j.Base) + 1, 7},
		{"ways to case an opening", len(j.Styles), 2},
		{"base materials", len(j.Base), 3},
		{"sets of base lengths", len(lengths), 3},
		{"lengths in short supply", limited, 1},
		{"offcuts on the rack", len(j.Rack.Offcuts), 1},
	} {
		if c.got < c.want {
			t.Errorf("%d %s, want at least %d", c.got, c.what, c.want)
		}
	}
}

// What is cut, taken together, is what was taken off, and every plan holds
// against the checker.
func TestPlansCutTheTakeoff(t *testing.T) {
	skipIfShort(t)
	w, err := builtInWork()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range w.candidates {
		for _, cut := range append([]*cutting{c.cut}, c.others...) {
			if err := optimize.Check(context.Background(), cut.problem, cut.plan); err != nil {
				t.Errorf("%s: %v", cut.Profile.Name, err)
			}
			if !cut.plan.Proven {
				t.Errorf("%s: not proven, cost %d, bound %d", cut.Profile.Name, cut.plan.Cost, cut.plan.Bound)
			}
			var planned []stock.Piece
			count := make([]int, len(cut.problem.Pieces))
			for _, pat := range cut.plan.Patterns {
				for _, i := range pat.Pieces {
					count[i] += pat.Count
				}
			}
			for i, n := range count {
				if n != max(1, cut.problem.Pieces[i].Quantity) {
					t.Errorf("%s: piece %q is cut %d times", cut.Profile.Name, cut.problem.Pieces[i].Label, n)
				}
				planned = append(planned, cut.problem.Pieces[i])
			}
			if d := cmp.Diff(c.list.PiecesOf(cut.Profile.Name), planned); d != "" {
				t.Errorf("%s: pieces (-taken off +planned):\n%s", cut.Profile.Name, d)
			}
		}
	}
	// The scarce length was used up: it matters that it is scarce.
	pine := w.candidates[0].cut
	for k, s := range pine.problem.Sticks {
		if s.Limit == 0 || s.Rack {
			continue
		}
		used := 0
		for _, pat := range pine.plan.Patterns {
			if pat.Stick == k {
				used += pat.Count
			}
		}
		if used != s.Limit {
			t.Errorf("%d of %d scarce sticks used", used, s.Limit)
		}
	}
}

// What may hurt is said before anything that has to be done, and each caution once.
func TestCautionsComeFirst(t *testing.T) {
	code, stdout, stderr := runJob(t, smallJob)
	if code != 0 {
		t.Fatal(stderr)
	}
	cautions, work := strings.Index(stdout, "[1] Cautions"), strings.Index(stdout, "[2] ")
	if cautions < 0 || work < cautions {
		t.Fatalf("cautions at %d, the rest at %d", cautions, work)
	}
	for _, want := range []string{"29 CFR 1926.62)", "never minor repair", "full sequential trigger", "Ventilate"} {
		at := strings.Index(strings.Join(strings.Fields(stdout[:work]), " "), want)
		if at < 0 || strings.Count(strings.Join(strings.Fields(stdout), " "), want) != 1 {
			t.Errorf("%q is at %d of the cautions", want, at)
		}
	}
}

// A wage that was meant in dollars does not pass in silence.
func TestWageInDollarsIsFound(t *testing.T) {
	code, stdout, stderr := runJob(t, strings.Replace(smallJob, `"wage": 5000`, `"wage": 50`, 1))
	if code != 0 || !strings.Contains(strings.Join(strings.Fields(stdout), " "), "terms.wage is 50: money is in cents") {
		t.Errorf("exit code %d, stderr %q, and nothing about the wage", code, stderr)
	}
}

// The materials of the built-in job make sense beside each other: what is grouted has
// joints, what comes primed is not primed whole, and nothing is sanded between coats
// before the first.
func TestBuiltInFinishing(t *testing.T) {
	skipIfShort(t)
	w, err := builtInWork()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range w.candidates {
		p := c.cut.Profile
		for k, s := range c.done.Steps {
			if s.Job != p.Name {
				continue
			}
			if s.Task == finish.TaskGrout && (p.StripJoint == 0 || s.Need.Net.IsZero()) {
				t.Errorf("%s: grout for joints of %s", p.Name, p.StripJoint)
			}
			if s.Task == finish.TaskPrime && c.cut.Preprimed {
				full := finish.AmountOf(must(c.cut.totals.Net.Area(p.Developed(), measure.RoundUp)))
				if n, ok := s.Need.Net.Cmp(full); !ok || n >= 0 || s.Coats > 1 {
					t.Errorf("%s: comes primed and is primed with %v in %d coats, all of it is %v", p.Name, s.Need.Net, s.Coats, full)
				}
			}
			if strings.Contains(s.Step, "between coats") {
				before := 0
				for _, o := range c.done.Steps[:k] {
					if o.Job == s.Job && o.Task == finish.TaskPaint {
						before++
					}
				}
				if before == 0 {
					t.Errorf("%s: %q before the first coat", p.Name, s.Step)
				}
			}
		}
		if strings.Contains(p.Material, "raw") == c.cut.Preprimed && !p.ButtSpliced {
			t.Errorf("%s: %s, primed in the factory: %v", p.Name, p.Material, c.cut.Preprimed)
		}
	}
	if p := w.candidates[2].cut.Profile; !p.ButtSpliced || p.StripJoint == 0 {
		t.Errorf("%s has joints of %s", p.Name, p.StripJoint)
	}
}

// The caulk of the built-in job with the pine base, from the runs on the walls: the
// top of the base, both edges of casing and crown, and up every corner and splice; an
// eighth of an inch square, 15 % waste.
func TestCaulkFromTheWalls(t *testing.T) {
	skipIfShort(t)
	w, err := builtInWork()
	if err != nil {
		t.Fatal(err)
	}
	c := w.candidates[0]
	var bead float64 // inches
	for _, cut := range append([]*cutting{c.cut}, c.others...) {
		edges := map[stock.Role]float64{stock.RoleBase: 1, stock.RoleCasing: 2, stock.RoleCrown: 2, stock.RoleFillet: 1, stock.RoleFrieze: 1, stock.RoleCap: 1, stock.RolePanelMold: 2, stock.RoleSkirt: 1}
		joints := 0.0
		for _, r := range c.list.Runs {
			if r.Profile != cut.Profile.Name {
				continue
			}
			bead += edges[r.Role] * r.Net.Feet() * 12
			for _, e := range []stock.End{r.Left, r.Right} {
				if e.Kind == stock.EndFlatMiter { // the edge at the jamb is shorter by the width
					bead -= cut.Profile.Width.Feet() * 12
				}
			}
			joints += float64(len(r.Splices))
			for _, e := range []stock.End{r.Left, r.Right} {
				switch e.Kind {
				case stock.EndCope, stock.EndButt: // the other end in the corner is square
					joints++
				case stock.EndOutsideMiter, stock.EndInsideMiter, stock.EndFlatMiter: // so is the other end
					joints += 0.5
				}
			}
		}
		bead += joints * cut.Profile.Width.Feet() * 12
	}
	for _, b := range c.done.Purchases {
		if b.Material != "caulk" {
			continue
		}
		v, _ := b.Need.Volume()
		if got, want := v.CubicInches(), bead/64*1.15; got < want*0.9999 || got > want*1.0001 {
			t.Errorf("caulk for %v cubic inches, from the walls %v", got, want)
		}
		return
	}
	t.Error("no caulk")
}

// The bead of any room, from its walls alone: the top of the base, which stops at the
// casings, wall and ceiling edge of the crown, and up every corner; of a casing its edges
// at jamb and wall, which its miters make of different length.
func TestCaulkOfAnyRoom(t *testing.T) {
	const reveal = 3 * measure.Inch / 16 // the usual one
	rapid.Check(t, func(t *rapid.T) {
		inch := func(name string, low, high int64) measure.Length {
			return measure.Length(rapid.Int64Range(low, high).Draw(t, name)) * measure.Inch
		}
		// A room with one corner cut out of it.
		long, wide := inch("long", 160, 300), inch("wide", 160, 300)
		cutLong, cutWide := inch("cut long", 30, 60), inch("cut wide", 30, 60)
		walls := []takeoff.Wall{
			{Name: "N", Length: long}, {Name: "E", Length: wide - cutWide}, {Name: "cut S", Length: cutLong, Corner: takeoff.Corner{Kind: takeoff.CornerOutside}},
			{Name: "cut W", Length: cutWide}, {Name: "S", Length: long - cutLong}, {Name: "W", Length: wide},
		}
		width := inch("casing", 2, 5)
		around := 2 * (long + wide)
		top := around
		var jamb, wall measure.Length // edges of the casings
		for _, i := range []int{0, 5} {
			if !rapid.Bool().Draw(t, "door") {
				continue
			}
			d, high := inch("door", 28, 42), inch("high", 78, 84)
			walls[i].Openings = []takeoff.Opening{{Kind: takeoff.OpeningDoor, At: inch("at", 40, 60), Width: d, Height: high}}
			top -= d + 2*reveal + 2*width
			jamb += 2*(high+reveal) + d + 2*reveal
			wall += 2*(high+reveal+width) + d + 2*reveal + 2*width
		}
		m := func(name string, use stock.Role, w measure.Length) *material {
			return &material{Profile: stock.Profile{Name: name, Role: use, Thickness: measure.Inch / 2, Width: w}}
		}
		j := &job{Rooms: []takeoff.Room{{Name: "room", Height: 10 * measure.Foot, Walls: walls}},
			Base: []material{*m("base", stock.RoleBase, 5*measure.Inch)}, Casing: m("casing", stock.RoleCasing, width), Crown: m("crown", stock.RoleCrown, 4*measure.Inch)}
		list, err := takeOff(j, &j.Base[0])
		if err != nil {
			t.Fatal(err)
		}
		bead := func(m *material) float64 { // inches
			c := &cutting{material: m, totals: list.TotalsOf(m.Profile.Name)}
			l, err := finish.NewList([]finish.Work{{Job: c.finishJob(j), System: finish.System{Steps: []finish.Step{{Task: finish.TaskCaulk}}}}}, finish.Shelf{Products: []finish.Product{
				{Label: "caulk", Material: "caulk", Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon)}}}}})
			if err != nil {
				t.Fatal(err)
			}
			v, _ := l.Steps[0].Need.Net.Volume()
			return v.CubicInches() * 64
		}
		inches := func(l measure.Length) float64 { return l.Feet() * 12 }
		near := func(what string, got, low, high float64) {
			if got < low-0.01 || got > high+0.01 {
				t.Fatalf("bead of the %s %v in, want %v to %v", what, got, low, high)
			}
		}
		b := inches(top) + 6*5
		near("base", bead(&j.Base[0]), b, b)
		c := inches(2*around) + 6*4
		near("crown", bead(j.Crown), c, c)
		miters := float64(2*len(list.PiecesOf("casing"))/3) * inches(width)
		near("casing", bead(j.Casing), inches(jamb+wall)+miters, inches(jamb+wall)+miters)
	})
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// runJob runs the program on a file with the given text.
func runJob(t *testing.T, text string) (code int, stdout, stderr string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "job.json")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	code = run([]string{"-job", file}, &out, &errs)
	return code, out.String(), errs.String()
}

// smallJob is a closet: quick to run, with every part of a job file.
const smallJob = `{
	"name": "closet",
	"rooms": [{"name": "closet", "walls": [
		{"name": "N", "length": "6ft"},
		{"name": "E", "length": "4ft"},
		{"name": "S", "length": "6ft", "openings": [{"kind": "door", "at": "20in", "width": "30in"}]},
		{"name": "W", "length": "4ft"}]}],
	"kerf": "1/8in",
	"base": [{"profile": {"name": "base", "thickness": "9/16in", "width": "5in"}, "sticks": [{"length": "12ft", "price": 1500}], "system": "plain"}],
	"casing": {"profile": {"name": "casing", "thickness": "11/16in", "width": "3in"}, "sticks": [{"length": "8ft", "price": 900}], "system": "plain"},
	"rack": {"keep": "1ft", "offcuts": [{"profile": "base", "length": "50in", "count": 2}]},
	"systems": [{"label": "plain", "steps": [{"task": "install"}, {"task": "paint", "coats": 2}]}],
	"shelf": {"products": [
		{"label": "brads", "material": "nails", "packages": [{"size": "500 ct", "price": 700}]},
		{"label": "enamel", "material": "paint", "packages": [{"size": "1 qt", "price": 2200}]}]},
	"terms": {"wage": 5000},
	"year": 1926,
	"removed": [{"room": "closet", "length": "10ft", "girth": "7in"}]
}`

func TestAnotherJob(t *testing.T) {
	code, stdout, stderr := runJob(t, smallJob)
	if code != 0 || stderr != "" {
		t.Fatalf("exit code %d, stderr %q", code, stderr)
	}
	for _, want := range []string{"1 room, 4 walls, 1 opening; 20' of wall", "proven: no plan costs less", "off the rack", "This report is for base"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("the report does not say %q:\n%s", want, stdout)
		}
	}
}

func TestBadFiles(t *testing.T) {
	for _, c := range []struct {
		name     string
		old, new string // what of smallJob is replaced; all of it where old is empty
		want     string // field and value
	}{
		{"empty", "", "", `the file is "": want a JSON value`},
		{"not JSON", "", "walls: 4", `the file is "walls: 4": want JSON on line 1`},
		{"broken off", "", smallJob[:len(smallJob)-1], "line 18 breaks off"},
		{"another value", "", "[1]", `the file is "[1]": want an object`},
		{"trailing", "", smallJob + "\n{}", `the file is "{}": want the end after the JSON value`},
		{"unknown field", `"kerf"`, `"curve"`, `curve is "1/8in": want one of the names here: name, locale, rooms`},
		{"unknown field below", `"wage": 5000`, `"wages": 5000`, `terms.wages is "5000": want one of the names here: wage`},
		{"case counts", `"kerf"`, `"Kerf"`, `Kerf is "1/8in": want`},
		{"twice", `"year": 1926`, `"year": 1926, "year": 1927`, `year is "1927": want a name that stands here once`},
		{"null", `"name": "closet", "walls"`, `"name": null, "walls"`, "rooms[0].name is"},
		{"not a length", `"length": "4ft"}`, `"length": "4 feat"}`, `rooms[0].walls[1].length is "4 feat"`},
		{"number for length", `"length": "4ft"}`, `"length": 48}`, `rooms[0].walls[1].length is "48": want a length in quotes`},
		{"NaN", `"kerf": "1/8in"`, `"kerf": "NaN"`, `kerf is "NaN"`},
		{"infinite", `"kerf": "1/8in"`, `"kerf": "1e999in"`, `kerf is "1e999in"`},
		{"text for number", `"price": 1500`, `"price": "15.00"`, `base[0].sticks[0].price is "15.00": want a whole number`},
		{"fraction of a cent", `"price": 1500`, `"price": 15.5`, `base[0].sticks[0].price is "15.5": want a whole number`},
		{"money beyond int64", `"price": 1500`, `"price": 9223372036854775808`, `base[0].sticks[0].price is "9223372036854775808"`},
		{"sum beyond int64", `"price": 1500`, `"price": 9223372036854775807`, "9223372036854775807"},
		{"negative price", `"price": 1500`, `"price": -1`, "base[0].sticks[0].price is -1"},
		{"negative limit", `"price": 1500`, `"price": 1500, "limit": -2`, "base[0].sticks[0].limit is -2"},
		{"negative kerf", `"kerf": "1/8in"`, `"kerf": "-1/8in"`, `kerf is -1/8"`},
		{"no rooms", `"rooms": [`, `"rooms": [], "rooms": [`, "rooms is"},
		{"zero wall", `"length": "4ft"}`, `"length": "0in"}`, `rooms[0].walls[1].length is 0"`},
		{"negative wall", `"length": "4ft"}`, `"length": "-4ft"}`, `rooms[0].walls[1].length is -4'`},
		{"list for object", `"rooms": [{`, `"rooms": [[], {`, `rooms[0] is "[]": want an object`},
		{"object for list", `"steps": [{"task": "install"}, {"task": "paint", "coats": 2}]`, `"steps": {}`, `systems[0].steps is "{}": want a list`},
		{"opening beyond wall", `"at": "20in"`, `"at": "60in"`, "rooms[0].walls[2].openings[0] is 5' + 2' 6\""},
		{"kind of opening", `"kind": "door"`, `"kind": "gate"`, `rooms[0].walls[2].openings[0].kind is "gate"`},
		{"two walls, one name", `"name": "E"`, `"name": "N"`, "rooms[0].walls[1].name is N"},
		{"no thickness", `"thickness": "9/16in", `, ``, "base[0].profile.thickness is 0\""},
		{"casing thickness", `"thickness": "11/16in"`, `"thickness": "-1in"`, `casing.profile.thickness is -1"`},
		{"no sticks", `"sticks": [{"length": "8ft", "price": 900}]`, `"sticks": []`, "casing.sticks is empty"},
		{"profile twice", `"name": "casing"`, `"name": "base"`, `casing.profile.name is "base"`},
		{"rack without profile", `"profile": "base", "length": "50in"`, `"profile": "bass", "length": "50in"`, `rack.offcuts[0].profile is "bass"`},
		{"rack length", `"length": "50in"`, `"length": "-50in"`, `rack.offcuts[0].length is -4' 2"`},
		{"chosen", `"year": 1926`, `"choose": "slate", "year": 1926`, `choose is "slate"`},
		{"no such system", `"system": "plain"}],`, `"system": "fancy"}],`, `base[0].system is "fancy"`},
		{"task", `"task": "install"`, `"task": "glaze"`, `systems[0].steps[0].task is "glaze"`},
		{"coats", `"coats": 2`, `"coats": -2`, "systems[0].steps[1].coats is \"-2\""},
		{"no product", `"material": "nails"`, `"material": "screws"`, `shelf.products is without "nails"`},
		{"package size", `"size": "500 ct"`, `"size": "0 ct"`, `shelf.products[0].packages[0].size is "0`},
		{"package price", `"price": 2200`, `"price": -5`, `shelf.products[1].packages[0].price is "-5"`},
		{"wage", `"wage": 5000`, `"wage": -1`, `terms.wage is "-1"`},
		{"year", `"year": 1926`, `"year": -1`, `year is "-1"`},
		{"girth", `"girth": "7in"`, `"girth": "-7in"`, "removed[0].girth is"},
		{"crews", `"year": 1926`, `"site": {"start": "2027-06-07T08:00:00Z", "crews": [{"size": -1}]}, "year": 1926`, `site.crews[0].size is "-1"`},
		{"no start", `"year": 1926`, `"site": {"crews": [{}, {}]}, "year": 1926`, "site.start is"},
		{"start", `"year": 1926`, `"site": {"start": "Monday"}, "year": 1926`, `site.start is "Monday"`},
		{"style", `"kind": "door"`, `"kind": "door", "style": "gothic"`, `rooms[0].walls[2].openings[0].style is gothic`},
		{"trim of a style", `"year": 1926`, `"casing_styles": [{"name": "a", "joint": "butt", "head": [{"profile": {"name": "cornice"}}]}], "year": 1926`, `casing_styles[0].head[0].profile.name is "cornice": want the name of`},
		{"overhang of a style", `"year": 1926`, `"casing_styles": [{"name": "a", "joint": "butt", "head": [{"overhang": "-1in"}]}], "year": 1926`, `casing_styles[0].head[0].overhang is -1"`},
		{"habits", `"year": 1926`, `"habits": {"bevel": "95"}, "year": 1926`, "habits.bevel is 95"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := c.new
			if c.old != "" {
				if text = strings.Replace(smallJob, c.old, c.new, 1); text == smallJob {
					t.Fatalf("%q is not in the job", c.old)
				}
			}
			code, stdout, stderr := runJob(t, text)
			if code != 2 || stdout != "" {
				t.Errorf("exit code %d, want 2; stdout %q", code, stdout)
			}
			if strings.Count(stderr, "\n") != 1 || !strings.Contains(stderr, c.want) {
				t.Errorf("stderr is %q, want one line with %q", stderr, c.want)
			}
		})
	}
}

// A job that makes sense but cannot be done is told from a bad file.
func TestJobsThatCannotBeDone(t *testing.T) {
	for _, c := range []struct {
		name    string
		replace []string
		want    string
	}{
		{"supply", []string{`"price": 900`, `"price": 900, "limit": 1`}, "short by"},
		{"run", []string{`{"length": "8ft", "price": 900}`, `{"length": "5ft", "price": 900}`}, "closet S door casing leg left"},
		{"splice", []string{`{"length": "12ft", "price": 1500}`, `{"length": "18in", "price": 500}`}, "no splice"},
	} {
		text := strings.NewReplacer(c.replace...).Replace(smallJob)
		code, stdout, stderr := runJob(t, text)
		if code != 1 || stdout != "" || strings.Count(stderr, "\n") != 1 || !strings.Contains(stderr, c.want) {
			t.Errorf("%s: exit code %d, stdout %q, stderr %q, want 1 and one line with %q", c.name, code, stdout, stderr, c.want)
		}
	}
}

// Everything that is wrong with a file is said at once, each fault with its place.
func TestAllFaultsOfAFile(t *testing.T) {
	for _, c := range []struct{ replace, want []string }{
		{[]string{`"at": "20in"`, `"at": "60in"`, `"thickness": "11/16in"`, `"thickness": "-1in"`, `"year": 1926`, `"habits": {"bevel": "95"}, "year": 1926`},
			[]string{"rooms[0].walls[2].openings[0] is", "casing.profile.thickness is", "habits.bevel is"}},
		{[]string{`"wage": 5000`, `"wage": -1`, `"coats": 2`, `"coats": "two"`}, []string{"systems[0].steps[1].coats is"}},
		{[]string{`"material": "nails"`, `"material": "screws"`, `"size": "500 ct"`, `"size": "0 ct"`, `"price": 2200`, `"price": -5`},
			[]string{"shelf.products[0].packages[0].size is", "shelf.products[1].packages[0].price is"}},
	} {
		code, stdout, stderr := runJob(t, strings.NewReplacer(c.replace...).Replace(smallJob))
		at := -1
		for _, want := range c.want {
			next := strings.Index(stderr, want)
			if next <= at {
				t.Errorf("stderr is %q, want %q after byte %d", stderr, want, at)
			}
			at = next
		}
		if code != 2 || stdout != "" || strings.Count(stderr, "\n") != 1 {
			t.Errorf("exit code %d, stdout %q, stderr %q, want 2 and one line", code, stdout, stderr)
		}
	}
}

func TestCommandLine(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"-job", filepath.Join(t.TempDir(), "none.json")}, 2, "none.json"},
		{[]string{"-job", t.TempDir()}, 2, "director"},
		{[]string{"extra"}, 2, `argument is "extra"`},
		{[]string{"-unknown"}, 2, "-unknown"},
		{[]string{"-h"}, 0, "-job FILE"},
	} {
		var stdout, stderr bytes.Buffer
		if code := run(c.args, &stdout, &stderr); code != c.code || !strings.Contains(stderr.String(), c.want) {
			t.Errorf("%q: exit code %d, stderr %q; want %d and %q", c.args, code, stderr.String(), c.code, c.want)
		}
	}
}
