package estimate

import (
	"cmp"
	"math"
	"slices"
	"time"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// An Order is the purchase from one supplier.
type Order struct {
	Supplier  string      `json:"supplier"` // empty if the sticks name none
	Lines     []OrderLine `json:"lines"`
	StickCost int64       `json:"stick_cost"`          // total of all lines, in cents
	Delivery  int64       `json:"delivery,omitempty"`  // in cents
	Total     int64       `json:"total"`               // StickCost plus Delivery
	LeadDays  int64       `json:"lead_days,omitempty"` // days of the calendar from order to delivery
	Short     int64       `json:"short,omitempty"`     // shortfall from the supplier's minimum order, in cents

	// OrderBy is the last day of work, by the calendar, on which to order without delaying the
	// schedule, and Comes the day of delivery in the schedule; zero without a calendar. If
	// OrderBy is before the job's start, the schedule waits for the delivery.
	OrderBy schedule.Date `json:"order_by,omitzero"`
	Comes   schedule.Date `json:"comes,omitzero"`
}

// An OrderLine is a number of sticks of one kind.
type OrderLine struct {
	Profile string         `json:"profile"` // that of the boards if strips are ripped from them
	Stick   string         `json:"stick"`   // its label
	Length  measure.Length `json:"length"`  // as sold: the nominal length
	Count   int64          `json:"count"`
	Cost    int64          `json:"cost"` // in cents, with price breaks
}

// ordersOf groups purchases by supplier, in the order of first mention.
func ordersOf(plans []ProfilePlan, boards map[string]string, suppliers []Supplier) ([]Order, error) {
	var out []Order
	for _, p := range plans {
		for _, b := range p.Plan.Buy {
			s := p.Problem.Sticks[b.Stick]
			if s.Rack {
				continue
			}
			k := slices.IndexFunc(out, func(o Order) bool { return o.Supplier == s.Supplier })
			if k < 0 {
				k = len(out)
				out = append(out, Order{Supplier: s.Supplier})
			}
			l := OrderLine{Profile: p.Profile, Stick: s.Label, Length: cmp.Or(s.Nominal, s.Length), Count: int64(b.Count) / p.Parts, Cost: b.Cost / p.Parts}
			if board, ok := boards[p.Profile]; ok {
				l.Profile = board
			}
			var ok bool
			if out[k].StickCost, ok = natural.Add(out[k].StickCost, l.Cost); !ok {
				return nil, tooLarge("the orders")
			}
			out[k].Lines = append(out[k].Lines, l)
		}
	}
	for i := range out {
		o := &out[i]
		if k := slices.IndexFunc(suppliers, func(s Supplier) bool { return s.Name == o.Supplier }); k >= 0 {
			s := suppliers[k]
			o.Delivery, o.LeadDays, o.Short = s.Delivery, s.LeadDays, max(0, s.MinOrder-o.StickCost)
		}
		if o.Delivery > math.MaxInt64-o.StickCost {
			return nil, tooLarge("the orders")
		}
		o.Total = o.StickCost + o.Delivery
	}
	return out, nil
}

// dateOrders sets the dates of delivery and ordering: trim is delivered, acclimates, and is
// installed.
func (e *Estimate) dateOrders() {
	if e.Schedule == nil {
		return
	}
	at := make(map[string]schedule.Slot, len(e.Schedule.Slots))
	for _, s := range e.Schedule.Slots {
		at[s.ID] = s
	}
	after := make(map[string][]*sequence.Edge)
	for i := range e.Sequence.Edges {
		edge := &e.Sequence.Edges[i]
		after[edge.From] = append(after[edge.From], edge)
	}
	for i := range e.Orders {
		o := &e.Orders[i]
		var by, comes time.Time
		for _, l := range o.Lines {
			id := deliveryID(l.Profile, o.Supplier)
			if s, ok := at[id]; ok && (comes.IsZero() || s.End.Before(comes)) {
				comes = s.End
			}
			for _, edge := range after[id] {
				if s, ok := at[edge.To]; ok {
					if t := s.Start.Add(-time.Duration(edge.Lag)); by.IsZero() || t.Before(by) {
						by = t
					}
				}
			}
		}
		if !comes.IsZero() {
			o.Comes = schedule.DateOf(comes)
		}
		if !by.IsZero() {
			o.OrderBy = e.workedBy(by.AddDate(0, 0, -int(o.LeadDays)))
		}
	}
}

// workedBy returns the last day of work no later than a time, since orders need a working day.
// If there is none nearby, it is the day itself.
func (e *Estimate) workedBy(t time.Time) schedule.Date {
	c := *e.Job.Calendar
	if early := t.AddDate(0, 0, -32); early.Before(c.Start) { // no day before its start has hours
		c.Start = early
	}
	for back := range 31 {
		d := schedule.DateOf(t.AddDate(0, 0, -back))
		if _, _, ok := c.Hours(d); ok {
			return d
		}
	}
	return schedule.DateOf(t)
}

// deliveryID names the delivery of a profile in the order of work.
func deliveryID(profile, supplier string) string {
	if supplier == "" {
		return "delivery: " + profile
	}
	return "delivery: " + profile + " from " + supplier
}
