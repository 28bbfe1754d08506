package measure_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
)

func ExampleUnmarshalStrict() {
	var order struct {
		Boards []struct {
			Length measure.Length `json:"length"`
			Price  int64          `json:"price"`
		} `json:"boards"`
	}
	err := measure.UnmarshalStrict([]byte(`{"boards": [
		{"length": "7ft 4-3/4in", "price": 1120},
		{"length": "88.75", "prize": 990}
	]}`), &order)
	for e := range measure.FieldErrors(err) {
		fmt.Printf("%s is %s, want %s\n", e.JSONPath(), e.Value, e.Want)
	}
	// Output:
	// $.boards[1].length is 88.75, want a length, such as "7ft 4-3/4in"
	// $.boards[1].prize is 990, want one of the names here: length, price
}

// shade is an enumeration that lists its words.
type shade uint8

func (s *shade) UnmarshalText(b []byte) error {
	i := slices.Index([]string{"light", "dark"}, string(b))
	if i < 0 {
		return &measure.FieldError{Field: "shade", Value: string(b), Want: "light or dark"}
	}
	*s = shade(i)
	return nil
}

// pair reads JSON by itself and finds two faults in it.
type pair struct{ A, B int }

func (p *pair) UnmarshalJSON(b []byte) error {
	type plain pair
	if err := json.Unmarshal(b, (*plain)(p)); err != nil {
		return err
	}
	var errs []error
	if p.A == 0 {
		errs = append(errs, &measure.FieldError{Field: "A", Value: "0", Want: "1 or more"})
	}
	if p.B == 0 {
		errs = append(errs, &measure.FieldError{Field: "B", Value: "0", Want: "1 or more"})
	}
	return errors.Join(errs...)
}

type thing struct {
	Length      measure.Length      `json:"length"`
	Angle       measure.Angle       `json:"angle"`
	Area        measure.Area        `json:"area"`
	Volume      measure.Volume      `json:"volume"`
	Weight      measure.Weight      `json:"weight"`
	Ratio       measure.Ratio       `json:"ratio"`
	Temperature measure.Temperature `json:"temperature"`
	Duration    measure.Duration    `json:"duration"`
	Slope       measure.Slope       `json:"slope"`

	Shade  shade            `json:"shade"`
	Shades []shade          `json:"shades"`
	Pair   pair             `json:"pair"`
	Price  int64            `json:"price"`
	Year   int              `json:"year"`
	Used   bool             `json:"used"`
	Parts  []thing          `json:"parts"`
	Other  *thing           `json:"other"`
	Raw    []byte           `json:"raw"`
	Counts map[string]int64 `json:"counts"`
	Name   string
	Out    string `json:"-"`
	hidden int
}

type fault struct{ field, value string }

func TestUnmarshalStrictNamesThePath(t *testing.T) {
	for _, c := range []struct {
		text  string
		wants []fault
	}{
		{`{"length":"long"}`, []fault{{"length", "long"}}},
		{`{"length":12}`, []fault{{"length", "12"}}},
		{`{"angle":"steep","area":"wide","volume":"much","weight":"heavy"}`, []fault{{"angle", "steep"}, {"area", "wide"}, {"volume", "much"}, {"weight", "heavy"}}},
		{`{"ratio":6,"temperature":70,"duration":3,"slope":"up"}`, []fault{{"ratio", "6"}, {"temperature", "70"}, {"duration", "3"}, {"slope", "up"}}},
		{`{"shade":"dim"}`, []fault{{"shade", "dim"}}},
		{`{"shades":["dark","dim","dimmer"]}`, []fault{{"shades[1]", "dim"}, {"shades[2]", "dimmer"}}},
		{`{"parts":[{},{"pair":{}}]}`, []fault{{"parts[1].pair.A", "0"}, {"parts[1].pair.B", "0"}}},
		{`{"parts":[{},{"parts":[{"length":"long"}],"year":"old"},{"used":"yes"}]}`,
			[]fault{{"parts[1].parts[0].length", "long"}, {"parts[1].year", "old"}, {"parts[2].used", "yes"}}},
		{`{"other":{"price":12.5}}`, []fault{{"other.price", "12.5"}}},
		{`{"year":99999999999999999999}`, []fault{{"year", "99999999999999999999"}}},
		{`{"raw":"not base64!"}`, []fault{{"raw", "not base64!"}}},
		{`{"counts":{"a":"b"}}`, []fault{{"counts", `{"a":"b"}`}}},
		{`{"part":[],"Parts":[],"hidden":1,"Out":"x","":0}`, []fault{{"part", "[]"}, {"Parts", "[]"}, {"hidden", "1"}, {"Out", "x"}, {"", "0"}}},
		{`{"year":1924,"year":1978}`, []fault{{"year", "1978"}}},
		{`{"parts":{},"other":[],"Name":5}`, []fault{{"parts", "{}"}, {"other", "[]"}, {"Name", "5"}}},
		{`{"parts":"all"}`, []fault{{"parts", "all"}}},
		{`[]`, []fault{{"", "[]"}}},
		{"{\n\"Name\": \"x\",\n\"parts\": [}", []fault{{"", `"parts": [}`}}},
		{`{} {}`, []fault{{"", "{}"}}},
		{``, []fault{{"", ""}}},
		{`{"Name": "x"`, []fault{{"", `{"Name": "x"`}}},
		{`{"name":null}`, []fault{{"name", "null"}}},
	} {
		var got []fault
		for e := range measure.FieldErrors(measure.UnmarshalStrict([]byte(c.text), new(thing))) {
			got = append(got, fault{e.Field, e.Value})
			if e.Want == "" {
				t.Errorf("%s: %v does not say what is valid", c.text, e)
			}
		}
		if !slices.Equal(got, c.wants) {
			t.Errorf("%s: %q, want %q", c.text, got, c.wants)
		}
	}
	for _, v := range []any{nil, thing{}, (*thing)(nil)} {
		if err := measure.UnmarshalStrict([]byte(`{}`), v); !errors.As(err, new(*measure.FieldError)) {
			t.Errorf("into %T: %v, want a FieldError", v, err)
		}
	}
	_ = thing{}.hidden
}

// The wording of errors: truncation is named, a text is quoted once, and the reason why a quantity
// cannot be parsed is given once.
func TestUnmarshalStrictSays(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"{\n\"Name\": \"x\",\n\"work\": [\n", `value is "\"work\": [", want JSON to the end, but line 3 breaks off: unexpected EOF`},
		{`{"A":"x"}`, `A is "x", want one of the names here: Name, length, shade, price`},
		{`{"length":"4 cubits"}`, `length is "4 cubits", want a length, such as "7ft 4-3/4in": measure: length "4 cubits": missing or unknown unit at "cubits", byte 2: not a unit of this quantity; write a length such as 7' 4-3/4", 88.75in or 2253mm`},
		{`{"shade":"dim"}`, `shade is "dim", want light or dark`},
		{`{"price":19.99}`, `price is "19.99", want a whole number of cents, such as 1999 for 19.99`},
		{`{"length":true}`, `length is "true", want a length in quotes, such as "7ft 4-3/4in"`},
	} {
		v := new(struct {
			Name   string
			Length measure.Length `json:"length"`
			Shade  shade          `json:"shade"`
			Price  int64          `json:"price"`
		})
		if err := measure.UnmarshalStrict([]byte(c.text), v); err == nil || err.Error() != c.want {
			t.Errorf("%s:\n%v, want\n%s", c.text, err, c.want)
		}
	}
	var p *measure.ParseError
	if err := measure.UnmarshalStrict([]byte(`{"length":"5 9/8\""}`), new(thing)); !errors.As(err, &p) || len(p.Choices) == 0 {
		t.Errorf("an ambiguous length: %v, want a ParseError with choices", err)
	}
	many := `[` + strings.Repeat(`{"length":1},`, 150) + `{}]`
	if n := len(slices.Collect(measure.FieldErrors(measure.UnmarshalStrict([]byte(many), new([]thing))))); n != 100 {
		t.Errorf("150 faults are %d errors, want 100", n)
	}
	long := `{"length":"` + strings.Repeat("é", 200) + `"}`
	for e := range measure.FieldErrors(measure.UnmarshalStrict([]byte(long), new(thing))) {
		if len(e.Value) > 100 || !strings.HasPrefix(e.Value, "ééé") || !strings.HasSuffix(e.Value, "é...") {
			t.Errorf("a long value is %q", e.Value)
		}
	}
}

// Valid input is read as encoding/json reads it; if any number of places are spoiled, all of them are
// named, in order.
func TestUnmarshalStrictProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 30).Draw(t, "n")
		var text []string
		var wants []fault
		for i := range n {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				text = append(text, fmt.Sprintf(`{"length":"%dft 4-3/4in","other":{"weight":"2 lb 4 oz"}}`, i))
			case 1:
				text = append(text, `{"length":"4 furlongs"}`)
				wants = append(wants, fault{fmt.Sprintf("[%d].length", i), "4 furlongs"})
			case 2:
				text = append(text, `{"other":{"shades":["light","dim"]},"used":1}`)
				wants = append(wants, fault{fmt.Sprintf("[%d].other.shades[1]", i), "dim"}, fault{fmt.Sprintf("[%d].used", i), "1"})
			case 3:
				text = append(text, `null`)
			}
		}
		data := []byte("[" + strings.Join(text, ",\n") + "]")
		var strict, plain []thing
		err := measure.UnmarshalStrict(data, &strict)
		var got []fault
		for e := range measure.FieldErrors(err) {
			got = append(got, fault{e.Field, e.Value})
		}
		if !slices.Equal(got, wants) {
			t.Fatalf("%s: %q, want %q", data, got, wants)
		}
		if perr := json.Unmarshal(data, &plain); (perr == nil) != (err == nil) {
			t.Fatalf("%s: %v, and encoding/json says %v", data, err, perr)
		} else if err == nil && !reflect.DeepEqual(strict, plain) {
			t.Fatalf("%s: %v, want %v", data, strict, plain)
		}
	})
}

func FuzzUnmarshalStrict(f *testing.F) {
	f.Add([]byte(`{"parts":[null,{"length":"7ft","other":{"raw":"AA=="}}],"year":1,"counts":{"a":1}}`))
	f.Add([]byte(`{"length":null,"price":-0,"Name":"\u0000\ud800"}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var a, b thing
		if err := measure.UnmarshalStrict(data, &a); err != nil {
			if !errors.As(err, new(*measure.FieldError)) {
				t.Fatalf("%s: %v, want a FieldError", data, err)
			}
			return
		}
		if err := json.Unmarshal(data, &b); err != nil {
			t.Fatalf("%s is accepted, but encoding/json rejects it: %v", data, err)
		}
	})
}
