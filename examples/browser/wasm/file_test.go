package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// through opens a file and saves it again.
func through(t *testing.T, text string) (optimize.Problem, *request) {
	t.Helper()
	var o opened
	if err := json.Unmarshal([]byte(respond("open", text, nil)), &o); err != nil {
		t.Fatal(err)
	}
	if len(o.Faults) > 0 {
		t.Fatalf("%v: %s", o.Faults, text)
	}
	form, err := json.Marshal(o.Form)
	if err != nil {
		t.Fatal(err)
	}
	var s saved
	if err := json.Unmarshal([]byte(respond("save", string(form), nil)), &s); err != nil {
		t.Fatal(err)
	}
	if len(s.Faults) > 0 {
		t.Fatalf("%v: %s", s.Faults, form)
	}
	var p optimize.Problem
	if err := measure.UnmarshalStrict([]byte(s.Text), &p); err != nil {
		t.Fatal(err)
	}
	return p, o.Form
}

// A file goes through the form and comes out as the same problem, whatever is in it: values without a
// field in the form are carried along.
func TestFileThroughForm(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		p := anyProblem(random)
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := through(t, string(text)); !reflect.DeepEqual(got, p) {
			again, _ := json.Marshal(got)
			t.Fatalf("got  %s\nwant %s", again, text)
		}
	}
}

// anyProblem fills all fields now and then, without sense.
func anyProblem(r *rand.Rand) optimize.Problem {
	maybe := func() bool { return r.IntN(3) == 0 }
	lengths := []measure.Length{1, measure.Inch / 3 * 2, measure.Inch/128 + measure.Foot, 41*measure.Inch + measure.Inch/2, 7 * measure.Millimeter, 12 * measure.Foot}
	length := func() measure.Length { return lengths[r.IntN(len(lengths))] }
	end := func() (e stock.End) {
		if maybe() {
			e = stock.End{Kind: stock.EndKind(r.IntN(13)), Angle: measure.Angle(r.IntN(3)) * measure.Degree * 89 / 2, Setback: length()}
		}
		return e
	}
	p := optimize.Problem{Kerf: measure.Length(r.IntN(2)) * measure.Inch / 8}
	if maybe() {
		p.MinRemnant = length()
	}
	for i := range 1 + r.IntN(3) {
		s := stock.Stick{Length: length(), Price: 1 + r.Int64N(10000)}
		if maybe() {
			s.Limit, s.Label, s.TrimEnd, s.Grade, s.Lot, s.Rack = -1+2*r.IntN(2), "pine", length(), -1, "b", true
		}
		if maybe() {
			s.ID, s.Profile, s.Material, s.Nominal, s.Supplier, s.Bundle, s.Minimum = fmt.Sprint("R-", i), "2×4", "oak", length(), "yard", 2, 3
			s.Breaks = []stock.PriceBreak{{From: 5, Price: 3}}
		}
		if maybe() {
			s.Defects = []stock.Defect{{From: 0, To: length()}, {From: length(), To: length()}}
		}
		p.Sticks = append(p.Sticks, s)
	}
	for range 1 + r.IntN(4) {
		x := stock.Piece{Label: "a \"b\" <c> 廊下", Length: length(), Quantity: r.IntN(3), Left: end(), Right: end(), Symmetry: stock.Symmetry(r.IntN(3)), Grade: r.IntN(2)}
		if maybe() {
			x.Notes, x.Profile, x.Run, x.Part, x.Parts, x.Allowances = []string{"rip"}, "2×4", "north", 1, 2, []stock.Allowance{{Name: "fit", Length: length()}}
		}
		p.Pieces = append(p.Pieces, x)
	}
	for range r.IntN(3) {
		x := stock.Run{Label: "north", Length: length(), Left: end(), Right: end()}
		if maybe() {
			x.Room, x.Wall, x.Net, x.Slope, x.LeanLeft = "cloakroom", "n", length(), measure.Degree, length()
			x.Splice = stock.SpliceRule{At: []measure.Length{1, measure.Inch}, Avoid: []measure.Length{2}, Overlap: length(), Clear: length(), MinPart: length(), Bevel: measure.Degree, RightOver: true, MaxSplices: 2, Price: 5}
		}
		p.Runs = append(p.Runs, x)
	}
	if maybe() {
		p.Rules = optimize.Rules{MaxPieces: 3, MinHold: length(), Nest: true, MaxTransport: length(), YardCut: 5, Spare: 1, Charges: []optimize.Charge{{Supplier: "yard", Amount: 4}},
			OffcutValues: []optimize.OffcutValue{{Length: length(), Value: 3}}, Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalCuts}}
	}
	if len(p.Pieces) > 1 && maybe() {
		p.Rules.Groups = []optimize.Group{{Kind: optimize.GroupKind(r.IntN(3)), Pieces: []int{0, 1}}}
	}
	return p
}

// Exactly the values that the form cannot hold are rejected, with their place.
func TestFileRefused(t *testing.T) {
	for _, c := range []struct{ text, field, says string }{
		{"", "", "JSON"},
		{`{"pieces": 3}`, "pieces", ""},
		{`{"kerf": "1/3in"}`, "kerf", "1/3"},
		{`{"sticks": [{"length": "12ft"}, {"lenght": "12ft"}]}`, "sticks[1].lenght", ""},
		{`{"rules": {"groups": [{"kind": "in sequence", "pieces": [1, 0]}]}, "pieces": [{"label": "", "length": "1in"}, {"label": "", "length": "1in"}]}`, "rules.groups[0]", "order"},
		{`{"rules": {"groups": [{"kind": "one lot", "pieces": [0], "started": true}]}, "pieces": [{"label": "", "length": "1in"}]}`, "rules.groups[0]", "cut in part"},
		{`{"rules": {"groups": [{"kind": "one lot", "pieces": [-1]}]}}`, "rules.groups[0]", "piece -1"},
		{`{"rules": {"groups": [{"kind": "one lot", "pieces": [0, 0]}]}, "pieces": [{"label": "", "length": "1in"}]}`, "rules.groups[0]", "already"},
	} {
		o := openFile(c.text)
		if o.Form != nil || len(o.Faults) == 0 || o.Faults[0].Field != c.field || !strings.Contains(o.Faults[0].Message, c.says) {
			t.Errorf("%s: %+v", c.text, o)
		}
	}
	o := openFile(`{"sticks": [{"length": "1in", "price": -9223372036854775808}, {"length": "1in", "price": 9223372036854775807}, {"length": "1in", "price": 123456}]}`)
	for i, want := range []string{"-92233720368547758.08", "92233720368547758.07", "1234.56"} {
		if got := o.Form.Sticks[i].Price; got != want {
			t.Errorf("a price of %s, want %s", got, want)
		}
	}
	if o := openFile("\ufeff{}"); o.Form == nil {
		t.Errorf("an empty problem: %v", o.Faults)
	}
}

// A list of lines becomes rows, or faults by line.
func TestList(t *testing.T) {
	l := readList("3 @ 41 1/2 closet\n\n# none\n7' 4-3/4\"")
	want := []pieceRow{row("closet", `3' 5-1/2"`, "3"), row("", `7' 4-3/4"`, "")}
	if !reflect.DeepEqual(l.Rows, want) || len(l.Faults) > 0 {
		t.Errorf("got %+v", l)
	}
	if l := readList("2x4\n41\nlong"); len(l.Rows) > 0 || len(l.Faults) != 2 || l.Faults[0].Line != 1 || l.Faults[1].Line != 3 || l.Faults[0].Message == "" {
		t.Errorf("got %+v", l)
	}
	for _, text := range []string{"", " \n", "# none"} {
		if l := readList(text); len(l.Faults) != 1 || l.Faults[0].Line != 0 {
			t.Errorf("%q: %+v", text, l)
		}
	}
	if l := readList(strings.Repeat("2 @ 41 1/2 closet\n3 @ 12 closet\n", 600)); len(l.Rows) != 2 || l.Rows[0].Quantity != "1200" || l.Rows[1].Quantity != "1800" {
		t.Errorf("got %+v", l)
	}
	var many strings.Builder
	for i := range mostRows + 1 {
		fmt.Fprintln(&many, i+1)
	}
	if l := readList(many.String()); len(l.Faults) != 1 || !strings.Contains(l.Faults[0].Message, "1001") {
		t.Errorf("got %+v", l.Faults)
	}
}

// Fields that are folded away.
func TestFields(t *testing.T) {
	for _, c := range []struct {
		text   string
		length measure.Length
		want   string
	}{
		{"", 0, ""}, {"32; 48\n64 ", 0, `2' 8" 4' 5' 4"`}, {"every 16", 5 * measure.Foot, `1' 4" 2' 8" 4'`}, {"Every 16 from 7 1/4", 4 * measure.Foot, `7-1/4" 1' 11-1/4" 3' 3-1/4"`},
		{"every 0", measure.Foot, "fault"}, {"every", measure.Foot, "fault"}, {"every 1/128 from 1", 100 * measure.Foot, "fault"}, {"32; no", 0, "fault"}, {"every -1", measure.Foot, "fault"},
	} {
		f := form{}
		var got []string
		for _, x := range f.places("at", c.text, c.length) {
			got = append(got, x.About())
		}
		if len(f.faults) > 0 {
			got = []string{"fault"}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%q: got %q, want %q", c.text, got, c.want)
		}
	}
	for text, want := range map[string]int{"": 0, "12 to 14 1/2": 1, "12 to 14 1/2; 80 TO 81": 2, "12-14": -1, "12 to": -1, "to 12": -1, "a to b": -1} {
		f := form{}
		got := len(f.defects("d", text))
		if len(f.faults) > 0 {
			got = -1
		}
		if got != want {
			t.Errorf("%q: got %d, want %d: %v", text, got, want, f.faults)
		}
	}
}

// All that is folded away goes into the plan, and faults find their fields.
func TestFolded(t *testing.T) {
	r := job()
	r.Sticks[0].Defects, r.Sticks[0].Limit = "30 to 31", "5"
	r.Pieces[0].LeftKind, r.Pieces[0].LeftAngle = "outside miter", "88"
	r.Pieces[1].Set, r.Pieces[3].Set, r.Pieces[3].Quantity = "window", "window", ""
	r.Runs = []runRow{{}, {Label: "corridor", Length: "24 ft", At: "every 16", Overlap: "3/4", Bevel: "45"}}
	r.Rules = ruleFields{MaxPieces: "3", Spare: "1"}
	a := ask(t, r)
	if len(a.Faults) > 0 || !strings.Contains(a.Sheet, "corridor") || !strings.Contains(a.Sheet, "outside miter") || !a.Proven {
		t.Fatalf("%v, proven %t", a.Faults, a.Proven)
	}
	if a.Pieces < 5 {
		t.Errorf("%d pieces", a.Pieces)
	}
	for _, c := range []struct {
		name   string
		change func(*request)
		field  string
	}{
		{"an end", func(r *request) { r.Pieces[0].LeftKind = "bent" }, "pieces[0].left_kind"},
		{"an angle", func(r *request) { r.Pieces[0].RightAngle = "0" }, "pieces[0].right_angle"},
		{"a wide angle", func(r *request) { r.Pieces[0].LeftAngle = "190" }, "pieces[0].left_angle"},
		{"a grade", func(r *request) { r.Pieces[3].Grade = "good" }, "pieces[3].grade"},
		{"too good", func(r *request) { r.Pieces[3].Grade = "7" }, "pieces[3].grade"},
		{"a defect", func(r *request) { r.Sticks[0].Defects = "31 to 30" }, "sticks[0].defects"},
		{"without a limit", func(r *request) { r.Sticks[0].Limit = "" }, "sticks[0].limit"},
		{"a run", func(r *request) { r.Runs[1].Length = "" }, "runs[1].length"},
		{"too long a run", func(r *request) { r.Runs[1].At = "" }, "runs[1].at"},
		{"no run that long", func(r *request) { r.Runs[1].At = "32; 999" }, "runs[1].at"},
		{"a rule", func(r *request) { r.Rules.MaxPieces = "0" }, "rules.max_pieces"},
		{"a length of zero", func(r *request) { r.Rules.MaxTransport = "0" }, "rules.max_transport"},
		{"no hold", func(r *request) { r.Rules.MinHold = "-3" }, "rules.min_hold"},
		{"no remnant", func(r *request) { r.MinRemnant = "0" }, "min_remnant"},
		{"two kinds of set", func(r *request) { r.Pieces[3].SetKind = "one lot" }, "pieces[3].set_kind"},
		{"a set of one", func(r *request) { r.Pieces[3].Set = "other" }, "pieces[1].set"},
		{"too many for a stick", func(r *request) { r.Rules.MaxPieces = "1" }, "pieces[1].set"},
		{"more", func(r *request) { r.Pieces[1].More = `{"widht": 1}` }, "pieces[1].length"},
		{"more of all", func(r *request) { r.More = "[" }, "more"},
	} {
		x := r
		x.Sticks, x.Pieces, x.Runs = append([]stickRow(nil), r.Sticks...), append([]pieceRow(nil), r.Pieces...), append([]runRow(nil), r.Runs...)
		c.change(&x)
		a := ask(t, x)
		if len(a.Faults) == 0 || a.Faults[0].Field != c.field || a.Sheet != "" {
			t.Errorf("%s: %+v", c.name, a.Faults)
		}
	}
}

// A run that is too long reports the positions that it needs only if none is given.
func TestRunTooLong(t *testing.T) {
	for at, want := range map[string]string{"": "say where it may be spliced", " ": "say where it may be spliced", "32; 40": "at these places"} {
		r := job()
		r.Runs = []runRow{{}, {Label: "corridor", Length: "24 ft", At: at}}
		if a := ask(t, r); len(a.Faults) != 1 || !strings.Contains(a.Faults[0].Message, want) {
			t.Errorf("%q: %+v, want %q", at, a.Faults, want)
		}
	}
}

// A run whose splices cost nothing is not spliced at every stud.
func TestFewSplices(t *testing.T) {
	r := request{
		Kerf:   `1/8"`,
		Sticks: []stickRow{{Length: "12 ft", Price: "19.08", Limit: "5", Defects: "30 to 31 1/2"}, {Length: "16 ft", Price: "26.08"}},
		Pieces: []pieceRow{{Length: "8 ft"}, {Length: `7' 4-3/4"`}, {Length: "41 1/2", Quantity: "2"}},
		Runs:   []runRow{{Label: "long wall", Length: `28' 4"`, At: "every 16 from 7 1/4", Overlap: "3/4"}},
	}
	a := ask(t, r)
	if len(a.Faults) > 0 || a.Cost != "$90.32" || !a.Proven || !strings.Contains(a.Sheet, "long wall 4 of 4") {
		t.Errorf("%v, %s, proven %t, %d pieces", a.Faults, a.Cost, a.Proven, a.Pieces)
	}
}

// Whoever asked may end the search, before there is a plan or after.
func TestStopped(t *testing.T) {
	text, err := json.Marshal(job())
	if err != nil {
		t.Fatal(err)
	}
	for _, after := range []int{0, 1} {
		told := 0
		var a answer
		reply := respond("answer", string(text), func(string) bool { told++; return told <= after })
		if err := json.Unmarshal([]byte(reply), &a); err != nil {
			t.Fatal(err)
		}
		if told > after+1 {
			t.Errorf("%d reports after the end", told)
		}
		if (a.Sheet == "") == (len(a.Faults) == 0) {
			t.Errorf("got %d bytes and %v", len(a.Sheet), a.Faults)
		}
	}
}
