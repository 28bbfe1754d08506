package optimize

import (
	"math"
	"slices"
)

// spareSteps bounds the table that finds the cheapest sticks to spare; beyond it those of the
// lowest price will do.
const spareSteps = 1 << 24

// spareTable finds the cheapest purchase with enough sticks to spare: for each number of them
// up to that, what the sticks so far add to the cost at least.
type spareTable struct {
	q      *Problem
	least  []int64 // -1: not to be had
	layers []spareLayer
}

// spareLayer is how the numbers of a table came about. A layer without a stick ends the
// sticks of a supplier of which nothing is cut; it goes back to the table before them where
// that is cheaper.
type spareLayer struct {
	stick   int // -1: none
	options []spareOption
	option  []int // per number to spare: the option
	from    []int // and what was there before
	before  int   // for no stick: the layers before the supplier
	skip    []bool
}

// spareOption is a number of a stick to buy, and what it adds.
type spareOption struct {
	count, gain int
	cost, more  int64
}

// options lists the numbers of a stick that may be best, by what they leave to spare.
func (t *spareTable) options(i, cut, count int, cost, price int64, byLength bool) []spareOption {
	most := t.q.Rules.Spare
	out := []spareOption{{count, min(most, count-cut), cost, 0}}
	for extra := out[0].gain + 1; extra <= most; extra++ {
		c, v, ok := cheapest(t.q, i, cut+extra, price, byLength)
		if !ok {
			break // nor are there more
		}
		out = append(out, spareOption{c, min(most, c-cut), v, v - cost})
		extra = max(extra, min(most, c-cut))
	}
	return out
}

// add adds a stick to the table.
func (t *spareTable) add(i int, options []spareOption) {
	l := spareLayer{stick: i, options: options, option: make([]int, len(t.least)), from: make([]int, len(t.least))}
	next := slices.Repeat([]int64{-1}, len(t.least))
	for n, v := range t.least {
		if v < 0 {
			continue
		}
		for k, o := range options {
			if o.more > math.MaxInt64-v {
				continue
			}
			if at := min(len(next)-1, n+o.gain); next[at] < 0 || v+o.more < next[at] {
				next[at], l.option[at], l.from[at] = v+o.more, k, n
			}
		}
	}
	t.least, t.layers = next, append(t.layers, l)
}

// join ends the sticks of a supplier that asks for a charge.
func (t *spareTable) join(without []int64, before int, charge int64) {
	l := spareLayer{stick: -1, before: before, skip: make([]bool, len(t.least))}
	for n, v := range t.least {
		if v >= 0 && charge <= math.MaxInt64-v {
			v += charge
		} else {
			v = -1
		}
		if l.skip[n] = v < 0 || without[n] >= 0 && without[n] <= v; l.skip[n] {
			v = without[n]
		}
		t.least[n] = v
	}
	t.layers = append(t.layers, l)
}

// take writes down the purchase that has all to spare.
func (t *spareTable) take(count []int, cost []int64) bool {
	n := len(t.least) - 1
	if t.least[n] < 0 {
		return false
	}
	for k := len(t.layers) - 1; k >= 0; k-- {
		l := &t.layers[k]
		if l.stick < 0 {
			if l.skip[n] {
				k = l.before
			}
			continue
		}
		o := l.options[l.option[n]]
		count[l.stick], cost[l.stick] = o.count, o.cost
		n = l.from[n]
	}
	return true
}

// spareCheapest adds the cheapest sticks to have as many to spare as the rules ask for, with
// the charges of suppliers of whom nothing else is bought.
func spareCheapest(q *Problem, fits []int, cut, count []int, price, cost []int64, byLength bool) bool {
	charge := map[string]int64{}
	for _, ch := range q.Rules.Charges {
		charge[ch.Supplier] = ch.Amount
	}
	for i, n := range count {
		if n > 0 {
			delete(charge, q.Sticks[i].Supplier) // paid already
		}
	}
	t := &spareTable{q: q, least: slices.Repeat([]int64{-1}, q.Rules.Spare+1)}
	t.least[0] = 0
	of := map[string][]int{} // sticks of suppliers that are still to be paid
	var suppliers []string
	for _, i := range fits {
		s := &q.Sticks[i]
		if charge[s.Supplier] == 0 {
			t.add(i, t.options(i, cut[i], count[i], cost[i], price[i], byLength))
			continue
		}
		if of[s.Supplier] == nil {
			suppliers = append(suppliers, s.Supplier)
		}
		of[s.Supplier] = append(of[s.Supplier], i)
	}
	for _, supplier := range suppliers {
		without, before := slices.Clone(t.least), len(t.layers)
		for _, i := range of[supplier] {
			t.add(i, t.options(i, cut[i], count[i], cost[i], price[i], byLength))
		}
		t.join(without, before, charge[supplier])
	}
	return t.take(count, cost)
}
