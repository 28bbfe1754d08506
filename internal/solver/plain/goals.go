package plain

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/knapsack"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
)

// secondaryGoals chooses among the plans of the proven least cost: the fewest sticks,
// then the longest single offcut. It stops when it has spent about as much as
// the proof did; the plan is then still one of the least cost.
func (r *solver) secondaryGoals() {
	if r.plan == nil || r.bound < r.cost || !r.mt.Left() {
		return
	}
	// With one kind of stick the cost tells how many there are, and only the offcut is open.
	work := goalsWork + min(r.mt.Used()/goalsShare, mostGoalsWork)
	if len(r.p.Bins) == 1 {
		work = goalsWorkOfOne + min(r.mt.Used()/goalsShareOfOne, mostGoalsWork)
	}
	mt := r.mt.Sub(work)
	if len(r.p.Bins) == 1 && r.p.Bins[0].Cost > 0 && r.root.Scale > 0 {
		// The relaxation that there was says all there is to say.
		t := &solver{p: r.p, mt: mt, plan: r.plan, cost: r.cost, bound: r.cost, master: r.master, root: r.root}
		t.longestOffcut()
		r.plan = t.plan
		return
	}
	sticks := count(r.plan)
	top := int64(1)
	for _, b := range r.p.Bins {
		top = max(top, b.Cost)
	}
	// One stick counts less than one unit of cost, all of them together too.
	unit := sticks + 1
	if r.cost > (1<<52)/unit || top > (1<<52)/unit {
		return
	}
	q := &model.Problem{Items: r.p.Items, Bins: slices.Clone(r.p.Bins)}
	for b := range q.Bins {
		q.Bins[b].Cost = q.Bins[b].Cost*unit + 1
	}
	t := &solver{p: q, mt: mt, plan: r.plan, cost: r.cost*unit + sticks, rng: r.rng}
	t.master = master.New(q)
	addInitialColumns(t.master, t.plan)
	for j := range r.master.Columns {
		pat := r.master.Columns[j].Fill
		if r.master.LP.Basic(r.master.Col(j)) {
			t.master.Add(pat.Bin, pat.Uses)
		}
	}
	st := t.master.Solve(t.cost, mt)
	if st == master.Stopped || t.master.Duals.Scale == 0 {
		return
	}
	t.bound = t.master.Bound
	t.root = t.master.Duals.Clone()
	t.alternatives = []master.Duals{t.root}
	if !t.done() {
		t.enumerateRoot(goalsList, false, mostGoalsWork)
	}
	if t.bound >= t.cost {
		t.longestOffcut()
	}
	r.plan = t.plan
}

func count(cols []model.PatternCount) int64 {
	var n int64
	for _, c := range cols {
		n += c.Count
	}
	return n
}

// offcut returns the most that is left of one stick.
func offcut(p *model.Problem, cols []model.PatternCount) int64 {
	var most int64
	for _, c := range cols {
		most = max(most, p.Bins[c.Bin].Cap-p.Size(c.Uses))
	}
	return most
}

// longestOffcut looks for a plan of the same cost with the longest single offcut: it
// halves the range of lengths that may be left of one stick of each bin, and
// asks for a plan that uses one such stick shortened by as much. What the dual
// duals rule out is not asked.
func (r *solver) longestOffcut() {
	s := r.root
	maxCap := int64(0)
	for _, bin := range r.p.Bins {
		maxCap = max(maxCap, bin.Cap)
	}
	var t knapsack.Table
	if !t.Build(r.p.Items, r.p.Demands(), s.Item, maxCap, pricing.MaxLabels, r.mt) {
		return
	}
	best := make([]int64, len(r.p.Bins))
	for b, bin := range r.p.Bins {
		best[b] = t.Best(bin.Cap)
	}
	num := bound.Numerator(r.p, bound.Full(r.p), s.Item, best, s.Scale)
	if _, ok := num.Int64(); !ok {
		return
	}
	num.AddMul(s.Scale, -r.cost)
	short, ok := num.Int64()
	if !ok || short == math.MinInt64 {
		return
	}
	gap := -short
	type chance struct {
		bin  int
		most int64
	}
	var chances []chance
	for b, bin := range r.p.Bins {
		if bin.Limit > 0 {
			need := max(best[b], bin.Cost*s.Scale) - gap
			if size, ok := t.LeastSize(need); ok && size <= bin.Cap {
				chances = append(chances, chance{b, bin.Cap - max(size, r.p.Items[len(r.p.Items)-1].Size)})
			}
		}
	}
	slices.SortStableFunc(chances, func(a, b chance) int {
		switch {
		case a.most > b.most:
			return -1
		case a.most < b.most:
			return 1
		}
		return 0
	})
	have := offcut(r.p, r.plan)
	for _, c := range chances {
		// Most bins have nothing longer to give: ask that first.
		for lo, hi, first := have+1, c.most, true; lo <= hi && r.mt.Left(); first = false {
			mid := lo + (hi-lo)/2
			if first {
				mid = lo
			}
			if plan := r.leaving(c.bin, mid, &t); plan != nil {
				r.plan = plan
				have = offcut(r.p, plan)
				lo = max(mid, have) + 1
			} else {
				if hi = mid - 1; first {
					break
				}
			}
		}
	}
}

// leaving returns a plan of no more than the best cost that leaves at least
// size of one stick of bin b, or nil when it finds none. The table holds the
// patterns at the duals of the root.
func (r *solver) leaving(b int, size int64, t *knapsack.Table) []model.PatternCount {
	q := &model.Problem{Items: r.p.Items, Bins: slices.Clone(r.p.Bins)}
	short := len(q.Bins)
	q.Bins = append(q.Bins, model.Bin{Cap: q.Bins[b].Cap - size, Cost: q.Bins[b].Cost, Limit: 1})
	q.Bins[b].Limit--
	box := bound.Full(q)
	box.Lo[short] = 1
	// The duals at hand often settle it, without a relaxation of its own.
	s := r.root.Clone()
	s.Best = append(s.Best, t.Best(q.Bins[short].Cap))
	plan, sure := searchEnumerated(master.NewFamilies(q), box, []master.Duals{s}, r.cost+1, offcutList, false, r.mt.Sub(offcutWork))
	if !sure {
		plan, _ = boxed(q, box, r.master, r.cost+1, r.mt)
	}
	for k := range plan {
		if plan[k].Bin == short {
			plan[k].Bin = b
		}
	}
	return plan
}

// boxed finds a plan below cutoff with the bins used as often as the box says,
// or nil, and reports whether the answer is certain. The columns to start with
// are those of another master's basis, and the last bin's own.
func boxed(q *model.Problem, box bound.Box, hint *master.Master, cutoff int64, mt *meter.Meter) ([]model.PatternCount, bool) {
	m := master.New(q)
	m.SetBox(box)
	for j := range hint.Columns {
		pat := hint.Columns[j].Fill
		if hint.LP.Basic(hint.Col(j)) {
			m.Add(pat.Bin, pat.Uses)
		}
	}
	short := len(q.Bins) - 1
	for i, it := range q.Items {
		if n := min(it.Demand, q.Bins[short].Cap/it.Size); n > 0 {
			m.Add(short, []model.Use{{Item: i, N: n}})
		}
	}
	switch m.Solve(cutoff, mt) {
	case master.Pruned, master.Infeasible:
		return nil, true
	case master.Stopped:
		return nil, false
	}
	plan, complete := searchEnumerated(m.Families, box, []master.Duals{m.Duals.Clone()}, cutoff, goalsList, false, mt)
	if plan != nil && model.Cost(q, plan) >= cutoff {
		return nil, false
	}
	return plan, complete
}
