package sequence

import (
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Trim describes one profile in one room.
type Trim struct {
	Job     string     `json:"job,omitempty"`     // label of its finish.Job, for FromSteps
	Room    string     `json:"room,omitempty"`    // where it is
	Profile string     `json:"profile,omitempty"` // its name
	Role    stock.Role `json:"role,omitzero"`     // its purpose

	// Assembly and Order are as in stock.Run: the built-up trim of which it is a member,
	// and its place in the order of installation of the members, from 1.
	Assembly string `json:"assembly,omitempty"`
	Order    int    `json:"order,omitempty"`

	Longest   measure.Length `json:"longest,omitempty"`   // its longest piece; 0 = unknown
	Preprimed bool           `json:"preprimed,omitempty"` // primed in the factory, or needs no primer, like cellular PVC
	OilPutty  bool           `json:"oil_putty,omitempty"` // its holes are filled with oil putty, whose oil bare wood absorbs
}

// Work is one item of work, with all its coats. The zero values of its fields are stated
// there; Room and Profile are "" for work on the whole job.
type Work struct {
	ID    string                 `json:"id,omitempty"`    // of its activities; "" = room, profile and step
	Stage Stage                  `json:"stage,omitempty"` // "" = that of Task
	Task  finish.Task            `json:"task,omitzero"`   // the task, if Stage is ""
	Step  string                 `json:"step,omitempty"`  // the work, for people; "" = the task, or the stage
	Trim  `json:"trim,omitzero"` // the trim. Works of one Room and Profile follow each other in their given order, and so do those without trim of one Stage and Room

	Labor  measure.Duration `json:"labor,omitempty"`  // person-hours of all coats; >= 0
	Coats  int64            `json:"coats,omitempty"`  // of prime, coat, seal, wall paint: 0 = 1. All other work is done without interruption
	Dry    finish.Drying    `json:"dry,omitzero"`     // of each coat
	Skill  string           `json:"skill,omitempty"`  // that a crew must have; "" = as Options.Skills say
	People int64            `json:"people,omitempty"` // least number; 0 = 2 for long crown, else 1
}

// maxCoats bounds the coats of one work.
const maxCoats = 1000

// stage returns the stage of the work, or "" if it is invalid.
func (w *Work) stage() Stage {
	if w.Stage != "" {
		return w.Stage
	}
	s, _ := stageOf(w.Task)
	return s
}

// coats returns the number of activities of the work.
func (w *Work) coats() int64 {
	switch w.stage() {
	case StagePrime, StageCoat, StageSeal, StageWallPaint:
		return max(w.Coats, 1)
	}
	return 1
}

// step describes the work for people.
func (w *Work) step() string {
	switch {
	case w.Step != "":
		return w.Step
	case w.Stage != "":
		return string(w.Stage)
	}
	return w.Task.String()
}

// Validate returns nil if the work is valid, or every fault as joined
// [*measure.FieldError] values.
func (w Work) Validate() error {
	var bad fault.List
	s := w.stage()
	p, known := placeOf(s)
	switch {
	case w.Stage != "" && !known:
		bad.Add("stage", w.Stage, "a stage of a job, such as \"floor\"")
	case s == "":
		bad.Add("task", w.Task, "a known task")
	case s == StageDelivery:
		bad.Add("stage", w.Stage, "another one: deliveries are not works")
	}
	if _, err := w.Role.MarshalText(); err != nil {
		bad.Add("role", w.Role, "a known role")
	}
	if w.Room == "" && (w.Profile != "" || p.room && s != StageFloor && s != StageFloorCoat && s != StageJambs) {
		bad.Add("room", w.Room, "the room in which it is done")
	}
	if w.Profile == "" && s == StageInstall {
		bad.Add("profile", w.Profile, "the trim that goes up")
	}
	if w.Profile != "" && (known && !p.room || s == StageFloor || s == StageFloorCoat || s == StageJambs || s == StageDust || s == StageWallPaint) {
		bad.Add("profile", w.Profile, "nothing, since this is done to no trim")
	}
	if w.Labor < 0 {
		bad.Add("labor", w.Labor, "zero or more")
	}
	if w.Coats < 0 || w.Coats > maxCoats {
		bad.Add("coats", w.Coats, "0 to "+strconv.Itoa(maxCoats))
	}
	switch {
	case w.Dry.Recoat < 0:
		bad.Add("dry.recoat", w.Dry.Recoat, "zero or more")
	case w.Dry.Cure != 0 && w.Dry.Cure < w.Dry.Recoat:
		bad.Add("dry.cure", w.Dry.Cure, "zero or at least as long as recoat ("+w.Dry.Recoat.String()+")")
	}
	if w.People < 0 {
		bad.Add("people", w.People, "zero or more")
	}
	if w.Longest < 0 {
		bad.Add("longest", w.Longest.About(), "zero or more")
	}
	if w.Order < 0 {
		bad.Add("order", w.Order, "zero or more")
	}
	return bad.Err()
}

// FromSteps converts the steps of a finish.List to works. labor holds the labor of each
// step, or is nil if labor does not matter. Each trim tells, by the label of its job, on
// which trim a step is done. A step of a job that no trim names is a [*measure.FieldError].
func FromSteps(steps []finish.StepResult, labor []measure.Duration, trims []Trim) ([]Work, error) {
	var bad fault.List
	of := make(map[string]Trim, len(trims))
	for i, t := range trims {
		if _, twice := of[t.Job]; twice {
			bad.Add("trims["+strconv.Itoa(i)+"].job", t.Job, "a job that no other trim has")
		}
		of[t.Job] = t
	}
	if labor != nil && len(labor) != len(steps) {
		bad.Add("labor", len(labor), "one for each of "+strconv.Itoa(len(steps))+" steps")
		labor = nil
	}
	works := make([]Work, 0, len(steps))
	for i, s := range steps {
		t, ok := of[s.Job]
		if !ok {
			bad.Add("steps["+strconv.Itoa(i)+"].job", s.Job, "the job of one of the trims")
		}
		w := Work{Task: s.Task, Step: s.Step, Trim: t, Coats: s.Coats, Dry: s.Dry}
		if labor != nil {
			w.Labor = labor[i]
		}
		works = append(works, w)
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	return works, nil
}
