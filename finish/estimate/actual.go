package estimate

import (
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// JobLog records what a job took, with entries by day.
type JobLog struct {
	Date    string     `json:"date,omitempty"` // date of the job, for people
	Entries []LogEntry `json:"entries"`

	// Rack lists the changes of the rack by the cut plans, as they were cut, in that order.
	// Each change has its own ID, such as that of optimize.Plan.RackChange.
	Rack []stock.RackChange `json:"rack,omitempty"`
}

// LogEntry is the amount spent on a line of the estimate on a day: hours worked, or sticks or
// packages bought and their cost. Entries for the same line are added; their tax and markup are
// those of the estimate. An entry whose line is not in the estimate is an added line.
type LogEntry struct {
	Date     string           `json:"date,omitempty"` // for people
	Label    string           `json:"label"`          // these five name the line, as in [Cost]
	Kind     CostKind         `json:"kind,omitempty"`
	Room     string           `json:"room,omitempty"`
	Profile  string           `json:"profile,omitempty"`
	Step     string           `json:"step,omitempty"`
	Amount   int64            `json:"amount,omitempty"`  // in cents; >= 0. Zero for labor
	Labor    measure.Duration `json:"labor,omitempty"`   // of CostLabor; >= 0
	Wage     int64            `json:"wage,omitempty"`    // cents per hour of CostLabor; >= 0, 0 = as estimated. The same for all entries of a line
	Quantity finish.Amount    `json:"quantity,omitzero"` // >= 0, of the kind in the estimate
}

// Actual compares a finished job with its estimate.
type Actual struct {
	Quote  *Quote     `json:"quote"`  // actual costs, priced under the terms of the estimate without contingency
	Change *Change    `json:"change"` // against the estimate, with the parts by quantity and by rate
	Kept   int64      `json:"kept"`   // price of the estimate less the actual costs with their tax and overhead: the remaining profit, in cents
	Rack   stock.Rack `json:"rack"`   // after the job
}

// NewActual compares the log of a job with its estimate under the terms of the estimate, and
// applies the log's changes to a copy of the rack. All faults of the log are reported together;
// a change that does not fit the rack is a [*stock.RackError].
func NewActual(estimated *Quote, t Terms, log JobLog, rack stock.Rack) (*Actual, error) {
	var bad fault.List
	bad.Under("terms", t.check())
	if estimated == nil {
		bad.Add("estimate", nil, "a quote")
	}
	costs, err := log.sum(estimated)
	bad.Under("log", err)
	if err := bad.Err(); err != nil {
		return nil, err
	}
	a := &Actual{Rack: rack}
	t.Contingency, t.Minimum, t.Rounding.UpTo = 0, 0, 0
	if a.Quote, err = NewQuote(Alternative{Label: "actual", Net: estimated.Net, Costs: costs}, t); err != nil {
		return nil, fault.Under("log", err)
	}
	if a.Change, err = NewChange(estimated, a.Quote); err != nil {
		return nil, err
	}
	d := difference{ok: true}
	if a.Kept = d.sub(estimated.Price, a.Quote.Cost); !d.ok {
		return nil, tooLarge("the amount kept")
	}
	for i, c := range log.Rack {
		if a.Rack, err = a.Rack.Apply(c); err != nil {
			return nil, fault.Under("log.rack["+strconv.Itoa(i)+"]", err)
		}
	}
	return a, nil
}

// cost returns the entry as a cost.
func (e LogEntry) cost() Cost {
	return Cost{Label: e.Label, Kind: e.Kind, Room: e.Room, Profile: e.Profile, Step: e.Step, Amount: e.Amount, Labor: e.Labor, Wage: e.Wage, Quantity: e.Quantity}
}

// sum returns the entries as costs, added up by line.
func (l JobLog) sum(estimated *Quote) ([]Cost, error) {
	var bad fault.List
	like := map[costKey]Cost{}
	if estimated != nil {
		for _, c := range estimated.Costs {
			like[c.key()] = c.Cost
		}
	}
	var costs []Cost
	at := map[costKey]int{}
	for i, e := range l.Entries {
		path := "entries[" + strconv.Itoa(i) + "]"
		c := e.cost()
		if err := c.check(); err != nil {
			bad.Under(path, err)
			continue
		}
		k, known := at[c.key()]
		if !known {
			at[c.key()] = len(costs)
			was := like[c.key()]
			if c.Wage == 0 {
				c.Wage = was.Wage
			}
			c.Taxed, c.Risky, c.PassThrough, c.Markup, c.Allowance = was.Taxed, was.Risky, was.PassThrough, was.Markup, was.Allowance
			costs = append(costs, c)
			continue
		}
		bad.Under(path, costs[k].add(c))
	}
	return costs, bad.Err()
}

// add adds a cost of the same line.
func (c *Cost) add(more Cost) error {
	amount, ok1 := natural.Add(c.Amount, more.Amount)
	labor, ok2 := natural.Add(int64(c.Labor), int64(more.Labor))
	if !ok1 || !ok2 {
		return tooLarge("the sum of " + c.Label)
	}
	if more.Wage != 0 && more.Wage != c.Wage {
		return fault.Field("wage", more.Wage, "that of the entries before it for the same line, "+strconv.FormatInt(c.Wage, 10)+", or a different label")
	}
	quantity, err := c.Quantity.Add(more.Quantity)
	if err != nil {
		return fault.Field("quantity", more.Quantity, "as much as the entries before it for the same line count, such as "+c.Quantity.String())
	}
	c.Amount, c.Labor, c.Quantity = amount, measure.Duration(labor), quantity
	return nil
}
