package gates

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "example.com/longpoint"

// arrow lists the packages of this module that the non-test files of a package may import. The
// first line that matches a package counts; a name that ends in /... stands for everything below.
// DEVELOPERS.md draws the same picture.
var arrows = []struct {
	pkg string
	may []string
}{
	{".", nil},
	{"measure", []string{"internal/explicit", "internal/suited"}},
	{"stock", []string{"measure", "internal/explicit", "internal/fault", "internal/kind"}},
	{"stock/joint", []string{"measure", "stock", "internal/fault"}},
	{"stock/curve", []string{"measure", "internal/fault", "internal/kind"}},
	{"stock/panel", []string{"measure", "stock", "stock/joint", "internal/fault", "internal/kind"}},
	{"stock/stair", []string{"measure", "stock", "stock/joint", "internal/fault", "internal/kind"}},
	{"stock/scribe", []string{"measure", "stock", "internal/fault", "internal/kind"}},
	{"stock/takeoff", []string{"measure", "stock", "stock/joint", "stock/stair", "stock/curve", "stock/panel", "stock/scribe", "internal/fault", "internal/kind"}},
	{"stock/takeoff/drawing", []string{"measure", "stock", "stock/joint", "stock/stair", "stock/curve", "stock/takeoff", "internal/fault", "internal/svg"}},
	{"finish/labor", []string{"measure", "stock", "stock/takeoff", "finish", "internal/fault", "internal/kind", "internal/natural", "internal/typeset"}},
	{"finish", []string{"measure", "internal/suited", "internal/fault", "internal/kind", "internal/natural"}},
	{"finish/tearout", []string{"measure", "stock", "finish", "internal/fault", "internal/kind", "internal/natural"}},
	{"finish/schedule", []string{"measure", "internal/fault", "internal/kind", "internal/meter", "internal/rcpsp"}},
	{"finish/sequence", []string{"measure", "stock", "finish", "finish/schedule", "internal/fault", "internal/kind"}},
	{"finish/paper", []string{"measure", "finish/schedule", "internal/fault", "internal/kind", "internal/typeset"}},
	{"finish/estimate", []string{"measure", "stock", "stock/takeoff", "optimize", "optimize/cutsheet", "finish", "finish/...", "internal/fault", "internal/kind", "internal/natural", "internal/meter", "internal/svg"}}, // the one package that joins all
	{"optimize", []string{"measure", "stock", "stock/joint", "internal/...", "optimize/internal/bridge"}},
	{"optimize/whatif", []string{"measure", "stock", "optimize", "optimize/internal/...", "internal/meter", "internal/fault"}},
	{"optimize/replan", []string{"measure", "stock", "optimize", "optimize/internal/...", "internal/meter", "internal/fault", "internal/svg"}},
	{"optimize/internal/bridge", []string{"measure", "stock"}},
	{"optimize/internal/...", []string{"measure", "stock", "optimize", "optimize/internal/...", "internal/meter", "internal/fault"}},
	{"optimize/cutsheet", []string{"measure", "stock", "stock/joint", "optimize", "internal/fault", "internal/typeset", "internal/svg"}},
	{"internal/fault", []string{"measure", "internal/explicit"}},
	{"internal/kind", []string{"internal/fault"}},
	{"internal/trimjob", []string{"measure", "stock"}}, // jobs for tests: speaks the user's language
	{"internal/svg", []string{"measure", "internal/typeset"}},
	{"internal/svg/svgcheck", nil}, // for tests
	{"internal/devtools", nil},     // for tests
	// The solver, bottom up: integers only. The restricted master, the pricing and the list search do
	// not depend on their callers.
	{"internal/solver", solverParts("branchprice", "rules", "search")},
	{"internal/solver/model", nil},
	{"internal/solver/search", solverParts("certificate", "model")},
	{"internal/solver/sumset", nil},
	{"internal/solver/wide", nil},
	{"internal/solver/certificate", nil},
	{"internal/solver/diversify", nil},
	{"internal/solver/lp", []string{"internal/meter"}},
	{"internal/solver/solvertest", []string{"internal/solver/bound", "internal/solver/model", "internal/solver/rules", "internal/solver/wide", "internal/trimjob"}}, // for tests
	{"internal/solver/bound", solverParts("model", "sumset", "wide")},
	{"internal/solver/knapsack", solverParts("model")},
	{"internal/solver/packing", solverParts("model", "sumset")},
	{"internal/solver/setcover", solverParts("bound", "certificate", "lp", "model", "wide")},
	{"internal/solver/rules", solverParts("bound", "model", "wide")},
	{"internal/solver/pricing", solverParts("knapsack", "model", "rules", "wide")},
	{"internal/solver/listing", solverParts("bound", "certificate", "master", "model", "rules", "setcover")},
	{"internal/solver/master", solverParts("bound", "knapsack", "lp", "model", "pricing", "rules", "wide")},
	{"internal/solver/heuristic", solverParts("diversify", "lp", "master", "model", "pricing", "rules")},
	{"internal/solver/tree", solverParts("bound", "lp", "master", "search")},
	{"internal/solver/residual", solverParts("certificate", "listing", "master", "model", "rules", "search")},
	{"internal/solver/branchprice", solverParts("bound", "certificate", "diversify", "heuristic", "listing", "lp", "master", "model", "packing", "pricing", "residual", "rules", "search", "setcover", "tree", "wide")},
	{"internal/...", []string{"internal/..."}},
	{"examples/...", []string{"measure", "stock/...", "optimize/...", "finish/...", "examples/..."}},
}

// solverParts returns the paths of parts of the solver, and of the meter that all of them share.
func solverParts(names ...string) []string {
	may := []string{"internal/meter"}
	for _, n := range names {
		may = append(may, "internal/solver/"+n)
	}
	return may
}

// A checker that used the solver's own code would repeat its mistakes.
const (
	checkerFiles = "optimize/check*.go"
	enginePrefix = "internal/"
)

// testMaterial is for tests and benchmarks; nothing that ships imports it.
var testMaterial = []string{"internal/devtools", "internal/solver/solvertest", "internal/svg/svgcheck", "internal/trimjob", "optimize/internal/brute"}

// The library computes. Files, clocks, randomness, the network and printing are left to its caller.
var callersBusiness = []string{
	"C", "log", "log/slog", "math/rand", "math/rand/v2", "net", "net/http",
	"os", "os/exec", "os/signal", "plugin", "syscall", "unsafe",
}

// Package time is not only a clock: measure has spans of time, finish/schedule working hours and dates.
// The one package that reads the clock does so for the deadline of the caller's context, in case no
// timer can fire.
var mayImportTime = []string{"measure", "finish/schedule", "finish/sequence", "finish/paper", "finish/estimate", "internal/meter"}

var testLibraries = []string{"github.com/google/go-cmp", "pgregory.net/rapid"}

func matches(pattern, pkg string) bool {
	if below, ok := strings.CutSuffix(pattern, "/..."); ok {
		return pkg == below || strings.HasPrefix(pkg, below+"/")
	}
	return pattern == pkg
}

// goFiles calls f for every Go file of the module, whatever it is built for.
func goFiles(t *testing.T, f func(name string, file *ast.File)) {
	t.Helper()
	n := 0
	err := fs.WalkDir(os.DirFS("."), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if name == "." {
				return nil
			}
			if base := path.Base(name); base == "testdata" || base[0] == '.' || base[0] == '_' {
				return fs.SkipDir
			}
			if _, err := os.Stat(path.Join(name, "go.mod")); err == nil {
				return fs.SkipDir // another module
			}
			return nil
		}
		if path.Ext(name) != ".go" {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly|parser.ParseComments)
		if err != nil {
			return err
		}
		n++
		f(name, file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 10 {
		t.Fatalf("only %d Go files found: this test looked in the wrong place", n)
	}
}

func imports(t *testing.T, file *ast.File) []string {
	t.Helper()
	var out []string
	for _, spec := range file.Imports {
		p, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, p)
	}
	return out
}

// ours returns the package's path below the module's root.
func ours(importPath string) (pkg string, ok bool) {
	if importPath == module {
		return ".", true
	}
	return strings.CutPrefix(importPath, module+"/")
}

func standard(importPath string) bool {
	first, _, _ := strings.Cut(importPath, "/")
	return !strings.Contains(first, ".")
}

func TestArrows(t *testing.T) {
	atRoot(t)
	goFiles(t, func(name string, file *ast.File) {
		pkg := path.Dir(name)
		rule := slices.IndexFunc(arrows, func(a struct {
			pkg string
			may []string
		}) bool {
			return matches(a.pkg, pkg)
		})
		if rule < 0 {
			t.Errorf("%s: no arrow names package %s; draw one in arrows_test.go and DEVELOPERS.md", name, pkg)
			return
		}
		isTest := strings.HasSuffix(name, "_test.go")
		isChecker, err := path.Match(checkerFiles, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range imports(t, file) {
			to, isOurs := ours(p)
			switch {
			case isTest:
				if !isOurs && !standard(p) && !slices.ContainsFunc(testLibraries, func(l string) bool { return matches(l+"/...", p) }) {
					t.Errorf("%s imports %s: tests may use %v", name, p, testLibraries)
				}
			case isOurs:
				if !slices.ContainsFunc(arrows[rule].may, func(m string) bool { return matches(m, to) }) {
					t.Errorf("%s imports %s: of this module, %s may import only %v", name, p, pkg, arrows[rule].may)
				}
				if slices.Contains(testMaterial, to) && !slices.Contains(testMaterial, pkg) {
					t.Errorf("%s imports %s, which is for tests", name, p)
				}
				if isChecker && strings.HasPrefix(to, enginePrefix) {
					t.Errorf("%s imports %s: Check must not trust the engine", name, p)
				}
			case !standard(p):
				t.Errorf("%s imports %s: the library uses only the standard library", name, p)
			case !strings.HasPrefix(pkg, "examples/") && !slices.Contains(testMaterial, pkg) && slices.Contains(callersBusiness, p):
				t.Errorf("%s imports %s: that is up to the caller", name, p)
			case p == "time" && !strings.HasPrefix(pkg, "examples/") && !slices.Contains(testMaterial, pkg) && !slices.Contains(mayImportTime, pkg):
				t.Errorf("%s imports time, which only %v may: the context supplies the clock", name, mayImportTime)
			}
		}
	})
}

func TestMapNamesEveryPackage(t *testing.T) {
	atRoot(t)
	text, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{".": true}
	goFiles(t, func(name string, _ *ast.File) {
		pkg := path.Dir(name)
		if !seen[pkg] && !strings.HasPrefix(pkg, "examples/") && !strings.Contains(string(text), "| `"+pkg+"` |") {
			t.Errorf("the table in DEVELOPERS.md has no line for package %s", pkg)
		}
		seen[pkg] = true
	})
}

// An importer downloads the requirements of go.mod.
func TestModuleRequiresTestLibrariesOnly(t *testing.T) {
	atRoot(t)
	text, err := os.ReadFile("go.mod")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	inBlock := false
	for line := range strings.Lines(string(text)) {
		line, _, _ = strings.Cut(line, "//")
		f := strings.Fields(line)
		switch {
		case len(f) == 0:
		case f[0] == "require" && len(f) == 2 && f[1] == "(":
			inBlock = true
		case f[0] == ")":
			inBlock = false
		case f[0] == "require":
			got = append(got, f[1])
		case inBlock:
			got = append(got, f[0])
		case f[0] != "module" && f[0] != "go" && f[0] != "toolchain":
			t.Errorf("go.mod: unexpected line %q", line)
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, testLibraries) {
		t.Errorf("go.mod requires %v, want %v", got, testLibraries)
	}
}
