package paper

import (
	"time"

	"example.com/longpoint/finish/schedule"
)

// DaySheets is the work of a job as a crew takes it along: a sheet for each day and crew,
// each on a page of its own.
type DaySheets struct {
	Title string     `json:"title,omitempty"` // of the job; empty stands for "Day sheets"
	Site  []string   `json:"site,omitempty"`  // where it is, in lines
	Days  []DaySheet `json:"days,omitempty"`

	Minutes bool      `json:"minutes,omitempty"` // steps have their times to the minute; else mornings and afternoons
	Dates   DateStyle `json:"dates,omitempty"`   // how dates are written
}

// DaySheet is what one crew does on one day.
type DaySheet struct {
	Date   schedule.Date `json:"date"`
	Crew   string        `json:"crew,omitempty"`
	People int64         `json:"people,omitempty"` // in the crew; 0 = not told

	Cautions []Caution `json:"cautions,omitempty"` // for the whole day; they stand before everything else
	Bring    Load      `json:"bring,omitzero"`
	Rooms    []Work    `json:"rooms,omitempty"`  // in the order of the day; a room may come again
	Drying   []Drying  `json:"drying,omitempty"` // what is not to be touched when the crew leaves, or before
	Notes    []string  `json:"notes,omitempty"`
}

// Load is what the crew brings along, a line each, such as "3 sticks of 12', base".
type Load struct {
	Sticks   []string `json:"sticks,omitempty"`
	Packages []string `json:"packages,omitempty"` // paint, glue, nails and what else is used up
	Tools    []string `json:"tools,omitempty"`
}

// Work is what is done in a room, at a stretch.
type Work struct {
	Room  string `json:"room"`
	Steps []Step `json:"steps,omitempty"`
}

// Step is one thing to do.
type Step struct {
	Name string `json:"name"`

	// From and To are when it is done, on the day of the sheet; To may be the midnight
	// at its end. Their locations say what the clocks show. Both zero: not told.
	From time.Time `json:"from,omitzero"`
	To   time.Time `json:"to,omitzero"`

	Cautions []Caution `json:"cautions,omitempty"` // they stand before the step
	Do       []string  `json:"do,omitempty"`       // what to do, each with a box to tick
	Notes    []string  `json:"notes,omitempty"`
}

// Drying is something that must be left alone.
type Drying struct {
	Room  string    `json:"room,omitempty"`
	What  string    `json:"what"`
	Until time.Time `json:"until"` // written to the quarter of an hour, up
}
