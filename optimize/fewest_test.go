package optimize_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// fewestOfAll puts every piece on every stick that it fits, and returns the least number of different
// patterns, 0 if there is no plan. Each stick has its own usable length and no limit.
func fewestOfAll(p *optimize.Problem) int {
	var pieces []measure.Length
	for i := range p.Pieces {
		for range max(1, p.Pieces[i].Quantity) {
			pieces = append(pieces, p.Pieces[i].Length)
		}
	}
	type bin struct {
		stick int
		on    []measure.Length // sorted, since pieces come in order
		left  measure.Length
	}
	slices.Sort(pieces)
	best := 0
	var bins []bin
	var rec func(k int)
	rec = func(k int) {
		if k == len(pieces) {
			ways := map[string]bool{}
			for _, b := range bins {
				ways[fmt.Sprint(b.stick, b.on)] = true
			}
			if best == 0 || len(ways) < best {
				best = len(ways)
			}
			return
		}
		l := pieces[k] + p.Kerf
		for i := range bins {
			b := bins[i]
			if l <= b.left && (p.Rules.MaxPieces == 0 || len(b.on) < p.Rules.MaxPieces) {
				bins[i] = bin{b.stick, append(slices.Clone(b.on), pieces[k]), b.left - l}
				rec(k + 1)
				bins[i] = b
			}
		}
		for s := range p.Sticks {
			if left := p.Sticks[s].Length + p.Kerf - l; left >= 0 {
				bins = append(bins, bin{s, []measure.Length{pieces[k]}, left})
				rec(k + 1)
				bins = bins[:len(bins)-1]
			}
		}
	}
	rec(0)
	return best
}

// The bound on patterns against every way to cut problems of up to seven pieces: never
// above the least number, and often equal to it.
func TestFewestPatternsBound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 9))
	met, beyondOne, solved := 0, 0, 0
	for range 200 {
		p := optimize.Problem{Kerf: measure.Length(r.IntN(3)) * u}
		p.Sticks = append(p.Sticks, stock.Stick{Length: measure.Length(20+r.IntN(20)) * u})
		if r.IntN(3) == 0 {
			p.Sticks = append(p.Sticks, stock.Stick{Length: p.Sticks[0].Length - 7*u})
		}
		if r.IntN(3) == 0 {
			p.Rules.MaxPieces = 1 + r.IntN(3)
		}
		for n := 0; n < 5; {
			pc := stock.Piece{Length: measure.Length(3+r.IntN(17)) * u, Quantity: 1 + r.IntN(3)}
			p.Pieces = append(p.Pieces, pc)
			n += pc.Quantity
		}
		least := fewestOfAll(&p)
		if least == 0 {
			continue
		}
		solved++
		bound := int(optimize.PatternsBound(&p))
		if bound > least || bound < 1 {
			t.Fatalf("bound %d, but a plan has %d\n%s", bound, least, written(&p))
		}
		if least > 1 {
			beyondOne++
			if bound == least {
				met++
			}
		}
	}
	if solved < 160 || beyondOne < 100 || met < beyondOne*2/3 {
		t.Errorf("%d solved, %d with two patterns or more, %d of those met by the bound", solved, beyondOne, met)
	}
}

// With whatever rules no plan has fewer patterns than the bound, and a goal that comes
// after GoalPatterns takes no more of them.
func TestFewestPatternsWithRules(t *testing.T) {
	proven := 0
	for a := range features {
		if features[a].Name == "goals" || features[a].Name == "worth" {
			continue
		}
		for seed := range uint64(12) {
			r := rand.New(rand.NewPCG(uint64(a), seed))
			p := tinyBase(r)
			features[a].Add(r, &p)
			p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalPatterns}
			plan, err := optimize.Solve(context.Background(), p, nil)
			if err != nil {
				continue
			}
			l := plan.Goals[1]
			if b := optimize.PatternsBound(&p); b > l.Value || b != l.Bound || l.Proven != (plan.Proven && b == l.Value) {
				t.Fatalf("bound %d, %+v\n%+v\n%s", b, l, plan, written(&p))
			}
			if l.Proven && l.Value > 1 {
				proven++
			}
			later := []optimize.Goal{optimize.GoalSticks}
			if p.Rules.MaxTransport == 0 {
				later = append(later, oneOf(r, optimize.GoalCuts, optimize.GoalLongestOffcut))
			}
			p.Rules.Goals = append(p.Rules.Goals, later...)
			more, err := optimize.Solve(context.Background(), p, nil)
			if err != nil {
				t.Fatalf("%v\n%s", err, written(&p))
			}
			if more.Goals[0].Value != plan.Cost || more.Goals[1].Value > l.Value {
				t.Fatalf("%+v, with more goals %+v\n%s", plan.Goals, more.Goals, written(&p))
			}
			if err := optimize.Check(context.Background(), p, more); err != nil {
				t.Fatalf("%v\n%s", err, written(&p))
			}
		}
	}
	if proven < 50 {
		t.Errorf("only %d proven with two patterns or more", proven)
	}
}

// Bounds by hand.
func TestFewestPatternsByHand(t *testing.T) {
	for _, tt := range []struct {
		name   string
		pieces string
		rules  optimize.Rules
		runs   []stock.Run
		want   int64
	}{
		{"one of each: a pattern a stick", "60, 55, 52, 45, 30", optimize.Rules{}, nil, 3},
		{"three sticks alike", "60x3, 40x3", optimize.Rules{}, nil, 1},
		{"no common divisor leaves a pattern that fits", "30x4, 40x3", optimize.Rules{}, nil, 2},
		{"a hundred long ones beside few", "60x100, 55, 54", optimize.Rules{}, nil, 3},
		{"two pieces a stick", "20x6, 15x6, 10x6, 5x6", optimize.Rules{MaxPieces: 2}, nil, 2},
		{"lengths of runs are not known", "60, 55, 52, 45, 30", optimize.Rules{},
			[]stock.Run{{Length: 90 * measure.Millimeter}}, 3},
		{"so quantities show nothing", "30x4, 40x3", optimize.Rules{}, []stock.Run{{Length: 90 * measure.Millimeter}}, 1},
	} {
		p := optimize.Problem{
			Sticks: []stock.Stick{{Length: 100 * measure.Millimeter, Price: 1}},
			Pieces: list(t, measure.Millimeter, tt.pieces), Rules: tt.rules, Runs: tt.runs,
		}
		if got := optimize.PatternsBound(&p); got != tt.want {
			t.Errorf("%s: %d, want %d", tt.name, got, tt.want)
		}
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalPatterns}
		plan := mustSolve(t, p)
		if l := plan.Goals[1]; l.Value < tt.want || len(tt.runs) == 0 && (l.Value != tt.want || !l.Proven) {
			t.Errorf("%s: %+v", tt.name, l)
		}
	}
	// Values out of range prove nothing, and do no harm.
	huge := optimize.Problem{Sticks: []stock.Stick{{Length: 1 << 62}}, Pieces: []stock.Piece{{Length: 1 << 62}}}
	if got := optimize.PatternsBound(&huge); got != 1 {
		t.Errorf("out of range: %d", got)
	}
}
