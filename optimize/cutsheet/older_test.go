package cutsheet_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// coats is the job of a recorded sheet that uses every rule whose name has changed.
func coats() (optimize.Problem, *cutsheet.Options) {
	inch := measure.Inch
	return optimize.Problem{
		Kerf: inch / 8,
		Sticks: []stock.Stick{
			{Label: "oak 8", Length: 96 * inch, Price: 1450, Supplier: "mill", Lot: "A", Breaks: []stock.PriceBreak{{From: 3, Price: 1300}}},
			{Label: "oak 10", Length: 120 * inch, Price: 1800, Supplier: "mill", Lot: "B"},
			{Label: "rack", Length: 70 * inch, Rack: true, Limit: 1, Lot: "B"},
		},
		Pieces: []stock.Piece{
			{Label: "coat rail, north", Length: 46 * inch, Quantity: 2},
			{Label: "coat rail, south", Length: 31 * inch, Quantity: 2},
			{Label: "coat rail, stair", Length: 22 * inch, Quantity: 1},
		},
		Runs: []stock.Run{{Label: "south wall", Length: 130 * inch, Net: 130 * inch, Splice: stock.SpliceRule{At: []measure.Length{50 * inch, 66 * inch}, Price: 200}}},
		Rules: optimize.Rules{
			MaxPieces: 4, MinHold: 12 * inch, MaxTransport: 108 * inch, YardCut: 150, Spare: 1,
			Groups:       []optimize.Group{{Kind: optimize.GroupOneLot, Pieces: []int{2}, Started: true, Lot: "B"}, {Kind: optimize.GroupOneStick, Pieces: []int{0, 1}}},
			Charges:      []optimize.Charge{{Supplier: "mill", Amount: 900}},
			OffcutValues: []optimize.OffcutValue{{Length: 24 * inch, Value: 100}},
			Goals:        []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalSplices},
		},
	}, &cutsheet.Options{Title: "Coat rails", Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}}
}

// Sheets of versions 1 and 2, recorded before version 3, have the same content as then.
func TestOlderSheets(t *testing.T) {
	all := map[string]func() (optimize.Problem, *cutsheet.Options){"base": base, "crown": crown, "plain": plain, "boards": boards, "yard": yard, "coats": coats}
	for name, job := range all {
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join("testdata", "before3", name+".json"))
			if err != nil {
				t.Fatal(err)
			}
			p, plan, o, err := cutsheet.ReadJSON(bytes.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			want, wantOptions := job()
			if wantOptions == nil {
				wantOptions = new(cutsheet.Options)
			}
			if d := cmp.Diff(want, p); d != "" {
				t.Errorf("the problem differs (-want +got):\n%s", d)
			}
			if o.Title != wantOptions.Title || o.Locale.Currency != wantOptions.Locale.Currency {
				t.Errorf("the options are %+v", o)
			}
			var recorded struct {
				Plan struct {
					Patterns    []optimize.Pattern
					Cost, Bound int64
					Levels      []optimize.GoalResult
				}
			}
			if err := json.Unmarshal(text, &recorded); err != nil {
				t.Fatal(err)
			}
			r := &recorded.Plan
			if d := cmp.Diff(r.Patterns, plan.Patterns); d != "" || plan.Cost != r.Cost || plan.Bound != r.Bound || r.Cost == 0 {
				t.Errorf("cost %d of %d, bound %d of %d, patterns (-want +got):\n%s", plan.Cost, r.Cost, plan.Bound, r.Bound, d)
			}
			if !slices.EqualFunc(r.Levels, plan.Goals, func(a, b optimize.GoalResult) bool { return a.Goal == b.Goal && a.Value == b.Value }) {
				t.Errorf("goals are %v, want %v", plan.Goals, r.Levels)
			}
			s, err := cutsheet.New(context.Background(), p, plan, o) // which checks the plan
			if err != nil {
				t.Fatal(err)
			}
			if text := render(t, s, renderings[4]); !strings.Contains(text, `"version":3,`) || strings.Contains(text, `"levels"`) {
				t.Errorf("written again as %.80s", text)
			}
		})
	}
}

// Runs and the profile had other names in versions 1 and 2.
func TestOlderRunsAndProfiles(t *testing.T) {
	const old = `{"format":"longpoint cut sheet","version":2,
		"profile":{"name":"slate","use":"shoe","thickness":"3/8in","width":"4in","plain":true,"joint":"1/16in","short":"1/4in"},
		"problem":{"sticks":[],"pieces":[],"runs":[
			{"label":"A","use":"crown","net":"20ft","length":"20ft","splice":{"at":["8ft"],"lap":"right over","most":2}},
			{"label":"B","net":"9ft","length":"9ft","splice":{"lap":"left over","right_over":true}}]},
		"plan":{"patterns":[],"buy":[],"proof":{"kind":"none"}}}`
	p, _, o, err := cutsheet.ReadJSON(strings.NewReader(old))
	if err != nil {
		t.Fatal(err)
	}
	want := []stock.Run{
		{Label: "A", Role: stock.RoleCrown, Net: 20 * measure.Foot, Length: 20 * measure.Foot, Splice: stock.SpliceRule{At: []measure.Length{8 * measure.Foot}, RightOver: true, MaxSplices: 2}},
		{Label: "B", Net: 9 * measure.Foot, Length: 9 * measure.Foot},
	}
	if d := cmp.Diff(want, p.Runs); d != "" {
		t.Errorf("runs (-want +got):\n%s", d)
	}
	in := measure.Inch
	profile := &stock.Profile{Name: "slate", Role: stock.RoleShoe, Thickness: 3 * in / 8, Width: 4 * in, ButtSpliced: true, StripJoint: in / 16, MillShort: in / 4}
	if d := cmp.Diff(profile, o.Profile); d != "" {
		t.Errorf("profile (-want +got):\n%s", d)
	}
}

// Names of version 3 in an older sheet are fields from the future: they are passed over.
func TestOlderSheetKnowsNoNewNames(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("testdata", "before3", "coats.json"))
	if err != nil {
		t.Fatal(err)
	}
	p, _, _, err := cutsheet.ReadJSON(strings.NewReader(strings.Replace(string(text), `"most_pieces":4`, `"most_pieces":4,"max_pieces":3`, 1)))
	if err != nil || p.Rules.MaxPieces != 4 {
		t.Errorf("%d pieces, %v", p.Rules.MaxPieces, err)
	}
	for _, broken := range []string{
		`{"format":"longpoint cut sheet","version":2,"problem":7,"plan":{}}`,
		`{"format":"longpoint cut sheet","version":2,"problem":{"rules":[1]},"plan":{}}`,
		`{"format":"longpoint cut sheet","version":2,"problem":{"rules":{"groups":[3]}},"plan":{}}`,
		`{"format":"longpoint cut sheet","version":2,"problem":{"rules":{"groups":{"begun":true}}},"plan":{}}`,
	} {
		if _, plan, _, err := cutsheet.ReadJSON(strings.NewReader(broken)); err == nil || plan != nil {
			t.Errorf("%s is read", broken)
		}
	}
}
