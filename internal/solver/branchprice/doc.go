// Package branchprice solves cutting stock problems by branch and price, to proven optimality if possible: first by cost,
// then by the goals after it.
//
// The master problem (package master) has a row for each item, class of sticks and run, and for each budget of an earlier
// goal. Its columns come in families: patterns of a kind of stick and assemblies of a run, each with a pricing oracle
// (package pricing), and purchases and exchanges of two items, which are few. Relaxation, dives, neighborhoods (package heuristic), search over a
// list (package listing) and the tree over counts of sticks (tree.go) serve all families alike. Every bound is computed in
// integers.
//
// Problems without rules have a simpler master and lists of their own (without_rules.go), so that their leaves and searches
// are in the form of proofs for such problems. With one kind of stick there are no counts to split: then lists and searches
// for a packing without waste decide (one_kind.go).
package branchprice
