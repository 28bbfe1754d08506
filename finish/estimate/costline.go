package estimate

import (
	"strings"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// CostKind is the kind of a cost.
type CostKind uint8

// The kinds of cost. For a tax, trim and consumables are materials.
const (
	CostOther       CostKind = iota // any other
	CostTrim                        // sticks, strips, cartons of trim
	CostConsumables                 // packages from the finishing list
	CostLabor                       // hours, at the wage of the terms
	CostDisposal                    // bags, bins, landfill fees
	CostDelivery                    // delivery, a second trip
	CostEquipment                   // rented or wearing equipment: staging, a blade
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

// Cost is one line of direct cost: a purchase or work for a job, before burden, overhead and
// markup. It names its room, profile and step, for prices by each of these; "" is the whole
// job.
type Cost struct {
	Label   string   `json:"label"`             // required; unique among costs of the same kind, room, profile and step
	Kind    CostKind `json:"kind,omitempty"`    // the kind of cost
	Room    string   `json:"room,omitempty"`    // the room
	Profile string   `json:"profile,omitempty"` // the trim
	Step    string   `json:"step,omitempty"`    // the step of work

	Amount      int64            `json:"amount,omitempty"`       // in cents; >= 0. Zero for labor, which is priced at the wage
	Labor       measure.Duration `json:"labor,omitempty"`        // hours of CostLabor; >= 0
	Wage        int64            `json:"wage,omitempty"`         // cents per hour of CostLabor, such as of a painter; >= 0, 0 = the wage of the terms
	Quantity    finish.Amount    `json:"quantity,omitzero"`      // number of sticks, packages, feet; >= 0. For the comparison of two jobs
	Source      string           `json:"source,omitempty"`       // origin of amount and quantity, for people
	Taxed       bool             `json:"taxed,omitempty"`        // a material for the tax, as trim and consumables always are
	Risky       bool             `json:"risky,omitempty"`        // of uncertain amount, see Terms.ContingencyRisky
	PassThrough bool             `json:"pass_through,omitempty"` // passed on without the overhead, contingency and markup of the terms
	Markup      measure.Ratio    `json:"markup,omitempty"`       // own markup of a cost that is PassThrough; 0-1000 %
	Allowance   bool             `json:"allowance,omitempty"`    // a sum for a choice that the client has yet to make
}

// costKey identifies the line of a cost.
type costKey struct {
	kind                       CostKind
	room, profile, step, label string
}

// name returns the label with the names that distinguish the cost from others of the same label,
// such as "sticks, pine base". A name that the label is or begins with is not repeated: the cost
// "set-up, paint" of the step "set-up" is "set-up, paint, classroom".
func (c Cost) name() string {
	name := c.Label
	for _, of := range []string{c.Profile, c.Step, c.Room} {
		if of != "" && of != c.Label && !strings.HasPrefix(c.Label, of+", ") {
			name += ", " + of
		}
	}
	return name
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
		bad.Add("labor", c.Labor, "none, except for a cost of the kind labor")
	}
	if c.Wage < 0 {
		bad.Add("wage", c.Wage, wantCents)
	} else if c.Kind != CostLabor && c.Wage > 0 {
		bad.Add("wage", c.Wage, "none, except for a cost of the kind labor")
	}
	if c.Quantity.Sign() < 0 {
		bad.Add("quantity", c.Quantity, "zero or more")
	}
	if err := fault.UpTo("markup", c.Markup, 10*whole); err != nil {
		bad.Under("", err)
	} else if c.Markup > 0 && !c.PassThrough {
		bad.Add("markup", c.Markup, "none: only a cost that is passed through has its own markup")
	}
	return bad.Err()
}
