package stock

import (
	"example.com/longpoint/internal/explicit"
	"example.com/longpoint/measure"
)

// Stick is one length that can be had: from a supplier or from the rack.
type Stick struct {
	// ID is that of the Offcut on the rack that the stick is; empty for one that has none
	// and for what a supplier has.
	ID string `json:"id,omitempty"`

	Label  string         `json:"label,omitempty"` // what a person calls it: any text, others may have the same
	Length measure.Length `json:"length"`          // as delivered, end to end

	// Price is per stick, in the currency's minor unit (cents); where others on a list have
	// one, only what is Rack may have none.
	Price int64 `json:"price,omitempty"`

	// Limit is how many can be had: zero sets no limit, [SoldOut] says that there are none.
	// In JSON that is "sold out", and a zero is an error.
	Limit int `json:"limit,omitempty" zero:"\"sold out\", or nothing for no limit" minus:"sold out"`

	// TrimStart and TrimEnd cannot be used: ends that are checked, bruised or
	// out of square. Each counts the kerf of the cut that removes it.
	TrimStart measure.Length `json:"trim_start,omitzero"`
	TrimEnd   measure.Length `json:"trim_end,omitzero"`

	// Profile names the Profile that the stick is milled to; empty where there
	// is only one.
	Profile string `json:"profile,omitempty"`

	// Material names the Material that the stick is made of; empty where there is only
	// one. It matters to the rack alone.
	Material string `json:"material,omitempty"`

	// Nominal is what the stick is sold as where that differs from Length: a
	// mill may deliver a "16-foot" stick up to 6 in short (mill ordering
	// rules for specified lengths). Zero means the same as Length.
	Nominal measure.Length `json:"nominal,omitzero" zero:"what the stick is sold as, or nothing for its length"`

	// Rack is set for an offcut that is already owned.
	Rack bool `json:"rack,omitempty"`

	// Grade is how good the stick looks, higher is better. A piece takes sticks of
	// its own Grade and better ones.
	Grade int `json:"grade,omitempty"`

	// Lot names the mill run, dye lot or flitch that the stick comes from; sticks
	// of one lot match in color and grain. Empty is a lot like any other.
	Lot string `json:"lot,omitempty"`

	// Defects are the stretches that cannot be used, such as knots, splits and nail
	// holes, in any order, measured from the stick's start; they lie within its
	// Length. No piece may reach into one. A stick with defects needs a Limit. Give
	// a defect at least the width of a cut where both sides of it are to be used: the
	// cut is taken to lie in it.
	Defects []Defect `json:"defects,omitempty"`

	// Supplier names who sells the stick where a charge depends on it; empty where
	// none does.
	Supplier string `json:"supplier,omitempty"`

	// Bundle is how many sticks are sold together: the number bought is a multiple of
	// it. Zero means one. Minimum is the least number that is sold, if any is. What is
	// bought and not cut is left whole. In JSON a zero is an error.
	Bundle  int `json:"bundle,omitempty" zero:"1 or more, or nothing for 1"`
	Minimum int `json:"minimum,omitempty" zero:"1 or more, or nothing for 1"`

	// Breaks are the prices for greater numbers, ascending in From: who buys at least
	// From sticks pays that Price for every one of them.
	Breaks []PriceBreak `json:"breaks,omitempty"`
}

// SoldOut is the Limit of a stick of which none can be had. It may stay on the list.
const SoldOut = -1

// UnmarshalJSON reads an object by the names of the fields. A zero that would stand for
// something else is a *measure.FieldError: see Limit, Nominal, Bundle and Minimum.
func (s *Stick) UnmarshalJSON(data []byte) error {
	type plain Stick
	return unmarshal(data, (*plain)(s))
}

// MarshalJSON writes an object by the names of the fields.
func (s Stick) MarshalJSON() ([]byte, error) {
	type plain Stick
	return explicit.Marshal(plain(s))
}

// Defect is a stretch of a stick, From before To, both from the stick's start.
type Defect struct {
	From measure.Length `json:"from"`
	To   measure.Length `json:"to"`
}

// PriceBreak is the price of each stick for who buys at least From of them.
type PriceBreak struct {
	From  int   `json:"from"`  // at least 2
	Price int64 `json:"price"` // per stick, zero or more
}
