package paper

import (
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// Proposal is what a client is offered and asked to sign. Every field may be left out; a
// section without content is not written. Amounts are in minor units, such as cents.
//
// Texts are single lines in UTF-8; what takes several lines is a list of them.
type Proposal struct {
	Title  string        `json:"title,omitempty"`  // what heads it; empty stands for "Proposal"
	Number string        `json:"number,omitempty"` // by which both sides call it
	Date   schedule.Date `json:"date,omitzero"`    // on which it was made
	Until  schedule.Date `json:"until,omitzero"`   // the last day on which it can be accepted; not before Date

	Contractor Party    `json:"contractor,omitzero"` // who does the work
	Client     Party    `json:"client,omitzero"`     // who pays for it
	Site       []string `json:"site,omitempty"`      // where it is done, in lines

	Scope    []Scope  `json:"scope,omitempty"`    // what is done, room by room
	Included []string `json:"included,omitempty"` // besides what Scope says
	Excluded []string `json:"excluded,omitempty"` // what somebody might expect and does not get

	Allowances []Allowance `json:"allowances,omitempty"` // parts of Price; together at most Price
	Alternates []Alternate `json:"alternates,omitempty"` // what the client may choose

	Price    int64       `json:"price"`              // of everything in Scope and Included, before Taxes; >= 0
	Parts    []PricePart `json:"parts,omitempty"`    // of Price, which they add up to; none for a lump sum
	Taxes    []Tax       `json:"taxes,omitempty"`    // on top of Price; none where the law wants no line
	Payments []Payment   `json:"payments,omitempty"` // they add up to Price and Taxes; none: all is due when the work is done

	ChangeRule string `json:"change_rule,omitempty"` // how the work may be changed; empty stands for the usual rule

	Start schedule.Date `json:"start,omitzero"` // when work is expected to begin; no promise
	Done  schedule.Date `json:"done,omitzero"`  // and to be complete; not before Start

	Lead     []Caution `json:"lead,omitempty"`     // the notice on lead paint; none: one usual sentence
	Cautions []Caution `json:"cautions,omitempty"` // for people in the building; none: the usual ones
	Notes    []string  `json:"notes,omitempty"`    // whatever else is agreed, a paragraph each

	Locale measure.Locale `json:"locale,omitzero"` // how amounts and lengths are written
	Dates  DateStyle      `json:"dates,omitempty"` // how dates are written
}

// Party is one side of a proposal.
type Party struct {
	Name  string   `json:"name,omitempty"`
	Lines []string `json:"lines,omitempty"` // address, telephone, license: what the law or the habit wants
}

// Scope is what is done in a room.
type Scope struct {
	Room  string `json:"room"`
	Items []Item `json:"items,omitempty"`
}

// Item is one thing that is done in a room.
type Item struct {
	What   string         `json:"what"`             // such as base, 1x6 poplar
	Length measure.Length `json:"length,omitempty"` // in the room; 0 = not told. With a graduation of Locale.Length of a foot it is "about 118'"
	Grade  string         `json:"grade,omitempty"`  // such as paint grade
	Finish string         `json:"finish,omitempty"` // such as primer and two coats, satin
	Work   []string       `json:"work,omitempty"`   // what is done, step by step
}

// Allowance is a part of the price for something that is chosen later. When it is chosen,
// the price changes by the difference.
type Allowance struct {
	What   string `json:"what"`
	Amount int64  `json:"amount"` // >= 0
}

// Alternate is a choice that changes the price.
type Alternate struct {
	What   string `json:"what"`
	Change int64  `json:"change"` // of Price: more than zero adds, less deducts, at most all of it
}

// PricePart is a part of the price that stands by itself, as in a separated contract, which
// states material and labor apart so that tax is due on one of them (Texas, 34 TAC 3.291).
type PricePart struct {
	What   string `json:"what"`
	Amount int64  `json:"amount"` // >= 0
}

// Tax is a tax that the client pays on top of the price.
type Tax struct {
	What   string `json:"what"`   // such as sales tax on material, 8.25%
	Amount int64  `json:"amount"` // >= 0
}

// Payment is a part of what is due.
type Payment struct {
	When   string        `json:"when"`         // such as when the base is on the walls
	Due    schedule.Date `json:"due,omitzero"` // by this day, where one is agreed; not before Date
	Amount int64         `json:"amount"`       // >= 0
}

// Caution is one thing to know before something is done that may hurt.
type Caution struct {
	About  string `json:"about,omitempty"`  // such as dust
	Text   string `json:"text"`             // what to do about it
	Source string `json:"source,omitempty"` // publication or rule
}
