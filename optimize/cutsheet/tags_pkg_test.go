package cutsheet

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/internal/typeset"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

var hostileNames = []string{
	"", "classroom", "cloakroom", "N", "S left", "=1+1", "<b>&amp;", "a\x1b[31mb", "\u202eright to left", "עברית", "漢字仮名交じり文", "e\u0301\u0301\u0301", "a,b;c\"d\r\ne",
	"a label that goes on and on, past all that anybody would say of a piece of base in the corridor", strings.Repeat("W", 120), "12' 3-1/4\"",
}

// anySheet draws a small job with rooms, walls, runs and rooms that wait, and options of all kinds.
func anySheet(t *rapid.T) (optimize.Problem, *optimize.Plan, Options) {
	name := rapid.SampledFrom(hostileNames)
	p := optimize.Problem{
		Kerf:   measure.Inch / 8,
		Sticks: []stock.Stick{{Label: name.Draw(t, "stick"), Length: 8 * measure.Foot, Price: 1000}, {Length: 12 * measure.Foot, Price: 1700}},
	}
	kinds := []stock.EndKind{stock.EndSquare, stock.EndCope, stock.EndOutsideMiter, stock.EndFlatMiter, stock.EndPlumb}
	for range rapid.IntRange(1, 6).Draw(t, "pieces") {
		p.Pieces = append(p.Pieces, stock.Piece{
			Label: name.Draw(t, "label"), Room: name.Draw(t, "room"), Wall: name.Draw(t, "wall"), Assumed: rapid.Bool().Draw(t, "assumed"),
			Length:   measure.Length(rapid.IntRange(16*4, 16*90).Draw(t, "sixteenths")) * measure.Inch / 16,
			Quantity: rapid.IntRange(1, 4).Draw(t, "quantity"),
			Left:     stock.End{Kind: rapid.SampledFrom(kinds).Draw(t, "left")}, Right: stock.End{Kind: rapid.SampledFrom(kinds).Draw(t, "right")},
		})
		if rapid.Bool().Draw(t, "noted") {
			p.Pieces[len(p.Pieces)-1].Notes = []string{name.Draw(t, "note")}
		}
	}
	if rapid.Bool().Draw(t, "run") {
		p.Runs = []stock.Run{{
			Label: name.Draw(t, "run"), Room: name.Draw(t, "run room"), Wall: name.Draw(t, "run wall"), Length: 13 * measure.Foot,
			Splice: stock.SpliceRule{At: []measure.Length{5 * measure.Foot, 7 * measure.Foot}, Assumed: rapid.Bool().Draw(t, "assumed studs")},
		}}
	}
	plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 100_000})
	if err != nil {
		t.Fatal(err)
	}
	o := Options{
		Title: name.Draw(t, "title"), Job: name.Draw(t, "job"), Date: name.Draw(t, "date"), Revision: name.Draw(t, "revision"),
		Width: rapid.IntRange(40, 200).Draw(t, "width"), Unicode: rapid.Bool().Draw(t, "unicode"), ProofDetails: rapid.Bool().Draw(t, "details"),
		Tags: TagGrid{
			Columns: rapid.IntRange(1, 4).Draw(t, "columns"), Rows: rapid.IntRange(1, 10).Draw(t, "rows"),
			Left: measure.Inch / 4, RowGap: measure.Inch / 16, ByRoom: rapid.Bool().Draw(t, "by room"),
		},
	}
	o.Locale.Metric, o.Locale.DecimalComma = rapid.Bool().Draw(t, "metric"), rapid.Bool().Draw(t, "comma")
	o.Locale.Length.Words = rapid.IntRange(0, 4).Draw(t, "words") == 0
	o.Tags.Skip = rapid.IntRange(0, o.Tags.Columns*o.Tags.Rows-1).Draw(t, "skip")
	if rapid.Bool().Draw(t, "holds") {
		if room := name.Draw(t, "held"); room != "" {
			o.Hold = []Hold{{Room: room, Reason: name.Draw(t, "reason")}}
		}
	}
	return p, plan, o
}

// Each piece is in the index once and on one tag, in every order, whether it waits or not.
func TestEveryPieceOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, plan, o := anySheet(t)
		s, err := New(context.Background(), p, plan, &o)
		if err != nil {
			t.Fatal(err)
		}
		want := make(map[int]int64)
		for i := range p.Pieces {
			want[i] = int64(p.Pieces[i].Quantity)
		}
		for i := range plan.Parts {
			want[len(p.Pieces)+i] = 1
		}
		count := func(what string, got map[int]int64) {
			if fmt.Sprint(got) != fmt.Sprint(want) {
				t.Errorf("%s: pieces %v, want %v", what, got, want)
			}
		}
		index, rooms := make(map[int]int64), make(map[string]bool)
		for _, room := range s.indexOf() {
			if rooms[room.room] {
				t.Errorf("room %q comes twice", room.room)
			}
			rooms[room.room] = true
			for i, row := range room.rows {
				index[row.piece] += row.count
				if r, w := s.place(row.piece); r != room.room || w != row.wall {
					t.Errorf("%q, %q is below %q, %q", r, w, room.room, row.wall)
				}
				if i > 0 && room.rows[i-1].wall != row.wall && slices.ContainsFunc(room.rows[:i-1], func(r indexRow) bool { return r.wall == row.wall }) {
					t.Errorf("wall %q of %q occurs twice", row.wall, room.room)
				}
			}
		}
		count("index", index)
		tags := make(map[int]int64)
		seen := make(map[tag]int)
		for _, g := range s.tagsOf() {
			c := &g.p.cuts[g.cut]
			tags[c.piece] += g.count
			if seen[g]++; seen[g] > c.n || g.stick < 1 || g.stick > g.p.Count {
				t.Errorf("%d tags for cut %d of stick %d", seen[g], g.cut+1, g.stick)
			}
		}
		count("tags", tags)
		cuts := make(map[int]int64)
		now, later := s.inOrder()
		for _, q := range append(now, later...) {
			for i := range q.cuts {
				cuts[q.cuts[i].piece] += q.total(&q.cuts[i])
			}
		}
		count("patterns in order", cuts)
	})
}

// The page of tags is well-formed, has a tag for each piece, and none of its lines is longer than its
// tag by the estimated widths of its letters.
func TestTagPage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, plan, o := anySheet(t)
		s, err := New(context.Background(), p, plan, &o)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := s.WriteTags(&b); err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(strings.NewReader(b.String()))
		d.Strict = true
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
		var pieces int64
		for i := range p.Pieces {
			pieces += int64(p.Pieces[i].Quantity)
		}
		pieces += int64(len(plan.Parts))
		if n := strings.Count(b.String(), `<div class="tag c`); int64(n) != pieces {
			t.Errorf("%d tags for %d pieces", n, pieces)
		}
		if n := strings.Count(b.String(), s.Fingerprint()); int64(n) != pieces+1 {
			t.Errorf("the fingerprint occurs %d times, %d pieces", n, pieces)
		}
		b.Reset()
		if err := s.WriteTagsCSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(b.Bytes())).ReadAll()
		if err != nil || int64(len(rows)) != pieces+1 {
			t.Fatalf("%d rows for %d pieces, %v", len(rows), pieces, err)
		}
		for i, tag := range s.tagsOf() {
			c := &tag.p.cuts[tag.cut]
			room, _ := s.place(c.piece)
			if r := rows[i+1]; r[0] != harmless(typeset.Visible(room)) || r[6] != tag.p.key || r[7] != fmt.Sprint(tag.cut+1) || r[8] != fmt.Sprint(tag.stick) ||
				r[15] != s.Fingerprint() || (r[11] != "") != c.wait {
				t.Errorf("row %q of %+v", r, tag)
			}
		}
		g := tagPage{Sheet: s, grid: s.options.Tags.filled(false)}
		l := g.letters()
		for _, tag := range s.tagsOf() {
			lines := g.tagLines(&tag, &l)
			if len(lines) > l.lines {
				t.Errorf("%d lines where there is room for %d", len(lines), l.lines)
			}
			for _, line := range lines {
				if n := typeset.Cells(line.text); n > l.cells {
					t.Errorf("%q takes %d cells of %d", line.text, n, l.cells)
				}
			}
		}
		if h := 2*l.pad + measure.Length(l.lines+2)*l.small*5/4; h > g.grid.height() {
			t.Errorf("the lines take %v of %v", h, g.grid.height())
		}
	})
}

// If there are many pieces, those cut alike share a tag.
func TestTagsOfMany(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot}},
		Pieces: []stock.Piece{{Length: 2 * measure.Foot, Quantity: 40_000_000, Room: "classroom"}, {Length: 3 * measure.Foot, Quantity: 7}},
	}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, byRoom := range []bool{false, true} {
		s, err := New(context.Background(), p, plan, &Options{Tags: TagGrid{ByRoom: byRoom}})
		if err != nil {
			t.Fatal(err)
		}
		sum := int64(0)
		tags := s.tagsOf()
		for _, g := range tags {
			sum += g.count
		}
		if sum != 40_000_007 || len(tags) > 10 {
			t.Errorf("%d tags for %d pieces", len(tags), sum)
		}
	}
}

// Tags of a grid are within its margins, none on another, and the last ends where the margin begins, to
// a tick.
func TestTagGridFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Int64Range(0, int64(2*measure.Inch))
		draw := func(what string) measure.Length { return measure.Length(l.Draw(t, what)) }
		g := TagGrid{
			Columns: rapid.IntRange(1, 12).Draw(t, "columns"), Rows: rapid.IntRange(1, 40).Draw(t, "rows"),
			PageWidth: 20*measure.Inch + draw("width"), PageHeight: 30*measure.Inch + draw("height"),
			Top: draw("top"), Bottom: draw("bottom"), Left: draw("left"), Right: draw("right"), ColumnGap: draw("column gap") / 8, RowGap: draw("row gap") / 8,
		}
		if err := g.check(false); err != nil {
			t.Skip(err)
		}
		for k := range g.Columns {
			if k == 0 && g.left(k) != g.Left || k > 0 && g.left(k) < g.left(k-1)+g.width()+g.ColumnGap {
				t.Errorf("column %d begins at %v", k, g.left(k))
			}
		}
		for k := range g.Rows {
			if k == 0 && g.top(k) != g.Top || k > 0 && g.top(k) < g.top(k-1)+g.height()+g.RowGap {
				t.Errorf("row %d begins at %v", k, g.top(k))
			}
		}
		right, bottom := g.left(g.Columns-1)+g.width(), g.top(g.Rows-1)+g.height()
		if off := g.PageWidth - g.Right - right; off < 0 || off > 2 {
			t.Errorf("the last column ends %d ticks before the margin", off)
		}
		if off := g.PageHeight - g.Bottom - bottom; off < 0 || off > 2 {
			t.Errorf("the last row ends %d ticks before the margin", off)
		}
	})
}

func TestBadOptions(t *testing.T) {
	p := optimize.Problem{Sticks: []stock.Stick{{Length: 8 * measure.Foot}}, Pieces: []stock.Piece{{Length: 3 * measure.Foot}}}
	plan, err := optimize.Solve(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	in := measure.Inch
	for field, o := range map[string]Options{
		"options.job":              {Job: strings.Repeat("é", 201)},
		"options.date":             {Date: "\xff"},
		"options.revision":         {Revision: strings.Repeat("2", 201)},
		"options.width":            {Width: 39},
		"options.hold[1].room":     {Hold: []Hold{{Room: "a"}, {Reason: "b"}}},
		"options.hold[0].reason":   {Hold: []Hold{{Room: "a", Reason: "\xff"}}},
		"options.tags.columns":     {Tags: TagGrid{Columns: 9, Rows: 1}},
		"options.tags.rows":        {Tags: TagGrid{Columns: 1, Rows: 23}},
		"options.tags.skip":        {Tags: TagGrid{Skip: 24}},
		"options.tags.top":         {Tags: TagGrid{Top: -in}},
		"options.tags.page_width":  {Tags: TagGrid{PageWidth: 5280 * measure.Foot}},
		"options.tags.page_height": {Tags: TagGrid{PageWidth: 4 * in}},
		"options.tags.column_gap":  {Tags: TagGrid{Columns: 2, Rows: 2, ColumnGap: -1}},
		"options.tags.row_gap":     {Tags: TagGrid{Columns: 2, Rows: 2, RowGap: 1 << 62}},
		"options.tags.bottom":      {Tags: TagGrid{Bottom: -1}},
		"options.tags.left":        {Tags: TagGrid{Left: -1}},
		"options.tags.right":       {Tags: TagGrid{Right: -1}},
	} {
		_, err := New(context.Background(), p, plan, &o)
		var found []string
		for e := range measure.FieldErrors(err) {
			found = append(found, e.Field)
		}
		if !slices.Contains(found, field) {
			t.Errorf("%s: %v", field, err)
		}
	}
	for _, o := range []Options{
		{Job: strings.Repeat("é", 200), Width: 40}, {Width: 200}, {Tags: TagGrid{Columns: 8, Rows: 22}}, {Tags: TagGrid{Skip: 23}},
		{Tags: TagGrid{PageWidth: 4 * in, PageHeight: 6 * in, Columns: 1, Rows: 3}},
	} {
		if _, err := New(context.Background(), p, plan, &o); err != nil {
			t.Error(err)
		}
	}
}
