package tearout

import (
	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// SkillRenovator is the skill of a step that a certified renovator does or directs,
// for schedule.Activity.Skill and schedule.Crew.Skills.
const SkillRenovator = "certified renovator"

// A Step is one task in one room. Steps are in the order of work; work after a tear-out
// waits for the last step of its room.
type Step struct {
	ID     string   `json:"id"`              // unique: the task and the room, "pry off, classroom"
	Room   string   `json:"room,omitempty"`  // empty for a step of the whole job
	Task   Task     `json:"task"`            // the task
	Text   string   `json:"text"`            // the same for people, in whole sentences
	Source string   `json:"source"`          // of the text
	After  []string `json:"after,omitempty"` // IDs of the steps for which it waits

	Amount finish.Amount    `json:"amount,omitzero"` // quantity for its rate: a length, rooms or bags
	Labor  measure.Duration `json:"labor"`           // rounded up to a second
	Wait   measure.Duration `json:"wait,omitzero"`   // clock time after it until work continues
	Rate   int              `json:"rate"`            // index into Plan.Rates; -1 = none, no time

	Skill string `json:"skill,omitempty"` // that the crew must have; "" = any
	Hold  bool   `json:"hold,omitempty"`  // a condition instead of work: nothing after it starts until a person confirms it
	Dusty bool   `json:"dusty,omitempty"` // fills the air of the room with dust

	Cautions []finish.Caution `json:"cautions,omitempty"` // to read before it starts; the last defers to local codes and licensed practice
}

// stepID names the step of a task in a room. Task names have no comma, so IDs are as
// unique as the names of the rooms.
func stepID(t Task, room string) string {
	if room == "" {
		return t.String()
	}
	return t.String() + ", " + room
}

// step completes a step of n rooms, bags or ticks of length and appends it. It waits for
// the previous step in its room; the first step of a room waits for the steps of the whole
// job.
func (p *planner) step(s Step, n int64) {
	s.ID = stepID(s.Task, s.Room)
	s.Text, s.Source = what[s.Task].text, what[s.Task].source
	s.Dusty = s.Task.dusty()
	if k := len(p.plan.Steps) - 1; k >= 0 {
		switch before := p.plan.Steps[k]; {
		case before.Room == s.Room:
			s.After = []string{before.ID}
		case p.plan.Steps[0].Room == "":
			s.After = []string{p.plan.Steps[0].ID}
		}
	}
	s.Amount = finish.Count(n)
	if s.Task.byLength() {
		s.Amount = finish.AmountOf(measure.Length(n))
	}
	s.Rate = -1
	for i, r := range p.plan.Rates {
		if r.Task == s.Task {
			s.Rate, s.Wait = i, r.Wait
			s.Labor = p.labor(r, n)
		}
	}
	p.plan.Steps = append(p.plan.Steps, s)
}

// labor returns the time of n rooms, bags or ticks of length, rounded up to a second.
func (p *planner) labor(r Rate, n int64) measure.Duration {
	const labor = "the labor"
	secs := p.product([]int64{int64(r.Time), n}, []int64{max(int64(r.Per), 1), int64(second)}, labor)
	return measure.Duration(p.product([]int64{secs, int64(second)}, []int64{1}, labor))
}
