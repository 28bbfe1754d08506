// Package setcover finds the cheapest plan whose columns are from a given list, by branch and cut with
// linear relaxations. If the list holds every column that a better plan could use, the search is a
// proof.
//
// The problem is an integer program,
//
//	least     sum of cost*x
//	so that   every item is yielded as often as demanded           (rows of items)
//	          Lo <= sum of coefficient*x <= Hi                     (all other rows)
//	          Lo <= x <= Hi, x whole                               (columns)
//
// whose other rows count sticks, require one of a run's columns, or keep a criterion within its budget.
// The relaxation (relax.go) starts with some of the columns and prices the others, all of which are
// known, so it needs no pricing oracle. It is solved in floating point; a node is closed only by a
// bound that is computed in integers from the rounded duals. Columns whose reduced cost raises that
// bound to the cutoff are fixed at zero below the node (reduced-cost fixing).
//
// Branching (branch.go) is first on the use of each kind of stick, then on the nodes that runs pass,
// then on the number of columns that hold a given pair of items (or a given number of one item), after
// D. M. Ryan, B. A. Foster, An integer programming approach to scheduling (1981) and F. Vanderbeck,
// Branching in branch-and-price: a generic scheme, Mathematical Programming 130 (2011) 249-294, and
// finally on single columns. Once the use of every kind of stick is fixed, or if the caller asks for
// it, single columns come before pairs.
//
// {0,1/2}-cuts (cut.go, separate.go) and alternative optimal duals (perturb.go) reduce the number of
// nodes if the caller asks for them.
package setcover
