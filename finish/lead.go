package finish

import (
	"strconv"

	"example.com/longpoint/measure"
)

// LeadYear is the first year of construction that the federal lead rule leaves
// out.
const LeadYear = 1978

// LeadRoomLimit is the painted surface in one room, within 30 days, above
// which paid work on a house before 1978 falls under the renovation rule.
// Source: 40 CFR 745.83.
const LeadRoomLimit = 6 * measure.SquareFoot

// AssistedRoomLimit takes the place of LeadRoomLimit in housing with federal
// assistance. Source: EPA trainer notes.
const AssistedRoomLimit = 2 * measure.SquareFoot

// Removed is painted trim that comes off one room.
type Removed struct {
	Label  string         `json:"label,omitempty"` // for people
	Room   string         `json:"room"`            // rooms are told apart by it; not empty
	Length measure.Length `json:"length"`          // >= 0
	Girth  measure.Length `json:"girth"`           // painted width around the part, all painted sides; >= 0
	Area   measure.Area   `json:"area,omitempty"`  // more painted surface besides; >= 0
}

// RoomLead is the painted surface removed from a room, against the limit.
type RoomLead struct {
	Room    string       `json:"room"`    // its name
	Removed measure.Area `json:"removed"` // painted surface taken off in it
	Over    bool         `json:"over"`    // more than LeadRoomLimit

	OverAssisted bool `json:"over_assisted"` // more than AssistedRoomLimit
}

// Building is what the lead rule asks of the building.
type Building struct {
	Year     int  `json:"year,omitempty"`     // finished; 0 is unknown and counts as before 1978
	Assisted bool `json:"assisted,omitempty"` // housing with federal assistance
}

// Lead sums the painted surface of trim removed, room by room, in the order of
// first mention. A removed part counts with its whole painted surface (EPA
// frequent questions 23002-18379). It knows the paint's extent only: whether
// the rule applies is for the law and a test of the paint to say.
func Lead(removed []Removed) ([]RoomLead, error) {
	var rooms []RoomLead
	at := make(map[string]int)
	for i, r := range removed {
		path := "removed[" + strconv.Itoa(i) + "]"
		if r.Room == "" {
			return nil, bad(path+".room", r.Room, "a name")
		}
		a, err := surface(r.Length, r.Girth, r.Area)
		if err != nil {
			if f, ok := err.(*FieldError); ok && f.Field == "face" {
				f.Field = "girth"
			}
			return nil, within(path, err)
		}
		k, ok := at[r.Room]
		if !ok {
			k = len(rooms)
			at[r.Room] = k
			rooms = append(rooms, RoomLead{Room: r.Room})
		}
		sum, fits := add(int64(rooms[k].Removed), int64(a))
		if !fits {
			return nil, &OverflowError{What: "the surface removed from " + r.Room}
		}
		rooms[k].Removed = measure.Area(sum)
		rooms[k].Over = rooms[k].Removed > LeadRoomLimit
		rooms[k].OverAssisted = rooms[k].Removed > AssistedRoomLimit
	}
	return rooms, nil
}

// LeadCautions returns the cautions for trim removed from the building. A room
// over the limit, which is smaller where housing has federal assistance, gets a
// line of its own. None are due from LeadYear on, or where nothing is removed. A
// negative year is a [*FieldError].
func (b Building) LeadCautions(removed []Removed) ([]Caution, error) {
	if b.Year < 0 {
		return nil, bad("year", b.Year, "zero (unknown) or more")
	}
	rooms, err := Lead(removed)
	if err != nil || b.Year >= LeadYear || len(rooms) == 0 {
		return nil, err
	}
	limit, text, source := LeadRoomLimit, "Over the limit of the renovation rule. Have the paint tested, or hire a certified renovator and follow lead-safe practice; check what your state adds.", "40 CFR 745.83"
	if b.Assisted {
		limit, text, source = AssistedRoomLimit, "Over the limit for housing with federal assistance. Have the paint tested, or hire a certified renovator and follow lead-safe practice; ask the agency that assists, and check what your state adds.", "EPA trainer notes"
	}
	out := append([]Caution(nil), cautions[LeadPaint]...)
	for _, r := range rooms {
		if r.Removed <= limit {
			continue
		}
		out = append(out, Caution{
			Topic:   LeadPaint,
			Trigger: r.Room + ": " + OfArea(r.Removed).String() + " of painted trim removed, the limit is " + OfArea(limit).String(),
			Text:    text,
			Source:  source,
		})
	}
	return out, nil
}
