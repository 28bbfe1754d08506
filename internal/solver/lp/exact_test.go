package lp_test

import (
	"math"
	"math/big"
)

// problem is a linear program in whole numbers; an infinite bound is
// free (a row or column without that bound).
type problem struct {
	cost     []int64
	lo, hi   []int64 // of columns
	a        [][]int64
	rlo, rhi []int64
}

const (
	minusInf = math.MinInt64
	plusInf  = math.MaxInt64
)

// verdict is the result of an exact solve.
type verdict uint8

const (
	optimal verdict = iota
	infeasible
	unbounded
)

// exact solves p by the textbook: a full tableau of rational numbers in two phases under Bland's rule,
// which cannot cycle. It shares nothing with the package under test.
func exact(p *problem) (*big.Rat, verdict) {
	// Every column becomes offset + sum of sign*x over columns x >= 0.
	type part struct {
		j    int
		sign int64
	}
	var parts []part
	offset := make([]int64, len(p.cost))
	type row struct {
		coef map[int]int64 // by part
		rel  int           // -1: <=, 0: =, 1: >=
		rhs  int64
	}
	var rows []row
	of := make([][]int, len(p.cost))
	for j := range p.cost {
		add := func(sign int64) {
			of[j] = append(of[j], len(parts))
			parts = append(parts, part{j: j, sign: sign})
		}
		switch {
		case p.lo[j] != minusInf:
			offset[j] = p.lo[j]
			add(1)
			if p.hi[j] != plusInf {
				rows = append(rows, row{coef: map[int]int64{len(parts) - 1: 1}, rel: -1, rhs: p.hi[j] - p.lo[j]})
			}
		case p.hi[j] != plusInf:
			offset[j] = p.hi[j]
			add(-1)
		default:
			add(1)
			add(-1)
		}
	}
	for r := range p.a {
		coef := map[int]int64{}
		shift := int64(0)
		for j, v := range p.a[r] {
			shift += v * offset[j]
			for _, k := range of[j] {
				coef[k] = v * parts[k].sign
			}
		}
		if p.rlo[r] == p.rhi[r] {
			rows = append(rows, row{coef: coef, rel: 0, rhs: p.rlo[r] - shift})
			continue
		}
		if p.rlo[r] != minusInf {
			rows = append(rows, row{coef: coef, rel: 1, rhs: p.rlo[r] - shift})
		}
		if p.rhi[r] != plusInf {
			rows = append(rows, row{coef: coef, rel: -1, rhs: p.rhi[r] - shift})
		}
	}
	// Tableau: parts, slacks, artificials, right-hand side.
	m, n := len(rows), len(parts)
	width := n + 2*m + 1
	tab := make([][]*big.Rat, m)
	basis := make([]int, m)
	for i, r := range rows {
		tab[i] = make([]*big.Rat, width)
		for k := range tab[i] {
			tab[i][k] = new(big.Rat)
		}
		sign := int64(1)
		if r.rhs < 0 {
			sign = -1
		}
		for k, v := range r.coef {
			tab[i][k].SetInt64(sign * v)
		}
		tab[i][n+i].SetInt64(-sign * int64(r.rel))
		tab[i][n+m+i].SetInt64(1)
		tab[i][width-1].SetInt64(sign * r.rhs)
		basis[i] = n + m + i
	}
	run := func(cost []*big.Rat, columns int) verdict {
		// Reduced costs, with the basis priced out.
		d := make([]*big.Rat, width)
		for k := range d {
			d[k] = new(big.Rat)
			if k < len(cost) {
				d[k].Set(cost[k])
			}
		}
		var t big.Rat
		sub := func(x, y []*big.Rat, f *big.Rat) {
			for k := range x {
				if y[k].Sign() != 0 {
					x[k].Sub(x[k], t.Mul(f, y[k]))
				}
			}
		}
		for i, b := range basis {
			if d[b].Sign() != 0 {
				sub(d, tab[i], new(big.Rat).Set(d[b]))
			}
		}
		for {
			enter := -1
			for k := range columns {
				if d[k].Sign() < 0 {
					enter = k
					break
				}
			}
			if enter < 0 {
				return optimal
			}
			leave := -1
			var least, ratio big.Rat
			for i := range tab {
				if tab[i][enter].Sign() <= 0 {
					continue
				}
				ratio.Quo(tab[i][width-1], tab[i][enter])
				if c := ratio.Cmp(&least); leave < 0 || c < 0 || c == 0 && basis[i] < basis[leave] {
					leave = i
					least.Set(&ratio)
				}
			}
			if leave < 0 {
				return unbounded
			}
			f := new(big.Rat).Inv(tab[leave][enter])
			for k := range tab[leave] {
				tab[leave][k].Mul(tab[leave][k], f)
			}
			for i := range tab {
				if i != leave && tab[i][enter].Sign() != 0 {
					sub(tab[i], tab[leave], new(big.Rat).Set(tab[i][enter]))
				}
			}
			sub(d, tab[leave], new(big.Rat).Set(d[enter]))
			basis[leave] = enter
		}
	}
	value := func(cost []*big.Rat) *big.Rat {
		z, t := new(big.Rat), new(big.Rat)
		for i, b := range basis {
			if b < len(cost) {
				z.Add(z, t.Mul(cost[b], tab[i][width-1]))
			}
		}
		return z
	}
	phase1 := make([]*big.Rat, width-1)
	for k := range phase1 {
		phase1[k] = new(big.Rat)
		if k >= n+m {
			phase1[k].SetInt64(1)
		}
	}
	run(phase1, n+m)
	if value(phase1).Sign() > 0 {
		return nil, infeasible
	}
	// Artificials still in the basis are zero: pivot them out if possible.
	for i, b := range basis {
		if b < n+m {
			continue
		}
		for k := range n + m {
			if tab[i][k].Sign() == 0 {
				continue
			}
			f := new(big.Rat).Inv(tab[i][k])
			for c := range tab[i] {
				tab[i][c].Mul(tab[i][c], f)
			}
			for o := range tab {
				if o == i || tab[o][k].Sign() == 0 {
					continue
				}
				g, t := new(big.Rat).Set(tab[o][k]), new(big.Rat)
				for c := range tab[o] {
					tab[o][c].Sub(tab[o][c], t.Mul(g, tab[i][c]))
				}
			}
			basis[i] = k
			break
		}
	}
	cost := make([]*big.Rat, n)
	base := new(big.Rat)
	for j, c := range p.cost {
		base.Add(base, new(big.Rat).SetInt64(c*offset[j]))
	}
	for k, q := range parts {
		cost[k] = new(big.Rat).SetInt64(q.sign * p.cost[q.j])
	}
	if v := run(cost, n+m); v != optimal {
		return nil, v
	}
	return base.Add(base, value(cost)), optimal
}
