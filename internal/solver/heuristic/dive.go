package heuristic

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/diversify"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/rules"
)

// lastPieces is the number of pieces that a dive leaves to a search for their best plan. If the search takes
// too long, the dive continues and leaves two thirds as many, and so on down to leastPieces. A run without an
// assembly counts as runPieces.
const (
	lastPieces  = 24
	leastPieces = 6
	runPieces   = 3
)

// nearlyWhole is the value from which patterns are fixed together, if slackShare of a stick may be wasted.
const (
	nearlyWhole = 0.5
	slackShare  = 0.05
)

// A diversified dive into a huge problem fixes one copy less of one pattern in giveBackEvery, on average.
const giveBackEvery = 16

// Dive rounds a relaxation to a plan: it fixes columns with integer values or nearly so, generates columns
// for the residual problem, and continues, all in one master (compare R. Sadykov, F. Vanderbeck, A. Pessoa,
// I. Tahiri, E. Uchoa, Primal heuristics for branch and price: the assets of diving methods, INFORMS Journal
// on Computing 31 (2019); from memory). If no better plan is possible any more, it takes back the last third
// of the fixed columns and forbids the first of these, at most Backtracks times.
type Dive struct {
	Master     *master.Master
	Meter      *meter.Meter
	Random     *diversify.Stream
	Diversify  int          // if positive, choices are perturbed, differently for each number
	Backtracks int          // the most backtracks
	Cost       func() int64 // a plan must cost less
	Bound      int64        // of all plans
	Dearest    bool         // limits the sticks of a class to those that a better plan can pay for
	Assemblies bool         // fixes assemblies only, and calls Finish when all runs have one

	Offer    func(plan []rules.ColumnCount) // takes a plan
	Finish   func() (certain bool)          // plans the last pieces; certain: they allow no better plan; nil: the dive plans them, too
	HandOver func()                         // plans the residual problem if it is much smaller than the whole; nil: never

	Left    []int64 // per item: further pieces that are of use
	Pieces  int64   // pieces left to cut
	Optimal bool    // the last relaxation was solved to optimality
	InUse   []int   // columns in use in the last relaxation that was rounded

	need      []int64 // per item: pieces to cut, without those that open runs will take
	fixed     []int64 // per column: fixed copies
	settled   []bool  // runs that have an assembly
	trail     []fixing
	forbidden map[int]bool // columns of which no more are fixed
	last      int64        // the number of pieces that are left to a search
}

type fixing struct {
	j int
	n int64
}

// Run dives. It leaves the master unchanged except for additional columns.
func (d *Dive) Run() {
	m := d.Master
	var basis lp.Basis
	m.LP.Save(&basis)
	duals, bound, num := m.Duals.Clone(), m.Bound, m.Num
	defer func() {
		m.SetFixed(nil)
		for j := range m.Columns {
			m.LP.SetColumn(m.Col(j), 0, math.Inf(1))
		}
		m.LP.Restore(&basis)
		if m.Plain == nil {
			m.Duals, m.Bound, m.Num = duals, bound, num
		}
	}()
	d.begin()
	for d.Pieces > 0 {
		if d.Finish != nil && !d.Assemblies && d.Pieces <= d.last && len(d.trail) > 0 && !d.finishOrGoOn() {
			return
		}
		// With rules, changed bounds leave little to repair, and the dual simplex method repairs it in 0.93
		// of the steps. Without rules, if demands are one, it takes 1.3 to 1.6 times as long.
		m.LP.Warm = m.Plain == nil && len(d.trail) > 0
		st := m.Solve(d.Cost(), d.Meter)
		m.LP.Warm = false
		d.growFixed()
		if st == master.Stopped && !d.Meter.Left() {
			return
		}
		d.Optimal = st == master.Converged
		if st != master.Converged || m.Value() > float64(d.Cost()-1)+1e-6 {
			if !d.backtrack() {
				return
			}
			continue
		}
		if d.Assemblies && !slices.Contains(d.settled, false) {
			d.Finish()
			return
		}
		if !d.fixNext() {
			return
		}
		if d.HandOver != nil && d.Pieces > 0 && d.muchSmaller() {
			d.HandOver()
			return
		}
		d.restrictMaster()
	}
	d.Offer(d.Columns())
}

// begin computes the demand.
func (d *Dive) begin() {
	p := d.Master.P
	d.forbidden, d.last = map[int]bool{}, lastPieces
	d.settled = make([]bool, len(p.Runs))
	d.need, d.Left, d.Pieces = make([]int64, len(p.Items)), make([]int64, len(p.Items)), 0
	for i := range p.Items {
		d.cut(i, -p.Items[i].Demand)
		if len(p.Runs) == 0 {
			d.Left[i] = p.Items[i].Most
		}
	}
	for r := range p.Runs {
		d.settle(r, -1)
	}
}

// cut subtracts pieces that a fixed column produces from the demand.
func (d *Dive) cut(item int, n int64) {
	d.Pieces -= max(0, d.need[item])
	d.need[item] -= n
	d.Left[item] -= n
	d.Pieces += max(0, d.need[item])
}

// settle marks a run as settled, or, for a negative n, as open again. The pieces that an open run may take
// are of use, though nothing else needs them.
func (d *Dive) settle(run int, n int64) {
	d.settled[run] = n > 0
	d.Pieces -= n * runPieces
	for _, u := range d.Master.P.Runs[run].Upper() {
		d.Left[u.Item] -= n * u.N
	}
}

// growFixed makes space for new columns.
func (d *Dive) growFixed() {
	for len(d.fixed) < len(d.Master.Columns) {
		d.fixed = append(d.fixed, 0)
	}
}

// finishOrGoOn plans the last pieces, and reports whether the dive continues: deeper if planning them was too
// much work, after a backtrack if they allow no better plan.
func (d *Dive) finishOrGoOn() bool {
	before := d.Cost()
	certain := d.Finish()
	if d.Cost() < before {
		return false
	}
	if d.last = d.last * 2 / 3; !certain && d.last >= leastPieces {
		return true
	}
	d.last = lastPieces
	return d.backtrack()
}

// put fixes n more copies of a column.
func (d *Dive) put(j int, n int64) {
	d.fixed[j] += n
	c := &d.Master.Columns[j]
	if c.Fill == nil {
		d.settle(c.Run, n)
		for _, u := range d.Master.P.Runs[c.Run].Uses(c.Path) {
			d.cut(u.Item, -n*u.N)
		}
		return
	}
	for _, u := range c.Fill.Uses {
		d.cut(u.Item, n*u.N)
	}
}

// fix fixes up to n more copies of a column, as far as they are of use.
func (d *Dive) fix(j int, n int64) {
	if c := &d.Master.Columns[j]; c.Fill != nil {
		n = min(n, d.room(c.Fill))
	} else if n = min(n, 1); d.settled[c.Run] {
		n = 0
	}
	if n > 0 {
		d.put(j, n)
		d.trail = append(d.trail, fixing{j, n})
	}
}

// room returns the number of further copies of a pattern that are of use.
func (d *Dive) room(f *rules.Pattern) int64 {
	most, of := int64(math.MaxInt64), int64(0)
	for k, u := range f.Uses {
		if of += u.N; k == len(f.Uses)-1 || f.Uses[k+1].Item != u.Item { // in all orientations
			most, of = min(most, max(0, d.Left[u.Item])/of), 0
		}
	}
	return most
}

// Columns returns the fixed columns.
func (d *Dive) Columns() (plan []rules.ColumnCount) {
	for j, n := range d.fixed {
		if n > 0 {
			c := d.Master.Columns[j]
			plan = append(plan, rules.ColumnCount{Column: &c, N: n})
		}
	}
	return plan
}

// restrictMaster sets the fixed columns in the master, and excludes patterns that no longer fit the demand.
func (d *Dive) restrictMaster() {
	m := d.Master
	f := master.Fixed{Most: d.Left, Need: d.need, Used: make([]int64, len(m.P.Bins)), Settled: d.settled, Enough: d.Bound}
	for j, n := range d.fixed {
		c := &m.Columns[j]
		for k := range f.Cost {
			f.Cost[k] += n * c.Cost[k]
		}
		if c.Fill != nil {
			f.Used[c.Fill.Bin] += n
		}
	}
	if d.Dearest {
		f.Hi = d.affordable(f.Used)
	}
	m.SetFixed(&f)
	for j := range m.Columns {
		hi := math.Inf(1)
		// With dual inequalities, other items can fill the surplus places of a pattern.
		if c := &m.Columns[j]; d.forbidden[j] || c.Fill == nil && d.settled[c.Run] || c.Fill != nil && !m.HasInequalities() && d.room(c.Fill) == 0 {
			hi = float64(d.fixed[j])
		}
		m.LP.SetColumn(m.Col(j), float64(d.fixed[j]), hi)
	}
}

// affordable returns the greatest number of sticks of each class in a better plan, including those used.
func (d *Dive) affordable(used []int64) []int64 {
	p := d.Master.P
	hi, spent := p.Counts(used), int64(0)
	for c, n := range hi {
		spent += n * p.Classes[c].Tiers[0].Price
	}
	for c := range hi {
		n := p.Classes[c].Limit
		if price := p.Classes[c].Tiers[0].Price; price > 0 {
			n = min(n, (d.Cost()-1-spent)/price)
		}
		hi[c] += n
	}
	return hi
}

// backtrack takes back the last third of the fixed columns, and reports whether it could.
func (d *Dive) backtrack() bool {
	if d.Backtracks == 0 || len(d.trail) < 3 || !d.Meter.Left() {
		return false
	}
	d.Backtracks--
	keep := len(d.trail) - (len(d.trail)+2)/3
	d.forbidden[d.trail[keep].j] = true
	for _, f := range d.trail[keep:] {
		d.put(f.j, -f.n)
	}
	d.trail = d.trail[:keep]
	d.restrictMaster()
	return true
}

// fixNext fixes the integer parts of the relaxation's values. If there are none, it fixes the column with the
// greatest value, or several with great values. It reports whether it fixed any.
func (d *Dive) fixNext() bool {
	type share struct {
		j int
		x float64
	}
	var near []share
	before, pick, most := len(d.trail), -1, 0.0
	d.InUse = d.InUse[:0]
	d.shares(func(j int, x float64) {
		if d.Assemblies && d.Master.Columns[j].Fill != nil {
			return
		}
		d.InUse = append(d.InUse, j)
		whole := math.Floor(x + 1e-6)
		if whole >= 1 && d.Diversify > 0 && d.Master.HasInequalities() && d.Random.Int(giveBackEvery) == 0 {
			whole-- // so the residual problem for a separate run differs
		}
		if whole >= 1 {
			d.fix(j, int64(whole))
			return
		}
		if d.Diversify > 0 {
			x *= 1 + 0.4*float64(d.Random.Int(1000))/1000
		}
		if x > most {
			pick, most = j, x
		}
		if x >= nearlyWhole {
			near = append(near, share{j, x})
		}
	})
	if len(d.trail) > before {
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
	return len(d.trail) > before
}

// slackToWaste reports whether, with one kind of stick, a plan that costs no more than the bound may waste a
// good part of a stick. A dive may then fix several patterns at a time. If almost nothing may be wasted, that
// makes it fail.
func (d *Dive) slackToWaste() bool {
	p := d.Master.P
	if len(p.Bins) > 1 {
		return false
	}
	stick := float64(p.Classes[0].Tiers[0].Price)
	return float64(d.Bound)-d.Master.Value() >= float64(slackShare*stick)
}
