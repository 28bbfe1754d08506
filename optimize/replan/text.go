package replan

import (
	"fmt"
	"strings"

	"example.com/longpoint/measure"
)

// String describes the revision in a few lines: the spoiled pieces, what stays as planned and
// what does not, what to buy, the surplus and the cost. Money is in cents, the currency's minor
// unit; if nothing has a price, costs are lengths.
func (r *Revision) String() string {
	if r == nil {
		r = new(Revision)
	}
	var b strings.Builder
	for _, s := range r.Recut {
		fmt.Fprintf(&b, "cut again: %d of %s\n", s.Count, r.piece(s.Piece))
	}
	left, kept := 0, 0
	for _, o := range r.Changes {
		left += o.Left
		kept += o.Kept
	}
	switch {
	case r.Plan == nil:
		b.WriteString("nothing is left to cut\n")
	case left > 0:
		fmt.Fprintf(&b, "%d of %d sticks still to be cut stay as planned\n", kept, left)
	}
	for _, o := range r.Changes {
		if o.Kept == o.Left || r.Plan == nil {
			continue
		}
		fmt.Fprintf(&b, "pattern %d: %d of %d cut differently: %s", o.Pattern, o.Left-o.Kept, o.Left, o.Reason.says())
		switch {
		case o.Reason == ReasonNotNeeded:
			fmt.Fprintf(&b, ": %s", r.piece(o.Piece))
		case o.Reason == ReasonCostsMore && o.Extra > 0:
			fmt.Fprintf(&b, " by %s", r.amount(o.Extra))
		}
		b.WriteString("\n")
	}
	for _, run := range r.Respliced {
		fmt.Fprintf(&b, "spliced elsewhere: %s\n", r.run(run))
	}
	for _, p := range r.Buy {
		fmt.Fprintf(&b, "buy %d of %s\n", p.Count, r.stick(p.Stick))
	}
	for _, i := range r.Surplus {
		fmt.Fprintf(&b, "not needed: %d of %s, %v, %v long", i.Count, r.stick(i.Stick), i.Place, i.Length.About())
		if i.Refund > 0 {
			fmt.Fprintf(&b, ", %s back", r.amount(i.Refund*int64(i.Count)))
		}
		b.WriteString("\n")
	}
	if r.Plan != nil || r.Cost != 0 {
		b.WriteString(r.costs())
	}
	return b.String()
}

// costs describes the remaining cost, or length to buy, and its difference from the plan.
func (r *Revision) costs() string {
	verb := "paid"
	if r.ByLength {
		verb = "bought"
	}
	s := fmt.Sprintf("still to be %s: %s", verb, r.amount(r.Cost))
	switch extra := r.Extra(); {
	case extra > 0:
		s += fmt.Sprintf(", %s more than planned", r.amount(extra))
	case extra < 0:
		s += fmt.Sprintf(", %s less than planned", r.amount(-extra))
	}
	if r.Proven {
		s += ", proven to be the least"
	}
	return s + "\n"
}

// amount writes a cost of the revision.
func (r *Revision) amount(n int64) string {
	if r.ByLength {
		return measure.Length(n).About()
	}
	return fmt.Sprintf("%d cents", n)
}

// run names a run of the old problem.
func (r *Revision) run(i int) string {
	for k, old := range r.Runs {
		if old == i && k < len(r.Problem.Runs) && r.Problem.Runs[k].Label != "" {
			return fmt.Sprintf("%q", r.Problem.Runs[k].Label)
		}
	}
	return fmt.Sprintf("run %d", i)
}

// piece names a piece of the old problem.
func (r *Revision) piece(i int) string {
	for k, old := range r.Pieces {
		if old == i && k < len(r.Problem.Pieces) && r.Problem.Pieces[k].Label != "" {
			return fmt.Sprintf("%q", r.Problem.Pieces[k].Label)
		}
	}
	return fmt.Sprintf("piece %d", i)
}

// stick names a stick of the old problem.
func (r *Revision) stick(i int) string {
	for k, s := range r.Sticks {
		if s == (Owned{Stick: i}) && k < len(r.Problem.Sticks) && r.Problem.Sticks[k].Label != "" {
			return fmt.Sprintf("%q", r.Problem.Sticks[k].Label)
		}
	}
	return fmt.Sprintf("stick %d", i)
}
