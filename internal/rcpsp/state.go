package rcpsp

// state is a partial plan, as far as the rest of it depends on it. Tasks are placed in the
// order of their starts, so that all that counts of what is under way is when it ends.
type state struct {
	last  int64   // start of the task placed last
	done  int64   // end of all that is placed
	start []int64 // of each task: not before, as its release and what is placed make it
	end   []int64 // of each task: it does not end before; nil where no link holds ends
	busy  [][]use // of each resource, by end
	wet   []int64 // of each zone: when all is dry
	dust  []int64 // of each zone: when no dust is raised
}

// use is how many units are held until when.
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

// open returns the earliest start of something that is of the kind of a task in one of its
// modes, from a moment on: what it waits for is not looked at, see fit.
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

// fit returns the earliest start of a task in one of its modes, not before the one
// placed last. What it waits for is placed.
func (g *network) fit(s *state, i, mode int) int64 {
	from := s.start[i]
	if s.end != nil && s.end[i] > 0 {
		from = max(from, g.cal.StartToEnd(s.end[i], g.Tasks[i].Modes[mode].Time))
	}
	return g.open(s, i, mode, from)
}

// free returns from when on no more than so many units of a resource are held.
func (s *state) free(resource int, most int64) int64 {
	b := s.busy[resource]
	for k := len(b) - 1; k >= 0; k-- {
		if most -= b[k].units; most < 0 {
			return b[k].end
		}
	}
	return 0
}

// place puts a task where fit says, and returns when it ends.
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
