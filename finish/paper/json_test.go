package paper_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"example.com/longpoint/finish/paper"
	"example.com/longpoint/measure"
)

// JSON reads back the same, and is then written the same.
func TestJSONReadsBack(t *testing.T) {
	for _, p := range []*paper.Proposal{schoolhouse(), lumpSum(), {}} {
		got, err := paper.ReadProposal(strings.NewReader(text(t, p.WriteJSON)))
		if err != nil || !reflect.DeepEqual(got, p) {
			t.Errorf("%v: %+v", err, got)
		}
	}
	elsewhere := week()
	zone := time.FixedZone("", -6*60*60)
	elsewhere.Days[0].Rooms[0].Steps[0].From = time.Date(2026, 12, 7, 8, 0, 0, 0, zone)
	elsewhere.Days[0].Rooms[0].Steps[0].To = time.Date(2026, 12, 8, 0, 0, 0, 0, zone)
	for _, s := range []*paper.DaySheets{week(), elsewhere, {}} {
		first := text(t, s.WriteJSON)
		got, err := paper.ReadDaySheets(strings.NewReader(first))
		if err != nil {
			t.Fatal(err)
		}
		if text(t, got.WriteJSON) != first {
			t.Error("read back and written again, the JSON differs")
		}
		for _, width := range []int{40, 80} {
			as := func(s *paper.DaySheets) string {
				return text(t, func(w io.Writer) error { return s.WriteText(w, width) })
			}
			if as(got) != as(s) {
				t.Error("read back, the text differs")
			}
		}
	}
}

// fields lists the paths of faults.
func fields(err error) (all []string) {
	for e := range measure.FieldErrors(err) {
		all = append(all, e.Field)
	}
	return all
}

func TestJSONIsStrict(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{``, ""},
		{`{}`, "format version"},
		{`[]`, ""},
		{`{"format":"longpoint cut sheet","version":3,"plan":{}}`, "format version"},
		{`{"format":"longpoint proposal","version":2,"proposal":{"new":1}}`, "version"},
		{`{"format":"longpoint proposal","version":"1","proposal":{}}`, "version"},
		{`{"format":"longpoint proposal","version":1}`, "proposal"},
		{`{"format":"longpoint proposal","version":1,"proposal":null}`, "proposal"},
		{`{"format":"longpoint proposal","version":1,"proposal":{}} x`, ""},
		{`{"format":"longpoint proposal","version":1,"proposal":{"pirce":5,"price":1.5,"date":"2026-02-30","scope":[{"items":[{"length":"long"}]}],"dates":"roman"}}`,
			"proposal.pirce proposal.price proposal.date proposal.scope[0].items[0].length proposal.dates"},
		{`{"format":"longpoint proposal","version":1,"proposal":{"price":5,"price":6}}`, "proposal.price"},
		{`{"format":"longpoint proposal","version":1,"proposal":{"price":-5,"cost":6}}`, "proposal.cost"},
		{`{"format":"longpoint proposal","version":1,"proposal":{"price":-5,"site":[""]}}`, "proposal.site[0] proposal.price"},
	} {
		p, err := paper.ReadProposal(strings.NewReader(c.text))
		if got := strings.Join(fields(err), " "); p != nil || err == nil || got != c.want {
			t.Errorf("%s: fields %q, want %q: %v", c.text, got, c.want, err)
		}
	}
	for _, c := range []struct{ text, want string }{
		{`{"format":"longpoint proposal","version":1,"proposal":{}}`, "format"},
		{`{"format":"longpoint day sheets","version":1}`, "day_sheets"},
		{`{"format":"longpoint day sheets","version":1,"day_sheets":{"days":[{"date":"2026-12-01","rooms":[{"room":"R","steps":[{"name":"S","from":"8:00"}]}]}]}}`, "day_sheets.days[0].rooms[0].steps[0].from"},
		{`{"format":"longpoint day sheets","version":1,"day_sheets":{"days":[{}]}}`, "day_sheets.days[0].date"},
	} {
		s, err := paper.ReadDaySheets(strings.NewReader(c.text))
		if got := strings.Join(fields(err), " "); s != nil || err == nil || got != c.want {
			t.Errorf("%s: fields %q, want %q: %v", c.text, got, c.want, err)
		}
	}
	odd := errors.New("odd")
	if _, err := paper.ReadProposal(iotest.ErrReader(odd)); err != odd {
		t.Error(err)
	}
	if _, err := paper.ReadDaySheets(iotest.ErrReader(odd)); err != odd {
		t.Error(err)
	}
}

// A nested value of any kind in place of a field: an error and no panic.
func TestJSONAnyValue(t *testing.T) {
	var file map[string]any
	if err := json.Unmarshal([]byte(text(t, schoolhouse().WriteJSON)), &file); err != nil {
		t.Fatal(err)
	}
	for name := range file["proposal"].(map[string]any) {
		for _, v := range []any{nil, true, -1, 1e300, "x", "\x00", []any{}, []any{nil}, []any{[]any{}}, map[string]any{}, map[string]any{"x": 1}} {
			var again map[string]any
			if err := json.Unmarshal([]byte(text(t, schoolhouse().WriteJSON)), &again); err != nil {
				t.Fatal(err)
			}
			again["proposal"].(map[string]any)[name] = v
			data, err := json.Marshal(again)
			if err != nil {
				t.Fatal(err)
			}
			p, err := paper.ReadProposal(bytes.NewReader(data))
			if (p == nil) == (err == nil) {
				t.Errorf("%s as %v: %v, %v", name, v, p, err)
			}
			if err != nil && len(fields(err)) == 0 {
				t.Errorf("%s as %v: %v does not name a field", name, v, err)
			}
		}
	}
}
