// Package bound turns duals of items into bounds that hold in integers.
//
// For any duals v >= 0 of the items, K(b) the greatest dual value of a pattern of bin b and counts
// n of the bins in a box, a plan costs at least
//
//	sum v*demand + sum over bins of min over Lo<=n<=Hi of n*(cost - K)
//
// (Lagrangian relaxation of the demand). Duals are integers in units of 1/Scale of the cost
// unit, so that the bound is exact however the duals were found; compare A. A. Farley, A note
// on bounding a class of linear programming problems, Operations Research 38 (1990) 922-923,
// and S. Held, W. Cook, E. C. Sewell, Maximum-weight stable sets and safe lower bounds for
// graph coloring, Mathematical Programming Computation 4 (2012) 363-381.
package bound

import (
	"math/bits"
	"slices"

	"example.com/longpoint/internal/solver/model"
)

// Box bounds the uses of each bin or each class of bins, inclusive; On says whether each
// supplier is used.
type Box struct {
	Lo, Hi []int64
	On     []Supply
}

// Supply says whether a supplier is used.
type Supply int8

const (
	Open Supply = iota
	Yes
	No
)

// Full returns the box that contains every plan.
func Full(p *model.Problem) Box {
	b := Box{Lo: make([]int64, len(p.Bins)), Hi: make([]int64, len(p.Bins))}
	for i, bin := range p.Bins {
		b.Hi[i] = bin.Limit
	}
	return b
}

// Clone copies the box.
func (b Box) Clone() Box {
	return Box{slices.Clone(b.Lo), slices.Clone(b.Hi), slices.Clone(b.On)}
}

// RoundDuals converts duals to integers: scaled[i] is dual[i] times the scale that it returns,
// rounded down. The scale is top or, if necessary, a smaller power of two, so that no pattern
// of at most copies[i] of each item and of size cap, with extra added, is worth more than
// 1<<60. Negative duals count as zero.
func RoundDuals(scaled []int64, dual []float64, items []model.Item, copies []int64, cap int64, extra float64, top int64) int64 {
	sum, rate := 0.0, 0.0
	for i, it := range items {
		if v := dual[i]; v > 0 {
			sum += float64(v * float64(min(copies[i], cap/it.Size)))
			rate = max(rate, v/float64(it.Size))
		}
	}
	scale, factor := Factor(min(sum, rate*float64(cap))+extra, top, 1<<60)
	for i := range items {
		scaled[i] = int64(max(dual[i], 0) * factor)
	}
	return scale
}

// Factor returns the scale of duals and the factor to multiply them by, so that in integers no
// column is worth more than most if it is worth at most worth before. The scale is top or, if
// necessary, a smaller power of two; the factor is the scale unless even scale 1 is too great.
func Factor(worth float64, top int64, most float64) (scale int64, factor float64) {
	worth *= 1.01
	for scale = top; scale > 1 && worth*float64(scale) > most; {
		scale /= 2
	}
	factor = float64(scale)
	if worth*factor > most {
		factor = most / worth
	}
	return scale, factor
}

// Scale returns a power of two by which costs up to top can be multiplied without overflow,
// with a margin.
func Scale(top int64) int64 {
	return 1 << max(0, 56-bits.Len64(uint64(max(top, 1))))
}
