package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// give opens a file in the page.
func (b *tab) give(name string, text []byte) {
	b.t.Helper()
	file := filepath.Join(b.t.TempDir(), name)
	if err := os.WriteFile(file, text, 0o666); err != nil {
		b.t.Fatal(err)
	}
	b.Give("#file", file)
}

// A job goes out as a file that the library reads, and comes back as it was.
func TestBrowserFile(t *testing.T) {
	b := page(t)
	p := optimize.Problem{
		Kerf: measure.MustParse("3.2 mm"), MinRemnant: measure.MustParse("9 in"),
		Sticks: []stock.Stick{
			{Label: "pine", Length: measure.MustParse("12 ft"), Price: 1908, Limit: 9, TrimStart: measure.MustParse("1/2 in"), Grade: 1,
				Defects: []stock.Defect{{From: measure.MustParse("30 in"), To: measure.MustParse("31 1/2 in")}}, Bundle: 3, Breaks: []stock.PriceBreak{{From: 6, Price: 1800}}},
			{ID: "R-1", Length: measure.MustParse("61 in"), Rack: true, Limit: 1, Grade: 2},
			{Length: measure.MustParse("16 ft"), Price: 2608, Limit: stock.SoldOut},
			{Length: measure.MustParse("16 ft"), Price: 2708},
		},
		Pieces: []stock.Piece{
			{Label: "sill", Length: measure.MustParse("41 1/2 in"), Quantity: 2, Left: stock.End{Kind: stock.EndOutsideMiter, Angle: 88 * measure.Degree}, Right: stock.End{Kind: stock.EndScribe}, Notes: []string{"ripped to 3\""}},
			{Label: "leg", Length: measure.MustParse("7' 4-3/4\""), Quantity: 2, Symmetry: stock.SymmetryEnds, Grade: 1},
		},
		Runs: []stock.Run{{Label: "north wall", Length: measure.MustParse("24 ft"), Splice: stock.SpliceRule{At: []measure.Length{measure.MustParse("8 ft"), measure.MustParse("12 ft"), measure.MustParse("16 ft")}, Overlap: measure.MustParse("3/4 in")}}},
		Rules: optimize.Rules{MaxPieces: 7, Spare: 1, MaxTransport: measure.MustParse("16 ft"), YardCut: 150,
			Groups: []optimize.Group{{Kind: optimize.GroupOneLot, Pieces: []int{0, 1}}}, Goals: []optimize.Goal{optimize.GoalCost, optimize.GoalCuts}},
	}
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	b.give("Teacher's room (1).json", text)
	b.note("was opened")
	b.settled("done")
	if got := b.title(); got != "Teacher's room" {
		t.Errorf("the job is called %q", got)
	}
	b.sheet("north wall", "outside miter")
	if got := value[string](b, "document.querySelector('#sticks .also').textContent"); !strings.Contains(got, "breaks, bundle") {
		t.Errorf("besides the fields, the page says %q", got)
	}
	b.shot("file")
	plan, err := optimize.Solve(t.Context(), p, &optimize.Options{Work: 200_000_000})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := value[string](b, "document.getElementById('n-cost').textContent"), fmt.Sprintf("$%d.%02d", plan.Cost/100, plan.Cost%100); got != want {
		t.Errorf("it costs %s, want %s", got, want)
	}

	dir := t.TempDir()
	b.Downloads(dir)
	value[any](b, "document.getElementById('save').click()")
	b.note("Teacher's room.json was saved")
	saved := filepath.Join(dir, "Teacher's room.json")
	var back optimize.Problem
	for range 500 { // the browser writes it when it has the time
		if text, err = os.ReadFile(saved); err == nil && measure.UnmarshalStrict(text, &back) == nil {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if !reflect.DeepEqual(back, p) {
		t.Errorf("it was read back as %s", text)
	}

	// An unreadable field cannot be saved, and is brought into view, folded away or not.
	value[any](b, `document.querySelector('#pieces [data-field="right_angle"]').value = "bent", document.querySelectorAll("details").forEach((d) => d.open = false), document.getElementById("save").click()`)
	b.note("Nothing was saved")
	if got := b.focus(); got != "piece 1: right end, angle" {
		t.Errorf("the focus is in %q", got)
	}
	b.quiet()
}

// A file that is not a job is rejected with the place and reason, and the form stays unchanged.
func TestBrowserBrokenFile(t *testing.T) {
	b := page(t)
	for _, c := range []struct{ name, text, says string }{
		{"empty", "", "JSON"},
		{"torn", `{"sticks": [{"length": "12ft"}`, "breaks off"},
		{"not text", "\xff\xfe{}", "UTF-8"},
		{"misspelled", `{"sticks": [{"length": "12ft", "prize": 3}], "pieces": []}`, "sticks[0].prize"},
		{"furlongs", `{"pieces": [{"label": "<img src=x onerror=alert(1)>", "length": "10 furlongs"}]}`, "pieces[0].length"},
		{"zero", `{"pieces": [{"label": "", "length": "1in", "quantity": 0}]}`, "pieces[0].quantity"},
		{"group", `{"pieces": [{"label": "", "length": "1in"}], "rules": {"groups": [{"kind": "one stick", "pieces": [0, 7]}]}}`, "piece 7"},
		{"rows", `{"pieces": [` + strings.Repeat(`{"label": "", "length": "1in"},`, 1000) + `{"label": "", "length": "1in"}]}`, "1001"},
		{"deep", strings.Repeat(`[`, 200_000), ""},
		{"large", strings.Repeat(" ", 9_000_000), "too long"},
	} {
		b.give(c.name+".json", []byte(c.text))
		b.Until("!document.getElementById('file-faults').hidden && document.getElementById('file-faults').innerText.includes(" + quote(c.name+".json was not opened") + ")")
		if got := value[string](b, "document.getElementById('file-faults').innerText"); !strings.Contains(got, c.says) {
			t.Errorf("%s: the page says %q", c.name, got)
		}
		if got := b.focus(); got != "file-faults" {
			t.Errorf("%s: the focus is in %q", c.name, got)
		}
		b.state("done", "Proven")
	}
	b.shot("broken-file")
	b.quiet()
}

func quote(s string) string { text, _ := json.Marshal(s); return string(text) }
