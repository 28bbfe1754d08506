package rcpsp

// state is the part of a partial plan on which its completion depends. Tasks are placed in
// the order of their starts, so only the ends of tasks in progress matter.
type state struct {
	last  int64   // start of the task placed last
	done  int64   // end of all placed tasks
	start []int64 // earliest start of each task, from its release and the placed tasks
	end   []int64 // earliest end of each task; nil if no link constrains ends
	busy  [][]use // of each resource, by end
	wet   []int64 // time at which each zone is dry
	dust  []int64 // time at which each zone is free of dust
}

// use is a number of units held until end.
type use struct{ end, units int64 }

func (g *network) newState() *state {
	s := &state{start: make([]int64, len(g.Tasks)), busy: make([][]use, len(g.Capacity)), wet: make([]int64, g.Zones), dust: make([]int64, g.Zones)}
	for i, t := range g.Tasks {
		s.start[i] = t.Release
	}
	if g.toFinish {
		s.end = make([]int64, len(g.Tasks))
	}
	return s
}

// open returns the earliest start, from a moment on, of any task of the same group in one
// of its modes, ignoring predecessors; see fit.
func (g *network) open(s *state, i, mode int, from int64) int64 {
	t := &g.Tasks[i]
	m := &t.Modes[mode]
	from = max(from, s.last)
	if g.dusty[i] {
		from = max(from, s.wet[t.Zone])
	}
	if g.wet[i] {
		from = max(from, s.dust[t.Zone])
	}
	for _, need := range m.Need {
		from = max(from, s.free(need.Resource, g.Capacity[need.Resource]-need.Units))
	}
	return g.cal.at(from, m.Time)
}

// fit returns the earliest start of a task in one of its modes, not before the
// start of the last placed task. Its predecessors must be placed.
func (g *network) fit(s *state, i, mode int) int64 {
	from := s.start[i]
	if s.end != nil && s.end[i] > 0 {
		from = max(from, g.cal.StartToEnd(s.end[i], g.Tasks[i].Modes[mode].Time))
	}
	return g.open(s, i, mode, from)
}

// free returns the moment from which on at most most units of a resource are held.
func (s *state) free(resource int, most int64) int64 {
	b := s.busy[resource]
	for k := len(b) - 1; k >= 0; k-- {
		if most -= b[k].units; most < 0 {
			return b[k].end
		}
	}
	return 0
}

// place places a task at the start from fit, and returns its end.
func (g *network) place(s *state, i, mode int, start int64) int64 {
	t := &g.Tasks[i]
	m := &t.Modes[mode]
	end := g.cal.Advance(start, m.Time)
	s.last, s.done = start, max(s.done, end)
	if g.dusty[i] {
		s.dust[t.Zone] = max(s.dust[t.Zone], end)
	}
	if g.wet[i] {
		s.wet[t.Zone] = max(s.wet[t.Zone], min(end+t.Dry, Never))
	}
	for _, l := range g.after[i] {
		from, to := g.bounds(l, start, end)
		s.start[l.Task] = max(s.start[l.Task], from)
		if to > 0 {
			s.end[l.Task] = max(s.end[l.Task], to)
		}
	}
	if m.Time > 0 {
		for _, need := range m.Need {
			s.busy[need.Resource] = hold(s.busy[need.Resource], use{end, need.Units}, start)
		}
	}
	return end
}

// hold adds a use, and drops those that have ended by now.
func hold(b []use, u use, now int64) []use {
	k := 0
	for k < len(b) && b[k].end <= now {
		k++
	}
	b = append(b[:0], b[k:]...)
	b = append(b, u)
	for i := len(b) - 1; i > 0 && b[i-1].end > b[i].end; i-- {
		b[i-1], b[i] = b[i], b[i-1]
	}
	return b
}
