package stock

import (
	"cmp"
	"slices"

	"example.com/longpoint/measure"
)

// Rack holds the offcuts that are kept from job to job. It is plain data that
// reads and writes JSON; the zero value is an empty rack.
type Rack struct {
	// Keep is the shortest offcut worth keeping; zero keeps everything.
	Keep    measure.Length `json:"keep,omitzero"`
	Offcuts []Offcut       `json:"offcuts,omitempty"`
}

// Offcut is one length on the rack, Count times over (0 = 1).
type Offcut struct {
	Label   string         `json:"label,omitempty"`
	Profile string         `json:"profile"`
	Length  measure.Length `json:"length"`
	Count   int            `json:"count,omitempty"`
}

// Sticks returns the offcuts of a profile as sticks without a price, longest
// first, each limited to what is there. Offcuts without length or with a negative
// count are left out.
func (r Rack) Sticks(profile string) []Stick {
	var sticks []Stick
	for _, o := range r.Offcuts {
		if o.Profile != profile || o.Length <= 0 || o.Count < 0 {
			continue
		}
		sticks = append(sticks, Stick{
			Label: o.Label, Length: o.Length, Limit: max(1, o.Count), Profile: profile, Rack: true,
		})
	}
	slices.SortStableFunc(sticks, func(a, b Stick) int { return cmp.Compare(b.Length, a.Length) })
	return sticks
}
