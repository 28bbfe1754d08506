package gates

import (
	"bytes"
	"go/ast"
	"go/doc/comment"
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

// blocks returns a document's fenced blocks of a language.
func blocks(t *testing.T, name, language string) []string {
	t.Helper()
	readme, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, m := range regexp.MustCompile("(?s)\n```"+language+"\n(.*?)```\n").FindAllSubmatch(readme, -1) {
		found = append(found, string(m[1]))
	}
	return found
}

// The first code that anybody sees is one program, which package recipes runs as the first of
// its recipes: in README.md, in the package's comment, among the examples, and as the package's
// Example.
func TestOneStartingPoint(t *testing.T) {
	atRoot(t)
	const page = "examples/recipes/script.md"
	program := blocks(t, page, "go")
	if len(program) != 1 {
		t.Fatalf("%s has %d blocks of code", page, len(program))
	}
	for _, name := range []string{"README.md", "examples/README.md"} {
		if got := blocks(t, name, "go"); len(got) == 0 || got[0] != program[0] {
			t.Errorf("the first code of %s is not that of %s:\n%s", name, page, got)
		}
	}
	if got, want := blocks(t, "README.md", "text"), blocks(t, page, "text"); !slices.Equal(got, want) {
		t.Errorf("README.md prints\n%s\n%s prints\n%s", got, page, want)
	}
	file, err := parser.ParseFile(token.NewFileSet(), "doc.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var code *comment.Code
	for _, b := range new(comment.Parser).Parse(file.Doc.Text()).Content {
		if c, ok := b.(*comment.Code); ok {
			code = c
			break
		}
	}
	if code == nil || code.Text != program[0] {
		t.Errorf("the first code of doc.go is not that of %s: %v", page, code)
	}
}

// The README's code is that program and then the bodies of the package's Examples in their
// order, which go test compiles and runs.
func TestReadmeShowsTheExamples(t *testing.T) {
	atRoot(t)
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "example_test.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var code []string
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
	got := blocks(t, "README.md", "go")
	if len(got) == 0 || len(code) == 0 {
		t.Fatalf("%d blocks of code, %d Examples", len(got), len(code))
	}
	if body := indented.ReplaceAllString(code[0], "\t$0"); !strings.HasSuffix(got[0], "\nfunc main() {\n"+body+"}\n") {
		t.Errorf("README.md begins with\n%s\nthe first Example is\n%s", got[0], code[0])
	}
	if !slices.Equal(got[1:], code[1:]) {
		t.Errorf("README.md shows\n%s\nthe Examples are\n%s", strings.Join(got[1:], "\n"), strings.Join(code[1:], "\n"))
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
			t.Errorf("%s/doc.go shows code with which no Example begins:\n%s", dir, code)
		}
	}
}

// indented finds where lines of code begin.
var indented = regexp.MustCompile(`(?m)^[^\n]`)
