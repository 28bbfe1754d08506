package rcpsp

// Result is a plan with its bound.
type Result struct {
	Plan   []Start // of each task
	Done   int64   // end of the last task
	Bound  int64   // no plan ends earlier
	Proven bool    // Bound equals Done
	Steps  int64   // steps of the search
	Float  []Float // of each task
}

const (
	narrowest = 4
	fewTasks  = 64      // up to which a beam finds better plans than the other methods
	mostTasks = 1000    // up to which a beam is tried
	mostWords = 1 << 22 // of all labels of a layer, which limits them to about 100 MB
)

// Solve schedules the tasks of a problem whose links form no cycle, with a limit on the
// steps of the search. The result is nil if no plan was found that ends within the
// calendar. If ended is not nil, the search also ends when it reports true.
func Solve(p *Problem, steps int64, ended func() bool) *Result {
	g := newNetwork(p)
	g.ended = ended
	early := g.earliest()
	end := int64(0)
	for _, w := range early {
		if w.end >= Never {
			return nil
		}
		end = max(end, w.end)
	}
	r := &Result{Done: Never, Bound: end, Float: g.floats(early, end)}
	g.passes(r, g.latest(end))
	if r.Plan == nil {
		return nil
	}
	pools := g.pools()
	r.Bound = g.lowerBound(early, pools, r.Done)
	share := steps / 2 // for problems for which no beam is wide enough
	if len(p.Tasks) <= fewTasks {
		share = steps / 16
	}
	g.polish(r, share-g.steps)
	if r.Bound < r.Done && len(p.Tasks) <= mostTasks {
		share := steps - g.steps
		if !g.ordered() {
			share /= 2
		}
		g.improve(r, early, share)
	}
	r.Steps += g.steps
	if r.Bound < r.Done && len(p.Tasks) <= fewTasks && !g.ordered() && g.branch(r, steps-r.Steps) {
		r.Bound = r.Done
	}
	r.Proven = r.Bound == r.Done
	return r
}

// passes tries priority rules: the latest start, the order of the list, and closeness to
// the end, which finishes one room before the next.
func (g *network) passes(r *Result, late []window) {
	rank := make([]int64, len(g.Tasks))
	for k := range 3 {
		for i, w := range late {
			rank[i] = []int64{w.start, int64(i), -w.start}[k]
		}
		r.take(g.pass(rule{rank: rank}))
		if g.choices {
			r.take(g.pass(rule{rank: rank, patient: true}))
		}
	}
}

// polish repeats passes in the order of the best plan so far, slightly shuffled, for a
// number of steps. An equally good plan replaces the incumbent, so that the search moves.
func (g *network) polish(r *Result, steps int64) {
	if r.Plan == nil {
		return
	}
	const (
		justify = 8 // every so often, backward and forward again
		spans   = 5
		delays  = 3
	)
	rank := make([]int64, len(g.Tasks))
	random := uint64(1)
	for k, end := 0, g.steps+steps; r.Bound < r.Done && g.steps < end && !g.stopped(); k++ {
		g.steps += int64(len(rank))
		// Ranks are moved by up to 1/64 of the plan, 1/32 ... 1/4.
		span := uint64(max(1, r.Done>>(2+k%spans)))
		if k%justify == 0 {
			g.justified(r.Plan, r.Done, rank)
			r.take(g.pass(rule{rank: rank, delay: int64(k/justify%delays) * 50}))
			continue
		}
		for i, s := range r.Plan {
			random = random*6364136223846793005 + 1442695040888963407 // Knuth's constants, from memory
			rank[i] = s.Start + int64(random>>33%span)
		}
		r.take(g.pass(rule{rank: rank, delay: int64(k/spans%delays) * 50, patient: g.choices && k/spans/delays%2 == 1}))
	}
}

// take replaces the incumbent if the plan ends earlier.
func (r *Result) take(plan []Start) {
	if plan == nil {
		return
	}
	done := int64(0)
	for _, s := range plan {
		done = max(done, s.End)
	}
	if done <= r.Done {
		r.Plan, r.Done = plan, done
	}
}

// improve searches with beams of increasing width.
func (g *network) improve(r *Result, early []window, steps int64) {
	b := newBeam(g, early, steps)
	ordered := g.ordered()
	for width := narrowest; r.Bound < r.Done && width*len(g.Tasks) <= mostWords; width *= 4 {
		for r.Bound < r.Done && !g.isOver {
			plan, f := b.search(r.Done-1, width)
			r.take(plan)
			if f == foundNone && ordered {
				r.Bound = r.Done
			}
			if f == foundLimit {
				r.Steps = b.steps
				return
			}
			if f != foundPlan {
				break
			}
		}
	}
	r.Steps = b.steps
}

// ordered reports whether no link lets a task start before its predecessor in any
// plan: then all plans can be built in the order of their starts.
func (g *network) ordered() bool {
	var open []Link // waits for Task of the link, by i
	var from []int
	for i, t := range g.Tasks {
		for _, l := range t.Links {
			if !g.inOrder(l, i) {
				open, from = append(open, l), append(from, i)
			}
		}
	}
	for k, l := range open {
		if !g.follows(from[k], l.Task) {
			return false
		}
	}
	return true
}

// inOrder reports whether a link by itself keeps its tasks in the order of their starts.
func (g *network) inOrder(l Link, to int) bool {
	lag := l.Lag.Time
	switch {
	case lag < 0 && !l.Lag.Working:
		return false
	case lag > 0 && !l.Lag.Working:
		lag = 0
	}
	switch l.Kind {
	case FinishStart:
		return lag+g.short[l.Task] >= 0
	case StartStart:
		return lag >= 0
	case FinishFinish:
		return lag+g.short[l.Task] >= g.long[to]
	default:
		return lag >= g.long[to]
	}
}

// follows reports whether a chain of such links leads from a task to one of its
// predecessors.
func (g *network) follows(i, target int) bool {
	seen := make([]bool, len(g.Tasks))
	stack := []int{i}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, l := range g.Tasks[i].Links {
			if !seen[l.Task] && g.inOrder(l, i) {
				if l.Task == target {
					return true
				}
				seen[l.Task] = true
				stack = append(stack, l.Task)
			}
		}
	}
	return false
}
