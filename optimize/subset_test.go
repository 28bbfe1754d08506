package optimize_test

import (
	"context"
	"errors"
	"math/bits"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// subsetSolve returns the least cost by a table over all subsets of the pieces and all uses of limited
// sticks: for a dozen pieces, where slowSolve takes too long.
func subsetSolve(p optimize.Problem) (int64, bool) {
	var size []int64
	for _, pc := range p.Pieces {
		for range max(1, pc.Quantity) {
			size = append(size, int64(pc.Length+p.Kerf))
		}
	}
	all := 1<<len(size) - 1
	sum := make([]int64, all+1)
	for set := 1; set <= all; set++ {
		sum[set] = sum[set&(set-1)] + size[bits.TrailingZeros(uint(set))]
	}
	cost := make([]int64, len(p.Sticks))
	priced := false
	for i, s := range p.Sticks {
		cost[i] = s.Price
		priced = priced || s.Price > 0
	}
	// A use is a number with one digit to each limited stick.
	digit := make([]int, len(p.Sticks))
	uses := 1
	for i, s := range p.Sticks {
		if !priced {
			cost[i] = int64(s.Length)
		}
		digit[i] = uses
		uses *= s.Limit + 1
	}
	const none = 1 << 60
	least := make([]int64, (all+1)*uses)
	for i := range least {
		least[i] = none
	}
	least[0] = 0
	for set := range all {
		first := ^set & (set + 1) // the lowest piece that is not in set
		rest := all &^ set &^ first
		for add := rest; ; add = (add - 1) & rest {
			on := add | first
			for i, s := range p.Sticks {
				if sum[on] > int64(s.Length-s.TrimStart-s.TrimEnd+p.Kerf) {
					continue
				}
				for use := range uses {
					if least[set*uses+use] == none {
						continue
					}
					next := use
					if s.Limit > 0 {
						if use/digit[i]%(s.Limit+1) == s.Limit {
							continue
						}
						next += digit[i]
					}
					to := &least[(set|on)*uses+next]
					*to = min(*to, least[set*uses+use]+cost[i])
				}
			}
			if add == 0 {
				break
			}
		}
	}
	best := int64(none)
	for use := range uses {
		best = min(best, least[all*uses+use])
	}
	return best, best < none
}

// TestSolveSubsets compares cost and feasibility on problems of seven to ten
// pieces, of coarse lengths and of fine ones.
func TestSolveSubsets(t *testing.T) {
	runs := 700
	if testing.Short() {
		runs = 150
	}
	infeasible := 0
	for seed := range uint64(runs) {
		r := rand.New(rand.NewPCG(seed, 6))
		long := []int{30, 100, 1000, 1000000}[r.IntN(4)]
		p := optimize.Problem{Kerf: measure.Length(r.IntN(long/20 + 1))}
		uses := 1
		for range 1 + r.IntN(4) {
			s := stock.Stick{Length: measure.Length(long/2 + r.IntN(long)), Price: int64(r.IntN(40))}
			if r.IntN(3) == 0 {
				s.Price = int64(s.Length)
			}
			if l := r.IntN(4); uses*(l+1) <= 12 {
				s.Limit = l
				uses *= l + 1
			}
			p.Sticks = append(p.Sticks, s)
		}
		owned(&p)
		short := r.IntN(long / 4)
		for n := 7 + r.IntN(4); n > 0; {
			q := min(n, 1+r.IntN(3)*r.IntN(2))
			p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(1 + short + r.IntN(long/2)), Quantity: q})
			n -= q
		}
		want, ok := subsetSolve(p)
		if !ok {
			if _, err := optimize.Solve(context.Background(), p, nil); !errors.As(err, new(*optimize.InfeasibleError)) {
				t.Fatalf("seed %d: error %v, want infeasible\n%#v", seed, err, p)
			}
			infeasible++
			continue
		}
		if plan := mustSolve(t, p); plan.Cost != want || !plan.Proven {
			t.Fatalf("seed %d: cost %d, bound %d, want %d proven\n%#v", seed, plan.Cost, plan.Bound, want, p)
		}
	}
	if infeasible == 0 || infeasible > runs/2 {
		t.Errorf("%d of %d problems are infeasible", infeasible, runs)
	}
}
