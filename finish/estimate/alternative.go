package estimate

import (
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Alternative is one way to do a job, to be priced: a material with its costs, or all costs of
// a whole job line by line. StickCost, Consumables and Labor are costs without a room; leave them
// zero if Costs has all lines.
type Alternative struct {
	Label       string           `json:"label"`           // required
	Net         measure.Length   `json:"net,omitempty"`   // installed, net of waste; >= 0. Required by Compare and break-evens
	StickCost   int64            `json:"stick_cost"`      // price of the trim itself in cents, such as StickCost of a plan's summary; >= 0. Splices are labor: a cost that is not taxed
	Consumables int64            `json:"consumables"`     // price of whole packages in cents, such as List.Cost; >= 0
	Labor       measure.Duration `json:"labor"`           // >= 0
	Costs       []Cost           `json:"costs,omitempty"` // other costs: delivery, disposal, ...
}

func (c Alternative) check() error {
	var bad fault.List
	if c.Label == "" {
		bad.Add("label", c.Label, "a name")
	}
	if c.Net < 0 {
		bad.Add("net", c.Net.About(), "zero or more")
	}
	if c.StickCost < 0 {
		bad.Add("stick_cost", c.StickCost, wantCents)
	}
	if c.Consumables < 0 {
		bad.Add("consumables", c.Consumables, wantCents)
	}
	if c.Labor < 0 {
		bad.Add("labor", c.Labor, "zero or more")
	}
	seen := make(map[costKey]bool, len(c.Costs)+3)
	short := c
	short.Costs = nil
	for _, x := range short.all() {
		seen[x.key()] = true
	}
	for i, x := range c.Costs {
		at := "costs[" + strconv.Itoa(i) + "]"
		bad.Under(at, x.check())
		if seen[x.key()] && x.Label != "" {
			bad.Add(at+".label", x.Label, "a label that no other of its kind, room, profile and step has")
		}
		seen[x.key()] = true
	}
	return bad.Err()
}

// checkNet reports a net length that is not positive.
func (c Alternative) checkNet() error {
	if c.Net == 0 {
		return fault.Field("net", c.Net.About(), "more than zero")
	}
	return nil
}

// all returns the costs in the order of a quote's lines.
func (c Alternative) all() []Cost {
	all := make([]Cost, 0, len(c.Costs)+3)
	if c.StickCost > 0 {
		all = append(all, Cost{Label: "sticks", Kind: CostTrim, Amount: c.StickCost})
	}
	if c.Consumables > 0 {
		all = append(all, Cost{Label: "consumables", Kind: CostConsumables, Amount: c.Consumables})
	}
	all = append(all, c.Costs...)
	if c.Labor > 0 {
		all = append(all, Cost{Label: "labor", Kind: CostLabor, Labor: c.Labor})
	}
	return all
}

// sticksOf reports whether a cost is trim of a profile that is priced like Sticks.
func (c *Cost) sticksOf(profile string) bool {
	return c.Kind == CostTrim && c.Profile == profile && !c.PassThrough && !c.Risky
}

// SticksOf returns the alternative with the trim of one profile in StickCost, as [BreakEvenPrice]
// requires; the price stays the same. Trim that is PassThrough or Risky stays in Costs.
func (c Alternative) SticksOf(profile string) (Alternative, error) {
	if err := c.check(); err != nil {
		return c, err
	}
	var costs []Cost
	for _, x := range c.Costs {
		if !x.sticksOf(profile) {
			costs = append(costs, x)
			continue
		}
		sum, ok := natural.Add(c.StickCost, x.Amount)
		if !ok {
			return c, tooLarge("the trim of " + profile)
		}
		c.StickCost = sum
	}
	c.Costs = costs
	return c, nil
}
