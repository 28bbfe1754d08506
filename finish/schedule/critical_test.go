package schedule_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// days reads activities such as "B10 SS A, C+2" one a line: name, duration, and predecessors.
func days(text string) []schedule.Activity {
	var all []schedule.Activity
	for part := range strings.SplitSeq(text, ";") {
		name, waits, _ := strings.Cut(strings.TrimSpace(part), " ")
		var n int64
		fmt.Sscan(name[1:], &n)
		a := schedule.Activity{ID: name[:1], Labor: measure.Duration(n) * hour}
		for f := range strings.SplitSeq(waits, ",") {
			if f = strings.TrimSpace(f); f == "" {
				continue
			}
			l := schedule.Link{ID: f}
			if id, ok := strings.CutPrefix(f, "SS "); ok {
				l = schedule.Link{ID: id, Type: schedule.LinkStartStart}
			}
			a.After = append(a.After, l)
		}
		all = append(all, a)
	}
	return all
}

// Hendrickson, Project Management for Construction, ch. 10: nine activities; the floats are
// derived from its data.
func TestCriticalPathHendrickson(t *testing.T) {
	p := must[*schedule.Path](t)(schedule.CriticalPath(days("A4; B3; C8 A; D7 A; E9 B,C; F12 B,C; G2 D,E; H5 D,E; I6 F,G")))
	var got strings.Builder
	for _, a := range p.Activities {
		fmt.Fprint(&got, a.ID)
		for _, d := range []measure.Duration{a.EarlyStart, a.EarlyFinish, a.LateStart, a.LateFinish, a.TotalFloat, a.FreeFloat} {
			fmt.Fprint(&got, " ", int64(d/hour))
		}
		fmt.Fprintln(&got)
	}
	want := strings.ReplaceAll("A 0 4 0 4 0 0; B 0 3 9 12 9 9; C 4 12 4 12 0 0; D 4 11 15 22 11 10; E 12 21 13 22 1 0; F 12 24 12 24 0 0; G 21 23 22 24 1 1; H 21 26 25 30 4 4; I 24 30 24 30 0 0; ", "; ", "\n")
	if got.String() != want {
		t.Errorf("got\n%swant\n%s", &got, want)
	}
	if c := fmt.Sprint(p.Critical); c != "[0 2 5 8]" || p.Length != 30*hour {
		t.Errorf("critical %s, length %v", c, p.Length)
	}
}

// "Network Construction - Precedence Diagram Method", open course text, 2019: its data; the
// results are derived.
func TestCriticalPathStartToStart(t *testing.T) {
	p := must[*schedule.Path](t)(schedule.CriticalPath(days("A2; B10 SS A; C13 A; D12 A; E12 B; F7 B; G10 D; H16 D; I6 F; J12 C, SS G; K5 SS I; L8 E,I,K; M5 H; N3 G,J,L,M")))
	var starts, floats strings.Builder
	for _, a := range p.Activities {
		fmt.Fprint(&starts, a.ID, int64(a.EarlyStart/hour), " ")
		fmt.Fprint(&floats, a.ID, int64(a.TotalFloat/hour), " ")
	}
	if want := "A0 B0 C2 D2 E10 F10 G14 H14 I17 J15 K17 L23 M30 N35 "; starts.String() != want {
		t.Errorf("early starts %s, want %s", &starts, want)
	}
	if want := "A0 B4 C8 D0 E5 F4 G9 H0 I4 J8 K5 L4 M0 N0 "; floats.String() != want {
		t.Errorf("floats %s, want %s", &floats, want)
	}
	if p.Length != 38*hour {
		t.Errorf("length %v", p.Length)
	}
}

// randomNetwork is activities with links of all types, leads among them, in any order.
func randomNetwork(r *rand.Rand, n int) []schedule.Activity {
	all := make([]schedule.Activity, n)
	names := r.Perm(n)
	for i := range all {
		a := &all[i]
		a.ID, a.Labor, a.People = fmt.Sprint(names[i]), measure.Duration(r.Int64N(10)), r.Int64N(3)
		for j := range i {
			if r.IntN(3) == 0 {
				a.After = append(a.After, schedule.Link{ID: all[j].ID, Type: schedule.LinkType(r.IntN(4)), Lag: measure.Duration(r.Int64N(9) - 2)})
			}
		}
	}
	r.Shuffle(n, func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all
}

// The same by longest distances between starts, all pairs by Floyd and Warshall: early is the longest
// path from the start, late the longest path to the end, free float the delay that affects no other
// activity.
func TestCriticalPathAgainstLongestPaths(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		all := randomNetwork(r, 1+r.IntN(8))
		p := must[*schedule.Path](t)(schedule.CriticalPath(all))
		n := len(all)
		const none = -1 << 40
		d := make([]int64, n)
		w := make([][]int64, n+2) // n is the start, n+1 the end
		for i := range w {
			w[i] = make([]int64, n+2)
			for j := range w[i] {
				w[i][j] = none
			}
			w[i][i] = 0
		}
		at := map[string]int{}
		for i, a := range all {
			at[a.ID] = i
			people := max(a.People, 1)
			d[i] = (int64(a.Labor) + people - 1) / people
		}
		for j, a := range all {
			w[n][j], w[j][n+1] = max(w[n][j], 0), d[j]
			for _, l := range a.After {
				i, x := at[l.ID], int64(l.Lag)
				switch l.Type {
				case schedule.LinkFinishStart:
					x += d[i]
				case schedule.LinkFinishFinish:
					x += d[i] - d[j]
				case schedule.LinkStartFinish:
					x -= d[j]
				}
				w[i][j] = max(w[i][j], x)
			}
		}
		direct := make([][]int64, n)
		for i := range direct {
			direct[i] = append([]int64(nil), w[i]...)
		}
		for k := range w {
			for i := range w {
				for j := range w {
					if w[i][k] > none && w[k][j] > none {
						w[i][j] = max(w[i][j], w[i][k]+w[k][j])
					}
				}
			}
		}
		length := w[n][n+1]
		if int64(p.Length) != length {
			t.Fatalf("%+v\nlength %d, want %d", all, p.Length, length)
		}
		for i, a := range p.Activities {
			early, late := w[n][i], length-w[i][n+1]
			free := length - early - d[i]
			for j := range n {
				if j != i && direct[i][j] > none {
					free = min(free, w[n][j]-early-direct[i][j])
				}
			}
			if int64(a.EarlyStart) != early || int64(a.LateStart) != late || int64(a.TotalFloat) != late-early || int64(a.FreeFloat) != free ||
				a.Critical != (late == early) || int64(a.EarlyFinish) != early+d[i] || int64(a.LateFinish) != late+d[i] {
				t.Fatalf("%+v\n%+v, want early %d, late %d, free %d", all, a, early, late, free)
			}
		}
		last := p.Activities[p.Critical[len(p.Critical)-1]]
		if p.Activities[p.Critical[0]].EarlyStart != 0 || last.EarlyFinish != p.Length {
			t.Fatalf("the chain %v does not go from the start to the end", p.Critical)
		}
		for _, i := range p.Critical {
			if !p.Activities[i].Critical {
				t.Fatalf("%v: %+v is not critical", p.Critical, p.Activities[i])
			}
		}
	}
}

// If work continues around the clock and there is a crew for everything, a schedule is that of the
// network, with its floats.
func TestScheduleWithoutNightsIsThePath(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	cal := schedule.Calendar{Start: time.Date(2027, time.June, 7, 0, 0, 0, 0, time.UTC), Close: 24 * hour, Days: 127, Crews: crews(12, 1)}
	for range 300 {
		all := randomNetwork(r, 1+r.IntN(8))
		for i := range all {
			all[i].People, all[i].Labor = 0, all[i].Labor*minute
			for k := range all[i].After {
				l := &all[i].After[k]
				l.Lag, l.Working = l.Lag*minute, r.IntN(2) == 0
			}
		}
		p := must[*schedule.Path](t)(schedule.CriticalPath(all))
		s := must[*schedule.Schedule](t)(schedule.Build(context.Background(), all, cal, nil))
		if s.Done.Sub(cal.Start) != time.Duration(p.Length) || !s.Proven {
			t.Fatalf("%+v\ndone %v, proven %v, path %v", all, s.Done, s.Proven, p.Length)
		}
		for _, slot := range s.Slots {
			if a := p.Activities[slot.Activity]; slot.TotalFloat != a.TotalFloat || slot.FreeFloat != a.FreeFloat || slot.Critical != a.Critical {
				t.Fatalf("%+v\n%+v, want the floats of %+v", all, slot, a)
			}
		}
	}
}
