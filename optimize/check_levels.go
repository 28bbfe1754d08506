package optimize

import "example.com/longpoint/measure"

// glance returns a bound on the result of any plan in a goal after the cost, and whether more is better.
func glance(p *Problem, g Goal) (bound int64, more bool) {
	var room measure.Length // the longest clear stretch
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
		// Every stick may leave an offcut of value, and nothing bounds the number of sticks.
		if n := len(p.Rules.OffcutValues); n == 0 || room < p.Rules.OffcutValues[0].Length {
			return 0, true
		}
		return 1<<63 - 1, true
	case GoalSplices:
		for r := range p.Runs {
			if run := &p.Runs[r]; run.Length > room {
				bound++ // at least one splice
			}
		}
	}
	return bound, false
}
