package gates

import (
	"bytes"
	"flag"
	"fmt"
	"go/ast"
	"go/importer"
	"go/token"
	"go/types"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the listings in internal/gates/api")

// listings is the directory of the listings, from the root of the module.
const listings = "internal/gates/api"

const updateAPI = "go test ./internal/gates -run API -update"

// TestAPI compares the exported names of every package for users with the listings in directory
// api, one line for each constant, variable, function, type, field and method. So no change of the
// promise goes unnoticed.
func TestAPI(t *testing.T) {
	atRoot(t)
	got := make(map[string]string)
	for _, pkg := range exported(t) {
		got[filepath.Join(listings, strings.TrimPrefix(pkg.Path(), module+"/")+".txt")] = listing(pkg)
	}
	recorded := make(map[string]string)
	err := filepath.WalkDir(listings, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(name) != ".txt" {
			return err
		}
		text, err := os.ReadFile(name)
		recorded[name] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		for name := range recorded {
			if _, ok := got[name]; !ok {
				if err := os.Remove(name); err != nil {
					t.Error(err)
				}
			}
		}
		for name, text := range got {
			if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
				t.Error(err)
			}
		}
		return
	}
	for name := range recorded {
		if _, ok := got[name]; !ok {
			t.Errorf("%s lists a package that is gone", name)
		}
	}
	for name, text := range got {
		gone, added := difference(recorded[name], text)
		for _, line := range gone {
			t.Errorf("%s: gone or changed: %s", name, line)
		}
		for _, line := range added {
			t.Errorf("%s: not listed: %s", name, line)
		}
	}
	if t.Failed() {
		t.Logf("Is the change intended? Then run\n\n\t%s\n\nand tell users in CHANGELOG.md. Names missing from the listing break their programs.", updateAPI)
	}
}

// exported returns the packages that users import, as the compiler exports
// them.
func exported(t *testing.T) []*types.Package {
	t.Helper()
	// The files read here decide whether a recorded pass of this test is still valid; the go
	// command does not see the files that the command below reads.
	goFiles(t, func(string, *ast.File) {})
	cmd := exec.Command("go", "list", "-export", "-deps", "-f", "{{.ImportPath}}\t{{.Name}}\t{{.Export}}", "./...")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v\n%s", cmd, err, stderr.Bytes())
	}
	exports := make(map[string]string)
	var users []string
	for line := range strings.Lines(string(out)) {
		path, rest, _ := strings.Cut(strings.TrimSpace(line), "\t")
		name, file, _ := strings.Cut(rest, "\t")
		exports[path] = file
		pkg, isOurs := ours(path)
		if isOurs && pkg != "." && name != "main" && !strings.Contains("/"+pkg, "/internal/") && !strings.HasPrefix(pkg, "examples/") {
			users = append(users, path)
		}
	}
	if len(users) < 7 {
		t.Fatalf("only %v found: this test looked in the wrong place", users)
	}
	imp := importer.ForCompiler(token.NewFileSet(), "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(exports[path])
	})
	var pkgs []*types.Package
	for _, path := range users {
		pkg, err := imp.Import(path)
		if err != nil {
			t.Fatal(err)
		}
		pkgs = append(pkgs, pkg)
	}
	return pkgs
}

// listing writes the exported names of a package, sorted by kind of line and name.
func listing(pkg *types.Package) string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	write := func(t types.Type) string {
		return types.TypeString(t, func(p *types.Package) string {
			if p == pkg {
				return ""
			}
			return p.Name()
		})
	}
	signature := func(f *types.Func) string { return strings.TrimPrefix(write(nameless(f.Signature())), "func") }
	for _, name := range pkg.Scope().Names() {
		obj := pkg.Scope().Lookup(name)
		if !obj.Exported() {
			continue
		}
		switch obj := obj.(type) {
		case *types.Const:
			add("const %s %s = %s", name, write(obj.Type()), obj.Val().ExactString())
		case *types.Var:
			add("var %s %s", name, write(obj.Type()))
		case *types.Func:
			add("func %s%s", name, signature(obj))
		case *types.TypeName:
			if obj.IsAlias() {
				add("type %s = %s", name, write(types.Unalias(obj.Type())))
				continue
			}
			kind := write(obj.Type().Underlying())
			switch u := obj.Type().Underlying().(type) {
			case *types.Struct:
				kind = "struct"
				for i := range u.NumFields() {
					if field := u.Field(i); field.Exported() {
						line := fmt.Sprintf("field %s.%s %s", name, field.Name(), write(field.Type()))
						if tag := u.Tag(i); tag != "" {
							line += " `" + tag + "`" // names in files are promised as well
						}
						lines = append(lines, line)
					}
				}
			case *types.Interface:
				kind = "interface"
			}
			if !types.Comparable(obj.Type()) {
				kind += ", not comparable"
			}
			add("type %s%s %s", name, parameters(obj.Type(), write), kind)
			// The pointer's methods are all of them, those of embedded types too.
			methods := types.NewMethodSet(types.NewPointer(obj.Type()))
			if types.IsInterface(obj.Type()) {
				methods = types.NewMethodSet(obj.Type())
			}
			values := types.NewMethodSet(obj.Type())
			for m := range methods.Methods() {
				f := m.Obj().(*types.Func)
				if !f.Exported() {
					continue
				}
				receiver := name
				if values.Lookup(pkg, f.Name()) == nil {
					receiver = "*" + name
				}
				add("method (%s) %s%s", receiver, f.Name(), signature(f))
			}
		}
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n") + "\n"
}

// nameless drops the names of parameters: they may change.
func nameless(s *types.Signature) *types.Signature {
	if s.TypeParams().Len() > 0 {
		return s // a type parameter cannot be bound again
	}
	drop := func(t *types.Tuple) *types.Tuple {
		var vars []*types.Var
		for v := range t.Variables() {
			vars = append(vars, types.NewParam(token.NoPos, nil, "", v.Type()))
		}
		return types.NewTuple(vars...)
	}
	return types.NewSignatureType(nil, nil, nil, drop(s.Params()), drop(s.Results()), s.Variadic())
}

func parameters(t types.Type, write func(types.Type) string) string {
	named, ok := t.(*types.Named)
	if !ok || named.TypeParams().Len() == 0 {
		return ""
	}
	var list []string
	for p := range named.TypeParams().TypeParams() {
		list = append(list, p.Obj().Name()+" "+write(p.Constraint()))
	}
	return "[" + strings.Join(list, ", ") + "]"
}

// difference returns the lines that only one of two texts has.
func difference(before, after string) (gone, added []string) {
	old, now := strings.Split(strings.TrimSpace(before), "\n"), strings.Split(strings.TrimSpace(after), "\n")
	for _, line := range old {
		if line != "" && !slices.Contains(now, line) {
			gone = append(gone, line)
		}
	}
	for _, line := range now {
		if !slices.Contains(old, line) {
			added = append(added, line)
		}
	}
	return gone, added
}
