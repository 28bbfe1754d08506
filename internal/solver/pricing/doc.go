// Package pricing has the oracles that find columns for the restricted master: patterns of bins
// without rules, by the table of package knapsack (plain.go); patterns of one kind of stick
// with rules, by a knapsack with states (knapsack.go, automaton.go); and the cheapest
// assemblies of a run, by shortest paths (path.go). All implement one interface (oracle.go),
// which is called once per round, not once per item. An oracle is built for the current duals;
// then it returns the gain of the best column of each place, or a bound on it, offers several
// good and different columns, and enumerates all that are good enough.
//
// P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem,
// Operations Research 9 (1961) 849-859; for the states, S. Irnich, G. Desaulniers, Shortest
// path problems with resource constraints, in: Column Generation, Springer (2005) 33-65.
package pricing
