// Package gates has the tests of the whole repository: permitted imports, the exported names
// and their examples, the code in README, the text for people. They read the files of all
// packages, so they run at the root of the module. Directory api lists the exported names, and
// its file baseline names the release to compare changes with.
package gates

import "testing"

// atRoot changes to the root of the module. Each test calls it: the go command would not notice
// a change of directory before the tests begin, and a cached pass would stand whatever happened
// to the files since.
func atRoot(t *testing.T) {
	t.Helper()
	t.Chdir("../..")
}
