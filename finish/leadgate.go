package finish

import (
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// LeadVerdict says why the renovation rule covers a job or leaves it out.
type LeadVerdict uint8

const (
	LeadNothing     LeadVerdict = iota // nothing painted is removed
	LeadLater                          // the building is from the year Before or later
	LeadOtherUse                       // neither target housing nor a child-occupied facility
	LeadUnpaid                         // nobody is paid for the work
	LeadTestedFree                     // all that is removed was found free of lead
	LeadMinorRepair                    // minor repair in every room
	LeadCovered                        // the rule covers the work
)

var leadVerdictNames = [...]string{
	"nothing painted is removed", "built later than the rule covers", "neither target housing nor child-occupied", "unpaid work",
	"tested free of lead", "minor repair", "covered",
}

// String returns the verdict in words, such as "minor repair".
func (v LeadVerdict) String() string { return kind.Text("LeadVerdict", leadVerdictNames[:], v) }

// MarshalText writes the verdict in words, such as "covered".
func (v LeadVerdict) MarshalText() ([]byte, error) {
	return kind.Marshal("LeadVerdict", "a verdict", leadVerdictNames[:], v)
}

// UnmarshalText reads a verdict in words.
func (v *LeadVerdict) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a verdict", leadVerdictNames[:], b, v)
}

// A LeadGate is what a job has to pass before anything of it is scheduled: whether the
// renovation rule covers the work, and in which rooms. It renders the figures of a rule;
// states may be stricter, and a certified renovator decides.
type LeadGate struct {
	Verdict LeadVerdict `json:"verdict"`
	Rooms   []LeadRoom  `json:"rooms,omitempty"`   // all in which something painted is removed
	Covered []string    `json:"covered,omitempty"` // names of those in which the rule covers the work; none unless Verdict is LeadCovered
}

// Covers reports whether the rule covers the work in a room.
func (g LeadGate) Covers(room string) bool { return slices.Contains(g.Covered, room) }

// Gate says whether the rule covers the removal of painted trim from a building: it is from
// before the year, target housing or a child-occupied facility, the work is paid for,
// the paint is not tested free of lead by somebody certified, and more than minor repair
// is done. That is more than the limit in a room within the days of the rule, or, at any
// area, demolition, a window replaced, or a practice that is forbidden. What is not known
// counts against the job. More that is removed never turns work that is covered into
// work that is not.
//
// The errors are those of [LeadRule.Cautions].
func (r LeadRule) Gate(b Building, removed []RemovedTrim) (LeadGate, error) {
	if err := b.check(); err != nil {
		return LeadGate{}, err
	}
	rooms, err := r.Rooms(removed)
	if err != nil {
		return LeadGate{}, err
	}
	g := LeadGate{Verdict: LeadNothing, Rooms: rooms}
	switch {
	case len(rooms) == 0:
		return g, nil
	case b.Year >= r.Before:
		g.Verdict = LeadLater
		return g, nil
	case b.Occupancy == OccupancyOther:
		g.Verdict = LeadOtherUse
		return g, nil
	case b.Unpaid:
		g.Verdict = LeadUnpaid
		return g, nil
	case !slices.ContainsFunc(removed, func(p RemovedTrim) bool { return p.Test != LeadFree }):
		g.Verdict = LeadTestedFree
		return g, nil
	}
	g.Verdict = LeadMinorRepair
	for _, room := range rooms {
		if !room.minor(b.Assisted) {
			g.Verdict = LeadCovered
			g.Covered = append(g.Covered, room.Room)
		}
	}
	return g, nil
}

// minor reports whether the work in a room is minor repair.
func (r LeadRoom) minor(assisted bool) bool {
	over := r.Over || assisted && r.OverAssisted
	return !over && !r.Demolished && !r.Window && !r.Forbidden
}

func (b Building) check() error {
	switch {
	case b.Year < 0 || b.Year > 9999: // of 19240 nobody knows what was meant, and new counts as safe
		return fault.Field("year", b.Year, "0 (unknown) to 9999")
	case int(b.Occupancy) >= len(occupancyNames):
		return fault.Field("occupancy", uint8(b.Occupancy), "a known occupancy")
	case b.Occupancy == OccupancyOther && b.Assisted:
		return fault.Field("assisted", b.Assisted, "false: what is assisted is housing, and the occupancy is "+b.Occupancy.String())
	}
	return nil
}

// within returns the most painted surface that comes off within so many days, or all of it
// where days is zero. The parts are sorted by their day.
func within(parts []RemovedTrim, areas []measure.Area, days int64) measure.Area {
	var most, sum measure.Area
	first := 0
	for i, p := range parts {
		sum += areas[i]
		for days > 0 && uint64(p.Day)-uint64(parts[first].Day) > uint64(days) { // sorted: no wrap
			sum -= areas[first]
			first++
		}
		most = max(most, sum)
	}
	return most
}
