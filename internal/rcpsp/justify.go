package rcpsp

import "slices"

// justified computes the latest start of each task of a plan if the end is not delayed and
// tasks that hold the same resource of one unit, or share a zone, keep their order: the
// backward half of forward-backward improvement; Valls, Ballestín and Quintanilla,
// "Justification and RCPSP: a technique that pays" (2005, from memory). A pass in the order
// of these starts is the forward half.
func (g *network) justified(plan []Start, done int64, rank []int64) {
	tasks := slices.Clone(g.order)
	slices.SortStableFunc(tasks, func(i, j int) int { return compare(plan[i].Start, plan[j].Start) })
	held := slices.Repeat([]int64{done}, len(g.Capacity)) // latest end of holding
	still, dry := slices.Repeat([]int64{done}, g.Zones), slices.Repeat([]int64{Never}, g.Zones)
	for k := len(tasks) - 1; k >= 0; k-- {
		i := tasks[k]
		t := &g.Tasks[i]
		m := &t.Modes[plan[i].Mode]
		end, start := done, done
		for _, l := range g.after[i] {
			x := rank[l.Task]
			if l.Kind.ToFinish() {
				x = g.cal.Advance(x, g.short[l.Task])
			}
			if x = g.cal.Sub(x, l.Lag); l.Kind.FromStart() {
				start = min(start, x)
			} else {
				end = min(end, x)
			}
		}
		for _, n := range m.Need {
			if m.Time > 0 && n.Units == g.Capacity[n.Resource] {
				end = min(end, held[n.Resource])
			}
		}
		if g.dusty[i] {
			end = min(end, still[t.Zone])
		}
		if g.wet[i] {
			end = min(end, dry[t.Zone]-t.Dry)
		}
		s := max(plan[i].Start, min(g.cal.Retreat(end, m.Time), g.cal.LatestStart(start, m.Time)))
		rank[i] = s
		for _, n := range m.Need {
			held[n.Resource] = min(held[n.Resource], s)
		}
		if g.dusty[i] {
			dry[t.Zone] = min(dry[t.Zone], s)
		}
		if g.wet[i] {
			still[t.Zone] = min(still[t.Zone], s)
		}
	}
}
