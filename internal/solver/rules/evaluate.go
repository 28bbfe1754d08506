package rules

// Evaluate computes each criterion of a plan. It returns false if the plan is not valid.
func Evaluate(p *Problem, plan []ColumnCount) ([Criteria]int64, bool) {
	var sum [Criteria]int64
	made := make([]int64, len(p.Items))
	used := make([]int64, len(p.Bins))
	ways := make([]int64, len(p.Runs))
	for _, q := range plan {
		for k := range sum {
			sum[k] += q.N * q.Column.Cost[k]
		}
		if f := q.Column.Fill; f != nil {
			used[f.Bin] += q.N
			for _, u := range f.Uses {
				made[u.Item] += q.N * u.N
			}
			continue
		}
		ways[q.Column.Run] += q.N
		uses := p.Runs[q.Column.Run].Uses(q.Column.Path)
		for _, u := range uses {
			made[u.Item] -= q.N * u.N
		}
	}
	for i := range p.Items {
		if made[i] < p.Items[i].Demand || p.Exact && made[i] != p.Items[i].Demand {
			return sum, false
		}
	}
	for _, n := range ways {
		if n != 1 {
			return sum, false
		}
	}
	n := p.Counts(used)
	cost, ok := p.Bought(n)
	if !ok {
		return sum, false
	}
	sum[Price] += cost
	for c := range p.Classes {
		sum[Sticks] += p.Classes[c].Count * n[c]
		sum[Salvage] += p.Classes[c].Idle * n[c]
	}
	return sum, true
}

// Counts returns the number of sticks of each class that provide the given number of bins.
func (p *Problem) Counts(used []int64) []int64 {
	n := make([]int64, len(p.Classes))
	for c := range p.Classes {
		for _, b := range p.Classes[c].Bins {
			n[c] = max(n[c], used[b])
		}
	}
	return n
}

// Bought returns the cost of n[c] sticks of each class c, charges included.
func (p *Problem) Bought(n []int64) (int64, bool) {
	total := int64(0)
	for c := range p.Classes {
		if n[c] > p.Classes[c].Limit-p.Classes[c].Settled {
			return 0, false
		}
		_, v := p.Classes[c].Extra(n[c])
		if v == NoCost {
			return 0, false
		}
		total += v
	}
	for g := range p.Suppliers {
		for _, c := range p.Suppliers[g].Classes {
			if n[c] > 0 {
				total += p.Suppliers[g].Charge
				break
			}
		}
	}
	return total, true
}
