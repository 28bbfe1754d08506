package knapsack

import "testing"

// Stored data stays as it was written, through growth and reuse.
func TestArena(t *testing.T) {
	var a arena
	for round := range 3 {
		a.reset()
		var kept [][]label
		for k := range 2000 {
			n := (k*7919+round)%300 + 1
			s := a.space(2 * n)
			if len(s) != 0 || cap(s) != 2*n {
				t.Fatalf("room for %d: length %d, capacity %d", 2*n, len(s), cap(s))
			}
			for j := range n {
				s = append(s, label{int64(k), int64(j)})
			}
			if k%3 == 0 {
				continue // not kept
			}
			a.keep(n)
			kept = append(kept, s)
		}
		for _, s := range kept {
			for j := range s {
				if s[j] != (label{s[0].size, int64(j)}) {
					t.Fatalf("round %d: step %d of %d is %v", round, j, s[0].size, s[j])
				}
			}
		}
	}
	held := a.total
	for range 5 {
		a.reset()
		for range 2000 {
			a.space(600)
			a.keep(300)
		}
	}
	if limit := 3 * max(held, 600_000); a.total > limit {
		t.Errorf("%d steps held, want at most %d", a.total, limit)
	}
}
