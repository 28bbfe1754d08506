package branchprice

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/wide"
)

const (
	intTol   = 1e-6
	sumTol   = 1e-5
	noise    = 1e-9
	maxDepth = 1500
	perRound = 60
)

// search finds the best plan that uses only listed columns, in a box where every
// class's cost is a constant and a price per stick: branch and bound over the
// relaxation, with branching on counts of sticks, on the nodes that runs pass, on
// how many patterns hold a pair of items (D. M. Ryan, B. A. Foster, 1981; F.
// Vanderbeck, 2011), then on single columns. A node is closed only by a bound in
// integers.
type search struct {
	p         *Problem
	objective objective
	box       box
	mt        *meter.Meter
	list      []column

	lp     lp.LP
	unit   float64
	each   [][criteria]int64 // per class: cost of one stick
	base   [criteria]int64   // of the box
	rows   int               // fixed ones
	rowRun int
	rowCap int
	stick  []int32 // class -> its column in lp where it has several bins, -1
	fixed  int     // columns in lp before those of the list

	rowOf  [][]int32 // per listed column: rows and coefficients
	coef   [][]int64
	cost   []int64 // of the main criterion
	lo, hi []int64
	col    []int32 // listed column -> lp column, -1
	of     []int32 // lp column - fixed -> listed column

	live  [][]int32
	out   [][]int32
	sets  []set
	basis []lp.Basis

	stickLo, stickHi []int64 // per class
	dual             []int64
	scale            int64
	rc               []int64
	num              wide.Int
	costs            *reachable
	cutoff           int64 // only plans below it count
	best             []columnCount
	complete         bool
	nodes            int64
}

// columnCount is a listed column and how often it is used.
type columnCount struct {
	column *column
	n      int64
}

// set is the patterns that hold at least na of item a and nb of item b.
type set struct {
	a, b    int
	na, nb  int64
	lo, hi  int64
	members []int32
}

func (s *set) holds(c *column) bool {
	if c.fill == nil {
		return false
	}
	var a, b int64
	for _, u := range c.fill.Uses {
		if u.Item == s.a {
			a += u.N
		}
		if u.Item == s.b {
			b += u.N
		}
	}
	return a >= s.na && b >= s.nb
}

// searchList returns the best plan below the cost from the listed columns, nil when
// there is none, and whether that is certain. A plan costs what is in the reachable costs.
func searchList(p *Problem, a objective, bx box, list []column, cost int64, costs *reachable, mt *meter.Meter) (plan []columnCount, complete bool) {
	cutoff := costs.cutoff(cost)
	if c, ok := coveringOf(p, a, bx, list); ok {
		// If patterns must keep what they hold, a covering is no plan yet; that there is none tells.
		if plan, complete = c.solve(list, cutoff, mt); !p.Exact || complete && plan == nil {
			return plan, complete
		}
	}
	return searchColumns(p, a, bx, list, cutoff, costs, mt)
}

// searchColumns is searchList for any list, by a search that knows all rules and no cuts.
func searchColumns(p *Problem, a objective, bx box, list []column, cutoff int64, costs *reachable, mt *meter.Meter) (plan []columnCount, complete bool) {
	s := &search{p: p, objective: a, box: bx.clone(), mt: mt, list: list, costs: costs, cutoff: cutoff, complete: true}
	if !s.setUp() {
		return nil, false
	}
	s.node(0)
	return s.best, s.complete
}

func (s *search) setUp() bool {
	p := s.p
	n := len(p.Items)
	inf := math.Inf(1)
	s.each = make([][criteria]int64, len(p.Classes))
	top := int64(1)
	classOf := p.classOf()
	for g := range p.Suppliers {
		if s.box.on[g] == yes {
			s.base[Price] += p.Suppliers[g].Charge
		} else {
			for _, c := range p.Suppliers[g].Classes {
				if s.box.on[g] == no {
					s.box.hi[c] = 0
				} else if s.box.hi[c] > 0 && p.Suppliers[g].Charge > 0 {
					return false
				}
			}
		}
	}
	for c := range p.Classes {
		base, each, ok := p.Classes[c].affine(min(s.box.lo[c], s.box.hi[c]), s.box.hi[c])
		if !ok {
			return false
		}
		s.base[Price] += base
		s.each[c][Price] = each
		s.each[c][Sticks] = p.Classes[c].Count
		s.each[c][Salvage] = p.Classes[c].Idle
		top = max(top, each)
	}
	if s.objective.main != Price {
		top = 1
	}
	s.unit = float64(top)
	for i := range p.Items {
		hi := inf
		if p.Exact {
			hi = float64(p.Items[i].Demand)
		}
		s.lp.AddRow(float64(p.Items[i].Demand)-lp.Slack(i), hi, nil, nil)
	}
	s.stick = slices.Repeat([]int32{-1}, len(p.Classes))
	for b := range p.Bins {
		c := classOf[b]
		if len(p.Classes[c].Bins) == 1 {
			s.lp.AddRow(-inf, inf, nil, nil)
		} else {
			s.lp.AddRow(-inf, 0, nil, nil)
		}
	}
	s.rowRun = s.lp.Rows()
	for range p.Runs {
		s.lp.AddRow(1, 1, nil, nil)
	}
	s.rowCap = s.lp.Rows()
	for k := range s.objective.rows() {
		hi := inf
		if s.objective.capped[k] {
			hi = float64(s.objective.limit[k]-s.base[k]) + 1e-7
		}
		s.lp.AddRow(-inf, hi, nil, nil)
	}
	s.rows = s.lp.Rows()
	s.stickLo, s.stickHi = slices.Clone(s.box.lo), slices.Clone(s.box.hi)
	for c := range p.Classes {
		if bins := p.Classes[c].Bins; len(bins) > 1 {
			var idx []int32
			var val []float64
			for _, b := range slices.Sorted(slices.Values(bins)) {
				idx, val = append(idx, int32(n+b)), append(val, -1)
			}
			for k := range criteria {
				if s.objective.capped[k] && s.each[c][k] != 0 {
					idx, val = append(idx, int32(s.rowCap+k)), append(val, float64(s.each[c][k]))
				}
			}
			s.stick[c] = int32(s.lp.AddColumn(float64(s.each[c][s.objective.main])/s.unit, idx, val))
		}
		s.setStick(c)
	}
	s.fixed = s.lp.Columns()

	for j := range s.list {
		c := &s.list[j]
		var idx []int32
		var coef []int64
		cost := c.cost
		most := int64(1)
		if c.fill != nil {
			for _, u := range c.fill.Uses {
				if k := len(idx) - 1; k >= 0 && idx[k] == int32(u.Item) {
					coef[k] += u.N
				} else {
					idx, coef = append(idx, int32(u.Item)), append(coef, u.N)
				}
			}
			cl := classOf[c.fill.Bin]
			enough := int64(0)
			for k, i := range idx {
				need := p.Items[i].Most
				if p.Exact {
					enough = max(enough, 1) // more are barred by the rows
				}
				enough = max(enough, (need+coef[k]-1)/coef[k])
			}
			most = min(s.box.hi[cl], enough)
			idx, coef = append(idx, int32(n+c.fill.Bin)), append(coef, 1)
			if len(p.Classes[cl].Bins) == 1 {
				for k := range cost {
					cost[k] += s.each[cl][k]
				}
			}
		} else {
			uses := p.Runs[c.run].uses(c.path)
			for _, u := range uses {
				idx, coef = append(idx, int32(u.Item)), append(coef, -u.N)
			}
			idx, coef = append(idx, int32(s.rowRun+c.run)), append(coef, 1)
		}
		for k := range criteria {
			if s.objective.capped[k] && cost[k] != 0 {
				idx, coef = append(idx, int32(s.rowCap+k)), append(coef, cost[k])
			}
		}
		s.rowOf, s.coef = append(s.rowOf, idx), append(s.coef, coef)
		s.cost = append(s.cost, cost[s.objective.main])
		s.lo, s.hi = append(s.lo, 0), append(s.hi, most)
		s.col = append(s.col, -1)
	}
	s.rc = make([]int64, len(s.list))
	all := make([]int32, len(s.list))
	for j := range all {
		all[j] = int32(j)
	}
	s.live = append(s.live, all)
	for j := range min(len(s.list), 4*s.rows) {
		s.enter(int32(j))
	}
	return true
}

// setStick puts the bounds of a class's count into the relaxation.
func (s *search) setStick(c int) {
	lo, hi := s.stickLo[c], s.stickHi[c]
	if j := s.stick[c]; j >= 0 {
		s.lp.SetColumn(int(j), float64(lo), float64(hi))
		return
	}
	for _, b := range s.p.Classes[c].Bins {
		l := math.Inf(-1)
		if lo > 0 {
			l = float64(lo)
		}
		s.lp.SetRow(len(s.p.Items)+b, l, float64(hi))
	}
}

func (s *search) enter(j int32) {
	var val []float64
	idx := s.rowOf[j]
	for _, v := range s.coef[j] {
		val = append(val, float64(v))
	}
	for r := range s.sets {
		if s.sets[r].holds(&s.list[j]) {
			idx, val = append(idx[:len(idx):len(idx)], int32(s.rows+r)), append(val, 1)
		}
	}
	c := s.lp.AddColumn(float64(s.cost[j])/s.unit, idx, val)
	s.col[j] = int32(c)
	s.of = append(s.of, j)
	s.setColumn(j)
}

func (s *search) setColumn(j int32) {
	if s.col[j] >= 0 {
		s.lp.SetColumn(int(s.col[j]), float64(s.lo[j]), float64(s.hi[j]))
	}
}

// relax solves the relaxation over the live columns and strikes out what no better
// plan can use. It reports whether the node is closed by an exact bound.
func (s *search) relax(depth int) (closed, ok bool) {
	live := s.live[depth]
	for {
		st := s.lp.Solve(s.mt)
		if st == lp.Stopped {
			return false, false
		}
		farkas := st == lp.Infeasible
		s.round(live, farkas)
		num := s.rowsBound()
		if !s.mt.Spend(s.rate(live)) {
			return false, false
		}
		var found []int32
		tol := int64(1) << 16
		if !farkas {
			tol = max(1, int64(float64(s.unit*float64(s.scale))/(1<<30)))
		}
		for _, j := range live {
			rc := s.rc[j]
			if rc < 0 {
				num.AddMul(rc, s.hi[j])
				if rc < -tol && s.col[j] < 0 && s.hi[j] > 0 {
					found = append(found, j)
				}
			} else if s.lo[j] > 0 {
				num.AddMul(rc, s.lo[j])
			}
		}
		for c, j := range s.stick {
			if j < 0 {
				continue
			}
			rc := s.each[c][s.objective.main] * s.scale
			for _, b := range s.p.Classes[c].Bins {
				rc += s.dual[len(s.p.Items)+b]
			}
			for k := range criteria {
				if s.objective.capped[k] {
					rc -= s.dual[s.rowCap+k] * s.each[c][k]
				}
			}
			if rc < 0 {
				num.AddMul(rc, s.stickHi[c])
			} else {
				num.AddMul(rc, s.stickLo[c])
			}
		}
		num.AddMul(s.scale, s.base[s.objective.main])
		s.num = num
		if s.closed() {
			return true, true
		}
		if len(found) == 0 {
			if !farkas {
				s.strike(depth)
			}
			return false, !farkas
		}
		slices.SortFunc(found, func(a, b int32) int { return cmp.Or(cmp.Compare(s.rc[a], s.rc[b]), cmp.Compare(a, b)) })
		for _, j := range found[:min(len(found), perRound)] {
			s.enter(j)
		}
	}
}

// rowsBound adds up what the rows' bounds are worth at the present duals.
func (s *search) rowsBound() wide.Int {
	var num wide.Int
	p := s.p
	n := len(p.Items)
	two := func(v, lo, hi int64) {
		if v > 0 {
			num.AddMul(v, lo)
		} else {
			num.AddMul(v, hi)
		}
	}
	for i := range p.Items {
		two(s.dual[i], p.Items[i].Demand, p.Items[i].Demand) // negative ones only where demand is exact
	}
	for c := range p.Classes {
		if s.stick[c] < 0 {
			for _, b := range p.Classes[c].Bins {
				two(s.dual[n+b], s.stickLo[c], s.stickHi[c])
			}
		}
	}
	for r := range p.Runs {
		num.AddMul(s.dual[s.rowRun+r], 1)
	}
	for k := range criteria {
		if s.objective.capped[k] {
			num.AddMul(s.dual[s.rowCap+k], s.objective.limit[k]-s.base[k])
		}
	}
	for r := range s.sets {
		two(s.dual[s.rows+r], s.sets[r].lo, s.sets[r].hi)
	}
	return num
}

// round turns the duals into integers, small enough that no reduced cost leaves
// int64. The scale is 0 for a Farkas ray.
func (s *search) round(live []int32, farkas bool) {
	unit := s.unit
	if farkas {
		most := 0.0
		for r := range s.lp.Rows() {
			most = max(most, math.Abs(s.lp.Dual(r)))
		}
		unit = 1 / max(most, 1e-300)
	}
	rows := s.lp.Rows()
	price := make([]float64, rows)
	extra := 0.0
	for r := range rows {
		price[r] = float64(s.lp.Dual(r) * unit)
		if r < len(s.p.Items) && !s.p.Exact {
			price[r] = max(price[r], 0)
		}
		if r >= s.rows {
			extra += math.Abs(price[r])
		}
	}
	worth := 1.0
	for _, j := range live {
		w := float64(s.cost[j])
		for k, r := range s.rowOf[j] {
			w += math.Abs(price[r] * float64(s.coef[j][k]))
		}
		worth = max(worth, w)
	}
	for c, j := range s.stick {
		if j >= 0 {
			w := float64(s.each[c][s.objective.main])
			for _, b := range s.p.Classes[c].Bins {
				w += math.Abs(price[len(s.p.Items)+b])
			}
			for k := range s.objective.rows() {
				w += math.Abs(price[s.rowCap+k] * float64(s.each[c][k]))
			}
			worth = max(worth, w)
		}
	}
	worth += extra
	scale := int64(1) << 44
	for scale > 1 && worth*float64(scale) > 1<<59 {
		scale /= 2
	}
	f := float64(scale)
	if worth*f > 1<<59 {
		f = (1 << 59) / worth
	}
	s.dual = s.dual[:0]
	for r := range rows {
		s.dual = append(s.dual, int64(price[r]*f))
	}
	for k := range s.objective.rows() {
		if v := &s.dual[s.rowCap+k]; *v > 0 || !s.objective.capped[k] {
			*v = 0
		}
	}
	for c := range s.p.Classes {
		if s.stick[c] >= 0 {
			for _, b := range s.p.Classes[c].Bins {
				s.dual[len(s.p.Items)+b] = min(0, s.dual[len(s.p.Items)+b])
			}
		}
	}
	s.scale = scale
	if farkas {
		s.scale = 0
	}
}

// rate computes the reduced costs of the live columns and returns the steps that took.
func (s *search) rate(live []int32) int64 {
	for _, j := range live {
		rc := s.cost[j] * s.scale
		coef := s.coef[j]
		for k, r := range s.rowOf[j] {
			rc -= s.dual[r] * coef[k]
		}
		s.rc[j] = rc
	}
	ops := int64(8 * len(live))
	for r := range s.sets {
		if v := s.dual[s.rows+r]; v != 0 {
			for _, j := range s.sets[r].members {
				s.rc[j] -= v
			}
			ops += int64(len(s.sets[r].members))
		}
	}
	return ops
}

func (s *search) closed() bool {
	if s.scale == 0 {
		return s.num.Sign() > 0
	}
	n := s.num
	n.AddMul(s.scale, offset)
	return n.CeilDiv(s.scale)-offset >= s.cutoff
}

// strike prepares the live list of the children.
func (s *search) strike(depth int) {
	for len(s.live) <= depth+1 {
		s.live = append(s.live, nil)
	}
	for len(s.out) <= depth {
		s.out = append(s.out, nil)
	}
	s.out[depth] = s.out[depth][:0]
	next := s.live[depth+1][:0]
	var least wide.Int
	least.AddMul(s.cutoff-1, s.scale)
	residual, fits := least.Sub(s.num).Int64()
	for _, j := range s.live[depth] {
		if s.hi[j] == 0 {
			continue
		}
		if fits && s.rc[j] > residual && s.lo[j] == 0 {
			if c := s.col[j]; c >= 0 && !s.lp.Basic(int(c)) {
				s.lp.SetColumn(int(c), 0, 0)
				s.out[depth] = append(s.out[depth], j)
			}
			continue
		}
		next = append(next, j)
	}
	s.live[depth+1] = next
}

func (s *search) node(depth int) {
	s.nodes++
	s.mt.Pause()
	s.branch(depth)
	if depth < len(s.out) {
		for _, j := range s.out[depth] {
			s.setColumn(j)
		}
		s.out[depth] = s.out[depth][:0]
	}
}

func (s *search) branch(depth int) {
	closed, ok := s.relax(depth)
	if closed {
		return
	}
	if !ok || depth >= maxDepth {
		s.complete = false
		return
	}
	p := s.p
	n := len(p.Items)
	frac := func(x float64) float64 { f := x - math.Floor(x); return min(f, 1-f) }

	bins := make([]float64, len(p.Bins))
	most, mostFrac := int32(-1), 0.0
	whole := true
	for c, j := range s.of {
		x := s.lp.Value(s.fixed + c)
		if x <= intTol {
			continue
		}
		if f := s.list[j].fill; f != nil {
			bins[f.Bin] += x
		}
		if f := frac(x); f > intTol {
			whole = false
			if f > mostFrac {
				most, mostFrac = j, f
			}
		}
	}
	for c, j := range s.stick {
		if j >= 0 && frac(s.lp.Value(int(j))) > intTol {
			whole = whole && s.stickLo[c] == s.stickHi[c]
		}
	}
	if whole && s.record() && s.closed() {
		return
	}

	// How often each class is used.
	pick, score, at := -1, 0.0, 0.0
	for c := range p.Classes {
		x := 0.0
		if j := s.stick[c]; j >= 0 {
			x = s.lp.Value(int(j))
		} else {
			x = bins[p.Classes[c].Bins[0]]
		}
		if x <= float64(s.stickLo[c]) || x >= float64(s.stickHi[c]) || s.stickLo[c] == s.stickHi[c] {
			continue
		}
		if f := frac(x); f > sumTol+float64(1e-12*x) {
			if sc := f * (1 + float64(s.each[c][s.objective.main])); sc > score {
				pick, score, at = c, sc, x
			}
		}
	}
	if pick >= 0 {
		lo, hi := s.stickLo[pick], s.stickHi[pick]
		down := int64(math.Floor(at))
		s.two(depth, at-math.Floor(at) > 0.5, func() {
			s.stickLo[pick] = down + 1
			s.setStick(pick)
		}, func() {
			s.stickHi[pick] = down
			s.setStick(pick)
		}, func() {
			s.stickLo[pick], s.stickHi[pick] = lo, hi
			s.setStick(pick)
		})
		return
	}

	// The nodes that a run passes.
	if run, node := s.fork(); run >= 0 {
		var through, past []int32
		for _, j := range s.live[depth+1] {
			c := &s.list[j]
			if c.fill != nil || c.run != run || s.hi[j] == 0 {
				continue
			}
			if passes(&p.Runs[run], c.path, node) {
				through = append(through, j)
			} else {
				past = append(past, j)
			}
		}
		bar := func(js []int32, hi int64) {
			for _, j := range js {
				s.hi[j] = hi
				s.setColumn(j)
			}
		}
		s.two(depth, true, func() { bar(past, 0) }, func() { bar(through, 0) }, func() {
			bar(past, 1)
			bar(through, 1)
		})
		return
	}

	// How many patterns hold a pair of items, or so many of one.
	pair := map[[4]int64]float64{}
	var order [][4]int64
	see := func(k [4]int64, x float64) {
		if _, ok := pair[k]; !ok {
			order = append(order, k)
		}
		pair[k] += x
	}
	for c, j := range s.of {
		x := s.lp.Value(s.fixed + c)
		f := s.list[j].fill
		if x <= noise || f == nil {
			continue
		}
		rows, coef := s.rowOf[j], s.coef[j]
		for t := range rows {
			if int(rows[t]) >= n {
				break
			}
			for u := t + 1; u < len(rows) && int(rows[u]) < n; u++ {
				see([4]int64{int64(rows[t]), int64(rows[u]), 1, 1}, x)
			}
			for q := int64(2); q <= min(coef[t], 32); q++ {
				see([4]int64{int64(rows[t]), int64(rows[t]), q, q}, x)
			}
		}
	}
	row := set{a: -1}
	score = 0
	for _, k := range order {
		x := pair[k]
		f := frac(x)
		if f <= sumTol {
			continue
		}
		size := float64(1)
		if w := p.Items[k[0]].Orientations; len(w) > 0 {
			size += float64(w[0].Size)
		}
		if w := p.Items[k[1]].Orientations; len(w) > 0 {
			size += float64(w[0].Size)
		}
		if k[2] > 1 {
			size /= 16
		}
		if sc := f * size; sc > score {
			score, at = sc, x
			row = set{a: int(k[0]), b: int(k[1]), na: k[2], nb: k[3]}
		}
	}
	if row.a >= 0 {
		down := int64(math.Floor(at))
		var cols []int32
		for c, j := range s.of {
			if row.holds(&s.list[j]) {
				cols = append(cols, int32(s.fixed+c))
			}
		}
		top := int64(0)
		for _, j := range s.live[depth+1] {
			if row.holds(&s.list[j]) {
				row.members = append(row.members, j)
			}
		}
		for _, h := range s.stickHi {
			top += h
		}
		if !s.mt.Spend(int64(8 * len(s.live[depth+1]))) {
			s.complete = false
			return
		}
		rows := len(s.sets)
		s.two(depth, true, func() {
			row.lo, row.hi = down+1, top*int64(1+len(p.Bins))
			s.sets = append(s.sets[:rows], row)
			s.lp.AddRow(float64(down+1), math.Inf(1), cols, nil)
		}, func() {
			row.lo, row.hi = 0, down
			s.sets = append(s.sets[:rows], row)
			s.lp.AddRow(math.Inf(-1), float64(down), cols, nil)
		}, func() { s.sets = s.sets[:rows] })
		return
	}

	if most < 0 {
		for c, j := range s.of {
			if s.lp.Value(s.fixed+c) > intTol && s.lo[j] < s.hi[j] {
				most = j
				break
			}
		}
	}
	if most < 0 {
		// Whole, yet no plan: some class's count is still open.
		for c := range p.Classes {
			if s.stickLo[c] < s.stickHi[c] {
				lo, hi := s.stickLo[c], s.stickHi[c]
				mid := lo + (hi-lo)/2
				s.two(depth, false, func() {
					s.stickLo[c] = mid + 1
					s.setStick(c)
				}, func() {
					s.stickHi[c] = mid
					s.setStick(c)
				}, func() {
					s.stickLo[c], s.stickHi[c] = lo, hi
					s.setStick(c)
				})
				return
			}
		}
		s.complete = false
		return
	}
	lo, hi := s.lo[most], s.hi[most]
	down := int64(math.Floor(s.lp.Value(int(s.col[most])) + intTol))
	down = max(lo, min(down, hi-1))
	s.two(depth, true, func() {
		s.lo[most] = down + 1
		s.setColumn(most)
	}, func() {
		s.hi[most] = down
		s.setColumn(most)
	}, func() {
		s.lo[most], s.hi[most] = lo, hi
		s.setColumn(most)
	})
}

// fork returns a run and a node that its assemblies in the relaxation partly pass and
// partly do not, -1 when there is none.
func (s *search) fork() (run, node int) {
	run = -1
	score := sumTol
	for r := range s.p.Runs {
		pass := make([]float64, s.p.Runs[r].Nodes)
		for c, j := range s.of {
			x := s.lp.Value(s.fixed + c)
			if f := &s.list[j]; f.fill == nil && f.run == r && x > noise {
				for _, a := range f.path {
					pass[s.p.Runs[r].Arcs[a].To] += x
				}
			}
		}
		for v, x := range pass[:len(pass)-1] {
			if f := min(x, 1-x); f > score {
				run, node, score = r, v, f
			}
		}
	}
	return run, node
}

func passes(r *Run, p path, node int) bool {
	for _, a := range p {
		if r.Arcs[a].To == node {
			return true
		}
	}
	return false
}

// two searches both children and restores the parent.
func (s *search) two(depth int, upFirst bool, up, down, undo func()) {
	for len(s.basis) <= depth {
		s.basis = append(s.basis, lp.Basis{})
	}
	s.lp.Save(&s.basis[depth])
	first, second := up, down
	if !upFirst {
		first, second = down, up
	}
	for _, child := range []func(){first, second} {
		child()
		s.node(depth + 1)
		undo()
		s.lp.Restore(&s.basis[depth])
		if !s.mt.Left() {
			s.complete = false
			break
		}
	}
}

// record makes a plan of the relaxation's whole values. It reports whether they are
// one.
func (s *search) record() bool {
	var plan []columnCount
	for c, j := range s.of {
		if x := int64(math.Round(s.lp.Value(s.fixed + c))); x > 0 {
			plan = append(plan, columnCount{&s.list[j], x})
		}
	}
	crit, ok := evaluate(s.p, plan)
	if !ok {
		return false
	}
	for k := range criteria {
		if s.objective.capped[k] && crit[k] > s.objective.limit[k] {
			return false
		}
	}
	if crit[s.objective.main] < s.cutoff {
		s.best, s.cutoff = plan, s.costs.cutoff(crit[s.objective.main])
	}
	return true
}
