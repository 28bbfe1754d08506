package estimate

import (
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

// A Job is the input of an estimate: the measurements, the trim, the available sticks and their
// prices, the finishing, the crews and the terms. Rooms, Trim and Materials are required; all
// other fields have defaults. It is plain data: no function of this package changes it.
type Job struct {
	Name string `json:"name,omitempty"` // any text

	Rooms      []takeoff.Room     `json:"rooms"`
	Trim       takeoff.Scheme     `json:"trim"` // a profile with only a Name, and perhaps a Role, is that of the Material
	Habits     takeoff.Options    `json:"habits,omitzero"`
	Conditions takeoff.Conditions `json:"conditions,omitzero"` // surroundings of the trim, for findings

	Materials []Material     `json:"materials"`           // for every profile that the rooms need
	Suppliers []Supplier     `json:"suppliers,omitempty"` // suppliers of which more is known than prices
	Kerf      measure.Length `json:"kerf,omitzero"`       // of the saw; zero or more
	Rules     optimize.Rules `json:"rules,omitzero"`      // for every plan; Groups, Charges and Spare follow from other fields and stay empty
	Rack      stock.Rack     `json:"rack,omitzero"`       // offcuts on hand

	Systems []finish.System `json:"systems,omitempty"` // finishing systems, by label
	Shelf   finish.Shelf    `json:"shelf,omitzero"`    // finishing products

	Building finish.Building `json:"building,omitzero"` // for the rule on old paint

	// TearOut is the removal of old trim; nil for none. Its Rack is left empty, its Building
	// and Locale too, or they equal those of the job, which apply.
	TearOut  *tearout.Job `json:"tear_out,omitempty"`
	Disposal Disposal     `json:"disposal,omitzero"` // of the debris

	Rates *labor.Rates  `json:"rates,omitempty"` // of labor; nil is labor.DefaultRates
	Labor labor.Options `json:"labor,omitzero"`  // further conditions of labor: old plaster, hardwood. Its Profiles are left empty

	Calendar *schedule.Calendar `json:"calendar,omitempty"` // working time and crews; nil for no schedule
	Sequence sequence.Options   `json:"sequence,omitzero"`  // choices in the order of work; hours that they add, such as those of the punch list, are paid
	Others   []sequence.Other   `json:"others,omitempty"`   // other work, such as by other firms; its cost is one of Costs
	OrderOn  schedule.Date      `json:"order_on,omitzero"`  // day on which the trim is ordered; zero is the start of the calendar

	Costs []Cost `json:"costs,omitempty"` // further costs: equipment, other firms, allowances
	Terms Terms  `json:"terms,omitzero"`

	Payments   PaymentTerms `json:"payments,omitzero"`     // when the client pays; its Locale is left empty
	SecondTrip *SecondTrip  `json:"second_trip,omitempty"` // to fetch a missing stick, for comparison with spares; nil for no comparison

	// Variants are other ways to do the same job, such as base of stone instead of painted
	// wood. Each is estimated as a whole, and compared with the job.
	Variants []Variant `json:"variants,omitempty"`

	// Locale is the format of all output. The locales inside Habits, Conditions, Shelf,
	// TearOut, Terms and Payments are left empty, or are the same.
	Locale measure.Locale `json:"locale,omitzero"`
}

// A Material is a profile of trim, its available sticks, and its finishing.
type Material struct {
	// Profile is the trim. If it has no Lengths they are those of the Sticks. If Sticks have no
	// TrimStart and TrimEnd they are its EndTrim; if they have no Nominal, they may be shorter
	// by its MillShort, and that length is used.
	Profile stock.Profile `json:"profile"`
	Sticks  []stock.Stick `json:"sticks"` // with prices; free ones are on the rack. At least one

	// System is the label of the one of Job.Systems that finishes it. Empty means TileBase for
	// stone and tile, PaintedCasing for casing, and PaintedTrim for all others.
	System    string          `json:"system,omitempty"`
	Preprimed bool            `json:"preprimed,omitempty"` // sold with its first coat
	Hazards   []finish.Hazard `json:"hazards,omitempty"`   // of working the material

	Spare Spare  `json:"spare,omitzero"`  // whole sticks in addition to those that are cut
	Costs []Cost `json:"costs,omitempty"` // further costs, such as a blade; Profile is left empty
}

// A Spare is the number of whole sticks of a profile to buy in addition to those that are cut,
// so that a spoiled or wrongly measured piece does not stop the job. If several fields are set,
// the greatest number applies. The zero Spare is none.
type Spare struct {
	Sticks int           `json:"sticks,omitempty"` // minimum number; >= 0
	Share  measure.Ratio `json:"share,omitempty"`  // of the sticks that are cut, rounded up; 0-100 %

	// Longest requires one stick from which the longest piece can be cut once more, the usual
	// spare of the trade (common practice, no source).
	Longest bool `json:"longest,omitempty"`
}

// A Supplier is a seller of sticks, by the name in stock.Stick.Supplier.
type Supplier struct {
	Name     string `json:"name"`                // unique
	Delivery int64  `json:"delivery,omitempty"`  // in cents per order, whatever is bought; >= 0
	MinOrder int64  `json:"min_order,omitempty"` // in cents of sticks; a smaller order's shortfall is its Short; >= 0
	LeadDays int64  `json:"lead_days,omitempty"` // days of the calendar from order to delivery; 0 to 3650
}

// A Variant is another way to do a job.
type Variant struct {
	Label string `json:"label"` // required and unique
	Swap  []Swap `json:"swap"`  // at least one
}

// A Swap replaces one profile by another throughout Job.Trim.
type Swap struct {
	From string `json:"from"` // name of a profile of Job.Trim
	To   string `json:"to"`   // name of the profile of one of Job.Materials
}

// Disposal is the price of the disposal of debris. With two prices, the lower total applies;
// without any, disposal is one of Job.Costs, or free.
type Disposal struct {
	Bag int64 `json:"bag,omitempty"` // per bag, in cents; >= 0
	Box int64 `json:"box,omitempty"` // per box as in tearout.Disposal, in cents; >= 0
}
