package optimize_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/stock"
)

// laidOut is a pattern on its stick, worked out from the comments on Pattern and on
// Problem.MinRemnant.
type laidOut struct {
	offcut measure.Length
	short  int // pieces that are cut from too short a remnant
	loose  int // cuts of which neither part is as long as Rules.MinHold
}

func layOut(p *optimize.Problem, plan *optimize.Plan, pat *optimize.Pattern) (out laidOut) {
	s := &p.Sticks[pat.Stick]
	piece := func(i int) *stock.Piece {
		if i < len(p.Pieces) {
			return &p.Pieces[i]
		}
		return &plan.Parts[i-len(p.Pieces)]
	}
	type stretch struct{ from, to measure.Length }
	var bays []stretch
	bayOf := func(j int) int { return 0 }
	switch {
	case p.Rules.MaxTransport > 0 && !s.Rack && s.Length > p.Rules.MaxTransport:
		cut := s.Length - p.Kerf - p.Rules.MaxTransport
		at := s.TrimStart
		for _, i := range pat.Pieces[:pat.YardAfter] {
			cut = max(cut, at+piece(i).Length)
			at += piece(i).Length + p.Kerf
		}
		bays = []stretch{{s.TrimStart, cut}, {max(cut+p.Kerf, s.TrimStart), s.Length - s.TrimEnd}}
		bayOf = func(j int) int {
			if j < pat.YardAfter {
				return 0
			}
			return 1
		}
	case len(s.Defects) > 0:
		at := s.TrimStart
		for _, d := range sortedDefects(s) {
			if d.From > at && at < s.Length-s.TrimEnd {
				bays = append(bays, stretch{at, min(d.From, s.Length-s.TrimEnd)})
			}
			at = max(at, d.To)
		}
		if at < s.Length-s.TrimEnd {
			bays = append(bays, stretch{at, s.Length - s.TrimEnd})
		}
		bayOf = func(j int) int { return pat.Stretch[j] }
	default:
		bays = []stretch{{s.TrimStart, s.Length - s.TrimEnd}}
	}
	least := p.MinRemnant
	if least == 0 {
		least = 8 * measure.Inch
	}
	for b, w := range bays {
		at := w.from
		var before *stock.End // the right end of the piece before
		var beforeShape brute.Shape
		for j, i := range pat.Pieces {
			if bayOf(j) != b {
				continue
			}
			pc, t := piece(i), optimize.Turn{}
			if pat.Turned != nil {
				t = pat.Turned[j]
			}
			left, right := pc.Left, pc.Right
			if t == (optimize.Turn{EndForEnd: true}) || t == (optimize.Turn{EndForEnd: true, Rolled: true}) {
				left, right = right, left
			}
			square := func(e stock.End) bool { return e.LongPoint() == "" }
			made := square(left) && (before == nil || square(*before))
			if p.Rules.Nest && before != nil {
				if save := beforeShape.Shared(brute.ShapeOf(left).Turned(t)); save > 0 {
					at -= save
					made = true
				}
			}
			kerf := p.Kerf
			if p.Rules.Nest {
				kerf = right.KerfAlong(kerf)
			}
			remnant := w.to - at
			rest := max(0, remnant-pc.Length-kerf)
			for k := j + 1; k < len(pat.Pieces) && p.Rules.Nest; k++ {
				if bayOf(k) == b { // the rest reaches into the cut that it shares
					u := optimize.Turn{}
					if pat.Turned != nil {
						u = pat.Turned[k]
					}
					l := piece(pat.Pieces[k]).Left
					if u == (optimize.Turn{EndForEnd: true}) || u == (optimize.Turn{EndForEnd: true, Rolled: true}) {
						l = piece(pat.Pieces[k]).Right
					}
					rest += brute.ShapeOf(right).Turned(t).Shared(brute.ShapeOf(l).Turned(u))
					break
				}
			}
			if remnant > pc.Length || !square(right) || !made {
				if remnant < least {
					out.short++
				}
				if max(rest, pc.Length) < p.Rules.MinHold {
					out.loose++
				}
			}
			at += pc.Length + kerf
			before, beforeShape = &right, brute.ShapeOf(right).Turned(t)
		}
		out.offcut = max(out.offcut, w.to-max(at, w.from))
	}
	return out
}

func sortedDefects(s *stock.Stick) []stock.Defect {
	d := slices.Clone(s.Defects)
	slices.SortFunc(d, func(a, b stock.Defect) int { return int(a.From - b.From) })
	return d
}

// permuted calls f with every order of a pattern's pieces, each as it lies, among those of
// its part of the stick.
func permuted(pat optimize.Pattern, f func(optimize.Pattern)) {
	part := func(j int) int {
		switch {
		case pat.Stretch != nil:
			return pat.Stretch[j]
		case j < pat.YardAfter:
			return -1
		}
		return 0
	}
	n := len(pat.Pieces)
	order := make([]int, 0, n)
	var next func()
	next = func() {
		if len(order) == n {
			q := pat
			q.Pieces, q.Turned = nil, nil
			for _, j := range order {
				q.Pieces = append(q.Pieces, pat.Pieces[j])
				if pat.Turned != nil {
					q.Turned = append(q.Turned, pat.Turned[j])
				}
			}
			f(q)
			return
		}
		for j := range n {
			if !slices.Contains(order, j) && part(j) == part(len(order)) {
				order = append(order, j)
				next()
				order = order[:len(order)-1]
			}
		}
	}
	next()
}

// withPattern returns the plan with another pattern in the place of the k-th.
func withPattern(plan *optimize.Plan, k int, pat optimize.Pattern) *optimize.Plan {
	out := *plan
	out.Patterns = slices.Clone(plan.Patterns)
	out.Patterns[k] = pat
	return &out
}

// orderCases returns random problems of all kinds, with ends and a length to ask for.
func orderCases(yield func(string, optimize.Problem) bool) {
	add := func(name string, r *rand.Rand, p optimize.Problem) bool {
		p.MinRemnant = oneOf[measure.Length](r, 1, 6, 10, 14, 20, 30)
		if p.MinRemnant > 1 {
			p.MinRemnant *= u
		}
		if !p.Rules.Nest && r.IntN(2) == 0 {
			for i := range p.Pieces {
				p.Pieces[i].Left, p.Pieces[i].Right = miter(r), miter(r)
			}
		}
		return yield(name, p)
	}
	seeds, each := uint64(160), uint64(2)
	if testing.Short() {
		seeds, each = 40, 1
	}
	for seed := range seeds {
		r := rand.New(rand.NewPCG(seed, 71))
		if !add("plain", r, tinyBase(r)) {
			return
		}
		r = rand.New(rand.NewPCG(seed, 72))
		if !add("nested", r, nestedRuns(r)) {
			return
		}
		r = rand.New(rand.NewPCG(seed, 73))
		if !add("exact", r, exactJob(r)) {
			return
		}
	}
	for a := range features {
		for b := range a + 1 {
			for seed := range each {
				r := rand.New(rand.NewPCG(seed, uint64(100*a+b)))
				if !add(features[b].Name+" and "+features[a].Name, r, bothAdded(a, b, 50+seed)) {
					return
				}
			}
		}
	}
}

// exactJob returns a job of short pieces, some of which fill a stick to its end.
func exactJob(r *rand.Rand) optimize.Problem {
	p := optimize.Problem{Kerf: oneOf[measure.Length](r, 0, u), Rules: optimize.Rules{Nest: r.IntN(2) == 0, MinHold: oneOf[measure.Length](r, 0, 0, 4*u)}}
	sum := -p.Kerf
	for range 2 + r.IntN(4) {
		pc := stock.Piece{Length: measure.Length(4+r.IntN(5)) * u, Left: miter(r), Right: miter(r), Symmetry: stock.Symmetry(r.IntN(3))}
		p.Pieces = append(p.Pieces, pc)
		sum += pc.Length + p.Kerf
		if p.Rules.Nest {
			sum -= oneOf(r, 0, pc.Left.Setback)
		}
	}
	p.Sticks = []stock.Stick{{Length: max(sum, u)}, {Length: 40 * u}}
	if len(p.Pieces) > 2 && r.IntN(4) == 0 {
		p.Rules.Groups = []optimize.Group{{Kind: optimize.GroupInSequence, Pieces: []int{1, 0}}}
	}
	return p
}

// TestNoOrderIsBetter tries every order of the pieces of each pattern.
func TestNoOrderIsBetter(t *testing.T) {
	tried, short, avoided := 0, 0, 0
	for name, p := range orderCases {
		plan, err := optimize.Solve(context.Background(), p, nil)
		if errors.As(err, new(*measure.FieldError)) || errors.As(err, new(*optimize.InfeasibleError)) {
			continue
		}
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, written(&p))
		}
		for k, pat := range plan.Patterns {
			have := layOut(&p, plan, &pat)
			if have.offcut != pat.Offcut {
				t.Fatalf("%s: %+v leaves %v\n%s", name, pat, have.offcut, written(&p))
			}
			short += have.short
			if len(pat.Pieces) > 6 {
				continue
			}
			permuted(pat, func(q optimize.Pattern) {
				tried++
				so := layOut(&p, plan, &q)
				if so.offcut < have.offcut {
					return
				}
				if so == have && (p.Rules.Nest || len(p.Rules.Groups) > 0) {
					return
				}
				better := so.loose < have.loose || so.loose == have.loose && so.short < have.short ||
					so.loose == have.loose && so.short == have.short && slices.Compare(lengths(&p, plan, &q), lengths(&p, plan, &pat)) < 0
				if so.short > have.short {
					avoided++
				}
				if so.offcut == have.offcut && !better {
					return
				}
				if _, err := optimize.AuditWithin(p, withPattern(plan, k, q), 0); err == nil || so.offcut > have.offcut && legalApart(p, withPattern(plan, k, q), so.offcut, k) {
					t.Fatalf("%s: %+v, %+v, is worse than %+v, %+v\n%s", name, pat, have, q, so, written(&p))
				}
			})
		}
	}
	if !testing.Short() && (tried < 5000 || short < 50 || avoided < 50) {
		t.Errorf("only %d orders tried, %d of them worse, %d short remnants left", tried, avoided, short)
	}
}

// legalApart reports whether Check would accept an order that leaves more.
func legalApart(p optimize.Problem, plan *optimize.Plan, offcut measure.Length, k int) bool {
	plan.Patterns[k].Offcut = offcut
	_, err := optimize.AuditWithin(p, plan, 0)
	return err == nil
}

func lengths(p *optimize.Problem, plan *optimize.Plan, pat *optimize.Pattern) (out []measure.Length) {
	for _, i := range pat.Pieces {
		if i < len(p.Pieces) {
			out = append(out, p.Pieces[i].Length)
		} else {
			out = append(out, plan.Parts[i-len(p.Pieces)].Length)
		}
	}
	return out
}

// TestTurnedOnlyWhereNeeded lays turned pieces as given, each by itself and all of a
// pattern.
func TestTurnedOnlyWhereNeeded(t *testing.T) {
	turned := 0
	for name, p := range orderCases {
		p.Rules.Goals, p.Rules.OffcutValues = nil, nil
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			continue
		}
		longest := func(plan *optimize.Plan) (l measure.Length) {
			for k := range plan.Patterns {
				l = max(l, plan.Patterns[k].Offcut)
			}
			return l
		}
		for k, pat := range plan.Patterns {
			try := func(turns []optimize.Turn) {
				q := pat
				if q.Turned = turns; !slices.ContainsFunc(turns, func(u optimize.Turn) bool { return u != (optimize.Turn{}) }) {
					q.Turned = nil
				}
				so, have := layOut(&p, plan, &q), layOut(&p, plan, &pat)
				q.Offcut = so.offcut
				now := withPattern(plan, k, q)
				if so.short > have.short || so.loose > have.loose {
					return // turned to keep hands off the blade
				}
				if _, err := optimize.AuditWithin(p, now, 0); err == nil && longest(now) >= longest(plan) {
					t.Fatalf("%s: %+v need not be turned: %+v\n%s", name, pat, q, written(&p))
				}
			}
			if pat.Turned == nil {
				continue
			}
			for j, was := range pat.Turned {
				if was == (optimize.Turn{}) {
					continue
				}
				turned++
				turns := slices.Clone(pat.Turned)
				turns[j] = optimize.Turn{}
				try(turns)
			}
			try(make([]optimize.Turn, len(pat.Turned)))
		}
	}
	if !testing.Short() && turned < 30 {
		t.Errorf("only %d pieces are turned", turned)
	}
}

// TestTurnedWhereSafer tries the pieces of patterns with too short a remnant in every order and every
// turn: none leaves as much without the turns.
func TestTurnedWhereSafer(t *testing.T) {
	tried := 0
	seeds := uint64(1500)
	if testing.Short() {
		seeds = 500
	}
	for seed := range seeds {
		r := rand.New(rand.NewPCG(seed, 74))
		p := exactJob(r)
		p.Rules.Nest = true
		p.MinRemnant = measure.Length(8+r.IntN(8)) * u
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			continue
		}
		for k, pat := range plan.Patterns {
			have := layOut(&p, plan, &pat)
			if have.short == 0 || len(pat.Pieces) > 4 {
				continue
			}
			turns := make([]optimize.Turn, len(pat.Pieces))
			var try func(j int)
			try = func(j int) {
				if j < len(turns) {
					for n := range 4 {
						turns[j] = optimize.Turn{EndForEnd: n&1 > 0, Rolled: n&2 > 0}
						try(j + 1)
					}
					return
				}
				all := pat
				all.Turned = turns
				permuted(all, func(q optimize.Pattern) {
					tried++
					so := layOut(&p, plan, &q)
					if so.offcut != have.offcut || so.short > 0 || so.loose > have.loose {
						return
					}
					if _, err := optimize.AuditWithin(p, withPattern(plan, k, q), 0); err == nil {
						t.Fatalf("seed %d: %+v, %+v, is worse than %+v, %+v\n%s", seed, pat, have, q, so, written(&p))
					}
				})
			}
			try(0)
		}
	}
	if tried < 5000 {
		t.Errorf("only %d ways tried", tried)
	}
}
