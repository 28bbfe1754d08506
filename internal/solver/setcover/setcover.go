// Package setcover chooses among a given list of patterns the cheapest plan, by
// branch and bound with linear relaxations. When the list holds every pattern
// that a better plan could use, the search is a proof.
//
// Relaxations are solved in floating point; a node is closed only by a bound
// that is computed anew in integers from the rounded duals.
//
// Cuts on half the rows and values that lean (cut.go, lean.go) keep nodes few where
// the caller asks for them.
//
// Branching is on how often a bin is used, then on how many patterns hold a
// given pair of items (or a given number of one item), after D. M. Ryan,
// B. A. Foster, An integer programming approach to scheduling (1981) and
// F. Vanderbeck, Branching in branch-and-price: a generic scheme, Mathematical
// Programming 130 (2011) 249-294, then on single patterns.
package setcover

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/construct"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/wide"
)

const (
	intTol   = 1e-6
	sumTol   = 1e-5 // of a sum of values
	noise    = 1e-9
	maxDepth = 2000 // far beyond what a search comes to in its time
	perRound = 60   // columns taken from the pool after a relaxation
)

// Search is one run.
type search struct {
	p    *model.Problem
	mt   *meter.Meter
	lp   lp.LP
	box  bound.Box
	pats []model.Pattern
	most []int64 // of each pattern
	col  []int32 // pattern -> LP column, -1 when not in the LP
	pat  []int32 // LP column -> pattern

	loCol, hiCol []int64 // branching bounds per pattern

	use   []model.Use // of all patterns, one after another
	begin []int32     // pattern -> its first use
	rc    []int64     // reduced cost of each live pattern at the last bound
	live  [][]int32   // by depth: patterns that a better plan below may use
	out   [][]int32   // by depth: columns barred there

	rows  []set // branching rows, above the rows of items and bins
	unit  float64
	scale int64

	cutoff   int64    // a plan must cost less
	num      wide.Int // of the last exact bound, over numScale
	numScale int64    // 0: a Farkas ray
	best     []model.PatternCount
	complete bool

	rng  uint64 // of sway
	cuts bool

	value  []int64 // integer duals of items, then bins, then sets
	price  []float64
	copies []int64 // most of each item in a pattern
	maxCap int64
	found  []gain
	pair   []float64
	basis  []lp.Basis
}

// set is the patterns that hold at least na of item a and nb of item b.
type set struct {
	a, b    int
	na, nb  int64
	lo, hi  int64
	members []int32 // among the patterns that were live at its node

	odd  []int32 // the items of a cut; nil: a branching row
	coef []int64 // of the members in a cut
	most int64   // the greatest of them
}

type gain struct {
	pat int32
	rc  int64
}

// of returns the coefficient of a pattern in the row.
func (s *set) of(uses []model.Use) int64 {
	if s.odd != nil {
		return half(s.odd, uses)
	}
	if s.holds(uses) {
		return 1
	}
	return 0
}

func (s *set) holds(uses []model.Use) bool {
	okA, okB := false, false
	for _, u := range uses {
		if u.Item == s.a && u.N >= s.na {
			okA = true
		}
		if u.Item == s.b && u.N >= s.nb {
			okB = true
		}
	}
	return okA && okB
}

// Solve returns the cheapest plan below cutoff that uses only the given
// patterns, with bins used as often as the box allows, or nil when there is
// none; sticks of which nothing is needed are left out of it, so that it may
// stay below the box. It reports whether that is certain; otherwise the meter ran out.
// Patterns that come first enter the first relaxation. Cuts make each node dearer and
// nodes fewer, far fewer where there is no plan.
func Solve(p *model.Problem, box bound.Box, pats []model.Pattern, cutoff int64, cuts bool, mt *meter.Meter) (plan []model.PatternCount, complete bool) {
	s := &search{p: p, mt: mt, box: box.Clone(), pats: pats, cutoff: cutoff, cuts: cuts, complete: true}
	n, k := len(p.Items), len(p.Bins)
	top := int64(1)
	for _, b := range p.Bins {
		top = max(top, b.Cost)
	}
	s.unit, s.scale = float64(top), bound.Scale(top)
	for i, it := range p.Items {
		s.lp.AddRow(float64(it.Demand)-lp.Slack(i), math.Inf(1), nil, nil)
	}
	for b := range p.Bins {
		s.lp.AddRow(0, 0, nil, nil)
		s.setBin(b)
	}
	s.most = make([]int64, len(pats))
	s.loCol = make([]int64, len(pats))
	s.col = make([]int32, len(pats))
	for j, pat := range pats {
		m := box.Hi[pat.Bin]
		// More copies than this are never needed to cover the demand.
		enough := int64(0)
		for _, u := range pat.Uses {
			enough = max(enough, (p.Items[u.Item].Demand+u.N-1)/u.N)
		}
		s.most[j] = min(m, enough)
		s.col[j] = -1
	}
	s.hiCol = slices.Clone(s.most)
	s.copies = make([]int64, n)
	for _, pat := range pats {
		s.maxCap = max(s.maxCap, p.Bins[pat.Bin].Cap)
		for _, u := range pat.Uses {
			s.copies[u.Item] = max(s.copies[u.Item], u.N)
		}
	}
	s.rc = make([]int64, len(pats))
	all := make([]int32, len(pats))
	for j, pat := range pats {
		all[j] = int32(j)
		s.begin = append(s.begin, int32(len(s.use)))
		s.use = append(s.use, pat.Uses...)
	}
	s.begin = append(s.begin, int32(len(s.use)))
	for j := range min(len(pats), 4*(n+k)) {
		s.enter(int32(j))
	}
	s.lp.Warm = cuts // without, nodes get cheaper by it and more
	s.pair = make([]float64, n*n)
	s.live = append(s.live, all)
	s.node(0)
	return s.best, s.complete
}

func (s *search) setBin(b int) {
	lo, hi := math.Inf(-1), float64(s.box.Hi[b])
	if s.box.Lo[b] > 0 {
		lo = float64(s.box.Lo[b])
	}
	s.lp.SetRow(len(s.p.Items)+b, lo, hi)
}

func (s *search) enter(j int32) {
	pat := &s.pats[j]
	var idxBuf [40]int32
	var valBuf [40]float64
	idx, val := idxBuf[:0], valBuf[:0]
	for _, u := range pat.Uses {
		idx, val = append(idx, int32(u.Item)), append(val, float64(u.N))
	}
	n := len(s.p.Items)
	idx, val = append(idx, int32(n+pat.Bin)), append(val, 1)
	for r := range s.rows {
		if v := s.rows[r].of(pat.Uses); v != 0 {
			idx, val = append(idx, int32(n+len(s.p.Bins)+r)), append(val, float64(v))
		}
	}
	c := s.lp.AddColumn(float64(s.p.Bins[pat.Bin].Cost)/s.unit, idx, val)
	s.col[j] = int32(c)
	s.pat = append(s.pat, j)
	s.setColumn(j)
}

func (s *search) setColumn(j int32) {
	if s.col[j] < 0 {
		return
	}
	s.lp.SetColumn(int(s.col[j]), float64(s.loCol[j]), float64(s.hiCol[j]))
}

// relax solves the node's relaxation over the live patterns and strikes out
// those that no better plan can use. It reports whether the node is closed by
// an exact bound.
func (s *search) relax(live []int32, depth int) (closed, ok bool) {
	n, k := len(s.p.Items), len(s.p.Bins)
	for {
		st := s.lp.Solve(s.mt)
		if st == lp.Stopped {
			return false, false
		}
		farkas := st == lp.Infeasible
		scale := s.round(farkas)
		var num wide.Int
		for i, it := range s.p.Items {
			num.AddMul(s.value[i], it.Demand)
		}
		bound := func(v, lo, hi int64) {
			if v > 0 {
				num.AddMul(v, lo)
			} else {
				num.AddMul(v, hi)
			}
		}
		for b := range k {
			bound(s.value[n+b], s.box.Lo[b], s.box.Hi[b])
		}
		for r := range s.rows {
			bound(s.value[n+k+r], s.rows[r].lo, s.rows[r].hi)
		}
		if !s.mt.Spend(s.rate(live, scale)) {
			return false, false
		}
		// Every live pattern, whether in the LP or not.
		s.found = s.found[:0]
		tol := int64(1) << 16
		if !farkas {
			tol = max((1<<26)/(s.scale/scale), 1)
		}
		for _, j := range live {
			rc := s.rc[j]
			if rc < 0 {
				num.AddMul(rc, s.hiCol[j])
				if rc < -tol && s.col[j] < 0 && s.hiCol[j] > 0 {
					s.found = append(s.found, gain{j, rc})
				}
			} else if s.loCol[j] > 0 {
				num.AddMul(rc, s.loCol[j])
			}
		}
		s.num, s.numScale = num, scale
		if s.closed() {
			return true, true
		}
		if len(s.found) == 0 {
			if !farkas {
				s.strike(live, depth)
			}
			return false, !farkas
		}
		slices.SortFunc(s.found, func(a, b gain) int {
			if c := cmp.Compare(a.rc, b.rc); c != 0 {
				return c
			}
			return cmp.Compare(a.pat, b.pat)
		})
		for _, g := range s.found[:min(len(s.found), perRound)] {
			s.enter(g.pat)
		}
	}
}

// round turns the duals into integers, small enough that no pattern's reduced
// cost leaves int64, and returns their scale, 0 for a Farkas ray.
func (s *search) round(farkas bool) int64 {
	n := len(s.p.Items)
	unit, top := s.unit, s.scale
	if farkas {
		most := 0.0
		for r := range s.lp.Rows() {
			most = max(most, math.Abs(s.lp.Dual(r)))
		}
		unit, top = 1/max(most, 1e-300), 1<<40
	}
	s.price = s.price[:0]
	extra := 0.0
	for r := range s.lp.Rows() {
		v := s.lp.Dual(r) * unit
		s.price = append(s.price, v)
		if r >= n {
			most := int64(1)
			if k := r - n - len(s.p.Bins); k >= 0 {
				most = max(most, s.rows[k].most)
			}
			extra += float64(math.Abs(v) * float64(most))
		}
	}
	s.value = append(s.value[:0], make([]int64, len(s.price))...)
	scale := bound.RoundDuals(s.value, s.price, s.p.Items, s.copies, s.maxCap, extra, top)
	for r := n; r < len(s.price); r++ {
		s.value[r] = int64(max(-(1 << 60), min(1<<60, s.price[r]*float64(scale))))
		if k := r - n - len(s.p.Bins); k >= 0 && s.rows[k].odd != nil {
			s.value[r] = max(s.value[r], 0) // there is no upper bound
		}
	}
	if farkas {
		return 0
	}
	return scale
}

// rate computes the reduced costs of the live patterns under the present
// values and returns the operations that took.
func (s *search) rate(live []int32, scale int64) int64 {
	n, k := len(s.p.Items), len(s.p.Bins)
	for _, j := range live {
		b := s.pats[j].Bin
		rc := s.p.Bins[b].Cost*scale - s.value[n+b]
		for _, u := range s.use[s.begin[j]:s.begin[j+1]] {
			rc -= s.value[u.Item] * u.N
		}
		s.rc[j] = rc
	}
	ops := int64(6 * len(live))
	for r := range s.rows {
		if v := s.value[n+k+r]; v != 0 {
			coef := s.rows[r].coef
			for t, j := range s.rows[r].members {
				if coef != nil {
					s.rc[j] -= v * coef[t]
				} else {
					s.rc[j] -= v
				}
			}
			ops += int64(len(s.rows[r].members))
		}
	}
	return ops
}

// strike prepares the live list of the children: patterns whose reduced cost
// takes the bound to the cutoff are out, in the list and in the relaxation.
func (s *search) strike(live []int32, depth int) {
	for len(s.live) <= depth+1 {
		s.live = append(s.live, nil)
	}
	for len(s.out) <= depth {
		s.out = append(s.out, nil)
	}
	next := s.live[depth+1][:0]
	var least wide.Int
	least.AddMul(s.cutoff-1, s.numScale)
	room, fits := least.Sub(s.num).Int64()
	for _, j := range live {
		if fits && s.rc[j] > room && s.loCol[j] == 0 {
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

// readmit undoes what strike did to the relaxation.
func (s *search) readmit(depth int) {
	if depth >= len(s.out) {
		return
	}
	for _, j := range s.out[depth] {
		s.setColumn(j)
	}
	s.out[depth] = s.out[depth][:0]
}

// closed reports whether the last relaxation's exact bound rules out a plan
// below the cutoff.
func (s *search) closed() bool {
	if s.numScale == 0 {
		return s.num.Sign() > 0
	}
	return s.num.CeilDiv(s.numScale) >= s.cutoff
}

// node searches the subtree of the present bounds.
func (s *search) node(depth int) {
	s.mt.Tally().Lists++
	s.mt.Pause()
	s.branch(depth)
	s.readmit(depth)
}

func (s *search) branch(depth int) {
	closed, ok := s.relax(s.live[depth], depth)
	if ok && !closed && s.cuts {
		closed, ok = s.lean(depth)
	}
	if ok && !closed && s.cuts {
		closed, ok = s.cut(depth)
	}
	if closed {
		return
	}
	if !ok || depth >= maxDepth {
		s.complete = false
		return
	}
	n, k := len(s.p.Items), len(s.p.Bins)

	// How often each bin is used.
	branch, score := -1, 0.0
	var at float64
	bins := make([]float64, k)
	fractional := false
	pick, pickFrac := int32(-1), 0.0
	for c, j := range s.pat {
		x := s.lp.Value(c)
		bins[s.pats[j].Bin] += x
		if x <= intTol {
			continue
		}
		if f := x - math.Floor(x); f > intTol && f < 1-intTol {
			fractional = true
			if d := min(f, 1-f); d > pickFrac {
				pick, pickFrac = j, d
			}
		}
	}
	if !fractional && s.record() && s.closed() {
		return
	}
	for b, x := range bins {
		// What the box has settled is not branched on again, whatever noise says.
		if x <= float64(s.box.Lo[b]) || x >= float64(s.box.Hi[b]) || s.box.Lo[b] == s.box.Hi[b] {
			continue
		}
		tol := sumTol + float64(1e-12*x)
		if f := x - math.Floor(x); f > tol && f < 1-tol {
			if sc := min(f, 1-f) * (1 + float64(s.p.Bins[b].Cost)); sc > score {
				branch, score, at = b, sc, x
			}
		}
	}
	if branch >= 0 {
		lo, hi := s.box.Lo[branch], s.box.Hi[branch]
		down := int64(math.Floor(at))
		upFirst := at-math.Floor(at) > 0.5
		s.two(depth, upFirst, func() {
			s.box.Lo[branch] = down + 1
			s.setBin(branch)
		}, func() {
			s.box.Hi[branch] = down
			s.setBin(branch)
		}, func() {
			s.box.Lo[branch], s.box.Hi[branch] = lo, hi
			s.setBin(branch)
		})
		return
	}

	// How many patterns hold a pair of items, or so many of one.
	clear(s.pair)
	type many struct {
		item int
		n    int64
		x    float64
	}
	var manies []many
	for c, j := range s.pat {
		x := s.lp.Value(c)
		if x <= noise {
			continue
		}
		uses := s.pats[j].Uses
		for t, u := range uses {
			for _, w := range uses[t+1:] {
				s.pair[u.Item*n+w.Item] += x
			}
			for q := int64(2); q <= min(u.N, 64); q++ {
				i := slices.IndexFunc(manies, func(m many) bool { return m.item == u.Item && m.n == q })
				if i < 0 {
					manies = append(manies, many{u.Item, q, 0})
					i = len(manies) - 1
				}
				manies[i].x += x
			}
		}
	}
	row := set{a: -1, lo: 0, hi: math.MaxInt64}
	score = 0
	consider := func(a, b int, na, nb int64, x float64) {
		f := x - math.Floor(x)
		if f <= sumTol || f >= 1-sumTol {
			return
		}
		if sc := min(f, 1-f) * float64(s.p.Items[a].Size+s.p.Items[b].Size); sc > score {
			score, at = sc, x
			row.a, row.b, row.na, row.nb = a, b, na, nb
		}
	}
	for a := range n {
		for b := a + 1; b < n; b++ {
			consider(a, b, 1, 1, s.pair[a*n+b])
		}
	}
	if row.a < 0 {
		for _, m := range manies {
			consider(m.item, m.item, m.n, m.n, m.x)
		}
	}
	if row.a >= 0 {
		down := int64(math.Floor(at))
		ceiling := int64(0)
		for _, b := range s.box.Hi {
			ceiling += b
		}
		var cols []int32
		for c, j := range s.pat {
			if row.holds(s.pats[j].Uses) {
				cols = append(cols, int32(c))
			}
		}
		for _, j := range s.live[depth+1] {
			if row.holds(s.pats[j].Uses) {
				row.members = append(row.members, j)
			}
		}
		if !s.mt.Spend(int64(6 * len(s.live[depth+1]))) {
			s.complete = false
			return
		}
		rows := len(s.rows)
		s.two(depth, true, func() {
			row.lo, row.hi = down+1, ceiling
			s.rows = append(s.rows[:rows], row)
			s.lp.AddRow(float64(down+1), math.Inf(1), cols, nil)
		}, func() {
			row.lo, row.hi = 0, down
			s.rows = append(s.rows[:rows], row)
			s.lp.AddRow(math.Inf(-1), float64(down), cols, nil)
		}, func() {
			s.rows = s.rows[:rows]
		})
		return
	}

	if pick < 0 {
		// Whole within tolerance, yet not a plan: any pattern that is still open.
		for c, j := range s.pat {
			if s.lp.Value(c) > intTol && s.loCol[j] < s.hiCol[j] {
				pick = j
				break
			}
		}
		if pick < 0 {
			s.complete = false
			return
		}
	}
	lo, hi := s.loCol[pick], s.hiCol[pick]
	down := int64(math.Floor(s.lp.Value(int(s.col[pick])) + intTol))
	down = max(lo, min(down, hi-1))
	s.two(depth, true, func() {
		s.loCol[pick] = down + 1
		s.setColumn(pick)
	}, func() {
		s.hiCol[pick] = down
		s.setColumn(pick)
	}, func() {
		s.loCol[pick], s.hiCol[pick] = lo, hi
		s.setColumn(pick)
	})
}

// two searches both children and restores the state of the parent.
func (s *search) two(depth int, upFirst bool, up, down, undo func()) {
	for len(s.basis) <= depth {
		s.basis = append(s.basis, lp.Basis{})
	}
	s.lp.Save(&s.basis[depth])
	rows := len(s.rows)
	first, second := up, down
	if !upFirst {
		first, second = down, up
	}
	for _, child := range []func(){first, second} {
		child()
		s.node(depth + 1)
		undo()
		s.rows = s.rows[:rows] // cuts that were found below
		s.lp.Restore(&s.basis[depth])
		if !s.mt.Left() {
			s.complete = false
			break
		}
	}
}

// record makes a plan of the relaxation's whole values. It reports whether
// they are one.
func (s *search) record() bool {
	var cols []model.PatternCount
	for c, j := range s.pat {
		if x := int64(math.Round(s.lp.Value(c))); x > 0 {
			cols = append(cols, model.PatternCount{Pattern: s.pats[j], Count: x})
		}
	}
	cols, ok := construct.Exact(s.p, cols)
	if !ok {
		return false
	}
	cost := construct.Cost(s.p, cols)
	if cost < s.cutoff {
		s.best, s.cutoff = cols, cost
	}
	return true
}
