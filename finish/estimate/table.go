package estimate

import (
	"example.com/longpoint/measure"
)

// A TableRow is the share of one room, profile, step or kind of cost in a quote.
type TableRow struct {
	Label     string           `json:"label"`      // "" is the whole job
	Labor     measure.Duration `json:"labor"`      // hours
	Direct    int64            `json:"direct"`     // direct cost with burden, in cents
	Cost      int64            `json:"cost"`       // with its share of tax, overhead and contingency
	Price     int64            `json:"price"`      // with its share of markup and rounding
	ClientTax int64            `json:"client_tax"` // in addition
}

// ByRoom returns the quote by room, in the order of the costs. As in the other tables, each
// column sums exactly to that of the quote.
func (q *Quote) ByRoom() []TableRow { return q.by(func(c *CostShare) string { return c.Room }) }

// ByProfile returns the quote by profile.
func (q *Quote) ByProfile() []TableRow { return q.by(func(c *CostShare) string { return c.Profile }) }

// ByStep returns the quote by step of work.
func (q *Quote) ByStep() []TableRow { return q.by(func(c *CostShare) string { return c.Step }) }

// ByKind returns the quote by kind of direct cost.
func (q *Quote) ByKind() []TableRow {
	return q.by(func(c *CostShare) string { return c.Kind.String() })
}

func (q *Quote) by(label func(*CostShare) string) []TableRow {
	if q == nil {
		return nil
	}
	var rows []TableRow
	at := map[string]int{}
	row := func(label string) *TableRow {
		i, ok := at[label]
		if !ok {
			i = len(rows)
			at[label], rows = i, append(rows, TableRow{Label: label})
		}
		return &rows[i]
	}
	left := TableRow{Price: q.Price, ClientTax: q.ClientTax} // a minimum charge without any cost
	for i := range q.Costs {
		c := &q.Costs[i]
		r := row(label(c))
		r.Labor += c.Labor
		r.Direct += c.Direct
		r.Cost += c.Loaded
		r.Price += c.Price
		r.ClientTax += c.ClientTax
		left.Price -= c.Price
		left.ClientTax -= c.ClientTax
	}
	if left.Price != 0 || left.ClientTax != 0 {
		r := row("")
		r.Price += left.Price
		r.ClientTax += left.ClientTax
	}
	return rows
}
