// Package gates holds the tests of the repository as a whole: which package may import
// which, what is exported and shown, what README says, what people read. They look at the
// files of all packages, so they run at the root of the module. Directory api lists what is
// exported, and its file baseline names the release that changes are compared with.
package gates

import "testing"

// atRoot goes to the root of the module. Each test does so by itself: of a change of
// directory before the tests begin, the go command would not hear, and a recorded pass would
// count whatever has become of the files since.
func atRoot(t *testing.T) {
	t.Helper()
	t.Chdir("../..")
}
