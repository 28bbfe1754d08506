package estimate

import (
	"strconv"

	"example.com/longpoint/internal/fault"
)

// ChangeOrder is a change that client and contractor agree on after the contract, with its own
// scope, price and days. It contains no cost, rate or markup, so the client may see all of it.
type ChangeOrder struct {
	Label string      `json:"label"`           // required
	Scope []ScopeItem `json:"scope,omitempty"` // work that is added, omitted or changed
	Price int64       `json:"price"`           // in cents, tax included; negative if the client pays less
	Days  int64       `json:"days,omitempty"`  // additional working days; may be negative
}

// ScopeItem is a line of the scope of a change order.
type ScopeItem struct {
	Change ChangeKind `json:"change"`         // added, removed or changed
	Label  string     `json:"label"`          // of the cost
	Room   string     `json:"room,omitempty"` // "" is the whole job
}

// NewChangeOrder returns the change from one priced job to a later one as a change order: a
// line of scope for each line that differs, and the difference of the client's totals, rounding
// included, so that the new total is that of the later quote. A nil quote is empty. An
// empty label is a [*measure.FieldError], a difference out of range a [*measure.RangeError].
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

// Contract is a contract with a client: its price and days, and the change orders since.
type Contract struct {
	Label  string        `json:"label"`            // for people
	Price  int64         `json:"price"`            // of the original contract, in cents; >= 0
	Days   int64         `json:"days,omitempty"`   // working days; >= 0
	Orders []ChangeOrder `json:"orders,omitempty"` // with labels that differ
}

// ContractTotal is the total of a contract with its change orders.
type ContractTotal struct {
	Price int64 `json:"price"` // in cents
	Days  int64 `json:"days"`  // working days
}

// Total returns price and days with all change orders. A total below zero, and an order without
// a label or with the label of another, are a [*measure.FieldError].
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
			bad.Add(at+"price", o.Price, "a deduction of at most the contract's total")
		}
		if d.ok && t.Days < 0 && c.Days >= 0 {
			bad.Add(at+"days", o.Days, "a deduction of at most the contract's total")
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
