package optimize_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/stock"
)

// richest returns the greatest value of a pattern of the stick.
func richest(p *optimize.Problem, stick int, value func(piece int) int64) (best int64) {
	everyPattern(p, stick, func(pat *optimize.Pattern) {
		sum := int64(0)
		for _, i := range pat.Pieces {
			sum += value(i)
		}
		best = max(best, sum)
	})
	return best
}

// everyPattern enumerates the patterns of a stick, in every order and turn of every set of pieces, in
// all places between the defects and the yard's cut.
func everyPattern(p *optimize.Problem, stick int, see func(*optimize.Pattern)) {
	s := &p.Sticks[stick]
	stretches := len(brute.ClearOf(s))
	yard := p.Rules.MaxTransport > 0 && !s.Rack && s.Length > p.Rules.MaxTransport
	left := make([]int, len(p.Pieces))
	for i := range left {
		left[i] = max(1, p.Pieces[i].Quantity)
	}
	pat := optimize.Pattern{Stick: stick, Count: 1}
	var extend func()
	extend = func() {
		if len(pat.Pieces) > 0 && placed(p, &pat, stretches, yard) {
			see(&pat)
		}
		for i := range left {
			if left[i] == 0 {
				continue
			}
			left[i]--
			pat.Pieces = append(pat.Pieces, i)
			for _, t := range []optimize.Turn{{}, {EndForEnd: true}, {Rolled: true}, {EndForEnd: true, Rolled: true}} {
				if t != (optimize.Turn{}) && (!p.Rules.Nest || p.Pieces[i].Symmetry == stock.SymmetryNone || t.Rolled && p.Pieces[i].Symmetry != stock.SymmetryAll) {
					continue
				}
				pat.Turned = append(pat.Turned, t)
				extend()
				pat.Turned = pat.Turned[:len(pat.Turned)-1]
			}
			pat.Pieces = pat.Pieces[:len(pat.Pieces)-1]
			left[i]++
		}
	}
	extend()
}

// placed tells whether the pieces of a pattern can be cut, in their order, in some stretches.
// With one stretch it fills in the offcut.
func placed(p *optimize.Problem, of *optimize.Pattern, stretches int, yard bool) (ok bool) {
	pat := *of
	pat.Turned = slices.Clone(pat.Turned)
	if !p.Rules.Nest {
		pat.Turned = nil
	}
	cuttable := func() bool {
		_, ok := optimize.Cuttable(p, pat)
		return ok
	}
	n := len(pat.Pieces)
	if yard {
		for k := range n + 1 {
			if pat.YardAfter = k; cuttable() {
				return true
			}
		}
		return false
	}
	if len(p.Sticks[pat.Stick].Defects) == 0 {
		of.Offcut, ok = optimize.Cuttable(p, pat)
		return ok
	}
	pat.Stretch = make([]int, n)
	for {
		if slices.IsSorted(pat.Stretch) && cuttable() {
			return true
		}
		k := 0
		for ; k < n && pat.Stretch[k] == stretches-1; k++ {
			pat.Stretch[k] = 0
		}
		if k == n {
			return false
		}
		pat.Stretch[k]++
	}
}

// TestHoldingBrute: no stick holds more value than Check computes, and if the state tracks all rules of
// the problem the value is exact.
func TestHoldingBrute(t *testing.T) {
	t.Parallel()
	which := featuresNamed("grades", "most", "hold", "nest", "in sequence", "one stick", "one lot", "defects", "transport")
	runs := 60
	if testing.Short() {
		runs = 5
	}
	asked, same, of := 0, 0, 0
	for _, a := range which {
		for _, b := range which {
			if b > a {
				break
			}
			for seed := range uint64(runs) {
				p := bothAdded(a, b, seed)
				if p.Validate() != nil {
					continue
				}
				few(&p)
				r := rand.New(rand.NewPCG(seed, uint64(a*100+b)))
				n, lots, lotsOf := optimize.Numbers(&p)
				values := make([]int64, n)
				for i := range values {
					values[i] = int64(r.IntN(12))
				}
				for s := range p.Sticks {
					if p.Sticks[s].Limit == stock.SoldOut {
						continue
					}
					lot := slices.Index(lots, p.Sticks[s].Lot)
					want := richest(&p, s, func(i int) int64 {
						if !fromLot(&p, i, p.Sticks[s].Lot) {
							return -1 << 40
						}
						if lotsOf[i] > 0 {
							return values[i] + values[lotsOf[i]+lot]
						}
						return values[i]
					})
					got, exact := optimize.Holding(&p, s, values, 1<<24)
					if got < want || !exact {
						t.Fatalf("%s and %s, seed %d: stick %d holds %d, Check computes %d\nvalues %d\n%s", features[b].Name, features[a].Name, seed, s, want, got, values, written(&p))
					}
					asked++
					if features[a].Name == "transport" || features[b].Name == "transport" {
						continue // two parts count as one
					}
					if of++; got == want {
						same++
					} else if len(p.Sticks[s].Defects) == 0 { // stretches share the supply of pieces
						t.Errorf("%s and %s, seed %d: stick %d holds %d, Check computes %d\nvalues %d\n%s", features[b].Name, features[a].Name, seed, s, want, got, values, written(&p))
						return
					}
				}
			}
		}
	}
	if asked < 40*runs || same < of*9/10 {
		t.Errorf("%d sticks, %d of %d exact: too few", asked, same, of)
	}
}

// few reduces a problem to so few pieces that all patterns can be tried.
func few(p *optimize.Problem) {
	n := 5
	if p.Rules.Nest {
		n = 4
	}
	for i := range p.Pieces {
		grouped := slices.ContainsFunc(p.Rules.Groups, func(g optimize.Group) bool { return slices.Contains(g.Pieces, i) })
		if n -= max(1, p.Pieces[i].Quantity); n < 0 && !grouped {
			p.Pieces[i].Quantity = 1
		}
	}
}

// fromLot tells whether a piece may come from a lot.
func fromLot(p *optimize.Problem, i int, lot string) bool {
	for _, g := range p.Rules.Groups {
		if g.Kind == optimize.GroupOneLot && g.Started && slices.Contains(g.Pieces, i) {
			return lot == g.Lot
		}
	}
	return true
}
