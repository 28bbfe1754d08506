package stock

import (
	"example.com/longpoint/internal/explicit"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Stick is a length of stock to buy, or one from the rack that is already owned: trim,
// lumber, pipe, bar or tube. Most jobs need only Length, Price and Limit.
type Stick struct {
	// ID is the ID of the Offcut if the stick is one; empty for an offcut without an ID
	// and for a stick from a supplier.
	ID string `json:"id,omitempty"`

	Label  string         `json:"label,omitempty"` // any text, may repeat
	Length measure.Length `json:"length"`          // as delivered, end to end

	// Price is the price per stick, in the currency's minor unit (cents). If any stick of
	// a list has a price, all have one except those with Rack set.
	Price int64 `json:"price,omitempty"`

	// Limit is the number in stock: zero sets no limit, [SoldOut] means none. In JSON
	// that is "sold out", and a zero is an error.
	Limit int `json:"limit,omitempty" zero:"\"sold out\", or nothing for no limit" minus:"sold out"`

	// TrimStart and TrimEnd are the unusable lengths at the ends, which are split,
	// bruised, burred or out of square. Each includes the kerf of the cut that removes it.
	TrimStart measure.Length `json:"trim_start,omitzero"`
	TrimEnd   measure.Length `json:"trim_end,omitzero"`

	// Profile names the section of the stick: the Profile of trim, or any name that
	// distinguishes sections, such as "2×4" or "1-1/2 square tube". It is empty if there is
	// only one. Its offcuts are on the rack under this name; if it is empty, under that of
	// the pieces; and if they have none, under no name.
	Profile string `json:"profile,omitempty"`

	// Material names the Material of the stick; empty if there is only one. It is used only
	// for the rack.
	Material string `json:"material,omitempty"`

	// Nominal is the length by which the stick is sold, if that is not Length: a mill
	// may deliver a "16-foot" stick up to 6 in short (mill ordering rules for specified
	// lengths). Zero means Length.
	Nominal measure.Length `json:"nominal,omitzero" zero:"what the stick is sold as, or nothing for its length"`

	// Rack is set for an offcut that is already owned.
	Rack bool `json:"rack,omitempty"`

	// Grade is the appearance grade of the stick; higher is better. A piece may be
	// cut from sticks of its own Grade or better.
	Grade int `json:"grade,omitempty"`

	// Lot names the mill run, heat, dye lot or flitch from which the stick comes; sticks
	// of one lot match. The empty name is a lot like any other.
	Lot string `json:"lot,omitempty"`

	// Defects are the unusable stretches, in any order; they lie within Length, and no
	// piece may reach into one. A stick with defects needs a Limit. Make a defect at least
	// as long as the kerf if both sides of it are to be used: the cut is assumed to lie
	// within it.
	Defects []Defect `json:"defects,omitempty"`

	// Supplier names the seller of the stick; empty if no charge depends on it.
	Supplier string `json:"supplier,omitempty"`

	// Bundle is the number of sticks sold together: the number bought is a multiple of it.
	// Zero means 1. Minimum is the smallest order, if any sticks are bought; zero means 1.
	// Neither exceeds a Limit above zero: a stick with fewer in stock is SoldOut. Sticks bought
	// but not cut are left whole. In JSON a zero is an error.
	Bundle  int `json:"bundle,omitempty" zero:"1 or more, or nothing for 1"`
	Minimum int `json:"minimum,omitempty" zero:"1 or more, or nothing for 1"`

	// Breaks are the prices of larger orders, ascending in From.
	Breaks []PriceBreak `json:"breaks,omitempty"`
}

// SoldOut is the Limit of a stick with none in stock. Such a stick may remain on the list.
const SoldOut = -1

// UnmarshalJSON reads an object with the names of the fields. A zero that would stand
// for a default is a [*measure.FieldError]: see Limit, Nominal, Bundle and Minimum.
func (s *Stick) UnmarshalJSON(data []byte) error {
	type plain Stick
	return fault.Unmarshal(data, (*plain)(s))
}

// MarshalJSON writes an object with the names of the fields.
func (s Stick) MarshalJSON() ([]byte, error) {
	type plain Stick
	return explicit.Marshal(plain(s))
}

// A Defect is an unusable stretch of a stick, such as a knot, a split, a dent or a weld.
// From is less than To, and both are measured from the start of the stick.
type Defect struct {
	From measure.Length `json:"from"`
	To   measure.Length `json:"to"`
}

// A PriceBreak sets the price of every stick in an order of From sticks or more.
type PriceBreak struct {
	From  int   `json:"from"`  // at least 2
	Price int64 `json:"price"` // per stick, zero or more
}
