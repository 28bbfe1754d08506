package paper

import (
	"time"

	"example.com/longpoint/finish/schedule"
)

// DaySheets holds the work of a job for crews to take along: a sheet for each day and
// crew, each on a separate page.
type DaySheets struct {
	Title string     `json:"title,omitempty"` // of the job; empty means "Day sheets"
	Site  []string   `json:"site,omitempty"`  // its address, in lines
	Days  []DaySheet `json:"days,omitempty"`  // in the order in which they are written

	Minutes bool      `json:"minutes,omitempty"` // times of steps to the minute; else mornings and afternoons
	Dates   DateStyle `json:"dates,omitempty"`   // how dates are written
}

// DaySheet is the work of one crew on one day.
type DaySheet struct {
	Date   schedule.Date `json:"date"`             // required
	Crew   string        `json:"crew,omitempty"`   // its name
	People int64         `json:"people,omitempty"` // in the crew; 0 = not stated

	Cautions []Caution `json:"cautions,omitempty"` // for the whole day; they precede everything else
	Bring    Load      `json:"bring,omitzero"`     // things to take along
	Rooms    []Work    `json:"rooms,omitempty"`    // in the order of the day; a room may occur again
	Drying   []Drying  `json:"drying,omitempty"`   // things not to touch when the crew leaves, or earlier
	Notes    []string  `json:"notes,omitempty"`    // a line each
}

// Load lists the things that the crew brings along, one per line, such as "3 sticks of
// 12', base".
type Load struct {
	Sticks   []string `json:"sticks,omitempty"`   // of trim
	Packages []string `json:"packages,omitempty"` // paint, glue, nails and other consumables
	Tools    []string `json:"tools,omitempty"`    // besides the usual ones
}

// Work is uninterrupted work in a room.
type Work struct {
	Room  string `json:"room"`            // its name; required
	Steps []Step `json:"steps,omitempty"` // in the order of work
}

// Step is one thing to do.
type Step struct {
	Name string `json:"name"` // the work, such as caulk; required

	// From and To are the start and the end of the step, on the day of the sheet; To
	// may be the midnight at its end. They are written in their own locations. If both
	// are zero, the times are not stated.
	From time.Time `json:"from,omitzero"`
	To   time.Time `json:"to,omitzero"`

	Cautions []Caution `json:"cautions,omitempty"` // they precede the step
	Do       []string  `json:"do,omitempty"`       // what to do, each with a box to tick
	Notes    []string  `json:"notes,omitempty"`    // a line each
}

// Drying is something that must not be touched.
type Drying struct {
	Room  string    `json:"room,omitempty"` // where it is
	Label string    `json:"label"`          // such as varnish on the peg rail; required
	Until time.Time `json:"until"`          // written rounded up to the quarter of an hour
}
