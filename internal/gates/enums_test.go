package gates

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// addedElsewhere are constants whose type another package declares, so that go doc shows them with the package and
// not with the type.
var addedElsewhere = []string{"finish/estimate.FindingHelper"}

// Go doc shows the values of a type below the type: the exported constants of each are in one
// block, in which go/doc finds the type. "go doc PACKAGE.TYPE" then names the first of them,
// and go doc of that one shows them all.
func TestEnumsStandWithTheirType(t *testing.T) {
	atRoot(t)
	enums, values := 0, 0
	for _, pkg := range exported(t) {
		dir := strings.TrimPrefix(pkg.Path(), module+"/")
		shown := blocksOfConstants(t, pkg.Path(), dir)
		for _, name := range pkg.Scope().Names() {
			c, ok := pkg.Scope().Lookup(name).(*types.Const)
			if !ok || !c.Exported() || slices.Contains(addedElsewhere, dir+"."+name) {
				continue
			}
			named, ok := c.Type().(*types.Named)
			if !ok || named.Obj().Pkg() != pkg && named.Underlying().(*types.Basic).Kind() == types.Int64 {
				continue // a plain number, or some length
			}
			values++
			blocks := shown[named.Obj().Name()]
			if !slices.ContainsFunc(blocks, func(b []string) bool { return slices.Contains(b, name) }) {
				t.Errorf("go doc does not show %s.%s below its type, %s", dir, name, named.Obj().Name())
			}
		}
		for typ, blocks := range shown {
			enums++
			// Units of a quantity may have a block for each system.
			if basic := pkg.Scope().Lookup(typ).Type().Underlying().(*types.Basic); len(blocks) > 1 && basic.Kind() != types.Int64 {
				t.Errorf("the constants of %s.%s are in %d blocks, want one: %v", dir, typ, len(blocks), blocks)
			}
		}
	}
	if enums < 40 || values < 300 {
		t.Fatalf("%d types and %d constants: this test looked in the wrong place", enums, values)
	}
}

// blocksOfConstants returns the blocks of constants that go doc shows below each type of a
// package, as names.
func blocksOfConstants(t *testing.T, path, dir string) map[string][][]string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(filepath.FromSlash(dir), "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	fset := token.NewFileSet()
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	p, err := doc.NewFromFiles(fset, files, path)
	if err != nil {
		t.Fatal(err)
	}
	shown := make(map[string][][]string)
	for _, typ := range p.Types {
		for _, block := range typ.Consts {
			shown[typ.Name] = append(shown[typ.Name], block.Names)
		}
	}
	return shown
}
