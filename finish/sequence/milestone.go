package sequence

// Milestone is a point in the work that others may wait for, or wait to happen: a link of an
// [Other] names it by In.
type Milestone string

// The milestones of a room.
const (
	MilestoneReady    Milestone = "ready"    // walls are dry, heat runs, tools are set up: trim may come
	MilestoneTrimUp   Milestone = "trim up"  // all trim is up
	MilestoneFinished Milestone = "finished" // the last coat on everything is dry
)

// In returns the ID of the activity, without labor, that stands for the milestone in a room.
func (m Milestone) In(room string) string { return string(m) + ": " + room }
