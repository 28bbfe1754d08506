package estimate

import (
	"context"
	"errors"
	"slices"

	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// maxDelivering is the greatest number of suppliers with a delivery charge for which all
// choices are compared; with more, each is dropped in turn if that saves money.
const maxDelivering = 4

// chooseSuppliers decides which suppliers to order from, if some charge for delivery: the
// charge is paid once for all profiles, and the plans are independent. Plans stay as they are
// if nothing is saved.
func (w *work) chooseSuppliers(ctx context.Context, s *scenario, o *Options, keep measure.Length) error {
	var asking []Supplier
	for _, u := range w.job.Suppliers {
		if u.Delivery > 0 && slices.ContainsFunc(s.cuts, func(c *cutting) bool { return c.offers(u.Name) }) {
			asking = append(asking, u)
		}
	}
	best, err := costOf(s.cuts, asking)
	if err != nil {
		return err
	}
	all := s.cuts
	for _, without := range choices(len(asking)) {
		var names []string
		for i, u := range asking {
			if without>>i&1 == 1 {
				names = append(names, u.Name)
			}
		}
		cuts, ok, err := withoutSuppliers(ctx, all, names, o, keep)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		cost, err := costOf(cuts, asking)
		if err != nil {
			return err
		}
		if cost < best {
			best, s.cuts = cost, cuts
		}
	}
	return nil
}

// choices lists the sets of suppliers to drop, as bits, the smaller ones first.
func choices(n int) []uint64 {
	var out []uint64
	if n > maxDelivering {
		for i := range min(n, 64) {
			out = append(out, 1<<i)
		}
		return out
	}
	for set := uint64(1); set < 1<<n; set++ {
		out = append(out, set)
	}
	return out
}

// costOf returns the cost of all plans, with the delivery charges of the suppliers used.
func costOf(cuts []*cutting, asking []Supplier) (int64, error) {
	var sum int64
	ok := true
	for _, c := range cuts {
		if sum, ok = natural.Add(sum, c.plan.Cost); !ok {
			return 0, tooLarge("the cost of the sticks")
		}
	}
	for _, u := range asking {
		if slices.ContainsFunc(cuts, func(c *cutting) bool { return c.buysFrom(u.Name) }) {
			if sum, ok = natural.Add(sum, u.Delivery); !ok {
				return 0, tooLarge("the cost of the sticks")
			}
		}
	}
	return sum, nil
}

// offers reports whether the supplier sells sticks for it.
func (c *cutting) offers(supplier string) bool {
	return slices.ContainsFunc(c.problem.Sticks, func(s stock.Stick) bool { return !s.Rack && s.Supplier == supplier })
}

// buysFrom reports whether its plan buys sticks there.
func (c *cutting) buysFrom(supplier string) bool {
	return slices.ContainsFunc(c.plan.Plan.Buy, func(b optimize.Purchase) bool {
		s := c.plan.Problem.Sticks[b.Stick]
		return !s.Rack && s.Supplier == supplier
	})
}

// withoutSuppliers returns the plans without some suppliers; it returns false if the others do
// not have enough. A plan that buys nothing there is still the cheapest.
func withoutSuppliers(ctx context.Context, cuts []*cutting, names []string, o *Options, keep measure.Length) (out []*cutting, ok bool, err error) {
	var again []*cutting
	for _, c := range cuts {
		if !slices.ContainsFunc(names, c.buysFrom) {
			out = append(out, c)
			continue
		}
		d := &cutting{profile: c.profile, spare: c.spare, problem: c.problem, parts: c.parts}
		d.problem.Sticks = slices.DeleteFunc(slices.Clone(c.problem.Sticks), func(s stock.Stick) bool { return !s.Rack && slices.Contains(names, s.Supplier) })
		if !slices.ContainsFunc(d.problem.Sticks, func(s stock.Stick) bool { return !s.Rack }) {
			return nil, false, nil
		}
		out, again = append(out, d), append(again, d)
	}
	alone := *o
	alone.Start = nil
	if err := solveAll(ctx, again, &alone, keep); err != nil {
		if errors.As(err, new(*optimize.InfeasibleError)) || errors.As(err, new(*optimize.LimitError)) {
			return nil, false, nil
		}
		return nil, false, err
	}
	return out, true, nil
}
