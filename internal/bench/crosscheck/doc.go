// Package crosscheck compares the library with independent results: published optima, and
// general solvers with their own models of the same problems. It consists of tests.
package crosscheck
