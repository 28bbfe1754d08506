package gates

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// largest is more than any file that a person reads or a test compares needs.
const largest = 512 << 10

// No compiled program is under version control: go build leaves one beside the source, and it would
// stay in every clone forever.
func TestNoBinaries(t *testing.T) {
	atRoot(t)
	_, _ = os.Stat(".git/index") // the tracked files may change without any of the files below
	out, err := exec.Command("git", "ls-files", "-z").Output()
	if err != nil {
		t.Skip("not a git checkout: ", err)
	}
	n := 0
	for name := range strings.SplitSeq(strings.TrimRight(string(out), "\x00"), "\x00") {
		info, err := os.Lstat(name)
		if err != nil {
			continue // deleted and not yet committed
		}
		n++
		if info.Size() > largest {
			t.Errorf("%s has %d bytes, want at most %d", name, info.Size(), largest)
		}
	}
	if n < 500 {
		t.Errorf("only %d files: this tests nothing", n)
	}
}
