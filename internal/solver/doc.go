// Package solver is the folder of the solver: README.md beside this file says how it works and what its
// words mean, and the tests here hold the numbers of that text against the code.
package solver
