package finish

import (
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// LeadVerdict is the reason why the renovation rule covers a job or does not.
type LeadVerdict uint8

const (
	VerdictNothing     LeadVerdict = iota // nothing painted is removed
	VerdictLater                          // the building is from the year Before or later
	VerdictOtherUse                       // neither target housing nor a child-occupied facility
	VerdictUnpaid                         // nobody is paid for the work
	VerdictTestedFree                     // all removed paint was found free of lead
	VerdictMinorRepair                    // minor repair in every room
	VerdictCovered                        // the rule covers the work
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

// A LeadGate is the result of the check that precedes the scheduling of a job: whether
// the renovation rule covers the work, and in which rooms. It applies the figures of a
// rule; states may be stricter, and a certified renovator decides.
type LeadGate struct {
	Verdict LeadVerdict `json:"verdict"`
	Rooms   []LeadRoom  `json:"rooms,omitempty"`   // all rooms from which painted trim is removed
	Covered []string    `json:"covered,omitempty"` // names of the rooms in which the rule covers the work; none unless Verdict is VerdictCovered
}

// Covers reports whether the rule covers the work in a room.
func (g LeadGate) Covers(room string) bool { return slices.Contains(g.Covered, room) }

// Gate determines whether the rule covers the removal of painted trim from a building. It
// does if the building is from before the year and is target housing or a child-occupied
// facility, the work is paid, the paint was not tested free of lead by a certified person,
// and the work is more than minor repair. That is an area over the limit in a room within
// the days of the rule, or, at any area, demolition, a replaced window, or a forbidden
// practice. Unknown facts count as covered. Removing more trim never ends the coverage.
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
	g := LeadGate{Verdict: VerdictNothing, Rooms: rooms}
	switch {
	case len(rooms) == 0:
		return g, nil
	case b.Year >= r.Before:
		g.Verdict = VerdictLater
		return g, nil
	case b.Occupancy == OccupancyOther:
		g.Verdict = VerdictOtherUse
		return g, nil
	case b.Unpaid:
		g.Verdict = VerdictUnpaid
		return g, nil
	case !slices.ContainsFunc(removed, func(p RemovedTrim) bool { return p.Test != LeadFree }):
		g.Verdict = VerdictTestedFree
		return g, nil
	}
	g.Verdict = VerdictMinorRepair
	for _, room := range rooms {
		if !room.minor(b.Assisted) {
			g.Verdict = VerdictCovered
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
	case b.Year < 0 || b.Year > 9999: // 19240 is a typing error for an unknown year, and a late year would count as safe
		return fault.Field("year", b.Year, "0 (unknown) to 9999")
	case int(b.Occupancy) >= len(occupancyNames):
		return fault.Field("occupancy", uint8(b.Occupancy), "a known occupancy")
	case b.Occupancy == OccupancyOther && b.Assisted:
		return fault.Field("assisted", b.Assisted, "false: what is assisted is housing, and the occupancy is "+b.Occupancy.String())
	}
	return nil
}

// within returns the most painted surface removed within any period of the given days, or
// all of it if days is zero. The parts are sorted by their day.
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
