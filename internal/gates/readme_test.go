package gates

import (
	"bytes"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// blocks returns the README's fenced blocks of a language.
func blocks(t *testing.T, language string) []string {
	t.Helper()
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, m := range regexp.MustCompile("(?s)\n```"+language+"\n(.*?)```\n").FindAllSubmatch(readme, -1) {
		found = append(found, string(m[1]))
	}
	return found
}

// The README's code is the bodies of the package's Examples in their order, which go
// test compiles and runs, and what it says is printed is what the first of them is held
// to.
func TestReadmeShowsTheExamples(t *testing.T) {
	atRoot(t)
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "example_test.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var code, output []string
	for _, d := range file.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok || !strings.HasPrefix(f.Name.Name, "Example") {
			continue
		}
		var b bytes.Buffer
		for _, s := range f.Body.List {
			if err := format.Node(&b, fset, s); err != nil {
				t.Fatal(err)
			}
			b.WriteByte('\n')
		}
		code = append(code, b.String())
	}
	for _, g := range file.Comments {
		if text, ok := strings.CutPrefix(g.Text(), "Output:\n"); ok {
			output = append(output, text)
		}
	}
	if got := blocks(t, "go"); !slices.Equal(got, code) {
		t.Errorf("README.md shows\n%s\nthe Examples are\n%s", strings.Join(got, "\n"), strings.Join(code, "\n"))
	}
	if got := blocks(t, "text"); len(got) != 1 || len(output) == 0 || got[0] != output[0] {
		t.Errorf("README.md prints\n%s\nthe first Example prints\n%s", got, output)
	}
}

// The first code of these package comments is the body of an Example of the package or of
// the module's front page, or the beginning of one, so that it compiles and runs.
func TestPackageCommentsShowExamples(t *testing.T) {
	atRoot(t)
	bodies := func(pattern string) (found []string) {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			fset := token.NewFileSet()
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			file, err := parser.ParseFile(fset, name, src, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range file.Decls {
				if f, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(f.Name.Name, "Example") {
					body := string(src[fset.Position(f.Body.Lbrace).Offset+1 : fset.Position(f.Body.Rbrace).Offset])
					found = append(found, strings.ReplaceAll(body, "\n\t", "\n"))
				}
			}
		}
		return found
	}
	for _, dir := range []string{"optimize", "stock/takeoff", "finish/estimate"} {
		doc, err := os.ReadFile(filepath.Join(dir, "doc.go"))
		if err != nil {
			t.Fatal(err)
		}
		code := regexp.MustCompile(`(?m)(^//(\t.*)?\n)+`).FindString(strings.SplitAfterN(string(doc), "\n//\n", 2)[1])
		code = strings.TrimPrefix(strings.TrimRight(strings.ReplaceAll("\n"+code, "\n//\t", "\n"), "/\n"), "\n")
		if strings.Count(code, "\n") < 3 {
			t.Errorf("%s/doc.go begins with no code", dir)
		}
		if !slices.ContainsFunc(append(bodies(dir+"/*_test.go"), bodies("*_test.go")...), func(body string) bool { return strings.HasPrefix(body, "\n"+code+"\n") }) {
			t.Errorf("%s/doc.go shows code that no Example begins with:\n%s", dir, code)
		}
	}
}
