package plain

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
)

// lastPieces is how many pieces a dive leaves to a search for the best that can be made of
// them. Where that takes too long it goes on and leaves two thirds as many, and so on down to
// fewestPieces.
const (
	lastPieces   = 24
	fewestPieces = 6
)

// nearlyWhole is from where on a pattern is fixed with others, if slackShare of a stick may be
// wasted.
const (
	nearlyWhole = 0.5
	slackShare  = 0.05
)

// mostBacktracksOfOne is how often a dive that comes to nothing takes back a part of what it
// fixed.
const mostBacktracksOfOne = 6

// mostBacktracks is how often a dive into the problem is worth a step back.
func (r *solver) mostBacktracks() int {
	switch {
	case r.p.Pieces() > maxPieces: // residual is for that
		return 0
	case !r.whole():
		return 1
	}
	return mostBacktracksOfOne
}

// giveBackEvery is of how many patterns, on average, a diversified dive into a huge problem fixes one less.
const giveBackEvery = 16

// diver is the state of a dive.
type diver struct {
	*solver
	left       []int64 // of each item to cut
	pieces     int64   // of all items
	spent      int64   // on what is fixed
	fixed      []int64 // of each column
	trail      []fixing
	forbidden  map[int]bool // columns of which no more are taken
	last       int64        // how many pieces are left to a search
	backtracks int
	diversify  int
	used       []int // columns in the relaxation that was rounded last
	optimal    bool  // the relaxation that was solved last had an optimum
}

type fixing struct {
	j int
	n int64
}

// dive rounds the relaxation to a plan: it fixes the patterns that are whole or
// nearly so, generates columns for what is left, and goes on. Where no better plan
// is left it takes back the last third and does without the first pattern of that,
// at most backs times. Above zero, diversify scatters the choices, each number in another way.
func (r *solver) dive(diversify, backtracks int) {
	m := r.master
	var basis lp.Basis
	m.LP.Save(&basis)
	defer func() {
		m.SetLimits(r.p.Demands(), 0, nil, 0)
		for j := range m.Columns {
			m.LP.SetColumn(m.Col(j), 0, math.Inf(1))
		}
		m.LP.Restore(&basis)
	}()
	d := diver{
		solver: r, left: r.p.Demands(), pieces: r.p.Pieces(), forbidden: map[int]bool{},
		last: lastPieces, backtracks: backtracks, diversify: diversify,
	}
	for d.pieces > 0 {
		if d.pieces <= d.last && d.spent > 0 && !d.finishOrGoOn() {
			return
		}
		st := m.Solve(r.cost, r.mt)
		d.growFixed()
		if st == master.Stopped && !r.mt.Left() {
			return
		}
		d.optimal = st == master.Converged
		if st != master.Converged || m.Value() > float64(r.cost-1)+1e-6 {
			if !d.backtrack() {
				return
			}
			continue
		}
		if !d.fixNext() {
			return
		}
		if d.pieces > 0 && d.muchSmaller() {
			d.handOver()
			return
		}
		d.restrictMaster()
	}
	if cols, ok := model.Exact(r.p, d.columns()); ok {
		r.tryIncumbent(cols)
	}
}

// growFixed makes space for columns that are new.
func (d *diver) growFixed() {
	for len(d.fixed) < len(d.master.Columns) {
		d.fixed = append(d.fixed, 0)
	}
}

// finishOrGoOn looks for the best that can be made of the last pieces, and reports whether the
// dive goes on: deeper where that was too much, elsewhere where there is nothing better.
func (d *diver) finishOrGoOn() bool {
	before := d.cost
	certain := d.finish()
	if d.cost < before {
		return false
	}
	if d.last = d.last * 2 / 3; !certain && d.last >= fewestPieces {
		return true
	}
	d.last = lastPieces
	return d.backtrack()
}

// put fixes a column so many times more.
func (d *diver) put(j int, n int64) {
	pat := d.master.Columns[j].Fill
	for _, u := range pat.Uses {
		d.left[u.Item] -= n * u.N
		d.pieces -= n * u.N
	}
	d.fixed[j] += n
	d.spent += n * d.p.Bins[pat.Bin].Cost
}

// fix fixes a column so many times more, as far as pieces are left.
func (d *diver) fix(j int, n int64) {
	for _, u := range d.master.Columns[j].Fill.Uses {
		n = min(n, d.left[u.Item]/u.N)
	}
	if n > 0 {
		d.put(j, n)
		d.trail = append(d.trail, fixing{j, n})
	}
}

// columns returns what is fixed.
func (d *diver) columns() []model.PatternCount {
	var cols []model.PatternCount
	for j, n := range d.fixed {
		if n > 0 {
			cols = append(cols, model.PatternCount{Pattern: *d.master.Columns[j].Fill, Count: n})
		}
	}
	return cols
}

// restrictMaster tells the relaxation what is fixed, and what fits into the rest.
func (d *diver) restrictMaster() {
	m := d.master
	bins := make([]int64, len(d.p.Bins))
	for b, bin := range d.p.Bins {
		bins[b] = bin.Limit
		if bin.Cost > 0 {
			bins[b] = min(bins[b], (d.cost-1-d.spent)/bin.Cost)
		}
	}
	m.SetLimits(d.left, d.spent, bins, d.bound)
	for j := range m.Columns {
		hi := math.Inf(1)
		if d.forbidden[j] {
			hi = float64(d.fixed[j])
		}
		for _, u := range m.Columns[j].Fill.Uses {
			// What dual inequalities put into places that are too many makes up for them.
			if u.N > d.left[u.Item] && !m.HasInequalities() {
				hi = float64(d.fixed[j])
				break
			}
		}
		m.LP.SetColumn(m.Col(j), float64(d.fixed[j]), hi)
	}
}

// backtrack takes back the last third, and reports whether there is one.
func (d *diver) backtrack() bool {
	if d.backtracks == 0 || len(d.trail) < 3 || !d.mt.Left() {
		return false
	}
	d.backtracks--
	keep := len(d.trail) - (len(d.trail)+2)/3
	d.forbidden[d.trail[keep].j] = true
	for _, f := range d.trail[keep:] {
		d.put(f.j, -f.n)
	}
	d.trail = d.trail[:keep]
	d.restrictMaster()
	return true
}

// fixNext fixes what is whole in the relaxation, or the next best, and reports whether there
// was anything.
func (d *diver) fixNext() bool {
	var near []share
	before, pick, most := d.pieces, -1, 0.0
	d.used = d.used[:0]
	d.shares(func(j int, x float64) {
		d.used = append(d.used, j)
		whole := math.Floor(x + 1e-6)
		if whole >= 1 && d.diversify > 0 && d.master.HasInequalities() && d.rng.Int(giveBackEvery) == 0 {
			whole-- // what a run of its own is left differs then
		}
		if whole >= 1 {
			d.fix(j, int64(whole))
			return
		}
		if d.diversify > 0 {
			x *= 1 + 0.4*float64(d.rng.Int(1000))/1000
		}
		if x > most {
			pick, most = j, x
		}
		if x >= nearlyWhole {
			near = append(near, share{j, x})
		}
	})
	if d.pieces < before {
		return true
	}
	if len(near) > 1 && d.slackToWaste() {
		slices.SortStableFunc(near, func(a, b share) int { return cmp.Compare(b.x, a.x) })
		for _, s := range near {
			d.fix(s.j, 1)
		}
	} else if pick >= 0 {
		d.fix(pick, 1)
	}
	return d.pieces < before
}

// slackToWaste reports whether, with one kind of stick, the relaxation leaves a good part of a
// stick to waste in a plan that costs no more than the bound. A dive may then fix several
// patterns at a time; where next to nothing may be wasted, it misses if it does.
func (r *solver) slackToWaste() bool {
	if len(r.p.Bins) > 1 {
		return false
	}
	stick := float64(r.p.Bins[0].Cost)
	return float64(r.bound)-r.master.Value() >= float64(slackShare*stick)
}

// finish completes a plan that leaves only some items to be cut, by the duals of the
// relaxation of what is left, and reports whether there is certainly none that is better than the best,
// or none better than the one found.
func (d *diver) finish() (certain bool) {
	cols := d.columns()
	rest := residualOf(d.p, d.left, cols)
	if rest == nil {
		return false
	}
	by := &d.root
	if d.optimal {
		by = new(master.Duals)
		by.Item, by.Scale = d.master.ScaledDuals()
	}
	sub, certain := rest.solve(by, d.cost-d.spent, d.mt.Sub(finishWork))
	if sub != nil {
		d.tryIncumbent(merged(append(cols, sub...)))
	}
	return certain
}
