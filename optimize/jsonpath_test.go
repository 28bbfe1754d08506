package optimize_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
)

// fieldPaths returns every path into a Problem, by Go names and by JSON names. The latter
// are not read from tags: each field is set by itself and looked for in the JSON text.
func fieldPaths(t *testing.T) map[string]string {
	t.Helper()
	paths := map[string]string{}
	var p optimize.Problem
	var walk func(v reflect.Value, path string)
	walk = func(v reflect.Value, path string) {
		record := func() {
			text, err := json.Marshal(p)
			if err != nil {
				t.Fatalf("%s: %v", path, err)
			}
			var tree any
			if err := json.Unmarshal(text, &tree); err != nil {
				t.Fatal(err)
			}
			paths[path] = deepest(tree, "")
		}
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i), strings.TrimPrefix(path+"."+v.Type().Field(i).Name, "."))
			}
		case reflect.Slice:
			v.Set(reflect.MakeSlice(v.Type(), 3, 3))
			walk(v.Index(2), path+"[2]")
			v.SetZero()
		case reflect.String:
			v.SetString("x")
			record()
			v.SetZero()
		case reflect.Bool:
			v.SetBool(true)
			record()
			v.SetZero()
		case reflect.Int, reflect.Int64:
			v.SetInt(1)
			record()
			v.SetZero()
		case reflect.Uint8:
			v.SetUint(1)
			record()
			v.SetZero()
		default:
			t.Fatalf("%s is a %v, which this test does not know", path, v.Kind())
		}
	}
	walk(reflect.ValueOf(&p).Elem(), "")
	for _, leaf := range slices.Collect(maps.Keys(paths)) { // and their enclosing paths
		fields, names := strings.Split(leaf, "."), strings.Split(paths[leaf], ".")
		if len(fields) != len(names) {
			t.Fatalf("%s is %s in JSON", leaf, paths[leaf])
		}
		for n := range fields {
			field, name := strings.Join(fields[:n+1], "."), strings.Join(names[:n+1], ".")
			paths[field], paths[strings.TrimSuffix(field, "[2]")] = name, strings.TrimSuffix(name, "[2]")
		}
	}
	return paths
}

// deepest returns the path of the one value in a tree that is set. In a list of three that is the last;
// a value that JSON writes like its zero is not set.
func deepest(v any, path string) string {
	switch v := v.(type) {
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			if at := deepest(v[name], strings.TrimPrefix(path+"."+name, ".")); at != "" {
				return at
			}
		}
	case []any:
		for i, x := range v {
			if at := deepest(x, path+"["+strconv.Itoa(i)+"]"); at != "" {
				return at
			}
		}
	case string:
		if v != "" && v != "0in" && v != "0°" && v != "one stick" && v != "least cost" {
			return path
		}
	case bool:
		if v {
			return path
		}
	case float64:
		if v != 0 {
			return path
		}
	}
	return ""
}

// Every path that this package builds for an error about a problem is one in its JSON: those
// spelled out in the source, with the text that it appends to them.
func TestEveryReportedFieldIsAJSONPath(t *testing.T) {
	paths := fieldPaths(t)
	if len(paths) < 80 {
		t.Errorf("only %d paths", len(paths))
	}
	known := map[string]bool{}
	names := map[string]bool{}
	index := regexp.MustCompile(`\[[0-9]+\]`)
	for _, field := range paths {
		field = index.ReplaceAllString(field, "[%d]")
		known[field] = true
		for i := range len(field) {
			if i == 0 || field[i-1] == '.' {
				names[field[i:]] = true
			}
		}
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	whole := regexp.MustCompile(`^(sticks|pieces|runs|rules|kerf)((\[%d\]|\.[a-z%])[a-z_.%\[\]]*)?$`)
	part := regexp.MustCompile(`^\.?[a-z_]+((\[%d\])?\.[a-z_]+|\[%d\])*$`)
	found := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || strings.HasPrefix(name, "check") || name == "summary.go" {
			continue // these name places in a plan, or arguments
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		check := func(e ast.Expr) {
			ast.Inspect(e, func(n ast.Node) bool {
				lit, ok := n.(*ast.BasicLit)
				if !ok || lit.Kind != token.STRING {
					return true
				}
				text, err := strconv.Unquote(lit.Value)
				if err != nil {
					t.Fatal(err)
				}
				switch {
				case strings.HasSuffix(text, ".%s") && whole.MatchString(text):
					found++
				case whole.MatchString(text):
					if found++; !known[text] {
						t.Errorf("%s: %q is not a path into a problem", name, text)
					}
				case part.MatchString(text):
					if found++; !names[strings.TrimPrefix(text, ".")] {
						t.Errorf("%s: %q does not end a path into a problem", name, text)
					}
				case strings.ContainsAny(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZ"):
					t.Errorf("%s: %q is not a path", name, text)
				}
				return true
			})
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if n, ok := n.(*ast.CallExpr); ok && len(n.Args) > 0 { // fieldError(field, …), f.add(field, …), f.has(field, …), bad(name, …), fault(name, …)
				switch f := n.Fun.(type) {
				case *ast.Ident:
					if slices.Contains([]string{"fieldError", "bad", "fault"}, f.Name) {
						check(n.Args[0])
					}
				case *ast.SelectorExpr:
					if x, ok := f.X.(*ast.Ident); ok && (x.Name == "f" || x.Name == "one") && (f.Sel.Name == "add" || f.Sel.Name == "has") {
						check(n.Args[0])
					}
				}
			}
			return true
		})
	}
	if found < 60 {
		t.Errorf("only %d paths found: this test looked in the wrong place", found)
	}
}
