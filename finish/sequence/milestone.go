package sequence

// Milestone is a point in the work that an [Other] may wait for or precede: a link of the
// Other names it by In.
type Milestone string

// The milestones of a room.
const (
	MilestoneReady    Milestone = "ready"    // walls are dry, heat runs, tools are set up: the room is ready for trim
	MilestoneTrimUp   Milestone = "trim up"  // all trim is installed
	MilestoneFinished Milestone = "finished" // the last coat on everything is dry
)

// In returns the ID of the activity, without labor, that stands for the milestone in a room.
func (m Milestone) In(room string) string { return string(m) + ": " + room }
