package estimate

import (
	"math"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// ChangeKind is the kind of change of a line.
type ChangeKind uint8

// The kinds of change of a line.
const (
	ChangeModified ChangeKind = iota // its quantity, its rate or both differ
	ChangeAdded                      // it is new
	ChangeRemoved                    // it is gone
)

var changeKindNames = [...]string{"changed", "added", "removed"}

// String returns the name of the kind, such as added.
func (k ChangeKind) String() string { return kind.Text("ChangeKind", changeKindNames[:], k) }

// MarshalText returns the name; a kind without one is a [*measure.FieldError].
func (k ChangeKind) MarshalText() ([]byte, error) {
	return kind.Marshal("ChangeKind", "a kind of change", changeKindNames[:], k)
}

// UnmarshalText reads a name; any other text is a [*measure.FieldError].
func (k *ChangeKind) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a kind of change", changeKindNames[:], b, k)
}

// Change is the difference between two priced jobs: an alternate and the base bid, a job after
// and before a change order, actual and estimated costs. Amounts are in cents, later less
// earlier: a positive one adds, a negative one deducts.
type Change struct {
	Was   string       `json:"was"`             // label of the earlier quote
	Now   string       `json:"now"`             // of the later quote
	Lines []LineChange `json:"lines,omitempty"` // costs that differ: in the order of the earlier quote, then added ones

	Parts []PartChange `json:"parts,omitempty"` // parts of the price that differ, in the order of the price; they sum to Total

	Labor     measure.Duration `json:"labor"`      // hours of all costs
	Direct    int64            `json:"direct"`     // sum of Direct in Lines and DirectElsewhere
	Cost      int64            `json:"cost"`       // the contractor's total cost, as in Quote.Cost
	Price     int64            `json:"price"`      // sum of Price in Lines and PriceElsewhere
	ClientTax int64            `json:"client_tax"` // on top of the price
	Total     int64            `json:"total"`      // change of the client's total

	// DirectElsewhere and PriceElsewhere are the changes borne by unchanged costs: because of
	// another rate of burden, a minimum charge or another rounding of the price.
	DirectElsewhere int64 `json:"direct_elsewhere,omitempty"`
	PriceElsewhere  int64 `json:"price_elsewhere,omitempty"`
}

// PartChange is a part of the price, such as overhead, in both quotes.
type PartChange struct {
	Part Part  `json:"part"` // which
	Was  int64 `json:"was"`  // in the earlier quote, in cents
	Now  int64 `json:"now"`  // in the later, in cents
}

// partChanges returns the parts of two quotes that differ.
func partChanges(d *difference, was, now *Quote) []PartChange {
	var parts [len(partNames)]PartChange
	for _, l := range was.Lines {
		if int(l.Part) < len(parts) {
			parts[l.Part].Was = d.add(parts[l.Part].Was, l.Amount)
		}
	}
	for _, l := range now.Lines {
		if int(l.Part) < len(parts) {
			parts[l.Part].Now = d.add(parts[l.Part].Now, l.Amount)
		}
	}
	var out []PartChange
	for i, p := range parts {
		if p.Part = Part(i); p.Was != p.Now {
			out = append(out, p)
		}
	}
	return out
}

// LineChange is a cost that differs between two quotes. Costs are the same line if kind, room,
// profile, step and label agree.
type LineChange struct {
	Change  ChangeKind `json:"change"` // the kind of change
	Label   string     `json:"label"`  // these five name the line, as in [Cost]
	Kind    CostKind   `json:"kind"`
	Room    string     `json:"room,omitempty"`
	Profile string     `json:"profile,omitempty"`
	Step    string     `json:"step,omitempty"`
	Was     LineAmount `json:"was,omitzero"` // in the earlier quote; zero if it was added
	Now     LineAmount `json:"now,omitzero"` // in the later; zero if it was removed

	// ByQuantity is the change in direct cost due to the quantity, at the earlier rate, and
	// ByRate that due to the rate. The quantity is the hours of labor, else Cost.Quantity.
	// Without comparable quantities in both quotes, the whole change is ByQuantity if the line
	// was added or removed, and ByRate if it changed.
	ByQuantity int64 `json:"by_quantity"`
	ByRate     int64 `json:"by_rate"`
	Price      int64 `json:"price"` // change of its price before tax
}

// LineAmount is a line in one quote. Amounts are in cents.
type LineAmount struct {
	Labor    measure.Duration `json:"labor,omitempty"`   // hours
	Quantity finish.Amount    `json:"quantity,omitzero"` // number of sticks, packages, feet
	Direct   int64            `json:"direct"`            // direct cost with burden
	Price    int64            `json:"price"`             // its share of the price before tax
}

func (c *CostShare) amount() LineAmount {
	return LineAmount{Labor: c.Labor, Quantity: c.Quantity, Direct: c.Direct, Price: c.Price}
}

// NewChange returns the difference between two quotes, by line and in total. A nil quote is
// empty. A difference out of range is a [*measure.RangeError].
func NewChange(was, now *Quote) (*Change, error) {
	empty := &Quote{}
	if was == nil {
		was = empty
	}
	if now == nil {
		now = empty
	}
	d := difference{ok: true}
	c := &Change{Was: was.Label, Now: now.Label,
		Labor: measure.Duration(d.sub(int64(now.Labor), int64(was.Labor))), Direct: d.sub(now.Direct, was.Direct), Cost: d.sub(now.Cost, was.Cost),
		Price: d.sub(now.Price, was.Price), ClientTax: d.sub(now.ClientTax, was.ClientTax), Total: d.sub(now.Total, was.Total)}
	c.Parts = partChanges(&d, was, now)
	c.DirectElsewhere, c.PriceElsewhere = c.Direct, c.Price
	later := map[costKey][]int{} // costs of each key in order: quotes from elsewhere may repeat a key
	for i := range now.Costs {
		k := now.Costs[i].key()
		later[k] = append(later[k], i)
	}
	matched := make([]bool, len(now.Costs))
	add := func(l LineChange) {
		l.Price = d.sub(l.Now.Price, l.Was.Price)
		l.split(&d)
		c.Lines = append(c.Lines, l)
		c.DirectElsewhere = d.sub(c.DirectElsewhere, d.sub(l.Now.Direct, l.Was.Direct))
		c.PriceElsewhere = d.sub(c.PriceElsewhere, l.Price)
	}
	for i := range was.Costs {
		a := &was.Costs[i]
		k := a.key()
		if len(later[k]) == 0 {
			add(line(ChangeRemoved, a, a.amount(), LineAmount{}))
			continue
		}
		b := &now.Costs[later[k][0]]
		matched[later[k][0]] = true
		later[k] = later[k][1:]
		if !a.same(b, &d) {
			add(line(ChangeModified, a, a.amount(), b.amount()))
		}
	}
	for i := range now.Costs {
		if !matched[i] {
			add(line(ChangeAdded, &now.Costs[i], LineAmount{}, now.Costs[i].amount()))
		}
	}
	if !d.ok {
		return nil, tooLarge("the difference between " + was.Label + " and " + now.Label)
	}
	return c, nil
}

// same reports whether two costs of the same line are equal: as given, and in cents, except for
// a cent that rounding moved to another line.
func (c *CostShare) same(now *CostShare, d *difference) bool {
	by := d.sub(now.Direct, c.Direct)
	return c.Labor == now.Labor && c.Quantity == now.Quantity && c.Amount == now.Amount && c.Wage == now.Wage &&
		c.PassThrough == now.PassThrough && c.Markup == now.Markup && -1 <= by && by <= 1
}

func line(change ChangeKind, c *CostShare, was, now LineAmount) LineChange {
	return LineChange{Change: change, Label: c.Label, Kind: c.Kind, Room: c.Room, Profile: c.Profile, Step: c.Step, Was: was, Now: now}
}

// split divides the change of direct cost into the parts due to quantity and rate.
func (l *LineChange) split(d *difference) {
	all := d.sub(l.Now.Direct, l.Was.Direct)
	if l.Change != ChangeModified {
		l.ByQuantity = all
		return
	}
	l.ByRate = all
	q1, q2, ok := int64(l.Was.Labor), int64(l.Now.Labor), true
	if l.Kind != CostLabor {
		q1, q2, ok = sameUnits(l.Was.Quantity, l.Now.Quantity)
	}
	if !ok || q1 <= 0 || q2 <= 0 {
		return
	}
	more, _, err := measure.Length(l.Was.Direct).MulDiv(d.sub(q2, q1), q1, measure.RoundHalfEven)
	if err != nil {
		d.ok = false
		return
	}
	l.ByQuantity, l.ByRate = int64(more), d.sub(all, int64(more))
}

// sameUnits returns two amounts in one unit, if they have one.
func sameUnits(a, b finish.Amount) (x, y int64, ok bool) {
	if _, ok := a.Cmp(b); !ok {
		return 0, 0, false
	}
	x, ok1 := units(a)
	y, ok2 := units(b)
	return x, y, ok1 && ok2
}

// units returns an amount in the smallest unit of its kind; ok is false for pieces whose number
// in millionths overflows.
func units(a finish.Amount) (n int64, ok bool) {
	if l, is := a.Length(); is {
		return int64(l), true
	}
	if s, is := a.Area(); is {
		return int64(s), true
	}
	if v, is := a.Volume(); is {
		return int64(v), true
	}
	if w, is := a.Weight(); is {
		return int64(w), true
	}
	millionths, err := finish.Yield{Covers: finish.Count(1), Of: finish.Count(1_000_000)}.Material(a)
	if err != nil {
		return 0, false
	}
	return millionths.Pieces()
}

// difference subtracts and records overflow.
type difference struct{ ok bool }

func (d *difference) sub(a, b int64) int64 {
	r := a - b
	if (r < a) != (b > 0) || r == math.MinInt64 {
		d.ok = false
	}
	return r
}
