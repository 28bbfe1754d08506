package finish_test

import (
	"encoding/json"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// Every kind of value in a job file states its position and its kind.
func TestJobFilesNameThePath(t *testing.T) {
	type job struct {
		Shelf      finish.Shelf           `json:"shelf"`
		Labor      labor.Rates            `json:"labor"`
		Work       []finish.Work          `json:"work"`
		Gap        *finish.Bead           `json:"gap"`
		Candidates []estimate.Alternative `json:"alternatives"`
		Building   finish.Building        `json:"building"`
		Site       schedule.Calendar      `json:"calendar"`
	}
	for _, c := range []struct{ text, field, value string }{
		{`{"shelf":{"products":[{},{"packages":[{"size":"a lot"}]}]}}`, "shelf.products[1].packages[0].size", "a lot"},
		{`{"shelf":{"products":[{"packages":[{"price":12.5}]}]}}`, "shelf.products[0].packages[0].price", "12.5"},
		{`{"shelf":{"products":[{"yield":"plenty per can"}]}}`, "shelf.products[0].yield", "plenty per can"},
		{`{"labor":{"table":[{"task":"varnish"}]}}`, "labor.table[0].task", "varnish"},
		{`{"shelf":{"drying":[{"dry":{"recoat":"soon"}}]}}`, "shelf.drying[0].dry.recoat", "soon"},
		{`{"work":[{"job":{"length":"long"}}]}`, "work[0].job.length", "long"},
		{`{"work":[{"job":{"length":12}}]}`, "work[0].job.length", "12"},
		{`{"work":[{"system":{"steps":[{"waste":{"share":"much"}}]}}]}`, "work[0].system.steps[0].waste.share", "much"},
		{`{"work":[{"system":{"steps":[{"section":{"shape":"oval"}}]}}]}`, "work[0].system.steps[0].section.shape", "oval"},
		{`{"gap":{"readings":[{"at":"0 in"},{"width":"wide"}]}}`, "gap.readings[1].width", "wide"},
		{`{"alternatives":[{"labor":"soon"}]}`, "alternatives[0].labor", "soon"},
		{`{"alternatives":[{"costs":[{"taxed":"yes"}]}]}`, "alternatives[0].costs[0].taxed", "yes"},
		{`{"building":{"year":"old"}}`, "building.year", "old"},
		{`{"building":{"year":99999999999999999999}}`, "building.year", "99999999999999999999"},
		{`{"calendar":{"days":"Mon Funday"}}`, "calendar.days", "Mon Funday"},
		{`{"calendar":{"off":["2026-02-30"]}}`, "calendar.off[0]", "2026-02-30"},
		{`{"calendar":{"start":"tomorrow"}}`, "calendar.start", "tomorrow"},
		{`{"shelf":{"produce":[]}}`, "shelf.produce", "[]"},
		{`{"shelf":{"Products":[]}}`, "shelf.Products", "[]"},
		{`{"building":{"year":1924,"year":1978}}`, "building.year", "1978"},
		{`{"shelf":[]}`, "shelf", "[]"},
		{`{"shelf":{"products":{}}}`, "shelf.products", "{}"},
	} {
		err := measure.UnmarshalStrict([]byte(c.text), new(job))
		var f *measure.FieldError
		if !errors.As(err, &f) || f.Field != c.field || f.Value != c.value || f.Want == "" {
			t.Errorf("%s: %v, want field %q, value %q", c.text, err, c.field, c.value)
		}
	}
}

// measure.UnmarshalStrict reads what encoding/json reads and writes.
func TestStrictAgreesWithJSON(t *testing.T) {
	var byUnmarshal, byStrict finish.Shelf
	if err := errors.Join(json.Unmarshal([]byte(shelfText), &byUnmarshal), measure.UnmarshalStrict([]byte(shelfText), &byStrict)); err != nil {
		t.Fatal(err)
	}
	same := cmp.Comparer(func(a, b finish.Amount) bool { return a == b })
	if d := cmp.Diff(byUnmarshal, byStrict, same); d != "" {
		t.Error(d)
	}
	list := must[*finish.List](t)(finish.NewList(append(paintedJobs(), tileJob()[0])[1:], shelf(t)))
	text, err := json.Marshal(list)
	if err != nil {
		t.Fatal(err)
	}
	var back finish.List
	if err := measure.UnmarshalStrict(text, &back); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(*list, back, same); d != "" {
		t.Error(d)
	}
	if text, err = json.Marshal([]finish.Shelf{{}}); err != nil || measure.UnmarshalStrict(text, new([]finish.Shelf)) != nil {
		t.Errorf("an empty shelf, %s, is not read back: %v", text, err)
	}
}

func FuzzShelf(f *testing.F) {
	f.Add([]byte(shelfText))
	f.Add([]byte(`{"products":[null,{"packages":[{"size":null}]}],"rates":null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var a, b finish.Shelf
		if measure.UnmarshalStrict(data, &a) != nil {
			return
		}
		if err := json.Unmarshal(data, &b); err != nil {
			t.Fatalf("%s: accepted, but encoding/json rejects it: %v", data, err)
		}
	})
}
