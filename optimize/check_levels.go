package optimize

import "example.com/longpoint/measure"

// glance returns what no plan for the problem passes in a goal after the cost, and
// whether more of it is better.
func glance(p *Problem, g Goal) (bound int64, more bool) {
	var room measure.Length // the longest that can be cut from
	for i := range p.Sticks {
		for _, w := range stretches(&p.Sticks[i]) {
			room = max(room, w.To-w.From)
		}
	}
	switch g {
	case GoalSticks, GoalPatterns:
		return 1, false
	case GoalLongestOffcut:
		return int64(room), true
	case GoalOffcutValue:
		// Of every stick something, as long as it is; nothing bounds their number.
		if n := len(p.Rules.OffcutValues); n == 0 || room < p.Rules.OffcutValues[0].Length {
			return 0, true
		}
		return 1<<63 - 1, true
	case GoalSplices:
		for r := range p.Runs {
			if run := &p.Runs[r]; run.Length > room {
				bound++ // at least one
			}
		}
	}
	return bound, false
}
