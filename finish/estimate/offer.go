package estimate

import (
	"math"
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Offer is an alternative of any length: it computes the cost for a length of trim that is not
// yet known. Trim and supplies come in whole packages, so the cost grows in steps.
type Offer struct {
	Label    string           `json:"label"`              // required
	Trim     finish.Product   `json:"trim"`               // sticks or cartons: packages of length, or a Yield of length
	Waste    finish.Waste     `json:"waste,omitzero"`     // of the trim; it stands for a cutting plan, which only a known job has
	Supplies []finish.Product `json:"supplies,omitempty"` // each with a Yield of length, such as "346 ft per 10.1 fl oz"; waste included
	Pace     measure.Length   `json:"pace,omitempty"`     // length installed and finished in an hour of labor; 0 = no proportional labor
	Setup    measure.Duration `json:"setup,omitempty"`    // labor independent of the length; >= 0
	Costs    []Cost           `json:"costs,omitempty"`    // independent of the length: delivery, a blade, trim that stays the same
}

// At returns the alternative for a net length, which is more than zero. The error joins a
// [*measure.FieldError] for each invalid field, or is a [*measure.RangeError].
func (o Offer) At(net measure.Length) (Alternative, error) {
	if err := o.check(); err != nil {
		return Alternative{}, err
	}
	if net <= 0 {
		return Alternative{}, fault.Field("net", net.About(), "more than zero")
	}
	c, _, err := o.at(net)
	return c, err
}

// check reports all faults that do not depend on the length.
func (o Offer) check() error {
	var bad fault.List
	bad.Under("", Alternative{Label: o.Label, Costs: o.Costs}.check())
	bad.Under("trim", o.Trim.Validate())
	_, err := o.Waste.Apply(finish.Count(0))
	bad.Under("", err)
	for i, p := range o.Supplies {
		bad.Under("supplies["+strconv.Itoa(i)+"]", p.Validate())
	}
	if o.Pace < 0 {
		bad.Add("pace", finish.AmountOf(o.Pace), "zero or more")
	}
	if o.Setup < 0 {
		bad.Add("setup", o.Setup, "zero or more")
	}
	return bad.Err()
}

// at is At for a valid offer and length.
func (o Offer) at(net measure.Length) (c Alternative, proven bool, err error) {
	c = Alternative{Label: o.Label, Net: net, Costs: o.Costs}
	gross, err := o.Waste.Apply(finish.AmountOf(net))
	if err != nil {
		return c, false, err
	}
	b, err := finish.Buy(gross, o.Trim)
	if err != nil {
		return c, false, fault.Under("trim", err)
	}
	c.StickCost, proven = b.Cost, b.Proven
	for i, p := range o.Supplies {
		b, err := finish.Buy(finish.AmountOf(net), p)
		if err != nil {
			return c, false, fault.Under("supplies["+strconv.Itoa(i)+"]", err)
		}
		var ok bool
		if c.Consumables, ok = natural.Add(c.Consumables, b.Cost); !ok {
			return c, false, tooLarge("the cost of the supplies")
		}
		proven = proven && b.Proven
	}
	c.Labor, err = o.labor(net)
	return c, proven, err
}

// labor returns the hours at a length, with the proportional part rounded up to a second.
func (o Offer) labor(net measure.Length) (measure.Duration, error) {
	if o.Pace == 0 {
		return o.Setup, nil
	}
	secs, _, err := net.MulDiv(3600, int64(o.Pace), measure.RoundUp)
	if err != nil || int64(secs) > math.MaxInt64/int64(second) {
		return 0, tooLarge("the labor of " + o.Label)
	}
	sum, ok := natural.Add(int64(secs)*int64(second), int64(o.Setup))
	if !ok {
		return 0, tooLarge("the labor of " + o.Label)
	}
	return measure.Duration(sum), nil
}
