package takeoff

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// PickList is what to take from the shelf.
type PickList struct {
	Sticks []Pick        // in the order in which they were opened
	Pieces []stock.Piece // what is cut, spliced as the shelf asks for

	// Missing are the pieces, as indices into Pieces, for which nothing is left on the
	// shelf.
	Missing []int

	Cost   int64          // sum of the prices
	Length measure.Length // sum of the sticks as delivered
}

// Pick is one stick and what is cut from it.
type Pick struct {
	Stick  int            // index into the shelf
	Pieces []int          // indices into Basket.Pieces, longest first
	Left   measure.Length // usable length that is left, less the kerf of its cut
}

// PickFrom says on the spot which sticks to take for the pieces of a profile when the shelf
// holds just these. Leave a length that is out off the shelf and ask again: runs that no
// stick is long enough for are spliced by their own rules, others are not.
//
// It takes the pieces longest first, each from the opened stick that it leaves least of,
// or else from the stick on the shelf that is cheapest for its usable length, and at the
// end exchanges each stick for the cheapest that will do. That is a quick and valid
// answer, not a proven one; package optimize has those. Prices are in minor units; where
// all are zero, shorter is cheaper. Sticks of another profile are passed over.
//
// The errors are a *measure.FieldError for a shelf that makes no sense or a sum out of
// range, and a *SpliceError for a run that the shelf's longest stick cannot be spliced
// for. A shelf that does not hold enough is no error: see Missing.
func (l *List) PickFrom(profile string, shelf []stock.Stick, kerf measure.Length) (*PickList, error) {
	s := shop{shelf: shelf, kerf: kerf, left: make([]int, len(shelf))}
	if err := s.open(profile); err != nil {
		return nil, err
	}
	pieces, err := l.spliced(profile, s.longest)
	if err != nil {
		return nil, err
	}
	return s.fill(pieces)
}

// spliced returns the pieces of a profile when no stick is longer than the length. Zero
// leaves them as they are.
func (l *List) spliced(profile string, longest measure.Length) ([]stock.Piece, error) {
	if l == nil {
		return nil, nil
	}
	var ps []stock.Piece
	for _, p := range l.Pieces {
		if p.Profile == profile && p.Run == "" {
			ps = append(ps, p)
		}
	}
	for _, run := range l.Runs {
		if run.Profile != profile {
			continue
		}
		at := run.Splices
		if ok := true; longest > 0 && (run.Splice.Overlap >= 0 || len(at) == 0) { // strips of tile keep their layout
			if at, ok = run.Splice.Place(run.Length, longest); !ok {
				return nil, &SpliceError{
					Run: run.Label, Length: run.Length, Longest: longest, Clear: run.Splice.Clear,
					MinPart: run.Splice.MinPart, Overlap: run.Splice.Overlap, Studs: len(run.Splice.At),
				}
			}
		}
		parts, err := run.Pieces(at)
		if err != nil {
			return nil, &RunError{Run: run.Label, Length: run.Length, Err: err}
		}
		ps = append(ps, parts...)
	}
	return ps, nil
}

// shop fills a basket.
type shop struct {
	shelf   []stock.Stick
	kerf    measure.Length
	left    []int // how many can still be had; −1 for any number
	longest measure.Length
	basket  PickList
	rest    []measure.Length // of each opened stick: usable, plus one kerf for the last piece
	used    []measure.Length // of each: pieces, each with a kerf
}

func (s *shop) open(profile string) error {
	bad := func(field, value, want string) error {
		return &measure.FieldError{Field: field, Value: value, Want: want}
	}
	if s.kerf < 0 || s.kerf > maxHeight {
		return bad("kerf", s.kerf.About(), "zero or more, at most a mile")
	}
	for i, st := range s.shelf {
		at := fmt.Sprintf("shelf[%d].", i)
		switch {
		case st.Length <= 0 || st.Length > maxWall:
			return bad(at+"length", st.Length.About(), "more than zero, at most a mile")
		case st.TrimStart < 0 || st.TrimStart > maxWall || st.TrimEnd < 0 || st.TrimEnd > maxWall:
			return bad(at+"trim_start", st.TrimStart.About(), "zero or more, at most a mile, as trim_end")
		case st.Price < 0:
			return bad(at+"price", strconv.FormatInt(st.Price, 10), "zero or more, in cents")
		case st.Limit < stock.SoldOut:
			return bad(at+"limit", strconv.Itoa(st.Limit), "zero (for any number) or more, or stock.SoldOut")
		}
		if st.Limit == stock.SoldOut || st.Profile != "" && st.Profile != profile || usable(st) <= 0 {
			continue // left stays zero: none of these
		}
		if s.left[i] = st.Limit; st.Limit == 0 {
			s.left[i] = -1
		}
		s.longest = max(s.longest, usable(st))
	}
	return nil
}

func usable(s stock.Stick) measure.Length { return s.Length - s.TrimStart - s.TrimEnd }

func (s *shop) fill(pieces []stock.Piece) (*PickList, error) {
	s.basket.Pieces = pieces
	order := make([]int, len(pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(pieces[b].Length, pieces[a].Length) })
	for _, i := range order {
		need, best := pieces[i].Length+s.kerf, -1
		for k := range s.rest {
			if free := s.rest[k] - s.used[k]; free >= need && (best < 0 || free < s.rest[best]-s.used[best]) {
				best = k
			}
		}
		if best < 0 {
			k := s.cheapest(need, true)
			if k < 0 {
				s.basket.Missing = append(s.basket.Missing, i)
				continue
			}
			s.take(k, -1)
			best = len(s.rest)
			s.basket.Sticks = append(s.basket.Sticks, Pick{Stick: k})
			s.rest = append(s.rest, usable(s.shelf[k])+s.kerf)
			s.used = append(s.used, 0)
		}
		s.used[best] += need
		s.basket.Sticks[best].Pieces = append(s.basket.Sticks[best].Pieces, i)
	}
	slices.Sort(s.basket.Missing)
	for i := range s.basket.Sticks {
		if err := s.settle(i); err != nil {
			return nil, err
		}
	}
	return &s.basket, nil
}

// settle exchanges one opened stick for the cheapest that holds what is cut from it, and
// counts it.
func (s *shop) settle(i int) error {
	pick := &s.basket.Sticks[i]
	s.take(pick.Stick, 1)
	pick.Stick = s.cheapest(s.used[i], false)
	s.take(pick.Stick, -1)
	st := s.shelf[pick.Stick]
	pick.Left = max(0, usable(st)-s.used[i])
	s.basket.Cost += st.Price
	var err error
	if s.basket.Length, err = s.basket.Length.Add(st.Length); err != nil || s.basket.Cost < 0 {
		return &measure.FieldError{Field: "shelf", Value: strconv.Itoa(i+1) + " sticks", Want: "a total in range"}
	}
	return nil
}

func (s *shop) take(stick, n int) {
	if s.left[stick] >= 0 && s.shelf[stick].Limit > 0 {
		s.left[stick] += n
	}
}

// cheapest returns the stick on the shelf that holds a need (pieces, each with a kerf): the
// one with the least price, or with the least price for its usable length; where prices
// are alike the shorter, where that is for the length the longer. It is −1 where none does.
func (s *shop) cheapest(need measure.Length, forLength bool) int {
	best := -1
	for k, st := range s.shelf {
		if s.left[k] == 0 || usable(st)+s.kerf < need {
			continue
		}
		if best < 0 || s.cheaper(st, s.shelf[best], forLength) {
			best = k
		}
	}
	return best
}

func (s *shop) cheaper(a, b stock.Stick, forLength bool) bool {
	if !forLength {
		return cmp.Or(cmp.Compare(a.Price, b.Price), cmp.Compare(a.Length, b.Length)) < 0
	}
	// a.Price/usable(a) < b.Price/usable(b), in 128 bits.
	ah, al := bits.Mul64(uint64(a.Price), uint64(usable(b)))
	bh, bl := bits.Mul64(uint64(b.Price), uint64(usable(a)))
	return cmp.Or(cmp.Compare(ah, bh), cmp.Compare(al, bl), -cmp.Compare(usable(a), usable(b))) < 0
}
