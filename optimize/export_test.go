package optimize

// SolveWith is Solve with another engine, for tests of what surrounds it.
var SolveWith = solve

// AuditWithin is Audit with another limit on its steps.
func AuditWithin(p Problem, plan *Plan, steps int64) (Audited, error) { return audit(&p, plan, steps) }

// Fill is the checker's knapsack, for tests against plain enumeration.
func Fill(size, value, count []int64, room, from, steps int64) (int64, bool) {
	e := &evidence{size: size, count: count}
	left := patient(steps)
	return fill(e.bag(value), room, from, false, &left)
}

// PatternsBound bounds the number of patterns.
func PatternsBound(p *Problem) int64 { return p.fewestPatterns() }

const (
	SumLimit  = sumLimit
	MaxPieces = maxPieces
)

// Spent is how many steps a check has when whoever waits has enough at the given look.
func Spent(steps int64, looks int) int64 {
	e := hurried(steps, func() bool { looks--; return looks <= 0 })
	n := int64(0)
	for e.spend(1) {
		n++
	}
	return n
}

// How often a check looks, and what it may spend when nobody waits any longer.
const (
	AskEvery  = askEvery
	LastSteps = lastSteps
)
