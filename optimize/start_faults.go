package optimize

import (
	"errors"
	"fmt"

	"example.com/longpoint/stock"
)

// startFaults collects the faults of a start, below the field start.
type startFaults struct{ faults }

func (f *startFaults) fault(field string, value any, want string) { f.add("start."+field, value, want) }

// claim adds an error of Check about a plan.
func (f *startFaults) claim(err error) {
	var c *CheckError
	if errors.As(err, &c) {
		f.fault(c.Field, c.Value, c.Want)
	}
}

// sound reports whether the sticks and pieces of a start's pattern exist, with the given number
// of pieces in total, and records their use.
func (f *startFaults) sound(p *Problem, pat *Pattern, k, pieces int, used []int) bool {
	field := func(name string) string { return fmt.Sprintf("patterns[%d].%s", k, name) }
	n := len(f.list)
	known := pat.Stick >= 0 && pat.Stick < len(p.Sticks)
	limit := 0
	if known {
		limit = p.Sticks[pat.Stick].Limit
	}
	switch {
	case !known:
		f.fault(field("stick"), pat.Stick, fmt.Sprintf("an index below %d", len(p.Sticks)))
	case limit == stock.SoldOut:
		f.fault(field("stick"), pat.Stick, "a stick that is not sold out")
	}
	switch {
	case pat.Count < 1:
		f.fault(field("count"), pat.Count, "1 or more")
	case limit > 0 && pat.Count > limit-used[pat.Stick]:
		f.fault(field("count"), pat.Count, fmt.Sprintf("at most %d, what other patterns leave of the %d sticks", limit-used[pat.Stick], limit))
	case limit > 0:
		used[pat.Stick] += pat.Count
	}
	if len(pat.Pieces) == 0 {
		f.fault(field("pieces"), "empty", "at least one piece")
	}
	for j, i := range pat.Pieces {
		if i < 0 || i >= pieces {
			f.fault(field(fmt.Sprintf("pieces[%d]", j)), i, fmt.Sprintf("an index below %d", pieces))
		}
	}
	return len(f.list) == n
}

// ruled reports whether a pattern of a start has fields that only a problem with rules permits.
func (f *startFaults) ruled(pat *Pattern, k int) bool {
	n := len(f.list)
	for _, x := range [...]struct {
		name  string
		value any
		has   bool
	}{
		{"turned", fmt.Sprintf("a list of %d", len(pat.Turned)), pat.Turned != nil},
		{"stretch", fmt.Sprintf("a list of %d", len(pat.Stretch)), pat.Stretch != nil},
		{"yard_after", pat.YardAfter, pat.YardAfter != 0},
	} {
		if x.has {
			f.fault(fmt.Sprintf("patterns[%d].%s", k, x.name), x.value, "none for a problem without rules")
		}
	}
	return len(f.list) > n
}

// overfull reports whether a pattern of a start for a problem without rules holds more than its
// stick, and the first piece beyond it.
func (f *startFaults) overfull(p *Problem, pat *Pattern, k int) bool {
	room := usable(&p.Sticks[pat.Stick])
	for j, i := range pat.Pieces {
		if j > 0 {
			room -= p.Kerf // at worst negative by a kerf
		}
		if room < p.Pieces[i].Length {
			f.fault(fmt.Sprintf("patterns[%d].pieces", k), fmt.Sprintf("too long at index %d by %v", j, (p.Pieces[i].Length-max(room, 0)).About(p.Sticks[pat.Stick].Length)),
				"pieces and kerfs that fit the usable length")
			return true
		}
		room -= p.Pieces[i].Length
	}
	return false
}
