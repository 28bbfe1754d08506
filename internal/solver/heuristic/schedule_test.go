package heuristic

import (
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
)

func TestSchedule(t *testing.T) {
	mt := new(meter.Meter)
	var got []string
	cost := int64(1)
	s := Schedule{
		Turns: []Turn{{Name: "a", Every: 3, Share: 2}, {Name: "b", Every: 6, Share: 2}},
		Meter: mt,
		Try: func(x *Turn) {
			got = append(got, x.Name)
			mt.Spend(cost)
		},
	}
	mt.Spend(1000) // before the tree
	s.Begin()
	for n := 1; n <= 12; n++ {
		mt.Spend(10)
		before := len(got)
		s.Box(n)
		want := map[int][]string{3: {"a"}, 6: {"a", "b"}, 12: {"a", "b"}}[n] // at 9 too much was spent
		if !slices.Equal(got[before:], want) {
			t.Errorf("box %d: %v, want %v", n, got[before:], want)
		}
		if cost = 1; n == 5 {
			cost = 55 // 111 at box 6 and before it, more than half of all until box 12
		}
	}
}
