package takeoff

import (
	"cmp"
	"math/bits"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A PickList lists the sticks to take from the shelf.
type PickList struct {
	Sticks []Pick        `json:"sticks,omitempty"` // in the order in which they were opened
	Pieces []stock.Piece `json:"pieces,omitempty"` // spliced as the shelf requires

	// Missing are the pieces, as indices into Pieces, for which the shelf has no stick
	// left.
	Missing []int `json:"missing,omitempty"`

	Cost   int64          `json:"cost"`   // sum of the prices
	Length measure.Length `json:"length"` // sum of the sticks as delivered
}

// A Pick is one stick and the pieces cut from it.
type Pick struct {
	Stick  int            `json:"stick"`  // index into the shelf
	Pieces []int          `json:"pieces"` // indices into PickList.Pieces, longest first
	Offcut measure.Length `json:"offcut"` // usable length left, less the kerf of its cut
}

// PickFrom returns the sticks to take for the pieces of a profile from a shelf that holds the
// given sticks. If a length is sold out, remove it and call again. A run that is longer than
// every stick is spliced by its own rule; others are not spliced.
//
// It takes the pieces longest first, each from the opened stick that leaves the least, or else
// from the stick on the shelf that is cheapest for its usable length. At the end it exchanges
// each stick for the cheapest that will do. The result is quick and valid, but not proven
// optimal; for that use package optimize. Prices are in minor units; if all are zero, shorter
// is cheaper. Sticks of another profile are ignored.
//
// The errors are a *measure.FieldError for an invalid shelf or a sum out of range, and a
// *SpliceError for a run that cannot be spliced for the shelf's longest stick. A shelf that
// holds too little is not an error: see Missing.
func (l *List) PickFrom(profile string, shelf []stock.Stick, kerf measure.Length) (*PickList, error) {
	p := picker{shelf: shelf, kerf: kerf, left: make([]int, len(shelf))}
	if err := p.open(profile); err != nil {
		return nil, err
	}
	pieces, err := l.spliced(profile, p.longest)
	if err != nil {
		return nil, err
	}
	return p.fill(pieces)
}

// spliced returns the pieces of a profile if no stick is longer than the length. Zero leaves
// them as they are.
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
	for i, run := range l.Runs {
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
			return nil, uncut(run.Label, run.Length, err).Under(indexed("runs", i))
		}
		ps = append(ps, parts...)
	}
	return ps, nil
}

// picker fills a pick list.
type picker struct {
	shelf   []stock.Stick
	kerf    measure.Length
	left    []int // remaining number; −1 for no limit
	longest measure.Length
	list    PickList
	rest    []measure.Length // per opened stick: usable length left, plus one kerf for the last piece
	used    []measure.Length // of each: pieces, each with a kerf
}

// open reads the shelf, using only sticks of the profile.
func (p *picker) open(profile string) error {
	var bad faults
	if p.kerf < 0 || p.kerf > maxHeight {
		bad.Add("kerf", p.kerf.About(), "zero or more, at most a mile")
	}
	for i, st := range p.shelf {
		at := indexed("shelf", i)
		if st.Length <= 0 || st.Length > maxWall {
			bad.Add(at+".length", st.Length.About(), "more than zero, at most a mile")
		}
		if st.TrimStart < 0 || st.TrimStart > maxWall {
			bad.Add(at+".trim_start", st.TrimStart.About(), "zero or more, at most a mile")
		}
		if st.TrimEnd < 0 || st.TrimEnd > maxWall {
			bad.Add(at+".trim_end", st.TrimEnd.About(), "zero or more, at most a mile")
		}
		if st.Price < 0 {
			bad.Add(at+".price", strconv.FormatInt(st.Price, 10), "zero or more, in cents")
		}
		if st.Limit < stock.SoldOut {
			bad.Add(at+".limit", strconv.Itoa(st.Limit), "zero (for any number) or more, or stock.SoldOut")
		}
		if len(bad.List) > 0 || st.Limit == stock.SoldOut || st.Profile != "" && st.Profile != profile || usable(st) <= 0 {
			continue // left stays zero: none of these
		}
		if p.left[i] = st.Limit; st.Limit == 0 {
			p.left[i] = -1
		}
		p.longest = max(p.longest, usable(st))
	}
	return bad.Err()
}

func usable(s stock.Stick) measure.Length { return s.Length - s.TrimStart - s.TrimEnd }

func (p *picker) fill(pieces []stock.Piece) (*PickList, error) {
	p.list.Pieces = pieces
	order := make([]int, len(pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(pieces[b].Length, pieces[a].Length) })
	for _, i := range order {
		need, best := pieces[i].Length+p.kerf, -1
		for k := range p.rest {
			if free := p.rest[k] - p.used[k]; free >= need && (best < 0 || free < p.rest[best]-p.used[best]) {
				best = k
			}
		}
		if best < 0 {
			k := p.cheapest(need, true)
			if k < 0 {
				p.list.Missing = append(p.list.Missing, i)
				continue
			}
			p.take(k, -1)
			best = len(p.rest)
			p.list.Sticks = append(p.list.Sticks, Pick{Stick: k})
			p.rest = append(p.rest, usable(p.shelf[k])+p.kerf)
			p.used = append(p.used, 0)
		}
		p.used[best] += need
		p.list.Sticks[best].Pieces = append(p.list.Sticks[best].Pieces, i)
	}
	slices.Sort(p.list.Missing)
	for i := range p.list.Sticks {
		if err := p.settle(i); err != nil {
			return nil, err
		}
	}
	return &p.list, nil
}

// settle exchanges one opened stick for the cheapest that holds its pieces, and counts it.
func (p *picker) settle(i int) error {
	pick := &p.list.Sticks[i]
	p.take(pick.Stick, 1)
	pick.Stick = p.cheapest(p.used[i], false)
	p.take(pick.Stick, -1)
	st := p.shelf[pick.Stick]
	pick.Offcut = max(0, usable(st)-p.used[i])
	p.list.Cost += st.Price
	var err error
	if p.list.Length, err = p.list.Length.Add(st.Length); err != nil || p.list.Cost < 0 {
		return &measure.FieldError{Field: "shelf", Value: strconv.Itoa(i+1) + " sticks", Want: "a total in range"}
	}
	return nil
}

func (p *picker) take(stick, n int) {
	if p.left[stick] >= 0 && p.shelf[stick].Limit > 0 {
		p.left[stick] += n
	}
}

// cheapest returns the stick on the shelf that holds a need (pieces, each with a kerf): the one
// with the least price, or with the least price for its usable length; ties go to the shorter,
// or for the latter to the longer. It is −1 if there is none.
func (p *picker) cheapest(need measure.Length, forLength bool) int {
	best := -1
	for k, st := range p.shelf {
		if p.left[k] == 0 || usable(st)+p.kerf < need {
			continue
		}
		if best < 0 || p.cheaper(st, p.shelf[best], forLength) {
			best = k
		}
	}
	return best
}

func (p *picker) cheaper(a, b stock.Stick, forLength bool) bool {
	if !forLength {
		return cmp.Or(cmp.Compare(a.Price, b.Price), cmp.Compare(a.Length, b.Length)) < 0
	}
	// a.Price/usable(a) < b.Price/usable(b), in 128 bits.
	ah, al := bits.Mul64(uint64(a.Price), uint64(usable(b)))
	bh, bl := bits.Mul64(uint64(b.Price), uint64(usable(a)))
	return cmp.Or(cmp.Compare(ah, bh), cmp.Compare(al, bl), -cmp.Compare(usable(a), usable(b))) < 0
}
