// Package solvertest is what the tests of the solver's parts share: tiny problems drawn at random, what
// trying everything says of them, and what makes a plan one. It is slow and obvious, and knows nothing of
// how the solver works.
package solvertest
