package estimate

import (
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// A Job is what is known of a job before it is priced: what was measured, what is run
// there, what can be had and at what price, how it is finished, by whom and under which
// terms. Rooms, Trim and Materials must be set; all else has a usual meaning. It is plain
// data: no function of this package changes it.
type Job struct {
	Name string `json:"name,omitempty"` // any text

	Rooms      []takeoff.Room     `json:"rooms"`
	Trim       takeoff.Scheme     `json:"trim"` // a profile of which only the Name, and perhaps the Role, is given is that of the Material
	Habits     takeoff.Options    `json:"habits,omitzero"`
	Conditions takeoff.Conditions `json:"conditions,omitzero"` // what the trim goes through, for findings

	Materials []Material     `json:"materials"`           // of every profile that the rooms need
	Suppliers []Supplier     `json:"suppliers,omitempty"` // of which more is known than prices
	Kerf      measure.Length `json:"kerf,omitzero"`       // of the saw; zero or more
	Rules     optimize.Rules `json:"rules,omitzero"`      // of every plan; Groups, Charges and Spare follow from the rest and stay empty
	Rack      stock.Rack     `json:"rack,omitzero"`       // offcuts that are owned

	Systems []finish.System `json:"systems,omitempty"` // how trim is finished, by label
	Shelf   finish.Shelf    `json:"shelf,omitzero"`    // products that finish it

	Building finish.Building `json:"building,omitzero"` // what the rule on old paint asks of it

	// TearOut is what comes off first; nil for nothing. Its Rack is left empty, its Building and
	// Locale too, or they say the same: those of the job count.
	TearOut  *tearout.Job `json:"tear_out,omitempty"`
	Disposal Disposal     `json:"disposal,omitzero"` // of what comes off

	Rates *labor.Rates  `json:"rates,omitempty"` // of labor; nil is labor.DefaultRates
	Labor labor.Options `json:"labor,omitzero"`  // what labor depends on besides: old plaster, hardwood. Its Profiles are left empty

	Calendar *schedule.Calendar `json:"calendar,omitempty"` // when and by whom; nil if nobody asks when it is done
	Sequence sequence.Options   `json:"sequence,omitzero"`  // choices in the order of work; hours that they add, such as of the punch list, are paid
	Others   []sequence.Other   `json:"others,omitempty"`   // what is done besides, such as by other firms; what it costs is one of Costs
	OrderOn  time.Time          `json:"order_on,omitzero"`  // when trim is ordered; zero is at the start of the calendar

	Costs []Cost `json:"costs,omitempty"` // what the job costs besides: equipment, other firms, allowances
	Terms Terms  `json:"terms,omitzero"`

	Payments PaymentTerms `json:"payments,omitzero"`     // when the client pays; its Locale is left empty
	Trip     *SecondTrip  `json:"second_trip,omitempty"` // to fetch a stick that is missing, for comparison with spares; nil if nobody asks

	// Variants are other ways to do the same job, such as base of stone instead of painted
	// wood. Each is worked out as a whole, and compared with the job.
	Variants []Variant `json:"variants,omitempty"`

	// Locale is how all of it is written. Those inside Habits, Conditions, Shelf, TearOut, Terms
	// and Payments are left empty, or say the same.
	Locale measure.Locale `json:"locale,omitzero"`
}

// A Material is a profile of trim, the sticks of it that can be had, and what becomes of it
// on the wall.
type Material struct {
	// Profile is the trim. Where it names no Lengths they are those of the Sticks. Where Sticks
	// give no TrimStart and TrimEnd they are its EndTrim, and where they give no Nominal they may come
	// shorter by its MillShort, and are counted so.
	Profile stock.Profile `json:"profile"`
	Sticks  []stock.Stick `json:"sticks"` // with prices; what is free lies on the rack. One at least

	// System is the label of the one of Job.Systems that finishes it. Empty is TileBase for
	// stone and tile, PaintedCasing for casing, and PaintedTrim for all else.
	System    string          `json:"system,omitempty"`
	Preprimed bool            `json:"preprimed,omitempty"` // it comes with its first coat
	Hazards   []finish.Hazard `json:"hazards,omitempty"`   // of working it

	Spare Spare  `json:"spare,omitzero"`  // whole sticks to have beyond those that are cut
	Costs []Cost `json:"costs,omitempty"` // what it costs besides, such as a blade; Profile is left empty
}

// A Spare says how many whole sticks of a profile are bought beyond those that are cut, so
// that what is spoiled or was measured wrong does not stop the job. What is asked for twice
// counts once: the greatest number holds. The zero Spare is none.
type Spare struct {
	Sticks int           `json:"sticks,omitempty"` // at least so many; >= 0
	Share  measure.Ratio `json:"share,omitempty"`  // of the sticks that are cut, rounded up; 0-100 %

	// Longest asks for one stick of which the longest piece can be cut once more, the usual
	// spare of the trade (common practice, no source).
	Longest bool `json:"longest,omitempty"`
}

// A Supplier is somebody who sells sticks, by the name in stock.Stick.Supplier.
type Supplier struct {
	Name     string `json:"name"`                // each once
	Delivery int64  `json:"delivery,omitempty"`  // in cents for an order, once, whatever is bought; >= 0
	MinOrder int64  `json:"min_order,omitempty"` // in cents of sticks, below which there is a [finding]; >= 0
	LeadDays int64  `json:"lead_days,omitempty"` // days of the calendar from order to delivery; 0 to 3650
}

// A Variant is another way to do a job.
type Variant struct {
	Label string `json:"label"` // not empty, each once
	Swap  []Swap `json:"swap"`  // one at least
}

// A Swap puts one profile in the place of another wherever Job.Trim has it.
type Swap struct {
	From string `json:"from"` // name of a profile of Job.Trim
	To   string `json:"to"`   // name of the profile of one of Job.Materials
}

// Disposal is what it costs to get rid of debris. Of two prices the one that comes to less counts;
// without any, disposal is one of Job.Costs, or free.
type Disposal struct {
	Bag int64 `json:"bag,omitempty"` // of a bag, in cents; >= 0
	Box int64 `json:"box,omitempty"` // of a box as in tearout.Disposal, in cents; >= 0
}
