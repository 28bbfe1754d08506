package paper_test

import (
	"go/parser"
	"go/token"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"example.com/longpoint/finish/paper"
)

// internal are words for figures that a client must not see.
var internal = []string{
	"cost", "costs", "rate", "rates", "hour", "hours", "labor", "wage", "wages", "burden", "overhead", "profit", "markup", "margin",
	"contingency", "risk", "waste", "spare", "supplier", "suppliers", "crew", "crews", "people", "minutes", "duration", "stick", "sticks",
}

// inWords splits a name of Go or of JSON into its words, in small letters.
func inWords(name string) (words []string) {
	start := 0
	for i, r := range name {
		if i > 0 && (unicode.IsUpper(r) || r == '_') {
			words = append(words, strings.ToLower(strings.Trim(name[start:i], "_")))
			start = i
		}
	}
	return append(words, strings.ToLower(strings.Trim(name[start:], "_")))
}

// No part of a proposal has a name, or a type, that could hold internal figures.
func TestProposalHasNoPlaceForInternals(t *testing.T) {
	seen := map[reflect.Type]bool{}
	fields := 0
	var walk func(path string, typ reflect.Type)
	walk = func(path string, typ reflect.Type) {
		switch typ.Kind() {
		case reflect.Map, reflect.Interface, reflect.Func, reflect.Chan, reflect.Float32, reflect.Float64:
			t.Errorf("%s is a %s, which can hold anything", path, typ)
			return
		case reflect.Pointer, reflect.Slice, reflect.Array:
			walk(path, typ.Elem())
			return
		case reflect.Struct:
		default:
			if typ.Name() == "Duration" {
				t.Errorf("%s is a labor time", path)
			}
			return
		}
		if seen[typ] {
			return
		}
		seen[typ] = true
		for i := range typ.NumField() {
			f := typ.Field(i)
			path := path + "." + f.Name
			tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			for _, w := range append(append(inWords(f.Name), inWords(tag)...), inWords(f.Type.Name())...) {
				if slices.Contains(internal, w) {
					t.Errorf("the name of %s contains the word %s", path, w)
				}
			}
			fields++
			walk(path, f.Type)
		}
	}
	walk("Proposal", reflect.TypeFor[paper.Proposal]())
	if fields < 50 {
		t.Errorf("only %d fields found", fields)
	}
	if got := inWords("hourly_RateOfPay"); !slices.Equal(got, []string{"hourly", "", "rate", "of", "pay"}) {
		t.Errorf("words %q", got)
	}
	if seen[reflect.TypeFor[time.Time]()] {
		t.Error("a proposal has times of day")
	}
}

// The package cannot even access internal figures: it imports no package that has them.
func TestImportsNothingInternal(t *testing.T) {
	const ours = "example.com/longpoint/"
	may := []string{"measure", "finish/schedule", "internal/fault", "internal/kind", "internal/typeset"}
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			if pkg, ok := strings.CutPrefix(path, ours); ok && !slices.Contains(may, pkg) {
				t.Errorf("%s imports %s", f.Name(), pkg)
			}
		}
		n++
	}
	if n < 8 {
		t.Errorf("only %d files found", n)
	}
}
