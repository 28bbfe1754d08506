package estimate_test

import (
	"errors"
	"math/big"
	"math/rand/v2"
	"reflect"
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// randomJob returns a job and terms with anything in them.
func randomJob(r *rand.Rand) (estimate.Alternative, estimate.Terms) {
	pick := func(names ...string) string { return names[r.IntN(len(names))] }
	some := func(most int64) measure.Ratio {
		if r.IntN(3) == 0 {
			return 0
		}
		return measure.Ratio(r.Int64N(most))
	}
	money := func() int64 {
		if r.IntN(4) == 0 {
			return 0
		}
		return r.Int64N([]int64{10, 1000, 500_000, 1 << 40}[r.IntN(4)])
	}
	job := estimate.Alternative{Label: "job", Net: measure.Length(r.Int64N(1 << 35)), StickCost: money(), Consumables: money(), Labor: measure.Duration(r.Int64N(int64(90 * hour)))}
	for i := range r.IntN(12) {
		c := estimate.Cost{Label: string(rune('a' + i)), Kind: estimate.CostKind(r.IntN(8)), Room: pick("", "classroom", "cloakroom", "corridor"),
			Profile: pick("", "base", "casing", "crown"), Step: pick("", "hang", "paint"), Risky: r.IntN(3) == 0, Taxed: r.IntN(4) == 0}
		if c.Kind == estimate.CostLabor {
			c.Labor = measure.Duration(r.Int64N(int64(9 * hour)))
			if r.IntN(3) == 0 {
				c.Wage = money()
			}
		} else {
			c.Amount = money()
		}
		if c.PassThrough = r.IntN(4) == 0; c.PassThrough {
			c.Markup = some(600_000)
		}
		job.Costs = append(job.Costs, c)
	}
	t := estimate.Terms{Wage: r.Int64N(20_000), Burden: some(700_000), Tax: some(200_000), Overhead: some(500_000), Contingency: some(300_000),
		ContingencyRisky: r.IntN(2) == 0, ContingencyAfter: r.IntN(2) == 0}
	if r.IntN(2) == 0 {
		t.Markup = some(2_000_000)
	} else {
		t.Margin = some(900_000)
	}
	t.TaxRule = estimate.TaxRule{Base: estimate.TaxBase(r.IntN(4)), ByClient: r.IntN(2) == 0, PassThrough: r.IntN(2) == 0}
	t.TaxRule.ByClient = t.TaxRule.ByClient || t.TaxRule.Base == estimate.TaxMaterialPrice
	if r.IntN(3) == 0 {
		t.Minimum = money()
	}
	t.Rounding = estimate.Rounding{PerTotal: r.IntN(2) == 0, HalfUp: r.IntN(2) == 0}
	if r.IntN(3) == 0 {
		t.Rounding.UpTo = 1 + r.Int64N(1000)
	}
	return job, t
}

// rat and the functions below compute the same price in a second way, term by term, for every cost by
// itself.
func rat(n int64) *big.Rat { return new(big.Rat).SetInt64(n) }

func share(x *big.Rat, n, d measure.Ratio) *big.Rat {
	return new(big.Rat).Mul(x, big.NewRat(int64(n), int64(d)))
}

const one = 100 * percent

func nearest(x *big.Rat, up bool) int64 {
	twice := new(big.Rat).Mul(x, rat(2))
	floor := new(big.Int).Div(x.Num(), x.Denom()).Int64()
	switch odd := twice.IsInt() && !x.IsInt(); {
	case odd && up, odd && floor%2 == 1:
		return floor + 1
	case odd:
		return floor
	}
	y := new(big.Rat).Add(x, big.NewRat(1, 2))
	return new(big.Int).Div(y.Num(), y.Denom()).Int64()
}

type model struct{ direct, cost, price, materials, clientTax int64 }

func priced(job estimate.Alternative, t estimate.Terms) model {
	r := func(x *big.Rat) *big.Rat {
		if t.Rounding.PerTotal {
			return x
		}
		return rat(nearest(x, t.Rounding.HalfUp))
	}
	costs := append([]estimate.Cost(nil), job.Costs...)
	for _, c := range []estimate.Cost{{Kind: estimate.CostTrim, Amount: job.StickCost}, {Kind: estimate.CostConsumables, Amount: job.Consumables}, {Kind: estimate.CostLabor, Labor: job.Labor}} {
		if c.Amount > 0 || c.Labor > 0 {
			costs = append(costs, c)
		}
	}
	plus := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Add(x, y) }
	plain := make([]*big.Rat, len(costs))
	for i, c := range costs {
		plain[i] = rat(c.Amount)
		if c.Kind == estimate.CostLabor {
			wage := t.Wage
			if c.Wage > 0 {
				wage = c.Wage
			}
			plain[i] = r(new(big.Rat).Mul(rat(wage), big.NewRat(int64(c.Labor), int64(hour))))
		}
	}
	isLabor := func(c estimate.Cost) bool { return c.Kind == estimate.CostLabor }
	in := func(c estimate.Cost) bool { return !c.PassThrough }
	labor, labors, others := new(big.Rat), 0, len(costs) == 0
	for i, c := range costs {
		if isLabor(c) {
			labor = plus(labor, plain[i])
			labors++
		}
		others = others || !isMaterial(c)
	}
	burden := r(share(labor, t.Burden, one))
	// A cost by itself bears burden by the rate; all labor together bears the line.
	burdened := func(i int) *big.Rat {
		if !isLabor(costs[i]) {
			return plain[i]
		}
		return share(plain[i], one+t.Burden, one)
	}
	sum := func(of func(c estimate.Cost) bool) *big.Rat {
		s, left := new(big.Rat), false
		for i, c := range costs {
			if of(c) {
				s = plus(s, burdened(i))
			}
			left = left || isLabor(c) && !of(c)
		}
		if !left {
			s = plus(s.Sub(s, share(labor, one+t.Burden, one)), plus(labor, burden))
		}
		return s
	}
	base := t.TaxRule.Base
	taxed := func(c estimate.Cost) bool {
		return base == estimate.TaxAll || base == estimate.TaxMaterialCost && isMaterial(c)
	}
	add := func(to, x *big.Rat) { to.Add(to, x) }
	direct := plus(sum(func(c estimate.Cost) bool { return true }), rat(0))
	cost := plus(direct, rat(0)) // all lines of cost
	marked := sum(in)            // the base of overhead and the like
	if !t.TaxRule.ByClient {
		inside, outside := rat(0), r(share(sum(taxed), t.Tax, one))
		if !t.TaxRule.PassThrough {
			inside = r(share(sum(func(c estimate.Cost) bool { return taxed(c) && in(c) }), t.Tax, one))
			outside = r(share(sum(func(c estimate.Cost) bool { return taxed(c) && !in(c) }), t.Tax, one))
		}
		add(cost, inside)
		add(cost, outside)
		add(marked, inside)
	}
	overhead := r(share(marked, t.Overhead, one))
	add(cost, overhead)
	add(marked, overhead)
	of := plus(marked, rat(0))
	if t.ContingencyRisky {
		of = sum(func(c estimate.Cost) bool { return in(c) && c.Risky })
	}
	contingency := r(share(of, t.Contingency, one))
	add(cost, contingency)
	if !t.ContingencyAfter {
		add(marked, contingency)
	}
	profit := r(share(marked, t.Markup, one))
	if t.Margin > 0 {
		profit = r(share(marked, t.Margin, one-t.Margin))
	}
	for i, c := range costs {
		if c.PassThrough {
			own := burdened(i)
			if isLabor(c) && labor.Cmp(plain[i]) == 0 && labors == 1 {
				own = plus(labor, burden)
			}
			add(profit, r(share(own, c.Markup, one)))
		}
	}
	m := model{direct: nearest(direct, t.Rounding.HalfUp), cost: nearest(cost, t.Rounding.HalfUp)}
	m.price = max(t.Minimum, nearest(plus(profit, cost), t.Rounding.HalfUp))
	if up := t.Rounding.UpTo; up > 0 {
		m.price = (m.price + up - 1) / up * up
	}
	m.materials = m.price
	if others {
		m.materials = min(m.price, nearest(materials(costs, t, sum, burdened), t.Rounding.HalfUp))
	}
	if t.TaxRule.ByClient {
		due := map[estimate.TaxBase]*big.Rat{estimate.TaxAll: rat(m.price), estimate.TaxMaterialPrice: rat(m.materials), estimate.TaxMaterialCost: sum(taxed), estimate.TaxNone: rat(0)}
		m.clientTax = nearest(share(due[base], t.Tax, one), t.Rounding.HalfUp)
	}
	return m
}

func isMaterial(c estimate.Cost) bool {
	return c.Taxed || c.Kind == estimate.CostTrim || c.Kind == estimate.CostConsumables
}

// materials is the price of materials, one after the other by the shares of the terms.
func materials(costs []estimate.Cost, t estimate.Terms, sum func(func(estimate.Cost) bool) *big.Rat, burdened func(int) *big.Rat) *big.Rat {
	plus := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Add(x, y) }
	total := new(big.Rat)
	for _, apart := range []bool{false, true} {
		for _, risky := range []bool{false, true} {
			d := sum(func(c estimate.Cost) bool { return isMaterial(c) && c.PassThrough == apart && c.Risky == risky })
			x := plus(d, rat(0))
			tax := new(big.Rat)
			if !t.TaxRule.ByClient && (t.TaxRule.Base == estimate.TaxAll || t.TaxRule.Base == estimate.TaxMaterialCost) {
				tax = share(d, t.Tax, one)
			}
			if apart {
				total = plus(total, plus(d, tax))
				continue
			}
			if !t.TaxRule.PassThrough {
				x = plus(x, tax)
			}
			x = plus(x, share(x, t.Overhead, one))
			contingency := share(x, t.Contingency, one)
			if t.ContingencyRisky {
				contingency = new(big.Rat)
				if risky {
					contingency = share(d, t.Contingency, one)
				}
			}
			marked := x
			if !t.ContingencyAfter {
				marked = plus(x, contingency)
			}
			profit := share(marked, t.Markup, one)
			if t.Margin > 0 {
				profit = share(marked, t.Margin, one-t.Margin)
			}
			total = plus(total, plus(plus(x, contingency), profit))
			if t.TaxRule.PassThrough {
				total = plus(total, tax)
			}
		}
	}
	for i, c := range costs {
		if c.PassThrough && isMaterial(c) {
			own := burdened(i)
			if c.Kind == estimate.CostLabor {
				own = sum(func(x estimate.Cost) bool { return x == c })
			}
			total = plus(total, share(own, c.Markup, one))
		}
	}
	return total
}

// Ten thousand jobs under any terms, or 2,500 in short mode: the price is that of the model, and every
// table adds up to the cent.
func TestCentsAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	cases := 10_000
	if testing.Short() {
		cases = 2_500
	}
	for n := range cases {
		job, terms := randomJob(r)
		q, err := estimate.NewQuote(job, terms)
		if over := (*measure.RangeError)(nil); errors.As(err, &over) && job.Net < measure.Inch {
			continue
		}
		if err != nil {
			t.Fatalf("%d: %+v, %+v: %v", n, job, terms, err)
		}
		if n%20 == 0 && !reflect.DeepEqual(q, must[*estimate.Quote](t)(estimate.NewQuote(job, terms))) {
			t.Fatalf("%d: two runs differ", n)
		}
		for _, c := range q.Costs {
			if c.Loaded < c.Direct-1 || c.Price < c.Loaded || c.ClientTax < 0 {
				t.Fatalf("%d: %+v has a smaller share than its cost", n, c)
			}
		}
		if got, want := (model{q.Direct, q.Cost, q.Price, q.Materials, q.ClientTax}), priced(job, terms); !terms.Rounding.PerTotal && got != want ||
			got.cost != want.cost || got.price != want.price || got.materials != want.materials || got.clientTax != want.clientTax || max(got.direct-want.direct, want.direct-got.direct) > 12 {
			t.Fatalf("%d: %+v\n%+v:\n%+v, want %+v", n, job, terms, got, want)
		}
		checkTables(t, n, q)
	}
}

func checkTables(t *testing.T, n int, q *estimate.Quote) {
	t.Helper()
	lines, parts := int64(0), map[estimate.Part]int64{}
	for _, l := range q.Lines {
		lines += l.Amount
		parts[l.Part] += l.Amount
		if l.Amount < 0 {
			t.Fatalf("%d: %+v", n, l)
		}
	}
	cost := parts[estimate.PartDirect] + parts[estimate.PartBurden] + parts[estimate.PartTax] + parts[estimate.PartOverhead] + parts[estimate.PartContingency]
	if lines != q.Total || cost != q.Cost || parts[estimate.PartDirect]+parts[estimate.PartBurden] != q.Direct || parts[estimate.PartClientTax] != q.ClientTax || q.Price+q.ClientTax != q.Total {
		t.Fatalf("%d: lines sum to %d, cost %d: %+v", n, lines, cost, q)
	}
	for name, rows := range map[string][]estimate.TableRow{"room": q.ByRoom(), "profile": q.ByProfile(), "step": q.ByStep(), "kind": q.ByKind()} {
		var sum estimate.TableRow
		seen := map[string]bool{}
		for _, r := range rows {
			sum.Labor += r.Labor
			sum.Direct += r.Direct
			sum.Cost += r.Cost
			sum.Price += r.Price
			sum.ClientTax += r.ClientTax
			if seen[r.Label] {
				t.Fatalf("%d: %s twice by %s", n, r.Label, name)
			}
			seen[r.Label] = true
		}
		if sum != (estimate.TableRow{Labor: q.Labor, Direct: q.Direct, Cost: q.Cost, Price: q.Price, ClientTax: q.ClientTax}) {
			t.Fatalf("%d: by %s %+v, quote %+v", n, name, sum, q)
		}
	}
}
