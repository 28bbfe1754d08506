package lp

import (
	"math"

	"example.com/longpoint/internal/meter"
)

// factor is a sparse LU factorization of a basis, with an eta file (the product form of the inverse)
// for the columns exchanged since then. It follows H. M. Markowitz, The elimination form of the inverse
// and its application to linear programming, Management Science 3 (1957) 255-269, with the usual
// threshold pivoting.
//
// Pivot k eliminates row prow[k] and basis position pcol[k].
type factor struct {
	m          int
	prow, pcol []int32
	piv        []float64

	// L: for pivot k, the rows from which the pivot row was subtracted, and the multipliers.
	lbeg []int32
	lidx []int32
	lval []float64
	// U without its diagonal: by row of pivot k (positions), and by column of pivot k (rows).
	urbeg []int32
	uridx []int32
	urval []float64
	ucbeg []int32
	ucidx []int32
	ucval []float64

	// Etas: position, pivot value, and the other entries by position.
	epos []int32
	epiv []float64
	ebeg []int32
	eidx []int32
	eval []float64

	// scratch space of build
	rows         [][]entry // active rows: position, value
	cols         [][]int32 // active columns: rows (a superset: may hold stale ones)
	rcnt, ccnt   []int32
	rowDone      []bool
	colDone      []bool
	mark         []int32
	work         []float64
	byCol, byRow [][]int32 // buckets by count
	ucount       []int32
}

type entry struct {
	pos int32
	val float64
}

func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		t := make([]T, n, n+n/2+4)
		copy(t, s[:cap(s)])
		return t
	}
	return s[:n]
}

// build factors the basis whose column at position c is given by column(c). If the basis is singular,
// it returns the positions and rows without a pivot; the factorization is then invalid. ok is false if
// the meter ran out.
func (f *factor) build(m int, column func(c int) (idx []int32, val []float64), mt *meter.Meter) (badPos, badRow []int32, ok bool) {
	f.m = m
	f.prow, f.pcol, f.piv = f.prow[:0], f.pcol[:0], f.piv[:0]
	f.lbeg, f.lidx, f.lval = append(f.lbeg[:0], 0), f.lidx[:0], f.lval[:0]
	f.urbeg, f.uridx, f.urval = append(f.urbeg[:0], 0), f.uridx[:0], f.urval[:0]
	f.epos, f.epiv, f.ebeg = f.epos[:0], f.epiv[:0], append(f.ebeg[:0], 0)
	f.eidx, f.eval = f.eidx[:0], f.eval[:0]

	f.rows, f.cols = resized(f.rows, m), resized(f.cols, m)
	f.rcnt, f.ccnt = resized(f.rcnt, m), resized(f.ccnt, m)
	f.rowDone, f.colDone = resized(f.rowDone, m), resized(f.colDone, m)
	f.mark, f.work = resized(f.mark, m), resized(f.work, m)
	f.byCol, f.byRow = resized(f.byCol, m+1), resized(f.byRow, m+1)
	for i := range m {
		f.rows[i], f.cols[i] = f.rows[i][:0], f.cols[i][:0]
		f.rowDone[i], f.colDone[i], f.mark[i] = false, false, -1
	}
	for i := range m + 1 {
		f.byCol[i], f.byRow[i] = f.byCol[i][:0], f.byRow[i][:0]
	}
	for c := range m {
		idx, val := column(c)
		for t, r := range idx {
			if val[t] == 0 {
				continue
			}
			f.rows[r] = append(f.rows[r], entry{int32(c), val[t]})
			f.cols[c] = append(f.cols[c], r)
		}
		f.ccnt[c] = int32(len(f.cols[c]))
		f.byCol[f.ccnt[c]] = append(f.byCol[f.ccnt[c]], int32(c))
	}
	for r := range m {
		f.rcnt[r] = int32(len(f.rows[r]))
		f.byRow[f.rcnt[r]] = append(f.byRow[f.rcnt[r]], int32(r))
	}
	for range m {
		r, c := f.choose()
		if r < 0 {
			break
		}
		if !f.eliminate(r, c, mt) {
			return nil, nil, false
		}
	}
	if len(f.piv) < m {
		for i := range m {
			if !f.colDone[i] {
				badPos = append(badPos, int32(i))
			}
			if !f.rowDone[i] {
				badRow = append(badRow, int32(i))
			}
		}
		return badPos, badRow, true
	}
	f.transpose()
	return nil, nil, true
}

const (
	threshold = 0.1   // least share of the largest entry in the row, for a pivot
	tiny      = 1e-9  // smaller entries are no pivots
	drop      = 1e-14 // smaller entries count as zero
)

// choose picks the next pivot: a singleton if there is one, otherwise the best
// Markowitz count among the first few acceptable entries.
func (f *factor) choose() (row, col int32) {
	row, col = -1, -1
	best := int64(math.MaxInt64)
	tried := 0
	for n := int32(1); int(n) <= f.m; n++ {
		if int64(n-1)*int64(n-1) >= best {
			break
		}
		// Columns with n entries.
		list := f.byCol[n]
		keep := list[:0]
		for k, c := range list {
			if f.colDone[c] || f.ccnt[c] != n {
				continue // stale
			}
			keep = append(keep, c)
			for _, r := range f.live(c) {
				v, top := f.find(r, c)
				if math.Abs(v) < tiny || math.Abs(v) < threshold*top {
					continue
				}
				if cost := int64(n-1) * int64(f.rcnt[r]-1); cost < best {
					best, row, col = cost, r, c
				}
			}
			if tried++; best == 0 || (tried >= 6 && row >= 0) {
				keep = append(keep, list[k+1:]...)
				f.byCol[n] = keep
				return row, col
			}
		}
		f.byCol[n] = keep
		// Rows with n entries.
		list = f.byRow[n]
		keep = list[:0]
		for k, r := range list {
			if f.rowDone[r] || f.rcnt[r] != n {
				continue
			}
			keep = append(keep, r)
			top := 0.0
			for _, e := range f.rows[r] {
				top = max(top, math.Abs(e.val))
			}
			for _, e := range f.rows[r] {
				if a := math.Abs(e.val); a < tiny || a < threshold*top {
					continue
				}
				if cost := int64(n-1) * int64(f.ccnt[e.pos]-1); cost < best {
					best, row, col = cost, r, e.pos
				}
			}
			if tried++; best == 0 || (tried >= 6 && row >= 0) {
				keep = append(keep, list[k+1:]...)
				f.byRow[n] = keep
				return row, col
			}
		}
		f.byRow[n] = keep
	}
	return row, col
}

// live returns the rows of column c, without stale entries.
func (f *factor) live(c int32) []int32 {
	list := f.cols[c]
	if len(list) == int(f.ccnt[c]) {
		return list
	}
	keep := list[:0]
	for _, r := range list {
		if f.rowDone[r] {
			continue
		}
		for _, e := range f.rows[r] {
			if e.pos == c {
				keep = append(keep, r)
				break
			}
		}
	}
	f.cols[c] = keep
	return keep
}

// find returns the entry of row r at position c, and the largest absolute value in the row.
func (f *factor) find(r, c int32) (v, top float64) {
	for _, e := range f.rows[r] {
		if e.pos == c {
			v = e.val
		}
		top = max(top, math.Abs(e.val))
	}
	return v, top
}

func (f *factor) eliminate(pr, pc int32, mt *meter.Meter) bool {
	prow := f.rows[pr]
	pv := 0.0
	for k, e := range prow {
		if e.pos == pc {
			pv = e.val
			prow[k] = prow[len(prow)-1]
			prow = prow[:len(prow)-1]
			break
		}
	}
	f.rowDone[pr], f.colDone[pc] = true, true
	for _, e := range prow {
		f.uridx, f.urval = append(f.uridx, e.pos), append(f.urval, e.val)
		f.lower(e.pos)
	}
	f.prow, f.pcol, f.piv = append(f.prow, pr), append(f.pcol, pc), append(f.piv, pv)
	f.urbeg = append(f.urbeg, int32(len(f.uridx)))
	ops := int64(4 + len(prow))
	for _, r := range f.cols[pc] {
		if f.rowDone[r] {
			continue
		}
		row := f.rows[r]
		at := -1
		for k := range row {
			if row[k].pos == pc {
				at = k
				break
			}
		}
		if at < 0 {
			continue // stale
		}
		mul := row[at].val / pv
		row[at] = row[len(row)-1]
		row = row[:len(row)-1]
		f.lidx, f.lval = append(f.lidx, r), append(f.lval, mul)
		ops += int64(len(row) + len(prow) + 2)
		if len(prow) > 0 {
			for k := range row {
				f.mark[row[k].pos] = int32(k)
			}
			for _, e := range prow {
				d := float64(mul * e.val)
				if k := f.mark[e.pos]; k >= 0 {
					row[k].val -= d
				} else {
					row = append(row, entry{e.pos, -d})
					f.mark[e.pos] = int32(len(row) - 1)
					f.cols[e.pos] = append(f.cols[e.pos], r)
					f.ccnt[e.pos]++
					f.byCol[f.ccnt[e.pos]] = append(f.byCol[f.ccnt[e.pos]], e.pos)
				}
			}
			for k := range row {
				f.mark[row[k].pos] = -1
			}
			// Remove canceled entries.
			for k := 0; k < len(row); {
				if math.Abs(row[k].val) < drop {
					c := row[k].pos
					row[k] = row[len(row)-1]
					row = row[:len(row)-1]
					f.lower(c)
					continue
				}
				k++
			}
		}
		f.rows[r] = row
		f.rcnt[r] = int32(len(row))
		f.byRow[f.rcnt[r]] = append(f.byRow[f.rcnt[r]], r)
	}
	f.lbeg = append(f.lbeg, int32(len(f.lidx)))
	return mt.Spend(ops)
}

// lower records that column c lost an entry.
func (f *factor) lower(c int32) {
	f.ccnt[c]--
	f.byCol[f.ccnt[c]] = append(f.byCol[f.ccnt[c]], c)
}

// transpose also stores U by columns.
func (f *factor) transpose() {
	m := f.m
	at := resized(f.ucount, m+1) // position -> pivot number
	f.ucount = at
	for k, c := range f.pcol {
		at[c] = int32(k)
	}
	f.ucbeg = resized(f.ucbeg, m+1)
	clear(f.ucbeg)
	for _, c := range f.uridx {
		f.ucbeg[at[c]+1]++
	}
	for k := range m {
		f.ucbeg[k+1] += f.ucbeg[k]
	}
	n := len(f.uridx)
	f.ucidx, f.ucval = resized(f.ucidx, n), resized(f.ucval, n)
	fill := resized(f.mark, m)
	for k := range m {
		fill[k] = f.ucbeg[k]
	}
	for k := range m {
		for t := f.urbeg[k]; t < f.urbeg[k+1]; t++ {
			c := at[f.uridx[t]]
			f.ucidx[fill[c]] = f.prow[k]
			f.ucval[fill[c]] = f.urval[t]
			fill[c]++
		}
	}
}

// ftran solves B x = b. b is given by row and is overwritten; x is returned by position.
func (f *factor) ftran(b, x []float64) {
	for k, p := range f.prow {
		v := b[p]
		if v == 0 {
			continue
		}
		for t := f.lbeg[k]; t < f.lbeg[k+1]; t++ {
			b[f.lidx[t]] -= float64(f.lval[t] * v)
		}
	}
	for k := f.m - 1; k >= 0; k-- {
		v := b[f.prow[k]]
		if v == 0 {
			x[f.pcol[k]] = 0
			continue
		}
		v /= f.piv[k]
		x[f.pcol[k]] = v
		for t := f.ucbeg[k]; t < f.ucbeg[k+1]; t++ {
			b[f.ucidx[t]] -= float64(f.ucval[t] * v)
		}
	}
	for e, p := range f.epos {
		v := x[p]
		if v == 0 {
			continue
		}
		v /= f.epiv[e]
		x[p] = v
		for t := f.ebeg[e]; t < f.ebeg[e+1]; t++ {
			x[f.eidx[t]] -= float64(f.eval[t] * v)
		}
	}
}

// btran solves y B = c. c is given by position and is overwritten; y is returned by row.
func (f *factor) btran(c, y []float64) {
	for e := len(f.epos) - 1; e >= 0; e-- {
		v := c[f.epos[e]]
		for t := f.ebeg[e]; t < f.ebeg[e+1]; t++ {
			if w := c[f.eidx[t]]; w != 0 {
				v -= float64(f.eval[t] * w)
			}
		}
		c[f.epos[e]] = v / f.epiv[e]
	}
	for k := range f.m {
		v := c[f.pcol[k]]
		if v == 0 {
			y[f.prow[k]] = 0
			continue
		}
		v /= f.piv[k]
		y[f.prow[k]] = v
		for t := f.urbeg[k]; t < f.urbeg[k+1]; t++ {
			c[f.uridx[t]] -= float64(f.urval[t] * v)
		}
	}
	for k := f.m - 1; k >= 0; k-- {
		v := y[f.prow[k]]
		for t := f.lbeg[k]; t < f.lbeg[k+1]; t++ {
			if w := y[f.lidx[t]]; w != 0 {
				v -= float64(f.lval[t] * w)
			}
		}
		y[f.prow[k]] = v
	}
}

// exchange records that the column at position pos was replaced by one whose ftran is alpha.
func (f *factor) exchange(pos int, alpha []float64) {
	f.epos = append(f.epos, int32(pos))
	f.epiv = append(f.epiv, alpha[pos])
	for i, a := range alpha {
		if i != pos && math.Abs(a) > drop {
			f.eidx = append(f.eidx, int32(i))
			f.eval = append(f.eval, a)
		}
	}
	f.ebeg = append(f.ebeg, int32(len(f.eidx)))
}

// ops returns about how many operations one ftran or btran takes.
func (f *factor) ops() int64 {
	return int64(3*f.m + len(f.lidx) + len(f.uridx) + len(f.eidx))
}
