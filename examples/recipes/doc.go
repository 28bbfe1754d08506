// Package recipes is a book of short programs for common questions: README.md is its table of
// contents. Each recipe is a page and an Example; the tests run the Examples and compare the
// pages with them.
package recipes
