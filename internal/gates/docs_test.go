package gates

import (
	"go/token"
	"go/types"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestDocsNameWhatExists looks up every exported name between backquotes in the current documents:
// `optimize.Check`, `Rules.Nest`, `Plan`. So a rename finds the sentences that mention the old name.
func TestDocsNameWhatExists(t *testing.T) {
	atRoot(t)
	pkgs := exported(t)
	packages := map[string]*types.Package{}
	for _, p := range pkgs {
		packages[path.Base(p.Path())] = p
	}
	// find returns the object that a chain of names leads to from a package, or nil.
	find := func(p *types.Package, names []string) types.Object {
		o := p.Scope().Lookup(names[0])
		for _, name := range names[1:] {
			if o == nil {
				return nil
			}
			o, _, _ = types.LookupFieldOrMethod(o.Type(), true, p, name)
		}
		return o
	}
	// A name that stands alone may be any exported name, field or method.
	members := map[string]bool{}
	for _, p := range pkgs {
		for _, name := range p.Scope().Names() {
			o := p.Scope().Lookup(name)
			members[name] = true
			if tn, ok := o.(*types.TypeName); ok {
				if st, ok := tn.Type().Underlying().(*types.Struct); ok {
					for f := range st.Fields() {
						members[f.Name()] = true
					}
				}
				for m := range types.NewMethodSet(types.NewPointer(tn.Type())).Methods() {
					members[m.Obj().Name()] = true
				}
			}
		}
	}
	quoted := regexp.MustCompile("`([A-Za-z][A-Za-z0-9.]*)`")
	seen := 0
	files, err := filepath.Glob("examples/recipes/*.md")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range append(files, "README.md", "DEVELOPERS.md", "examples/README.md") {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for n, line := range strings.Split(string(text), "\n") {
			for _, m := range quoted.FindAllStringSubmatch(line, -1) {
				names := strings.Split(strings.TrimSuffix(m[1], "()"), ".")
				ok := false
				switch p := packages[names[0]]; {
				case p != nil && len(names) > 1 && token.IsExported(names[1]):
					ok = find(p, names[1:]) != nil
				case !token.IsExported(names[0]):
					continue // a package, a file, a command, something of the engine
				case len(names) == 1:
					ok = members[names[0]]
				default:
					for _, p := range packages {
						ok = ok || find(p, names) != nil
					}
				}
				if seen++; !ok && !notOurs[m[1]] {
					t.Errorf("%s:%d: no exported name %s", file, n+1, m[1])
				}
			}
		}
	}
	if seen < 100 {
		t.Fatalf("only %d names found: this test looked in the wrong place", seen)
	}
}

// notOurs are names between backquotes that no package of ours exports.
var notOurs = map[string]bool{
	"Problem.Fill": true, // of internal/solver/rules
	"TestAPI":      true,
	"TestReleases": true,

	"TestParsePieces": true,
}
