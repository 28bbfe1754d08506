package sequence

import (
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// Order is the work of a job as a network of activities. Milestones and deliveries are
// activities without labor.
type Order struct {
	Job        Job                 `json:"job"`        // as it was given, and at its end the works that Network added
	Activities []schedule.Activity `json:"activities"` // for schedule.Build and schedule.CriticalPath
	Steps      []Step              `json:"steps"`      // what each activity is
	Edges      []Edge              `json:"edges"`      // why each waits: one for each link
	Findings   []Finding           `json:"findings,omitempty"`
}

// Step is what an activity is.
type Step struct {
	Stage    Stage `json:"stage,omitempty"` // "" for milestones and others
	Work     int   `json:"work"`            // index into Job.Work; -1 for none
	Coat     int64 `json:"coat,omitempty"`  // of the work, from 1
	With     []int `json:"with,omitempty"`  // indices of the works that are done along with it: joints are glued as their trim is nailed
	Delivery int   `json:"delivery"`        // index into Job.Deliveries; -1 for none
}

// Edge is a link and its reason.
type Edge struct {
	From    string            `json:"from"` // ID of the activity that is waited for
	To      string            `json:"to"`   // ID of the activity that waits
	Type    schedule.LinkType `json:"type,omitempty"`
	Lag     measure.Duration  `json:"lag,omitempty"`     // by the clock, or in working hours
	Working bool              `json:"working,omitempty"` // Lag is in working hours
	Rule    RuleCode          `json:"rule"`
	Firm    bool              `json:"firm,omitempty"` // see Rule
	Reason  string            `json:"reason"`         // why it waits, in words
	Source  string            `json:"source"`         // of the rule
}

// Finding is what in a job is allowed and probably a mistake, or cannot be known.
type Finding struct {
	Code   FindingCode `json:"code"`
	Room   string      `json:"room,omitempty"`
	Item   string      `json:"item,omitempty"` // the profile, delivery or work
	Reason string      `json:"reason"`         // in one sentence
}

// FindingCode names a kind of finding. It is a code: safe to branch on, open to new ones.
type FindingCode string

// The kinds of findings.
const (
	FindingMoisture FindingCode = "moisture" // a meter reads trim too wet or too dry for the house
	FindingSite     FindingCode = "site"     // air in which trim is not put up, or paint does not dry well
	FindingPace     FindingCode = "pace"     // rooms cannot be done as Options.Pace asks
	FindingUnused   FindingCode = "unused"   // a delivery that nothing waits for
)

// Why returns the edges that make an activity wait, in the order of its links.
func (o *Order) Why(id string) []Edge {
	var all []Edge
	for _, e := range o.Edges {
		if e.To == id {
			all = append(all, e)
		}
	}
	return all
}

// Events returns when works are done and deliveries come by a schedule of the Activities, for
// [Check]. Milestones and others are left out, and a slot of no such activity.
func (o *Order) Events(slots []schedule.Slot) []Event {
	var all []Event
	for _, s := range slots {
		if s.Activity < 0 || s.Activity >= len(o.Steps) {
			continue
		}
		e := Event{Coat: o.Steps[s.Activity].Coat, Start: s.Start, End: s.End}
		switch step := o.Steps[s.Activity]; {
		case step.Work >= 0:
			e.Work = step.Work
			for _, w := range step.With {
				all = append(all, Event{Work: w, Coat: e.Coat, Start: s.Start, End: s.End})
			}
		case step.Delivery >= 0:
			e.Work, e.Delivery = step.Delivery, true
		default:
			continue
		}
		all = append(all, e)
	}
	return all
}
