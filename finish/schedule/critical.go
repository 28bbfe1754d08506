package schedule

import (
	"math"

	"example.com/longpoint/measure"
)

// Path holds the earliest and latest times of a network of activities without calendar
// and crews.
type Path struct {
	Activities []PathActivity   `json:"activities"` // in the order of the activities
	Length     measure.Duration `json:"length"`     // from the start to the end of all
	Critical   []int            `json:"critical"`   // a chain of critical activities from the start to the end, as indices
}

// PathActivity holds the possible times of an activity, counted from the start.
type PathActivity struct {
	ID          string           `json:"id"`
	EarlyStart  measure.Duration `json:"early_start"`
	EarlyFinish measure.Duration `json:"early_finish"`
	LateStart   measure.Duration `json:"late_start"`  // so that all ends no later
	LateFinish  measure.Duration `json:"late_finish"` // so that all ends no later
	TotalFloat  measure.Duration `json:"total_float"` // possible delay of its start without delaying the end
	FreeFloat   measure.Duration `json:"free_float"`  // possible delay of its start without delaying any other
	Critical    bool             `json:"critical,omitempty"`
}

// CriticalPath returns the earliest and latest times of each activity if there is a crew of
// the requested size for each. There is no calendar: labor and lags pass around the clock,
// and NotBefore, zones and skills are ignored. The floats of [Build] take nights into
// account.
//
// The forward and the backward pass over links of all four types are those of the
// precedence diagram method; Hendrickson, Project Management for Construction, ch. 10. A
// time out of the range of [measure.Duration] is a [*measure.RangeError].
func CriticalPath(activities []Activity) (*Path, error) {
	n, err := networkOf(activities)
	if err != nil {
		return nil, err
	}
	p := &Path{Activities: make([]PathActivity, len(activities))}
	var over bool
	add := func(a, b measure.Duration) measure.Duration {
		if b > 0 && a > math.MaxInt64/4-b || b < 0 && a < -math.MaxInt64/4-b {
			over = true
			return 0
		}
		return a + b
	}
	for _, i := range n.order {
		a := &p.Activities[i]
		a.ID = activities[i].ID
		d := share(activities[i].Labor, activities[i].People)
		for k, l := range activities[i].After {
			before := &p.Activities[n.waits[i][k]]
			from, back := before.EarlyFinish, measure.Duration(0)
			if l.Type == LinkStartStart || l.Type == LinkStartFinish {
				from = before.EarlyStart
			}
			if l.Type == LinkFinishFinish || l.Type == LinkStartFinish {
				back = d
			}
			a.EarlyStart = max(a.EarlyStart, add(add(from, l.Lag), -back))
		}
		a.EarlyFinish = add(a.EarlyStart, d)
		p.Length = max(p.Length, a.EarlyFinish)
	}
	if over {
		return nil, &measure.RangeError{Op: "schedule.CriticalPath", Value: "the length", Reason: "too large to represent"}
	}
	n.late(p)
	n.chain(p)
	return p, nil
}

// late fills in the latest times. No sum here is larger than those of the forward pass.
func (n *network) late(p *Path) {
	for i := range p.Activities {
		a := &p.Activities[i]
		a.LateFinish, a.LateStart = p.Length, p.Length
		a.FreeFloat = p.Length - a.EarlyFinish
	}
	for k := len(n.order) - 1; k >= 0; k-- {
		i := n.order[k]
		a := &p.Activities[i]
		d := a.EarlyFinish - a.EarlyStart
		a.LateStart = min(a.LateStart, a.LateFinish-d)
		a.LateFinish = a.LateStart + d
		a.TotalFloat = a.LateStart - a.EarlyStart
		a.Critical = a.TotalFloat == 0
		for k, l := range n.all[i].After {
			before := &p.Activities[n.waits[i][k]]
			early, late := a.EarlyStart-l.Lag, a.LateStart-l.Lag
			if l.Type == LinkFinishFinish || l.Type == LinkStartFinish {
				early, late = a.EarlyFinish-l.Lag, a.LateFinish-l.Lag
			}
			if l.Type == LinkStartStart || l.Type == LinkStartFinish {
				before.LateStart = min(before.LateStart, late)
				before.FreeFloat = min(before.FreeFloat, early-before.EarlyStart)
			} else {
				before.LateFinish = min(before.LateFinish, late)
				before.FreeFloat = min(before.FreeFloat, early-before.EarlyFinish)
			}
		}
	}
}

// chain finds a chain of critical activities: from one that ends last back over links
// without slack.
func (n *network) chain(p *Path) {
	at := -1
	for i, a := range p.Activities {
		if a.EarlyFinish == p.Length {
			at = i
			break
		}
	}
	for at >= 0 {
		p.Critical = append(p.Critical, at)
		a, next := &p.Activities[at], -1
		for k, l := range n.all[at].After {
			before := &p.Activities[n.waits[at][k]]
			from, to := before.EarlyFinish, a.EarlyStart
			if l.Type == LinkStartStart || l.Type == LinkStartFinish {
				from = before.EarlyStart
			}
			if l.Type == LinkFinishFinish || l.Type == LinkStartFinish {
				to = a.EarlyFinish
			}
			if from+l.Lag == to {
				next = n.waits[at][k]
				break
			}
		}
		at = next
	}
	for i, k := 0, len(p.Critical)-1; i < k; i, k = i+1, k-1 {
		p.Critical[i], p.Critical[k] = p.Critical[k], p.Critical[i]
	}
}
