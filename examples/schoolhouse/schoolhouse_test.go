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
	"example.com/longpoint/finish/estimate"
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
	v, err := worked(data)
	if err != nil {
		t.Fatal(err)
	}
	got := report(v, pageWidth)
	checkGolden(t, "metric.golden", got)

	texts := map[string]string{"report": got}
	ways := []*estimate.Estimate{v.planned}
	for _, o := range v.planned.Variants {
		ways = append(ways, o.Estimate)
	}
	for _, e := range ways {
		for _, c := range e.Plans {
			sheet, err := cutsheet.New(context.Background(), c.Problem, c.Plan, &cutsheet.Options{Title: c.Profile, Locale: e.Job.Locale, Unicode: true})
			if err != nil {
				t.Fatal(err)
			}
			var text, page bytes.Buffer
			if sheet.WriteText(&text) != nil || sheet.WriteHTML(&page) != nil {
				t.Fatal("a buffer rejected a sheet")
			}
			texts["text of "+c.Profile] = text.String()
			texts["page of "+c.Profile] = plain(page.String())
		}
		for _, s := range e.Finish.Steps {
			texts["reasoning"] += strings.Join(s.Need.Reasoning, "\n") + "\n"
		}
		for _, f := range e.Findings {
			texts["findings"] += f.Reason + "\n"
		}
		for _, c := range e.Costs {
			texts["costs"] += c.Label + ", " + c.Step + "\n"
		}
		var proposal, days bytes.Buffer
		if err := e.Proposal().WriteText(&proposal, 80); err != nil {
			t.Fatal(err)
		}
		texts["proposal"] += proposal.String()
		if d := e.DaySheets(); d != nil {
			if err := d.WriteText(&days, 80); err != nil {
				t.Fatal(err)
			}
			texts["day sheets"] += days.String()
		}
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
}

// plain returns the text of a page.
func plain(page string) string {
	return html.UnescapeString(regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(page, "\n"))
}

// checkGolden compares a report with the recorded one.
func checkGolden(t *testing.T, name, got string) {
	t.Helper()
	golden := filepath.Join("testdata", name)
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
	v, err := builtInWork()
	if err != nil {
		t.Fatal(err)
	}
	got := report(v, pageWidth)
	for i, line := range strings.Split(got, "\n") {
		if len(line) > pageWidth {
			t.Errorf("line %d is %d columns wide: %s", i+1, len(line), line)
		}
		if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r > '~' }) {
			t.Errorf("line %d is not plain ASCII: %q", i+1, line)
		}
	}
	// The sections in the order in which they are needed.
	rest := got
	for _, h := range []string{
		"[1] Cautions", "[2] Measurements to check", "[3] Alternatives", "[4] Orders", "[5] Takeoff", "[6] Cut list",
		"[7] Hours: tear-out and installation", "[8] Hours: finishing", "[9] Schedule", "[10] Costs",
	} {
		_, after, ok := strings.Cut(rest, h)
		if !ok {
			t.Errorf("heading %q is missing or out of order", h)
		}
		rest = after
	}
	checkGolden(t, "report.golden", got)
}

// skipIfShort skips the whole job if it would take minutes, as with the race detector; the small job
// below takes the same path.
func skipIfShort(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("the whole job takes a few seconds")
	}
}

// worked works a job out and takes the cheapest way.
func worked(data []byte) (*view, error) {
	var j estimate.Job
	if err := measure.UnmarshalStrict(data, &j); err != nil {
		return nil, err
	}
	e, err := estimate.New(context.Background(), j, nil)
	if err != nil {
		return nil, err
	}
	return choose(e, "")
}

// builtInWork works the built-in job out once for all tests.
var builtInWork = sync.OnceValues(func() (*view, error) { return worked(builtIn) })

// The job is a demonstration: it should not shrink unnoticed.
func TestBuiltInJobIsAWholeJob(t *testing.T) {
	var j estimate.Job
	if err := measure.UnmarshalStrict(builtIn, &j); err != nil {
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
	limited, suppliers := 0, map[string]bool{}
	for _, m := range j.Materials {
		for _, s := range m.Sticks {
			if s.Limit > 0 {
				limited++
			}
			suppliers[s.Supplier] = true
		}
	}
	for _, c := range []struct {
		what      string
		got, want int
	}{
		{"rooms", len(j.Rooms), 4},
		{"walls", walls, 40},
		{"openings", openings, 12},
		{"corners that are not square", oblique, 4},
		{"profiles", len(j.Materials) - len(j.Variants), 7},
		{"ways to case an opening", len(j.Trim.CasingStyles), 2},
		{"ways to do the job", 1 + len(j.Variants), 3},
		{"lengths in short supply", limited, 1},
		{"suppliers", len(suppliers), 2},
		{"offcuts on the rack", len(j.Rack.Offcuts), 1},
		{"crews", len(j.Calendar.Crews), 2},
		{"parts that come off", len(j.TearOut.Parts), 2},
	} {
		if c.got < c.want {
			t.Errorf("%d %s, want at least %d", c.got, c.what, c.want)
		}
	}
}

// The cut pieces together are the takeoff, and the checker accepts every plan.
func TestPlansCutTheTakeoff(t *testing.T) {
	skipIfShort(t)
	v, err := builtInWork()
	if err != nil {
		t.Fatal(err)
	}
	ways := []*estimate.Estimate{v.planned}
	for _, o := range v.planned.Variants {
		ways = append(ways, o.Estimate)
	}
	for _, e := range ways {
		for _, c := range e.Plans {
			if err := optimize.Check(context.Background(), c.Problem, c.Plan); err != nil {
				t.Errorf("%s: %v", c.Profile, err)
			}
			if !c.Plan.Proven {
				t.Errorf("%s: not proven, cost %d, bound %d", c.Profile, c.Plan.Cost, c.Plan.Bound)
			}
			if d := cmp.Diff(e.Takeoff.PiecesOf(c.Profile), c.Problem.Pieces); d != "" {
				t.Errorf("%s: pieces (-taken off +planned):\n%s", c.Profile, d)
			}
		}
	}
	// The scarce length was used up: it matters that it is scarce.
	pine := v.planned.Plans[0]
	for k, s := range pine.Problem.Sticks {
		if s.Limit == 0 || s.Rack {
			continue
		}
		used := 0
		for _, pat := range pine.Plan.Patterns {
			if pat.Stick == k {
				used += pat.Count
			}
		}
		if used != s.Limit {
			t.Errorf("%d of %d scarce sticks used", used, s.Limit)
		}
	}
}

// Cautions come before the work, each once.
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
		t.Errorf("exit code %d, stderr %q, and no message about the wage", code, stderr)
	}
}

// The caulk of the built-in job with the pine base, from the runs on the walls: the
// top of the base, both edges of casing and crown, and up every corner and splice; a
// fillet with legs of 3/32 in, 15 % waste.
func TestCaulkFromTheWalls(t *testing.T) {
	skipIfShort(t)
	v, err := builtInWork()
	if err != nil {
		t.Fatal(err)
	}
	e := v.planned
	var bead float64 // inches
	for _, total := range e.Takeoff.Totals {
		width := materialOf(e, total.Profile).Profile.Width.Feet() * 12
		edges := map[stock.Role]float64{stock.RoleBase: 1, stock.RoleCasing: 2, stock.RoleCrown: 2, stock.RoleFillet: 1, stock.RoleFrieze: 1, stock.RoleCap: 1, stock.RolePanelMold: 2, stock.RoleSkirt: 1}
		joints := 0.0
		for _, r := range e.Takeoff.Runs {
			if r.Profile != total.Profile {
				continue
			}
			bead += edges[r.Role] * r.Net.Feet() * 12
			for _, e := range []stock.End{r.Left, r.Right} {
				if e.Kind == stock.EndFlatMiter { // the edge at the jamb is shorter by the width
					bead -= width
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
		bead += joints * width
	}
	for _, b := range e.Finish.Purchases {
		if b.Material != "caulk" {
			continue
		}
		v, _ := b.Need.Volume()
		if got, want := v.CubicInches(), bead*9/2048*1.15; got < want*0.9999 || got > want*1.0001 {
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
		p := func(name string, w measure.Length) *stock.Profile {
			return &stock.Profile{Name: name, Thickness: measure.Inch / 2, Width: w}
		}
		scheme := takeoff.Scheme{Base: p("base", 5*measure.Inch), Casing: p("casing", width), Crown: p("crown", 4*measure.Inch)}
		list, err := takeoff.Take([]takeoff.Room{{Name: "room", Height: 10 * measure.Foot, Walls: walls}}, scheme, nil)
		if err != nil {
			t.Fatal(err)
		}
		bead := func(p *stock.Profile) float64 { // inches
			l, err := finish.NewList([]finish.Work{{Job: estimate.FinishJob(list.TotalsOf(p.Name), *p), System: finish.System{Steps: []finish.Step{{Task: finish.TaskCaulk}}}}}, finish.Shelf{Products: []finish.Product{
				{Label: "caulk", Material: "caulk", Packages: []finish.Package{{Size: finish.AmountOf(measure.Gallon)}}}}})
			if err != nil {
				t.Fatal(err)
			}
			v, _ := l.Steps[0].Need.Net.Volume()
			return v.CubicInches() * 2048 / 9 // of the default fillet, legs of 3/32 in
		}
		inches := func(l measure.Length) float64 { return l.Feet() * 12 }
		near := func(what string, got, low, high float64) {
			if got < low-0.01 || got > high+0.01 {
				t.Fatalf("bead of the %s %v in, want %v to %v", what, got, low, high)
			}
		}
		b := inches(top) + 6*5
		near("base", bead(scheme.Base), b, b)
		c := inches(2*around) + 6*4
		near("crown", bead(scheme.Crown), c, c)
		miters := float64(2*len(list.PiecesOf("casing"))/3) * inches(width)
		near("casing", bead(scheme.Casing), inches(jamb+wall)+miters, inches(jamb+wall)+miters)
	})
}

// materialOf returns the material of a profile.
func materialOf(e *estimate.Estimate, profile string) estimate.Material {
	for _, m := range e.Job.Materials {
		if m.Profile.Name == profile {
			return m
		}
	}
	return estimate.Material{}
}

// runJob runs the program on a file with the given text.
func runJob(t *testing.T, text string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "job.json")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	code = run(append([]string{"-job", file}, args...), &out, &errs)
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
	"trim": {"base": {"name": "base"}, "casing": {"name": "casing"}},
	"materials": [
		{"profile": {"name": "base", "thickness": "9/16in", "width": "5in"}, "sticks": [{"length": "12ft", "price": 1500}], "system": "plain"},
		{"profile": {"name": "casing", "thickness": "11/16in", "width": "3in"}, "sticks": [{"length": "8ft", "price": 900}], "system": "plain"}],
	"kerf": "1/8in",
	"rack": {"keep": "1ft", "offcuts": [{"profile": "base", "length": "50in", "count": 2}]},
	"systems": [{"label": "plain", "steps": [{"task": "install"}, {"task": "prime"}, {"task": "paint", "coats": 2}]}],
	"shelf": {"products": [
		{"label": "brads", "material": "nails", "packages": [{"size": "500 ct", "price": 700}]},
		{"label": "primer", "material": "primer", "packages": [{"size": "1 qt", "price": 1400}]},
		{"label": "enamel", "material": "paint", "packages": [{"size": "1 qt", "price": 2200}]},
		{"label": "sheeting", "material": "plastic sheeting", "packages": [{"size": "500 ft2", "price": 4000}]},
		{"label": "sheeting tape", "material": "sheeting tape", "packages": [{"size": "60 yd", "price": 900}]},
		{"label": "bags", "material": "heavy-duty bags", "packages": [{"size": "20 ct", "price": 3000}]},
		{"label": "signs", "material": "warning signs", "packages": [{"size": "1 ct", "price": 300}]},
		{"label": "cloths", "material": "wet cloths", "packages": [{"size": "40 ct", "price": 1200}]}]},
	"terms": {"wage": 5000},
	"building": {"year": 1926},
	"tear_out": {"rooms": [{"name": "closet", "length": "6ft", "width": "4ft"}],
		"parts": [{"room": "closet", "length": "10ft", "thickness": "3/4in", "width": "7in", "girth": "7in", "method": "pry"}]}
}`

// Without a calendar there are no days, and no empty sheet.
func TestNoDays(t *testing.T) {
	var out bytes.Buffer
	if err := write(&out, []byte(smallJob), "", "days"); err == nil || !strings.Contains(err.Error(), "calendar") || out.Len() > 0 {
		t.Errorf("%v, %q", err, out.String())
	}
	if err := write(&out, builtIn, "", "proposal"); err != nil || !strings.Contains(out.String(), "Start       Monday, June 7, 2027") {
		t.Errorf("%v: the day that work begins is missing", err)
	}
}

func TestAnotherJob(t *testing.T) {
	code, stdout, stderr := runJob(t, smallJob)
	if code != 0 || stderr != "" {
		t.Fatalf("exit code %d, stderr %q", code, stderr)
	}
	for _, want := range []string{"1 room, 4 walls, 1 opening; 20' of wall", "proven: no plan costs less", "off the rack", "This report is for as planned"} {
		if !strings.Contains(strings.Join(strings.Fields(stdout), " "), want) {
			t.Errorf("the report does not say %q:\n%s", want, stdout)
		}
	}
}

func TestBadFiles(t *testing.T) {
	for _, c := range []struct {
		name     string
		old, new string // the part of smallJob to replace; all of it if old is empty
		want     string // field and value
	}{
		{"empty", "", "", `value is "", want a JSON value`},
		{"not JSON", "", "walls: 4", `value is "walls: 4", want JSON on line 1`},
		{"broken off", "", smallJob[:len(smallJob)-1], "line 27 breaks off"},
		{"another value", "", "[1]", `value is "[1]", want an object`},
		{"trailing", "", smallJob + "\n{}", `value is "{}", want the end after the JSON value`},
		{"unknown field", `"kerf"`, `"curve"`, `curve is "1/8in", want one of the names here: name, rooms, trim`},
		{"unknown field below", `"wage": 5000`, `"wages": 5000`, `terms.wages is 5000, want one of the names here: wage`},
		{"case counts", `"kerf"`, `"Kerf"`, `Kerf is "1/8in", want`},
		{"twice", `"year": 1926`, `"year": 1926, "year": 1927`, `building.year is 1927, want a name that occurs here once`},
		{"null", `"name": "closet", "walls"`, `"name": null, "walls"`, "rooms[0].name is"},
		{"not a length", `"length": "4ft"}`, `"length": "4 feat"}`, `rooms[0].walls[1].length is "4 feat"`},
		{"number for length", `"length": "4ft"}`, `"length": 48}`, `rooms[0].walls[1].length is 48, want a length in quotes`},
		{"NaN", `"kerf": "1/8in"`, `"kerf": "NaN"`, `kerf is "NaN"`},
		{"infinite", `"kerf": "1/8in"`, `"kerf": "1e999in"`, `kerf is "1e999in"`},
		{"text for number", `"price": 1500`, `"price": "15.00"`, `materials[0].sticks[0].price is "15.00", want a whole number`},
		{"fraction of a cent", `"price": 1500`, `"price": 15.5`, `materials[0].sticks[0].price is "15.5", want a whole number`},
		{"money beyond int64", `"price": 1500`, `"price": 9223372036854775808`, `materials[0].sticks[0].price is 9223372036854775808`},
		{"sum beyond int64", `"price": 1500`, `"price": 9223372036854775807`, "9223372036854775807"},
		{"negative price", `"price": 1500`, `"price": -1`, "materials[0].sticks[0].price is -1"},
		{"negative limit", `"price": 1500`, `"price": 1500, "limit": -2`, "materials[0].sticks[0].limit is -2"},
		{"negative kerf", `"kerf": "1/8in"`, `"kerf": "-1/8in"`, `kerf is "-1/8\""`},
		{"no rooms", `"rooms": [`, `"rooms": [], "rooms": [`, "rooms is"},
		{"zero wall", `"length": "4ft"}`, `"length": "0in"}`, `rooms[0].walls[1].length is "0\""`},
		{"negative wall", `"length": "4ft"}`, `"length": "-4ft"}`, `rooms[0].walls[1].length is "-4'"`},
		{"list for object", `"rooms": [{`, `"rooms": [[], {`, `rooms[0] is "[]", want an object`},
		{"object for list", `"steps": [{"task": "install"}, {"task": "prime"}, {"task": "paint", "coats": 2}]`, `"steps": {}`, `systems[0].steps is "{}", want a list`},
		{"opening beyond wall", `"at": "20in"`, `"at": "60in"`, `rooms[0].walls[2].openings[0] is "5' + 2' 6\""`},
		{"kind of opening", `"kind": "door"`, `"kind": "gate"`, `rooms[0].walls[2].openings[0].kind is "gate"`},
		{"two walls, one name", `"name": "E"`, `"name": "N"`, `rooms[0].walls[1].name is "N"`},
		{"no thickness", `"thickness": "9/16in", `, ``, `materials[0].profile.thickness is "0\""`},
		{"casing thickness", `"thickness": "11/16in"`, `"thickness": "-1in"`, `materials[1].profile.thickness is "-1\""`},
		{"no sticks", `"sticks": [{"length": "8ft", "price": 900}]`, `"sticks": []`, "materials[1].sticks is \"empty\""},
		{"profile twice", `{"name": "casing", "thick`, `{"name": "base", "thick`, `materials[1].profile.name is "base"`},
		{"rack length", `"length": "50in"`, `"length": "-50in"`, `rack.offcuts[0].length is "-4' 2\""`},
		{"no such system", `"system": "plain"}],`, `"system": "fancy"}],`, `materials[1].system is "fancy"`},
		{"task", `"task": "install"`, `"task": "glaze"`, `systems[0].steps[0].task is "glaze"`},
		{"coats", `"coats": 2`, `"coats": -2`, "systems[0].steps[2].coats is -2"},
		{"no product", `"material": "nails"`, `"material": "screws"`, `shelf.products is "without \"nails\""`},
		{"package size", `"size": "500 ct"`, `"size": "0 ct"`, `shelf.products[0].packages[0].size is "0`},
		{"package price", `"price": 2200`, `"price": -5`, `shelf.products[2].packages[0].price is -5`},
		{"wage", `"wage": 5000`, `"wage": -1`, `terms.wage is -1`},
		{"year", `"year": 1926`, `"year": -1`, `building.year is -1`},
		{"girth", `"girth": "7in"`, `"girth": "-7in"`, "tear_out.parts[0].girth is"},
		{"crews", `"building"`, `"calendar": {"start": "2027-06-07T08:00:00Z", "crews": [{"people": -1}]}, "building"`, `calendar.crews[0].people is -1`},
		{"no start", `"building"`, `"calendar": {"crews": [{}, {}]}, "building"`, "calendar.start is"},
		{"start", `"building"`, `"calendar": {"start": "Monday"}, "building"`, `calendar.start is "Monday"`},
		{"style", `"kind": "door"`, `"kind": "door", "style": "gothic"`, `rooms[0].walls[2].openings[0].style is "gothic"`},
		{"trim of a style", `"trim": {`, `"trim": {"casing_styles": [{"name": "a", "joint": "butt", "head": [{"profile": {"name": "cornice"}}]}], `, `trim.casing_styles[0].head[0].profile.name is "cornice", want the name of`},
		{"overhang of a style", `"trim": {`, `"trim": {"casing_styles": [{"name": "a", "joint": "butt", "head": [{"overhang": "-1in"}]}], `, `trim.casing_styles[0].head[0].overhang is "-1\""`},
		{"habits", `"building"`, `"habits": {"bevel": "95"}, "building"`, `habits.bevel is "95°"`},
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

// A valid job that cannot be done is distinguished from a bad file.
func TestJobsThatCannotBeDone(t *testing.T) {
	for _, c := range []struct {
		name    string
		replace []string
		want    string
	}{
		{"supply", []string{`"length": "8ft", "price": 900`, `"length": "8ft", "price": 900, "limit": 1`}, "short by"},
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
		{[]string{`"at": "20in"`, `"at": "60in"`, `"thickness": "11/16in"`, `"thickness": "-1in"`, `"building"`, `"habits": {"bevel": "95"}, "building"`},
			[]string{"materials[1].profile.thickness is", "rooms[0].walls[2].openings[0] is", "habits.bevel is"}},
		{[]string{`"wage": 5000`, `"wage": -1`, `"coats": 2`, `"coats": "two"`}, []string{"systems[0].steps[2].coats is"}},
		{[]string{`"material": "nails"`, `"material": "screws"`, `"size": "500 ct"`, `"size": "0 ct"`, `"price": 2200`, `"price": -5`},
			[]string{"shelf.products[0].packages[0].size is", "shelf.products[2].packages[0].price is"}},
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
