package optimize

import (
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Change is one thing that could be otherwise in a problem; see [WhatIf]. A
// function of the caller's own may change anything, but has to copy a slice before it
// changes what is in it, as the changes of this package do.
type Change func(p *Problem) error

func unknown(what string, i, n int) error {
	return &ProblemError{what, fmt.Sprint(i), fmt.Sprintf("an index below %d", n)}
}

// OneMore asks for one more of a piece. With a piece of a group that parts a set, which is
// a [ProblemError].
func OneMore(piece int) Change {
	return func(p *Problem) error {
		if piece < 0 || piece >= len(p.Pieces) {
			return unknown("OneMore", piece, len(p.Pieces))
		}
		q := int(quantity(&p.Pieces[piece]))
		if q == math.MaxInt {
			return &ProblemError{"OneMore", fmt.Sprint(piece), "a piece whose quantity can grow"}
		}
		p.Pieces = slices.Clone(p.Pieces)
		p.Pieces[piece].Quantity = q + 1
		return nil
	}
}

// Wanted asks for one more piece than are on the list, at its end. With rules it may stand
// alone only: what belongs to a group is on the list.
func Wanted(pc stock.Piece) Change {
	return func(p *Problem) error {
		p.Pieces = append(slices.Clone(p.Pieces), pc)
		return nil
	}
}

// Longer makes every one of a piece longer, or shorter where by is below zero.
func Longer(piece int, by measure.Length) Change {
	return func(p *Problem) error {
		if piece < 0 || piece >= len(p.Pieces) {
			return unknown("Longer", piece, len(p.Pieces))
		}
		l, err := p.Pieces[piece].Length.Add(by)
		if err != nil {
			return err
		}
		p.Pieces = slices.Clone(p.Pieces)
		p.Pieces[piece].Length = l
		return nil
	}
}

// LongerRun makes a run longer at its right end, or shorter where by is below zero.
func LongerRun(run int, by measure.Length) Change {
	return func(p *Problem) error {
		if run < 0 || run >= len(p.Runs) {
			return unknown("LongerRun", run, len(p.Runs))
		}
		l, err := p.Runs[run].Length.Add(by)
		if err != nil {
			return err
		}
		p.Runs = slices.Clone(p.Runs)
		p.Runs[run].Length = l
		return nil
	}
}

// WiderKerf makes every saw cut wider, or narrower where by is below zero.
func WiderKerf(by measure.Length) Change {
	return func(p *Problem) error {
		k, err := p.Kerf.Add(by)
		if err != nil {
			return err
		}
		p.Kerf = k
		return nil
	}
}

// OneFewer asks for a plan that buys one less of a stick, or takes one less from the rack,
// than a plan does, such as when one of those that were bought is missing: with Plan.Buy what
// is bought and not cut counts, too. See [AtMost].
func OneFewer(plan *Plan, stick int) Change {
	return func(p *Problem) error {
		n := 0
		switch {
		case plan == nil:
		case plan.Buy != nil:
			for _, b := range plan.Buy {
				if b.Stick == stick {
					n += b.Count
				}
			}
		default:
			for k := range plan.Patterns {
				if plan.Patterns[k].Stick == stick {
					n += plan.Patterns[k].Count
				}
			}
		}
		if n == 0 && stick >= 0 && stick < len(p.Sticks) {
			return &ProblemError{"OneFewer", fmt.Sprint(stick), "a stick that the plan buys"}
		}
		return AtMost(stick, n-1)(p)
	}
}

// AtMost sets how many of a stick can be had. Where that is none, or fewer than are sold
// together, the stick is taken off the list, and those after it move up.
func AtMost(stick, n int) Change {
	return func(p *Problem) error {
		if stick < 0 || stick >= len(p.Sticks) {
			return unknown("AtMost", stick, len(p.Sticks))
		}
		if n < 0 {
			return &ProblemError{"AtMost", fmt.Sprint(n), "zero or more sticks"}
		}
		p.Sticks = slices.Clone(p.Sticks)
		if s := &p.Sticks[stick]; n == 0 || n < s.Bundle || n < s.Minimum {
			p.Sticks = slices.Delete(p.Sticks, stick, stick+1)
		} else {
			p.Sticks[stick].Limit = n
		}
		return nil
	}
}

// Priced gives a stick another price.
func Priced(stick int, price int64) Change {
	return func(p *Problem) error {
		if stick < 0 || stick >= len(p.Sticks) {
			return unknown("Priced", stick, len(p.Sticks))
		}
		p.Sticks = slices.Clone(p.Sticks)
		p.Sticks[stick].Price = price
		return nil
	}
}

// Offered puts one more stick on the list, at its end.
func Offered(s stock.Stick) Change {
	return func(p *Problem) error {
		p.Sticks = append(slices.Clone(p.Sticks), s)
		return nil
	}
}
