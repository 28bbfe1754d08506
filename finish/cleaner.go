package finish

import "example.com/longpoint/measure"

// Cleaner is what a surface is wiped or washed with, before a coat or after the
// work. How far it goes is for its label to say: no rate with a source is known.
type Cleaner struct {
	Material string         `json:"material,omitempty"` // "" = "cleaner"
	Length   measure.Length `json:"length,omitempty"`   // of trim; >= 0
	Face     measure.Length `json:"face,omitempty"`     // developed width of what is wiped; >= 0
	Area     measure.Area   `json:"area,omitempty"`     // more surface besides; >= 0
	Times    int64          `json:"times,omitempty"`    // how often; 0 = 1
	Reach    Yield          `json:"reach"`              // area per volume of concentrate or ready mix, or per count of wipes
	Waste    Waste          `json:"waste,omitzero"`
}

// Need returns the volume of cleaner, or the number of wipes.
func (c Cleaner) Need() (Need, error) {
	if c.Times == 0 {
		c.Times = 1
	}
	if c.Times < 0 {
		return Need{}, bad("times", c.Times, "zero or more")
	}
	if err := c.Reach.check("reach"); err != nil {
		return Need{}, err
	}
	if c.Reach.Covers.dim != byArea {
		return Need{}, wrongKind("reach", c.Reach.Covers, byArea)
	}
	if of := c.Reach.Of.dim; of != byVolume && of != byCount {
		return Need{}, wrongKind("reach", c.Reach.Of, byVolume)
	}
	a, err := surface(c.Length, c.Face, c.Area)
	if err != nil {
		return Need{}, err
	}
	n, ok := quotient(up, []int64{int64(a), c.Times, c.Reach.Of.n}, []int64{c.Reach.Covers.n})
	if !ok {
		return Need{}, tooLarge("the amount of cleaner")
	}
	net := Amount{c.Reach.Of.dim, n}
	var why []string
	if c.Length > 0 {
		why = append(why, feet(c.Length)+" with a developed face of "+inches(c.Face))
	}
	why = append(why, AmountOf(a).String()+" wiped "+itoa(c.Times)+" time(s), "+c.Reach.String()+": "+net.String())
	return need(or(c.Material, "cleaner"), net, c.Waste, why...)
}
