package optimize

// SolveWith is Solve with another engine, for tests of what surrounds it.
var SolveWith = solve

// AuditWithin is Audit with another limit on its steps.
func AuditWithin(p Problem, plan *Plan, steps int64) (Audited, error) { return audit(&p, plan, steps) }

// Fill is the checker's knapsack, for tests against plain enumeration.
func Fill(size, value, count []int64, room, from, steps int64) (int64, bool) {
	e := &evidence{size: size, count: count}
	return fill(e.bag(value), room, from, false, &steps)
}

// PatternsBound bounds the number of patterns.
func PatternsBound(p *Problem) int64 { return p.fewestPatterns() }

const (
	SumLimit  = sumLimit
	MaxPieces = maxPieces
)
