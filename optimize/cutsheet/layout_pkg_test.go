package cutsheet

import (
	"bytes"
	"context"
	"flag"
	"io"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

var layouts = flag.Int("layouts", 5, "random problems for each pair of rules in TestLayout")

// spots is the layout of a stick in these tests: positions of pieces and the rest.
type spots struct {
	at   []stock.Defect
	left []stock.Defect // one for each stretch or part, empty where nothing is
	yard stock.Defect
}

// face is an end as a plane: long at one of the two sides of one of two axes.
type face struct {
	stock.End
	axis, side int // axis 0 none, 1 back (+1) and face (-1), 2 outer (+1) and inner edge (-1)
	right      bool
}

// faces turns a piece as a body in space: its length points along x, its back along y,
// its outer edge along z, and a turn is a half turn about one of the three.
func faces(pc *stock.Piece, t optimize.Turn) (left, right face) {
	x, y, z := 1, 1, 1
	switch t {
	case optimize.Turn{EndForEnd: true}: // about y
		x, z = -1, -1
	case optimize.Turn{Rolled: true}: // about x
		y, z = -1, -1
	case optimize.Turn{EndForEnd: true, Rolled: true}: // about z
		x, y = -1, -1
	}
	of := func(e stock.End, right bool) face {
		f := face{End: e, right: right != (x < 0)}
		switch e.LongPoint() {
		case "back":
			f.axis, f.side = 1, y
		case "face":
			f.axis, f.side = 1, -y
		case "outer edge", "upper edge":
			f.axis, f.side = 2, z
		case "lower edge":
			f.axis, f.side = 2, -z
		}
		return f
	}
	left, right = of(pc.Left, false), of(pc.Right, true)
	if left.right {
		return right, left
	}
	return left, right
}

// laid lays out a pattern as optimize.Check adds it up: each piece after the length of those before.
func laid(p *optimize.Problem, plan *optimize.Plan, pat *optimize.Pattern) spots {
	st := &p.Sticks[pat.Stick]
	pieces := append(slices.Clone(p.Pieces), plan.Parts...)
	turn := func(j int) optimize.Turn {
		if pat.Turned == nil {
			return optimize.Turn{}
		}
		return pat.Turned[j]
	}
	var s spots
	// lay returns the length of pieces a..b-1 from start on, including a kerf after the last.
	lay := func(a, b int, start measure.Length) (used measure.Length) {
		for j := a; j < b; j++ {
			pc := &pieces[pat.Pieces[j]]
			l, r := faces(pc, turn(j))
			kerf := p.Kerf
			if p.Rules.Nest {
				kerf = r.KerfAlong(p.Kerf)
				if j > a {
					_, before := faces(&pieces[pat.Pieces[j-1]], turn(j-1))
					if l.Setback > 0 && l.Setback == before.Setback && l.axis > 0 && l.axis == before.axis && l.side == -before.side &&
						l.KerfAlong(measure.Foot) == before.KerfAlong(measure.Foot) {
						used -= l.Setback
					}
				}
			}
			s.at = append(s.at, stock.Defect{From: start + used, To: start + used + pc.Length})
			used += pc.Length + kerf
		}
		return used
	}
	rest := func(from, to measure.Length) {
		s.left = append(s.left, stock.Defect{From: min(from, to), To: to})
	}
	n := len(pat.Pieces)
	if t := p.Rules.MaxTransport; t > 0 && !st.Rack && st.Length > t {
		first := lay(0, pat.YardAfter, st.TrimStart)
		cut := max(st.TrimStart, st.Length-p.Kerf-t, st.TrimStart+first-p.Kerf*min(1, measure.Length(pat.YardAfter)))
		s.yard = stock.Defect{From: cut, To: cut + p.Kerf}
		rest(st.TrimStart+first, cut)
		second := lay(pat.YardAfter, n, cut+p.Kerf)
		rest(cut+p.Kerf+second, max(st.Length-st.TrimEnd, cut+p.Kerf))
		return s
	}
	// Every tick outside defects and trims is in a clear stretch; the test walks over the ends of the
	// unusable stretches.
	bad := append(slices.Clone(st.Defects), stock.Defect{From: 0, To: st.TrimStart}, stock.Defect{From: st.Length - st.TrimEnd, To: st.Length})
	in := func(x measure.Length) bool {
		return slices.ContainsFunc(bad, func(b stock.Defect) bool { return b.From <= x && x < b.To })
	}
	edges := []measure.Length{0, st.Length}
	for _, b := range bad {
		edges = append(edges, b.From, b.To)
	}
	slices.Sort(edges)
	j, stretch, start := 0, 0, measure.Length(-1)
	for _, x := range edges {
		switch clear := x < st.Length && !in(x); {
		case clear && start < 0:
			start = x
		case !clear && start >= 0:
			end := j
			for end < n && (pat.Stretch == nil || pat.Stretch[end] == stretch) {
				end++
			}
			rest(start+lay(j, end, start), x)
			j, stretch, start = end, stretch+1, -1
		}
	}
	return s
}

const u = measure.Inch / 64

// layoutRules add one rule to a random problem.
var layoutRules = []func(r *rand.Rand, p *optimize.Problem){
	func(r *rand.Rand, p *optimize.Problem) { // nothing
	},
	func(r *rand.Rand, p *optimize.Problem) { // nesting
		p.Rules.Nest = true
		end := func() stock.End {
			return []stock.End{
				{}, {Kind: stock.EndInsideMiter, Setback: 3 * u}, {Kind: stock.EndOutsideMiter, Setback: 3 * u}, {Kind: stock.EndFlatMiter, Setback: 3 * u},
				{Kind: stock.EndCope, Angle: 120 * measure.Degree, Setback: 2 * u}, {Kind: stock.EndScarfOver, Setback: 3 * u},
				{Kind: stock.EndRake, Angle: 45 * measure.Degree, Setback: 3 * u}, {Kind: stock.EndPlumb, Angle: -45 * measure.Degree, Setback: 3 * u},
			}[r.IntN(8)]
		}
		if r.IntN(2) == 0 {
			same := end()
			end = func() stock.End { return same }
		}
		for i := range p.Pieces {
			pc := &p.Pieces[i]
			pc.Left, pc.Right, pc.Symmetry = end(), end(), stock.Symmetry(r.IntN(3))
		}
		for i := range p.Runs {
			p.Runs[i].Left, p.Runs[i].Right = end(), end()
		}
	},
	func(r *rand.Rand, p *optimize.Problem) { // runs
		for range 1 + r.IntN(2) {
			run := stock.Run{Label: string(rune('a' + len(p.Runs))), Length: measure.Length(20+r.IntN(50)) * u}
			sp := &run.Splice
			sp.MinPart = 6 * u // longer than any setback
			sp.Overlap, sp.Price, sp.RightOver = measure.Length(r.IntN(4)-1)*u, int64(r.IntN(3)), r.IntN(2) == 1
			if sp.Overlap != 0 && r.IntN(2) == 0 {
				sp.Bevel = 45 * measure.Degree
			}
			for x := measure.Length(5 + r.IntN(6)); x*u < run.Length && len(sp.At) < 4; x += 5 + measure.Length(r.IntN(9)) {
				sp.At = append(sp.At, x*u)
			}
			p.Runs = append(p.Runs, run)
		}
	},
	func(r *rand.Rand, p *optimize.Problem) { // defects
		st := &p.Sticks[r.IntN(len(p.Sticks))]
		st.Limit = 1 + r.IntN(3)
		for range 1 + r.IntN(3) {
			from := measure.Length(r.IntN(int(st.Length/u) - 1))
			st.Defects = append(st.Defects, stock.Defect{From: from * u, To: min(from+1+measure.Length(r.IntN(5)), st.Length/u) * u})
		}
		p.Sticks = append(p.Sticks, stock.Stick{Length: 55 * u, Price: 60})
	},
	func(r *rand.Rand, p *optimize.Problem) { // transport
		p.Rules.MaxTransport, p.Rules.YardCut = measure.Length(24+r.IntN(24))*u, int64(r.IntN(4))
	},
	func(r *rand.Rand, p *optimize.Problem) { // selling
		st := &p.Sticks[0]
		st.Bundle, st.Minimum, st.Supplier = r.IntN(4), r.IntN(4), "M"
		st.Breaks = []stock.PriceBreak{{From: 2 + r.IntN(4), Price: int64(r.IntN(9))}}
		p.Rules.Charges = []optimize.Charge{{Supplier: "M", Amount: int64(r.IntN(9))}}
		p.Sticks[len(p.Sticks)-1].Rack = r.IntN(2) == 0
		p.Rules.Spare = r.IntN(3)
	},
	func(r *rand.Rand, p *optimize.Problem) { // goals
		p.Rules.OffcutValues = []optimize.OffcutValue{{Length: 6 * u, Value: 2}, {Length: 12 * u, Value: 5}}
		p.Rules.Goals = []optimize.Goal{optimize.GoalCost, optimize.GoalSticks, optimize.GoalPatterns}
		if p.Rules.MaxTransport == 0 && !slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return len(s.Defects) > 0 }) {
			p.Rules.Goals = append(p.Rules.Goals, optimize.GoalOffcutValue, optimize.GoalLongestOffcut, optimize.GoalCuts)
		}
	},
	func(r *rand.Rand, p *optimize.Problem) { // groups
		kind := optimize.GroupKind(r.IntN(3))
		if p.Rules.Nest {
			kind = optimize.GroupInSequence
		}
		p.Pieces[0].Quantity, p.Pieces[1].Quantity = 1, 1
		p.Rules.Groups = []optimize.Group{{Kind: kind, Pieces: []int{1, 0}}}
		p.Rules.MaxPieces = 2 + r.IntN(3)
	},
}

// ruledProblem returns a random problem with two kinds of rules.
func ruledProblem(r *rand.Rand, a, b int) optimize.Problem {
	p := optimize.Problem{Kerf: measure.Length(r.IntN(3)) * u}
	for range 1 + r.IntN(3) {
		st := stock.Stick{Length: measure.Length(30+r.IntN(30)) * u, Price: int64(1 + r.IntN(12))}
		if r.IntN(3) == 0 {
			st.TrimStart, st.TrimEnd = measure.Length(r.IntN(3))*u, measure.Length(r.IntN(3))*u
		}
		p.Sticks = append(p.Sticks, st)
	}
	labeled := r.IntN(2) == 0
	for i := range 2 + r.IntN(3) {
		pc := stock.Piece{Length: measure.Length(8+r.IntN(16)) * u, Quantity: r.IntN(4)}
		if labeled {
			pc.Label = strings.Repeat(string(rune('k'+i)), 1+r.IntN(40))
		}
		p.Pieces = append(p.Pieces, pc)
	}
	layoutRules[max(a, b)](r, &p)
	if a != b {
		layoutRules[min(a, b)](r, &p)
	}
	return p
}

// TestLayout lays the plans of random problems with each rule and each pair of rules:
// as Check adds them up, and as saw and wood allow.
func TestLayout(t *testing.T) {
	sound, seen := 0, map[string]int{}
	for a := range layoutRules {
		for b := range a + 1 {
			for seed := range *layouts {
				p := ruledProblem(rand.New(rand.NewPCG(uint64(100*a+b), uint64(seed))), a, b)
				plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 300_000})
				if err != nil {
					continue // no plan; that there should be one is the business of others
				}
				s, err := New(context.Background(), p, plan, nil)
				if err != nil {
					t.Fatalf("%v\n%+v\n%+v", err, p, plan)
				}
				sound++
				for k := range s.patterns {
					checkLayout(t, s, &s.patterns[k], seen)
				}
				for _, write := range []func(io.Writer) error{s.WriteText, s.WriteHTML, s.WriteSVG, s.WriteCSV} {
					if err := write(io.Discard); err != nil {
						t.Error(err)
					}
				}
				checkJSON(t, s)
				checkBill(t, s)
				checkDrawing(t, s)
				if bars := textBars(s); bars != "" {
					t.Error(bars)
				}
				if t.Failed() {
					t.Fatalf("rules %d and %d, seed %d\n%+v\n%+v", a, b, seed, p, plan)
				}
			}
		}
	}
	if sound < 15*len(layoutRules) {
		t.Errorf("only %d problems have a plan", sound)
	}
	for _, what := range []string{"shared", "turned", "stretches", "yard", "parts"} {
		if seen[what] < 10 {
			t.Errorf("%s: seen %d times", what, seen[what])
		}
	}
}

func checkLayout(t *testing.T, s *Sheet, p *pattern, seen map[string]int) {
	t.Helper()
	want := laid(&s.problem, s.plan, p.Pattern)
	if len(want.at) != len(p.layout.pieces) || p.yard != want.yard {
		t.Errorf("pattern %s: %d pieces and yard cut %v, want %d and %v", p.key, len(p.layout.pieces), p.yard, len(want.at), want.yard)
		return
	}
	for j, w := range want.at {
		l := &p.layout.pieces[j]
		if l.from != w.From || l.to != w.To {
			t.Errorf("pattern %s: piece %d lies from %v to %v, want %v", p.key, j, l.from, l.to, w)
		}
		if l.shared {
			seen["shared"]++
		}
		if l.turn != (optimize.Turn{}) {
			seen["turned"]++
		}
		if p.Pieces[j] >= len(s.problem.Pieces) {
			seen["parts"]++
		}
	}
	if len(p.bays) != len(want.left) {
		t.Errorf("pattern %s: %d bays, want %d", p.key, len(p.bays), len(want.left))
		return
	}
	if p.yard.To > 0 {
		seen["yard"]++
	} else if len(p.bays) > 1 {
		seen["stretches"]++
	}
	var longest measure.Length
	for n := range p.bays {
		b := &p.bays[n]
		if o := want.left[n]; width(b.offcut) != width(o) || width(o) > 0 && b.offcut != o {
			t.Errorf("pattern %s: bay %d leaves %v, want %v", p.key, n, b.offcut, o)
		}
		longest = max(longest, width(b.offcut))
		for j := b.first; j < b.end; j++ {
			l := &p.layout.pieces[j]
			if l.from < b.From || l.to > b.To {
				t.Errorf("pattern %s: piece %d from %v to %v is outside of its bay %v", p.key, j, l.from, l.to, b.Defect)
			}
			if j == b.first {
				continue
			}
			// Wood: at neither edge are neighbors closer than the cut is wide.
			before := &p.layout.pieces[j-1]
			for _, up := range []bool{true, false} {
				to, from := before.to, l.from
				if upward(before.right) != up {
					to -= before.right.Setback
				}
				if upward(l.left) != up {
					from += l.left.Setback
				}
				if before.right.Setback < 0 || l.left.Setback < 0 { // an open joint
					continue
				}
				if from-to < before.cut {
					t.Errorf("pattern %s: the gap between pieces %d and %d is %v, the cut takes %v", p.key, j-1, j, from-to, before.cut)
				}
				if l.shared && from-to != before.cut {
					t.Errorf("pattern %s: pieces %d and %d share a cut of %v but are %v apart", p.key, j-1, j, before.cut, from-to)
				}
			}
		}
	}
	// Check has verified Offcut.
	if longest != p.Offcut {
		t.Errorf("pattern %s: the longest offcut is %v, the plan has %v", p.key, longest, p.Offcut)
	}
}

// checkBill adds up the printed amounts.
func checkBill(t *testing.T, s *Sheet) {
	t.Helper()
	if !s.priced() {
		if len(s.bill) > 0 {
			t.Errorf("a bill of %v without prices", s.bill)
		}
		return
	}
	sum := s.toBuy()
	for _, c := range s.bill {
		sum += c.amount
		if c.count > 0 && c.count*c.each != c.amount {
			t.Errorf("%d at %d are not %d", c.count, c.each, c.amount)
		}
	}
	if sum != s.plan.Cost {
		t.Errorf("the bill adds up to %d, the cost is %d", sum, s.plan.Cost)
	}
}

// checkJSON reads back the written sheet: it is written again as the same bytes.
func checkJSON(t *testing.T, s *Sheet) {
	t.Helper()
	var first, second bytes.Buffer
	if err := s.WriteJSON(&first); err != nil {
		t.Error(err)
		return
	}
	p, plan, o, err := ReadJSON(bytes.NewReader(first.Bytes()))
	if err != nil {
		t.Error(err)
		return
	}
	again, err := New(context.Background(), p, plan, o)
	if err != nil {
		t.Error(err)
		return
	}
	if err := again.WriteJSON(&second); err != nil || !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Errorf("error %v, or different bytes:\n%s\n%s", err, first.Bytes(), second.Bytes())
	}
	if !reflect.DeepEqual(s.problem, again.problem) || !reflect.DeepEqual(s.plan, again.plan) {
		t.Errorf("%+v\n%+v\nis read back as\n%+v\n%+v", s.problem, s.plan, again.problem, again.plan)
	}
}
