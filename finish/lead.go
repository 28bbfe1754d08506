package finish

import (
	"strconv"

	"example.com/longpoint/measure"
)

// LeadYear is the first year of construction that the federal renovation rule leaves
// out. The protection of workers knows no such year.
const LeadYear = 1978

// LeadRoomLimit is the painted surface in one room, within 30 days, above which
// paid work on target housing or a child-occupied facility from before 1978 is not
// minor repair and falls under the renovation rule. Demolition and window
// replacement do at any area. Source: 40 CFR 745.83.
const LeadRoomLimit = 6 * measure.SquareFoot

// AssistedRoomLimit takes the place of LeadRoomLimit in housing with federal
// assistance. A tenth of the surface of a small kind of part, such as the baseboard of
// a room, takes its place in turn where that is less (24 CFR 35.1350(d), from memory):
// then the parts say too little, and the caution says so. Source: EPA trainer notes.
const AssistedRoomLimit = 2 * measure.SquareFoot

// RemovedTrim is painted trim that comes off one room.
type RemovedTrim struct {
	Label  string         `json:"label,omitempty"` // for people
	Room   string         `json:"room"`            // rooms are told apart by it; not empty
	Length measure.Length `json:"length"`          // >= 0
	Girth  measure.Length `json:"girth"`           // painted width around the part, all painted sides; >= 0
	Area   measure.Area   `json:"area,omitempty"`  // more painted surface besides; >= 0

	// Demolished is set for what is broken up or ruined as it comes off, Window
	// for the parts of a window that is replaced. Neither is ever minor repair,
	// whatever its area (40 CFR 745.83). What is pried off whole is counted by area.
	Demolished bool `json:"demolished,omitempty"`
	Window     bool `json:"window,omitempty"`
}

// LeadRoom is the painted surface removed from a room, against the limit.
type LeadRoom struct {
	Room    string       `json:"room"`    // its name
	Removed measure.Area `json:"removed"` // painted surface taken off in it
	Over    bool         `json:"over"`    // more than LeadRoomLimit

	OverAssisted bool `json:"over_assisted"` // more than AssistedRoomLimit

	Demolished bool `json:"demolished"` // some of it, so that no area makes it minor repair
	Window     bool `json:"window"`     // one is replaced, so that no area makes it minor repair
}

// Occupancy is who uses a building, which decides whether the federal renovation
// rule covers it (40 CFR 745.82, 745.83 and 745.103, from memory).
type Occupancy uint8

const (
	// OccupancyUnknown counts as covered.
	OccupancyUnknown Occupancy = iota

	// OccupancyHousing is target housing: any from before 1978, but for housing for
	// the elderly or people with disabilities and homes without a bedroom, and these
	// too where a child under six lives or is expected to live.
	OccupancyHousing

	// OccupancyChildren is a child-occupied facility: a building, or a part of one,
	// from before 1978 that the same child under six visits on two days or more of
	// a week, three hours or more a visit, six a week and sixty a year. Schools and
	// day care are usual cases.
	OccupancyChildren

	// OccupancyOther is neither. The rule does not cover it; the protection of
	// workers does.
	OccupancyOther
)

var occupancyNames = [...]string{"unknown", "target housing", "child-occupied facility", "other"}

// String returns the occupancy in words, such as "target housing".
func (o Occupancy) String() string {
	if int(o) < len(occupancyNames) {
		return occupancyNames[o]
	}
	return "unknown occupancy"
}

// MarshalText writes the occupancy in words, such as "child-occupied facility".
func (o Occupancy) MarshalText() ([]byte, error) {
	return marshalName("occupancy", o, occupancyNames[:])
}

// UnmarshalText reads "unknown", "target housing", "child-occupied facility" or
// "other".
func (o *Occupancy) UnmarshalText(b []byte) error {
	return unmarshalName("occupancy", string(b), occupancyNames[:], o)
}

// Building is what the lead rule asks of the building.
type Building struct {
	Year      int       `json:"year,omitempty"`      // finished; 0 is unknown and counts as before 1978
	Occupancy Occupancy `json:"occupancy,omitempty"` // who uses it; zero is unknown and counts as covered
	Assisted  bool      `json:"assisted,omitempty"`  // housing with federal assistance
}

// Lead sums the painted surface of trim removed, room by room, in the order of
// first mention. A removed part counts with its whole painted surface (EPA
// frequent questions 23002-18379). It knows the paint's extent only: whether
// the rule applies is for the law and a test of the paint to say.
func Lead(removed []RemovedTrim) ([]LeadRoom, error) {
	var rooms []LeadRoom
	at := make(map[string]int)
	for i, r := range removed {
		path := "removed[" + strconv.Itoa(i) + "]"
		if r.Room == "" {
			return nil, bad(path+".room", r.Room, "a name")
		}
		a, err := surface(r.Length, r.Girth, r.Area)
		if err != nil {
			if f, ok := err.(*measure.FieldError); ok && f.Field == "face" {
				f.Field = "girth"
			}
			return nil, within(path, err)
		}
		k, ok := at[r.Room]
		if !ok {
			k = len(rooms)
			at[r.Room] = k
			rooms = append(rooms, LeadRoom{Room: r.Room})
		}
		sum, fits := add(int64(rooms[k].Removed), int64(a))
		if !fits {
			return nil, tooLarge("the surface removed from " + r.Room)
		}
		rooms[k].Removed = measure.Area(sum)
		rooms[k].Over = rooms[k].Removed > LeadRoomLimit
		rooms[k].OverAssisted = rooms[k].Removed > AssistedRoomLimit
		rooms[k].Demolished = rooms[k].Demolished || r.Demolished
		rooms[k].Window = rooms[k].Window || r.Window
	}
	return rooms, nil
}

// laterLead is what holds in buildings that the renovation rule leaves out by their year.
var laterLead = Caution{
	Topic:   HazardLeadPaint,
	Trigger: "painted trim in a building from 1978 or later",
	Text:    "The federal renovation rule leaves the building out, the protection of workers does not: where paint may hold lead all the same, as on parts saved from older buildings, have it tested and protect whoever works on it from the first cut.",
	Source:  "29 CFR 1926.62; 40 CFR 745.82",
}

// LeadCautions returns the cautions for trim removed from the building: the general
// ones, and where the federal rule covers the building a line for each room whose
// work is more than minor repair: over the limit, which is smaller where housing
// has federal assistance, or demolition or a window replaced at any area. What
// protects workers is due at any area and in any building; from LeadYear on it is
// all that is due. None are due where nothing is removed. A negative year, an unknown
// occupancy and assistance where it cannot be are a [*measure.FieldError].
func (b Building) LeadCautions(removed []RemovedTrim) ([]Caution, error) {
	switch {
	case b.Year < 0:
		return nil, bad("year", b.Year, "zero (unknown) or more")
	case int(b.Occupancy) >= len(occupancyNames):
		return nil, bad("occupancy", uint8(b.Occupancy), "a known occupancy")
	case b.Occupancy == OccupancyOther && b.Assisted:
		return nil, bad("assisted", b.Assisted, "false: what is assisted is housing, and the occupancy is "+b.Occupancy.String())
	}
	rooms, err := Lead(removed)
	switch {
	case err != nil || len(rooms) == 0:
		return nil, err
	case b.Year >= LeadYear:
		return append([]Caution(nil), laterLead), nil
	}
	out := append([]Caution(nil), cautions[HazardLeadPaint]...)
	if b.Occupancy == OccupancyOther {
		return append(out, Caution{
			Topic:   HazardLeadPaint,
			Trigger: "a building that is neither target housing nor a child-occupied facility",
			Text:    "The federal renovation rule does not cover it as long as no child under six comes regularly. The limits for workers hold; check what your state adds.",
			Source:  "40 CFR 745.82 and 745.83",
		}), nil
	}
	limit, text, source := LeadRoomLimit, "Over the limit of the renovation rule. Have the paint tested by somebody certified for it, or hire a certified renovator and follow lead-safe practice; check what your state adds.", "40 CFR 745.83"
	if b.Assisted {
		limit, text, source = AssistedRoomLimit, "Over the limit for housing with federal assistance. Have the paint tested by somebody certified for it, or hire a certified renovator and follow lead-safe practice; ask the agency that assists, and check what your state adds.", "EPA trainer notes"
	}
	const never = "Never minor repair, at any area. Have the paint tested by somebody certified for it, or hire a certified renovator and follow lead-safe practice; check what your state adds."
	for _, r := range rooms {
		if r.Removed > limit {
			out = append(out, Caution{HazardLeadPaint, r.Room + ": " + AmountOf(r.Removed).String() + " of painted trim removed, the limit is " + AmountOf(limit).String(), text, source})
		}
		if r.Demolished {
			out = append(out, Caution{HazardLeadPaint, r.Room + ": painted trim is demolished", never, "40 CFR 745.83"})
		}
		if r.Window {
			out = append(out, Caution{HazardLeadPaint, r.Room + ": a window is replaced", never, "40 CFR 745.83"})
		}
	}
	return out, nil
}
