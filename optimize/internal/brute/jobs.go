package brute

import (
	"math/rand/v2"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// U is the unit of random lengths: as fine as the rounding of a bevel's kerf, so that small
// numbers often coincide.
const U = measure.Inch / 64

// Feature adds one rule to a random problem.
type Feature struct {
	Name string
	Add  func(r *rand.Rand, p *optimize.Problem)
}

// Base returns a plain random problem of up to six single pieces.
func Base(r *rand.Rand) optimize.Problem {
	p := optimize.Problem{Kerf: measure.Length(r.IntN(3)) * U}
	priced := r.IntN(4) > 0
	for i := range 1 + r.IntN(3) {
		s := stock.Stick{Length: measure.Length(20+r.IntN(30)) * U}
		if priced {
			s.Price = int64(r.IntN(12))
		}
		if i > 0 {
			s.Limit = r.IntN(4)
		}
		if r.IntN(4) == 0 {
			s.TrimStart, s.TrimEnd = measure.Length(r.IntN(3))*U, measure.Length(r.IntN(3))*U
		}
		p.Sticks = append(p.Sticks, s)
	}
	for n := 0; n < 2+r.IntN(4); {
		pc := stock.Piece{Length: measure.Length(4+r.IntN(18)) * U, Quantity: r.IntN(3)}
		n += max(1, pc.Quantity)
		p.Pieces = append(p.Pieces, pc)
	}
	Owned(&p)
	return p
}

// Owned puts sticks without a price on the rack if others have one.
func Owned(p *optimize.Problem) {
	if slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
		for i := range p.Sticks {
			p.Sticks[i].Rack = p.Sticks[i].Rack || p.Sticks[i].Price == 0
		}
	}
}

func OneOf[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

func SomeStick(r *rand.Rand, p *optimize.Problem) *stock.Stick {
	return &p.Sticks[r.IntN(len(p.Sticks))]
}

// Group adds a Group of pieces that are in none yet.
func Group(r *rand.Rand, p *optimize.Problem, kind optimize.GroupKind) {
	var free []int
	for i := range p.Pieces {
		if !slices.ContainsFunc(p.Rules.Groups, func(g optimize.Group) bool { return slices.Contains(g.Pieces, i) }) {
			free = append(free, i)
		}
	}
	r.Shuffle(len(free), func(i, j int) { free[i], free[j] = free[j], free[i] })
	if len(free) < 2 {
		return
	}
	g := optimize.Group{Kind: kind, Pieces: free[:2+r.IntN(min(2, len(free)-1))]}
	for _, i := range g.Pieces {
		p.Pieces[i].Quantity = p.Pieces[g.Pieces[0]].Quantity
	}
	p.Rules.Groups = append(p.Rules.Groups, g)
}

// Miter returns a random end; those of one angle have one setback.
func Miter(r *rand.Rand) stock.End {
	e := OneOf(r,
		stock.End{}, stock.End{},
		stock.End{Kind: stock.EndInsideMiter, Setback: 3 * U},
		stock.End{Kind: stock.EndOutsideMiter, Setback: 3 * U},
		stock.End{Kind: stock.EndOutsideMiter, Angle: 120 * measure.Degree, Setback: 2 * U},
		stock.End{Kind: stock.EndCope, Angle: 120 * measure.Degree, Setback: 2 * U},
		stock.End{Kind: stock.EndFlatMiter, Setback: 3 * U},
		stock.End{Kind: stock.EndRake, Angle: 45 * measure.Degree, Setback: 3 * U},
		stock.End{Kind: stock.EndPlumb, Angle: -45 * measure.Degree, Setback: 3 * U},
		stock.End{Kind: stock.EndScarfOver, Setback: 3 * U},
		stock.End{Kind: stock.EndButt, Angle: 100 * measure.Degree, Setback: U})
	return e
}

var Features = []Feature{
	{"runs", func(r *rand.Rand, p *optimize.Problem) {
		p.Pieces = p.Pieces[:min(len(p.Pieces), 2)]
		for i := range p.Pieces {
			p.Pieces[i].Quantity = 0
		}
		runs := 1 + r.IntN(2)
		for range runs {
			run := stock.Run{Length: measure.Length(18+r.IntN(40)) * U}
			rule := &run.Splice
			rule.Overlap = measure.Length(r.IntN(4)-1) * U
			rule.MinPart = measure.Length(r.IntN(10)) * U
			rule.Price, rule.MaxSplices = int64(r.IntN(3)), 1+r.IntN(3-runs)
			if rule.Overlap > 0 && r.IntN(2) == 0 {
				rule.Bevel = 45 * measure.Degree
			}
			if len(rule.At) < 3 && r.IntN(2) == 0 {
				rule.MaxSplices = 0
			}
			rule.RightOver = r.IntN(2) == 1
			for x := measure.Length(4 + r.IntN(8)); x*U < run.Length && len(rule.At) < 4-runs; x += 3 + measure.Length(r.IntN(9)) {
				rule.At = append(rule.At, x*U)
			}
			p.Runs = append(p.Runs, run)
		}
		if r.IntN(4) == 0 {
			p.Pieces = nil
		}
	}},
	{"grades", func(r *rand.Rand, p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Grade = r.IntN(3)
		}
		p.Sticks[0].Grade = 1 + r.IntN(2)
		for i := range p.Pieces {
			p.Pieces[i].Grade = r.IntN(4) - 1
		}
	}},
	{"most", func(r *rand.Rand, p *optimize.Problem) { p.Rules.MaxPieces = 1 + r.IntN(3) }},
	{"hold", func(r *rand.Rand, p *optimize.Problem) { p.Rules.MinHold = measure.Length(5+r.IntN(20)) * U }},
	{"nest", func(r *rand.Rand, p *optimize.Problem) {
		p.Rules.Nest = true
		for i := range p.Pieces {
			p.Pieces[i].Left, p.Pieces[i].Right = Miter(r), Miter(r)
			p.Pieces[i].Symmetry = stock.Symmetry(r.IntN(3))
			p.Pieces[i].Length += 4 * U
		}
		for i := range p.Runs {
			p.Runs[i].Left, p.Runs[i].Right = Miter(r), Miter(r)
			if p.Runs[i].Splice.Bevel > 0 {
				p.Runs[i].Splice.Overlap = 3 * U
			}
		}
	}},
	{"transport", func(r *rand.Rand, p *optimize.Problem) {
		p.Rules.MaxTransport = measure.Length(15+r.IntN(30)) * U
		p.Rules.YardCut = int64(r.IntN(4))
		SomeStick(r, p).Rack = r.IntN(2) == 0
	}},
	{"one stick", func(r *rand.Rand, p *optimize.Problem) { Group(r, p, optimize.GroupOneStick) }},
	{"in sequence", func(r *rand.Rand, p *optimize.Problem) { Group(r, p, optimize.GroupInSequence) }},
	{"one lot", func(r *rand.Rand, p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Lot = OneOf(r, "", "A", "B")
		}
		Group(r, p, optimize.GroupOneLot)
		if k := len(p.Rules.Groups) - 1; k >= 0 && p.Rules.Groups[k].Kind == optimize.GroupOneLot && r.IntN(3) == 0 {
			g := &p.Rules.Groups[k]
			g.Started, g.Lot = true, OneOf(r, p.Sticks[0].Lot, "A", "B")
			if g.Pieces = g.Pieces[:1+r.IntN(len(g.Pieces))]; len(g.Pieces) > 1 {
				p.Pieces[g.Pieces[0]].Quantity = r.IntN(3)
			}
		}
	}},
	{"defects", func(r *rand.Rand, p *optimize.Problem) {
		s := SomeStick(r, p)
		s.Limit = 1 + r.IntN(3)
		for range 1 + r.IntN(2) {
			from := measure.Length(r.IntN(int(s.Length/U) - 1))
			to := min(from+1+measure.Length(r.IntN(4)), s.Length/U)
			s.Defects = append(s.Defects, stock.Defect{From: from * U, To: to * U})
		}
		p.Sticks = append(p.Sticks, stock.Stick{Length: 50 * U, Price: int64(r.IntN(20))})
	}},
	{"bundle", func(r *rand.Rand, p *optimize.Problem) {
		if s := SomeStick(r, p); s.Limit == 0 || s.Limit > 1 {
			s.Bundle = 2 + r.IntN(min(2, max(1, s.Limit-1)))
		}
	}},
	{"minimum", func(r *rand.Rand, p *optimize.Problem) {
		if s := SomeStick(r, p); s.Limit == 0 || s.Limit > 1 {
			s.Minimum = 2
		}
	}},
	{"breaks", func(r *rand.Rand, p *optimize.Problem) {
		s := SomeStick(r, p)
		for from := 2; from < 6; from += 1 + r.IntN(3) {
			s.Breaks = append(s.Breaks, stock.PriceBreak{From: from, Price: int64(r.IntN(10))})
		}
	}},
	{"charges", func(r *rand.Rand, p *optimize.Problem) {
		for i := range p.Sticks {
			p.Sticks[i].Supplier = OneOf(r, "", "M", "N")
		}
		p.Rules.Charges = []optimize.Charge{{Supplier: "M", Amount: int64(r.IntN(10))}, {Supplier: "N", Amount: int64(r.IntN(10))}}
	}},
	{"poor stick", func(r *rand.Rand, p *optimize.Problem) {
		SomeStick(r, p).Grade = -1
		if r.IntN(3) > 0 {
			p.Sticks = append(p.Sticks, stock.Stick{Length: 50 * U, Price: int64(1 + r.IntN(20))})
		}
	}},
	{"spare", func(r *rand.Rand, p *optimize.Problem) { p.Rules.Spare = 1 + r.IntN(2) }},
	{"worth", func(r *rand.Rand, p *optimize.Problem) {
		p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 6 * U, Value: 2}, {Length: 12 * U, Value: 5}}
		SomeStick(r, p).Rack = r.IntN(2) == 0
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalOffcutValue}
		if r.IntN(2) == 0 {
			p.Rules.Goals = append(p.Rules.Goals, OneOf(r, optimize.GoalSticks, optimize.GoalLongestOffcut, optimize.GoalCuts, optimize.GoalSplices))
		}
	}},
	{"goals", func(r *rand.Rand, p *optimize.Problem) {
		rest := []optimize.Goal{optimize.GoalSticks, optimize.GoalLongestOffcut, optimize.GoalCuts, optimize.GoalSplices, optimize.GoalPatterns}
		if len(p.Rules.OffcutValues) > 0 {
			rest = append(rest, optimize.GoalOffcutValue)
		}
		r.Shuffle(len(rest), func(i, j int) { rest[i], rest[j] = rest[j], rest[i] })
		p.Rules.Goals = append([]optimize.Goal{optimize.GoalCost}, rest[:1+r.IntN(len(rest))]...)
	}},
}

// Both returns a random problem with two Features, or with one that is applied twice.
func Both(a, b int, seed uint64) optimize.Problem {
	r := rand.New(rand.NewPCG(uint64(a*1000+b), seed))
	p := Base(r)
	Features[min(a, b)].Add(r, &p)
	if a != b {
		Features[max(a, b)].Add(r, &p)
	}
	Owned(&p)
	return p
}

// Apart are the pairs of rules that cannot be combined.
var Apart = map[[2]string]bool{
	{"nest", "one stick"}: true,
}

// Job returns a plain problem of up to eight pieces.
func Job(r *rand.Rand) optimize.Problem {
	p := optimize.Problem{Kerf: measure.Length(r.IntN(3)) * measure.Inch / 8}
	for range 1 + r.IntN(3) {
		p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(60+r.IntN(100)) * measure.Inch, Price: 1 + r.Int64N(40), Limit: r.IntN(2) * 5})
	}
	for range 1 + r.IntN(4) {
		p.Pieces = append(p.Pieces, stock.Piece{Length: measure.Length(10+r.IntN(50)) * measure.Inch, Quantity: 1 + r.IntN(2)})
	}
	return p
}
