package optimize

import (
	"slices"

	"example.com/longpoint/internal/solver/rules"
)

// bar determines the items that each kind of stick cannot yield, and the greatest useful count of each item.
func (in *instance) bar() {
	for i := range in.model.Items {
		in.model.Items[i].Most = in.model.Items[i].Demand
	}
	for r := range in.model.Runs {
		for _, u := range in.model.Runs[r].Upper() {
			in.model.Items[u.Item].Most += u.N
		}
	}
	for k := range in.model.Kinds {
		var bars []bool
		any := false
		for i := range in.model.Items {
			bad := in.grades[i] > in.kindOf[k].grade || in.items[i].lot >= 0 && in.lotNames[in.items[i].lot] != in.kindOf[k].lot
			if part := in.model.Kinds[k].Part; part[0] > 0 && in.model.Items[i].Orientations[0].Size > max(part[0], part[1]) {
				bad = true // longer than either part left by the yard's cut
			}
			bars = append(bars, bad)
			any = any || bad
		}
		if any {
			in.model.Kinds[k].Barred = bars
		}
	}
	in.joinKinds()
	r := &in.problem.Rules
	in.model.Exact = r.MinHold > 0
	for i := range in.model.Items {
		for _, w := range in.model.Items[i].Orientations {
			// If an end reaches behind the other a neighbor may use that.
			s := int64(0)
			for _, c := range [2]int{w.Left, w.Right} {
				if c >= 0 {
					s += int64(in.ends[c].setback) * in.double
				}
			}
			if w.Left >= 0 && w.Left == w.Right {
				s /= 2
			}
			if s > w.Size {
				in.model.Exact = true
			}
		}
	}
	for _, e := range in.ends {
		in.model.Setbacks = append(in.model.Setbacks, int64(e.setback)*in.double)
	}
}

// joinKinds merges equal kinds.
func (in *instance) joinKinds() {
	// The key of kinds that may be equal; the rest is compared.
	type key struct {
		bars             string
		most, hold, kerf int64
		part             [2]int64
		trim             [2]bool
		spare            bool
	}
	var kinds []rules.PatternRules
	at := map[key][]int{}
	to := make([]int, len(in.model.Kinds))
next:
	for k := range in.model.Kinds {
		a := &in.model.Kinds[k]
		bars := make([]byte, len(a.Barred))
		for i, bad := range a.Barred {
			if bad {
				bars[i] = 1
			}
		}
		x := key{string(bars), a.Most, a.Hold, a.Kerf, a.Part, a.Trim, a.Spare}
		for _, j := range at[x] {
			if slices.Equal(a.Salvage, kinds[j].Salvage) {
				to[k] = j
				continue next
			}
		}
		to[k] = len(kinds)
		at[x] = append(at[x], len(kinds))
		kinds = append(kinds, *a)
	}
	in.model.Kinds = kinds
	for b := range in.model.Bins {
		in.model.Bins[b].Kind = to[in.model.Bins[b].Kind]
	}
}
