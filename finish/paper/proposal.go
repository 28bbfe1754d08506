package paper

import (
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// Proposal is an offer for the client to sign. Every field is optional; a section
// without content is not written. Amounts are in minor units, such as cents.
//
// Texts are single lines in UTF-8; a text of several lines is a list of them.
type Proposal struct {
	Title  string        `json:"title,omitempty"`  // its heading; empty means "Proposal"
	Number string        `json:"number,omitempty"` // number used by both sides
	Date   schedule.Date `json:"date,omitzero"`    // on which it was made
	Until  schedule.Date `json:"until,omitzero"`   // last day of acceptance; not before Date

	Contractor Party    `json:"contractor,omitzero"` // who does the work
	Client     Party    `json:"client,omitzero"`     // who pays for it
	Site       []string `json:"site,omitempty"`      // where it is done, in lines

	Scope    []Scope  `json:"scope,omitempty"`    // the work, room by room
	Included []string `json:"included,omitempty"` // in addition to Scope
	Excluded []string `json:"excluded,omitempty"` // work that the client might expect but does not get

	Allowances []Allowance `json:"allowances,omitempty"` // parts of Price; in total at most Price
	Alternates []Alternate `json:"alternates,omitempty"` // options of the client

	Price    int64       `json:"price"`              // of everything in Scope and Included, before Taxes; >= 0
	Parts    []PricePart `json:"parts,omitempty"`    // parts that sum to Price; none for a lump sum
	Taxes    []Tax       `json:"taxes,omitempty"`    // on top of Price; none if the law requires no separate line
	Payments []Payment   `json:"payments,omitempty"` // they sum to Price and Taxes; none: all is due on completion

	ChangeRule string `json:"change_rule,omitempty"` // how the work may be changed; empty means the usual rule

	Start schedule.Date `json:"start,omitzero"` // expected start of work; not a promise
	Done  schedule.Date `json:"done,omitzero"`  // expected completion; not before Start

	Lead     []Caution `json:"lead,omitempty"`     // the notice on lead paint; none: one usual sentence
	Cautions []Caution `json:"cautions,omitempty"` // for people in the building; none: the usual ones
	Notes    []string  `json:"notes,omitempty"`    // other agreements, a paragraph each

	Locale measure.Locale `json:"locale,omitzero"` // how amounts and lengths are written
	Dates  DateStyle      `json:"dates,omitempty"` // how dates are written
}

// Party is one side of a proposal.
type Party struct {
	Name  string   `json:"name,omitempty"`
	Lines []string `json:"lines,omitempty"` // address, telephone, license, as required by law or custom
}

// Scope is the work in a room.
type Scope struct {
	Room  string `json:"room"`            // its name; required
	Items []Item `json:"items,omitempty"` // in the order in which they are written
}

// Item is one item of work in a room.
type Item struct {
	Label  string         `json:"label"`            // such as base, 1x6 poplar; required
	Length measure.Length `json:"length,omitempty"` // in the room; 0 = not stated. With a graduation of Locale.Length of a foot it is "about 118'"
	Grade  string         `json:"grade,omitempty"`  // such as paint grade
	Finish string         `json:"finish,omitempty"` // such as primer and two coats, satin
	Work   []string       `json:"work,omitempty"`   // the work, step by step
}

// Allowance is a part of the price for something that is chosen later. When it is chosen,
// the price changes by the difference.
type Allowance struct {
	Label  string `json:"label"`  // such as hooks; required
	Amount int64  `json:"amount"` // >= 0
}

// Alternate is a choice that changes the price.
type Alternate struct {
	Label  string `json:"label"`  // such as oak, varnished; required
	Change int64  `json:"change"` // change of Price: positive adds, negative deducts, at most all of it
}

// PricePart is a separately stated part of the price, as in a separated contract, which
// states material and labor separately so that tax is due on only one of them (Texas, 34
// TAC 3.291).
type PricePart struct {
	Label  string `json:"label"`  // such as material; required
	Amount int64  `json:"amount"` // >= 0
}

// Tax is a tax that the client pays on top of the price.
type Tax struct {
	Label  string `json:"label"`  // such as sales tax on material, 8.25%; required
	Amount int64  `json:"amount"` // >= 0
}

// Payment is a part of the amount due.
type Payment struct {
	Label  string        `json:"label"`        // when it is due, such as when the base is on the walls; required
	Due    schedule.Date `json:"due,omitzero"` // due date, if one is agreed; not before Date
	Amount int64         `json:"amount"`       // >= 0
}

// Caution is one caution to read before hazardous work.
type Caution struct {
	About  string `json:"about,omitempty"`  // such as dust
	Text   string `json:"text"`             // what to do about it
	Source string `json:"source,omitempty"` // publication or rule
}
