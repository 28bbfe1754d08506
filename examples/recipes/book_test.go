package recipes_test

import (
	"bytes"
	"flag"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what the programs print into the Examples, and code and output into the pages")

// A recipe is a page of the book with its Example.
type recipe struct {
	name    string // of the page without .md, and of the file without _test.go
	source  []byte // of the file
	program string // the file as a separate program
	output  string // the expected output
}

// table finds the entries of the table of contents.
var table = regexp.MustCompile(`(?m)^\d+\. \[([^]]+)\]\(([a-z-]+)\.md\): `)

// recipes returns the recipes in the order of the table of contents.
func recipes(t *testing.T) []recipe {
	t.Helper()
	var all []recipe
	for _, m := range table.FindAllStringSubmatch(read(t, "README.md"), -1) {
		source := []byte(read(t, m[2]+"_test.go"))
		program, output := parse(t, m[2], source)
		all = append(all, recipe{m[2], source, program, output})
	}
	return all
}

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// parse turns a file with one Example into a program whose main does the same, and returns the output
// of the Example.
func parse(t *testing.T, name string, source []byte) (program, output string) {
	t.Helper()
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, name+"_test.go", source, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	file.Name.Name = "main"
	found := 0
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(f.Name.Name, "Example") {
			if f.Name.Name != "Example_"+name {
				t.Errorf("%s_test.go: %s, want Example_%s", name, f.Name.Name, name)
			}
			f.Name.Name, f.Doc = "main", nil
			found++
		}
	}
	last := len(file.Comments) - 1
	if found != 1 || last < 0 || !strings.HasPrefix(file.Comments[last].Text(), "Output:") {
		t.Fatalf("%s_test.go: %d Examples, want one with its output at its end", name, found)
	}
	output = strings.TrimPrefix(strings.TrimPrefix(file.Comments[last].Text(), "Output:"), "\n")
	file.Comments = file.Comments[:last]
	var b bytes.Buffer
	if err := format.Node(&b, fset, file); err != nil {
		t.Fatal(err)
	}
	return regexp.MustCompile(`\n+}\n$`).ReplaceAllString(b.String(), "\n}\n"), output
}

// TestAnotherModule does what a reader does: each program in its own module beside the checkout, added
// by the two lines of the main README.md.
func TestAnotherModule(t *testing.T) {
	if testing.Short() || runtime.GOOS == "js" || runtime.GOOS == "wasip1" {
		t.Skip("builds each program")
	}
	lines := regexp.MustCompile(`(?m)^    (go (?:mod edit -replace|get) .*)$`).FindAllStringSubmatch(read(t, filepath.Join("..", "..", "README.md")), -1)
	if len(lines) != 2 {
		t.Fatalf("README.md shows %d lines that add the library to a module", len(lines))
	}
	checkout, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	run := func(name string, args ...string) string {
		t.Helper()
		c := exec.Command(name, args...)
		var out, errs bytes.Buffer
		c.Dir, c.Stdout, c.Stderr = dir, &out, &errs
		if err := c.Run(); err != nil {
			t.Fatalf("%s %v: %v\n%s%s", name, args, err, out.String(), errs.String())
		}
		return out.String()
	}
	run("go", "mod", "init", "example.org/shop")
	for _, l := range lines {
		args := strings.Fields(strings.ReplaceAll(l[1], "../longpoint", checkout))
		run(args[0], args[1:]...)
	}
	all := recipes(t)
	for _, r := range all {
		if err := os.Mkdir(filepath.Join(dir, r.name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, r.name, "main.go"), []byte(r.program), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run("go", "build", "-o", dir+string(filepath.Separator)+"bin"+string(filepath.Separator), "./...")
	for _, r := range all {
		// Examples are compared without blanks at the ends of lines.
		got := regexp.MustCompile(`(?m)[ \t]+$`).ReplaceAllString(run(filepath.Join(dir, "bin", r.name)), "")
		got = strings.Trim(got, "\n") + "\n"
		if *update && got != r.output {
			write(t, r, got)
		} else if got != r.output {
			t.Errorf("%s prints\n%s\nwant\n%s", r.name, got, r.output)
		}
	}
}

// write writes the output of a program into its Example.
func write(t *testing.T, r recipe, output string) {
	t.Helper()
	at := bytes.LastIndex(r.source, []byte("\t// Output:"))
	var b bytes.Buffer
	b.Write(r.source[:at])
	b.WriteString("\t// Output:\n")
	for line := range strings.Lines(output) {
		b.WriteString(strings.TrimRight("\t// "+strings.TrimSuffix(line, "\n"), " ") + "\n")
	}
	b.WriteString("}\n")
	if err := os.WriteFile(r.name+"_test.go", b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The two blocks of a page, and its parts in their order.
var (
	codeBlock = regexp.MustCompile("(?s)\n```go\n(.*?)```\n")
	textBlock = regexp.MustCompile("(?s)\n```text\n(.*?)```\n")
	pageForm  = regexp.MustCompile("(?s)^# ([^\n]+)\n\n[A-Z].*?\n```go\n.*?```\n\nIt prints\n\n```text\n.*?```\n\n## Watch for\n\n\\* .*\n$")
)

// TestPagesShowTheCode compares each page with the code and its output.
func TestPagesShowTheCode(t *testing.T) {
	for _, r := range recipes(t) {
		page := read(t, r.name+".md")
		if *update {
			page = replace(codeBlock, page, "\n```go\n"+r.program+"```\n")
			page = replace(textBlock, page, "\n```text\n"+r.output+"```\n")
			if err := os.WriteFile(r.name+".md", []byte(page), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if !pageForm.MatchString(page) {
			t.Errorf("%s.md: want a heading, the question, the code, its output, and what to watch for", r.name)
			continue
		}
		if m := codeBlock.FindAllStringSubmatch(page, -1); len(m) != 1 || m[0][1] != r.program {
			t.Errorf("%s.md does not show the code of %s_test.go as a program; run this test with -update", r.name, r.name)
		}
		if m := textBlock.FindAllStringSubmatch(page, -1); len(m) != 1 || m[0][1] != r.output {
			t.Errorf("%s.md does not show the output of its code; run this test with -update", r.name)
		}
	}
}

func replace(re *regexp.Regexp, page, with string) string {
	return re.ReplaceAllStringFunc(page, func(string) string { return with })
}

// TestContents compares the table of contents with the headings of the pages and with the files.
func TestContents(t *testing.T) {
	var listed []string
	for _, m := range table.FindAllStringSubmatch(read(t, "README.md"), -1) {
		listed = append(listed, m[2])
		if page := read(t, m[2]+".md"); !strings.HasPrefix(page, "# "+m[1]+"\n") {
			t.Errorf("the table of contents calls %s.md %q, which is not its heading", m[2], m[1])
		}
	}
	slices.Sort(listed)
	for _, kind := range []struct{ suffix, other string }{{".md", "README"}, {"_test.go", "book"}} {
		var there []string
		files, err := filepath.Glob("*" + kind.suffix)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if name := strings.TrimSuffix(f, kind.suffix); name != kind.other {
				there = append(there, name)
			}
		}
		if !slices.Equal(there, listed) {
			t.Errorf("the table of contents lists %v, but the pages are %v", listed, there)
		}
	}
}
