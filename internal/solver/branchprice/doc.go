// Package branchprice solves problems with rules by branch and price, to proven optimality if possible, and optimizes the
// goals after the cost of all problems.
//
// The master problem (package master) has a row for each item, class of sticks and run, and for each budget of an earlier
// goal. Its columns come in families: patterns of a bin and assemblies of a run, each with a pricing oracle (package
// pricing), and purchases. The relaxation and the list of columns within the gap (package master), the search over such a
// list (package listing) and the tree over counts of sticks (tree.go) serve all families alike. Every bound is computed in
// integers.
//
// Package plain solves problems without rules, and is faster there; tests compare the two.
package branchprice
