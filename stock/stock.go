package stock

import "example.com/longpoint/measure"

// Stick is one length that can be had: from a supplier or from the rack.
type Stick struct {
	Label  string         // what a person calls it; may be empty
	Length measure.Length // as delivered, end to end
	Price  int64          // per stick, in the currency's minor unit
	Limit  int            // how many can be had; 0 = no limit

	// TrimStart and TrimEnd cannot be used: ends that are checked, bruised or
	// out of square. Each counts the kerf of the cut that removes it.
	TrimStart, TrimEnd measure.Length
}

// Piece is what has to be cut.
type Piece struct {
	Label    string
	Length   measure.Length // long point to long point
	Quantity int            // 0 = 1
}
