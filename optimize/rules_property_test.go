package optimize_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// alteration makes a problem freer or less free, and reports whether there was anything to change.
type alteration struct {
	name string
	make func(r *rand.Rand, p *optimize.Problem) bool
}

func set[T comparable](to *T, v T) bool {
	changed := *to != v
	*to = v
	return changed
}

// freedoms can only add plans, or make plans cheaper.
var freedoms = []alteration{
	{"another stick", func(r *rand.Rand, p *optimize.Problem) bool {
		s := stock.Stick{Length: measure.Length(20+r.IntN(40)) * u, Lot: oneOf(r, "", "A"), Grade: r.IntN(3)}
		s.Price, s.Rack = p.Sticks[0].Price, p.Sticks[0].Rack // no price if length is the objective
		p.Sticks = append(p.Sticks, s)
		return true
	}},
	{"one more of a stick", func(r *rand.Rand, p *optimize.Problem) bool {
		s := someStick(r, p)
		if s.Limit == 0 {
			return false
		}
		s.Limit++
		return true
	}},
	{"a better stick", func(r *rand.Rand, p *optimize.Problem) bool { someStick(r, p).Grade++; return true }},
	{"a piece that need not be as good", func(r *rand.Rand, p *optimize.Problem) bool {
		if len(p.Pieces) == 0 {
			return false
		}
		return set(&p.Pieces[r.IntN(len(p.Pieces))].Grade, -1)
	}},
	{"more pieces from a stick", func(_ *rand.Rand, p *optimize.Problem) bool {
		if p.Rules.MaxPieces == 0 {
			return false
		}
		p.Rules.MaxPieces++
		return true
	}},
	{"any number of pieces from a stick", func(_ *rand.Rand, p *optimize.Problem) bool { return set(&p.Rules.MaxPieces, 0) }},
	{"a saw that holds shorter lengths", func(_ *rand.Rand, p *optimize.Problem) bool {
		if p.Rules.MinHold == 0 {
			return false
		}
		p.Rules.MinHold -= u
		return true
	}},
	{"a saw that holds everything", func(_ *rand.Rand, p *optimize.Problem) bool { return set(&p.Rules.MinHold, 0) }},
	{"ends that nest, no kerf", func(_ *rand.Rand, p *optimize.Problem) bool { // with a kerf a bevel takes more than a square cut
		for i := range p.Sticks {
			if p.Rules.MaxTransport > 0 && p.Sticks[i].Length > p.Rules.MaxTransport {
				return false
			}
		}
		for _, g := range p.Rules.Groups {
			if g.Kind == optimize.GroupOneStick {
				return false
			}
		}
		for i := range p.Runs {
			if s := &p.Runs[i].Splice; s.Bevel > 0 && s.MinPart < s.Overlap {
				return false // parts that the cuts at their ends leave nothing of can no longer be made
			}
		}
		return p.Kerf == 0 && set(&p.Rules.Nest, true)
	}},
	{"a piece that lies any way", func(r *rand.Rand, p *optimize.Problem) bool {
		return p.Rules.Nest && len(p.Pieces) > 0 && set(&p.Pieces[r.IntN(len(p.Pieces))].Symmetry, stock.SymmetryAll)
	}},
	{"a longer vehicle", func(_ *rand.Rand, p *optimize.Problem) bool {
		if p.Rules.MaxTransport == 0 || p.Rules.MinHold > 0 { // the yard can hold pieces that this saw cannot
			return false
		}
		p.Rules.MaxTransport += 2 * u
		return true
	}},
	{"no limit on what is carried", func(_ *rand.Rand, p *optimize.Problem) bool {
		p.Rules.YardCut = 0
		return p.Rules.MinHold == 0 && set(&p.Rules.MaxTransport, 0)
	}},
	{"a lot as if nothing were cut of it", func(_ *rand.Rand, p *optimize.Problem) bool {
		return begin(p, func(g *optimize.Group) bool {
			if !g.Started || len(g.Pieces) < 2 {
				return false
			}
			g.Started, g.Lot = false, ""
			return true
		})
	}},
	{"one group less", func(_ *rand.Rand, p *optimize.Problem) bool {
		n := len(p.Rules.Groups)
		if n == 0 {
			return false
		}
		p.Rules.Groups = p.Rules.Groups[:n-1]
		return true
	}},
	{"side by side no longer", func(_ *rand.Rand, p *optimize.Problem) bool {
		if len(p.Rules.Groups) == 0 || p.Rules.Groups[0].Kind != optimize.GroupInSequence || p.Rules.Nest {
			return false
		}
		p.Rules.Groups[0].Kind = optimize.GroupOneStick
		return true
	}},
	{"one lot everywhere", func(_ *rand.Rand, p *optimize.Problem) bool {
		changed := false
		for i := range p.Sticks {
			changed = set(&p.Sticks[i].Lot, "A") || changed
		}
		for g := range p.Rules.Groups {
			if p.Rules.Groups[g].Started { // the pieces already cut also came from that lot
				p.Rules.Groups[g].Lot = "A"
			}
		}
		return changed
	}},
	{"one defect less", func(_ *rand.Rand, p *optimize.Problem) bool {
		// A stretch counts as a stick if pieces are counted, and a longer one is not filled exactly:
		// Most and Hold may then allow less.
		if p.Rules.MaxPieces > 0 || p.Rules.MinHold > 0 {
			return false
		}
		for i := range p.Sticks {
			if s := &p.Sticks[i]; len(s.Defects) > 0 {
				s.Defects = s.Defects[1:]
				return true
			}
		}
		return false
	}},
	{"sold singly", func(r *rand.Rand, p *optimize.Problem) bool { return set(&someStick(r, p).Bundle, 0) }},
	{"no least number", func(r *rand.Rand, p *optimize.Problem) bool { return set(&someStick(r, p).Minimum, 0) }},
	{"a cheaper stick", func(r *rand.Rand, p *optimize.Problem) bool {
		s := someStick(r, p)
		if s.Price < 2 {
			return false
		}
		s.Price--
		return true
	}},
	{"a cheaper break", func(r *rand.Rand, p *optimize.Problem) bool {
		s := someStick(r, p)
		if len(s.Breaks) == 0 || s.Breaks[0].Price < 2 {
			return false
		}
		s.Breaks[0].Price--
		return true
	}},
	{"a smaller charge", func(_ *rand.Rand, p *optimize.Problem) bool {
		if len(p.Rules.Charges) == 0 || p.Rules.Charges[0].Amount < 2 {
			return false
		}
		p.Rules.Charges[0].Amount--
		return true
	}},
	{"one spare less", func(_ *rand.Rand, p *optimize.Problem) bool {
		if p.Rules.Spare == 0 {
			return false
		}
		p.Rules.Spare--
		return true
	}},
	{"another place to splice", func(r *rand.Rand, p *optimize.Problem) bool {
		if len(p.Runs) == 0 {
			return false
		}
		run := &p.Runs[0]
		x := measure.Length(1+r.IntN(int(run.Length/u)-1)) * u
		if slices.Contains(run.Splice.At, x) {
			return false
		}
		run.Splice.At = append(run.Splice.At, x)
		slices.Sort(run.Splice.At)
		return true
	}},
	{"one splice more", func(_ *rand.Rand, p *optimize.Problem) bool {
		if len(p.Runs) == 0 || p.Runs[0].Splice.MaxSplices == 0 {
			return false
		}
		p.Runs[0].Splice.MaxSplices++
		return true
	}},
	{"shorter parts", func(_ *rand.Rand, p *optimize.Problem) bool {
		return len(p.Runs) > 0 && set(&p.Runs[0].Splice.MinPart, 0)
	}},
}

// takings can only remove plans, or make them more expensive.
var takings = []alteration{
	{"one piece more", func(r *rand.Rand, p *optimize.Problem) bool {
		p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(4+r.IntN(10)) * u})
		return p.Rules.Spare == 0 // a longer piece asks for other spares, too
	}},
	{"a limit", func(r *rand.Rand, p *optimize.Problem) bool {
		s := someStick(r, p)
		return s.Limit == 0 && set(&s.Limit, max(2, s.Bundle, s.Minimum))
	}},
	{"a better piece", func(r *rand.Rand, p *optimize.Problem) bool {
		if len(p.Pieces) == 0 {
			return false
		}
		p.Pieces[r.IntN(len(p.Pieces))].Grade++
		return true
	}},
	{"few pieces from a stick", func(r *rand.Rand, p *optimize.Problem) bool {
		return p.Rules.MaxPieces == 0 && set(&p.Rules.MaxPieces, 1+r.IntN(3))
	}},
	{"a saw that must hold", func(r *rand.Rand, p *optimize.Problem) bool {
		return p.Rules.MinHold == 0 && set(&p.Rules.MinHold, measure.Length(1+r.IntN(20))*u)
	}},
	{"a short vehicle", func(r *rand.Rand, p *optimize.Problem) bool {
		return p.Rules.MaxTransport == 0 && p.Rules.MinHold == 0 && set(&p.Rules.MaxTransport, measure.Length(15+r.IntN(30))*u)
	}},
	{"one stick", regroup(optimize.GroupOneStick)},
	{"in sequence", regroup(optimize.GroupInSequence)},
	{"one lot", regroup(optimize.GroupOneLot)},
	{"a lot that is begun", func(r *rand.Rand, p *optimize.Problem) bool {
		return begin(p, func(g *optimize.Group) bool {
			if g.Started {
				return false
			}
			g.Started, g.Lot = true, oneOf(r, "", "A", "B")
			return true
		})
	}},
	{"a defect", func(r *rand.Rand, p *optimize.Problem) bool {
		s := someStick(r, p)
		if s.Limit == 0 || p.Rules.MaxPieces > 0 || p.Rules.MinHold > 0 || p.Rules.MaxTransport > 0 {
			return false
		}
		// Wider than any cut: the one between two stretches is not charged.
		from := measure.Length(r.IntN(int(s.Length/u))) * u
		s.Defects = append(slices.Clone(s.Defects), stock.Defect{From: from, To: min(from+8*u, s.Length)})
		return true
	}},
	{"sold in bundles", func(r *rand.Rand, p *optimize.Problem) bool {
		s := someStick(r, p)
		return (s.Limit == 0 || s.Limit > 1) && s.Bundle == 0 && set(&s.Bundle, 2)
	}},
	{"sold from two on", func(r *rand.Rand, p *optimize.Problem) bool {
		s := someStick(r, p)
		return (s.Limit == 0 || s.Limit > 1) && s.Minimum == 0 && set(&s.Minimum, 2)
	}},
	{"a spare", func(_ *rand.Rand, p *optimize.Problem) bool { p.Rules.Spare++; return true }},
	{"a place less to splice", func(_ *rand.Rand, p *optimize.Problem) bool {
		if len(p.Runs) == 0 || len(p.Runs[0].Splice.At) == 0 {
			return false
		}
		p.Runs[0].Splice.At = p.Runs[0].Splice.At[1:]
		return true
	}},
	{"a dearer splice", func(_ *rand.Rand, p *optimize.Problem) bool {
		if len(p.Runs) == 0 || p.Runs[0].Splice.Price == 0 {
			return false
		}
		p.Runs[0].Splice.Price++
		return true
	}},
}

// begin changes the first group of one lot that can be.
func begin(p *optimize.Problem, change func(*optimize.Group) bool) bool {
	p.Rules.Groups = slices.Clone(p.Rules.Groups)
	for k := range p.Rules.Groups {
		if g := &p.Rules.Groups[k]; g.Kind == optimize.GroupOneLot && change(g) {
			return true
		}
	}
	return false
}

// regroup puts pieces into a group that already have one quantity.
func regroup(kind optimize.GroupKind) func(*rand.Rand, *optimize.Problem) bool {
	return func(_ *rand.Rand, p *optimize.Problem) bool {
		var free []int
		for i := range p.Pieces {
			if !slices.ContainsFunc(p.Rules.Groups, func(g optimize.Group) bool { return slices.Contains(g.Pieces, i) }) &&
				(len(free) == 0 || max(1, p.Pieces[i].Quantity) == max(1, p.Pieces[free[0]].Quantity)) {
				free = append(free, i)
			}
		}
		if len(free) < 2 {
			return false
		}
		p.Rules.Groups = append(slices.Clone(p.Rules.Groups), optimize.Group{Kind: kind, Pieces: free[:2]})
		return true
	}
}

// costOf returns the least cost, the greatest int64 if there is no plan, and whether it is certain.
func costOf(t *rapid.T, p optimize.Problem) (cost int64, byLength bool, sure bool) {
	plan, err := optimize.Solve(context.Background(), p, nil)
	switch {
	case errors.As(err, new(*optimize.InfeasibleError)):
		return math.MaxInt64, false, true
	case errors.As(err, new(*measure.FieldError)), errors.As(err, new(*optimize.LimitError)):
		return 0, false, false
	case err != nil:
		t.Fatalf("%v\n%s", err, written(&p))
	}
	return plan.Cost, plan.ByLength, plan.Proven
}

// changed solves a random problem before and after a change and hands both costs over.
func changed(t *testing.T, list []alteration, wrong func(before, after int64) bool) {
	for _, c := range list {
		t.Run(c.name, func(t *testing.T) {
			tried, found := 0, false
			// One of the rules is one that the change has to do with, or few draws would be tried.
			var apt []int
			for f := range features {
				for seed := range uint64(8) {
					q := bothAdded(f, f, seed)
					if c.make(rand.New(rand.NewPCG(7, seed)), &q) {
						apt = append(apt, f)
						break
					}
				}
			}
			rapid.Check(t, func(t *rapid.T) {
				if tried >= 2**bruteCases && !found {
					return // enough, unless a case is being made smaller
				}
				a, b := rapid.SampledFrom(apt).Draw(t, "rule"), rapid.IntRange(0, len(features)-1).Draw(t, "rule")
				seed := rapid.Uint64Range(0, 1<<20).Draw(t, "seed")
				p, q := bothAdded(a, b, seed), bothAdded(a, b, seed)
				if !c.make(rand.New(rand.NewPCG(7, seed)), &q) {
					return
				}
				p.Rules.Goals, q.Rules.Goals = nil, nil
				before, unit, sure := costOf(t, p)
				after, unitAfter, sureAfter := costOf(t, q)
				if !sure || !sureAfter || unit != unitAfter && before < math.MaxInt64 && after < math.MaxInt64 {
					return
				}
				tried++
				if wrong(before, after) {
					found = true
					t.Fatalf("cost %d before, %d after\n%s\n%s", before, after, written(&p), written(&q))
				}
			})
			if tried == 0 && !testing.Short() { // few draws may miss
				t.Error("nothing was tried")
			}
		})
	}
}

// What only adds freedom never raises the cost.
func TestFreedomNeverCosts(t *testing.T) {
	changed(t, freedoms, func(before, after int64) bool { return after > before })
}

// What only takes freedom away never lowers it.
func TestTakingNeverSaves(t *testing.T) {
	changed(t, takings, func(before, after int64) bool { return after < before })
}
