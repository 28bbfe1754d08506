// Package branchprice solves problems with rules to proven optimality where it can: branch and price.
//
// The master problem (package master) has a row for each item, class of sticks, run and, for the lower goals, budget. Its
// columns come from families, each with its own way to find the best missing one: patterns of a bin and
// assemblies of a run (package pricing), and purchases. The relaxation and the list of columns within the gap
// (package master), the search over such a list (listsearch.go) and the tree over
// counts of sticks (tree.go) are written once for all of them. Every bound is
// computed in integers.
//
// The plain problem, without any of it, is the business of package plain, which
// knows how to be quick there; tests hold the two to the same answers.
package branchprice
