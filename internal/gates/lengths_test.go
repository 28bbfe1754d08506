package gates

import (
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// exactly lists the functions that write a length exactly on purpose: for a program to read, for a test
// of equality, or for a file.
var exactly = map[string]bool{
	"encoding/json.Marshal":               true,
	"encoding/json.MarshalIndent":         true,
	module + "/internal/explicit.Marshal": true,
	"(*encoding/json.Encoder).Encode":     true,
	"reflect.DeepEqual":                   true,
	"examples/browser/wasm: exact":        true, // fields, which are read again
}

// TestLengthsForPeople finds bare lengths in text for people: in programs, findings, sheets and
// errors of all packages but measure, a length goes through Format or About. From String no one
// would recognize 3062.719425mm as 10' 9/16", the nearest mark on a tape.
func TestLengthsForPeople(t *testing.T) {
	atRoot(t)
	goFiles(t, func(string, *ast.File) {}) // the files read decide whether a cached pass is valid
	out, err := exec.Command("go", "list", "-export", "-deps", "-f", "{{.ImportPath}}\t{{.Export}}\t{{.Dir}}\t{{range .GoFiles}}{{.}} {{end}}", "./...").Output()
	if err != nil {
		t.Fatal(err)
	}
	exports := make(map[string]string)
	fset := token.NewFileSet()
	imp := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	var lines []string
	for line := range strings.Lines(string(out)) {
		f := strings.Split(strings.TrimSpace(line), "\t")
		exports[f[0]] = f[1]
		if pkg, isOurs := ours(f[0]); isOurs && len(f) == 4 && pkg != "measure" && !strings.Contains("/"+pkg, "/internal/") {
			lines = append(lines, line)
		}
	}
	calls := 0
	for _, line := range lines {
		f := strings.Split(strings.TrimSpace(line), "\t")
		pkg, _ := ours(f[0])
		var files []*ast.File
		for _, name := range strings.Fields(f[3]) {
			file, err := parser.ParseFile(fset, filepath.Join(f[2], name), nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, file)
		}
		info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}
		if _, err := (&types.Config{Importer: imp}).Check(f[0], fset, files, info); err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			for _, d := range file.Decls {
				function, ok := d.(*ast.FuncDecl)
				if !ok || function.Body == nil || exactly[pkg+": "+function.Name.Name] {
					continue
				}
				ast.Inspect(function, func(n ast.Node) bool {
					if call, ok := n.(*ast.CallExpr); ok {
						calls++
						if what := bareLength(info, call); what != "" {
							t.Errorf("%v: %s; write it with Format or About", fset.Position(call.Pos()), what)
						}
					}
					return true
				})
			}
		}
	}
	if calls < 5000 {
		t.Fatalf("only %d calls found: this test looked in the wrong place", calls)
	}
}

// bareLength describes a call that writes a length as String does, or returns nothing.
func bareLength(info *types.Info, call *ast.CallExpr) string {
	if sel, ok := call.Fun.(*ast.SelectorExpr); ok {
		if f, ok := info.Uses[sel.Sel].(*types.Func); ok && exactly[f.FullName()] {
			return ""
		}
		if sel.Sel.Name == "String" && len(call.Args) == 0 && holdsLength(info.Types[sel.X].Type, 0) {
			return "String of a length"
		}
	}
	signature, ok := info.Types[call.Fun].Type.(*types.Signature)
	if !ok {
		return ""
	}
	for i, arg := range call.Args {
		last := signature.Params().Len() - 1
		var param types.Type
		switch {
		case signature.Variadic() && i >= last && !call.Ellipsis.IsValid():
			param = signature.Params().At(last).Type().(*types.Slice).Elem()
		case i <= last:
			param = signature.Params().At(i).Type()
		}
		if param == nil || !types.IsInterface(param) {
			continue
		}
		if _, generic := param.(*types.TypeParam); !generic && holdsLength(info.Types[arg].Type, 0) {
			return fmt.Sprintf("%s is passed a length, %s", types.ExprString(call.Fun), types.ExprString(arg))
		}
	}
	return ""
}

// holdsLength reports whether printing a value prints a length.
func holdsLength(t types.Type, depth int) bool {
	if named, ok := t.(*types.Named); ok {
		if named.Obj().Name() == "Length" && named.Obj().Pkg() != nil && named.Obj().Pkg().Path() == module+"/measure" {
			return true
		}
		for m := range named.Methods() {
			if m.Name() == "String" || m.Name() == "Error" {
				return false // which is looked at by itself
			}
		}
	}
	if depth > 4 {
		return false
	}
	switch u := t.Underlying().(type) {
	case *types.Slice:
		return holdsLength(u.Elem(), depth+1)
	case *types.Struct:
		for f := range u.Fields() {
			if holdsLength(f.Type(), depth+1) {
				return true
			}
		}
	}
	return false
}
