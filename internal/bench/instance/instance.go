// Package instance reads benchmark instances: bin packing classes in a text format and trim
// jobs in JSON, each with the published results about its optimum.
package instance

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// Instance is one problem of a class and its known results.
type Instance struct {
	Class, Name string

	// Lower and Upper enclose the published optimum, in units of cost: bins, or cents. Upper is
	// math.MaxInt64 if no plan is published.
	Lower, Upper int64

	Kerf   int64
	Pieces []Entry // by decreasing length, all different
	Sticks []Source
	Tick   measure.Length // the unit of length
}

// Entry is a length and its demand.
type Entry struct{ Length, Demand int64 }

// Source is a stick length, its cost, and its supply, at least one; a negative Limit means no
// limit.
type Source struct{ Length, Cost, Limit int64 }

// Unknown is the Upper of an instance without a published plan.
const Unknown = math.MaxInt64

// totalLimit keeps the engine's sums in range: see model.Problem.
const totalLimit = 1 << 60

// Count returns the total demand.
func (in *Instance) Count() int64 {
	var n int64
	for _, e := range in.Pieces {
		n += e.Demand
	}
	return n
}

// Longest returns the length of the longest stick, for bin packing the capacity.
func (in *Instance) Longest() int64 {
	var l int64
	for _, s := range in.Sticks {
		l = max(l, s.Length)
	}
	return l
}

// Model converts the instance to the solver's form as package optimize does: kerf included,
// equal sticks merged, common factors removed. One unit of the model's cost is unit units of
// the instance's.
func (in *Instance) Model() (p *model.Problem, unit int64) {
	p = &model.Problem{}
	total := in.Count()
	var sizes, costs int64
	for _, e := range in.Pieces {
		p.Items = append(p.Items, model.Item{Size: e.Length + in.Kerf, Demand: e.Demand})
		sizes = gcd(sizes, e.Length+in.Kerf)
	}
	for _, s := range in.Sticks {
		limit := s.Limit
		if limit < 0 {
			limit = total
		}
		bin := model.Bin{Cap: s.Length + in.Kerf, Cost: s.Cost}
		k := slices.IndexFunc(p.Bins, func(b model.Bin) bool { return b.Cap == bin.Cap && b.Cost == bin.Cost })
		if k < 0 {
			k = len(p.Bins)
			p.Bins = append(p.Bins, bin)
			sizes, costs = gcd(sizes, bin.Cap), gcd(costs, bin.Cost)
		}
		p.Bins[k].Limit = min(total, p.Bins[k].Limit+min(limit, total))
	}
	unit = max(costs, 1)
	for i := range p.Items {
		p.Items[i].Size /= sizes
	}
	for b := range p.Bins {
		p.Bins[b].Cap /= sizes
		p.Bins[b].Cost /= unit
	}
	slices.SortFunc(p.Bins, func(a, b model.Bin) int {
		return cmp.Or(cmp.Compare(b.Cap, a.Cap), cmp.Compare(a.Cost, b.Cost))
	})
	return p, unit
}

// Public converts the instance to the library's types.
func (in *Instance) Public() optimize.Problem {
	p := optimize.Problem{Kerf: measure.Length(in.Kerf) * in.Tick}
	for _, s := range in.Sticks {
		p.Sticks = append(p.Sticks, stock.Stick{
			Length: measure.Length(s.Length) * in.Tick, Price: s.Cost, Limit: int(max(s.Limit, 0)), Rack: s.Cost == 0,
		})
	}
	for _, e := range in.Pieces {
		p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(e.Length) * in.Tick, Quantity: int(e.Demand)})
	}
	return p
}

// FromJob makes an instance of a trim job. Its published bounds come from [trimjob.Set], if the
// job is in it.
func FromJob(j trimjob.Job) *Instance {
	in := &Instance{Class: j.Class, Name: j.Name, Upper: Unknown, Kerf: j.Kerf, Tick: trimjob.Unit}
	for _, list := range [][]trimjob.Source{j.Stock, j.Offcuts} {
		for _, s := range list {
			if s.Supply != 0 { // to package stock zero means no limit
				in.Sticks = append(in.Sticks, Source{s.Length, s.Price, s.Supply})
			}
		}
	}
	for _, w := range j.Pieces {
		in.Pieces = append(in.Pieces, Entry{w.Length, w.Demand})
	}
	for _, k := range trimjob.Set() {
		if k.Class == j.Class && k.Name == j.Name && k.Seed == j.Seed && k.Best > 0 {
			in.Lower, in.Upper = k.Bound, k.Best
		}
	}
	return in
}

// check rejects instances that a solver cannot take: package trimjob, which validates trim
// jobs, allows more.
func (in *Instance) check() error {
	fail := func(format string, args ...any) error {
		return fmt.Errorf("instance %s: %s", in.Name, fmt.Sprintf(format, args...))
	}
	if len(in.Pieces) == 0 {
		return fail("no pieces")
	}
	longest := in.Longest()
	var total int64
	for i, e := range in.Pieces {
		switch {
		case e.Length <= 0 || e.Demand <= 0:
			return fail("%d*%d: length and demand must be positive", e.Length, e.Demand)
		case i > 0 && e.Length >= in.Pieces[i-1].Length:
			return fail("length %d follows %d: lengths must decrease", e.Length, in.Pieces[i-1].Length)
		case e.Length > longest:
			return fail("length %d exceeds the longest stick, %d", e.Length, longest)
		case e.Demand > (totalLimit-1-total)/(e.Length+in.Kerf):
			return fail("total length of 1<<60 or more")
		}
		total += (e.Length + in.Kerf) * e.Demand
	}
	if in.Lower < 0 || in.Lower > in.Upper {
		return fail("bounds %d and %d: want 0 <= lower <= upper", in.Lower, in.Upper)
	}
	return nil
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
