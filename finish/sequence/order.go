package sequence

import (
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// Order is the work of a job as a network of activities. Milestones and deliveries are
// activities without labor.
type Order struct {
	Job        Job                 `json:"job"`                // the given job, followed by the works that Network added
	Activities []schedule.Activity `json:"activities"`         // for schedule.Build and schedule.CriticalPath
	Steps      []Step              `json:"steps"`              // the work behind each activity
	Edges      []Edge              `json:"edges"`              // the reasons, one for each link
	Findings   []Finding           `json:"findings,omitempty"` // probable mistakes in the job
}

// Step tells which work an activity represents.
type Step struct {
	Stage    Stage `json:"stage,omitempty"` // "" for milestones and others
	Work     int   `json:"work"`            // index into Job.Work; -1 for none
	Coat     int64 `json:"coat,omitempty"`  // of the work, from 1
	With     []int `json:"with,omitempty"`  // indices of the works done together with it: joints are glued while their trim is nailed
	Delivery int   `json:"delivery"`        // index into Job.Deliveries; -1 for none
}

// Edge is a link and its reason.
type Edge struct {
	From    string            `json:"from"`              // ID of the predecessor
	To      string            `json:"to"`                // ID of the activity that waits for it
	Type    schedule.LinkType `json:"type,omitempty"`    // of the link
	Lag     measure.Duration  `json:"lag,omitempty"`     // by the clock, or in working hours
	Working bool              `json:"working,omitempty"` // Lag is in working hours
	Rule    RuleCode          `json:"rule"`              // of the order of work
	Firm    bool              `json:"firm,omitempty"`    // see Rule
	Reason  string            `json:"reason"`            // why it waits, in words
	Source  string            `json:"source"`            // of the rule
}

// Finding is an allowed but probably mistaken property of a job, or an unknown one.
type Finding struct {
	Code   FindingCode `json:"code"`           // kind of the finding
	Room   string      `json:"room,omitempty"` // where; "" is the whole job
	Item   string      `json:"item,omitempty"` // the profile, delivery or work
	Reason string      `json:"reason"`         // in one sentence
}

// A FindingCode names a kind of finding in the order of work. Later versions may add codes: go by
// the Reason of a finding with an unknown one.
type FindingCode string

// The kinds of findings.
const (
	FindingMoisture FindingCode = "moisture" // a meter reads trim too wet or too dry for the house
	FindingSite     FindingCode = "site"     // air in which trim should not be installed, or paint does not dry well
	FindingPace     FindingCode = "pace"     // rooms cannot be done according to Options.Pace
	FindingUnused   FindingCode = "unused"   // a delivery that nothing waits for
)

// WaitsFor returns the edges that make an activity wait, in the order of its links.
func (o *Order) WaitsFor(id string) []Edge {
	if o == nil {
		return nil
	}
	var all []Edge
	for _, e := range o.Edges {
		if e.To == id {
			all = append(all, e)
		}
	}
	return all
}

// Events returns the times of works and deliveries from a schedule of the Activities, for
// [Check]. It omits milestones and others, and slots without a valid activity.
func (o *Order) Events(slots []schedule.Slot) []Event {
	if o == nil {
		return nil
	}
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
