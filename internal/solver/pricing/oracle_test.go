package pricing

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// patternsOf lists every pattern of a bin that the rules allow, by trying all numbers of all items in all
// orientations.
func patternsOf(p *rules.Problem, bin int) (out []rules.Pattern) {
	var uses []rules.Use
	var rec func(i, way int, left int64)
	rec = func(i, way int, left int64) {
		switch {
		case i == len(p.Items):
			f := rules.Pattern{Bin: bin, Uses: slices.Clone(uses)}
			if len(uses) > 0 {
				if _, ok := p.Fill(&f); ok {
					out = append(out, f)
				}
			}
			return
		case way == len(p.Items[i].Orientations):
			if i++; i < len(p.Items) {
				rec(i, 0, p.Items[i].Most)
			} else {
				rec(i, 0, 0)
			}
			return
		}
		rec(i, way+1, left)
		for n := int64(1); n <= left; n++ {
			uses = append(uses, rules.Use{Item: i, Orient: way, N: n})
			rec(i, way+1, left-n)
			uses = uses[:len(uses)-1]
		}
	}
	rec(0, 0, p.Items[0].Most)
	return out
}

// mostOf returns the most of each item that a pattern may hold.
func mostOf(p *rules.Problem) (most []int64) {
	for i := range p.Items {
		most = append(most, p.Items[i].Most)
	}
	return most
}

// gainOf is the gain of a pattern: the values of its items minus its costs.
func gainOf(p *rules.Problem, f *rules.Pattern, value []int64, weight [rules.Criteria]int64) int64 {
	x, _ := p.Fill(f)
	c := p.Costs(f, &x)
	g := int64(0)
	for k, w := range weight {
		g -= w * c[k]
	}
	for _, u := range f.Uses {
		g += u.N * value[u.Item]
	}
	return g
}

// The oracle for patterns against all patterns: its best is the best gain, or a bound if it says so; it
// enumerates exactly the patterns that gain enough; and the automaton accepts all valid patterns.
func TestKnapsackOracleAgainstEveryPattern(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 3))
	bins, patterns, bounds, enumerated := 0, 0, 0, 0
	for i := range 2500 {
		with := solvertest.Feature(1) << r.IntN(10)
		with |= 1 << r.IntN(10)
		p := solvertest.Tiny(r, with)
		for k := range p.Kinds {
			if r.IntN(2) == 0 {
				p.Kinds[k].Salvage = []rules.SalvageStep{{Length: 1 + r.Int64N(9), Value: 1 + r.Int64N(5)}, {Length: 12 + r.Int64N(9), Value: 6 + r.Int64N(9)}}
			}
		}
		value := make([]int64, len(p.Items))
		for i := range value {
			value[i] = r.Int64N(40)
		}
		weight := [rules.Criteria]int64{rules.Price: 1, rules.Sticks: r.Int64N(2), rules.Salvage: r.Int64N(2)}
		if r.IntN(4) == 0 {
			weight[rules.Cuts] = r.Int64N(4)
		}
		for k := range p.Kinds {
			need := make([]int64, len(p.Bins))
			for b := range p.Bins {
				need[b] = Closed
				if p.Bins[b].Kind == k {
					need[b] = r.Int64N(60) - 20
				}
			}
			o, most := NewKnapsack(p, k), make([]int64, len(p.Bins))
			d := Prices{Item: value, Weight: weight, Need: need, Limit: mostOf(p)}
			if !o.Build(&d, most, nil, new(meter.Meter)) {
				t.Fatalf("case %d: gave up", i)
			}
			for _, b := range o.Places() {
				want, best := map[string]bool{}, int64(None)
				for _, f := range patternsOf(p, b) {
					g := gainOf(p, &f, value, weight)
					if best = max(best, g); g >= need[b] {
						want[fmt.Sprint(f.Uses)] = true
					}
					patterns++
				}
				// The table counts an uncut stick, which is not a pattern.
				exact := !o.relaxed() && weight[rules.Salvage] == 0 && best >= -o.own(b)
				if got := most[b]; got < best && best >= need[b] || exact && best >= need[b] && got != best {
					t.Fatalf("case %d: best %d of bin %d, there is one of %d, need %d\n%+v", i, got, b, best, need[b], p)
				}
				if !exact {
					bounds++
				}
				bins++
				if !o.Enumerate(b, need[b], new(meter.Meter), func(c rules.Column, gain int64) bool {
					f := *c.Fill
					key := fmt.Sprint(f.Uses)
					if g := gainOf(p, &f, value, weight); g != gain || !want[key] {
						t.Fatalf("case %d: %s of bin %d gains %d, is %d, wanted %v, need %d\n%+v", i, key, b, gain, g, want[key], need[b], p)
					}
					delete(want, key)
					enumerated++
					return true
				}) {
					t.Fatalf("case %d: not all were visited", i)
				}
				if len(want) > 0 {
					t.Fatalf("case %d: bin %d also has %v, need %d\n%+v", i, b, want, need[b], p)
				}
			}
		}
	}
	if bins < 3000 || patterns < 20_000 || bounds < 300 || enumerated < 5000 {
		t.Errorf("%d bins, %d patterns, %d with only a bound, %d enumerated", bins, patterns, bounds, enumerated)
	}
}

// The oracle for assemblies against all paths.
func TestPathOracleAgainstEveryPath(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 44))
	paths, dead := 0, 0
	for i := range 3000 {
		run := &rules.Run{Nodes: 2 + r.IntN(4), Most: r.IntN(4)}
		for from := range run.Nodes - 1 {
			for range r.IntN(4) {
				run.Arcs = append(run.Arcs, rules.Arc{From: from, To: from + 1 + r.IntN(run.Nodes-1-from), Item: r.IntN(3), N: 1 + r.Int64N(2), Cost: r.Int64N(6), Splices: r.Int64N(2)})
			}
		}
		value := []int64{r.Int64N(9), r.Int64N(9), r.Int64N(9)}
		weight := [rules.Criteria]int64{rules.Price: 1 + r.Int64N(3), rules.Splices: r.Int64N(3)}
		costs := map[string]int64{}
		best := int64(rules.NoCost)
		var rec func(v int, p rules.Path, cost int64)
		rec = func(v int, p rules.Path, cost int64) {
			if v == run.Nodes-1 {
				costs[fmt.Sprint(p)] = cost
				best = min(best, cost)
				return
			}
			for a, arc := range run.Arcs {
				if arc.From == v && (run.Most == 0 || len(p) < run.Most) {
					rec(arc.To, append(slices.Clone(p), a), cost+weight[rules.Price]*arc.Cost+weight[rules.Splices]*arc.Splices+arc.N*value[arc.Item])
				}
			}
		}
		rec(0, rules.Path{}, 0)
		o := NewPaths(&rules.Problem{Runs: []rules.Run{*run}}, 0)
		if got := o.Price(value, &weight); got != best {
			t.Fatalf("case %d: %d, the cheapest path costs %d\n%+v", i, got, best, run)
		}
		if best == rules.NoCost {
			dead++
			continue
		}
		limit := best + r.Int64N(12)
		first := true
		if !o.Walk(limit, func(p rules.Path, cost int64) bool {
			if want, ok := costs[fmt.Sprint(p)]; !ok || want != cost || cost > limit || first && cost != best {
				t.Fatalf("case %d: path %v costs %d, is %d %v\n%+v", i, p, cost, want, ok, run)
			}
			first = false
			delete(costs, fmt.Sprint(p))
			paths++
			return true
		}) {
			t.Fatalf("case %d: not all were visited", i)
		}
		for p, cost := range costs {
			if cost <= limit {
				t.Fatalf("case %d: path %s of %d was omitted, limit %d\n%+v", i, p, cost, limit, run)
			}
		}
	}
	if paths < 2500 || dead < 100 {
		t.Errorf("%d paths, %d runs without any", paths, dead)
	}
}
