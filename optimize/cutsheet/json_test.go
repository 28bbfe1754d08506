package cutsheet_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// readBack writes a sheet as JSON, reads it and compares everything, down to the
// bytes of all renderings of the sheet that is made of it.
func readBack(t testing.TB, p optimize.Problem, plan *optimize.Plan, o *cutsheet.Options) {
	t.Helper()
	s, err := cutsheet.New(context.Background(), p, plan, o)
	if err != nil {
		t.Fatal(err)
	}
	p2, plan2, o2, err := cutsheet.ReadJSON(iotest.OneByteReader(strings.NewReader(render(t, s, renderings[4]))))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p, p2); d != "" {
		t.Errorf("the problem changed:\n%s", d)
	}
	if d := cmp.Diff(plan, plan2); d != "" {
		t.Errorf("the plan changed:\n%s", d)
	}
	if o == nil {
		o = new(cutsheet.Options)
	}
	if d := cmp.Diff(cutsheet.Options{Title: o.Title, Locale: measure.Locale{Currency: o.Locale.Currency}, Profile: o.Profile}, *o2); d != "" {
		t.Errorf("the options changed:\n%s", d)
	}
	o2.Locale, o2.Graduation, o2.Unicode, o2.Color = o.Locale, o.Graduation, o.Unicode, o.Color
	s2, err := cutsheet.New(context.Background(), p2, plan2, o2)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range renderings {
		if render(t, s, r) != render(t, s2, r) {
			t.Errorf("%s is different after reading back", r.ext)
		}
	}
}

func TestJSONReadsBack(t *testing.T) {
	for name, job := range jobs {
		t.Run(name, func(t *testing.T) {
			p, o := job()
			readBack(t, p, solve(t, p), o)
		})
	}
}

func TestJSONReadsBackAnything(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		length := func(least, most int) measure.Length {
			l := measure.Length(rapid.IntRange(least, most).Draw(rt, "length")) * measure.Inch / 64
			return l + measure.Length(rapid.IntRange(0, 1).Draw(rt, "tick"))
		}
		anEnd := func() stock.End {
			return stock.End{
				Kind:    stock.EndKind(rapid.IntRange(0, int(stock.EndRake)).Draw(rt, "kind")),
				Angle:   measure.Angle(rapid.IntRange(0, 89).Draw(rt, "angle")) * measure.Degree,
				Setback: measure.Length(rapid.IntRange(0, 1<<20).Draw(rt, "setback")),
			}
		}
		labeled := rapid.Bool().Draw(rt, "labeled")
		label := func(i int) string {
			if !labeled {
				return ""
			}
			return rapid.String().Draw(rt, "label") + "#" + string(rune('a'+i))
		}
		p := optimize.Problem{Kerf: length(0, 16)}
		for i := range rapid.IntRange(1, 3).Draw(rt, "sticks") {
			p.Sticks = append(p.Sticks, stock.Stick{
				Label: label(i), Length: length(96*64, 200*64), Price: rapid.Int64Range(1, 5000).Draw(rt, "price"),
				TrimStart: length(0, 32), TrimEnd: length(0, 32), Nominal: length(0, 200*64), Rack: rapid.Bool().Draw(rt, "rack"),
			})
		}
		for i := range rapid.IntRange(1, 4).Draw(rt, "pieces") {
			p.Pieces = append(p.Pieces, stock.Piece{
				Label: label(i), Length: length(1, 94*64), Quantity: rapid.IntRange(0, 9).Draw(rt, "quantity"),
				Left: anEnd(), Right: anEnd(), Run: label(i),
			})
		}
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000})
		if err != nil {
			rt.Skip(err)
		}
		readBack(t, p, plan, &cutsheet.Options{Title: label(0), Locale: measure.Locale{Currency: measure.Currency{Symbol: "$", Minor: 1000}}})
	})
}

func TestReadJSONErrors(t *testing.T) {
	good, err := os.ReadFile("testdata/base.json")
	if err != nil {
		t.Fatal(err)
	}
	swap := func(old, new string) string {
		if strings.Count(string(good), old) == 0 {
			t.Fatalf("testdata/base.json has no %s", old)
		}
		return strings.Replace(string(good), old, new, 1)
	}
	for _, c := range []struct {
		name, text string
		version    int64 // of a VersionError; -1 for a FormatError; -2 for none
	}{
		{"a field from the future", swap(`"version":3`, `"version":3,"paper":{"size":"letter"}`), -2},
		{"spaces around it", "\n " + string(good) + "\n ", -2},
		{"a version that says less", swap(`"version":3`, `"version":2`), -2},
		{"the oldest version", swap(`"version":3`, `"version":1`), -2},
		{"the next version", swap(`"version":3`, `"version":4`), 4},
		{"the next version in another form", `{"format":"longpoint cut sheet","version":4,"plan":"see page 3"}`, 4},
		{"version zero", swap(`"version":3`, `"version":0`), 0},
		{"no version", swap(`"version":3,`, ``), 0},
		{"a negative version", swap(`"version":3`, `"version":-1`), -1 << 62}, // see below
		{"half a version", swap(`"version":3`, `"version":1.5`), -1},
		{"a version in words", swap(`"version":3`, `"version":"one"`), -1},
		{"a version beyond int64", swap(`"version":3`, `"version":99999999999999999999`), -1},
		{"a proof of another version", swap(`"proof":{"version":1`, `"proof":{"version":2`), -1},
		{"a proof of no version", swap(`"proof":{"version":1,`, `"proof":{`), -1},
		{"another format", swap(`"format":"longpoint cut sheet"`, `"format":"shopping list"`), -1},
		{"a format that is a number", swap(`"format":"longpoint cut sheet"`, `"format":7`), -1},
		{"no format", swap(`"format":"longpoint cut sheet",`, ``), -1},
		{"no plan", `{"format":"longpoint cut sheet","version":1,"problem":{}}`, -1},
		{"no problem", `{"format":"longpoint cut sheet","version":1,"plan":{}}`, -1},
		{"empty", "", -1},
		{"a list", "[]", -1},
		{"null", "null", -1},
		{"cut off", string(good[:len(good)/2]), -1},
		{"something behind", string(good) + "{}", -1},
		{"a length without unit", swap(`"kerf":"1/8in"`, `"kerf":"1/8"`), -1},
		{"a length that is a number", swap(`"kerf":"1/8in"`, `"kerf":0.125`), -1},
		{"an unknown end", swap(`"kind":"cope"`, `"kind":"cloak"`), -1},
		{"an unknown reason", swap(`"stop":"proven"`, `"stop":"lunch"`), -1},
	} {
		p, plan, o, err := cutsheet.ReadJSON(strings.NewReader(c.text))
		if c.version == -2 {
			if err != nil || plan == nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if err == nil || plan != nil || o != nil || len(p.Sticks) > 0 {
			t.Errorf("%s: no error, or a result with it", c.name)
			continue
		}
		var version *cutsheet.VersionError
		var format *cutsheet.FormatError
		switch {
		case c.version == -1:
			if !errors.As(err, &format) {
				t.Errorf("%s: %T %v, want a FormatError", c.name, err, err)
			}
		case !errors.As(err, &version):
			t.Errorf("%s: %T %v, want a VersionError", c.name, err, err)
		case c.version == -1<<62:
			if version.Version != -1 {
				t.Errorf("%s: %v", c.name, err)
			}
		case version.Version != c.version:
			t.Errorf("%s: %v", c.name, err)
		}
		if !strings.HasPrefix(err.Error(), "cutsheet: ") || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %q", c.name, err)
		}
	}
	// Each value that cannot be read has its place; names from the future and names that stand
	// twice are passed over.
	many := strings.NewReplacer(`"version":3`, `"version":3,"paper":{"size":"letter"},"title":"","title":"a"`, `"kerf":"1/8in"`, `"kerf":"1/8"`, `"stop":"proven"`, `"stop":"lunch","drawn":[1]`).Replace(string(good))
	_, _, _, err = cutsheet.ReadJSON(strings.NewReader(many))
	var paths []string
	for e := range measure.FieldErrors(err) {
		paths = append(paths, e.Field)
	}
	if !errors.As(err, new(*cutsheet.FormatError)) || !slices.Equal(paths, []string{"problem.kerf", "plan.stop"}) {
		t.Errorf("%q of %v", paths, err)
	}
	broken := errors.New("the line went dead")
	if _, _, _, err := cutsheet.ReadJSON(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("an error of the reader: %v", err)
	}
}

// The documented fields are those that are written.
func TestJSONSchema(t *testing.T) {
	p, o := base()
	var doc map[string]json.RawMessage
	if err := json.Unmarshal([]byte(render(t, sheet(t, p, o), renderings[4])), &doc); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"format", "version", "title", "money", "profile", "problem", "plan"} {
		if _, ok := doc[name]; !ok {
			t.Errorf("no field %s", name)
		}
		delete(doc, name)
	}
	for name := range doc {
		t.Errorf("field %s is not documented", name)
	}
}

// FuzzReadJSON: any text is read or rejected, and a document that New accepts is written.
func FuzzReadJSON(f *testing.F) {
	// A long seed would be made shorter for a minute before anything is tried.
	f.Add(`{"format":"longpoint cut sheet","version":1,"problem":{"sticks":[{"length":"8ft"}],"pieces":[{"length":"1in","quantity":3}]},"plan":{"patterns":[{"stick":0,"count":1,"pieces":[0,0,0],"offcut":"93in"}],"cost":195072000,"objective":"least length","stop":"not said","proof":{"kind":"none"}}}`)
	f.Add(`{"format":"longpoint cut sheet","version":2,"problem":{"sticks":[{"length":"9in","limit":1,"defects":[{"from":"4in","to":"5in"}]},{"length":"20in","supplier":"M","bundle":2}],"pieces":[{"length":"3in","left":{"kind":"flat miter","setback":"1in"},"right":{"kind":"flat miter","setback":"1in"},"symmetry":"any way"}],"runs":[{"length":"6in","splice":{"at":["3in"]}}],"rules":{"nest":true,"spare":1,"goals":["least cost"]}},"plan":{"patterns":[{"stick":0,"count":1,"pieces":[0,1],"offcut":"0in","stretch":[0,1]}],"parts":[{"length":"6in"}],"spliced":[{"run":0,"at":null,"pieces":[1]}],"cost":0,"proof":{"kind":"none"}}}`)
	f.Fuzz(func(t *testing.T, text string) {
		p, plan, o, err := cutsheet.ReadJSON(strings.NewReader(text))
		if err != nil {
			return
		}
		s, err := cutsheet.New(context.Background(), p, plan, o)
		if err != nil {
			return
		}
		for _, r := range renderings {
			if err := r.write(s, io.Discard); err != nil {
				t.Errorf("%s: %v", r.ext, err)
			}
		}
	})
}

// Sheets of older versions are read without the proofs, which had another form.
func TestOlderVersions(t *testing.T) {
	for file, now := range map[string]string{"version1.json": "base.json", "version2.json": "boards.json"} {
		read := func(name string) (optimize.Problem, *optimize.Plan, *cutsheet.Options) {
			text, err := os.Open("testdata/" + name)
			if err != nil {
				t.Fatal(err)
			}
			defer text.Close()
			p, plan, o, err := cutsheet.ReadJSON(text)
			if err != nil {
				t.Fatal(err)
			}
			return p, plan, o
		}
		p, plan, o := read(file)
		wantProblem, want, wantOptions := read(now)
		if d := cmp.Diff(wantProblem, p); d != "" {
			t.Errorf("%s: another problem:\n%s", file, d)
		}
		for i := range want.Parts { // named "rail 1/2" in its day
			if pc := &want.Parts[i]; pc.Parts > 1 {
				pc.Label = fmt.Sprintf("%s %d/%d", pc.Run, pc.Part, pc.Parts)
			}
		}
		want.Work = plan.Work // that of the solver of its day
		if d := cmp.Diff(want.WithoutProof(), plan); d != "" || plan.Proof.Kind() != optimize.ProofOmitted {
			t.Errorf("%s: another plan:\n%s", file, d)
		}
		if d := cmp.Diff(wantOptions, o); d != "" {
			t.Errorf("%s: other options:\n%s", file, d)
		}
		if _, err := cutsheet.New(context.Background(), p, plan, o); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
}

// A sheet whose proof was left out is of version 3, reads back, and does not say that
// anything is proven.
func TestProofLeftOut(t *testing.T) {
	for name, job := range jobs {
		t.Run(name, func(t *testing.T) {
			p, o := job()
			plan := solve(t, p)
			bare := plan.WithoutProof()
			readBack(t, p, bare, o)
			if bare.Proof.Kind() != optimize.ProofOmitted {
				return
			}
			var detailed cutsheet.Options
			if o != nil {
				detailed = *o
			}
			detailed.ProofDetails = true
			s, err := cutsheet.New(context.Background(), p, bare, &detailed)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range renderings {
				text := render(t, s, r)
				if r.ext == "json" {
					if !strings.Contains(text, `"version":3`) || strings.Contains(text, `"data"`) {
						t.Errorf("the JSON is %s", text)
					}
					continue
				}
				if strings.Contains(text, "Proven:") || strings.Contains(text, "confirms") {
					t.Errorf("%s says that something is proven", r.ext)
				}
			}
			text := strings.Join(strings.Fields(render(t, s, renderings[0])), " ")
			if bare.Bound > 0 && !strings.Contains(text, "The proof was left out, so a separate check could not confirm it.") {
				t.Errorf("the sheet does not say that its proof was omitted:\n%s", text)
			}
			if plan.Proven && !strings.Contains(text, "Claimed, not shown: no ") {
				t.Errorf("the sheet does not give the claim:\n%s", text)
			}
		})
	}
}
