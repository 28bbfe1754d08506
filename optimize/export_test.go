package optimize

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/internal/solver/listing"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/internal/solver/setcover"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// SolveWith is Solve with another engine, to test the code around it.
var SolveWith = solve

// RoundTrip states a problem for the solver and decodes the first plan it can make, nil if there is
// none; then it states that plan as a start and decodes that, too.
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

// Holds reports whether a cost is among the sums of a leaf of a problem with rules.
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

// Spent returns the steps of a check whose caller stops waiting at the given look.
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

// The steps between two checks of the context, and the steps allowed after it has ended.
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
	Beyond          *certificate.Searching
}

// Unseal returns the content of a proof.
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
	if x.beyond != nil {
		o.Beyond = &certificate.Searching{Items: x.beyond.Items, Forced: slices.Clone(x.beyond.Forced)}
		for k := range x.beyond.Searches {
			s := &x.beyond.Searches[k]
			o.Beyond.Searches = append(o.Beyond.Searches, certificate.Search{Leaf: s.Leaf, Filters: s.Filters, Root: opened(s.Nodes(), 0)})
		}
	}
	return o
}

// opened returns a tree in full.
func opened(c *certificate.Cursor, rows int) *certificate.Node {
	at, kind := c.Next(rows)
	n := &certificate.Node{Way: at.Way, Row: at.Row, At: at.At}
	if kind == branchNode || kind == wayNode {
		if n.Counts() {
			rows++
		}
		n.Less = opened(c, rows)
		n.More = opened(c, rows)
		return n
	}
	v := *at.Vector
	v.Items, v.Classes, v.Rows, v.Cuts = slices.Clone(v.Items), slices.Clone(v.Classes), slices.Clone(v.Rows), slices.Clone(v.Cuts)
	if n.Vector = &v; kind == fixNode {
		n.Then = opened(c, rows)
	}
	return n
}

// Searched returns a proof that no plan of a problem without rules costs less than the bound, by a
// search over the list of all patterns of the rest that forced sticks leave, whether these are forced
// or not; nil if there is such a plan for the rest.
func Searched(p *Problem, bound int64, forced [][3]int, cuts bool) *OpenProof {
	steps := patient(auditSteps)
	e := gather(p, &steps)
	unit := int64(0)
	for _, c := range e.class {
		unit = commonDivisor(unit, c.cost)
	}
	items, ok := e.itemized()
	if unit = max(unit, 1); !ok || bound <= 0 {
		return nil
	}
	for _, f := range forced {
		if !items.takeOff(f) {
			return nil
		}
	}
	limit := int64(0)
	for _, n := range items.count {
		limit += n
	}
	e.leave(items)
	left := bound
	for _, f := range forced {
		_ = f
		left -= e.class[0].cost
		e.class[0].limit = max(0, e.class[0].limit-1)
	}
	l := leaf{Lo: make([]int64, len(e.class)), Values: make([]int64, len(e.size)), Scale: 1}
	for c := range e.class {
		if len(forced) > 0 {
			e.class[c].limit = min(e.class[c].limit, limit)
		}
		l.Hi = append(l.Hi, e.class[c].limit)
	}
	x := &exhibit{kind: ProofEnumeration, unit: unit, leafBound: left}
	s := items.everyPattern(&l, x, cuts)
	if s == nil || left <= 0 {
		return nil
	}
	o := &OpenProof{Kind: ProofEnumeration, Unit: unit, LeafBound: bound, Leaves: []Leaf{l}}
	if len(forced) > 0 {
		o.Kind = ProofPacking
	}
	o.Beyond = &certificate.Searching{Items: len(items.size), Forced: forced, Searches: []certificate.Search{*s}}
	return o
}

// everyPattern searches a list of all patterns.
func (e *evidence) everyPattern(l *leaf, x *exhibit, cuts bool) *certificate.Search {
	zero := vector{Scale: 1, Items: make([]int64, len(e.size))}
	top := x.leafBound/x.unit - 1
	if x.leafBound%x.unit != 0 {
		top++
	}
	g, shown, ok := e.sieve(l, &zero, top, x)
	if !ok {
		return nil
	}
	s := &certificate.Search{Filters: []vector{zero}, Root: nothing(e)}
	if shown {
		return s
	}
	all, ok := e.list(l, []sieve{g}, x.unit)
	if !ok {
		return nil
	}
	var q model.Problem
	var classOf []int
	of := map[int32]int{}
	for i := len(e.size) - 1; i >= 0; i-- {
		if e.count[i] > 0 {
			of[int32(i)] = len(q.Items)
			q.Items = append(q.Items, model.Item{Size: e.size[i], Demand: e.count[i]})
		}
	}
	for c := range e.class {
		classOf = append(classOf, c)
		q.Bins = append(q.Bins, model.Bin{Cap: e.class[c].room, Cost: e.class[c].cost / x.unit, Limit: l.Hi[c]})
	}
	search := listing.Search{P: rules.Of(&q), Box: bound.Full(&q), Branching: setcover.Branching{Cuts: cuts}, Record: true}
	for _, p := range all.all {
		pat := &model.Pattern{Bin: int(p.class)}
		for _, h := range all.held[p.from:p.to] {
			pat.Uses = append(pat.Uses, model.Use{Item: of[h.item], N: h.times})
		}
		slices.Reverse(pat.Uses)
		search.Columns = append(search.Columns, rules.Column{Fill: pat})
	}
	plan, complete := search.Run(top+1, meter.New(context.Background(), 50_000_000))
	tree := search.Recorded()
	if !complete || plan != nil || tree == nil {
		return nil
	}
	t := reversing(len(q.Items), classOf)
	s.Root = e.widened(t.node(tree))
	return s
}

// widened makes a tree over the items that are wanted, still in their order, one over all.
func (e *evidence) widened(n *certificate.Node) *certificate.Node {
	if n == nil {
		return nil
	}
	var of []int
	for i, c := range e.count {
		if c > 0 {
			of = append(of, i)
		}
	}
	if v := n.Vector; v != nil {
		all := make([]int64, len(e.size))
		for k, u := range v.Items {
			all[of[k]] = u
		}
		v.Items = all
		for k := range v.Cuts {
			for j, i := range v.Cuts[k].Items {
				v.Cuts[k].Items[j] = of[i]
			}
		}
	}
	for k := range n.Row.Holds {
		n.Row.Holds[k].Item = of[n.Row.Holds[k].Item]
	}
	n.Then, n.Less, n.More = e.widened(n.Then), e.widened(n.Less), e.widened(n.More)
	return n
}

// The parts of a search, for tests that forge one.
type (
	Node      = certificate.Node
	Vector    = certificate.Vector
	Row       = certificate.Row
	Way       = certificate.Way
	Hold      = certificate.Hold
	Weight    = certificate.Weight
	Searching = certificate.Searching
	Search    = certificate.Search
)

// Sealed returns the proof with that content, true or not.
func (o *OpenProof) Sealed() (Proof, error) {
	u := unsealed{kind: o.Kind, Evidence: certificate.Evidence{Unit: o.Unit, LeafBound: o.LeafBound, Leaves: o.Leaves, Beyond: o.Beyond}}
	return u.seal()
}

// ProofOf returns a proof of any bytes, even invalid ones.
func ProofOf(kind ProofKind, data string) Proof { return Proof{kind, data} }

// Bytes returns the bytes of a proof.
func (p Proof) Bytes() string { return p.data }

// Shorten makes leaves take fewer bytes.
var Shorten = shorten

// ReportOn makes a report with the given open bounds of goals.
func ReportOn(bound, shown int64, why string, goals []string) *Report {
	r := reportOn(bound, shown, why)
	r.open = append(r.open, goals...)
	return r
}

// Holding returns the greatest value of a stick by values of pieces, and whether it is exact. The
// values are those of pieces and, after them, those for lots.
func Holding(p *Problem, stick int, values []int64, steps int64) (int64, bool) {
	left := patient(steps)
	e := gatherRules(p, &left)
	v, exact, o := e.holding(&Leaf{Values: values}).class(e.of[stick], 0)
	return v, exact && o == worked
}

// Numbers returns the number of values of a leaf, and where those for the lots of a piece begin.
func Numbers(p *Problem) (n int, lots []string, lotsOf []int) {
	left := patient(auditSteps)
	e := gatherRules(p, &left)
	return e.numbers, e.lots, e.lotsOf
}

// Cuttable reports whether Check accepts a pattern, by itself, and which offcut it leaves.
func Cuttable(p *Problem, pat Pattern) (measure.Length, bool) {
	c := &ruleCheck{p: p, plan: &Plan{Patterns: []Pattern{pat}}, fill: true}
	ok := c.pattern(0) == nil
	return c.plan.Patterns[0].Offcut, ok
}

// Listed looks up the patterns and ways of a plan for a problem with rules in the list that Check
// makes by a filter of random values below most, of all columns that a plan at its cost can use. It
// describes the first missing one, if any; it is not ok if Check makes no list of such a problem.
func Listed(p *Problem, plan *Plan, r *rand.Rand, most int64) (missing string, ok bool) {
	steps := patient(auditSteps)
	e := gatherRules(p, &steps)
	lists, ok := e.lists(1)
	if !ok {
		return "", false
	}
	l := leaf{Used: make([]int, len(p.Rules.Charges))}
	for c := range e.class {
		l.Lo, l.Hi = append(l.Lo, 0), append(l.Hi, e.class[c].limit)
	}
	f := vector{Scale: 1 + r.Int64N(8)}
	for range lists.items {
		f.Items = append(f.Items, r.Int64N(most+1))
	}
	x := &exhibit{unit: 1, leafBound: plan.Cost + 1}
	g, shown, ok := lists.sieve(&l, &f, plan.Cost, x)
	switch {
	case !ok:
		return "", false
	case shown:
		return "all: the filter rules them out", true
	}
	all, ok := lists.list(&l, []sieve{g}, 1)
	if !ok {
		return "", false
	}
	has := func(class int, want map[int]int64, at []int32) bool {
		return slices.ContainsFunc(all.all, func(q pattern) bool {
			if int(q.class) != class || at != nil && !slices.Equal(all.rules.ways[q.at], at) {
				return false
			}
			holds := 0
			for _, h := range all.held[q.from:q.to] {
				if n := want[int(h.item)]; n > 0 && h.times >= n || n < 0 && h.times == n {
					holds++
				}
			}
			return at != nil || holds == len(want)
		})
	}
	for k := range plan.Patterns {
		c := e.of[plan.Patterns[k].Stick]
		for n := range e.class[c].clear {
			if want := lists.wantedBy(plan, k, n); len(want) > 0 && !has(c, want, nil) {
				return fmt.Sprintf("pattern %d, stretch %d", k, n), true
			}
		}
	}
	for k := range p.Runs {
		var at []int32
		nodes := append(slices.Clone(p.Runs[k].Splice.At), p.Runs[k].Length)
		for _, x := range append(slices.Clone(plan.Spliced[k].At), p.Runs[k].Length) {
			at = append(at, int32(slices.Index(nodes, x)+1))
		}
		if !has(len(e.class)+k, nil, at) {
			return fmt.Sprintf("the way of run %d", k), true
		}
	}
	return "", true
}

// wantedBy returns how often a pattern of a plan has each item in a clear stretch, -1 for the item that stands for the stretch.
func (r *ruleLists) wantedBy(plan *Plan, k, stretch int) map[int]int64 {
	e, out := r.e, map[int]int64{}
	pat := &plan.Patterns[k]
	part := map[int]stock.Piece{}
	for n := range plan.Spliced {
		run := &e.p.Runs[n]
		nodes := append(append([]measure.Length{0}, run.Splice.At...), run.Length)
		from := 0
		for j, id := range plan.Spliced[n].Pieces {
			to := len(nodes) - 1
			if j < len(plan.Spliced[n].At) {
				to = slices.Index(nodes, plan.Spliced[n].At[j])
			}
			part[id], _ = e.part(run, nodes, from, to)
			from = to
		}
	}
	gap := r.gap[e.of[pat.Stick]]
	for n, i := range pat.Pieces {
		if gap != noItem && pat.Stretch[n] != stretch {
			continue
		}
		if gap != noItem {
			out[gap+stretch] = -1
		}
		if i >= len(e.p.Pieces) {
			pc := part[i]
			out[r.at[e.partAt[e.lookOf(&pc)]][0]]++
			continue
		}
		for a := range e.articles {
			if len(e.articles[a].pieces) > 0 && e.articles[a].pieces[0] == i {
				out[r.at[a][min(e.class[e.of[pat.Stick]].lot, len(r.at[a])-1)]]++
			}
		}
	}
	return out
}
