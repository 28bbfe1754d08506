package pricing

import (
	"math"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/rules"
)

// Oracle finds columns of one family: the patterns of a kind of stick, or the assemblies of a run.
// A column has a place, the bin that it fills or the run; places are numbered through, the bins first.
// It gains what its items are worth less what it costs, by the criteria; an assembly, which takes items, gains
// less than nothing.
type Oracle interface {
	// Places returns the family's places.
	Places() []int

	// Build prices the columns of the family. It sets best, for each of its places that is not closed, to no less
	// than the most that a column there gains, exactly that where it can; of patterns that gain less
	// than is needed it may know nothing and say what is needed. What it finds on the way it may offer to add; with
	// no add a bound on the best will do. It reports false where that takes too much memory or work.
	Build(d *Prices, best []int64, add func(rules.Column) bool, mt *meter.Meter) bool

	// Columns offers columns of what was built to add, which reports whether a column is new: in each place the
	// one that gains most, and more that are different, as far as they gain at least tol more than is needed.
	Columns(tol int64, add func(rules.Column) bool, mt *meter.Meter)

	// Enumerate calls visit for every column of the place that gains at least need, by what was built, until visit
	// returns false or the meter runs out. It reports whether it saw all. The column is valid during the call only.
	Enumerate(place int, need int64, mt *meter.Meter, visit func(c rules.Column, gain int64) bool) bool

	// Maximal reports whether no item can be added to a column of the family within the problem's limits.
	Maximal(c *rules.Column) bool

	// Worth returns what the items of one column are worth at most by such values.
	Worth(dual []float64, limit []int64, weight *[rules.Criteria]float64) float64
}

// Prices is what columns are priced by.
type Prices struct {
	Item   []int64 // the value of one of each item
	Weight [rules.Criteria]int64
	Need   []int64 // per place: what a column must gain to be of use
	Limit  []int64 // per item: no pattern holds more
}

// Closed is the need of a place of which no column is asked for.
const Closed = math.MaxInt64

// mostHits is how many of the columns that are added at a time may hold the same item.
const mostHits = 4

// diversity keeps columns that are added at a time from holding the same items over and over: many
// different ones at a time are what column generation lives on.
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

// same reports whether a pattern holds what enough others hold.
func (v *diversity) same(uses []rules.Use) bool {
	if v.took == 0 {
		return false
	}
	for _, u := range uses {
		if v.hits[u.Item] >= mostHits {
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
