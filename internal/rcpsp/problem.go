package rcpsp

// Problem is what is to be scheduled.
type Problem struct {
	Tasks    []Task
	Capacity []int64   // units of each resource; > 0
	Weight   []int64   // of a unit of each resource, so that work can be compared between them; nil: all 1
	Zones    int       // airs
	Calendar *Calendar // nil: always
}

// Task is something to be done, in one of several modes.
type Task struct {
	Modes   []Mode // at least one
	Links   []Link // what it waits for
	Release int64  // it does not start before; >= 0
	Zone    int    // of 0 to Zones-1
	Dusty   bool   // raises dust while it lasts
	Wet     bool   // excludes dust in its zone, from its start until Dry after its end
	Dry     int64  // by the clock; >= 0
}

// Mode is a way to do a task.
type Mode struct {
	Time int64 // working time that it takes; 0 for a milestone, which waits for no working time
	Need []Need
}

// Need is what a mode holds while it lasts.
type Need struct {
	Resource int
	Units    int64 // 1 to the capacity
}

// LinkKind says which ends a link ties.
type LinkKind uint8

const (
	FinishStart LinkKind = iota
	StartStart
	FinishFinish
	StartFinish
)

// FromStart reports whether a link counts from the start of what it waits for.
func (k LinkKind) FromStart() bool { return k == StartStart || k == StartFinish }

// ToFinish reports whether a link holds the end of what waits.
func (k LinkKind) ToFinish() bool { return k == FinishFinish || k == StartFinish }

// Link makes a task wait for another.
type Link struct {
	Task int // another one; links make no cycle
	Kind LinkKind
	Lag  Lag
}

// Start is when a task starts and ends, and in which mode.
type Start struct {
	Mode       int
	Start, End int64
}

// shortest and longest are the least and the greatest time of all modes.
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
