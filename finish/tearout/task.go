package tearout

import "example.com/longpoint/internal/kind"

// Task is the kind of work in a step; the constants are in the order of a room's steps.
type Task uint8

const (
	TaskNotify   Task = iota // hand over the pamphlet on lead, before the whole job
	TaskTest                 // wait for the test of materials that may contain asbestos
	TaskContain              // signs, plastic, ducts and doors closed
	TaskScore                // cut caulk and paint along the edges
	TaskBreak                // break trim off
	TaskPry                  // pry trim off whole
	TaskDenail               // pull nails through the back
	TaskBag                  // bag the debris, or wrap it, and carry it out
	TaskSweep                // vacuum a room without containment
	TaskClean                // plastic off the floor, HEPA vacuum, wet cleaning
	TaskInspect              // look for dust and chips
	TaskVerify               // wet cloths against the card
	TaskClear                // dust samples to a laboratory
	TaskTakeDown             // signs and the plastic that shuts the room off
)

var taskNames = [...]string{
	"hand over the pamphlet", "wait for the test", "contain", "score", "break off", "pry off", "pull nails", "bag",
	"vacuum", "clean", "inspect", "verify", "clear", "take down",
}

// String returns the task in words, such as "pry off".
func (t Task) String() string { return kind.Text("Task", taskNames[:], t) }

// MarshalText writes the task in words, such as "contain".
func (t Task) MarshalText() ([]byte, error) { return kind.Marshal("Task", "a task", taskNames[:], t) }

// UnmarshalText reads a task in words.
func (t *Task) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a task", taskNames[:], b, t)
}

// byLength reports whether the labor of a task is counted by the length of the trim; for
// TaskScore, of the edges. The others are counted by the room, TaskBag by the bag.
func (t Task) byLength() bool { return t >= TaskScore && t <= TaskDenail }

// dusty reports whether a task fills the air of its room with dust.
func (t Task) dusty() bool { return t.byLength() || t == TaskBag || t == TaskSweep || t == TaskClean }

// what describes the tasks for people. The duties of the renovation rule are from
// memory.
var what = [...]struct{ text, source string }{
	TaskNotify:   {"Hand over the federal pamphlet on lead and have its receipt signed, at most 60 days before the work; mail it at least 7 days before. Keep the records of the job for three years.", "40 CFR 745.84 and 745.86"},
	TaskTest:     {"Have material that may contain asbestos tested by an accredited laboratory. Nothing in the room starts before the result is in; material that contains asbestos is for a licensed abatement contractor.", "29 CFR 1926.1101(k); common practice, no source"},
	TaskContain:  {"Post signs. Move or cover the contents of the room, close windows, cover ducts and doors with taped plastic, and tape plastic over the floor as far as the rule requires, farther if dust goes farther.", "40 CFR 745.85(a)"},
	TaskScore:    {"Cut caulk and paint along the edges with a knife, the paint misted, so that the wall does not tear and no chips fly.", "common practice, no source"},
	TaskBreak:    {"Mist the paint and break the trim off; let the pieces down rather than throw them.", "common practice, no source"},
	TaskPry:      {"Mist the paint and pry the trim off beside its nails, a block behind the bar, from one end to the other.", "common practice, no source"},
	TaskDenail:   {"Pull the nails through the back with end nippers, so that the face stays whole.", "common practice, no source"},
	TaskBag:      {"Seal debris in heavy-duty bags, wrap long pieces in plastic, wipe or vacuum it and carry it out. Leave no nails sticking out of scrap.", "40 CFR 745.85(a)(4); 29 CFR 1926.25"},
	TaskSweep:    {"Pick up, vacuum the floor and the edges along the walls; do not sweep dry.", "common practice, no source"},
	TaskClean:    {"Pick up all chips and debris. Mist the plastic on the floor, fold it dirty side inward, tape it shut or bag it. Clean walls from the top down with a HEPA vacuum or a damp cloth, then HEPA-vacuum and wet-mop the floor.", "40 CFR 745.85(a)(5)"},
	TaskInspect:  {"A certified renovator looks for dust, debris and chips; the room is cleaned again until none are found.", "40 CFR 745.85(b)(1)"},
	TaskVerify:   {"A certified renovator wipes each sill with one wet cloth and the floor with one for each part of it, and compares each with the card. A part that fails is cleaned again and wiped with a second cloth; if that fails, too, wait an hour or until it is dry, whichever is longer, and wipe it with a dry electrostatic cloth.", "40 CFR 745.85(b)"},
	TaskClear:    {"A certified person takes dust samples and a laboratory measures them; the room stays closed until they are below the limits.", "40 CFR 745.85(c)"},
	TaskTakeDown: {"Take down the signs and the plastic that shuts the room off, once the room has passed.", "40 CFR 745.85(a)"},
}
