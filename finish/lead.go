package finish

import (
	"cmp"
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// A LeadRule holds the figures of a rule on work that disturbs old paint, as of a date.
// [USLeadRule] has those of the federal rule of the United States.
type LeadRule struct {
	// Before is the first year of construction to which the rule does not
	// apply. The protection of workers has no such limit.
	Before int `json:"before"`

	// RoomLimit is the painted surface in one room, within 30 days, above which paid
	// work on housing or a child-occupied facility from before that year is not
	// minor repair and falls under the rule. Demolition and window replacement fall
	// under the rule at any area. OutsideLimit is the limit for work outside.
	RoomLimit    measure.Area `json:"room_limit"`
	OutsideLimit measure.Area `json:"outside_limit"`

	// AssistedLimit replaces RoomLimit in housing with federal assistance. A tenth of the
	// surface of a small kind of part, such as the baseboard of a room, replaces it in turn
	// if that is less (24 CFR 35.1350(d), from memory): the list of parts does not show
	// that, and the caution says so.
	AssistedLimit measure.Area `json:"assisted_limit"`

	// Days is the period within which all removals in a room count together. Zero
	// counts everything together.
	Days int64 `json:"days,omitempty"`

	Source         string `json:"source"`          // publication of the figures
	AssistedSource string `json:"assisted_source"` // of AssistedLimit
	Date           string `json:"date"`            // day from which the figures hold, such as "2010-04-22"
}

// USLeadRule returns the figures of the federal renovation, repair and painting rule.
// Source: 40 CFR 745.83, in force from 22 April 2010 (the date from memory); for assisted
// housing EPA trainer notes.
func USLeadRule() LeadRule {
	return LeadRule{
		Before: 1978, RoomLimit: 6 * measure.SquareFoot, OutsideLimit: 20 * measure.SquareFoot, AssistedLimit: 2 * measure.SquareFoot, Days: 30,
		Source: "40 CFR 745.83", AssistedSource: "EPA trainer notes", Date: "2010-04-22",
	}
}

func (r LeadRule) check() error {
	switch {
	case r.Before <= 0:
		return fault.Field("before", r.Before, "the first year that the rule leaves out, such as 1978")
	case r.RoomLimit < 0:
		return fault.Field("room_limit", r.RoomLimit, "zero or more")
	case r.OutsideLimit < 0:
		return fault.Field("outside_limit", r.OutsideLimit, "zero or more")
	case r.AssistedLimit < 0:
		return fault.Field("assisted_limit", r.AssistedLimit, "zero or more")
	case r.Days < 0:
		return fault.Field("days", r.Days, "zero (for any time) or more")
	}
	return nil
}

// limitIn formats a limit in the units of a country, rounded down if necessary.
func limitIn(c measure.Locale, a measure.Area) string {
	if c.Metric {
		a = a.Round(measure.SquareMeter/100, measure.RoundDown)
	}
	return c.FormatArea(a)
}

// heatLimit formats the temperature from which the rule forbids heat guns.
func heatLimit(c measure.Locale) string {
	if c.Metric {
		return "593 °C"
	}
	return "1,100 F"
}

// general returns the cautions for all work that disturbs old paint.
func (r LeadRule) general(c measure.Locale) []Caution {
	before := "from before " + strconv.Itoa(r.Before)
	apart := ""
	if r.Days > 0 {
		apart = " within " + itoa(r.Days) + " days"
	}
	room, outside, assisted := limitIn(c, r.RoomLimit), limitIn(c, r.OutsideLimit), limitIn(c, r.AssistedLimit)
	heat := heatLimit(c)
	return []Caution{
		{HazardLeadPaint, "painted trim in a building " + before, "Treat old paint as leaded until a test says otherwise. No flame, no heat gun at " + heat + " or more, no power sanding, grinding or planing without a shroud and a HEPA vacuum. Keep the dust in and children out.",
			"40 CFR 745.85(a)(3)"},
		{HazardLeadPaint, "paid work in target housing and child-occupied facilities " + before, "The federal renovation rule covers work that disturbs more than " + room + " of painted surface in a room" + apart + ", or " + outside + " outside; a removed part counts with its entire painted surface. Demolition of painted surfaces, window replacement and any practice forbidden above are never minor repair, however small. In housing with federal assistance the limit is " + assisted + " in a room, or a tenth of the surface of a small type of component such as baseboard and other trim. What an owner says about the paint is not a test. States may be stricter and cover other buildings.",
			r.Source + "; EPA frequent questions 23002-18379; " + r.AssistedSource + "; 24 CFR 35.1350(d)"},
		{HazardLeadPaint, "workers at painted surfaces with lead, in any building", "There is no minimum area: an employer protects workers from the first cut. Until the air has been measured, demolition, scraping and sanding by hand and heat guns count as above the limit of 50 ug/m3 (action level 30 ug/m3, both as an 8-hour average): respirators, protective clothing, washing, training and blood tests. States may be stricter, as California is.",
			"29 CFR 1926.62"},
	}
}

// RemovedTrim is painted trim removed from one room.
type RemovedTrim struct {
	Label  string         `json:"label,omitempty"` // for people
	Room   string         `json:"room"`            // identifies the room; required
	Length measure.Length `json:"length"`          // >= 0
	Girth  measure.Length `json:"girth"`           // painted width around the part, all painted sides; >= 0
	Area   measure.Area   `json:"area,omitempty"`  // additional painted surface; >= 0

	// Demolished is set if the part is broken up or ruined in the removal, Window
	// for the parts of a window that is replaced. Neither is ever minor repair,
	// whatever its area (40 CFR 745.83). Trim that is pried off whole is counted by
	// area.
	Demolished bool `json:"demolished,omitempty"`
	Window     bool `json:"window,omitempty"`

	Practice Practice `json:"practice,omitempty"` // method of work; a forbidden one is never minor repair either
	Test     LeadTest `json:"test,omitempty"`     // state of knowledge about its paint; zero counts as leaded

	// Day is the day of removal, counted from any day that is the same for all parts of
	// the list. Earlier work in the room has an earlier day. If all are zero, everything
	// counts together.
	Day int64 `json:"day,omitempty"`
}

// LeadRoom compares the painted surface removed from a room with the limits.
type LeadRoom struct {
	Room    string       `json:"room"`    // its name
	Removed measure.Area `json:"removed"` // most painted surface removed within the rule's Days, without paint tested free of lead
	Over    bool         `json:"over"`    // more than the rule's RoomLimit

	OverAssisted bool `json:"over_assisted"` // more than the rule's AssistedLimit

	Demolished bool `json:"demolished"` // some of it is demolished, so it is not minor repair at any area
	Window     bool `json:"window"`     // a window is replaced, so it is not minor repair at any area
	Forbidden  bool `json:"forbidden"`  // some of it is removed by a practice that the rule forbids, so it is not minor repair at any area
}

// Occupancy is the use of a building, which determines whether the federal
// renovation rule covers it (40 CFR 745.82, 745.83 and 745.103, from memory).
type Occupancy uint8

const (
	// OccupancyUnknown counts as covered.
	OccupancyUnknown Occupancy = iota

	// OccupancyHousing is target housing: any housing from before 1978, except
	// housing for the elderly or people with disabilities and homes without a
	// bedroom, unless a child under six lives or is expected to live there.
	OccupancyHousing

	// OccupancyChildren is a child-occupied facility: a building, or a part of one,
	// from before 1978 that the same child under six visits on at least two days of
	// a week, for at least three hours a visit, six a week and sixty a year.
	// Schools and day care are usual cases.
	OccupancyChildren

	// OccupancyOther is neither. The rule does not cover it; the protection of
	// workers does.
	OccupancyOther
)

var occupancyNames = [...]string{"unknown", "target housing", "child-occupied facility", "other"}

// String returns the occupancy in words, such as "target housing".
func (o Occupancy) String() string { return kind.Text("Occupancy", occupancyNames[:], o) }

// MarshalText writes the occupancy in words, such as "child-occupied facility".
func (o Occupancy) MarshalText() ([]byte, error) {
	return kind.Marshal("Occupancy", "an occupancy", occupancyNames[:], o)
}

// UnmarshalText reads "unknown", "target housing", "child-occupied facility" or
// "other".
func (o *Occupancy) UnmarshalText(b []byte) error {
	return kind.Unmarshal("an occupancy", occupancyNames[:], b, o)
}

// Building holds the facts about a building that the lead rule depends on.
type Building struct {
	Year      int       `json:"year,omitempty"`      // of completion; 0 is unknown and counts as before 1978
	Occupancy Occupancy `json:"occupancy,omitempty"` // use of the building; zero is unknown and counts as covered
	Assisted  bool      `json:"assisted,omitempty"`  // housing with federal assistance

	// Unpaid is set if nobody is paid for the work, as when owners work in their own
	// home. The rule covers only work for pay, and rent counts as pay: a landlord's work
	// is covered (40 CFR 745.82 and 745.83, from memory).
	Unpaid bool `json:"unpaid,omitempty"`
}

// Rooms returns the painted surface of removed trim, room by room in the order of first
// mention: the most within any Days of the rule. A removed part counts with its whole
// painted surface (EPA frequent questions 23002-18379); one that was tested free of lead
// does not count. Rooms considers only the extent of the paint: the law and a test of the
// paint decide whether the rule applies, and [LeadRule.Gate] checks its other conditions.
func (r LeadRule) Rooms(removed []RemovedTrim) ([]LeadRoom, error) {
	if err := r.check(); err != nil {
		return nil, fault.Under("rule", err)
	}
	var rooms []LeadRoom
	var parts [][]RemovedTrim // the parts of each room that count
	at := make(map[string]int)
	for i, part := range removed {
		if err := part.check(); err != nil {
			return nil, fault.Under("removed["+strconv.Itoa(i)+"]", err)
		}
		k, ok := at[part.Room]
		if !ok {
			k = len(rooms)
			at[part.Room] = k
			rooms = append(rooms, LeadRoom{Room: part.Room})
			parts = append(parts, nil)
		}
		if part.Test == LeadFree {
			continue
		}
		parts[k] = append(parts[k], part)
		rooms[k].Demolished = rooms[k].Demolished || part.Demolished
		rooms[k].Window = rooms[k].Window || part.Window
		rooms[k].Forbidden = rooms[k].Forbidden || part.Practice.Forbidden()
	}
	for k := range rooms {
		slices.SortStableFunc(parts[k], func(a, b RemovedTrim) int { return cmp.Compare(a.Day, b.Day) })
		areas := make([]measure.Area, len(parts[k]))
		sum := int64(0)
		for i, part := range parts[k] {
			a, err := surface(part.Length, part.Girth, part.Area)
			fits := err == nil
			if fits {
				sum, fits = natural.Add(sum, int64(a))
			}
			if !fits {
				return nil, tooLarge("the surface removed from " + rooms[k].Room)
			}
			areas[i] = a
		}
		rooms[k].Removed = within(parts[k], areas, r.Days)
		rooms[k].Over = rooms[k].Removed > r.RoomLimit
		rooms[k].OverAssisted = rooms[k].Removed > r.AssistedLimit
	}
	return rooms, nil
}

func (p RemovedTrim) check() error {
	switch {
	case p.Room == "":
		return fault.Field("room", p.Room, "a name")
	case p.Length < 0:
		return fault.Field("length", AmountOf(p.Length), "zero or more")
	case p.Girth < 0:
		return fault.Field("girth", AmountOf(p.Girth), "zero or more")
	case p.Area < 0:
		return fault.Field("area", AmountOf(p.Area), "zero or more")
	case int(p.Practice) >= len(practiceNames):
		return fault.Field("practice", uint8(p.Practice), "a known practice")
	case int(p.Test) >= len(leadTestNames):
		return fault.Field("test", uint8(p.Test), "a known result")
	}
	return nil
}

// laterLead is the caution for buildings too new for the renovation rule.
func (r LeadRule) laterLead() Caution {
	return Caution{
		Topic:   HazardLeadPaint,
		Trigger: "painted trim in a building from " + strconv.Itoa(r.Before) + " or later",
		Text:    "The federal renovation rule does not cover the building, but the protection of workers applies: if paint may contain lead all the same, as on parts saved from older buildings, have it tested and protect the workers from the first cut.",
		Source:  "29 CFR 1926.62; 40 CFR 745.82",
	}
}

// Cautions returns the cautions for trim removed from the building: the general ones and,
// if the federal rule covers the building, one for each room whose work is more than minor
// repair. That is an area over the limit, which is smaller for housing with federal
// assistance, or demolition, a replaced window or a forbidden practice at any area. The
// protection of workers applies at any area and in any building; for buildings completed in
// the year Before or later, only it applies. If nothing is removed, there are no cautions.
// A negative year, an unknown occupancy and assistance for a building that cannot have it
// are a [*measure.FieldError]. Areas are written in the units of the country, with limits
// rounded down if necessary.
func (r LeadRule) Cautions(b Building, removed []RemovedTrim, c measure.Locale) ([]Caution, error) {
	gate, err := r.Gate(b, removed)
	if err != nil {
		return nil, err
	}
	out := r.general(c)
	if worst := worstPractice(removed); worst >= PracticeUnshrouded {
		out = append(out, Caution{HazardLeadPaint, "painted trim is worked on by: " + worst.String(),
			"Until the air has been measured, workers are taken to breathe lead " + worst.exposure() + ", which calls for more than the usual half mask. Choose another practice.",
			"29 CFR 1926.62(d)(2)"})
	}
	switch gate.Verdict {
	case VerdictNothing:
		return nil, nil
	case VerdictLater:
		return []Caution{r.laterLead()}, nil
	case VerdictTestedFree:
		return []Caution{testedFree()}, nil
	case VerdictOtherUse:
		return append(out, Caution{
			Topic:   HazardLeadPaint,
			Trigger: "a building that is neither target housing nor a child-occupied facility",
			Text:    "The federal renovation rule does not cover it as long as no child under six is there regularly. The limits for workers apply; check what your state adds.",
			Source:  "40 CFR 745.82 and 745.83",
		}), nil
	case VerdictUnpaid:
		return append(out, Caution{
			Topic:   HazardLeadPaint,
			Trigger: "unpaid work",
			Text:    "The federal renovation rule covers work for pay; rent counts as pay, so a landlord's work is covered. The dust is as dangerous to those who live there: follow the rule all the same, and check what your state adds.",
			Source:  "40 CFR 745.82 and 745.83",
		}), nil
	}
	for _, room := range gate.Rooms {
		out = append(out, r.roomCautions(room, b.Assisted, c)...)
	}
	return out, nil
}

// worstPractice returns the practice among the parts that releases the most lead into
// the air.
func worstPractice(removed []RemovedTrim) Practice {
	worst := PracticeHand
	for _, part := range removed {
		worst = max(worst, part.Practice)
	}
	return worst
}

// roomCautions returns the reasons why the work in a room is more than minor repair.
func (r LeadRule) roomCautions(room LeadRoom, assisted bool, c measure.Locale) []Caution {
	const hire = "Have the paint tested by a person certified for it, or hire a certified renovator and follow lead-safe practice; "
	limit, text, source := r.RoomLimit, "Over the limit of the renovation rule. "+hire+"check what your state adds.", r.Source
	if assisted && r.AssistedLimit < r.RoomLimit {
		limit, text, source = r.AssistedLimit, "Over the limit for housing with federal assistance. "+hire+"ask the agency that assists, and check what your state adds.", r.AssistedSource
	}
	const never = "Never minor repair, at any area. " + hire + "check what your state adds."
	var out []Caution
	if room.Removed > limit {
		out = append(out, Caution{HazardLeadPaint, room.Room + ": " + c.FormatArea(room.Removed) + " of painted trim removed, the limit is " + limitIn(c, limit), text, source})
	}
	if room.Demolished {
		out = append(out, Caution{HazardLeadPaint, room.Room + ": painted trim is demolished", never, r.Source})
	}
	if room.Window {
		out = append(out, Caution{HazardLeadPaint, room.Room + ": a window is replaced", never, r.Source})
	}
	if room.Forbidden {
		out = append(out, Caution{HazardLeadPaint, room.Room + ": painted trim is worked on by a forbidden practice",
			"The renovation rule forbids open flames, heat guns at " + heatLimit(c) + " or more, and power tools without a shroud and a HEPA vacuum on painted surfaces; work by them is never minor repair. Choose another way; states may be stricter.", "40 CFR 745.85(a)(3); " + r.Source})
	}
	return out
}

// testedFree is the caution for paint that was found free of lead.
func testedFree() Caution {
	return Caution{
		Topic:   HazardLeadPaint,
		Trigger: "painted trim that was tested free of lead",
		Text:    "The federal renovation rule does not cover parts that a certified person found free of lead; keep the report. Its limits for paint say nothing about the air: if a test found any lead at all, the protection of workers applies from the first cut. States may be stricter.",
		Source:  "40 CFR 745.82(a); 29 CFR 1926.62",
	}
}
