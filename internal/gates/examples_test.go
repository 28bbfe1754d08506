package gates

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// Every example program explains its use on request, and rejects arguments that it does not know.
func TestExampleCommandLines(t *testing.T) {
	atRoot(t)
	if testing.Short() || runtime.GOOS == "js" {
		t.Skip("builds every example program")
	}
	dir := t.TempDir()
	if out, err := exec.Command("go", "build", "-o", dir+string(filepath.Separator), "./examples/...").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	programs := 0
	for _, f := range files {
		if strings.TrimSuffix(f.Name(), ".exe") == "wasm" {
			continue // for browsers only
		}
		programs++
		say := func(args ...string) (stdout, stderr string, code int) {
			var out, errs bytes.Buffer
			c := exec.Command(filepath.Join(dir, f.Name()), args...)
			c.Stdout, c.Stderr = &out, &errs
			var exit *exec.ExitError
			if err := c.Run(); errors.As(err, &exit) {
				code = exit.ExitCode()
			} else if err != nil {
				t.Fatal(err)
			}
			return out.String(), errs.String(), code
		}
		for _, help := range []string{"-h", "-help"} {
			if stdout, stderr, code := say(help); code != 0 || !strings.HasPrefix(strings.ToLower(stdout+stderr), "usage") {
				t.Errorf("%s %s: exit code %d\n%s%s", f.Name(), help, code, stdout, stderr)
			}
		}
		for _, wrong := range [][]string{{"-nonsense"}, {"no-such-file.json"}, {"no-such-file.json", "nor-this.json", "nor-this.json"}} {
			if stdout, stderr, code := say(wrong...); code == 0 || stdout != "" && f.Name() != "browser" || stderr == "" {
				t.Errorf("%s %q: exit code %d\n%s%s", f.Name(), wrong, code, stdout, stderr)
			}
		}
	}
	if programs < 8 {
		t.Errorf("%d programs were built", programs)
	}
}
