package main

import (
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

// texts are inputs that people and others put into fields.
var texts = []string{
	"", " ", "0", "-1", "1", "3", "12", "7-4", "88 3/4", "12 ft", "1/3", "1e9", "99999999999999999999", "9007199254740991 mm", "0.0000125 mm", "every 16", "every 0.0000125 mm", "every 16 from 7 1/4",
	"12 to 14; 20 to 19", "to", "square", "outside miter", "any way", "one lot", "yes", "sold out", "90", "-90", "180°", "22°30'", "廊下", "\x00\xff", "<b>&", strings.Repeat("9", 5000), strings.Repeat("1 to 2;", 3000), `{}`, `{"length": 3}`, `{"notes": ["a"]}`, `[`, "$19.08", "½", "seven four",
}

// Whatever the form holds, there is a readable answer, and none that is both a sheet and a list of
// faults.
func TestHostileForm(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	var fill func(reflect.Value)
	fill = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.String:
			if r.IntN(2) == 0 {
				v.SetString(texts[r.IntN(len(texts))])
			}
		case reflect.Struct:
			for i := range v.NumField() {
				fill(v.Field(i))
			}
		case reflect.Slice:
			for range r.IntN(3) {
				v.Set(reflect.Append(v, reflect.New(v.Type().Elem()).Elem()))
				fill(v.Index(v.Len() - 1))
			}
		}
	}
	sheets := 0
	for k := range 2000 {
		x := request{}
		if k%2 == 0 {
			x = job() // one field of a job that is right otherwise
			x.Runs = []runRow{{Label: "corridor", Length: "20 ft", At: "every 16"}}
			rows := []reflect.Value{reflect.ValueOf(&x.Sticks[0]), reflect.ValueOf(&x.Pieces[0]), reflect.ValueOf(&x.Runs[0]), reflect.ValueOf(&x.Rules), reflect.ValueOf(&x)}
			row := rows[r.IntN(len(rows))].Elem()
			for {
				if f := row.Field(r.IntN(row.NumField())); f.Kind() == reflect.String {
					f.SetString(texts[r.IntN(len(texts))])
					break
				}
			}
		} else {
			fill(reflect.ValueOf(&x).Elem())
		}
		text, err := json.Marshal(x)
		if err != nil {
			t.Fatal(err)
		}
		told := 0
		var a answer
		if err := json.Unmarshal([]byte(respond("answer", string(text), func(string) bool { told++; return told < 3 })), &a); err != nil {
			t.Fatal(err)
		}
		if (a.Sheet == "") != (len(a.Faults) > 0) {
			t.Errorf("%s: a sheet of %d bytes and %v", text, len(a.Sheet), a.Faults)
		}
		if a.Sheet != "" {
			sheets++
		}
		for _, f := range a.Faults {
			if f.Message == "" {
				t.Errorf("%s: %s is not mentioned", text, f.Field)
			}
		}
		var s saved
		if err := json.Unmarshal([]byte(respond("save", string(text), nil)), &s); err != nil || (s.Text == "") != (len(s.Faults) > 0) {
			t.Errorf("%s: saved as %q with %v, %v", text, s.Text, s.Faults, err)
		}
		// A saved job can be opened again.
		if s.Text != "" {
			if o := openFile(s.Text); o.Form == nil {
				t.Errorf("%s: %v", s.Text, o.Faults)
			}
		}
	}
	if sheets < 300 {
		t.Errorf("only %d sheets", sheets)
	}
}

// Input that is neither a file nor a list is rejected.
func TestHostileText(t *testing.T) {
	for _, text := range append(texts, "{\"rules\": {\"groups\": [{}]}}", `{"sticks": [null], "pieces": [null], "runs": [null]}`, `{"rules": null}`, strings.Repeat(`{"rules":`, 20_000), strings.Repeat("\n", 100_000)) {
		for _, kind := range []string{"open", "list", "read", "save", "answer", "", "other"} {
			if out := respond(kind, text, func(string) bool { return true }); !json.Valid([]byte(out)) {
				t.Errorf("%s of %.60q: %.60q", kind, text, out)
			}
		}
	}
}
