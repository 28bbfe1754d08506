package optimize

import (
	"math"
	"slices"
)

// spareSteps limits the table that finds the cheapest spare sticks; beyond it, those of the
// lowest price are taken.
const spareSteps = 1 << 24

// spareTable finds the cheapest purchase with enough spare sticks: for each number of spares,
// the least cost that the sticks so far add.
type spareTable struct {
	q      *Problem
	least  []int64 // -1: not available
	layers []spareLayer
}

// spareLayer records the choices of one step of a table. A layer without a stick completes a
// supplier from whom nothing is cut; it reverts to the table before that supplier if that is
// cheaper.
type spareLayer struct {
	stick   int // -1: none
	options []spareOption
	option  []int // per number of spares: the option
	from    []int // and the previous number
	before  int   // for no stick: the layers before the supplier
	skip    []bool
}

// spareOption is a number of one stick to buy, and the spares and cost that it adds.
type spareOption struct {
	count, gain int
	cost, more  int64
}

// options lists the numbers of a stick that may be best, by the spares that they leave.
func (t *spareTable) options(i, cut, count int, cost, price int64, byLength bool) []spareOption {
	most := t.q.Rules.Spare
	out := []spareOption{{count, min(most, count-cut), cost, 0}}
	for extra := out[0].gain + 1; extra <= most; extra++ {
		c, v, ok := cheapest(t.q, i, cut+extra, price, byLength)
		if !ok {
			break // the supply ends here
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

// join completes a supplier with a charge.
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

// take writes the purchase that has all spares.
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

// spareCheapest adds the cheapest sticks that give the required spares, including the charges
// of suppliers from whom nothing else is bought.
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
	of := map[string][]int{} // sticks of suppliers whose charge is not yet paid
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
