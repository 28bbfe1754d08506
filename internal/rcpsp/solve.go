package rcpsp

// Result is a plan and what is known about it.
type Result struct {
	Plan   []Start // of each task
	Done   int64   // when the last ends
	Bound  int64   // no plan is done earlier
	Proven bool    // Bound is Done
	Float  []Float // of each task
}

// Solve schedules the tasks of a problem whose links make no cycle. The result is nil if
// no plan was found that ends within the calendar.
func Solve(p *Problem) *Result {
	g := newNetwork(p)
	early := g.earliest()
	r := &Result{Done: Never}
	for _, w := range early {
		if w.end >= Never {
			return nil
		}
		r.Bound = max(r.Bound, w.end)
	}
	late := g.latest(r.Bound)
	r.Float = g.floats(early, r.Bound)
	rank := make([]int64, len(p.Tasks))
	for i, w := range late {
		rank[i] = w.start
	}
	for _, patient := range []bool{false, true} {
		plan := g.pass(rank, patient)
		if plan == nil {
			continue
		}
		done := int64(0)
		for _, s := range plan {
			done = max(done, s.End)
		}
		if done < r.Done {
			r.Plan, r.Done = plan, done
		}
	}
	if r.Plan == nil {
		return nil
	}
	r.Proven = r.Bound == r.Done
	return r
}
