package master_test

import (
	"math/big"

	"example.com/longpoint/internal/solver/bound"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/solvertest"
)

// relaxation solves the linear program over all patterns in rational numbers. It reports false if the box has
// no solution.
func relaxation(p *model.Problem, box bound.Box, limit []int64) (*big.Rat, bool) {
	n, k := len(p.Items), len(p.Bins)
	rows := make([][]int64, n+2*k)
	rel := make([]int64, n+2*k) // 1: >=, -1: <=
	rhs := make([]int64, n+2*k)
	for i, it := range p.Items {
		rel[i], rhs[i] = 1, it.Demand
	}
	var cost []int64
	for b := range p.Bins {
		rel[n+b], rhs[n+b] = 1, box.Lo[b]
		rel[n+k+b], rhs[n+k+b] = -1, box.Hi[b]
		for _, pat := range solvertest.Patterns(p, b, limit) {
			cost = append(cost, p.Bins[b].Cost)
			for r := range rows {
				rows[r] = append(rows[r], 0)
			}
			last := len(cost) - 1
			for _, u := range pat.Uses {
				rows[u.Item][last] = u.N
			}
			rows[n+b][last], rows[n+k+b][last] = 1, 1
		}
	}
	return simplex(cost, rows, rel, rhs)
}

// simplex minimizes cost*x over x >= 0, where each row is at least (rel 1) or at
// most (rel -1) its right-hand side, which is >= 0. It uses a tableau of rationals
// in two phases, first for the artificials, then for the cost, with Bland's rule.
// The cost must not be negative; otherwise there may be no optimum.
func simplex(cost []int64, rows [][]int64, rel, rhs []int64) (*big.Rat, bool) {
	m, n := len(rows), len(cost)
	width := n + m + m + 1 // columns, slacks, artificials, right-hand side
	tab := make([][]*big.Rat, m+2)
	for i := range tab {
		tab[i] = make([]*big.Rat, width)
		for k := range tab[i] {
			tab[i][k] = new(big.Rat)
		}
	}
	art, obj := tab[m], tab[m+1]
	basis := make([]int, m)
	for j, c := range cost {
		obj[j].SetInt64(c)
	}
	for i := range rows {
		for j, v := range rows[i] {
			tab[i][j].SetInt64(v)
		}
		tab[i][n+i].SetInt64(-rel[i])
		tab[i][width-1].SetInt64(rhs[i])
		if basis[i] = n + i; rel[i] > 0 {
			basis[i] = n + m + i
			tab[i][n+m+i].SetInt64(1)
			for k := range n + m {
				art[k].Sub(art[k], tab[i][k])
			}
			art[width-1].Sub(art[width-1], tab[i][width-1])
		}
	}
	var f, t big.Rat
	run := func(d []*big.Rat) {
		for {
			enter := -1
			for k := range n + m {
				if d[k].Sign() < 0 {
					enter = k
					break
				}
			}
			if enter < 0 {
				return
			}
			leave := -1
			var least, ratio big.Rat
			for i := range m {
				s := tab[i][enter].Sign()
				if s < 0 && basis[i] >= n+m && tab[i][width-1].Sign() == 0 {
					leave = i // an artificial must not grow again
					break
				}
				if s <= 0 {
					continue
				}
				ratio.Quo(tab[i][width-1], tab[i][enter])
				if c := ratio.Cmp(&least); leave < 0 || c < 0 || c == 0 && basis[i] < basis[leave] {
					leave = i
					least.Set(&ratio)
				}
			}
			f.Inv(tab[leave][enter])
			for _, v := range tab[leave] {
				if v.Sign() != 0 {
					v.Mul(v, &f)
				}
			}
			for i, row := range tab {
				if i == leave || row[enter].Sign() == 0 {
					continue
				}
				f.Set(row[enter])
				for k, v := range tab[leave] {
					if v.Sign() != 0 {
						row[k].Sub(row[k], t.Mul(&f, v))
					}
				}
			}
			basis[leave] = enter
		}
	}
	run(art)
	if art[width-1].Sign() != 0 {
		return nil, false
	}
	run(obj)
	return new(big.Rat).Neg(obj[width-1]), true
}

// ceil rounds up.
func ceil(x *big.Rat) int64 {
	q, r := new(big.Int).QuoRem(x.Num(), x.Denom(), new(big.Int))
	if r.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}
