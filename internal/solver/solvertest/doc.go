// Package solvertest has helpers for the tests of the solver: it draws tiny problems at random,
// solves them by exhaustion, and verifies plans. It is slow and simple, and independent of how
// the solver works.
package solvertest
