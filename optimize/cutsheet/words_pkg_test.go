package cutsheet

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Text keeps its width whatever it contains, and breaks no length.
func TestTextWidth(t *testing.T) {
	cutOff := regexp.MustCompile(`(^|\s)(\d+'|\d+-\d+/)$`) // 12' or 1-3/ at the end of a line
	rapid.Check(t, func(t *rapid.T) {
		p, plan, o := anySheet(t)
		for i := range p.Pieces { // whole feet end a line as they may
			p.Pieces[i].Label = strings.ReplaceAll(p.Pieces[i].Label, "12' 3-1/4\"", "")
		}
		s, err := New(context.Background(), p, plan, &o)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := s.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
		for i, line := range lines {
			if n := typeset.Cells(line); n > o.Width {
				t.Errorf("%d cells of %d: %q", n, o.Width, line)
			}
			if m := cutOff.FindString(line); m != "" && i+1 < len(lines) && regexp.MustCompile(`^\s*\d+(-\d+/\d+|/\d+)?"`).MatchString(lines[i+1]) {
				t.Errorf("a length is broken: %q, %q", line, lines[i+1])
			}
		}
		for _, want := range []string{"fingerprint " + s.Fingerprint(), "Proven", "How good the plan is"} {
			if want == "Proven" && !plan.Proven {
				continue
			}
			if !strings.Contains(strings.Join(strings.Fields(b.String()), " "), want) {
				t.Errorf("no %q", want)
			}
		}
	})
}

// A reader of RFC 4180 reads back the CSV, with the same number of columns in every row, whether it
// knows the byte order mark or not; every cut has its row with its room, and the corner is separate
// from the readings of the saw.
func TestTableReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, plan, o := anySheet(t)
		s, err := New(context.Background(), p, plan, &o)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := s.WriteCSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(b.Bytes())).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		bare, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(b.String(), byteOrderMark))).ReadAll()
		if err != nil || len(bare) != len(rows) || !slices.Equal(bare[0][1:], rows[0][1:]) || bare[0][0] != "Row" || rows[0][0] != byteOrderMark+"Row" {
			t.Fatalf("%v, %q, %q", err, bare[0], rows[0])
		}
		head := rows[0]
		at := func(name string) int {
			k := slices.Index(head, name)
			if k < 0 {
				t.Fatalf("no column %s", name)
			}
			return k
		}
		if rows[1][0] != "sheet" || !strings.Contains(rows[1][at("Note")], s.Fingerprint()) || !strings.Contains(rows[1][at("Note")], orderNote) {
			t.Errorf("the first row is %q", rows[1])
		}
		rows = slices.DeleteFunc(rows[1:], func(r []string) bool { return r[0] != "piece" })
		now, later := s.inOrder()
		for _, p := range append(now, later...) {
			for i := range p.cuts {
				c := &p.cuts[i]
				room, wall := s.place(c.piece)
				visible := func(text string) string { return harmless(typeset.Visible(text)) }
				if len(rows) == 0 {
					t.Fatal("a cut has no row")
				}
				r := rows[0]
				rows = rows[1:]
				if r[at("Room")] != visible(room) || r[at("Wall")] != visible(wall) || r[at("Label")] != visible(s.pieceName(c.piece)) || r[at("Cut")] != fmt.Sprint(i+1) {
					t.Errorf("%q for cut %d of %q in %q on %q", r, i+1, s.pieceName(c.piece), room, wall)
				}
				if (r[at("On hold")] != "") != c.wait {
					t.Errorf("%q, waits: %v", r, c.wait)
				}
				for side, e := range map[string]stock.End{"Left": s.piece(c.piece).Left, "Right": s.piece(c.piece).Right} {
					want := map[stock.EndKind][3]string{ // derived: half the corner, on the flat for a flat miter
						stock.EndSquare: {}, stock.EndPlumb: {}, stock.EndCope: {"90", "45", ""}, stock.EndOutsideMiter: {"90", "45", ""}, stock.EndFlatMiter: {"90", "45", ""},
					}[e.Kind]
					if got := [3]string{r[at(side+" corner")], r[at(side+" saw miter")], r[at(side+" saw bevel")]}; got != want {
						t.Errorf("%v: %q, want %q", e.Kind, got, want)
					}
				}
			}
		}
		if len(rows) > 0 {
			t.Errorf("rows without a cut: %q", rows)
		}
	})
}

// The fingerprint depends on problem and cuts: labels of the sheet and the proof do not change it, and
// it survives JSON; any length, count, piece label or order of cuts does.
func TestFingerprint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, plan, o := anySheet(t)
		s, err := New(context.Background(), p, plan, &o)
		if err != nil {
			t.Fatal(err)
		}
		print := s.Fingerprint()
		if !regexp.MustCompile(`^[2-9A-Z]{3}-[2-9A-Z]{3}-[2-9A-Z]{3}$`).MatchString(print) {
			t.Errorf("the fingerprint is %q", print)
		}
		if got := fingerprint(&p, plan.WithoutProof()); got != print {
			t.Errorf("%s without the proof, else %s", got, print)
		}
		var b bytes.Buffer
		if err := s.WriteJSON(&b); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(b.String(), `"hold"`) != (len(o.Hold) == 0) {
			t.Errorf("rooms that wait: %v, in JSON %s", o.Hold, b.String())
		}
		read, again, options, err := ReadJSON(&b)
		if err != nil {
			t.Fatal(err)
		}
		if got := fingerprint(&read, again); got != print {
			t.Errorf("%s read back, written %s", got, print)
		}
		if options.Job != o.Job || options.Date != o.Date || options.Revision != o.Revision || fmt.Sprint(options.Hold) != fmt.Sprint(o.Hold) {
			t.Errorf("read back %+v, written %+v", options, o)
		}

		differs := func(what string, change func(p *optimize.Problem, plan *optimize.Plan)) {
			q, other := copied(t, p, plan)
			change(q, other)
			if got := fingerprint(q, other); got == print {
				t.Errorf("%s does not change the fingerprint", what)
			}
		}
		i := rapid.IntRange(0, len(p.Pieces)-1).Draw(t, "piece")
		k := rapid.IntRange(0, len(plan.Patterns)-1).Draw(t, "pattern")
		differs("a length", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[i].Length++ })
		differs("a stick", func(p *optimize.Problem, _ *optimize.Plan) { p.Sticks[0].TrimEnd++ })
		differs("the kerf", func(p *optimize.Problem, _ *optimize.Plan) { p.Kerf++ })
		differs("a label", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[i].Label += "x" })
		differs("a room", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[i].Room += "x" })
		differs("an end", func(p *optimize.Problem, _ *optimize.Plan) { p.Pieces[i].Left.Angle += 100 * measure.Degree })
		differs("a rule", func(p *optimize.Problem, _ *optimize.Plan) { p.Rules.Nest = true })
		differs("a count", func(_ *optimize.Problem, plan *optimize.Plan) { plan.Patterns[k].Count++ })
		differs("a piece more", func(_ *optimize.Problem, plan *optimize.Plan) {
			plan.Patterns[k].Pieces = append(plan.Patterns[k].Pieces, 0)
		})
		differs("a pattern less", func(_ *optimize.Problem, plan *optimize.Plan) { plan.Patterns = slices.Delete(plan.Patterns, k, k+1) })
		differs("what is bought", func(_ *optimize.Problem, plan *optimize.Plan) { plan.Buy[0].Count++ })
		if cut := plan.Patterns[k].Pieces; len(cut) > 1 && cut[0] != cut[len(cut)-1] {
			differs("the order of cuts", func(_ *optimize.Problem, plan *optimize.Plan) { slices.Reverse(plan.Patterns[k].Pieces) })
		}
		if len(plan.Spliced) > 0 && len(plan.Spliced[0].At) > 0 {
			differs("a splice", func(_ *optimize.Problem, plan *optimize.Plan) { plan.Spliced[0].At[0]++ })
		}
	})
}

// copied returns a copy of both that shares nothing with them.
func copied(t *rapid.T, p optimize.Problem, plan *optimize.Plan) (*optimize.Problem, *optimize.Plan) {
	var q optimize.Problem
	var other optimize.Plan
	a, err1 := json.Marshal(&p)
	b, err2 := json.Marshal(plan)
	if err1 != nil || err2 != nil || json.Unmarshal(a, &q) != nil || json.Unmarshal(b, &other) != nil {
		t.Fatal(err1, err2)
	}
	return &q, &other
}

// A fingerprint once printed stays that of the same plan.
func TestFingerprintStays(t *testing.T) {
	p := optimize.Problem{
		Kerf:   measure.Inch / 8,
		Sticks: []stock.Stick{{Label: "oak 8", Length: 8 * measure.Foot, Price: 1450}},
		Pieces: []stock.Piece{{Label: "coat rail", Length: 46 * measure.Inch, Quantity: 3}},
	}
	plan := optimize.Plan{
		Patterns: []optimize.Pattern{{Count: 1, Pieces: []int{0, 0}}, {Count: 1, Pieces: []int{0}}},
		Buy:      []optimize.Purchase{{Count: 2, Cost: 2900}}, Cost: 2900,
	}
	if got, want := fingerprint(&p, &plan), "CVM-DX7-9DV"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// Every field of problem and cuts has a kind that goes into the fingerprint, and a name.
func TestFingerprintKnowsAllKinds(t *testing.T) {
	seen := make(map[reflect.Type]bool)
	var walk func(path string, v reflect.Type)
	walk = func(path string, v reflect.Type) {
		switch v.Kind() {
		case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64, reflect.Bool, reflect.String,
			reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		case reflect.Slice, reflect.Pointer:
			walk(path, v.Elem())
		case reflect.Struct:
			if seen[v] {
				return
			}
			seen[v] = true
			for i := range v.NumField() {
				f := v.Field(i)
				if f.Tag.Get("json") == "-" {
					t.Errorf("%s.%s has no name", path, f.Name)
				}
				walk(path+"."+f.Name, f.Type)
			}
		default:
			t.Errorf("%s is a %v", path, v.Kind())
		}
	}
	for _, v := range []any{optimize.Problem{}, optimize.Purchase{}, optimize.Pattern{}, optimize.SplicedRun{}} {
		walk(reflect.TypeOf(v).Name(), reflect.TypeOf(v))
	}
}
