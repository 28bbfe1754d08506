package rcpsp

// Problem is a scheduling problem.
type Problem struct {
	Tasks    []Task
	Capacity []int64   // units of each resource; > 0
	Weight   []int64   // weight of a unit of each resource, by which work is compared between resources; nil: all 1
	Zones    int       // airs
	Calendar *Calendar // nil: always
}

// Task is a task with one or more modes.
type Task struct {
	Modes   []Mode // at least one
	Links   []Link // predecessors
	Release int64  // earliest start; >= 0
	Zone    int    // of 0 to Zones-1
	Dusty   bool   // raises dust while it lasts
	Wet     bool   // excludes dust in its zone, from its start until Dry after its end
	Dry     int64  // by the clock; >= 0
}

// Mode is a way to do a task.
type Mode struct {
	Time int64 // working time; 0 for a milestone, which need not wait for working time
	Need []Need
}

// Need is an amount of a resource that a mode holds while it lasts.
type Need struct {
	Resource int
	Units    int64 // 1 to the capacity
}

// LinkKind tells which ends a link connects.
type LinkKind uint8

const (
	FinishStart LinkKind = iota
	StartStart
	FinishFinish
	StartFinish
)

// FromStart reports whether a link counts from the start of the predecessor.
func (k LinkKind) FromStart() bool { return k == StartStart || k == StartFinish }

// ToFinish reports whether a link constrains the end of the waiting task.
func (k LinkKind) ToFinish() bool { return k == FinishFinish || k == StartFinish }

// Link makes a task wait for another.
type Link struct {
	Task int // another task; links form no cycle
	Kind LinkKind
	Lag  Lag
}

// Start is the start, the end and the mode of a task.
type Start struct {
	Mode       int
	Start, End int64
}

// shortest and longest return the least and the greatest time of all modes.
func (t *Task) shortest() int64 {
	d := t.Modes[0].Time
	for _, m := range t.Modes[1:] {
		d = min(d, m.Time)
	}
	return d
}

func (t *Task) longest() int64 {
	d := t.Modes[0].Time
	for _, m := range t.Modes[1:] {
		d = max(d, m.Time)
	}
	return d
}
