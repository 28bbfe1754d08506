package branchprice

import (
	"context"
	"slices"

	"example.com/longpoint/internal/meter"
)

// Goal is one of the goals, which are lexicographic.
type Goal uint8

const (
	LeastPrice Goal = iota
	FewestSticks
	MostSalvage
	LongestOffcut
	FewestPatterns
	FewestCuts
	FewestSplices
)

// GoalResult is what a plan reaches of a goal and what none can better that is as good in
// the goals before. Proven says that the two meet and did so for every goal before.
type GoalResult struct {
	Value, Bound int64
	Proven       bool
}

// Options says what to strive for and how long.
type Options struct {
	Work  int64
	Goals []Goal // the first is LeastPrice

	// Patterns is known to be a bound on the number of different patterns: no plan has
	// fewer.
	Patterns int64

	Brief bool // spend on the goals after the first no more than a share of what that took

	// Start is a plan to begin from, or a part of one: within limits, of no item more than
	// is wanted. Nil is none.
	Start *Start

	// Report, if not nil, is told of each better plan and bound, and once about every
	// Tick steps. With Brief the goals after the first have nothing to tell but that time
	// passes. False ends the run.
	Report func(*Event) bool
}

// Solve finds the plan that is best by the first goal and proves it where it can;
// among those the best by the second, and so on.
func Solve(ctx context.Context, p *Problem, o Options) (Result, []GoalResult) {
	mt := meter.New(ctx, o.Work)
	r := &solver{p: p, mt: mt, objective: objective{main: Price}, startPlan: p.picks(o.Start), watch: newWatch(p, mt, o.Report)}
	r.solve(nil)
	res := r.result()
	if r.plan == nil {
		return res, nil
	}
	levels := []GoalResult{{r.cost, max(0, res.Bound), res.Stop == Proven}}
	l := goals{p: p, mt: mt, plan: r.plan, objective: r.objective, sound: res.Stop == Proven, fewest: max(1, o.Patterns), columns: r.rootBasis}
	if !o.Brief {
		l.watch = r.watch
	}
	l.addBudget(Price, r.cost)
	if o.Brief && !l.sound {
		return res, levels
	}
	first := mt.Used()
	for _, g := range o.Goals[min(1, len(o.Goals)):] {
		// A lower goal is worth some waiting, not all of it.
		work := goalWork + goalShare*first
		if o.Brief {
			// Of each its own: what one goal spends in vain is not the next one's loss.
			work = briefWork + min(first/briefShare, mostBriefWork)
		}
		l.mt = mt.Sub(work)
		levels = append(levels, l.optimizeNext(g))
	}
	// A goal after an open first one may come upon a plan that is better by the first.
	crit, _ := evaluate(p, l.plan)
	res.Cost = crit[Price]
	if res.Bound = min(res.Bound, res.Cost); res.Bound == res.Cost {
		res.Stop, levels[0].Proven = Proven, true
	}
	levels[0].Value, levels[0].Bound = res.Cost, res.Bound
	res.Patterns, res.Assemblies = p.exact(l.plan)
	res.Work = mt.Used()
	return res, levels
}

type goals struct {
	p         *Problem
	mt        *meter.Meter
	plan      []columnCount
	objective objective
	sound     bool // every stage so far is proven

	offcut int64 // later goals keep an offcut this long, 0: any
	watch  *watch
	fewest int64 // no plan has fewer different patterns
	least  int64 // likewise where bins that are left idle count, too
	most   int64 // different patterns that later goals may use, 0: any number

	columns []column // that the relaxation of the first goal needs
}

func (l *goals) addBudget(k int, v int64) {
	l.objective.capped[k] = true
	l.objective.limit[k] = v
}

func (l *goals) optimizeNext(g Goal) GoalResult {
	var v GoalResult
	l.watch.climb(l, g)
	switch g {
	case FewestSticks:
		v = l.optimizeBy(Sticks)
	case MostSalvage:
		// A pattern that loses all its items to others has no offcut any more.
		q := *l.p
		q.Exact = true
		l.p = &q
		v = l.optimizeBy(Salvage)
		v.Value, v.Bound = -v.Value, -v.Bound
	case FewestCuts:
		v = l.optimizeBy(Cuts)
	case FewestSplices:
		v = l.splices()
	case LongestOffcut:
		v = l.longest()
	case FewestPatterns:
		v = l.patterns()
	default:
		v = l.optimizeBy(Price)
	}
	v.Proven = v.Proven && l.sound
	l.sound = v.Proven
	return v
}

// optimizeBy improves one criterion within the limits so far.
func (l *goals) optimizeBy(k int) GoalResult {
	a := l.objective
	a.main = k
	p, plan := l.p, l.plan
	if l.offcut > 0 {
		// The offcut that a goal before has reached is one of what has to be cut.
		if plan = l.p.fillOffcut(plan, l.offcut); plan == nil {
			return l.unchanged(k, -offset)
		}
		p = l.p.asking(l.offcut)
	}
	r := &solver{p: p, objective: a, mt: l.mt, startColumns: l.columns}
	if l.offcut == 0 && l.least == 0 && l.most == 0 {
		r.watch = l.watch // whatever it finds will be the plan
	}
	r.solve(plan)
	found := r.plan
	if found != nil && l.offcut > 0 {
		found = l.freeOffcut(found, l.offcut)
	}
	if found != nil && !l.undoes(found) {
		l.plan = found
		crit, _ := evaluate(l.p, found)
		l.watch.found(found, crit)
	}
	if r.plan == nil {
		return l.unchanged(k, -offset)
	}
	return l.unchanged(k, r.bound)
}

// unchanged settles a criterion at what the plan reaches, of which the bound is known.
func (l *goals) unchanged(k int, bound int64) GoalResult {
	crit, _ := evaluate(l.p, l.plan)
	l.addBudget(k, crit[k])
	if k != Salvage {
		bound = max(bound, 0)
	}
	return GoalResult{crit[k], min(bound, crit[k]), bound >= crit[k]}
}

// splices makes as few splices as possible.
func (l *goals) splices() GoalResult {
	for r := range l.p.Runs {
		if slices.ContainsFunc(l.p.Runs[r].Arcs, func(a Arc) bool { return a.Splices > 0 }) {
			return l.optimizeBy(Splices)
		}
	}
	return GoalResult{Proven: true}
}

// offcut returns the longest offcut of a plan.
func (p *Problem) offcut(plan []columnCount) int64 {
	most := int64(0)
	for _, q := range plan {
		if q.column.fill != nil && !p.Items[q.column.fill.Uses[0].Item].Alone {
			if x, ok := p.Fill(q.column.fill); ok {
				most = max(most, x.Offcut)
			}
		}
	}
	return most
}

// longestLeft returns the longest offcut of a plan, or the longest bin of a stick in use
// that is left idle if that is longer.
func (p *Problem) longestLeft(plan []columnCount) int64 {
	most := p.offcut(plan)
	if !p.stretched() {
		return most
	}
	used := make([]int64, len(p.Bins))
	for _, q := range plan {
		if q.column.fill != nil {
			used[q.column.fill.Bin] += q.n
		}
	}
	for c, n := range p.counts(used) {
		for _, b := range p.Classes[c].Bins {
			if used[b] < n {
				most = max(most, p.Bins[b].Cap-p.Kinds[p.Bins[b].Kind].Kerf)
			}
		}
	}
	return most
}

// longest makes the longest single offcut longer: it asks for a plan within the limits that
// leaves one of such a length, by bisection.
func (l *goals) longest() GoalResult {
	have := l.p.longestLeft(l.plan)
	most := max(have, l.p.roomiest())
	bound := most // shown, where most is where the search is
	for have < most && l.mt.Left() {
		mid := have + (most-have+1)/2
		plan, certain := l.piece(mid)
		if plan != nil && l.undoes(plan) {
			plan, certain = nil, false
		}
		switch {
		case plan != nil:
			l.plan = plan
			have = max(mid, l.p.longestLeft(plan))
			l.watch.better(plan)
		case certain:
			most, bound = mid-1, mid-1
		default:
			most = mid - 1
		}
	}
	bound = max(have, bound)
	if l.p.stretched() {
		l.least = have
	} else {
		l.offcut = have
	}
	return GoalResult{have, bound, have == bound}
}

// stretched reports whether some stick has several bins, of which one that is left idle is an
// offcut, too.
func (p *Problem) stretched() bool {
	return slices.ContainsFunc(p.Classes, func(c StockClass) bool { return len(c.Bins) > 1 })
}

// piece looks for a plan within the limits with an offcut of the length, and reports
// whether the answer is certain.
func (l *goals) piece(length int64) ([]columnCount, bool) {
	a := l.objective
	a.main = Price
	r := &solver{p: l.p.asking(length), objective: a, mt: l.mt.Sub(offcutWork), target: a.limit[Price], startColumns: l.columns}
	r.threshold = a.limit[Price] + 1
	r.objective.capped[Price] = false // no plan counts that is dearer: a row would only say so again
	r.solve(nil)
	if r.plan == nil {
		return nil, r.bound > a.limit[Price]
	}
	return l.freeOffcut(r.plan, length), false
}

// roomiest returns what no offcut is longer than.
func (p *Problem) roomiest() int64 {
	most := int64(0)
	for b := range p.Bins {
		k := &p.Kinds[p.Bins[b].Kind]
		least := int64(-1)
		for i := range p.Items {
			if p.Items[i].Alone || k.Barred != nil && k.Barred[i] {
				continue
			}
			for _, w := range p.Items[i].Orientations {
				size := w.Size
				for _, c := range [2]int{w.Left, w.Right} {
					if c >= 0 {
						size -= p.Setbacks[c] / 2 // with neighbors it may take this little
					}
				}
				if least < 0 || size < least {
					least = size
				}
			}
		}
		if least >= 0 {
			most = max(most, p.Bins[b].Cap-least-k.Kerf)
		}
	}
	return most
}

// asking returns the problem with one more item: an offcut of the length.
func (p *Problem) asking(length int64) *Problem {
	q := *p
	q.Items = slices.Clone(p.Items)
	q.Kinds = slices.Clone(p.Kinds)
	kerf := int64(0)
	for k := range q.Kinds {
		kerf = max(kerf, q.Kinds[k].Kerf)
		if q.Kinds[k].Barred != nil {
			q.Kinds[k].Barred = append(slices.Clone(q.Kinds[k].Barred), false)
		}
	}
	q.Items = append(q.Items, Item{Demand: 1, Most: 1, Orientations: []Orientation{{length + kerf, Square, Square}}, Offcut: length})
	// What is left out of a pattern must not leave the offcut alone.
	q.Exact = true
	return &q
}

// fillOffcut puts the piece that asking wants into the longest offcut of the plan; nil where
// that is too short.
func (p *Problem) fillOffcut(plan []columnCount, length int64) []columnCount {
	fills, ways := p.exact(plan)
	plan = plan[:0:0]
	for r, w := range ways {
		c := p.assembly(r, w)
		plan = append(plan, columnCount{&c, 1})
	}
	for i := range fills {
		x, ok := p.Fill(&fills[i].Pattern)
		if !ok {
			return nil
		}
		plan = append(plan, columnCount{&column{fill: &fills[i].Pattern, cost: p.costs(&fills[i].Pattern, &x)}, fills[i].Count})
	}
	for at, q := range plan {
		if q.column.fill == nil || p.Items[q.column.fill.Uses[0].Item].Alone {
			continue
		}
		if x, ok := p.Fill(q.column.fill); !ok || x.Offcut < length {
			continue
		}
		f := q.column.fill.with(len(p.Items), 0, 1)
		out := append(slices.Clone(plan), columnCount{&column{fill: &f, cost: q.column.cost}, 1})
		if out[at].n--; out[at].n == 0 {
			out = slices.Delete(out, at, at+1)
		}
		return out
	}
	return nil
}

// freeOffcut takes the piece that asking wants out of a plan again; nil where the plan
// without it has no such offcut or leaves the limits.
func (l *goals) freeOffcut(with []columnCount, length int64) []columnCount {
	n := len(l.p.Items)
	var plan []columnCount
	for _, p := range with {
		if p.column.fill == nil {
			plan = append(plan, p)
			continue
		}
		f := Pattern{Bin: p.column.fill.Bin}
		for _, u := range p.column.fill.Uses {
			if u.Item != n {
				f.Uses = append(f.Uses, u)
			}
		}
		if len(f.Uses) == 0 {
			return nil // a stick bought for nothing but its offcut
		}
		x, ok := l.p.Fill(&f)
		if !ok {
			return nil
		}
		plan = append(plan, columnCount{&column{fill: &f, cost: l.p.costs(&f, &x)}, p.n})
	}
	crit, ok := evaluate(l.p, plan)
	if !ok || l.p.offcut(plan) < length {
		return nil
	}
	for k := range criteria {
		if l.objective.capped[k] && crit[k] > l.objective.limit[k] {
			return nil
		}
	}
	return plan
}

// patterns makes fewer different patterns where patterns of one bin can be replaced
// by their average.
func (l *goals) patterns() GoalResult {
	crit, _ := evaluate(l.p, l.plan)
	for l.mt.Spend(1000) && l.average(crit) {
	}
	n := l.p.countPatterns(l.plan)
	l.most = n
	return GoalResult{n, min(n, l.fewest), n <= l.fewest}
}

// countPatterns counts the different patterns of a plan.
func (p *Problem) countPatterns(plan []columnCount) int64 {
	n := int64(0)
	for _, q := range plan {
		if q.column.fill != nil && !p.Items[q.column.fill.Uses[0].Item].Alone {
			n++
		}
	}
	return n
}

// undoes reports whether a plan has more patterns, or less left of its best stick, than
// goals before have come to.
func (l *goals) undoes(plan []columnCount) bool {
	return l.most > 0 && l.p.countPatterns(plan) > l.most || l.least > 0 && l.p.longestLeft(plan) < l.least
}

func (l *goals) average(crit [criteria]int64) bool {
	for i := range l.plan {
		for j := range i {
			a, b := l.plan[i], l.plan[j]
			if a.column.fill == nil || b.column.fill == nil || a.column.fill.Bin != b.column.fill.Bin {
				continue
			}
			n := a.n + b.n
			f := Pattern{Bin: a.column.fill.Bin}
			even := true
			for _, u := range a.column.fill.Uses {
				f = f.with(u.Item, u.Orient, u.N*a.n)
			}
			for _, u := range b.column.fill.Uses {
				f = f.with(u.Item, u.Orient, u.N*b.n)
			}
			for k := range f.Uses {
				even = even && f.Uses[k].N%n == 0
				f.Uses[k].N /= n
			}
			if !even || slices.ContainsFunc(f.Uses, func(u Use) bool { return u.N == 0 }) {
				continue
			}
			x, ok := l.p.Fill(&f)
			if !ok {
				continue
			}
			plan := append([]columnCount{{&column{fill: &f, cost: l.p.costs(&f, &x)}, n}}, l.plan[:j]...)
			plan = append(plan, l.plan[j+1:i]...)
			plan = append(plan, l.plan[i+1:]...)
			now, ok := evaluate(l.p, plan)
			ok = ok && (l.offcut == 0 || l.p.offcut(plan) >= l.offcut) && (l.least == 0 || l.p.longestLeft(plan) >= l.least)
			for k := range criteria {
				ok = ok && (!l.objective.capped[k] || now[k] <= crit[k])
			}
			if ok {
				l.plan = plan
				l.watch.better(plan)
				return true
			}
		}
	}
	return false
}
