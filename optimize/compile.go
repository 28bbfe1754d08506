package optimize

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/wide"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// sumLimit is what the engine's totals stay below: see model.Problem.
const sumLimit = 1 << 60

// maxPieces is the most pieces that one stick may hold, since a Pattern lists
// each of them.
const maxPieces = 1 << 16

// instance is a problem in the engine's integers, with the way back.
//
// A kerf is added to every piece and to every usable length: n pieces with n-1
// kerfs between them fit a length exactly when n pieces with n kerfs fit the
// length and one kerf more.
type instance struct {
	problem  *Problem
	byLength bool
	model    model.Problem // bins by falling capacity, then rising cost
	sizeUnit int64         // ticks to one unit of size
	costUnit int64         // cost to one unit of the engine's cost
	itemOf   []int         // per piece: its item
	piecesOf [][]int       // per item: its pieces, in increasing order
	classes  []class       // in order of first appearance
	classOf  []int         // per bin: its class
	mt       *meter.Meter  // of what comes after the search; nil looks at no context
}

// class is a set of sticks that differ for nobody but the person who picks
// them: their usable lengths are equal and so are their costs.
type class struct {
	usable measure.Length
	cost   int64
	limit  int64 // sum over the sticks; at most the number of pieces
	sticks []int // in increasing order
}

func usable(s *stock.Stick) measure.Length { return s.Length - s.TrimStart - s.TrimEnd }

func quantity(p *stock.Piece) int64 { return max(1, int64(p.Quantity)) }

// compile turns a problem that passed validate into an instance, or says why
// that cannot be done or why no plan can exist.
func compile(p *Problem) (*instance, error) {
	in := &instance{problem: p}
	if err := in.fitPieces(); err != nil {
		return nil, err
	}
	in.mergePieces()
	total, err := in.countPieces()
	if err != nil {
		return nil, err
	}
	in.mergeSticks(total)
	if err := in.small(); err != nil {
		return nil, err
	}
	if err := in.divideSizes(); err != nil {
		return nil, err
	}
	if err := in.divideCosts(total); err != nil {
		return nil, err
	}
	if err := in.crowding(); err != nil {
		return nil, err
	}
	return in, in.supply()
}

// fitPieces reports the first piece that is longer than every usable length.
func (in *instance) fitPieces() error {
	p, best, longest := in.problem, -1, measure.Length(0)
	for i := range p.Sticks {
		if l := usable(&p.Sticks[i]); l > longest && p.Sticks[i].Limit != stock.SoldOut {
			best, longest = i, l
		}
	}
	for i := range p.Pieces {
		if l := p.Pieces[i].Length; l > longest {
			return tooLong(p, i, best, l, longest)
		}
	}
	return nil
}

// mergePieces makes one item of all pieces of one length. Sizes are not yet
// divided, demands not yet added.
func (in *instance) mergePieces() {
	p := in.problem
	order := make([]int, len(p.Pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Pieces[b].Length, p.Pieces[a].Length) })
	in.itemOf = make([]int, len(p.Pieces))
	for _, i := range order {
		size := int64(p.Pieces[i].Length + p.Kerf)
		k := len(in.model.Items) - 1
		if k < 0 || in.model.Items[k].Size != size {
			in.model.Items = append(in.model.Items, model.Item{Size: size})
			in.piecesOf = append(in.piecesOf, nil)
			k++
		}
		in.itemOf[i] = k
		in.piecesOf[k] = append(in.piecesOf[k], i)
	}
}

// countPieces adds up the demands and returns their total.
func (in *instance) countPieces() (int64, error) {
	var total int64
	for i := range in.problem.Pieces {
		q := quantity(&in.problem.Pieces[i])
		if q >= sumLimit-total {
			return 0, fieldError(fmt.Sprintf("pieces[%d].quantity", i), q,
				fmt.Sprintf("a total quantity below %d", int64(sumLimit)))
		}
		total += q
		in.model.Items[in.itemOf[i]].Demand += q
	}
	return total, nil
}

// mergeSticks makes classes, and a bin of each. Capacities and costs are not
// yet divided.
func (in *instance) mergeSticks(total int64) {
	p := in.problem
	in.byLength = true
	for i := range p.Sticks {
		if p.Sticks[i].Price != 0 {
			in.byLength = false
		}
	}
	type key struct {
		usable measure.Length
		cost   int64
	}
	known := make(map[key]int)
	for i := range p.Sticks {
		s := &p.Sticks[i]
		if s.Limit == stock.SoldOut {
			continue
		}
		k := key{usable(s), s.Price}
		if in.byLength {
			k.cost = int64(s.Length)
		}
		c, ok := known[k]
		if !ok {
			c = len(in.classes)
			known[k] = c
			in.classes = append(in.classes, class{usable: k.usable, cost: k.cost})
		}
		cl := &in.classes[c]
		cl.sticks = append(cl.sticks, i)
		if s.Limit == 0 {
			cl.limit = total
		} else {
			cl.limit += min(int64(s.Limit), total-cl.limit)
		}
	}
	in.classOf = make([]int, len(in.classes))
	for c := range in.classOf {
		in.classOf[c] = c
	}
	// An order of its own, so that the engine sees the same problem in
	// whatever order the sticks are listed.
	slices.SortFunc(in.classOf, func(a, b int) int {
		x, y := &in.classes[a], &in.classes[b]
		return cmp.Or(cmp.Compare(y.usable, x.usable), cmp.Compare(x.cost, y.cost))
	})
	in.model.Bins = make([]model.Bin, len(in.classes))
	for b, c := range in.classOf {
		cl := &in.classes[c]
		in.model.Bins[b] = model.Bin{Cap: int64(cl.usable + p.Kerf), Cost: cl.cost, Limit: cl.limit}
	}
}

// What a plain problem may come to, so that time and memory stay bounded.
const (
	maxLengths = 10_000  // of pieces
	maxClasses = 10_000  // kinds of sticks
	maxPlain   = 1 << 22 // lengths times kinds of sticks
)

// small reports what there are too many kinds of.
func (in *instance) small() error {
	items, bins := len(in.model.Items), len(in.model.Bins)
	switch {
	case items > maxLengths:
		return fieldError("pieces", items, fmt.Sprintf("at most %d different lengths", maxLengths))
	case bins > maxClasses:
		return fieldError("sticks", bins, fmt.Sprintf("at most %d kinds of sticks", maxClasses))
	case items*bins > maxPlain:
		return fieldError("pieces", items, fmt.Sprintf("at most %d different lengths from %d kinds of sticks", maxPlain/bins, bins))
	}
	return nil
}

// divideSizes divides sizes and capacities by their greatest common divisor.
func (in *instance) divideSizes() error {
	items, bins := in.model.Items, in.model.Bins
	var g int64
	for i := range items {
		g = gcd(g, items[i].Size)
	}
	for b := range bins {
		g = gcd(g, bins[b].Cap)
	}
	in.sizeUnit = g
	var sum wide.Int
	for i := range items {
		items[i].Size /= g
		sum.AddMul(items[i].Size, items[i].Demand)
		if v, ok := sum.Int64(); !ok || v >= sumLimit || v > math.MaxInt64/g {
			return fieldError("pieces", "too long in total",
				fmt.Sprintf("a total length, a kerf added to each piece, of at most %v", measure.Length(min(sumLimit-1, math.MaxInt64/g)*g).About()))
		}
	}
	for b := range bins {
		bins[b].Cap /= g
		if bins[b].Cap >= sumLimit {
			s := in.classes[in.classOf[b]].sticks[0]
			return fieldError(fmt.Sprintf("sticks[%d].length", s), in.problem.Sticks[s].Length.About(),
				fmt.Sprintf("a usable length, a kerf added, below %v", measure.Length(sumLimit*g).About()))
		}
	}
	return nil
}

// divideCosts divides costs by their greatest common divisor and makes sure
// that no plan's cost leaves its range, even with a stick to each piece.
func (in *instance) divideCosts(total int64) error {
	bins := in.model.Bins
	var g int64
	for b := range bins {
		g = gcd(g, bins[b].Cost)
	}
	g = max(g, 1) // only the rack is left, and costs nothing
	in.costUnit = g
	dearest := make([]int, len(bins))
	for b := range bins {
		bins[b].Cost /= g
		dearest[b] = b
	}
	slices.SortFunc(dearest, func(a, b int) int { return cmp.Or(cmp.Compare(bins[b].Cost, bins[a].Cost), a-b) })
	var sum wide.Int
	for _, b := range dearest {
		n := min(bins[b].Limit, total)
		total -= n
		sum.AddMul(bins[b].Cost, n)
		if v, ok := sum.Int64(); !ok || v >= sumLimit || v > math.MaxInt64/g {
			s := in.classes[in.classOf[b]].sticks[0]
			stick := &in.problem.Sticks[s]
			if in.byLength {
				return fieldError(fmt.Sprintf("sticks[%d].length", s), stick.Length.About(),
					"sticks and pieces so few that the total length of a stick to each piece stays in range")
			}
			return fieldError(fmt.Sprintf("sticks[%d].price", s), stick.Price,
				"prices and pieces so few that the total price of a stick to each piece stays in range")
		}
	}
	return nil
}

// crowding reports pieces so small that a plan would have to list too many on
// one stick.
func (in *instance) crowding() error {
	room := in.model.Bins[0].Cap // the largest
	var n int64
	for i := len(in.model.Items) - 1; i >= 0; i-- {
		it := in.model.Items[i]
		k := min(it.Demand, room/it.Size)
		n += k
		room -= k * it.Size
		if n > maxPieces {
			p := in.piecesOf[i][0]
			return fieldError(fmt.Sprintf("pieces[%d].length", p), in.problem.Pieces[p].Length.About(),
				fmt.Sprintf("pieces of which no stick holds more than %d", maxPieces))
		}
	}
	return nil
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
