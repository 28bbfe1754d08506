package branchprice

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
)

// box bounds how many sticks of each class are used; on says of each supplier whether
// it is used: yes, no, or open.
type box struct {
	lo, hi []int64
	on     []supplierUse
}

type supplierUse int8

const (
	open supplierUse = iota
	yes
	no
)

func (b box) clone() box {
	return box{slices.Clone(b.lo), slices.Clone(b.hi), slices.Clone(b.on)}
}

type status uint8

const (
	converged status = iota + 1
	pruned           // the bound reached the cutoff
	infeasible
	stopped
)

// master is the relaxation over all columns. Rows are the items, the bins, the
// links of classes to their suppliers, the runs, then the criteria.
type master struct {
	p            *rules.Problem
	objective    rules.Objective
	toOptimality bool // solve goes on until no column is missing, and keeps the last bound
	classOf      []int
	supplierOf   []int // class -> supplier, -1
	knapsacks    []*pricing.Knapsack
	binsOf       [][]int // kind -> bins
	paths        []*pricing.Paths

	lp       lp.LP
	cols     []rules.Column
	at       []int32 // column -> its column in lp
	box      box
	segments [][]int32    // class -> purchase columns now in force
	bought   [][]purchase // class -> all there are
	charge   []int32      // supplier -> column
	baseOf   []int64      // class -> cost of lo sticks
	link     []int32      // class -> row, -1
	rowBin   int
	rowRun   int
	rowCrit  int
	root     box
	seen     map[uint64][]int32
	unit     float64

	// The best bound of the last solve and what shows it.
	bound             int64
	num               wide.Int
	scale             int64
	bestDual          []int64
	bestCriterionDual [rules.Criteria]int64
	bestPatternValue  []int64 // per bin: no pattern gains more
	bestAssemblyCost  []int64 // per run: no assembly costs less

	// Of the present duals.
	dual          []int64
	criterionDual [rules.Criteria]int64
	patternValue  []int64
	binDual       []int64
	assemblyCost  []int64
	floatDual     []float64
	factor        float64 // from floatDual to dual
	idx           []int32
	val           []float64
	hits          []int
}

func newMaster(p *rules.Problem, a rules.Objective) *master {
	m := &master{p: p, objective: a, classOf: p.ClassOf(), seen: map[uint64][]int32{}}
	n := len(p.Items)
	m.supplierOf = slices.Repeat([]int{-1}, len(p.Classes))
	for g := range p.Suppliers {
		for _, c := range p.Suppliers[g].Classes {
			m.supplierOf[c] = g
		}
	}
	m.binsOf = make([][]int, len(p.Kinds))
	caps := make([]int64, len(p.Kinds))
	for b := range p.Bins {
		k := p.Bins[b].Kind
		m.binsOf[k] = append(m.binsOf[k], b)
		caps[k] = max(caps[k], p.Bins[b].Cap)
	}
	for k := range p.Kinds {
		m.knapsacks = append(m.knapsacks, pricing.NewKnapsack(p, k, caps[k]))
	}
	for r := range p.Runs {
		m.paths = append(m.paths, pricing.NewPaths(&p.Runs[r]))
	}
	m.setRoot()
	m.addRows()
	m.segments = make([][]int32, len(p.Classes))
	m.bought = make([][]purchase, len(p.Classes))
	m.baseOf = make([]int64, len(p.Classes))
	m.bestDual = make([]int64, n)
	m.dual = make([]int64, n)
	m.bestPatternValue, m.patternValue, m.binDual = make([]int64, len(p.Bins)), make([]int64, len(p.Bins)), make([]int64, len(p.Bins))
	m.bestAssemblyCost, m.assemblyCost = make([]int64, len(p.Runs)), make([]int64, len(p.Runs))
	m.hits = make([]int, n)
	m.setBox(m.root)
	return m
}

// setRoot sets the box of all plans, and the unit of costs in the relaxation.
func (m *master) setRoot() {
	p := m.p
	m.root = box{make([]int64, len(p.Classes)), make([]int64, len(p.Classes)), make([]supplierUse, len(p.Suppliers))}
	top := int64(1)
	for c := range p.Classes {
		cl := &p.Classes[c]
		hi := cl.Limit - cl.Settled
		if cl.Most > 0 {
			hi = min(hi, cl.Most)
		}
		for hi > 0 {
			if _, v := cl.Extra(hi); v < rules.NoCost {
				break
			}
			hi -= max(1, hi%cl.Bundle)
		}
		m.root.hi[c] = hi
		for _, t := range cl.Tiers {
			top = max(top, t.Price)
		}
	}
	if m.objective.Main != rules.Price {
		top = 1
	}
	m.unit = float64(top)
}

// addRows adds the rows, and the columns of the charges of suppliers.
func (m *master) addRows() {
	p, inf := m.p, math.Inf(1)
	for i := range p.Items {
		m.lp.AddRow(float64(p.Items[i].Demand)-lp.Slack(i), inf, nil, nil)
	}
	m.rowBin = len(p.Items)
	for range p.Bins {
		m.lp.AddRow(-inf, 0, nil, nil)
	}
	m.link = slices.Repeat([]int32{-1}, len(p.Classes))
	for c := range p.Classes {
		if m.supplierOf[c] >= 0 && p.Suppliers[m.supplierOf[c]].Charge > 0 {
			m.link[c] = int32(m.lp.AddRow(-inf, 0, nil, nil))
		}
	}
	m.rowRun = m.lp.Rows()
	for range p.Runs {
		m.lp.AddRow(1, inf, nil, nil)
	}
	m.rowCrit = m.lp.Rows()
	for range m.objective.Rows() {
		m.lp.AddRow(-inf, inf, nil, nil)
	}
	for g := range p.Suppliers {
		m.idx, m.val = m.idx[:0], m.val[:0]
		for _, c := range slices.Sorted(slices.Values(p.Suppliers[g].Classes)) {
			if m.link[c] >= 0 {
				m.idx = append(m.idx, m.link[c])
				m.val = append(m.val, -float64(max(m.root.hi[c], 1)))
			}
		}
		var cost [rules.Criteria]int64
		cost[rules.Price] = p.Suppliers[g].Charge
		m.charge = append(m.charge, m.enter(cost))
	}
}

// enter adds the column in idx and val with its costs and returns its index in lp.
func (m *master) enter(cost [rules.Criteria]int64) int32 {
	for k, c := range cost {
		if m.objective.Capped[k] && c != 0 {
			m.idx = append(m.idx, int32(m.rowCrit+k))
			m.val = append(m.val, float64(c))
		}
	}
	return int32(m.lp.AddColumn(float64(cost[m.objective.Main])/m.unit, m.idx, m.val))
}

// setBox moves the master to another box.
func (m *master) setBox(b box) {
	m.box = b
	fixed := [rules.Criteria]int64{}
	for g := range m.p.Suppliers {
		lo, hi := 0.0, 1.0
		switch b.on[g] {
		case yes:
			lo = 1
		case no:
			hi = 0
		}
		m.lp.SetColumn(int(m.charge[g]), lo, hi)
	}
	for c := range m.p.Classes {
		for _, j := range m.segments[c] {
			m.lp.SetColumn(int(j), 0, 0)
		}
		m.segments[c] = m.segments[c][:0]
		cl := &m.p.Classes[c]
		hi := b.hi[c]
		if g := m.supplierOf[c]; g >= 0 && b.on[g] == no {
			hi = 0
		}
		lo := min(b.lo[c], hi)
		_, base := cl.Extra(lo)
		m.baseOf[c] = base
		fixed[rules.Price] += base
		fixed[rules.Sticks] += cl.Count * lo
		fixed[rules.Salvage] += cl.Idle * lo
		for _, bin := range cl.Bins {
			m.lp.SetRow(m.rowBin+bin, math.Inf(-1), float64(lo))
		}
		if m.link[c] >= 0 {
			m.lp.SetRow(int(m.link[c]), math.Inf(-1), -float64(lo))
		}
		for _, s := range convexEnvelope(cl, lo, hi) {
			m.segments[c] = append(m.segments[c], m.supplierLink(c, s))
		}
	}
	for k := range rules.Criteria {
		if m.objective.Capped[k] {
			m.lp.SetRow(m.rowCrit+k, math.Inf(-1), float64(m.objective.Limit[k]-fixed[k])+1e-7)
		}
	}
}

// segment is a piece of the convex envelope of a class's cost.
type segment struct {
	length int64
	slope  float64
}

// convexEnvelope returns the convex envelope from below of a class's cost from lo to hi, as pieces.
func convexEnvelope(c *rules.StockClass, lo, hi int64) []segment {
	type point struct{ n, cost int64 }
	var pts []point
	for _, n := range c.Breakpoints(lo, hi) {
		_, v := c.Extra(n)
		if v == rules.NoCost {
			continue
		}
		p := point{n, v}
		for len(pts) >= 2 {
			a, b := pts[len(pts)-2], pts[len(pts)-1]
			if float64(b.cost-a.cost)*float64(p.n-b.n) >= float64(p.cost-b.cost)*float64(b.n-a.n) {
				pts = pts[:len(pts)-1]
				continue
			}
			break
		}
		pts = append(pts, p)
	}
	var segs []segment
	for i := 1; i < len(pts); i++ {
		d := pts[i].n - pts[i-1].n
		segs = append(segs, segment{d, float64(pts[i].cost-pts[i-1].cost) / float64(d)})
	}
	return segs
}

// purchase is a column that buys sticks of a class for a price each.
type purchase struct {
	col   int32
	slope float64
}

// supplierLink returns the purchase column of a class for a piece of its cost: one that other boxes had
// with that price, if none of this box's is that one, so that they do not pile up and that a
// basis of another box still holds.
func (m *master) supplierLink(c int, s segment) int32 {
	for _, old := range m.bought[c] {
		if old.slope == s.slope && !slices.Contains(m.segments[c], old.col) {
			m.lp.SetColumn(int(old.col), 0, float64(s.length))
			return old.col
		}
	}
	m.idx, m.val = m.idx[:0], m.val[:0]
	for _, bin := range m.p.Classes[c].Bins {
		m.idx = append(m.idx, int32(m.rowBin+bin))
		m.val = append(m.val, -1)
	}
	slices.Sort(m.idx)
	if m.link[c] >= 0 {
		m.idx = append(m.idx, m.link[c])
		m.val = append(m.val, 1)
	}
	col := m.enterSegment(s, &m.p.Classes[c])
	m.bought[c] = append(m.bought[c], purchase{col, s.slope})
	return col
}

// enterSegment adds a purchase column; its price is not whole.
func (m *master) enterSegment(s segment, cl *rules.StockClass) int32 {
	cost := 0.0
	switch m.objective.Main {
	case rules.Price:
		cost = s.slope
	case rules.Sticks:
		cost = float64(cl.Count)
	case rules.Salvage:
		cost = float64(cl.Idle)
	}
	if m.objective.Capped[rules.Price] && s.slope != 0 {
		m.idx, m.val = append(m.idx, int32(m.rowCrit+rules.Price)), append(m.val, s.slope)
	}
	if m.objective.Capped[rules.Sticks] && cl.Count != 0 {
		m.idx, m.val = append(m.idx, int32(m.rowCrit+rules.Sticks)), append(m.val, float64(cl.Count))
	}
	if m.objective.Capped[rules.Salvage] && cl.Idle != 0 {
		m.idx, m.val = append(m.idx, int32(m.rowCrit+rules.Salvage)), append(m.val, float64(cl.Idle))
	}
	j := m.lp.AddColumn(cost/m.unit, m.idx, m.val)
	m.lp.SetColumn(j, 0, float64(s.length))
	return int32(j)
}

// add puts a column into the master unless it is there and reports whether it is new.
func (m *master) add(c rules.Column) bool {
	_, fresh := m.enlist(c)
	return fresh
}

// enlist is add, which returns the column's place in lp as well.
func (m *master) enlist(c rules.Column) (at int32, fresh bool) {
	h := uint64(0x9e3779b97f4a7c15)
	mix := func(x int64) {
		h = (h ^ uint64(x)) * 0xbf58476d1ce4e5b9
		h ^= h >> 29
	}
	if c.Fill != nil {
		mix(int64(c.Fill.Bin))
		for _, u := range c.Fill.Uses {
			mix(int64(u.Item))
			mix(int64(u.Orient))
			mix(u.N)
		}
	} else {
		mix(-1 - int64(c.Run))
		for _, a := range c.Path {
			mix(int64(a))
		}
	}
	for _, j := range m.seen[h] {
		d := &m.cols[j]
		if (c.Fill != nil) == (d.Fill != nil) && (c.Fill != nil && c.Fill.Bin == d.Fill.Bin && slices.Equal(c.Fill.Uses, d.Fill.Uses) ||
			c.Fill == nil && c.Run == d.Run && slices.Equal(c.Path, d.Path)) {
			return m.at[j], false
		}
	}
	m.idx, m.val = m.idx[:0], m.val[:0]
	if c.Fill != nil {
		for _, u := range c.Fill.Uses {
			if k := len(m.idx) - 1; k >= 0 && m.idx[k] == int32(u.Item) {
				m.val[k] += float64(u.N)
				continue
			}
			m.idx, m.val = append(m.idx, int32(u.Item)), append(m.val, float64(u.N))
		}
		m.idx, m.val = append(m.idx, int32(m.rowBin+c.Fill.Bin)), append(m.val, 1)
	} else {
		uses := m.p.Runs[c.Run].Uses(c.Path)
		for _, u := range uses {
			m.idx, m.val = append(m.idx, int32(u.Item)), append(m.val, -float64(u.N))
		}
		m.idx, m.val = append(m.idx, int32(m.rowRun+c.Run)), append(m.val, 1)
	}
	m.seen[h] = append(m.seen[h], int32(len(m.cols)))
	m.cols = append(m.cols, c)
	at = m.enter(c.Cost)
	m.at = append(m.at, at)
	return at, true
}

// startAs makes a basis of the columns, and of purchase columns where the other master's basis
// has some.
func (m *master) startAs(other *master, cols []int32) {
	for c, segs := range other.segments {
		for k, j := range segs {
			if k < len(m.segments[c]) && other.lp.Basic(int(j)) {
				cols = append(cols, m.segments[c][k])
			}
		}
	}
	for g, j := range other.charge {
		if other.lp.Basic(int(j)) {
			cols = append(cols, m.charge[g])
		}
	}
	m.lp.Start(cols)
}

// addFill adds a pattern that is one.
func (m *master) addFill(f rules.Pattern, x *rules.PatternSize) bool {
	return m.add(rules.Column{Fill: &f, Cost: m.p.Costs(&f, x)})
}

// addPath adds an assembly of a run.
func (m *master) addPath(run int, p rules.Path) bool {
	return m.add(m.p.Assembly(run, p))
}

// basics returns the columns that are in the basis.
func (m *master) basics() (in []rules.Column) {
	for j := range m.cols {
		if m.lp.Basic(int(m.at[j])) {
			in = append(in, m.cols[j])
		}
	}
	return in
}

// offset keeps what is divided above zero: wide.Int.CeilDiv knows no bounds below.
const offset = 1 << 40

// solve generates columns until none is missing or no plan in the box does better
// than cutoff.
func (m *master) solve(cutoff int64, mt *meter.Meter) status {
	m.bound, m.scale = -offset, 0
	has := false
	for {
		mt.Pause()
		st := m.lp.Solve(mt)
		if st == lp.Stopped {
			return stopped
		}
		farkas := st == lp.Infeasible
		scale := m.setDuals(farkas)
		before := len(m.cols)
		if !m.price(mt) {
			return stopped
		}
		num := m.numerator(scale)
		if farkas {
			if num.Sign() > 0 {
				m.keep(num, 0)
				return infeasible
			}
		} else {
			num.AddMul(scale, offset)
			b := num.CeilDiv(scale) - offset
			if !has || b > m.bound || m.toOptimality && b == m.bound || b == m.bound && scale == m.scale && num.Cmp(m.num) > 0 {
				has = true
				m.keep(num, scale)
				m.bound = b
				if b >= cutoff {
					return pruned
				}
			}
			if !m.toOptimality && float64(m.bound) >= m.lpValue()-float64(1e-9*m.unit) {
				return converged
			}
		}
		if m.generate(scale, mt); len(m.cols) == before {
			if farkas {
				return stopped
			}
			return converged
		}
	}
}

// material sets the bound that follows from sizes alone: a unit of size is worth
// what it costs on the sticks that the total runs out in, the cheapest for their
// size first.
func (m *master) material() {
	p := m.p
	if m.objective.Main != rules.Price {
		return
	}
	total, top := int64(0), int64(1)
	for i := range p.Items {
		if !p.Items[i].Alone {
			total += slices.Min(m.knapsacks[0].Sizes(i)) * p.Items[i].Demand
		}
	}
	sticks := make([]model.Bin, len(p.Classes))
	for c := range sticks {
		sticks[c] = model.Bin{Cost: rules.NoCost, Limit: m.root.hi[c]}
		for _, b := range p.Classes[c].Bins {
			sticks[c].Cap += p.Bins[b].Cap
			top = max(top, p.Bins[b].Cap)
		}
		for _, t := range p.Classes[c].Tiers {
			sticks[c].Cost = min(sticks[c].Cost, t.Price)
		}
	}
	cost, size, _ := bound.MaterialRate(total, sticks)
	r := float64(cost) / float64(size)
	scale := int64(1) << 40
	for scale > 1 && (float64(r*float64(top))+m.unit)*float64(scale) > 1<<56 {
		scale /= 2
	}
	each := int64(r * float64(scale))
	for i := range p.Items {
		m.dual[i] = 0
		if !p.Items[i].Alone {
			m.dual[i] = each * slices.Min(m.knapsacks[0].Sizes(i))
		}
	}
	for b := range p.Bins {
		m.patternValue[b] = each * p.Bins[b].Cap
	}
	m.criterionDual = [rules.Criteria]int64{rules.Price: scale}
	for q, x := range m.paths {
		m.assemblyCost[q] = x.Price(m.dual, &m.criterionDual)
	}
	num := m.numerator(scale)
	num.AddMul(scale, offset)
	m.keep(num, scale)
	m.bound = num.CeilDiv(scale) - offset
}

// lpValue returns the value of the relaxation, the cost of the box's lower corner
// included; a guide only.
func (m *master) lpValue() float64 {
	v := m.lp.Objective() * m.unit
	for c := range m.p.Classes {
		switch m.objective.Main {
		case rules.Price:
			v += float64(m.baseOf[c])
		case rules.Sticks:
			v += float64(m.p.Classes[c].Count * m.box.lo[c])
		case rules.Salvage:
			v += float64(m.p.Classes[c].Idle * m.box.lo[c])
		}
	}
	return v
}

func (m *master) keep(num wide.Int, scale int64) {
	copy(m.bestDual, m.dual)
	copy(m.bestPatternValue, m.patternValue)
	copy(m.bestAssemblyCost, m.assemblyCost)
	m.num, m.scale, m.bestCriterionDual = num, scale, m.criterionDual
}

// setDuals turns the duals into integers and returns their scale, 0 for a Farkas ray.
func (m *master) setDuals(farkas bool) int64 {
	p := m.p
	unit := m.unit
	if farkas {
		most := 0.0
		for r := range m.lp.Rows() {
			most = max(most, math.Abs(m.lp.Dual(r)))
		}
		unit = 1 / max(most, 1e-300)
	}
	m.floatDual = m.floatDual[:0]
	for r := range m.lp.Rows() {
		m.floatDual = append(m.floatDual, float64(m.lp.Dual(r)*unit))
	}
	worth := m.mostWorth(farkas)
	scale := int64(1) << 40
	if m.unit > 1<<16 {
		scale >>= min(30, int64(math.Log2(m.unit))-16)
	}
	for scale > 1 && worth*1.01*float64(scale) > 1<<58 {
		scale /= 2
	}
	f := float64(scale)
	if worth*1.01 > 1<<58 {
		f = (1 << 58) / (worth * 1.01)
	}
	m.factor = f
	for i := range p.Items {
		m.dual[i] = int64(max(m.floatDual[i], 0) * f)
	}
	for b := range p.Bins {
		m.binDual[b] = int64(max(0, -m.floatDual[m.rowBin+b]) * f)
	}
	m.criterionDual = [rules.Criteria]int64{}
	for c := range rules.Criteria {
		if m.objective.Capped[c] {
			m.criterionDual[c] = int64(max(0, -m.floatDual[m.rowCrit+c]) * f)
		}
	}
	if farkas {
		return 0
	}
	m.criterionDual[m.objective.Main] = scale
	return scale
}

// mostWorth returns what one column can come to at most at the present duals.
func (m *master) mostWorth(farkas bool) float64 {
	p := m.p
	worth := m.mostPatternValue()
	var weight [rules.Criteria]float64
	for c := range rules.Criteria {
		if m.objective.Capped[c] {
			weight[c] = max(0, -m.floatDual[m.rowCrit+c])
		}
		if c == m.objective.Main && !farkas {
			weight[c] = 1
		}
	}
	for r := range p.Runs {
		top := 0.0
		for _, a := range p.Runs[r].Arcs {
			cost := float64(max(1, weight[rules.Price])*float64(a.Cost)) + float64(weight[rules.Splices]*float64(a.Splices))
			top = max(top, float64(float64(a.N)*max(m.floatDual[a.Item], 0))+cost)
		}
		worth = max(worth, top*float64(p.Runs[r].Nodes))
	}
	most := [rules.Criteria]float64{rules.Price: 1, rules.Sticks: 1, rules.Salvage: 1, rules.Cuts: 1, rules.Splices: 1}
	for b := range p.Bins {
		k := &p.Kinds[p.Bins[b].Kind]
		for c := range rules.Criteria {
			most[c] = max(most[c], math.Abs(float64(p.Bins[b].Own[c])))
		}
		if n := len(k.Salvage); n > 0 {
			most[rules.Salvage] += float64(k.Salvage[n-1].Value)
		}
		most[rules.Cuts] = max(most[rules.Cuts], float64(1<<17))
	}
	for c := range p.Classes {
		most[rules.Salvage] = max(most[rules.Salvage], math.Abs(float64(p.Classes[c].Idle)))
	}
	for c := range rules.Criteria {
		worth += float64(weight[c] * most[c])
	}
	for b := range p.Bins {
		worth = max(worth, math.Abs(m.floatDual[m.rowBin+b]))
	}
	return worth
}

// mostPatternValue returns what the items of one pattern are worth at most, at least 1.
func (m *master) mostPatternValue() float64 {
	p, worth := m.p, 1.0
	for k := range p.Kinds {
		for _, b := range m.binsOf[k] {
			sum, rate := 0.0, 0.0
			cap := p.Bins[b].Cap
			for i := range p.Items {
				if m.floatDual[i] <= 0 {
					continue
				}
				if p.Items[i].Alone {
					sum += m.floatDual[i]
					continue
				}
				for _, s := range m.knapsacks[k].Sizes(i) {
					sum += float64(m.floatDual[i] * float64(min(p.Items[i].Most, cap/max(s, 1))))
					rate = max(rate, m.floatDual[i]/float64(max(s, 1)))
				}
			}
			worth = max(worth, min(sum, float64(rate*float64(cap))+1))
		}
	}
	return worth
}

// price finds the most that a pattern of each bin gains and the least that an assembly of
// each run costs.
func (m *master) price(mt *meter.Meter) bool {
	for k, f := range m.knapsacks {
		var bins []int
		var need []int64
		for _, b := range m.binsOf[k] {
			if m.box.hi[m.classOf[b]] > 0 {
				bins = append(bins, b)
				need = append(need, m.binDual[b])
			}
		}
		if len(bins) == 0 {
			continue
		}
		if !f.Build(bins, need, m.dual, m.criterionDual, mt) {
			return false
		}
		for _, b := range bins {
			// What falls short of the need is not known, nor does it matter.
			m.patternValue[b] = max(f.Best(b), m.binDual[b])
			if m.patternValue[b] > m.binDual[b] && f.Relaxed() {
				m.tighten(f, b, mt)
			}
		}
	}
	for r, x := range m.paths {
		m.assemblyCost[r] = x.Price(m.dual, &m.criterionDual)
	}
	return true
}

// tighten replaces the table's bound on the best pattern by the best itself, where a
// search of some steps finds it, and adds what it meets to the master.
func (m *master) tighten(f *pricing.Knapsack, b int, mt *meter.Meter) {
	best := m.binDual[b]
	top := m.patternValue[b]
	// From near the top down, so that the search stays small.
	for step := max((top-best)/16, 1); ; step *= 4 {
		from := max(top-step, best+1)
		found := int64(pricing.None)
		if !f.Enumerate(b, from, mt.Sub(exactWork), func(fill rules.Pattern, x rules.PatternSize, gain int64) bool {
			if gain > found {
				found = gain
				m.addFill(fill, &x)
			}
			return true
		}) {
			return
		}
		if found > pricing.None {
			m.patternValue[b] = found
			return
		}
		if from == best+1 {
			m.patternValue[b] = best
			return
		}
		if step > 1<<60 {
			step = 1 << 60
		}
	}
}

// numerator returns scale times the bound that the present duals show.
func (m *master) numerator(scale int64) wide.Int {
	var n wide.Int
	p := m.p
	for i := range p.Items {
		n.AddMul(m.dual[i], p.Items[i].Demand)
	}
	for r := range p.Runs {
		if m.assemblyCost[r] >= rules.NoCost {
			n.AddMul(rules.NoCost, 2) // no way at all
		} else {
			n.AddMul(m.assemblyCost[r], 1)
		}
	}
	for k := range rules.Criteria {
		if m.objective.Capped[k] && (k != m.objective.Main || scale == 0) {
			n.AddMul(-m.criterionDual[k], m.objective.Limit[k])
		}
	}
	add := func(x wide.Int) {
		n = n.Sub(wide.Int{}.Sub(x))
	}
	sold := make([]wide.Int, len(p.Suppliers))
	for c := range p.Classes {
		hi := m.box.hi[c]
		g := m.supplierOf[c]
		if g >= 0 && m.box.on[g] == no {
			hi = 0
		}
		each := int64(0)
		for _, b := range p.Classes[c].Bins {
			each -= max(0, m.patternValue[b])
		}
		if hi == 0 {
			each = 0
		}
		each += m.criterionDual[rules.Sticks]*p.Classes[c].Count + m.criterionDual[rules.Salvage]*p.Classes[c].Idle
		v, where := least(&p.Classes[c], min(m.box.lo[c], hi), hi, m.criterionDual[rules.Price], each)
		if where < 0 {
			n.AddMul(rules.NoCost, 2)
		}
		if g >= 0 {
			sold[g] = sold[g].Sub(wide.Int{}.Sub(v))
		} else {
			add(v)
		}
	}
	m.addSuppliers(sold, add)
	return n
}

// addSuppliers adds what is bought of each supplier, and the charge, where the supplier is used or had better be.
func (m *master) addSuppliers(sold []wide.Int, add func(wide.Int)) {
	p := m.p
	for g := range p.Suppliers {
		v := sold[g]
		v.AddMul(m.criterionDual[rules.Price], p.Suppliers[g].Charge)
		switch m.box.on[g] {
		case yes:
			add(v)
		case open:
			// Not used, or used.
			must := false
			for _, c := range p.Suppliers[g].Classes {
				must = must || m.box.lo[c] > 0
			}
			if must || v.Sign() < 0 {
				add(v)
			}
		}
	}
}

// least is Class.least for any sign of each.
func least(c *rules.StockClass, lo, hi, weight, each int64) (wide.Int, int64) {
	if each <= 0 {
		return c.Least(lo, hi, weight, each)
	}
	// A cost that never falls, and a price on top: as few as may be.
	_, cost := c.Extra(lo)
	var v wide.Int
	if cost == rules.NoCost {
		return v, -1
	}
	v.AddMul(weight, cost)
	v.AddMul(each, lo)
	return v, lo
}

// generate adds columns that the relaxation lacks: for each bin the best pattern,
// and the best with each item in it, as long as they differ; for each run the best assemblies.
func (m *master) generate(scale int64, mt *meter.Meter) {
	tol := int64(1)
	if scale > 0 {
		tol = max(1, int64(float64(m.unit*float64(scale))/(1<<30)))
	} else {
		tol = 1 << 16
	}
	for k, f := range m.knapsacks {
		cands, ok := m.candidates(k, tol, mt)
		if !ok {
			return
		}
		m.addCandidates(f, cands, tol, mt)
	}
	for r, x := range m.paths {
		dual := int64(m.floatDual[m.rowRun+r] * m.factor)
		got := 0
		if m.assemblyCost[r] >= dual-tol {
			continue
		}
		x.Enumerate(m.assemblyCost[r], func(p rules.Path, cost int64) bool {
			if m.addPath(r, p) {
				got++
			}
			return got < 3
		})
	}
}

// candidate is the best pattern of a bin, or with stage not below zero the best that holds one more
// of the stage's item in an orientation.
type candidate struct {
	bin, stage, orient int
	gain               int64
}

// candidates returns the patterns of a kind that are worth a look, those of the greatest gain first; false when the
// meter ran out. Whole sticks to spare are added at once.
func (m *master) candidates(kind int, tol int64, mt *meter.Meter) (cands []candidate, ok bool) {
	f := m.knapsacks[kind]
	stages, states := f.Size()
	for _, b := range m.binsOf[kind] {
		if m.box.hi[m.classOf[b]] == 0 || m.patternValue[b] <= m.binDual[b]+tol {
			continue
		}
		if item, gain := f.Spare(); gain >= m.binDual[b]+tol {
			m.addFill(rules.Pattern{Bin: b, Uses: []rules.Use{{Item: item, N: 1}}}, &rules.PatternSize{})
		}
		cands = append(cands, candidate{b, -1, -1, m.patternValue[b]})
		for l := range stages {
			for w := range f.Orientations(l) {
				if v := f.With(b, l, w); v > m.binDual[b]+tol {
					cands = append(cands, candidate{b, l, w, v})
				}
			}
		}
		if !mt.Spend(int64(12 * stages * states)) {
			return nil, false
		}
	}
	slices.SortStableFunc(cands, func(a, b candidate) int {
		return cmp.Compare(b.gain-m.binDual[b.bin], a.gain-m.binDual[a.bin])
	})
	return cands, true
}

// addCandidates adds candidates to the master until there are enough, those that hold the same items over
// and over left out.
func (m *master) addCandidates(f *pricing.Knapsack, cands []candidate, tol int64, mt *meter.Meter) {
	stages, states := f.Size()
	clear(m.hits)
	took := 0
next:
	for _, c := range cands {
		if !mt.Spend(int64(10 * stages * states)) {
			return
		}
		fill, x, gain, ok := f.Backtrack(c.bin, c.stage, c.orient)
		if !ok || gain <= m.binDual[c.bin]+tol {
			continue
		}
		for _, u := range fill.Uses {
			if took > 0 && m.hits[u.Item] >= 4 {
				continue next
			}
		}
		if m.addFill(fill, &x) {
			for _, u := range fill.Uses {
				m.hits[u.Item]++
			}
			if took++; took >= 8+stages/3 {
				return
			}
		}
	}
}
