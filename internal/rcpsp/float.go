package rcpsp

// Float is the working time by which a task can start after its earliest start,
// ignoring resources and dust.
type Float struct {
	Total int64 // without delaying the end
	Free  int64 // without delaying any other task
}

// floats computes the floats from the earliest times and the resulting end.
func (g *network) floats(early []window, end int64) []Float {
	late := g.latest(end)
	f := make([]Float, len(g.Tasks))
	for i, w := range early {
		free := late[i]
		if len(g.after[i]) > 0 {
			from, to := end, end
			for _, l := range g.after[i] {
				x := early[l.Task].start
				if l.Kind.ToFinish() {
					x = early[l.Task].end
				}
				if x = g.cal.Sub(x, l.Lag); l.Kind.FromStart() {
					from = min(from, x)
				} else {
					to = min(to, x)
				}
			}
			free = g.until(i, from, to)
		}
		between := func(until int64) int64 { return max(0, g.cal.Worked(until)-g.cal.Worked(w.start)) }
		f[i] = Float{between(late[i].start), between(free.start)}
	}
	return f
}
