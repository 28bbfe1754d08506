// Package pricing has the oracles that find what a restricted master lacks: the patterns of bins without rules, by the
// table of package knapsack (plain.go), those of one kind of stick with rules, by a knapsack with states (knapsack.go,
// automaton.go), and the cheapest assemblies of a run, by shortest paths (path.go). All stand behind one interface
// (oracle.go) that is called once a round, never an item: an oracle is built for the present duals; it then says
// what the best column of each place comes to, or a bound on it, offers several good ones that differ, and
// enumerates all that are good enough.
//
// P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations Research 9
// (1961) 849-859; for the states, S. Irnich, G. Desaulniers, Shortest path problems with resource constraints, in:
// Column Generation, Springer (2005) 33-65.
package pricing
