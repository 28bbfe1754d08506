package pricing

import (
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// Oracle finds columns of one family: the patterns of a kind of stick, or the assemblies of a
// run. A column has a place, the bin that it fills or its run; places are numbered
// consecutively, the bins first. The gain of a column is the value of its items minus its cost
// by the criteria; an assembly consumes items, so its gain is negative.
type Oracle interface {
	// Places returns the family's places.
	Places() []int

	// Build prices the columns of the family. For each of its places that is not closed it sets best to
	// an upper bound on the gain of a column there, exact if possible. It may ignore patterns that gain
	// less than Need and return Need. It may offer columns that it finds to add; if add is nil, a bound
	// on the best suffices. It reports false if it needs too much memory or work.
	Build(d *Prices, best []int64, add func(rules.Column) bool, mt *meter.Meter) bool

	// Columns offers built columns to add, which reports whether a column is new: for each place the
	// one that gains most, and different ones, as far as they gain at least tol more than needed.
	Columns(tol int64, add func(rules.Column) bool, mt *meter.Meter)

	// Enumerate calls visit for every column of the place that gains at least need at the
	// prices of the last Build, until visit returns false or the meter runs out. It reports
	// whether it visited all. The column is valid during the call only.
	Enumerate(place int, need int64, mt *meter.Meter, visit func(c rules.Column, gain int64) bool) bool

	// Maximal reports whether no item can be added to a column of the family within the
	// problem's limits.
	Maximal(c *rules.Column) bool

	// Worth returns an upper bound on the value of the items of one column with these duals.
	Worth(dual []float64, limit []int64, weight *[rules.Criteria]float64) float64
}

// Prices has the prices of items and places.
type Prices struct {
	Item   []int64 // the value of one of each item
	Weight [rules.Criteria]int64
	Need   []int64 // per place: the gain that a column must exceed to be useful
	Limit  []int64 // per item: the most that a pattern holds
}

// Closed is the need of a place for which no columns are wanted.
const Closed = math.MaxInt64

// mostHits limits how many of the columns added at a time may hold the same item.
const mostHits = 4

// diversity ensures that columns added at a time hold different items: column generation
// depends on many different columns per round.
type diversity struct {
	hits   []int
	took   int
	enough int
}

func (v *diversity) reset(items, enough int) {
	if len(v.hits) < items {
		v.hits = make([]int, items)
	}
	clear(v.hits)
	v.took, v.enough = 0, enough
}

// full reports whether enough patterns hold an item.
func (v *diversity) full(item int) bool { return v.hits[item] >= mostHits }

// same reports whether a pattern holds an item that enough others hold.
func (v *diversity) same(uses []rules.Use) bool {
	if v.took == 0 {
		return false
	}
	for _, u := range uses {
		if v.full(u.Item) {
			return true
		}
	}
	return false
}

// take counts a pattern and reports whether there are enough.
func (v *diversity) take(uses []rules.Use) bool {
	for _, u := range uses {
		v.hits[u.Item]++
	}
	v.took++
	return v.took >= v.enough
}
