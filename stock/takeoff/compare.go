package takeoff

import (
	"math"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A RoughComparison sets a quick takeoff beside the exact one.
type RoughComparison struct {
	Need  measure.Length // what the rule counts
	Buy   measure.Length // what it buys, with the waste
	Exact measure.Length // sum of all pieces, with splices and returns; without kerfs

	// Sticks is how many of the shelf's longest stick the rule buys, and Cost what they
	// cost. Picked is what the shelf gives for the exact pieces.
	Stick  int // index into the shelf
	Sticks int
	Cost   int64 // in minor units
	Picked *PickList

	// Over is what the rule buys more than is needed, in sticks as delivered, and OverCost
	// what that costs; both are negative if it buys less.
	Over     measure.Length
	OverCost int64

	// Lacking are the pieces, as indices into Picked.Pieces, that cannot be cut from what
	// the rule buys, taken longest first.
	Lacking []int

	// Walls says for each wall that was read or that has trim how the two compare, the
	// walls that were read first.
	Walls []WallComparison
}

// WallComparison is what one wall is off by.
type WallComparison struct {
	Room, Wall string
	Counted    measure.Length // by the rule; zero if the wall was not read
	Exact      measure.Length // consumed by the runs on the wall, with splices and without returns
	Spare      measure.Length // Counted − Exact; negative if the reading is too short
}

// Compare sets the quick takeoff of a profile beside the exact one: what the difference
// costs at the prices of the shelf, and what it risks, wall by wall and piece by piece.
//
// The errors are those of RoughRule.Total and PickFrom, and a *measure.FieldError for a wall
// that is read twice or a shelf that holds no stick of the profile.
func (l *List) Compare(profile string, r RoughRule, readings []WallReading, shelf []stock.Stick, kerf measure.Length) (*RoughComparison, error) {
	if l == nil {
		l = &List{}
	}
	c := &RoughComparison{Stick: -1}
	var err error
	if c.Need, c.Buy, err = r.Total(readings); err != nil {
		return nil, err
	}
	counted, err := r.walls(readings)
	if err != nil {
		return nil, err
	}
	if c.Picked, err = l.PickFrom(profile, shelf, kerf); err != nil {
		return nil, err
	}
	for _, p := range c.Picked.Pieces {
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
	return c, c.compareWalls(l, profile, readings, counted)
}

// buy divides what the rule buys by the stick, as the rule does, and tries the pieces on what
// that gives.
func (c *RoughComparison) buy(stick stock.Stick, kerf measure.Length) error {
	n := c.Buy / stick.Length
	if c.Buy%stick.Length != 0 {
		n++
	}
	if int64(n) > math.MaxInt32 || stick.Price > 0 && int64(n) > math.MaxInt64/stick.Price {
		return &measure.FieldError{Field: "shelf", Value: stick.Length.About(), Want: "a stick of which fewer are needed"}
	}
	c.Sticks, c.Cost = int(n), int64(n)*stick.Price
	total, err := stick.Length.Mul(int64(n))
	if err != nil {
		return err
	}
	c.Over, c.OverCost = total-c.Picked.Length, c.Cost-c.Picked.Cost
	if n == 0 {
		for i := range c.Picked.Pieces {
			c.Lacking = append(c.Lacking, i)
		}
		return nil
	}
	stick.Limit = c.Sticks
	s := picker{shelf: []stock.Stick{stick}, kerf: kerf, left: []int{0}}
	if err := s.open(stick.Profile); err != nil {
		return err
	}
	tried, err := s.fill(c.Picked.Pieces)
	if err != nil {
		return err
	}
	c.Lacking = tried.Missing
	return nil
}

func (c *RoughComparison) compareWalls(l *List, profile string, readings []WallReading, counted []measure.Length) error {
	type key struct{ room, wall string }
	at := map[key]int{}
	for i, r := range readings {
		k := key{r.Room, r.Wall}
		if _, twice := at[k]; twice {
			return &measure.FieldError{Field: indexed("readings", i) + ".wall", Value: r.Wall, Want: "a wall that is read once"}
		}
		at[k] = len(c.Walls)
		c.Walls = append(c.Walls, WallComparison{Room: r.Room, Wall: r.Wall, Counted: counted[i]})
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
	for _, p := range c.Picked.Pieces {
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
