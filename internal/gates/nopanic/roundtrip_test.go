package nopanic

import (
	"encoding"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"example.com/longpoint/measure"
)

// TestEnumText writes and reads every value of every enumeration: the text of a known value is what
// String returns and reads back to the same value; an unknown one is an error to write, and prints as
// the type with the number.
func TestEnumText(t *testing.T) {
	enums := 0
	for _, typ := range everyType {
		if typ.Kind() != reflect.Uint8 || strings.HasSuffix(typ.String(), "Weekdays") {
			continue
		}
		if !typ.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
			if typ.String() != "takeoff.CornerKind" { // a part of the text of a Corner
				t.Errorf("%v is written as a number", typ)
			}
			continue
		}
		enums++
		known := map[string]bool{}
		for n := range 256 {
			v := reflect.New(typ)
			v.Elem().SetUint(uint64(n))
			text, err := v.Elem().Interface().(encoding.TextMarshaler).MarshalText()
			printed := fmt.Sprint(v.Elem().Interface())
			if err != nil {
				if want := fmt.Sprintf("%s(%d)", typ.Name(), n); printed != want || n == 0 {
					t.Errorf("%v: the unknown value %d prints as %q, want %q", typ, n, printed, want)
				}
				continue
			}
			if printed != string(text) || known[printed] {
				t.Errorf("%v: %d prints as %q and is written %q", typ, n, printed, text)
			}
			known[printed] = true
			back := reflect.New(typ)
			if err := back.Interface().(encoding.TextUnmarshaler).UnmarshalText(text); err != nil || back.Elem().Uint() != uint64(n) {
				t.Errorf("%v: %q reads back as %v, %v", typ, text, back.Elem(), err)
			}
		}
		if len(known) < 2 || len(known) > 100 {
			t.Errorf("%v has %d values", typ, len(known))
		}
	}
	if enums < 30 {
		t.Errorf("only %d enumerations", enums)
	}
}

// TestJSONRoundTrip writes random values of every type for files and reads them strictly: what can be
// written reads back the same.
func TestJSONRoundTrip(t *testing.T) {
	types, values := 0, 0
	for _, typ := range everyType {
		if typ.Kind() != reflect.Struct || !inFiles(typ, map[reflect.Type]bool{}) {
			continue
		}
		types++
		for seed := range uint64(30) {
			c := caller{t: t, round: 2, rnd: rand.New(rand.NewPCG(seed, 3))}
			v := reflect.New(typ)
			c.fill(v.Elem(), 3)
			text, err := json.Marshal(v.Interface())
			if err != nil {
				continue // such as an unknown kind
			}
			back := reflect.New(typ)
			if err := measure.UnmarshalStrict(text, back.Interface()); err != nil {
				t.Errorf("%v: %v\n%s", typ, err, text)
				break
			}
			values++
			again, err := json.Marshal(back.Interface())
			want := strings.ReplaceAll(string(text), `\ufffd`, "\ufffd") // what is not UTF-8 is replaced once
			if err != nil || string(again) != want {
				t.Errorf("%v: error %v, written again\n%s\nwant\n%s", typ, err, again, want)
				break
			}
		}
	}
	if types < 250 || values < 20*types {
		t.Errorf("%d types, %d values: this test does not see what is exported", types, values)
	}
}

// inFiles reports whether all fields of a type, and of those in it, have names in JSON.
func inFiles(typ reflect.Type, seen map[reflect.Type]bool) bool {
	if seen[typ] || typ.Implements(reflect.TypeFor[encoding.TextMarshaler]()) || reflect.PointerTo(typ).Implements(reflect.TypeFor[json.Marshaler]()) {
		return true
	}
	seen[typ] = true
	switch typ.Kind() {
	case reflect.Pointer, reflect.Slice:
		return inFiles(typ.Elem(), seen)
	case reflect.Func, reflect.Interface:
		return false
	case reflect.Struct:
		for i := range typ.NumField() {
			f := typ.Field(i)
			if f.IsExported() && !f.Anonymous && f.Tag.Get("json") == "" || !f.IsExported() || !inFiles(f.Type, seen) {
				return false
			}
		}
	}
	return true
}
