package gates

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// unshown is the number of exported names that occur in no Example and in no program of examples/. A
// name without an example of its use is not needed: the number may only fall, and a change that lowers
// it updates it here.
const unshown = 0

// TestShown counts the package-level names that no Example and no example program mentions, or gets
// as a result of a name that it mentions.
func TestShown(t *testing.T) {
	atRoot(t)
	shown := map[string]bool{}
	selected := map[string]bool{} // names of fields and methods
	fset := token.NewFileSet()
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || d.Name() == ".git" || d.Name() == "internal") {
			return filepath.SkipDir
		}
		test := strings.HasSuffix(name, "_test.go")
		if !strings.HasSuffix(name, ".go") || !test && !strings.HasPrefix(filepath.ToSlash(name), "examples/") {
			return nil
		}
		file, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		imports := map[string]string{}
		for _, s := range file.Imports {
			path, _ := strconv.Unquote(s.Path.Value)
			if !strings.HasPrefix(path, module+"/") {
				continue
			}
			as := path[strings.LastIndexByte(path, '/')+1:]
			if s.Name != nil {
				as = s.Name.Name
			}
			imports[as] = path
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if test && (!ok || !strings.HasPrefix(f.Name.Name, "Example")) {
				continue
			}
			ast.Inspect(d, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					selected[s.Sel.Name] = true
					if x, ok := s.X.(*ast.Ident); ok && imports[x.Name] != "" {
						shown[imports[x.Name]+"."+s.Sel.Name] = true
					}
				}
				return true
			})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	pkgs := exported(t)
	results(pkgs, shown, selected)
	all, missing := 0, []string(nil)
	for _, pkg := range pkgs {
		for _, name := range pkg.Scope().Names() {
			if !token.IsExported(name) {
				continue
			}
			all++
			if full := pkg.Path() + "." + name; !shown[full] {
				missing = append(missing, strings.TrimPrefix(full, module+"/"))
			}
		}
	}
	if all < 300 || len(shown) < 100 {
		t.Fatalf("%d names, %d mentioned: the search does not see the module", all, len(shown))
	}
	if len(missing) < unshown {
		t.Logf("now %d: lower the recorded number", len(missing))
	}
	if len(missing) > unshown {
		t.Errorf("%d of %d exported names are in no Example and no example program, recorded: %d:\n\t%s",
			len(missing), all, unshown, strings.Join(missing, "\n\t"))
	}
}

// results marks the types of the names shown so far: of constants and variables, and of the results of
// functions and of methods selected on such types.
func results(pkgs []*types.Package, shown, selected map[string]bool) {
	for again := true; again; {
		again = false
		mark := func(t types.Type) {
			for {
				switch u := t.(type) {
				case *types.Pointer:
					t = u.Elem()
					continue
				case *types.Slice:
					t = u.Elem()
					continue
				case *types.Named:
					if o := u.Obj(); o.Pkg() != nil && o.Exported() && !shown[o.Pkg().Path()+"."+o.Name()] {
						shown[o.Pkg().Path()+"."+o.Name()] = true
						again = true
					}
				}
				return
			}
		}
		signature := func(t types.Type) {
			for v := range t.(*types.Signature).Results().Variables() {
				mark(v.Type())
			}
		}
		for _, pkg := range pkgs {
			for _, name := range pkg.Scope().Names() {
				o := pkg.Scope().Lookup(name)
				if !shown[pkg.Path()+"."+name] {
					continue
				}
				switch o := o.(type) {
				case *types.Func:
					signature(o.Type())
				case *types.Const, *types.Var:
					mark(o.Type())
				case *types.TypeName:
					if named, ok := o.Type().(*types.Named); ok {
						for m := range named.Methods() {
							if selected[m.Name()] {
								signature(m.Type())
							}
						}
						if st, ok := named.Underlying().(*types.Struct); ok {
							for f := range st.Fields() {
								if selected[f.Name()] {
									mark(f.Type())
								}
							}
						}
					}
				}
			}
		}
	}
}
