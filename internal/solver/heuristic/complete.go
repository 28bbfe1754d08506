package heuristic

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// fillUpSteps limits the steps of filling up a start from the caller: some tens of milliseconds.
const fillUpSteps = 1 << 24

// Complete turns a start from the caller, a plan or a part of one, into plans, which it passes to offer.
// Missing items go into the rest of the part's sticks, longest first; the others are planned as by [Quick].
// It returns the filled-up part, and offers nothing if the part is infeasible.
func Complete(p *rules.Problem, part []rules.ColumnCount, mt *meter.Meter, offer func([]rules.ColumnCount)) []rules.ColumnCount {
	part = fillUp(p, part, mt)
	q := p.Residual(part)
	if q == nil {
		return part
	}
	if len(q.Runs) == 0 && !slices.ContainsFunc(q.Items, func(it rules.Item) bool { return it.Demand > 0 }) {
		offer(part)
		return part
	}
	Quick(q, mt, func(plan []rules.ColumnCount) { offer(p.Joined(part, plan)) })
	return part
}

// fillUp adds missing items to patterns of the plan that have capacity for them, longest first.
func fillUp(p *rules.Problem, plan []rules.ColumnCount, mt *meter.Meter) []rules.ColumnCount {
	left := make([]int64, len(p.Items))
	order := make([]int, len(p.Items))
	for i := range p.Items {
		left[i], order[i] = p.Items[i].Demand, i
	}
	for _, q := range plan {
		if q.Column.Fill == nil {
			for _, u := range p.Runs[q.Column.Run].Uses(q.Column.Path) {
				left[u.Item] += q.N * u.N
			}
			continue
		}
		for _, u := range q.Column.Fill.Uses {
			left[u.Item] -= q.N * u.N
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(p.Items[b].Orientations[0].Size, p.Items[a].Orientations[0].Size)
	})
	plan = slices.Clone(plan)
	must := mt.First(firstSteps) // a start is worth these steps, whatever the limit
	spent := int64(0)
	for _, i := range order {
		for k := 0; k < len(plan) && left[i] > 0 && !p.Items[i].Alone; {
			f := plan[k].Column.Fill
			if f == nil || p.Items[f.Uses[0].Item].Alone {
				k++
				continue
			}
			fits := false
			for w := range p.Items[i].Orientations {
				n := p.FillSteps(f)
				mt.Spend(n)
				if spent += n; spent > fillUpSteps || !must.Watch(n) {
					return plan
				}
				g := f.With(i, w, 1)
				var x rules.PatternSize
				if x, fits = p.Fill(&g); fits {
					n := min(plan[k].N, left[i])
					if rest := plan[k].N - n; rest > 0 {
						plan = append(plan, rules.ColumnCount{Column: plan[k].Column, N: rest})
					}
					plan[k] = rules.ColumnCount{Column: p.Cut(g, &x), N: n}
					left[i] -= n
					break
				}
			}
			if !fits {
				k++
			}
		}
	}
	return plan
}
