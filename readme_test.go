package longpoint_test

import (
	"bytes"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strings"
	"testing"
)

// block returns the README's first fenced block of a language.
func block(t *testing.T, language string) string {
	t.Helper()
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile("(?s)\n```" + language + "\n(.*?)```\n").FindSubmatch(readme)
	if m == nil {
		t.Fatalf("README.md has no block of %s", language)
	}
	return string(m[1])
}

// The README's code is the body of the package's Example, which go test
// compiles and runs, and what it prints is what that Example is held to.
func TestReadmeShowsTheExample(t *testing.T) {
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "example_test.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var body *ast.BlockStmt
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name == "Example" {
			body = f.Body
		}
	}
	if body == nil {
		t.Fatal("no Example")
	}
	var code, output bytes.Buffer
	for _, s := range body.List {
		if err := format.Node(&code, fset, s); err != nil {
			t.Fatal(err)
		}
		code.WriteByte('\n')
	}
	if got, want := block(t, "go"), code.String(); got != want {
		t.Errorf("README.md shows\n%s\nthe Example is\n%s", got, want)
	}
	for _, g := range file.Comments {
		if text := g.Text(); strings.HasPrefix(text, "Output:\n") {
			output.WriteString(strings.TrimPrefix(text, "Output:\n"))
		}
	}
	if got, want := block(t, "text"), output.String(); got != want {
		t.Errorf("README.md prints\n%s\nthe Example prints\n%s", got, want)
	}
}
