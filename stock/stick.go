package stock

import "example.com/longpoint/measure"

// Stick is one length that can be had: from a supplier or from the rack.
type Stick struct {
	Label  string         `json:"label,omitempty"` // what a person calls it; may be empty
	Length measure.Length `json:"length"`          // as delivered, end to end
	Price  int64          `json:"price,omitempty"` // per stick, in the currency's minor unit
	Limit  int            `json:"limit,omitempty"` // how many can be had; 0 = no limit

	// TrimStart and TrimEnd cannot be used: ends that are checked, bruised or
	// out of square. Each counts the kerf of the cut that removes it.
	TrimStart measure.Length `json:"trim_start,omitzero"`
	TrimEnd   measure.Length `json:"trim_end,omitzero"`

	// Profile names the Profile that the stick is milled to; empty where there
	// is only one.
	Profile string `json:"profile,omitempty"`

	// Nominal is what the stick is sold as where that differs from Length: a
	// mill may deliver a "16-foot" stick up to 6 in short (mill ordering
	// rules for specified lengths). Zero means the same as Length.
	Nominal measure.Length `json:"nominal,omitzero"`

	// Rack is set for an offcut that is already owned.
	Rack bool `json:"rack,omitempty"`
}
