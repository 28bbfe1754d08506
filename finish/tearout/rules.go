package tearout

import (
	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Rules holds the figures on which a plan is based. The zero value means the
// defaults, and so does each zero field.
type Rules struct {
	Lead        finish.LeadRule `json:"lead,omitzero"`        // zero = finish.USLeadRule
	Containment Containment     `json:"containment,omitzero"` // zero = DefaultContainment
	Rates       []Rate          `json:"rates,omitempty"`      // nil = DefaultRates; a task without one takes no time
	Woods       []Wood          `json:"woods,omitempty"`      // nil = DefaultWoods; the first is for parts without a material
	Disposal    Disposal        `json:"disposal,omitzero"`    // zero = DefaultDisposal
	Salvage     Salvage         `json:"salvage,omitzero"`     // zero = DefaultSalvage
}

// A Rate is the time of a task.
type Rate struct {
	Task Task             `json:"task"`          // the task; no two rates have the same
	Time measure.Duration `json:"time"`          // labor for each Per; >= 0
	Per  measure.Length   `json:"per,omitempty"` // length of trim, or of edges for TaskScore; zero for tasks counted by the room, or for TaskBag by the bag
	Wait measure.Duration `json:"wait,omitzero"` // clock time after the labor until work continues, such as that of a laboratory; >= 0

	Source    string `json:"source,omitempty"`    // publication, or "common practice, no source"
	Date      string `json:"date,omitempty"`      // of the figure
	Condition string `json:"condition,omitempty"` // conditions of the figure, and its error elsewhere
}

const commonPractice = "common practice, no source"

// DefaultRates returns rates to start from, as a fresh slice. No public handbook has
// them: the case study of 1997 on lead-safe work has measured hours, but was not
// available. Each is the middle of the range that its condition states. Replace them with
// your own as soon as you have timed a job.
func DefaultRates() []Rate {
	const feet = 100 * measure.Foot
	rate := func(t Task, time measure.Duration, per measure.Length, condition string) Rate {
		return Rate{Task: t, Time: time, Per: per, Source: commonPractice, Date: "2020s", Condition: condition}
	}
	all := []Rate{
		rate(TaskTest, 0, 0, "the laboratory's answer in three days; ask yours"),
		rate(TaskContain, 2*hour, 0, "a room, 1 to 3 h"),
		rate(TaskScore, 27*minute, feet, "100 ft of one edge, 0.3 to 0.6 h"),
		rate(TaskBreak, 90*minute, feet, "100 ft of trim, 1 to 2 h"),
		rate(TaskPry, 195*minute, feet, "100 ft of trim, 2.5 to 4 h"),
		rate(TaskDenail, 69*minute, feet, "100 ft of trim, 0.8 to 1.5 h"),
		rate(TaskBag, 5*minute, 0, "a bag, carried to a box outside the door"),
		rate(TaskSweep, 15*minute, 0, "a room where no dust was held"),
		rate(TaskClean, 45*minute, 0, "a room; cleaning, looking, verifying and taking down take 1 to 2 h together"),
		rate(TaskInspect, 10*minute, 0, "a room; part of the 1 to 2 h of cleaning"),
		rate(TaskVerify, 20*minute, 0, "a room; part of the 1 to 2 h of cleaning"),
		rate(TaskClear, 0, 0, "samples taken by somebody else, the laboratory's answer in two days; ask yours"),
		rate(TaskTakeDown, 15*minute, 0, "a room; part of the 1 to 2 h of cleaning"),
	}
	for i := range all {
		switch all[i].Task {
		case TaskTest:
			all[i].Wait = 72 * hour
		case TaskClear:
			all[i].Wait = 48 * hour
		}
	}
	return all
}

func (r Rate) check() error {
	var f fault.List
	if int(r.Task) >= len(taskNames) {
		f.Add("task", uint8(r.Task), "a known task")
		return f.Err()
	}
	if r.Time < 0 {
		f.Add("time", r.Time, "zero or more")
	}
	if r.Wait < 0 {
		f.Add("wait", r.Wait, "zero or more")
	}
	switch {
	case r.Task.byLength() && r.Per <= 0:
		f.Add("per", r.Per.About(), "more than zero: the task is counted by length")
	case !r.Task.byLength() && r.Per != 0:
		f.Add("per", r.Per.About(), "zero: the task is not counted by length")
	}
	return f.Err()
}

// Wood gives the weight of a wood. A cubic foot of it weighs 62.4 lb times
// Gravity times 1 + Moisture.
type Wood struct {
	Name     string        `json:"name"`             // as in Part.Material; unique
	Gravity  measure.Ratio `json:"gravity"`          // specific gravity of the dry wood, such as 35 %; > 0
	Moisture measure.Ratio `json:"moisture"`         // of its dry weight; >= 0
	Source   string        `json:"source,omitempty"` // of both
}

// DefaultWoods returns the woods of old trim, as a fresh slice.
func DefaultWoods() []Wood {
	const source = "from memory; 12 % moisture is common practice, no source"
	return []Wood{
		{Name: "pine", Gravity: 35 * measure.Percent, Moisture: 12 * measure.Percent, Source: source},
		{Name: "red oak", Gravity: 63 * measure.Percent, Moisture: 12 * measure.Percent, Source: source},
	}
}

func (w Wood) check() error {
	var f fault.List
	if w.Name == "" {
		f.Add("name", w.Name, "a name")
	}
	if w.Gravity <= 0 || w.Gravity > 10*whole {
		f.Add("gravity", w.Gravity, "more than zero, at most 1000%")
	}
	if w.Moisture < 0 || w.Moisture > 10*whole {
		f.Add("moisture", w.Moisture, "0% to 1000%")
	}
	return f.Err()
}

// Disposal holds the figures for counting debris at disposal.
type Disposal struct {
	Loose  measure.Weight `json:"loose"`            // weight of a cubic yard of loose scrap; > 0
	Bag    measure.Volume `json:"bag"`              // capacity of a bag; > 0
	Box    measure.Volume `json:"box"`              // capacity of a box, a roll-off dumpster; > 0
	Lining int64          `json:"lining,omitempty"` // bags for plastic, tape and cloths of a room in which dust was contained; >= 0
	Source string         `json:"source,omitempty"`
}

// DefaultDisposal returns 300 lb per cubic yard of loose scrap wood, as in the LEED guide
// of 2009 and Portland Metro, 1994 (CalRecycle: 400 for wood debris, up to twice that
// pressed), bags of 42 gal and boxes of 10 cubic yards. The bag for the plastic is common
// practice without a source.
func DefaultDisposal() Disposal {
	return Disposal{Loose: 300 * measure.Pound, Bag: 42 * measure.Gallon, Box: 270 * measure.CubicFoot, Lining: 1,
		Source: "LEED guide 2009; Portland Metro 1994; CalRecycle: 400 lb"}
}

func (d Disposal) check() error {
	var f fault.List
	if d.Loose <= 0 {
		f.Add("loose", d.Loose, "more than zero")
	}
	if d.Bag <= 0 {
		f.Add("bag", d.Bag, "more than zero")
	}
	if d.Box <= 0 {
		f.Add("box", d.Box, "more than zero")
	}
	if d.Lining < 0 {
		f.Add("lining", d.Lining, "zero or more")
	}
	return f.Err()
}

// Salvage is the share of trim pried off for reuse that survives.
type Salvage struct {
	Yield  measure.Ratio  `json:"yield"` // share of the pieces of a profile; 0 % to 100 %
	End    measure.Length `json:"end"`   // lost at each end of a piece; >= 0
	Source string         `json:"source,omitempty"`
}

// DefaultSalvage returns three pieces of four, with 3 in lost at each end. The usual
// ranges are 60 to 90 % and 2 to 4 in (common practice, no source).
func DefaultSalvage() Salvage {
	return Salvage{Yield: 75 * measure.Percent, End: 3 * measure.Inch, Source: commonPractice}
}

func (s Salvage) check() error {
	var f fault.List
	if s.Yield < 0 || s.Yield > whole {
		f.Add("yield", s.Yield, "0% to 100%")
	}
	if s.End < 0 {
		f.Add("end", s.End.About(), "zero or more")
	}
	return f.Err()
}

// usual returns the rules with defaults for zero fields.
func (r Rules) usual() Rules {
	if r.Lead == (finish.LeadRule{}) {
		r.Lead = finish.USLeadRule()
	}
	if r.Containment == (Containment{}) {
		r.Containment = DefaultContainment()
	}
	if r.Rates == nil {
		r.Rates = DefaultRates()
	}
	if r.Woods == nil {
		r.Woods = DefaultWoods()
	}
	if r.Disposal == (Disposal{}) {
		r.Disposal = DefaultDisposal()
	}
	if r.Salvage == (Salvage{}) {
		r.Salvage = DefaultSalvage()
	}
	return r
}

// check reports the faults of rules that are complete.
func (r Rules) check() error {
	var f fault.List
	var rated [len(taskNames)]bool
	for i, x := range r.Rates {
		at := "rates[" + itoa(int64(i)) + "]"
		if err := x.check(); err != nil {
			f.Under(at, err)
			continue
		}
		if rated[x.Task] {
			f.Add(at+".task", x.Task, "a task that no other has")
		}
		rated[x.Task] = true
	}
	names := make(map[string]bool, len(r.Woods))
	for i, w := range r.Woods {
		at := "woods[" + itoa(int64(i)) + "]"
		f.Under(at, w.check())
		if names[w.Name] {
			f.Add(at+".name", w.Name, "a name that no other has")
		}
		names[w.Name] = w.Name != ""
	}
	if len(r.Woods) == 0 {
		f.Add("woods", "none", "at least one, or nothing for the usual ones")
	}
	f.Under("containment", r.Containment.check())
	f.Under("disposal", r.Disposal.check())
	f.Under("salvage", r.Salvage.check())
	return f.Err()
}
