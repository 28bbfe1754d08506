package whatif

import (
	"fmt"
	"math"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A Change is one change to a problem; see [Solve]. The functions of this package make
// them: [MorePieces], [NewPiece], [LongerPiece], [LongerRun], [WiderKerf], [StickLimit],
// [StickPrice], [NewStick], and [Edit] for everything else. The zero Change changes
// nothing.
//
// A Change holds no problem. It may be reused, also by concurrent calls, as far as the
// function given to Edit allows.
type Change struct {
	make func(*optimize.Problem) error
	free bool // make is the caller's function, and is called only for valid problems
}

// on applies the change to a problem that only the caller uses.
func (c Change) on(p *optimize.Problem) error {
	if c.make == nil {
		return nil
	}
	return c.make(p)
}

// index reports an index out of range of the list.
func index(name string, i, n int) error {
	if i >= 0 && i < n {
		return nil
	}
	return &measure.FieldError{Field: name, Value: strconv.Itoa(i), Want: fmt.Sprintf("an index below %d", n)}
}

// longer adds to a length.
func longer(l *measure.Length, by measure.Length) error {
	sum, err := l.Add(by)
	if err != nil {
		return &measure.FieldError{Field: "by", Value: by.About(), Want: "a length that the sum has room for", Err: err}
	}
	*l = sum
	return nil
}

// MorePieces increases the quantity of a piece by n, or decreases it if n is below zero; at
// least one must remain. It is an error if the piece belongs to a group in which the others
// are then too few.
func MorePieces(piece, n int) Change {
	return Change{make: func(p *optimize.Problem) error {
		if err := index("piece", piece, len(p.Pieces)); err != nil {
			return err
		}
		q := max(1, p.Pieces[piece].Quantity)
		if n > math.MaxInt-q || n <= -q {
			return &measure.FieldError{Field: "n", Value: strconv.Itoa(n), Want: fmt.Sprintf("%d to %d: from one piece to the greatest quantity", 1-q, math.MaxInt-q)}
		}
		p.Pieces[piece].Quantity = q + n
		return nil
	}}
}

// NewPiece adds a piece at the end of Problem.Pieces. It belongs to no group.
func NewPiece(pc stock.Piece) Change {
	return Change{make: func(p *optimize.Problem) error {
		p.Pieces = append(p.Pieces, pc)
		return nil
	}}
}

// LongerPiece makes a piece longer, in its whole quantity, or shorter if by is below zero.
func LongerPiece(piece int, by measure.Length) Change {
	return Change{make: func(p *optimize.Problem) error {
		if err := index("piece", piece, len(p.Pieces)); err != nil {
			return err
		}
		return longer(&p.Pieces[piece].Length, by)
	}}
}

// LongerRun makes a run longer at its right end, or shorter if by is below zero.
func LongerRun(run int, by measure.Length) Change {
	return Change{make: func(p *optimize.Problem) error {
		if err := index("run", run, len(p.Runs)); err != nil {
			return err
		}
		return longer(&p.Runs[run].Length, by)
	}}
}

// WiderKerf makes every saw cut wider, or narrower if by is below zero.
func WiderKerf(by measure.Length) Change {
	return Change{make: func(p *optimize.Problem) error { return longer(&p.Kerf, by) }}
}

// StickLimit sets the number of a stick in stock: zero or more, with zero meaning none. A
// stick with fewer in stock than its bundle or its minimum order is sold out. For the cost of
// one missing stick among those that a plan buys, use one less than its count in Plan.Buy.
func StickLimit(stick, n int) Change {
	return Change{make: func(p *optimize.Problem) error {
		var few error
		if n < 0 {
			few = &measure.FieldError{Field: "n", Value: strconv.Itoa(n), Want: "zero or more sticks"}
		}
		if err := fault.Join(index("stick", stick, len(p.Sticks)), few); err != nil {
			return err
		}
		s := &p.Sticks[stick]
		if s.Limit = n; n == 0 || n < s.Bundle || n < s.Minimum {
			s.Limit = stock.SoldOut
		}
		return nil
	}}
}

// StickPrice sets the price of a stick, in the currency's minor unit, zero or more. Its
// Breaks are unchanged.
func StickPrice(stick int, price int64) Change {
	return Change{make: func(p *optimize.Problem) error {
		if err := index("stick", stick, len(p.Sticks)); err != nil {
			return err
		}
		p.Sticks[stick].Price = price
		return nil
	}}
}

// NewStick adds a stick at the end of Problem.Sticks.
func NewStick(s stock.Stick) Change {
	return Change{make: func(p *optimize.Problem) error {
		p.Sticks = append(p.Sticks, s)
		return nil
	}}
}

// Edit makes any change: f receives a copy of the problem with the preceding changes, which
// shares nothing with the original. Solve returns an error of f, with the fields of a
// [*measure.FieldError] under changes[0] or the index of this change. A nil f changes
// nothing.
func Edit(f func(p *optimize.Problem) error) Change { return Change{make: f, free: true} }
