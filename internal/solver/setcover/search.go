package setcover

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/lp"
	"example.com/longpoint/internal/solver/wide"
)

// Tolerances for values of the relaxation, and limits of the search.
const (
	intTol   = 1e-6
	sumTol   = 1e-5 // for a sum of values
	noise    = 1e-9
	maxDepth = 2000 // far deeper than a search gets in its time
	perRound = 60   // columns entered after a relaxation
	starters = 4    // columns per row in the first relaxation
)

// offset keeps dividends positive, since wide.Int.CeilDiv clamps negative results.
const offset = 1 << 40

// search is the state of one search.
type search struct {
	p      *Problem
	mt     *meter.Meter
	lp     lp.LP
	lo, hi []int64 // bounds of each column at the current node
	limit  []Row   // limits of the problem's rows at the current node
	col    []int32 // column -> its column in lp, -1 if not in it
	of     []int32 // lp column -> column

	rows  []int32 // rows of all columns, one column after another
	coef  []int64
	begin []int32 // column -> its first row
	items []int32 // column -> end of its rows of items

	rc     []int64   // reduced cost of each active column at the last bound
	active [][]int32 // by depth: columns that a better plan below the node may use
	fixed  [][]int32 // by depth: columns fixed at zero there

	added []row // branching rows and cuts, numbered after the rows of the problem
	unit  float64
	scale int64

	cutoff   int64    // a plan must cost less
	num      wide.Int // numerator of the last exact bound, over numScale
	numScale int64    // 0: a Farkas ray
	complete bool
	rng      uint64 // state of the random numbers of perturb

	dual      []int64 // integer duals of the rows, then those of added
	floatDual []float64
	copies    []int64 // the largest number of each item in a column
	most      []int64 // the largest coefficient of each other row
	takes     []int64 // the largest number of each item that a column consumes
	improving []int32
	pair      []float64
	basis     []lp.Basis
	record    *recorder // nil: nothing is recorded
}

// row is an added row: a cut, or the number of columns that hold at least na of item a and nb of item
// b.
type row struct {
	a, b    int32
	na, nb  int64
	lo, hi  int64
	members []int32 // the columns with a coefficient, among those active at its node

	cut  []int32 // the items of a cut; nil for a branching row
	coef []int64 // coefficients of the members in a cut
	most int64   // the largest of them
}

// Search looks for plans below cutoff. It reports whether the search was exhaustive; otherwise the
// meter ran out. The columns at the front enter the first relaxation.
func (p *Problem) Search(cutoff int64, mt *meter.Meter) (complete bool) {
	s := &search{p: p, mt: mt, cutoff: cutoff, complete: true}
	s.setUp()
	s.startRecord()
	s.node(0)
	s.endRecord()
	return s.complete
}

func (s *search) setUp() {
	p := s.p
	n := len(p.Items)
	top := int64(1)
	for j := range p.Columns {
		top = max(top, p.Columns[j].Cost, -p.Columns[j].Cost)
	}
	s.unit, s.scale = float64(top), bound.Scale(top)
	s.limit = slices.Clone(p.Rows)
	for i := range p.Items {
		lo, hi := s.demand(i)
		s.lp.AddRow(lo, hi, nil, nil)
	}
	for r := range p.Rows {
		s.lp.AddRow(0, 0, nil, nil)
		s.setRow(r)
	}
	s.copies, s.takes, s.most = make([]int64, n), make([]int64, n), make([]int64, len(p.Rows))
	all := make([]int32, len(p.Columns))
	for j := range p.Columns {
		c := &p.Columns[j]
		all[j] = int32(j)
		s.col = append(s.col, -1)
		s.lo, s.hi = append(s.lo, c.Lo), append(s.hi, c.Hi)
		s.begin = append(s.begin, int32(len(s.rows)))
		s.rows, s.coef = append(s.rows, c.Rows...), append(s.coef, c.Coef...)
		end := s.begin[j]
		for k, r := range c.Rows {
			if v := c.Coef[k]; int(r) >= n {
				s.most[int(r)-n] = max(s.most[int(r)-n], v, -v)
			} else {
				end++
				s.copies[r], s.takes[r] = max(s.copies[r], v), max(s.takes[r], -v)
			}
		}
		s.items = append(s.items, end)
	}
	s.begin = append(s.begin, int32(len(s.rows)))
	s.rc = make([]int64, len(p.Columns))
	for j := range min(len(p.Columns), p.Always+starters*s.lp.Rows()) {
		s.enter(int32(j))
	}
	s.lp.Warm = p.Cuts // without cuts it makes nodes cheaper, but more of them
	s.pair = make([]float64, n*n)
	s.active = append(s.active, all)
}

// demand returns the limits of an item's row.
func (s *search) demand(i int) (lo, hi float64) {
	lo, hi = float64(s.p.Items[i].Demand)-lp.Slack(i), math.Inf(1)
	if s.p.Exact {
		hi = float64(s.p.Items[i].Demand)
	}
	return lo, hi
}

// setRow copies the limits of a row, numbered after the items, to the relaxation. Sums in rows with a
// lower limit are never negative, so a lower limit of zero is omitted.
func (s *search) setRow(r int) {
	to := &s.limit[r]
	lo, hi := math.Inf(-1), math.Inf(1)
	if to.Lo > 0 {
		lo = float64(to.Lo)
	}
	if to.Hi < Free {
		hi = float64(to.Hi) + to.Loosen
	}
	s.lp.SetRow(len(s.p.Items)+r, lo, hi)
}

// used returns the limits of the number of uses of a place.
func (s *search) used(place int) (lo, hi *int64) {
	q := &s.p.Places[place]
	if q.Column >= 0 {
		return &s.lo[q.Column], &s.hi[q.Column]
	}
	r := &s.limit[int(q.Row)-len(s.p.Items)]
	return &r.Lo, &r.Hi
}

// setPlace copies the limits of a place to the relaxation.
func (s *search) setPlace(place int) {
	if q := &s.p.Places[place]; q.Column >= 0 {
		s.setColumn(q.Column)
	} else {
		s.setRow(int(q.Row) - len(s.p.Items))
	}
}

// enter adds a column to the relaxation.
func (s *search) enter(j int32) {
	var idxBuf [40]int32
	var valBuf [40]float64
	idx, val := idxBuf[:0], valBuf[:0]
	for k := s.begin[j]; k < s.begin[j+1]; k++ {
		idx, val = append(idx, s.rows[k]), append(val, float64(s.coef[k]))
	}
	for r := range s.added {
		if v := s.coefficient(&s.added[r], j); v != 0 {
			idx, val = append(idx, int32(s.first()+r)), append(val, float64(v))
		}
	}
	c := s.lp.AddColumn(float64(s.p.Columns[j].Cost)/s.unit, idx, val)
	s.col[j] = int32(c)
	s.of = append(s.of, j)
	s.setColumn(j)
}

// first returns the index of the first added row.
func (s *search) first() int { return len(s.p.Items) + len(s.p.Rows) }

func (s *search) setColumn(j int32) {
	if s.col[j] >= 0 {
		s.lp.SetColumn(int(s.col[j]), float64(s.lo[j]), float64(s.hi[j]))
	}
}

// coefficient returns the coefficient of a column in an added row.
func (s *search) coefficient(r *row, j int32) int64 {
	if r.cut != nil {
		return s.half(r.cut, j)
	}
	if s.holds(r, j) {
		return 1
	}
	return 0
}

// holds reports whether a column has the items of a branching row.
func (s *search) holds(r *row, j int32) bool {
	okA, okB := false, false
	for k := s.begin[j]; k < s.items[j]; k++ {
		if s.rows[k] == r.a && s.coef[k] >= r.na {
			okA = true
		}
		if s.rows[k] == r.b && s.coef[k] >= r.nb {
			okB = true
		}
	}
	return okA && okB
}

// node searches the subtree with the current limits.
func (s *search) node(depth int) {
	s.mt.Tally().Lists++
	s.mt.Pause()
	s.explore(depth)
	s.unfix(depth)
}

// explore closes the node or branches.
func (s *search) explore(depth int) {
	closed, ok := s.relax(s.active[depth], depth)
	if ok && !closed && s.p.Cuts {
		closed, ok = s.perturb(depth)
	}
	if ok && !closed && s.p.Cuts {
		closed, ok = s.cut(depth)
	}
	if closed {
		return
	}
	if !ok || depth >= maxDepth {
		s.complete = false
		return
	}
	s.branch(depth)
}

// two searches both children and restores the state of the parent.
func (s *search) two(depth int, upFirst bool, up, down, undo func()) {
	for len(s.basis) <= depth {
		s.basis = append(s.basis, lp.Basis{})
	}
	s.lp.Save(&s.basis[depth])
	added := len(s.added)
	first, second := up, down
	if !upFirst {
		first, second = down, up
	}
	split := s.recordSplit()
	for k, child := range []func(){first, second} {
		child()
		s.recordChild(split, upFirst == (k == 0))
		s.node(depth + 1)
		undo()
		s.added = s.added[:added] // remove the cuts found below
		s.lp.Restore(&s.basis[depth])
		if !s.mt.Left() {
			s.complete = false
			break
		}
	}
}

// tryWhole offers the whole values of the relaxation as a plan. It reports whether they are one.
func (s *search) tryWhole() bool {
	var chosen []Chosen
	for c, j := range s.of {
		if x := int64(math.Round(s.lp.Value(c))); x > 0 && int(j) >= s.p.Always {
			chosen = append(chosen, Chosen{j, x})
		}
	}
	cutoff, ok := s.p.Accept(chosen)
	if ok {
		s.cutoff = min(s.cutoff, cutoff)
	}
	return ok
}
