package estimate

import (
	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// CostKind is what a cost pays for.
type CostKind uint8

// The kinds of cost. Trim and consumables are materials to a tax.
const (
	CostOther       CostKind = iota // none of the others
	CostTrim                        // sticks, strips, cartons of trim
	CostConsumables                 // packages from the finishing list
	CostLabor                       // hours, at the wage of the terms
	CostDisposal                    // bags, bins, fees of a tip
	CostDelivery                    // carriage, a second trip
	CostEquipment                   // what is hired or worn out: staging, a blade
	CostSubcontract                 // another firm's price
)

var costKindNames = [...]string{"other", "trim", "consumables", "labor", "disposal", "delivery", "equipment", "subcontract"}

// String returns the name of the kind, such as trim.
func (k CostKind) String() string { return kind.Text("CostKind", costKindNames[:], k) }

// MarshalText returns the name; a kind without one is a [*measure.FieldError].
func (k CostKind) MarshalText() ([]byte, error) {
	return kind.Marshal("CostKind", "a kind of cost", costKindNames[:], k)
}

// UnmarshalText reads a name; any other text is a [*measure.FieldError].
func (k *CostKind) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a kind of cost", costKindNames[:], b, k)
}

// Cost is one line of direct cost: what is bought or done for a job, before burden,
// overhead and markup. It says where it belongs, so that a price can be told by room,
// profile and step; "" is the whole job.
type Cost struct {
	Label   string   `json:"label"`             // not empty; no other cost of the same kind, room, profile and step has it
	Kind    CostKind `json:"kind,omitempty"`    // what it pays for
	Room    string   `json:"room,omitempty"`    // the room
	Profile string   `json:"profile,omitempty"` // the trim
	Step    string   `json:"step,omitempty"`    // the step of work

	Amount   int64            `json:"amount,omitempty"`   // in cents; >= 0. None for labor, which the wage of the terms prices
	Labor    measure.Duration `json:"labor,omitempty"`    // hours of CostLabor; >= 0
	Wage     int64            `json:"wage,omitempty"`     // cents per hour of CostLabor, of a painter say; >= 0, 0 = the wage of the terms
	Quantity finish.Amount    `json:"quantity,omitzero"`  // what is paid for: sticks, packages, feet; >= 0. For the comparison of two jobs
	Source   string           `json:"source,omitempty"`   // where amount and quantity come from, for people
	Taxed    bool             `json:"taxed,omitempty"`    // a material to the tax, as trim and consumables always are
	Risky    bool             `json:"risky,omitempty"`    // what it comes to is uncertain, see Terms.ContingencyRisky
	Apart    bool             `json:"apart,omitempty"`    // passed on without the overhead, contingency and markup of the terms
	Markup   measure.Ratio    `json:"markup,omitempty"`   // on a cost that is Apart, of its own; 0-1000 %
	Allowed  bool             `json:"allowance,omitzero"` // an allowance: set aside for what the client has yet to choose
}

// costKey is what tells a cost from others.
type costKey struct {
	kind                       CostKind
	room, profile, step, label string
}

func (c Cost) key() costKey { return costKey{c.Kind, c.Room, c.Profile, c.Step, c.Label} }

// material reports whether a tax of materials applies.
func (c *Cost) material() bool {
	return c.Taxed || c.Kind == CostTrim || c.Kind == CostConsumables
}

func (c Cost) check() error {
	var bad fault.List
	if c.Label == "" {
		bad.Add("label", c.Label, "a name")
	}
	if _, err := c.Kind.MarshalText(); err != nil {
		bad.Under("kind", err)
	}
	if c.Amount < 0 {
		bad.Add("amount", c.Amount, wantCents)
	} else if c.Kind == CostLabor && c.Amount > 0 {
		bad.Add("amount", c.Amount, "none: hours are priced at a wage")
	}
	if c.Labor < 0 {
		bad.Add("labor", c.Labor, "zero or more")
	} else if c.Kind != CostLabor && c.Labor > 0 {
		bad.Add("labor", c.Labor, "none but for a cost of the kind labor")
	}
	if c.Wage < 0 {
		bad.Add("wage", c.Wage, wantCents)
	} else if c.Kind != CostLabor && c.Wage > 0 {
		bad.Add("wage", c.Wage, "none but for a cost of the kind labor")
	}
	if c.Quantity.Sign() < 0 {
		bad.Add("quantity", c.Quantity, "zero or more")
	}
	if err := fault.UpTo("markup", c.Markup, 10*whole); err != nil {
		bad.Under("", err)
	} else if c.Markup > 0 && !c.Apart {
		bad.Add("markup", c.Markup, "none: only a cost that is apart has a markup of its own")
	}
	return bad.Err()
}
