// Package master solves the linear relaxation of a cutting problem over all its columns by column generation:
// P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations
// Research 9 (1961) 849-859, with bounded ("proper") patterns, several columns a round and bounds that are
// exact at every round.
//
// Columns come in families: patterns of a kind of stick and assemblies of a run, which oracles (package
// pricing) find, and purchases of a class of sticks, one for each piece of the convex envelope of its cost
// (purchase.go). Rows are the items, the bins, the links of classes to their suppliers, the runs, then the
// criteria, which may be capped. Without rules, purchases are folded into patterns: a pattern has the price
// of a stick as its cost, and the row of a bin bounds the number of patterns. Otherwise that row requires at
// least as many purchased sticks as patterns.
package master

import (
	"math"
	"slices"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/pricing"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/wide"
)

// Status is how a solve ended.
type Status uint8

const (
	Converged  Status = iota + 1 // no column is missing
	Pruned                       // the bound reached the cutoff
	Infeasible                   // proven in integers: no plan in the box
	Stopped                      // the meter ran out, or the numerical method failed
)

// Duals is a dual solution in integers. It proves a bound for its box and every box within.
type Duals struct {
	Scale  int64   // 0 for a Farkas ray
	Item   []int64 // per item, >= 0
	Weight [rules.Criteria]int64
	Best   []int64 // per bin, then per run: no column gains more; see pricing.Oracle

	Found int // number of columns found when an enumeration by these duals gave up
}

// Clone copies the duals.
func (d *Duals) Clone() Duals {
	return Duals{Scale: d.Scale, Item: slices.Clone(d.Item), Weight: d.Weight, Best: slices.Clone(d.Best)}
}

// Master is the restricted master problem.
type Master struct {
	*Families
	LP      lp.LP
	Columns []rules.Column // patterns and assemblies, see Col
	Box     bound.Box      // bounds of each class

	// Bound is the best exact bound of the last Solve: Num divided by the scale of Duals, rounded up. Duals
	// prove it.
	Bound int64
	Num   wide.Int
	Duals Duals

	// ToOptimality makes Solve continue until no column is missing, even if the bound, rounded up, cannot
	// rise any more. Of equal bounds Solve then keeps the last, whose duals leave patterns a smaller gap.
	ToOptimality bool

	place rows
	at    []int32 // column -> its column in LP
	seen  map[uint64][]int32
	first int // number of columns of dual inequalities
	stock stock

	exchanges exchanges

	costUnit float64 // LP costs are divided by it
	scale    int64
	most     float64 // greatest value of a column in integers
	smooth   float64 // weight of the stability center
	floor    int64   // no plan costs less

	tolerance int64 // a reduced cost this close to zero at the finest scale counts as zero
	residual  residual

	prices          pricing.Prices // the present duals, as the oracles need them
	now             Duals          // the present duals, with the greatest gains
	floatDual       []float64      // of all rows
	stabilityCenter []float64      // the duals of the best bound of a Solve
	idx             []int32
	val             []float64
}

// rows has the indices of the LP's rows. Items come first.
type rows struct {
	bin, run int
	link     []int32               // class -> row, -1
	capped   [rules.Criteria]int32 // criterion -> row
}

// smoothing is the weight of the stability center in problems without rules and in those with spliced runs
// (BenchmarkRules: 0.83 of the steps). With other rules it saves nothing (1.05; with nesting 1.2).
const smoothing = 0.5

// coarse is the finest scale of duals in problems with rules. The finest scale of problems without rules
// takes longer (BenchmarkRules, 8 jobs a rule: 1.06 of the steps).
const coarse = 1 << 40

// New returns a master of a problem without rules. It has no columns and the full box.
func New(p *model.Problem) *Master {
	m := &Master{Families: NewFamilies(p), most: 1 << 60, smooth: smoothing}
	m.setUp()
	return m
}

// NewOf returns a master of a problem with rules.
func NewOf(p *rules.Problem, objective rules.Objective) *Master {
	m := &Master{Families: NewFamiliesOf(p, objective), most: 1 << 58, floor: NoBound}
	if p.Spliced() {
		m.smooth = smoothing
	}
	m.setUp()
	return m
}

func (m *Master) setUp() {
	p := m.P
	m.seen = map[uint64][]int32{}
	n, places := len(p.Items), len(p.Bins)+len(p.Runs)
	m.prices = pricing.Prices{Item: make([]int64, n), Need: make([]int64, places), Limit: slices.Clone(m.limit)}
	m.now = Duals{Item: m.prices.Item, Best: make([]int64, places)}
	m.Duals = Duals{Item: make([]int64, n), Best: make([]int64, places)}
	m.setUnits()
	m.addRows()
	m.addCharges()
	m.SetBox(m.Root)
}

// setUnits sets the unit of costs in the relaxation, and the finest scale of duals.
func (m *Master) setUnits() {
	top := int64(1)
	for c := range m.P.Classes {
		for _, t := range m.P.Classes[c].Tiers {
			top = max(top, t.Price)
		}
	}
	if m.Objective.Main != rules.Price {
		top = 1
	}
	m.costUnit, m.scale, m.tolerance = float64(top), bound.Scale(top), tolerance
	if m.Plain == nil {
		m.scale = min(2*m.scale, coarse)
		m.tolerance = int64(float64(m.costUnit*float64(m.scale)) / (1 << 30))
	}
}

// addRows adds the rows.
func (m *Master) addRows() {
	p, inf := m.P, math.Inf(1)
	for i, n := range m.demand {
		m.LP.AddRow(float64(n)-lp.Slack(i), inf, nil, nil)
	}
	m.place.bin = len(p.Items)
	for range p.Bins {
		m.LP.AddRow(-inf, inf, nil, nil)
	}
	m.place.link = slices.Repeat([]int32{-1}, len(p.Classes))
	for c := range p.Classes {
		if g := m.supplierOf[c]; g >= 0 && p.Suppliers[g].Charge > 0 {
			m.place.link[c] = int32(m.LP.AddRow(-inf, 0, nil, nil))
		}
	}
	m.place.run = m.LP.Rows()
	for range p.Runs {
		m.LP.AddRow(1, inf, nil, nil)
	}
	if m.Plain == nil {
		for k := range m.Objective.Rows() {
			m.place.capped[k] = int32(m.LP.AddRow(-inf, inf, nil, nil))
		}
	}
	m.floatDual = make([]float64, m.LP.Rows())
	m.stabilityCenter = make([]float64, m.LP.Rows())
}

// Perturb adds the given amounts to the demands of the items in the relaxation only; nil adds nothing. Bounds
// remain valid, since they use the true demands. If there are several optimal dual solutions, Solve then
// finds others.
func (m *Master) Perturb(by []float64) {
	for i, n := range m.demand {
		d := float64(n) - lp.Slack(i)
		if by != nil {
			d += by[i]
		}
		m.LP.SetRow(i, d, math.Inf(1))
	}
}

// Add adds a pattern to the master unless it is there already. It returns the pattern's index in Columns and
// whether it is new. Uses must be in increasing order of item.
func (m *Master) Add(bin int, uses []model.Use) (int, bool) {
	return m.AddColumn(rules.Column{Fill: &rules.Pattern{Bin: bin, Uses: uses}})
}

// AddColumn is Add for any column. It keeps a copy of the column.
func (m *Master) AddColumn(c rules.Column) (int, bool) {
	h := hash(&c)
	for _, j := range m.seen[h] {
		if same(&m.Columns[j], &c) {
			return int(j), false
		}
	}
	m.idx, m.val = m.idx[:0], m.val[:0]
	cost := c.Cost
	if c.Fill != nil {
		c.Fill = &rules.Pattern{Bin: c.Fill.Bin, Uses: slices.Clone(c.Fill.Uses)}
		for _, u := range c.Fill.Uses {
			if k := len(m.idx) - 1; k >= 0 && m.idx[k] == int32(u.Item) {
				m.val[k] += float64(u.N)
				continue
			}
			m.idx, m.val = append(m.idx, int32(u.Item)), append(m.val, float64(u.N))
		}
		m.idx, m.val = append(m.idx, int32(m.place.bin+c.Fill.Bin)), append(m.val, 1)
		if class := m.classOf[c.Fill.Bin]; m.folded[class] {
			for k, v := range m.each[class] {
				cost[k] += v
			}
		}
	} else {
		for _, u := range m.P.Runs[c.Run].Uses(c.Path) {
			m.idx, m.val = append(m.idx, int32(u.Item)), append(m.val, -float64(u.N))
		}
		m.idx, m.val = append(m.idx, int32(m.place.run+c.Run)), append(m.val, 1)
	}
	j := len(m.Columns)
	m.seen[h] = append(m.seen[h], int32(j))
	m.Columns = append(m.Columns, c)
	m.at = append(m.at, m.enter(&cost))
	return j, true
}

// enter adds the column in idx and val with its costs and returns its index in LP.
func (m *Master) enter(cost *[rules.Criteria]int64) int32 {
	for k, c := range cost {
		if m.Objective.Capped[k] && c != 0 {
			m.idx, m.val = append(m.idx, m.place.capped[k]), append(m.val, float64(c))
		}
	}
	return int32(m.LP.AddColumn(float64(cost[m.Objective.Main])/m.costUnit, m.idx, m.val))
}

// offer is AddColumn for oracles.
func (m *Master) offer(c rules.Column) bool {
	_, fresh := m.AddColumn(c)
	return fresh
}

func hash(c *rules.Column) uint64 {
	h := uint64(0x9e3779b97f4a7c15)
	mix := func(x int) {
		h = (h ^ uint64(x)) * 0xbf58476d1ce4e5b9
		h ^= h >> 29
	}
	if c.Fill == nil {
		mix(-1 - c.Run)
		for _, a := range c.Path {
			mix(a)
		}
		return h
	}
	mix(c.Fill.Bin)
	for _, u := range c.Fill.Uses {
		mix(u.Item<<8 ^ u.Orient)
		mix(int(u.N))
	}
	return h
}

func same(a, b *rules.Column) bool {
	if a.Fill == nil || b.Fill == nil {
		return a.Fill == b.Fill && a.Run == b.Run && slices.Equal(a.Path, b.Path)
	}
	return a.Fill.Bin == b.Fill.Bin && slices.Equal(a.Fill.Uses, b.Fill.Uses)
}

// Col returns the index of a column in the LP.
func (m *Master) Col(j int) int { return int(m.at[j]) }

// Basics returns the columns that are in the basis.
func (m *Master) Basics() (in []rules.Column) {
	for j := range m.Columns {
		if m.LP.Basic(m.Col(j)) {
			in = append(in, m.Columns[j])
		}
	}
	return in
}

// StartWith starts the simplex method from a basis of columns and exchanges, given by their indices, and of one
// purchase of each class that they use. The columns of another relaxation's basis are nearly feasible together.
func (m *Master) StartWith(columns, exchanges []int) {
	var cols []int32
	for _, k := range exchanges {
		if k < len(m.exchanges.at) {
			cols = append(cols, m.exchanges.at[k])
		}
	}
	taken, bought := make([]bool, len(m.Columns)), make([]bool, len(m.P.Classes))
	for _, j := range columns {
		if taken[j] {
			continue
		}
		taken[j] = true
		cols = append(cols, m.at[j])
		if f := m.Columns[j].Fill; f != nil {
			if c := m.classOf[f.Bin]; !bought[c] && len(m.stock.segments[c]) > 0 {
				bought[c] = true
				cols = append(cols, m.stock.segments[c][0].col)
			}
		}
	}
	m.LP.Start(cols)
}

// Cheapest adds some assemblies of each run, chosen by price alone, as initial columns.
func (m *Master) Cheapest() {
	clear(m.prices.Item)
	m.prices.Weight = [rules.Criteria]int64{rules.Price: 1}
	for _, o := range m.oracles {
		if x, ok := o.(*pricing.Paths); ok {
			x.Build(&m.prices, m.now.Best, nil, nil)
			x.Cheapest(m.offer)
		}
	}
}
