package gates_test

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"unicode"
)

// exportedField matches a field in the listing of the API, with its tag.
var exportedField = regexp.MustCompile("^field (\\w+\\.(\\w+)) .*`(.*)`$")

// snake returns the name of a field in JSON: words in lower case, with underscores between them.
func snake(name string) string {
	r := []rune(name)
	var b strings.Builder
	for i, c := range r {
		if i > 0 && unicode.IsUpper(c) && (!unicode.IsUpper(r[i-1]) || i+1 < len(r) && unicode.IsLower(r[i+1])) {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(c))
	}
	return b.String()
}

// A reader of Go knows the names in JSON, and a reader of JSON those in Go.
func TestJSONNames(t *testing.T) {
	for name, want := range map[string]string{"ID": "id", "OrderBy": "order_by", "RackID": "rack_id", "Swell24h": "swell24h"} {
		if got := snake(name); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	fields := 0
	err := filepath.WalkDir("api", func(path string, d os.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".txt" {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for line := range strings.Lines(string(data)) {
			m := exportedField.FindStringSubmatch(strings.TrimSpace(line))
			if m == nil {
				continue
			}
			name, _, _ := strings.Cut(reflect.StructTag(m[3]).Get("json"), ",")
			if name == "" || name == "-" {
				continue
			}
			fields++
			if want := snake(m[2]); name != want {
				t.Errorf("%s: %s is %q in JSON, want %q", path, m[1], name, want)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if fields < 500 {
		t.Errorf("%d fields found: too few", fields)
	}
}
