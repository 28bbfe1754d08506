package run

import (
	"fmt"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
)

// checkPlan checks a result's plan against the problem.
func checkPlan(p *model.Problem, r search.Result) error {
	made := make([]int64, len(p.Items))
	used := make([]int64, len(p.Bins))
	var cost int64
	for k, c := range r.Patterns {
		if c.Bin < 0 || c.Bin >= len(p.Bins) || c.Count <= 0 || len(c.Uses) == 0 {
			return fmt.Errorf("pattern %d: bin %d, count %d, %d uses", k, c.Bin, c.Count, len(c.Uses))
		}
		room, last := p.Bins[c.Bin].Cap, -1
		for _, u := range c.Uses {
			if u.Item <= last || u.Item >= len(p.Items) || u.N <= 0 {
				return fmt.Errorf("pattern %d: uses %v out of order", k, c.Uses)
			}
			last = u.Item
			if u.N > room/p.Items[u.Item].Size {
				return fmt.Errorf("pattern %d: overfull", k)
			}
			room -= u.N * p.Items[u.Item].Size
			if made[u.Item] += u.N * c.Count; made[u.Item] > p.Items[u.Item].Demand {
				return fmt.Errorf("item %d: more made than the %d wanted", u.Item, p.Items[u.Item].Demand)
			}
		}
		if used[c.Bin] += c.Count; used[c.Bin] > p.Bins[c.Bin].Limit {
			return fmt.Errorf("bin %d: more used than the %d there are", c.Bin, p.Bins[c.Bin].Limit)
		}
		cost += c.Count * p.Bins[c.Bin].Cost
	}
	for i, n := range made {
		if n != p.Items[i].Demand {
			return fmt.Errorf("item %d: %d made, %d wanted", i, n, p.Items[i].Demand)
		}
	}
	if cost != r.Cost {
		return fmt.Errorf("cost %d claimed, the plan costs %d", r.Cost, cost)
	}
	if r.Bound > r.Cost {
		return fmt.Errorf("bound %d above cost %d", r.Bound, r.Cost)
	}
	return nil
}
