package estimate

import (
	"strconv"

	"example.com/longpoint/internal/fault"
)

// ChangeOrder is a change that client and contractor agree on after the contract: scope,
// price and days of its own. It holds no cost, rate or markup, so the client may see all of it.
type ChangeOrder struct {
	Label string      `json:"label"`           // not empty
	Scope []ScopeItem `json:"scope,omitempty"` // what is done, left out or done otherwise
	Price int64       `json:"price"`           // in cents, what the client pays more, or below zero less, tax included
	Days  int64       `json:"days,omitempty"`  // working days more or less
}

// ScopeItem is a line of the scope of a change order.
type ScopeItem struct {
	Change ChangeKind `json:"change"`
	Label  string     `json:"label"`
	Room   string     `json:"room,omitempty"`
}

// NewChangeOrder returns the change from one priced job to a later one as an order of its
// own: a line of scope for each line that differs, and the whole difference in what the
// client pays, rounding included, so that the new total is the later quote's.
func NewChangeOrder(label string, was, now *Quote, days int64) (*ChangeOrder, error) {
	if label == "" {
		return nil, fault.Field("label", label, "a name")
	}
	c, err := NewChange(was, now)
	if err != nil {
		return nil, err
	}
	o := &ChangeOrder{Label: label, Price: c.Total, Days: days}
	for _, l := range c.Lines {
		o.Scope = append(o.Scope, ScopeItem{l.Change, l.Label, l.Room})
	}
	return o, nil
}

// Contract is what was agreed on: a price, and the changes to it since.
type Contract struct {
	Label  string        `json:"label"`
	Price  int64         `json:"price"`          // of the first contract, in cents; >= 0
	Days   int64         `json:"days,omitempty"` // working days; >= 0
	Orders []ChangeOrder `json:"orders,omitempty"`
}

// ContractTotal is what a contract comes to with its change orders.
type ContractTotal struct {
	Price int64 `json:"price"` // in cents
	Days  int64 `json:"days"`  // working days
}

// Total returns price and days with all change orders. Orders that deduct more than there
// is, or have no label or that of another, are a [*measure.FieldError].
func (c Contract) Total() (ContractTotal, error) {
	var bad fault.List
	if c.Price < 0 {
		bad.Add("price", c.Price, wantCents)
	}
	if c.Days < 0 {
		bad.Add("days", c.Days, "zero or more")
	}
	t := ContractTotal{c.Price, c.Days}
	d := difference{ok: true}
	seen := map[string]bool{"": true}
	for i, o := range c.Orders {
		at := "orders[" + strconv.Itoa(i) + "]."
		if seen[o.Label] {
			bad.Add(at+"label", o.Label, "a name that no other order has")
		}
		seen[o.Label] = true
		t.Price, t.Days = d.add(t.Price, o.Price), d.add(t.Days, o.Days)
		if d.ok && t.Price < 0 && c.Price >= 0 {
			bad.Add(at+"price", o.Price, "no more off than the contract comes to")
		}
		if d.ok && t.Days < 0 && c.Days >= 0 {
			bad.Add(at+"days", o.Days, "no more off than the contract comes to")
		}
	}
	if err := bad.Err(); err != nil {
		return ContractTotal{}, err
	}
	if !d.ok {
		return ContractTotal{}, tooLarge("the total of " + c.Label)
	}
	return t, nil
}

func (d *difference) add(a, b int64) int64 {
	r := a + b
	if (r > a) != (b > 0) {
		d.ok = false
	}
	return r
}
