package diversify_test

import (
	"testing"

	"example.com/longpoint/internal/solver/diversify"
)

// A stream stands still for ever: recorded plans depend on it.
func TestStream(t *testing.T) {
	s := diversify.Start
	var got [6]int
	for k := range got {
		got[k] = s.Int(1000)
	}
	if want := [6]int{700, 679, 444, 747, 90, 913}; got != want {
		t.Errorf("%v, want %v", got, want)
	}
	seen := [7]int{}
	for range 70_000 {
		seen[s.Int(7)]++
	}
	for v, n := range seen {
		if n < 9_500 || n > 10_500 {
			t.Errorf("%d occurred %d times in 70,000", v, n)
		}
	}
}

func TestDemands(t *testing.T) {
	s := diversify.Start
	for k := 1; k < 5; k++ {
		sum, moved := 0.0, 0
		for _, v := range s.Demands(k, 101) {
			if v < -0.061 || v > 0.061 {
				t.Errorf("demand perturbed by %v", v)
			}
			if sum += v; v != 0 {
				moved++
			}
		}
		if moved < 90 {
			t.Errorf("only %d demands perturbed", moved)
		}
		if k == 1 && sum < 0.0009 {
			t.Errorf("short items are not expensive: %v", sum)
		}
	}
}
