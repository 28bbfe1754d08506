package takeoff

import (
	"math"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A RoughComparison compares a quick takeoff with the exact one.
type RoughComparison struct {
	Need  measure.Length `json:"need"`  // counted by the rule
	Buy   measure.Length `json:"buy"`   // to buy by the rule, with the waste
	Exact measure.Length `json:"exact"` // sum of all pieces, with splices and returns; without kerfs

	// Sticks is the number of the shelf's longest stick that the rule buys, and Cost their
	// price. Picked is the selection from the shelf for the exact pieces.
	Stick  int       `json:"stick"` // index into the shelf
	Sticks int       `json:"sticks"`
	Cost   int64     `json:"cost"` // in minor units
	Picked *PickList `json:"picked"`

	// Over is the excess of the rule's purchase over the need, in sticks as delivered, and
	// OverCost its price; both are negative if the rule buys less.
	Over     measure.Length `json:"over"`
	OverCost int64          `json:"over_cost"`

	// Missing are the pieces, as indices into Picked.Pieces, that cannot be cut from the rule's
	// purchase, taken longest first.
	Missing []int `json:"missing,omitempty"`

	// Walls compares each wall that was read or that has trim, the walls that were read first.
	Walls []WallComparison `json:"walls,omitempty"`
}

// WallComparison compares one wall.
type WallComparison struct {
	Room    string         `json:"room"`
	Wall    string         `json:"wall"`
	Counted measure.Length `json:"counted"` // by the rule; zero if the wall was not read
	Exact   measure.Length `json:"exact"`   // consumed by the runs on the wall, with splices and without returns
	Spare   measure.Length `json:"spare"`   // Counted − Exact; negative if the reading is too short
}

// Compare compares the quick takeoff of a profile with the exact one: the price of the
// difference on the shelf, and its risk, wall by wall and piece by piece.
//
// The errors are those of RoughRule.Total and PickFrom, and a *measure.FieldError for a wall
// that is read twice or a shelf without a stick of the profile.
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

// buy computes the number of sticks that the rule buys, and tries to cut the pieces from them.
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
			c.Missing = append(c.Missing, i)
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
	c.Missing = tried.Missing
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
