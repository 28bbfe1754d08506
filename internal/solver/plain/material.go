package plain

import (
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/wide"
)

// material bounds the cost by length alone: each size has the same dual value per
// unit, as much as one of the bins charges for it. It returns the best such
// bound and the leaf that shows it, of those before the context ends.
//
// With duals q*size a pattern of bin b has at most q*Cap, so that no
// knapsack needs to be solved.
func material(p *model.Problem, mt *meter.Meter) (int64, Leaf) {
	box := bound.Full(p)
	top := int64(1)
	for _, b := range p.Bins {
		top = max(top, b.Cost)
	}
	scale := bound.Scale(top)
	best := make([]int64, len(p.Bins))
	value := make([]int64, len(p.Items))
	var most wide.Int
	rate := int64(0)
	for _, ref := range p.Bins {
		if ref.Cap == 0 {
			continue
		}
		if !mt.Watch(int64(4 * (len(p.Bins) + len(p.Items)))) {
			break
		}
		q := ref.Cost * scale / ref.Cap
		fits := true
		for b, bin := range p.Bins {
			best[b] = q * bin.Cap
			fits = fits && (bin.Cap == 0 || q <= (1<<60)/bin.Cap)
		}
		for i, it := range p.Items {
			fits = fits && (it.Size == 0 || q <= (1<<60)/it.Size)
			value[i] = q * it.Size
		}
		if !fits {
			continue
		}
		if n := bound.Numerator(p, box, value, best, scale); n.Cmp(most) > 0 {
			most, rate = n, q
		}
	}
	for i, it := range p.Items {
		value[i] = rate * it.Size
	}
	return most.CeilDiv(scale), Leaf{Lo: box.Lo, Hi: box.Hi, Dual: value, Scale: scale}
}
