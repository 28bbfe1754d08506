package rcpsp

import (
	"strconv"
	"strings"
	"testing"
)

// instance reads lines such as "2:8,R1*4>6.11.15": job, duration, needs, successors.
func instance(t testing.TB, capacity []int64, text string) *Problem {
	t.Helper()
	num := func(s string) int64 {
		n, err := strconv.ParseInt(s, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	jobs := strings.Fields(text)
	p := &Problem{Capacity: capacity, Zones: 1, Tasks: make([]Task, len(jobs))}
	first := num(jobs[0][:strings.Index(jobs[0], ":")])
	for k, f := range jobs {
		_, f, _ = strings.Cut(f, ":")
		f, after, _ := strings.Cut(f, ">")
		parts := strings.Split(f, ",")
		m := Mode{Time: num(parts[0])}
		for _, n := range parts[1:] {
			r, u, _ := strings.Cut(strings.TrimPrefix(n, "R"), "*")
			m.Need = append(m.Need, Need{int(num(r)) - 1, num(u)})
		}
		p.Tasks[k].Modes = []Mode{m}
		for s := range strings.SplitSeq(after, ".") {
			if s != "" {
				j := num(s) - first
				p.Tasks[j].Links = append(p.Tasks[j].Links, Link{Task: k})
			}
		}
	}
	return p
}

// The example of the Python-MIP documentation for resource-constrained scheduling (EPL-2.0; facts
// only): length 14 by precedence, optimum 21.
func TestPublishedSmall(t *testing.T) {
	p := instance(t, []int64{6, 8}, `0:0>1.2.3 1:3,R1*5,R2*1>4.5 2:2,R2*4>9.10 3:5,R1*1,R2*4>8 4:4,R1*1,R2*3>6.7 5:2,R1*3,R2*2>9.10
		6:3,R1*3,R2*1>8.9 7:4,R1*2,R2*4>8 8:2,R1*4>11 9:4,R1*5,R2*2>11 10:6,R1*2,R2*5>11 11:0>`)
	early := newNetwork(p).earliest()
	if got := Solve(p, 1_000_000, nil); got.Done != 21 || !got.Proven || early[11].end != 14 {
		t.Errorf("done %d, proven %v, path %d; want 21 and 14", got.Done, got.Proven, early[11].end)
	}
}

// j301_1 of PSPLIB, Kolisch and Sprecher, "PSPLIB - a project scheduling problem library" (1996):
// length 38 by precedence, optimum 43.
const j301_1 = `1:0>2.3.4 2:8,R1*4>6.11.15 3:4,R1*10>7.8.13 4:6,R4*3>5.9.10 5:3,R1*3>20 6:8,R4*8>30 7:5,R1*4>27 8:9,R2*1>12.19.27
	9:2,R1*6>14 10:7,R4*1>16.25 11:9,R2*5>20.26 12:2,R2*7>14 13:6,R1*4>17.18 14:3,R2*8>17 15:9,R1*3>25 16:10,R4*5>21.22 17:6,R4*8>22
	18:5,R4*7>20.22 19:3,R2*1>24.29 20:7,R2*10>23.25 21:2,R4*6>28 22:7,R1*2>23 23:2,R1*3>24 24:3,R2*9>30 25:3,R1*4>30 26:7,R3*4>31
	27:8,R4*7>28 28:3,R2*8>31 29:7,R2*7>32 30:2,R2*7>32 31:2,R3*2>32 32:0>`

func TestPublishedThirty(t *testing.T) {
	p := instance(t, []int64{12, 13, 4, 12}, j301_1)
	early := newNetwork(p).earliest()
	got := Solve(p, 20_000_000, nil)
	t.Logf("%d steps, bound %d", got.Steps, got.Bound)
	if got.Done != 43 || !got.Proven || early[31].end != 38 {
		t.Errorf("done %d, proven %v, path %d; want 43 and 38", got.Done, got.Proven, early[31].end)
	}
}

// rooms is trim in half days: in each room run by the carpenter, filled and sanded by the
// painter, a coat that dries half a day, sanded, and another. Rooms have an air each, or share
// one.
func rooms(n int, oneAir bool) *Problem {
	p := &Problem{Capacity: []int64{1, 1}, Zones: n}
	for room := range n {
		zone := room
		if oneAir {
			zone = 0
		}
		first := len(p.Tasks)
		for k, t := range []Task{
			{Modes: []Mode{{Time: 2, Need: []Need{{0, 1}}}}, Dusty: true},
			{Modes: []Mode{{Time: 1, Need: []Need{{1, 1}}}}, Dusty: true},
			{Modes: []Mode{{Time: 1, Need: []Need{{1, 1}}}}, Wet: true, Dry: 1},
			{Modes: []Mode{{Time: 1, Need: []Need{{1, 1}}}}, Dusty: true},
			{Modes: []Mode{{Time: 1, Need: []Need{{1, 1}}}}, Wet: true, Dry: 1},
		} {
			t.Zone = zone
			if k > 0 {
				t.Links = []Link{{Task: first + k - 1, Lag: Lag{Time: p.Tasks[first+k-1].Dry}}}
			}
			p.Tasks = append(p.Tasks, t)
		}
	}
	return p
}

// Up to three rooms the values are derived by trying everything; those of more rooms are ours.
func TestRooms(t *testing.T) {
	for _, c := range []struct {
		rooms int
		air   bool
		done  int64
	}{{1, false, 7}, {1, true, 7}, {2, false, 10}, {2, true, 12}, {3, false, 14}, {3, true, 17}, {4, true, 22}, {6, false, 26}} {
		got := Solve(rooms(c.rooms, c.air), 1_000_000, nil)
		if got.Done != c.done || !got.Proven {
			t.Errorf("%d rooms, one air %v: done %d, bound %d, want %d", c.rooms, c.air, got.Done, got.Bound, c.done)
		}
	}
}
