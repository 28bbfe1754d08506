// Package setcover chooses, among columns that are listed one by one, the cheapest plan:
// branch and cut with linear relaxations. When the list holds every column that a better
// plan could use, the search is a proof.
//
// The problem is an integer program,
//
//	least     sum of cost*x
//	so that   every item is yielded as often as it is wanted       (rows of items)
//	          Lo <= sum of coefficient*x <= Hi                     (all other rows)
//	          Lo <= x <= Hi, x whole                               (columns)
//
// in which the other rows count sticks, say that of the columns of a run one is used, or
// keep a criterion within its budget. The relaxation (relax.go) starts with some of the
// columns and prices the others, all of which are known, so that there is no oracle. It is
// solved in floating point; a node is closed only by a bound that is computed anew in
// integers from the rounded duals. Columns whose reduced cost takes that bound to the
// cutoff are fixed at zero below the node (reduced-cost fixing).
//
// Branching (branch.go) is on how often a stick is used, then on the nodes that runs pass,
// then on how many columns hold a given pair of items (or a given number of one item),
// after D. M. Ryan, B. A. Foster, An integer programming approach to scheduling (1981) and
// F. Vanderbeck, Branching in branch-and-price: a generic scheme, Mathematical
// Programming 130 (2011) 249-294, then on single columns. Once it is known how often each
// stick is used, or where the caller asks for it, single columns come before pairs.
//
// Cuts on half the rows (cut.go, separate.go) and other optimal duals (perturb.go) keep
// nodes few where the caller asks for them.
package setcover
