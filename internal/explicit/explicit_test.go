package explicit_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"example.com/longpoint/internal/explicit"
)

type thing struct {
	Name  string `json:"name,omitempty"`
	Limit int    `json:"limit,omitempty" zero:"\"none\", or nothing" minus:"none"`
	Last  int    `json:"last"`
}

func TestUnmarshal(t *testing.T) {
	for text, want := range map[string]thing{
		`{}`:                                        {Name: "before", Limit: 5},
		`{"name":"a","limit":3,"last":0}`:           {Name: "a", Limit: 3},
		`{"LIMIT":"none","last":7}`:                 {Name: "before", Limit: -1, Last: 7},
		`{"limit":-1,"name":"\"limit\": 0"}`:        {Name: `"limit": 0`, Limit: -1},
		`{"limit":null,"other":{"limit":0}}`:        {Name: "before", Limit: 5},
		" {\n\"limit\" : 12 , \"name\":\"limit\"} ": {Name: "limit", Limit: 12},
		`null`: {Name: "before", Limit: 5},
	} {
		got := thing{Name: "before", Limit: 5}
		if fault, err := explicit.Unmarshal([]byte(text), &got); fault != nil || err != nil || got != want {
			t.Errorf("%s: %+v, %v, %v", text, got, fault, err)
		}
	}
	for text, value := range map[string]string{
		`{"limit":0}`: "0", `{"limit": -0 ,"name":"a"}`: "-0", `{"Limit":0}`: "0", `{"limit":1,"limit":0}`: "0",
		`{"limit":"0"}`: "0", `{"limit":"all"}`: "all", `{"limit":0.0}`: "",
	} {
		var got thing
		fault, err := explicit.Unmarshal([]byte(text), &got)
		if value == "" {
			if err == nil || fault != nil {
				t.Errorf("%s: %v, %v", text, fault, err)
			}
			continue
		}
		if fault == nil || err != nil || fault.Name != "limit" || fault.Field != "Limit" || fault.Value != value || !strings.Contains(fault.Want, `"none"`) {
			t.Errorf("%s: %+v, %v", text, fault, err)
		}
	}
	for _, text := range []string{``, `3`, `[]`, `{"limit":1`, `{"limit":[]}`, `{"last":"a"}`} {
		if fault, err := explicit.Unmarshal([]byte(text), new(thing)); fault != nil || err == nil {
			t.Errorf("%s: %+v, %v", text, fault, err)
		}
	}
}

func TestMarshal(t *testing.T) {
	for want, v := range map[string]thing{
		`{"last":0}`:            {},
		`{"limit":4,"last":-1}`: {Limit: 4, Last: -1},
		`{"name":"\"limit\":-1","limit":"none","last":2}`: {Name: `"limit":-1`, Limit: -1, Last: 2},
		`{"limit":"none","last":0}`:                       {Limit: -1},
	} {
		got, err := explicit.Marshal(v)
		if err != nil || string(got) != want || !json.Valid(got) {
			t.Errorf("%s, want %s: %v", got, want, err)
		}
		var back thing
		if fault, err := explicit.Unmarshal(got, &back); fault != nil || err != nil || back != v {
			t.Errorf("%s: %+v", got, back)
		}
	}
	if explicit.Has(reflect.TypeFor[struct{ A int }]()) || !explicit.Has(reflect.TypeFor[thing]()) {
		t.Error("Has")
	}
}
