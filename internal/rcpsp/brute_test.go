package rcpsp

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"
)

var bruteCases = flag.Int("brutecases", 4000, "tiny networks that are compared with all plans")

// minutes is a calendar as a list of minutes, against which that of windows is compared:
// whether each is worked, and how many were before.
type minutes struct {
	works []bool
	count []int
}

const horizon = 400

func randomMinutes(r *rand.Rand) minutes {
	var m minutes
	if r.IntN(4) == 0 {
		m.works = make([]bool, horizon)
		for i := range m.works {
			m.works[i] = true
		}
	} else {
		on := r.IntN(2) == 0
		for len(m.works) < horizon {
			n := 1 + r.IntN(6)
			for range n {
				m.works = append(m.works, on)
			}
			on = !on
		}
	}
	m.count = append(m.count, 0)
	for _, w := range m.works {
		k := m.count[len(m.count)-1]
		if w {
			k++
		}
		m.count = append(m.count, k)
	}
	return m
}

// calendar is the same as windows.
func (m minutes) calendar() *Calendar {
	at := 0
	return NewCalendar(func() (open, end int64, ok bool) {
		for at < len(m.works) && !m.works[at] {
			at++
		}
		if at == len(m.works) {
			return 0, 0, false
		}
		open = int64(at)
		for at < len(m.works) && m.works[at] {
			at++
		}
		return open, int64(at), true
	})
}

// end returns when work that starts in a minute ends, or -1 if it cannot start there.
func (m minutes) end(start, d int) int {
	if d == 0 {
		return start
	}
	if start >= len(m.works) || !m.works[start] {
		return -1
	}
	for e := start; e < len(m.works); e++ {
		if m.works[e] {
			if d--; d == 0 {
				return e + 1
			}
		}
	}
	return -1
}

// after returns the moment at a lag after t.
func (m minutes) after(t int, l Lag) int {
	switch {
	case l.Time == 0:
		return t
	case !l.Working:
		return max(0, t+int(l.Time))
	}
	want := max(0, m.count[t]+int(l.Time))
	for k, n := range m.count {
		if n >= want {
			return k
		}
	}
	return horizon
}

// fits reports whether the tasks done so far keep all rules that concern task i, or any task if i is
// -1.
func (m minutes) fits(p *Problem, plan []Start, done []bool, with int) error {
	for i, t := range p.Tasks {
		if !done[i] {
			continue
		}
		s := plan[i]
		if with < 0 || with == i {
			if err := m.waits(p, plan, done, i); err != nil {
				return err
			}
		}
		for k, o := range p.Tasks {
			if !done[k] || with >= 0 && with != i && with != k || o.Zone != t.Zone || !t.Dusty || !o.Wet || s.Start == s.End {
				continue
			}
			if dry := plan[k].End + o.Dry; plan[k].Start < dry && s.Start < dry && plan[k].Start < s.End {
				return fmt.Errorf("task %d is dusty while %d is wet", i, k)
			}
		}
		for r, c := range p.Capacity { // at its start
			for k, o := range p.Tasks {
				if done[k] && plan[k].Start <= s.Start && s.Start < plan[k].End {
					for _, n := range o.Modes[plan[k].Mode].Need {
						if n.Resource == r {
							c -= n.Units
						}
					}
				}
			}
			if c < 0 {
				return fmt.Errorf("too much of resource %d when task %d starts", r, i)
			}
		}
	}
	return nil
}

// waits reports whether a task takes its time and waits for its predecessors.
func (m minutes) waits(p *Problem, plan []Start, done []bool, i int) error {
	t, s := &p.Tasks[i], plan[i]
	if e := m.end(int(s.Start), int(t.Modes[s.Mode].Time)); e < 0 || int64(e) != s.End || s.Start < t.Release {
		return fmt.Errorf("task %d: %+v ends at %d", i, s, e)
	}
	for _, l := range t.Links {
		if !done[l.Task] {
			continue
		}
		from, to := plan[l.Task].End, s.Start
		if l.Kind == StartStart || l.Kind == StartFinish {
			from = plan[l.Task].Start
		}
		if l.Kind == FinishFinish || l.Kind == StartFinish {
			to = s.End
		}
		if to < int64(m.after(int(from), l.Lag)) {
			return fmt.Errorf("task %d does not wait: %+v", i, l)
		}
	}
	return nil
}

// brute returns the earliest end of all plans, by trying every start of every task.
func (m minutes) brute(p *Problem, order []int, best int64) int64 {
	plan, done := make([]Start, len(p.Tasks)), make([]bool, len(p.Tasks))
	var try func(k int, end int64)
	try = func(k int, end int64) {
		if k == len(order) {
			best = min(best, end)
			return
		}
		i := order[k]
		done[i] = true
		for mode, way := range p.Tasks[i].Modes {
			for s := int(p.Tasks[i].Release); int64(s) < best; s++ {
				e := m.end(s, int(way.Time))
				if e < 0 {
					continue
				}
				if int64(e) >= best {
					break
				}
				plan[i] = Start{mode, int64(s), int64(e)}
				if m.fits(p, plan, done, i) == nil {
					try(k+1, max(end, int64(e)))
				}
			}
		}
		done[i] = false
	}
	try(0, 0)
	return best
}

// randomProblem is a tiny one with everything: crews with skills and sizes, which are
// modes; general resources; links of all types with lags of both kinds and leads; zones.
func randomProblem(r *rand.Rand, n int) (*Problem, minutes) {
	m := randomMinutes(r)
	p := &Problem{Zones: 1 + r.IntN(2), Calendar: m.calendar()}
	for range 1 + r.IntN(3) {
		p.Capacity = append(p.Capacity, 1+r.Int64N(2))
		p.Weight = append(p.Weight, 1+r.Int64N(3))
	}
	for i := range n {
		t := Task{Zone: r.IntN(p.Zones)}
		switch r.IntN(4) {
		case 0:
			t.Dusty = true
		case 1:
			t.Wet, t.Dry = true, r.Int64N(6)
		}
		if r.IntN(4) == 0 {
			t.Release = r.Int64N(8)
		}
		if r.IntN(6) == 0 {
			t.Modes = []Mode{{}}
		} else {
			for range 1 + r.IntN(2) {
				w := Mode{Time: 1 + r.Int64N(4)}
				for k, c := range p.Capacity {
					if r.IntN(2) == 0 {
						w.Need = append(w.Need, Need{k, 1 + r.Int64N(c)})
					}
				}
				t.Modes = append(t.Modes, w)
			}
		}
		for j := range i {
			if r.IntN(3) > 0 {
				continue
			}
			l := Link{Task: j, Lag: Lag{Working: r.IntN(2) == 0}}
			if r.IntN(2) == 0 {
				l.Lag.Time = r.Int64N(6)
			}
			if r.IntN(3) == 0 {
				l.Kind = LinkKind(r.IntN(4))
				l.Lag.Time -= r.Int64N(3)
			}
			t.Links = append(t.Links, l)
		}
		p.Tasks = append(p.Tasks, t)
	}
	return p, m
}

// Plans keep all rules, no plan beats a bound, and proven plans are optimal: compared with all plans,
// minute by minute.
func TestAgainstBruteForce(t *testing.T) {
	cases := *bruteCases
	if testing.Short() {
		cases = min(cases, 1000)
	}
	for seed := range uint64(cases) {
		r := rand.New(rand.NewPCG(seed, 7))
		p, m := randomProblem(r, 1+r.IntN(5))
		got := Solve(p, 1_000_000, nil)
		if got == nil {
			t.Fatalf("seed %d: no plan", seed)
		}
		all := make([]bool, len(p.Tasks))
		for i := range all {
			all[i] = true
		}
		if err := m.fits(p, got.Plan, all, -1); err != nil {
			t.Fatalf("seed %d: %v\n%+v\n%+v", seed, err, p, got.Plan)
		}
		g := newNetwork(p)
		best := m.brute(p, g.order, got.Done+1)
		switch {
		case got.Bound > best:
			t.Fatalf("seed %d: bound %d, best %d\n%+v\n%+v", seed, got.Bound, best, p, got)
		case got.Proven != (got.Bound == got.Done) || got.Proven && got.Done != best:
			t.Fatalf("seed %d: done %d, proven %v, best %d\n%+v", seed, got.Done, got.Proven, best, p)
		case !got.Proven:
			t.Fatalf("seed %d: not proven", seed)
		}
		again := *got
		again.Done, again.Bound = Never, 0
		if !g.branch(&again, 1_000_000) || again.Done != best {
			t.Fatalf("seed %d: branching ends at %d, best %d\n%+v", seed, again.Done, best, p)
		}
	}
}
