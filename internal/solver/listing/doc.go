// Package listing searches a box of stick counts by a list: of all columns that a better plan in the box can use, of those of
// a relaxation, or of any others. The choice among them is a set covering problem (package setcover). The tree of a complete
// search over all columns is a proof, together with the duals that shortened the list.
package listing
