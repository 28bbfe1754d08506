package takeoff

import (
	"fmt"
	"math"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// RoughRule is a quick takeoff, as a carpenter does it in the head: every wall rounded up,
// a percentage added. The zero value rounds up to whole feet and
// adds nothing.
type RoughRule struct {
	Round measure.Length `json:"round,omitzero"` // each reading is rounded up to a multiple; zero means 1 ft
	Each  measure.Length `json:"each,omitzero"`  // then added to each wall, such as 1 ft (a molding maker's measuring page)

	// Waste is added at the end, in percent, such as 10 (common practice, no source).
	// OfPurchase counts it of what is bought instead of what is needed:
	// need/(1 − waste) in place of need·(1 + waste). Both are published.
	Waste      int  `json:"waste,omitzero"`
	OfPurchase bool `json:"of_purchase,omitempty"`
}

// WallReading is one wall as it was read quickly, without its doors.
type WallReading struct {
	Room   string         `json:"room"`
	Wall   string         `json:"wall"`
	Length measure.Length `json:"length"`
}

// Estimate is what a quick takeoff comes to.
type Estimate struct {
	Walls []measure.Length // each reading as it is counted
	Need  measure.Length   // their sum
	Buy   measure.Length   // with the waste, rounded up to a tick
}

// Estimate works out the readings. The error is a *measure.FieldError for a reading or an
// amount that is negative, or more than a mile, for a waste that is not from 0 to 99
// percent, and for a sum out of range.
func (q RoughRule) Estimate(readings []WallReading) (Estimate, error) {
	var e Estimate
	grain := q.Round
	setDefault(&grain, measure.Foot)
	if err := within("round", grain, 1, maxWall); err != nil {
		return e, err
	}
	if err := within("each", q.Each, 0, maxWall); err != nil {
		return e, err
	}
	if q.Waste < 0 || q.Waste > 99 {
		return e, &measure.FieldError{Field: "waste", Value: strconv.Itoa(q.Waste), Want: "from 0 to 99 percent"}
	}
	for i, r := range readings {
		if err := within(fmt.Sprintf("readings[%d].length", i), r.Length, 0, maxWall); err != nil {
			return Estimate{}, err
		}
		l := r.Length.Round(grain, measure.RoundUp) + q.Each
		e.Walls = append(e.Walls, l)
		var err error
		if e.Need, err = e.Need.Add(l); err != nil {
			return Estimate{}, err
		}
	}
	num, den := int64(100+q.Waste), int64(100)
	if q.OfPurchase {
		num, den = 100, int64(100-q.Waste)
	}
	var err error
	e.Buy, _, err = e.Need.MulDiv(num, den, measure.RoundUp)
	return e, err
}

// RoughComparison sets a quick takeoff beside the exact one.
type RoughComparison struct {
	Quick Estimate
	Exact measure.Length // sum of all pieces, with splices and returns; without kerfs

	// Sticks is how many of the shelf's longest stick the estimate buys, and QuickCost
	// what they cost. Basket is what the shelf gives for the exact pieces.
	Stick     int // index into the shelf
	Sticks    int
	QuickCost int64
	Basket    *PickList

	// Over is what the estimate buys more than is needed, in sticks as delivered, and
	// OverCost what that costs; both are negative where it buys less.
	Over     measure.Length
	OverCost int64

	// Lacking are the pieces, as indices into Basket.Pieces, that cannot be cut from what
	// the estimate buys, taken longest first.
	Lacking []int

	// Walls says for each wall that was read or that has trim how the two compare, the
	// walls that were read first.
	Walls []WallComparison
}

// WallComparison is what one wall is off by.
type WallComparison struct {
	Room, Wall string
	Counted    measure.Length // by the quick takeoff; zero where the wall was not read
	Exact      measure.Length // consumed by the runs on the wall, with splices and without returns
	Spare      measure.Length // Counted − Exact; negative where the reading is too short
}

// Compare sets the quick takeoff of a profile beside the exact one: what the difference
// costs at the prices of the shelf, and what it risks, wall by wall and piece by piece.
//
// The errors are those of Estimate and Shop, and a *measure.FieldError for a wall that is
// read twice or a shelf that holds no stick of the profile.
func (l *List) Compare(profile string, q RoughRule, readings []WallReading, shelf []stock.Stick, kerf measure.Length) (*RoughComparison, error) {
	if l == nil {
		l = &List{}
	}
	c := &RoughComparison{Stick: -1}
	var err error
	if c.Quick, err = q.Estimate(readings); err != nil {
		return nil, err
	}
	if c.Basket, err = l.PickFrom(profile, shelf, kerf); err != nil {
		return nil, err
	}
	for _, p := range c.Basket.Pieces {
		if c.Exact, err = c.Exact.Add(p.Length); err != nil {
			return nil, err
		}
	}
	for i, s := range shelf {
		if (s.Profile == "" || s.Profile == profile) && usable(s) > 0 && (c.Stick < 0 || s.Length > shelf[c.Stick].Length) {
			c.Stick = i
		}
	}
	if c.Stick < 0 {
		return nil, &measure.FieldError{Field: "shelf", Value: profile, Want: "at least one stick of the profile"}
	}
	if err := c.buy(shelf[c.Stick], kerf); err != nil {
		return nil, err
	}
	return c, c.compareWalls(l, profile, readings)
}

// buy divides the estimate by the stick, as the rule does, and tries the pieces on what
// that gives.
func (c *RoughComparison) buy(stick stock.Stick, kerf measure.Length) error {
	n := c.Quick.Buy / stick.Length
	if c.Quick.Buy%stick.Length != 0 {
		n++
	}
	if int64(n) > math.MaxInt32 || stick.Price > 0 && int64(n) > math.MaxInt64/stick.Price {
		return &measure.FieldError{Field: "shelf", Value: stick.Length.About(), Want: "a stick of which fewer are needed"}
	}
	c.Sticks, c.QuickCost = int(n), int64(n)*stick.Price
	total, err := stick.Length.Mul(int64(n))
	if err != nil {
		return err
	}
	c.Over, c.OverCost = total-c.Basket.Length, c.QuickCost-c.Basket.Cost
	if n == 0 {
		for i := range c.Basket.Pieces {
			c.Lacking = append(c.Lacking, i)
		}
		return nil
	}
	stick.Limit = c.Sticks
	s := shop{shelf: []stock.Stick{stick}, kerf: kerf, left: []int{0}}
	if err := s.open(stick.Profile); err != nil {
		return err
	}
	tried, err := s.fill(c.Basket.Pieces)
	if err != nil {
		return err
	}
	c.Lacking = tried.Missing
	return nil
}

func (c *RoughComparison) compareWalls(l *List, profile string, readings []WallReading) error {
	type key struct{ room, wall string }
	at := map[key]int{}
	for i, r := range readings {
		k := key{r.Room, r.Wall}
		if _, twice := at[k]; twice {
			return &measure.FieldError{Field: fmt.Sprintf("readings[%d].wall", i), Value: r.Wall, Want: "a wall that is read once"}
		}
		at[k] = len(c.Walls)
		c.Walls = append(c.Walls, WallComparison{Room: r.Room, Wall: r.Wall, Counted: c.Quick.Walls[i]})
	}
	of := map[string]key{}
	for _, run := range l.Runs {
		if run.Profile != profile {
			continue
		}
		k := key{run.Room, run.Wall}
		of[run.Label] = k
		if _, known := at[k]; !known {
			at[k] = len(c.Walls)
			c.Walls = append(c.Walls, WallComparison{Room: run.Room, Wall: run.Wall})
		}
	}
	for _, p := range c.Basket.Pieces {
		if k, known := of[p.Run]; known {
			w := &c.Walls[at[k]]
			var err error
			if w.Exact, err = w.Exact.Add(p.Length); err != nil {
				return err
			}
		}
	}
	for i, w := range c.Walls {
		c.Walls[i].Spare = w.Counted - w.Exact
	}
	return nil
}
