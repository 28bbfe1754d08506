package optimize

import "example.com/longpoint/internal/solver/rules"

// divide divides sizes and costs by their greatest common divisors.
func (in *instance) divide() {
	m := &in.model
	var g, c int64
	size := func(see func(*int64)) {
		for i := range m.Items {
			if m.Items[i].Alone {
				continue
			}
			for w := range m.Items[i].Orientations {
				see(&m.Items[i].Orientations[w].Size)
			}
		}
		for b := range m.Bins {
			see(&m.Bins[b].Cap)
		}
		for k := range m.Kinds {
			kd := &m.Kinds[k]
			see(&kd.Hold)
			see(&kd.Kerf)
			see(&kd.Part[0])
			see(&kd.Part[1])
			for s := range kd.Salvage {
				see(&kd.Salvage[s].Length)
			}
		}
	}
	size(func(v *int64) { g = gcd(g, max(*v, -*v)) })
	for _, s := range m.Setbacks {
		g = gcd(g, s/2)
	}
	size(func(v *int64) { *v /= g })
	for s := range m.Setbacks {
		m.Setbacks[s] /= g
	}
	in.unit = g
	cost := func(see func(*int64)) {
		for i := range m.Classes {
			for t := range m.Classes[i].Tiers {
				see(&m.Classes[i].Tiers[t].Price)
			}
		}
		for b := range m.Bins {
			see(&m.Bins[b].Own[rules.Price])
		}
		for s := range m.Suppliers {
			see(&m.Suppliers[s].Charge)
		}
		for r := range m.Runs {
			for a := range m.Runs[r].Arcs {
				see(&m.Runs[r].Arcs[a].Cost)
			}
		}
	}
	cost(func(v *int64) { c = gcd(c, *v) })
	c = max(c, 1)
	cost(func(v *int64) { *v /= c })
	in.costUnit = c
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
