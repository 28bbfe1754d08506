// Package master solves the linear relaxation of the cutting stock problem
// over all patterns by column generation: P. C. Gilmore, R. E. Gomory, A linear
// programming approach to the cutting-stock problem, Operations Research 9
// (1961) 849-859, with bounded ("proper") patterns, several columns a round and
// bounds that are exact at every round.
package master

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/knapsack"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/wide"
)

// Status is how a solve ended.
type Status uint8

const (
	Converged  Status = iota + 1 // no column is missing
	Pruned                       // the bound reached the cutoff
	Infeasible                   // proven in integers: no plan in the box
	Stopped                      // the meter ran out, or numbers would not settle
)

// MaxLabels bounds the pricing table.
const MaxLabels = 24 << 20

// conflictWork limits the search for the best pattern that keeps conflicts apart.
const conflictWork = 2_000_000

// Master is the restricted master problem. Rows are the items, then the bins.
type Master struct {
	P        *model.Problem
	LP       lp.LP
	Patterns []model.Pattern // columns of LP, see Col
	Box      bound.Box

	// Conflicts holds the pairs that no pattern may hold; nil: none. It is set
	// before columns are added.
	Conflicts *knapsack.Conflicts

	// Bound, Value, Best and Scale are the best exact bound of the last Solve
	// and what shows it: see package bound. Best is at least the greatest dual value
	// of a pattern, and the bound reckons with it.
	Bound int64
	Duals []int64
	Best  []int64
	Scale int64
	Num   wide.Int

	// ToOptimality makes Solve go on until no column is missing, also where the bound,
	// rounded up, can rise no more; it then keeps the last bound, whose duals
	// leave less gap to patterns than those of an earlier one.
	ToOptimality bool

	first           int     // column of the first pattern
	costUnit        float64 // LP costs are divided by it
	scale           int64
	residualDemand  []int64 // most of each item in a new pattern
	residual        bool    // some limit is below the demand
	spent           int64   // see SetLimits
	bins            []int64
	target          int64
	seen            map[uint64][]int32
	table           knapsack.Table
	maxCap          int64
	dual            []int64
	best            []int64
	binDual         []int64
	floatDual       []float64 // of items and bins
	stabilityCenter []float64 // the duals of the best bound of a Solve
	most            []int64
	targets         []knapsack.Target
	idx             []int32
	val             []float64
	sorted          []model.Use
	found           []candidate
	foundBuf        []model.Use
	hits            []int
}

type candidate struct {
	bin      int
	stage    int // of the item that the pattern is the best to hold, or plain, or given
	from, to int // in foundBuf
	gain     int64
}

const (
	plain = -1 // the best pattern of all
	given = -2 // the pattern in foundBuf
)

// New sets up a master without columns over the full box.
func New(p *model.Problem) *Master {
	m := &Master{P: p, Box: bound.Full(p), seen: map[uint64][]int32{}}
	top := int64(1)
	for _, b := range p.Bins {
		top = max(top, b.Cost)
		m.maxCap = max(m.maxCap, b.Cap)
	}
	m.costUnit = float64(top)
	m.scale = bound.Scale(top)
	for i, it := range p.Items {
		m.LP.AddRow(float64(it.Demand)-lp.Slack(i), math.Inf(1), nil, nil)
		m.residualDemand = append(m.residualDemand, it.Demand)
	}
	for b := range p.Bins {
		m.LP.AddRow(math.Inf(-1), math.Inf(1), nil, nil)
		m.setBin(b)
	}
	m.dual = make([]int64, len(p.Items))
	m.best = make([]int64, len(p.Bins))
	m.binDual = make([]int64, len(p.Bins))
	m.hits = make([]int, len(p.Items))
	m.floatDual = make([]float64, len(p.Items)+len(p.Bins))
	m.stabilityCenter = make([]float64, len(p.Items)+len(p.Bins))
	m.most = make([]int64, len(p.Items))
	m.Duals = make([]int64, len(p.Items))
	m.Best = make([]int64, len(p.Bins))
	return m
}

func (m *Master) setBin(b int) {
	lo, hi := math.Inf(-1), math.Inf(1)
	if m.Box.Lo[b] > 0 {
		lo = float64(m.Box.Lo[b])
	}
	if n := m.Box.Hi[b]; n < m.P.Bins[b].Limit || n < m.P.Pieces() {
		hi = float64(n)
	}
	m.LP.SetRow(len(m.P.Items)+b, lo, hi)
}

// SetBox restricts how often each bin is used.
func (m *Master) SetBox(box bound.Box) {
	m.Box = box
	for b := range m.P.Bins {
		m.setBin(b)
	}
}

// SetLimits bounds each item in patterns to come: by what is left to cut, when
// some patterns are fixed that cost so much together and leave at most so many of
// each bin. Bounds then say nothing of the whole problem, and Solve does not keep
// them. It ends as soon as the relaxation costs no more than enough.
func (m *Master) SetLimits(limit []int64, spent int64, bins []int64, enough int64) {
	copy(m.residualDemand, limit)
	m.spent, m.bins, m.target = spent, append(m.bins[:0], bins...), enough
	m.residual = false
	for i, it := range m.P.Items {
		m.residual = m.residual || m.residualDemand[i] < it.Demand
	}
}

// Perturb adds so much to the demand of each item in the relaxation alone, nil for
// nothing. Bounds still hold, since they reckon with the demand itself; of several
// optimal duals, Solve then comes to others.
func (m *Master) Perturb(by []float64) {
	for i, it := range m.P.Items {
		d := float64(it.Demand) - lp.Slack(i)
		if by != nil {
			d += by[i]
		}
		m.LP.SetRow(i, d, math.Inf(1))
	}
}

// Add puts a pattern into the master unless it is there, and returns its
// column and whether it is new. Uses must be in increasing order of item.
func (m *Master) Add(bin int, uses []model.Use) (int, bool) {
	h := uint64(bin)*0x9e3779b97f4a7c15 + 1
	for _, u := range uses {
		h = (h ^ uint64(u.Item)) * 0x9e3779b97f4a7c15
		h = (h ^ uint64(u.N) ^ h>>29) * 0xbf58476d1ce4e5b9
	}
	for _, j := range m.seen[h] {
		if m.Patterns[j].Bin == bin && slices.Equal(m.Patterns[j].Uses, uses) {
			return int(j), false
		}
	}
	m.idx, m.val = m.idx[:0], m.val[:0]
	for _, u := range uses {
		m.idx = append(m.idx, int32(u.Item))
		m.val = append(m.val, float64(u.N))
	}
	m.idx = append(m.idx, int32(len(m.P.Items)+bin))
	m.val = append(m.val, 1)
	m.LP.AddColumn(float64(m.P.Bins[bin].Cost)/m.costUnit, m.idx, m.val)
	j := len(m.Patterns)
	m.Patterns = append(m.Patterns, model.Pattern{Bin: bin, Uses: slices.Clone(uses)})
	m.seen[h] = append(m.seen[h], int32(j))
	return j, true
}

// Objective returns the LP objective in cost units, a float and a guide only.
func (m *Master) Objective() float64 { return float64(m.LP.Objective() * m.costUnit) }

// Solve generates columns until none is missing, or until no plan in the box
// can cost less than cutoff.
func (m *Master) Solve(cutoff int64, mt *meter.Meter) Status {
	m.Bound, m.Scale = 0, m.scale
	clear(m.Duals)
	clear(m.Best)
	m.Num = wide.Int{}
	hasBound, center := false, math.Inf(-1)
	for {
		mt.Pause()
		st := m.LP.Solve(mt)
		if st == lp.Stopped {
			return Stopped
		}
		farkas := st == lp.Infeasible
		if m.residual && !farkas && m.Objective() <= float64(m.target)+float64(1e-9*m.costUnit) {
			return Converged
		}
		// Duals between those of the relaxation and the best so far swing less
		// (P. Wentges, Weighted Dantzig-Wolfe decomposition for linear
		// mixed-integer programming, 1997). Where they find nothing, the
		// relaxation's own decide.
		smooth := smoothing
		if !hasBound || farkas {
			smooth = 0
		}
		for {
			scale := m.setDuals(farkas, smooth)
			if !m.buildTable(scale, mt) {
				return Stopped
			}
			num := bound.Numerator(m.P, m.Box, m.dual, m.best, scale)
			if farkas {
				if num.Sign() > 0 {
					m.keep(num, 0)
					return Infeasible
				}
			} else if m.residual {
				if m.residualBound(scale) >= cutoff {
					return Pruned
				}
			} else {
				if v := num.Float() / float64(scale); v > center {
					center = v
					copy(m.stabilityCenter, m.floatDual)
				}
				if bound := num.CeilDiv(scale); !hasBound || m.ToOptimality && bound >= m.Bound || bound > m.Bound || scale == m.Scale && num.Cmp(m.Num) > 0 {
					hasBound = true
					m.keep(num, scale)
					m.Bound = bound
					if m.Bound >= cutoff {
						return Pruned
					}
				}
			}
			if hasBound && !farkas && !m.ToOptimality && float64(m.Bound) >= m.Objective()-float64(1e-9*m.costUnit) {
				return Converged // the bound, rounded up, has met the relaxation
			}
			if m.generate(scale, mt) > 0 {
				break
			}
			if smooth > 0 {
				smooth = 0
				continue
			}
			if farkas {
				return Stopped // infeasible to the eye, not proven
			}
			return Converged
		}
	}
}

// residualBound is a bound for what is fixed with the best that what is left can cost.
func (m *Master) residualBound(scale int64) int64 {
	var num wide.Int
	for i, n := range m.residualDemand {
		num.AddMul(m.dual[i], n)
	}
	for b, bin := range m.P.Bins {
		if rc := bin.Cost*scale - m.best[b]; rc < 0 {
			num.AddMul(rc, m.bins[b])
		}
	}
	return m.spent + num.CeilDiv(scale)
}

// smoothing is the weight of the stability center.
const smoothing = 0.5

// buildTable builds the pricing table at the present duals and finds the most
// dual value that a pattern of each bin has.
func (m *Master) buildTable(scale int64, mt *meter.Meter) bool {
	m.targets = m.targets[:0]
	for b, bin := range m.P.Bins {
		if m.Box.Hi[b] > 0 {
			m.targets = append(m.targets, knapsack.Target{Cap: bin.Cap, Need: bin.Cost*scale - m.binDual[b]})
		}
	}
	if !m.table.BuildFor(m.targets, m.P.Items, m.residualDemand, m.dual, MaxLabels, mt) {
		return false
	}
	for b, bin := range m.P.Bins {
		if m.best[b] = 0; m.Box.Hi[b] == 0 {
			continue
		}
		// What falls short of the need is not known, nor does it matter.
		need := bin.Cost*scale - m.binDual[b]
		m.best[b] = max(m.table.Best(bin.Cap), need)
		if !m.Conflicts.Empty() && m.best[b] > need {
			// The table knows nothing of conflicts: search, or keep its bound.
			if v, ok := m.table.ConflictFreeBest(bin.Cap, need, m.Conflicts, mt.Sub(conflictWork)); ok {
				m.best[b] = v
			}
		}
	}
	return true
}

func (m *Master) keep(num wide.Int, scale int64) {
	copy(m.Duals, m.dual)
	copy(m.Best, m.best)
	m.Num, m.Scale = num, scale
}

// setDuals sets the duals between those of the relaxation and the stability center, rounds them
// down to integers and returns their scale, 0 for a Farkas ray.
func (m *Master) setDuals(farkas bool, smooth float64) int64 {
	n := len(m.P.Items)
	unit, top := m.costUnit, m.scale
	if farkas {
		most := 0.0
		for r := range m.LP.Rows() {
			most = max(most, math.Abs(m.LP.Dual(r)))
		}
		unit, top = 1/max(most, 1e-300), 1<<40
	}
	for r := range n + len(m.P.Bins) {
		m.floatDual[r] = m.LP.Dual(r) * unit
		if smooth > 0 {
			m.floatDual[r] = float64((1-smooth)*m.floatDual[r]) + float64(smooth*m.stabilityCenter[r])
		}
	}
	return m.roundDuals(farkas, top)
}

// ScaledDuals returns the duals of the last relaxation, which had an optimum, in whole numbers, and their scale.
func (m *Master) ScaledDuals() (value []int64, scale int64) {
	scale = m.setDuals(false, 0)
	return slices.Clone(m.dual), scale
}

// roundDuals turns m.floatDual into integers and returns their scale, 0 for a Farkas ray.
func (m *Master) roundDuals(farkas bool, top int64) int64 {
	n := len(m.P.Items)
	copy(m.most, m.residualDemand)
	scale := bound.RoundDuals(m.dual, m.floatDual, m.P.Items, m.most, m.maxCap, 0, top)
	for b := range m.P.Bins {
		m.binDual[b] = int64(min(max(m.floatDual[n+b]*float64(scale), -(1<<60)), 1<<60))
	}
	if farkas {
		return 0
	}
	return scale
}

// generate adds columns of negative reduced cost and returns how many: for each
// item the best pattern that holds it, as long as the patterns taken do not hold
// the same items over and over. Many different columns at a time are what column
// generation lives on.
func (m *Master) generate(scale int64, mt *meter.Meter) int {
	m.found, m.foundBuf = m.found[:0], m.foundBuf[:0]
	tol := int64(1) << 26 // a billionth of the dearest bin: see dual.Scale
	if scale == 0 {
		tol = 1 << 16
	} else {
		tol = max(tol/(m.scale/scale), 1)
	}
	m.findCandidates(scale, tol, mt)
	levels := m.table.Levels()
	slices.SortStableFunc(m.found, func(a, b candidate) int { return cmp.Compare(b.gain, a.gain) })
	clear(m.hits)
	added := 0
	enough := 8 + levels/3
next:
	for _, c := range m.found {
		if c.stage != given {
			c.from = len(m.foundBuf)
			ok := true
			if c.stage == plain {
				m.foundBuf = m.table.Backtrack(m.P.Bins[c.bin].Cap, m.foundBuf)
			} else {
				m.foundBuf, ok = m.table.BacktrackWith(c.stage, m.P.Bins[c.bin].Cap, m.foundBuf)
			}
			c.to = len(m.foundBuf)
			if !mt.Spend(int64(20 * bits.Len(uint(levels)) * (1 + c.to - c.from))) {
				break
			}
			if !ok {
				continue
			}
		}
		uses := m.foundBuf[c.from:c.to]
		if added > 0 {
			for _, u := range uses {
				if m.hits[u.Item] >= 4 {
					continue next
				}
			}
		}
		_, fresh := m.Add(c.bin, m.complete(c.bin, uses))
		if !fresh {
			_, fresh = m.Add(c.bin, m.ordered(uses))
		}
		if fresh {
			for _, u := range uses {
				m.hits[u.Item]++
			}
			if added++; added >= enough {
				break
			}
		}
	}
	mt.Tally().Columns += int64(added)
	return added
}

// findCandidates finds for each bin the best pattern, and the best that hold each item.
func (m *Master) findCandidates(scale, tol int64, mt *meter.Meter) {
	levels := m.table.Levels()
	for b, bin := range m.P.Bins {
		if m.Box.Hi[b] == 0 {
			continue
		}
		need := bin.Cost*scale - m.binDual[b] + tol
		if m.best[b] < need {
			continue
		}
		if !m.Conflicts.Empty() {
			m.generateWithConflicts(b, need, mt)
			continue
		}
		m.found = append(m.found, candidate{bin: b, stage: plain, gain: m.best[b] - need})
		for l := range levels {
			if v := m.table.BestWith(l, bin.Cap); v >= need {
				m.found = append(m.found, candidate{bin: b, stage: l, gain: v - need})
			}
		}
		if !mt.Spend(int64(12 * levels)) {
			break
		}
	}
}

// generateWithConflicts finds candidates that keep conflicts apart, by enumeration.
func (m *Master) generateWithConflicts(b int, need int64, mt *meter.Meter) {
	clear(m.hits)
	got := 0
	start := mt.Used()
	m.table.Enumerate(m.P.Bins[b].Cap, need, m.Conflicts, mt.Sub(conflictWork), func(uses []model.Use, value int64) bool {
		more := mt.Used()-start < 40_000
		for _, u := range uses {
			if m.hits[u.Item] >= 4 && got > 0 {
				return more
			}
		}
		from := len(m.foundBuf)
		m.foundBuf = append(m.foundBuf, uses...)
		m.found = append(m.found, candidate{b, given, from, len(m.foundBuf), value - need})
		for _, u := range uses {
			m.hits[u.Item]++
		}
		got++
		return more && got < 30
	})
}

// ordered returns uses, given by the table last item first, first item first.
func (m *Master) ordered(uses []model.Use) []model.Use {
	m.sorted = append(m.sorted[:0], uses...)
	slices.Reverse(m.sorted)
	return m.sorted
}

// complete fills what the pattern leaves of the bin with items that cost
// nothing at the present duals.
func (m *Master) complete(bin int, uses []model.Use) []model.Use {
	m.ordered(uses)
	if m.Conflicts.Empty() {
		m.sorted = Fill(m.P, m.residualDemand, m.P.Bins[bin].Cap-m.P.Size(m.sorted), m.sorted)
	}
	return m.sorted
}

// Fill adds to uses, longest first, every item that still fits into the residual capacity
// within limit.
func Fill(p *model.Problem, limit []int64, residual int64, uses []model.Use) []model.Use {
	if residual < p.Items[len(p.Items)-1].Size {
		return uses
	}
	k := 0
	for i := range p.Items {
		size := p.Items[i].Size
		have := k < len(uses) && uses[k].Item == i
		if size <= residual {
			n := int64(0)
			if have {
				n = uses[k].N
			}
			if add := min(limit[i]-n, residual/size); add > 0 {
				residual -= add * size
				if have {
					uses[k].N += add
				} else {
					uses = slices.Insert(uses, k, model.Use{Item: i, N: add})
					have = true
				}
			}
		}
		if have {
			k++
		}
	}
	return uses
}
