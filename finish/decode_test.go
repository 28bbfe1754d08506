package finish_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/finish"
)

func ExampleDecode() {
	var shelf finish.Shelf
	err := finish.Decode([]byte(`{"products": [
		{"label": "painter's caulk", "material": "caulk",
		 "packages": [{"size": "10.1 fl oz", "price": 429}, {"size": "300 spoons", "price": 449}]}
	]}`), &shelf)
	var f *finish.FieldError
	if errors.As(err, &f) {
		fmt.Println(f.Field)
		fmt.Println(f.Value)
	}
	// Output:
	// products[0].packages[1].size
	// 300 spoons
}

func TestDecodeNamesThePath(t *testing.T) {
	type job struct {
		Name       string
		Shelf      finish.Shelf       `json:"shelf"`
		Work       []finish.Work      `json:"work"`
		Gap        *finish.GapBead    `json:"gap"`
		Candidates []finish.Candidate `json:"candidates"`
		Building   finish.Building    `json:"building"`
		Site       finish.Site        `json:"site"`
		hidden     int
	}
	for _, c := range []struct{ text, field, value string }{
		{`{"shelf":{"products":[{},{"packages":[{"size":"a lot"}]}]}}`, "shelf.products[1].packages[0].size", "a lot"},
		{`{"shelf":{"products":[{"packages":[{"price":12.5}]}]}}`, "shelf.products[0].packages[0].price", "12.5"},
		{`{"shelf":{"products":[{"yield":"plenty per can"}]}}`, "shelf.products[0].yield", "plenty per can"},
		{`{"shelf":{"products":[{"hazards":["solvents","dragons"]}]}}`, "shelf.products[0].hazards[1]", "dragons"},
		{`{"shelf":{"rates":[{"task":"varnish"}]}}`, "shelf.rates[0].task", "varnish"},
		{`{"shelf":{"drying":[{"dry":{"recoat":"soon"}}]}}`, "shelf.drying[0].dry.recoat", "soon"},
		{`{"work":[{"job":{"length":"long"}}]}`, "work[0].job.length", "long"},
		{`{"work":[{"job":{"length":12}}]}`, "work[0].job.length", "12"},
		{`{"work":[{"system":{"steps":[{"waste":{"share":"much"}}]}}]}`, "work[0].system.steps[0].waste.share", "much"},
		{`{"work":[{"system":{"steps":[{"section":{"shape":"oval"}}]}}]}`, "work[0].system.steps[0].section.shape", "oval"},
		{`{"gap":{"readings":[{"at":"0 in"},{"width":"wide"}]}}`, "gap.readings[1].width", "wide"},
		{`{"candidates":[{"labor":"soon"}]}`, "candidates[0].labor", "soon"},
		{`{"candidates":[{"extras":[{"taxed":"yes"}]}]}`, "candidates[0].extras[0].taxed", "yes"},
		{`{"building":{"year":"old"}}`, "building.year", "old"},
		{`{"building":{"year":99999999999999999999}}`, "building.year", "99999999999999999999"},
		{`{"site":{"days":"Mon Funday"}}`, "site.days", "Mon Funday"},
		{`{"site":{"off":["2026-02-30"]}}`, "site.off[0]", "2026-02-30"},
		{`{"site":{"start":"tomorrow"}}`, "site.start", "tomorrow"},
		{`{"shelf":{"produce":[]}}`, "shelf.produce", "[]"},
		{`{"shelf":{"Products":[]}}`, "shelf.Products", "[]"},
		{`{"hidden":1}`, "hidden", "1"},
		{`{"building":{"year":1924,"year":1978}}`, "building.year", "1978"},
		{`{"shelf":[]}`, "shelf", "[]"},
		{`{"shelf":{"products":{}}}`, "shelf.products", "{}"},
		{`{"Name":5}`, "Name", "5"},
		{`[]`, "the value", "[]"},
		{"{\n\"Name\": \"x\",\n\"work\": [}", "line 3", `"work": [}`},
		{`{} {}`, "text", "{}"},
		{``, "text", ""},
		{`{"Name": "x"`, "line 1", `{"Name": "x"`},
		{"{\n\"Name\": \"x\",\n\"work\": [\n\n", "line 3", `"work": [`},
		{"{\n\"Name\": \"x", "line 2", `"Name": "x`},
		{`{"name":"x"}`, "name", "x"},
		{`{"Name":"x","Name":"y"}`, "Name", "y"},
		{`{"name":null}`, "name", "null"},
		{`{"shelf":"full"}`, "shelf", "full"},
		{`{"work":"all"}`, "work", "all"},
	} {
		err := finish.Decode([]byte(c.text), new(job))
		var f *finish.FieldError
		if !errors.As(err, &f) || f.Field != c.field || f.Value != c.value || f.Want == "" {
			t.Errorf("%s: %v, want field %q, value %q", c.text, err, c.field, c.value)
		}
	}
	for _, v := range []any{nil, job{}, (*job)(nil)} {
		if err := finish.Decode([]byte(`{}`), v); !errors.As(err, new(*finish.FieldError)) {
			t.Errorf("into %T: %v, want a FieldError", v, err)
		}
	}
	_ = job{}.hidden
}

// What is cut off says so, and a text is quoted once.
func TestDecodeSays(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"{\n\"Name\": \"x\",\n\"work\": [\n", `finish: line 3 is "\"work\": [", want JSON to the end, but the text breaks off here`},
		{`{"name":"x"}`, `finish: name is "x", want one of the names here: Name, work`},
	} {
		v := new(struct {
			Name string
			Work []finish.Work `json:"work"`
		})
		if err := finish.Decode([]byte(c.text), v); err == nil || err.Error() != c.want {
			t.Errorf("%s:\n%v, want\n%s", c.text, err, c.want)
		}
	}
}

// What encoding/json reads and writes, Decode reads as well.
func TestDecodeAgreesWithJSON(t *testing.T) {
	var byUnmarshal, byDecode finish.Shelf
	if err := errors.Join(json.Unmarshal([]byte(shelfText), &byUnmarshal), finish.Decode([]byte(shelfText), &byDecode)); err != nil {
		t.Fatal(err)
	}
	same := cmp.Comparer(func(a, b finish.Amount) bool { return a == b })
	if d := cmp.Diff(byUnmarshal, byDecode, same); d != "" {
		t.Error(d)
	}
	list := must[*finish.List](t)(finish.Plan(append(paintedJobs(), tileJob()[0])[1:], shelf(t)))
	text, err := json.Marshal(list)
	if err != nil {
		t.Fatal(err)
	}
	var back finish.List
	if err := finish.Decode(text, &back); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(*list, back, same); d != "" {
		t.Error(d)
	}
	if text, err = json.Marshal([]finish.Shelf{{}}); err != nil || finish.Decode(text, new([]finish.Shelf)) != nil {
		t.Errorf("a shelf of nothing, %s, is not read back: %v", text, err)
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(shelfText))
	f.Add([]byte(`{"products":[null,{"packages":[{"size":null}]}],"rates":null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var a, b finish.Shelf
		if finish.Decode(data, &a) != nil {
			return
		}
		if err := json.Unmarshal(data, &b); err != nil {
			t.Fatalf("%s: Decode reads what json refuses: %v", data, err)
		}
	})
}
