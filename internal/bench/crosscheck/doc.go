// Package crosscheck holds the library against what shares no code with it:
// published optima, and general solvers given the same problems in their own
// words. It consists of tests.
package crosscheck
