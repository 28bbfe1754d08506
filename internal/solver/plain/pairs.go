package plain

import (
	"math"
	"slices"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/master"
	"example.com/longpoint/internal/solver/model"
)

// maxDepth bounds the nodes, and so the masters, that are open at a time.
const maxDepth = 400

// maxPieces is how many pieces a search over pairs, or a long one over a list, takes on.
const maxPieces = 20_000

// pairBranching branches on pairs of items: in one stick together, or never (D. M.
// Ryan, B. A. Foster, 1981), in the form for several copies in which "together"
// merges one copy of each into one longer item, so that the left branch is again
// a plain cutting problem.
type pairBranching struct {
	r  *solver
	mt *meter.Meter
	// history holds pairs, as sizes, that closed a node before: tried first.
	history [][2]int64
	nodes   int
	// After a list that grew too long, so many nodes go without; more each
	// time in a row.
	wait, pause int
	exactOnly   bool // for tests: no rounding and no lists
}

// branchOnPairs searches the box with nothing merged. It reports whether the box
// is closed.
func (r *solver) branchOnPairs(box bound.Box, work int64) bool {
	if r.p.Pieces() > maxPieces {
		return false
	}
	s := &pairBranching{r: r, mt: r.mt.Sub(work)}
	k := unmerged(r.p)
	m := master.New(r.p)
	m.SetBox(box)
	var start []int32
	for j := range r.master.Columns {
		pat := r.master.Columns[j].Fill
		if r.master.LP.Basic(r.master.Col(j)) {
			c, _ := m.Add(pat.Bin, pat.Uses)
			start = append(start, int32(c))
		}
	}
	addInitialColumns(m, r.plan)
	m.LP.Start(start)
	return s.node(k, m, 0)
}

func (s *pairBranching) node(k *mergedProblem, m *master.Master, depth int) bool {
	r := s.r
	s.nodes++
	s.mt.Tally().Pairs++
	switch m.Solve(r.cost, s.mt) {
	case master.Pruned, master.Infeasible:
		return true
	case master.Stopped:
		return false
	}
	if s.tryWhole(k, m); !s.exactOnly {
		s.round(k, m)
	}
	if m.Bound >= r.cost {
		return true
	}
	if s.wait--; s.wait < 0 && !s.exactOnly && s.list(k, m) {
		return true
	}
	if !s.mt.Left() {
		return false
	}
	if depth >= maxDepth {
		return false
	}
	i, j := s.choose(k, m)
	if i < 0 {
		return false
	}
	left, of := s.merged(k, m, i, j)
	closed := s.node(left, of, depth+1)
	if m.Bound >= r.cost {
		return true
	}
	if !s.mt.Left() {
		return false
	}
	right, of := s.separated(k, m, i, j)
	if s.node(right, of, depth+1) {
		s.remember([2]int64{k.p.Items[i].Size, k.p.Items[j].Size})
	} else {
		closed = false
	}
	return closed
}

// list searches the node by a list of its patterns and reports whether that closed it.
func (s *pairBranching) list(k *mergedProblem, m *master.Master) bool {
	m.ToOptimality = true
	st := m.Solve(s.r.cost, s.mt)
	m.ToOptimality = false
	if st == master.Pruned {
		return true
	}
	plan, ok := searchEnumerated(m.Families, m.Box, []master.Duals{m.Duals.Clone()}, s.r.cost, pairList, false, s.mt.Sub(pairListWork))
	if plan != nil {
		s.r.tryIncumbent(k.unmerge(plan))
	}
	if ok || m.Bound >= s.r.cost {
		s.pause = 0
		return true
	}
	s.pause = min(2*s.pause+1, 31)
	s.wait = s.pause
	return false
}

// merged returns the child in which i and j are together somewhere, with its master.
func (s *pairBranching) merged(k *mergedProblem, m *master.Master, i, j int) (*mergedProblem, *master.Master) {
	child, to, whole := k.merge(i, j)
	left := master.New(child.p)
	left.KeepApart(child.conflicts)
	left.SetBox(m.Box)
	s.inherit(left, m, func(uses []model.Use) []model.Use {
		return translate(child.p, uses, to, i, j, whole)
	})
	return child, left
}

// separated returns the child in which i and j are never together, with its master.
func (s *pairBranching) separated(k *mergedProblem, m *master.Master, i, j int) (*mergedProblem, *master.Master) {
	child := k.separate(i, j)
	right := master.New(child.p)
	right.KeepApart(child.conflicts)
	right.SetBox(m.Box)
	s.inherit(right, m, func(uses []model.Use) []model.Use {
		if !child.conflicts.Allows(uses) {
			return nil
		}
		return uses
	})
	return child, right
}

func (s *pairBranching) remember(key [2]int64) {
	s.history = slices.DeleteFunc(s.history, func(k [2]int64) bool { return k == key })
	s.history = append(s.history, key)
	if len(s.history) > 64 {
		s.history = s.history[1:]
	}
}

// inherit gives a child the columns of its parent that are still patterns, and
// a basis of those that were basic.
func (s *pairBranching) inherit(child, parent *master.Master, to func([]model.Use) []model.Use) {
	var start []int32
	for j := range parent.Columns {
		pat := parent.Columns[j].Fill
		uses := to(pat.Uses)
		if uses == nil {
			continue
		}
		c, fresh := child.Add(pat.Bin, uses)
		if fresh && parent.LP.Basic(parent.Col(j)) && len(start) < child.LP.Rows() {
			start = append(start, int32(c))
		}
	}
	for i, it := range child.Plain.Items {
		for b, bin := range child.Plain.Bins {
			n := min(it.Demand, bin.Cap/it.Size)
			n = child.Conflicts.MostOf(nil, i, n)
			if n > 0 && child.Box.Hi[b] > 0 {
				child.Add(b, []model.Use{{Item: i, N: n}})
			}
		}
	}
	child.LP.Start(start)
}

// translate turns a pattern of the parent into one of the child in which one
// copy of i and of j are merged; nil when nothing of it is left.
func translate(p *model.Problem, uses []model.Use, to []int, i, j, whole int) []model.Use {
	has := func(q int) int64 {
		for _, u := range uses {
			if u.Item == q {
				return u.N
			}
		}
		return 0
	}
	both := has(i) > 0 && has(j) > 0
	if i == j {
		both = has(i) > 1
	}
	count := make(map[int]int64, len(uses)+1)
	for _, u := range uses {
		n := u.N
		if both && u.Item == i {
			n--
		}
		if both && u.Item == j {
			n--
		}
		if q := to[u.Item]; q >= 0 && n > 0 {
			count[q] += min(n, p.Items[q].Demand)
		}
	}
	if both {
		count[whole]++
	}
	out := make([]model.Use, 0, len(count))
	for q := range p.Items {
		if n := count[q]; n > 0 {
			out = append(out, model.Use{Item: q, N: n})
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// choose picks the pair to branch on: the heaviest that is together in a
// fraction of a pattern, one that closed a node before first.
func (s *pairBranching) choose(k *mergedProblem, m *master.Master) (int, int) {
	n := len(k.p.Items)
	joint := make([]float64, n*n)
	for c := range m.Columns {
		pat := m.Columns[c].Fill
		x := m.LP.Value(m.Col(c))
		if x <= 1e-6 {
			continue
		}
		for t, u := range pat.Uses {
			if u.N > 1 {
				joint[u.Item*n+u.Item] += x
			}
			for _, v := range pat.Uses[t+1:] {
				joint[u.Item*n+v.Item] += x
			}
		}
	}
	best, bi, bj := -1.0, -1, -1
	some, si, sj := int64(-1), -1, -1
	for i := range n {
		for j := i; j < n; j++ {
			x := joint[i*n+j]
			if x <= 1e-6 {
				continue
			}
			size := k.p.Items[i].Size + k.p.Items[j].Size
			f := x - math.Floor(x)
			if f <= 1e-6 || f >= 1-1e-6 {
				if size > some {
					some, si, sj = size, i, j
				}
				continue
			}
			score := float64(size)
			if h := slices.Index(s.history, [2]int64{k.p.Items[i].Size, k.p.Items[j].Size}); h >= 0 {
				score *= float64(4 + h)
			}
			if score > best {
				best, bi, bj = score, i, j
			}
		}
	}
	if bi >= 0 {
		return bi, bj
	}
	return si, sj
}

// tryWhole takes the relaxation as a plan when it is one.
func (s *pairBranching) tryWhole(k *mergedProblem, m *master.Master) {
	var cols []model.PatternCount
	for j := range m.Columns {
		x := m.LP.Value(m.Col(j))
		n := math.Round(x)
		if math.Abs(x-n) > 1e-6 {
			return
		}
		if n > 0 {
			cols = append(cols, model.PatternCount{Pattern: *m.Columns[j].Fill, Count: int64(n)})
		}
	}
	if cols, ok := model.Exact(k.p, cols); ok {
		s.take(k, cols)
	}
}

// round makes a plan of the relaxation: whole patterns first, then those
// nearest to whole while they are patterns of what is left, then first fit.
func (s *pairBranching) round(k *mergedProblem, m *master.Master) {
	left := k.p.Demands()
	supply := make([]int64, len(k.p.Bins))
	for b, bin := range k.p.Bins {
		supply[b] = bin.Limit
	}
	var cols []model.PatternCount
	for _, o := range nearlyWholeFirst(m) {
		pat := *m.Columns[o.j].Fill
		n := min(int64(math.Ceil(o.x-1e-6)), supply[pat.Bin])
		for _, u := range pat.Uses {
			n = min(n, left[u.Item]/u.N)
		}
		if n <= 0 {
			continue
		}
		for _, u := range pat.Uses {
			left[u.Item] -= n * u.N
		}
		supply[pat.Bin] -= n
		cols = append(cols, model.PatternCount{Pattern: pat, Count: n})
	}
	rest := residualOf(k.p, left, cols)
	if rest == nil {
		s.take(k, cols)
		return
	}
	// First fit knows nothing of pairs, and need not: a plan that breaks one is a
	// plan of the problem all the same.
	quickPlans(&rest.Problem, s.mt, func(sub []model.PatternCount) {
		s.take(k, slices.Concat(cols, rest.original(sub)))
	})
}

// share is how often a relaxation uses a column.
type share struct {
	j int
	x float64
}

// nearlyWholeFirst returns the patterns that the relaxation uses a good part of a time or more: those of which
// there is a whole one first, then by how near they are to the next.
func nearlyWholeFirst(m *master.Master) (order []share) {
	for j := range m.Columns {
		if x := m.LP.Value(m.Col(j)); x > 0.3 {
			order = append(order, share{j, x})
		}
	}
	slices.SortStableFunc(order, func(a, b share) int {
		fa, fb := a.x-math.Floor(a.x+1e-6), b.x-math.Floor(b.x+1e-6)
		switch {
		case a.x >= 1-1e-6 && b.x < 1-1e-6:
			return -1
		case b.x >= 1-1e-6 && a.x < 1-1e-6:
			return 1
		case fa > fb:
			return -1
		case fa < fb:
			return 1
		}
		return 0
	})
	return order
}

func (s *pairBranching) take(k *mergedProblem, cols []model.PatternCount) {
	if model.Cost(k.p, cols) < s.r.cost {
		s.r.tryIncumbent(k.unmerge(cols))
	}
}
