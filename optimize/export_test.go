package optimize

import (
	"context"
	"slices"

	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/search"
)

// SolveWith is Solve with another engine, for tests of what surrounds it.
var SolveWith = solve

// RoundTrip states a problem for the solver, takes the first plan that comes to its mind back from it, which is nil where there
// is none, and states that plan as one to begin from and takes it back, too.
func RoundTrip(p Problem) (out, back *Plan, err error) {
	in, err := compile(context.Background(), &p)
	if err != nil {
		return nil, nil, err
	}
	r := solver.Solve(context.Background(), &in.model, search.Options{Work: 1})
	if r.Patterns == nil {
		return nil, nil, nil
	}
	if out, err = in.interim(&r, 0); err != nil {
		return nil, nil, err
	}
	if p.Rules.Spare > 0 {
		return out, out, nil // which of the sticks that are bought are to spare a plan does not say
	}
	start, err := in.start(out)
	if err != nil {
		return nil, nil, err
	}
	r.Patterns, r.Assemblies = start.Patterns, start.Assemblies
	back, err = in.interim(&r, 0)
	return out, back, err
}

// AuditWithin is Audit with another limit on its steps.
func AuditWithin(p Problem, plan *Plan, steps int64) (*Report, error) {
	e := patient(steps)
	return audit(&p, plan, &e)
}

// Fill is the checker's knapsack, for tests against plain enumeration.
func Fill(size, value, count []int64, room, from, steps int64) (int64, bool) {
	e := &evidence{size: size, count: count}
	left := patient(steps)
	return fill(e.bag(value), room, from, false, &left)
}

// NextSum is the least sum from v on of base, up to most[i] times step[i], and one of
// each of the choices, or limit.
func NextSum(base int64, step, most []int64, choices [][]int64, v, limit, steps int64) (int64, bool) {
	o := &outlay{base: mul(base, 1), choices: choices}
	for i := range step {
		o.series = append(o.series, series{step[i], most[i]})
	}
	left := patient(steps)
	return o.next(v, limit, &left)
}

// Plain tells whether a problem has no rules.
func Plain(p *Problem) bool { return p.plain() }

// Holds tells whether a cost is among the sums of a leaf of a problem with rules.
func Holds(p *Problem, l *Leaf, cost int64) bool {
	left := patient(auditSteps)
	o := gatherRules(p, &left).outlay(l)
	if o == nil {
		return true // all are
	}
	v, ok := o.next(cost, cost+1, &left)
	return ok && v == cost
}

// MaxSums is how many sums NextSum lists.
const MaxSums = maxSums

// PatternsBound bounds the number of patterns.
func PatternsBound(p *Problem) int64 { return p.fewestPatterns() }

const (
	SumLimit  = sumLimit
	MaxPieces = maxPieces
)

// Spent is how many steps a check has when whoever waits has enough at the given look.
func Spent(steps int64, looks int) int64 {
	e := hurried(steps, func() error {
		if looks--; looks > 0 {
			return nil
		}
		return context.Canceled
	})
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

// ClassLimits returns how often each class of sticks may be used, in the order of a proof.
func ClassLimits(p *Problem) (limits []int64) {
	left := patient(auditSteps)
	if p.plain() {
		for _, c := range gather(p, &left).class {
			limits = append(limits, c.limit)
		}
		return limits
	}
	for _, c := range gatherRules(p, &left).class {
		limits = append(limits, c.limit)
	}
	return limits
}

// WorkLimit returns the steps that options allow under a context; 0 sets no limit.
func WorkLimit(ctx context.Context, o *Options) int64 { return o.work(ctx) }

// Leaf is a box of a proof in full; Part the value of parts of a length.
type (
	Leaf = leaf
	Part = certificate.Part
)

// OpenProof is a proof in full, for tests that look into it or forge one.
type OpenProof struct {
	Kind            ProofKind
	Unit, LeafBound int64
	Leaves          []Leaf
}

// Unseal returns what a proof says.
func Unseal(p Proof) *OpenProof {
	x, err := p.open(nil)
	if err != nil {
		panic(err)
	}
	o := &OpenProof{Kind: x.kind, Unit: x.unit, LeafBound: x.leafBound}
	for _, l := range x.all {
		at := *l
		at.Lo, at.Hi, at.Used = slices.Clone(l.Lo), slices.Clone(l.Hi), slices.Clone(l.Used)
		at.Values, at.Parts = slices.Clone(l.Values), slices.Clone(l.Parts)
		o.Leaves = append(o.Leaves, at)
	}
	return o
}

// Sealed returns the proof that says so, be it true or not.
func (o *OpenProof) Sealed() (Proof, error) {
	u := unsealed{o.Kind, certificate.Evidence{Unit: o.Unit, LeafBound: o.LeafBound, Leaves: o.Leaves}}
	return u.seal()
}

// ProofOf returns a proof of any bytes, also of some that are none.
func ProofOf(kind ProofKind, data string) Proof { return Proof{kind, data} }

// Bytes returns the bytes of a proof.
func (p Proof) Bytes() string { return p.data }

// Shorten makes leaves take fewer bytes.
var Shorten = shorten

// ReportOn makes a report, and says which bounds of goals are open.
func ReportOn(bound, shown int64, why string, goals []string) *Report {
	r := reportOn(bound, shown, why)
	r.open = append(r.open, goals...)
	return r
}

// Holding returns the most that a stick holds by values of pieces, and whether that is exact.
// The values are those of pieces and, after them, those for lots.
func Holding(p *Problem, stick int, values []int64, steps int64) (int64, bool) {
	left := patient(steps)
	e := gatherRules(p, &left)
	v, exact, o := e.holding(&Leaf{Values: values}).class(e.of[stick], 0)
	return v, exact && o == worked
}

// Numbers returns how many values a leaf has, and where those for the lots of a piece begin.
func Numbers(p *Problem) (n int, lots []string, lotsOf []int) {
	left := patient(auditSteps)
	e := gatherRules(p, &left)
	return e.numbers, e.lots, e.lotsOf
}

// Cuttable tells whether Check takes a pattern, by itself.
func Cuttable(p *Problem, pat Pattern) bool {
	c := &ruleCheck{p: p, plan: &Plan{Patterns: []Pattern{pat}}, fill: true}
	return c.pattern(0) == nil
}
