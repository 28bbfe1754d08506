package stock

import (
	"example.com/longpoint/internal/explicit"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Stick is a length of stock that can be bought, or one of the rack that is owned: trim,
// lumber, pipe, bar or tube. Length, Price and Limit are all that most jobs need.
type Stick struct {
	// ID is that of the Offcut that the stick is; empty for an offcut that has none and
	// for a stick from a supplier.
	ID string `json:"id,omitempty"`

	Label  string         `json:"label,omitempty"` // any text, may repeat
	Length measure.Length `json:"length"`          // as delivered, end to end

	// Price is per stick, in the currency's minor unit (cents). If any stick of a list has
	// a price, all have one but those with Rack set.
	Price int64 `json:"price,omitempty"`

	// Limit is how many are in stock: zero sets no limit, [SoldOut] means none. In JSON
	// that is "sold out", and a zero is an error.
	Limit int `json:"limit,omitempty" zero:"\"sold out\", or nothing for no limit" minus:"sold out"`

	// TrimStart and TrimEnd cannot be used: ends that are split, bruised, burred or out of
	// square. Each includes the kerf of the cut that removes it.
	TrimStart measure.Length `json:"trim_start,omitzero"`
	TrimEnd   measure.Length `json:"trim_end,omitzero"`

	// Profile names the section of the stick: the Profile of trim, or any name that tells
	// one section from another, such as "2×4" or "1-1/2 square tube". It is empty if there
	// is only one.
	Profile string `json:"profile,omitempty"`

	// Material names the Material that the stick is made of; empty if there is only one. It
	// matters to the rack alone.
	Material string `json:"material,omitempty"`

	// Nominal is the length that the stick is sold as if that is not Length: a mill may
	// deliver a "16-foot" stick up to 6 in short (mill ordering rules for specified
	// lengths). Zero means Length.
	Nominal measure.Length `json:"nominal,omitzero" zero:"what the stick is sold as, or nothing for its length"`

	// Rack is set for an offcut that is owned already.
	Rack bool `json:"rack,omitempty"`

	// Grade is how good the stick looks, higher is better. A piece takes sticks of
	// its own Grade and better ones.
	Grade int `json:"grade,omitempty"`

	// Lot names the mill run, heat, dye lot or flitch that the stick comes from; sticks of
	// one lot match. The empty name is a lot like any other.
	Lot string `json:"lot,omitempty"`

	// Defects are the stretches that cannot be used, in any order; they lie within Length,
	// and no piece may reach into one. A stick with defects needs a Limit. Give a defect at
	// least the width of a cut if both sides of it are to be used: the cut is taken to lie
	// in it.
	Defects []Defect `json:"defects,omitempty"`

	// Supplier names the seller of the stick; empty if no charge depends on it.
	Supplier string `json:"supplier,omitempty"`

	// Bundle is how many sticks are sold together: the number bought is a multiple of it.
	// Zero means 1. Minimum is the smallest number that is sold, if any are; zero means 1.
	// Sticks that are bought and not cut are left whole. In JSON a zero is an error.
	Bundle  int `json:"bundle,omitempty" zero:"1 or more, or nothing for 1"`
	Minimum int `json:"minimum,omitempty" zero:"1 or more, or nothing for 1"`

	// Breaks are the prices for larger orders, ascending in From.
	Breaks []PriceBreak `json:"breaks,omitempty"`
}

// SoldOut is the Limit of a stick of which none are in stock. It may stay on the list.
const SoldOut = -1

// UnmarshalJSON reads an object by the names of the fields. A zero that would stand for
// something else is a [*measure.FieldError]: see Limit, Nominal, Bundle and Minimum.
func (s *Stick) UnmarshalJSON(data []byte) error {
	type plain Stick
	return fault.Unmarshal(data, (*plain)(s))
}

// MarshalJSON writes an object by the names of the fields.
func (s Stick) MarshalJSON() ([]byte, error) {
	type plain Stick
	return explicit.Marshal(plain(s))
}

// A Defect is a stretch of a stick that cannot be used, such as a knot, a split, a dent or
// a weld, From before To, both measured from the stick's start.
type Defect struct {
	From measure.Length `json:"from"`
	To   measure.Length `json:"to"`
}

// A PriceBreak sets the price per stick for orders of From sticks or more.
type PriceBreak struct {
	From  int   `json:"from"`  // at least 2
	Price int64 `json:"price"` // per stick, zero or more
}
