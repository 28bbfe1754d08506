// Package branchprice solves problems with rules or several kinds of stick by branch and price, to proven optimality if possible, and optimizes the
// goals after the cost of all problems.
//
// The master problem (package master) has a row for each item, class of sticks and run, and for each budget of an earlier
// goal. Its columns come in families: patterns of a bin and assemblies of a run, each with a pricing oracle (package
// pricing), and purchases. The relaxation and the list of columns within the gap (package master), the search over such a
// list (package listing) and the tree over counts of sticks (tree.go) serve all families alike. Every bound is computed in
// integers.
//
// Problems without rules that have several kinds of stick are solved here, too, with a master and lists of their own
// (without_rules.go), so that their leaves and searches are in the form of proofs for such problems. Package plain solves
// those with one kind.
package branchprice
