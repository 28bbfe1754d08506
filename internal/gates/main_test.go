// Package gates holds the tests of the repository as a whole: which package may import
// which, what is exported and shown, what README says, what people read. They look at the
// files of all packages, so they run at the root of the module. Directory api lists what is
// exported, and its file baseline names the release that changes are compared with.
package gates

import (
	"fmt"
	"os"
	"testing"
)

func TestMain(m *testing.M) {
	if err := os.Chdir("../.."); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}
