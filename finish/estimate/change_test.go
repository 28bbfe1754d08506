package estimate_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// 12 sticks at 33.50 become 14 at 35.00 (derived): 67.00 more for quantity, 21.00 for rate.
func TestQuantityAndRate(t *testing.T) {
	price := func(n, amount int64, hours measure.Duration, wage int64) *estimate.Quote {
		return must[*estimate.Quote](t)(estimate.NewQuote(estimate.Alternative{Label: "job", Costs: []estimate.Cost{
			{Label: "base", Kind: estimate.CostTrim, Room: "classroom", Quantity: finish.Count(n), Amount: amount},
			{Label: "hang", Kind: estimate.CostLabor, Room: "classroom", Labor: hours},
			{Label: "paint", Kind: estimate.CostConsumables, Quantity: finish.AmountOf(measure.Quart), Amount: 1999},
		}}, estimate.Terms{Wage: wage}))
	}
	c := must[*estimate.Change](t)(estimate.NewChange(price(12, 40200, 10*hour, 4000), price(14, 49000, 9*hour, 4400)))
	want := [][2]int64{{6700, 2100}, {-4000, 3600}} // an hour less at 40.00, 9 h at 4.00 more
	if len(c.Lines) != 2 || c.DirectElsewhere != 0 || c.Labor != -hour {
		t.Fatalf("%+v", c)
	}
	for i, l := range c.Lines {
		if l.Change != estimate.ChangeModified || [2]int64{l.ByQuantity, l.ByRate} != want[i] {
			t.Errorf("%+v, want %v", l, want[i])
		}
	}
}

// However two jobs differ, the lines and the remainder sum to the difference, the reverse change is its
// opposite, and no unchanged line is named.
func TestChangeAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 17))
	for n := range 3_000 {
		a, terms := randomJob(r)
		b, other := randomJob(r)
		if r.IntN(2) == 0 {
			other = terms
		}
		if r.IntN(2) == 0 { // much the same job
			b = a
			b.Costs = append([]estimate.Cost(nil), a.Costs...)
			if k := len(b.Costs); k > 0 {
				b.Costs = append(b.Costs[:r.IntN(k)], b.Costs[1+r.IntN(k):]...)
			}
		}
		a.Net, b.Net = 0, 0
		x, err1 := estimate.NewQuote(a, terms)
		y, err2 := estimate.NewQuote(b, other)
		if err1 != nil || err2 != nil { // a cost twice, where b was cut up
			continue
		}
		there, back := must[*estimate.Change](t)(estimate.NewChange(x, y)), must[*estimate.Change](t)(estimate.NewChange(y, x))
		if there.Total != y.Total-x.Total || there.Total != -back.Total || len(there.Lines) != len(back.Lines) {
			t.Fatalf("%d: %+v, back %+v", n, there, back)
		}
		direct, price := there.DirectElsewhere, there.PriceElsewhere
		for _, l := range there.Lines {
			direct += l.ByQuantity + l.ByRate
			price += l.Price
			if l.ByQuantity+l.ByRate != l.Now.Direct-l.Was.Direct || l.Price != l.Now.Price-l.Was.Price {
				t.Fatalf("%d: %+v", n, l)
			}
		}
		parts := int64(0)
		for _, p := range there.Parts {
			parts += p.Now - p.Was
		}
		if parts != there.Total {
			t.Fatalf("%d: parts sum to %d: %+v", n, parts, there)
		}
		if direct != there.Direct || price != there.Price || there.Price+there.ClientTax != there.Total {
			t.Fatalf("%d: lines sum to %d and %d: %+v", n, direct, price, there)
		}
		if same := must[*estimate.Change](t)(estimate.NewChange(x, x)); !reflect.DeepEqual(same, &estimate.Change{Was: "job", Now: "job"}) {
			t.Fatalf("%d: against itself %+v", n, same)
		}
	}
}

func TestChangeOfAnything(t *testing.T) {
	edge := func() *estimate.Quote {
		return &estimate.Quote{Total: math.MaxInt64, Costs: []estimate.CostShare{{Cost: estimate.Cost{Label: "x", Quantity: finish.Count(math.MaxInt64)}, Direct: math.MaxInt64}, {Cost: estimate.Cost{Label: "x"}}}}
	}
	low := edge()
	low.Total, low.Costs[0].Direct, low.Costs[0].Quantity = -5, math.MinInt64, finish.Count(1)
	if _, err := estimate.NewChange(low, edge()); !errors.As(err, new(*measure.RangeError)) {
		t.Errorf("%v, want a RangeError", err)
	}
	if c, err := estimate.NewChange(nil, nil); err != nil || c.Total != 0 {
		t.Error(c, err)
	}
	if c, err := estimate.NewChange(nil, edge()); err != nil || c.Total != math.MaxInt64 || len(c.Lines) != 2 {
		t.Error(c, err)
	}
}

// The new total is the old and the sum of the orders, whatever rounds up.
func TestChangeOrdersTelescope(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 23))
	for range 300 {
		job, terms := randomJob(r)
		job.Net = 0
		terms.Rounding.UpTo = 500
		was := must[*estimate.Quote](t)(estimate.NewQuote(job, terms))
		contract := estimate.Contract{Label: "workshop", Price: was.Total, Days: 9}
		for k := range 4 {
			next, _ := randomJob(r)
			next.Net = 0
			now := must[*estimate.Quote](t)(estimate.NewQuote(next, terms))
			o := must[*estimate.ChangeOrder](t)(estimate.NewChangeOrder(string(rune('A'+k)), was, now, int64(k)-1))
			contract.Orders = append(contract.Orders, *o)
			was = now
		}
		got := must[estimate.ContractTotal](t)(contract.Total())
		if got.Price != was.Total || got.Days != 11 {
			t.Fatalf("%+v, want %d", got, was.Total)
		}
	}
}

func TestContractFaults(t *testing.T) {
	_, err := estimate.Contract{Price: 100, Days: 1, Orders: []estimate.ChangeOrder{{Label: "a", Price: -101, Days: -2}, {Label: "a", Price: 500, Days: 5}, {Price: 1}}}.Total()
	fields(t, err, "orders[0].price", "orders[0].days", "orders[1].label", "orders[2].label")
	_, err = estimate.Contract{Price: -1, Days: -1}.Total()
	fields(t, err, "price", "days")
	_, err = estimate.Contract{Price: math.MaxInt64, Orders: []estimate.ChangeOrder{{Label: "a", Price: 1}}}.Total()
	if !errors.As(err, new(*measure.RangeError)) {
		t.Error(err)
	}
	_, err = estimate.NewChangeOrder("", nil, nil, 0)
	fields(t, err, "label")
}

// Quantities of any kind are divided exactly; those of two kinds, or without end, say nothing.
func TestQuantitiesOfAnyKind(t *testing.T) {
	half := must[finish.Amount](t)(finish.ParseAmount("2.5 ct"))
	for _, c := range []struct {
		was, now finish.Amount
		quantity int64 // of 30.00 more on 40.00
	}{
		{finish.AmountOf(100 * ft), finish.AmountOf(150 * ft), 2000},
		{finish.AmountOf(measure.Area(8)), finish.AmountOf(measure.Area(10)), 1000},
		{finish.AmountOf(measure.Gallon), finish.AmountOf(measure.Quart), -3000},
		{finish.AmountOf(2 * measure.Pound), finish.AmountOf(3 * measure.Pound), 2000},
		{half, finish.Count(5), 4000},
		{finish.Count(5), half, -2000},
		{finish.Count(5), finish.AmountOf(ft), 0},
		{finish.Amount{}, finish.Count(5), 0},
		{finish.Count(1 << 62), finish.Count(1), 0},
	} {
		quote := func(q finish.Amount, amount int64) *estimate.Quote {
			return must[*estimate.Quote](t)(estimate.NewQuote(estimate.Alternative{Label: "job", Costs: []estimate.Cost{{Label: "x", Quantity: q, Amount: amount}}}, estimate.Terms{}))
		}
		got := must[*estimate.Change](t)(estimate.NewChange(quote(c.was, 4000), quote(c.now, 7000)))
		if l := got.Lines[0]; l.ByQuantity != c.quantity || l.ByRate != 3000-c.quantity {
			t.Errorf("%v to %v: %d by quantity, %d by rate; want %d", c.was, c.now, l.ByQuantity, l.ByRate, c.quantity)
		}
	}
}
