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

// Check against the rules as their comments state them: random plans, most of which break one, for
// random problems without runs and goals. Check accepts exactly the plans that keep every rule.
func TestCheckAgainstRulesBrute(t *testing.T) {
	taken, refused := 0, 0
	for seed := range uint64(500 * *bruteCases) {
		r := rand.New(rand.NewPCG(seed, 311))
		p := tinyBase(r)
		chosen := r.Perm(len(features))[:r.IntN(6)]
		slices.Sort(chosen)
		for _, k := range chosen {
			if features[k].Name != "runs" {
				features[k].Add(r, &p)
			}
		}
		p.Rules.Goals = nil
		if r.IntN(4) == 0 {
			rescale(&p, r)
		}
		for range 4 {
			d := dealt{p: &p, r: r}
			ok := d.plan()
			err := optimize.Check(context.Background(), p, &d.out)
			if errors.As(err, new(*measure.FieldError)) {
				break
			}
			if ok != (err == nil) {
				t.Fatalf("seed %d: %q by the rules, but Check returns %v\n%+v\n%s", seed, d.why, err, d.out, written(&p))
			}
			if ok {
				taken++
			} else {
				refused++
			}
		}
	}
	t.Logf("%d plans taken, %d refused", taken, refused)
	if taken < 50**bruteCases || refused < 50**bruteCases {
		t.Error("the test shows little")
	}
}

// dealt is a random plan in the making.
type dealt struct {
	p   *optimize.Problem
	r   *rand.Rand
	out optimize.Plan
	why string // the first rule that it breaks
}

func (d *dealt) fault(why string) {
	if d.why == "" {
		d.why = why
	}
}

// plan deals all pieces to sticks at random and reports whether the result keeps every rule.
func (d *dealt) plan() bool {
	p, r := d.p, d.r
	var all []int
	for i := range p.Pieces {
		for range max(1, p.Pieces[i].Quantity) {
			all = append(all, i)
		}
	}
	if r.IntN(3) > 0 {
		r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	}
	for len(all) > 0 {
		n := 1 + r.IntN(min(len(all), 4))
		pat := optimize.Pattern{Stick: r.IntN(len(p.Sticks)), Count: 1, Pieces: slices.Clone(all[:n])}
		all = all[n:]
		if p.Rules.Nest && r.IntN(3) > 0 {
			for range pat.Pieces {
				pat.Turned = append(pat.Turned, anyTurn(r))
			}
		}
		d.lay(&pat)
		d.out.Patterns = append(d.out.Patterns, pat)
	}
	d.supply()
	return d.why == ""
}

func (d *dealt) yard(s *stock.Stick) bool {
	return d.p.Rules.MaxTransport > 0 && !s.Rack && s.Length > d.p.Rules.MaxTransport
}

// lay computes the length that a pattern takes and leaves.
func (d *dealt) lay(pat *optimize.Pattern) {
	p, r := d.p, d.r
	s := &p.Sticks[pat.Stick]
	for j, i := range pat.Pieces {
		if p.Pieces[i].Grade > s.Grade {
			d.fault("grade")
		}
		if pat.Turned == nil {
			continue
		}
		switch sym := p.Pieces[i].Symmetry; pat.Turned[j] {
		case optimize.Turn{EndForEnd: true}:
			if sym == stock.SymmetryNone {
				d.fault("turn")
			}
		case optimize.Turn{Rolled: true}, optimize.Turn{EndForEnd: true, Rolled: true}:
			if sym != stock.SymmetryAll {
				d.fault("turn")
			}
		}
	}
	n := len(pat.Pieces)
	if d.yard(s) {
		if s.Length-p.Kerf > 2*p.Rules.MaxTransport {
			d.fault("two cuts in the yard")
		}
		if p.Rules.MaxPieces > 0 && n > p.Rules.MaxPieces {
			d.fault("most pieces")
		}
		pat.YardAfter = r.IntN(n + 1)
		end := s.Length - s.TrimEnd
		one := d.used(pat, 0, pat.YardAfter)
		cut := s.Length - p.Kerf - p.Rules.MaxTransport
		if pat.YardAfter > 0 {
			cut = max(cut, s.TrimStart+one-p.Kerf)
			if s.TrimStart+one-p.Kerf > end {
				d.fault("too long before the yard's cut")
			}
		}
		if cut > p.Rules.MaxTransport {
			d.fault("not to be carried")
		}
		from := max(cut+p.Kerf, s.TrimStart)
		left := d.stretch(pat, 0, pat.YardAfter, min(cut, end)-s.TrimStart, s.TrimStart == 0)
		right := d.stretch(pat, pat.YardAfter, n, end-from, s.TrimEnd == 0 && from == cut+p.Kerf)
		pat.Offcut = max(left, right)
		return
	}
	if p.Rules.MaxTransport == 0 && r.IntN(50) == 0 {
		pat.YardAfter = 1
		d.fault("no yard")
	}
	widths := brute.ClearOf(s)
	from := 0
	for k, w := range widths {
		to := n
		if len(s.Defects) > 0 {
			if to = from + r.IntN(n-from+1); k == len(widths)-1 {
				to = n
			}
			for range to - from {
				pat.Stretch = append(pat.Stretch, k)
			}
		}
		pat.Offcut = max(pat.Offcut, d.stretch(pat, from, to, w, w == s.Length))
		from = to
	}
}

// used is the length of pieces side by side, including the cut at the right end of each.
func (d *dealt) used(pat *optimize.Pattern, from, to int) (sum measure.Length) {
	var before brute.Shape
	for j := from; j < to; j++ {
		pc := &d.p.Pieces[pat.Pieces[j]]
		if !d.p.Rules.Nest {
			sum += pc.Length + d.p.Kerf
			continue
		}
		t := optimize.Turn{}
		if pat.Turned != nil {
			t = pat.Turned[j]
		}
		left, right := pc.Left, pc.Right
		if t == (optimize.Turn{EndForEnd: true}) || t == (optimize.Turn{EndForEnd: true, Rolled: true}) {
			left, right = right, left
		}
		sum += pc.Length + right.KerfAlong(d.p.Kerf)
		if j > from {
			sum -= before.Shared(brute.ShapeOf(left).Turned(t))
		}
		before = brute.ShapeOf(right).Turned(t)
	}
	return sum
}

// stretch lays pieces in a row on a width and returns the rest; entire means that the stretch was made
// by nothing but the yard's cut.
func (d *dealt) stretch(pat *optimize.Pattern, from, to int, width measure.Length, entire bool) measure.Length {
	p := d.p
	if from == to {
		return max(0, width)
	}
	row := pat.Pieces[from:to]
	used := d.used(pat, from, to)
	if used > width+p.Kerf {
		d.fault("too long")
	}
	left := max(0, width-used)
	if m := p.Rules.MaxPieces; m > 0 && len(row) > m {
		d.fault("most pieces")
	}
	held := left >= p.Rules.MinHold || entire && len(row) == 1 && used == width+p.Kerf && brute.SquareEnds(&p.Pieces[row[0]])
	for _, i := range row {
		held = held || p.Pieces[i].Length >= p.Rules.MinHold
	}
	if !held {
		d.fault("hold")
	}
	for _, g := range p.Rules.Groups {
		if g.Kind == optimize.GroupOneLot {
			continue
		}
		count := make([]int, len(g.Pieces))
		for j, i := range row {
			at := slices.Index(g.Pieces, i)
			if at < 0 {
				continue
			}
			count[at]++
			if g.Kind != optimize.GroupInSequence {
				continue
			}
			if at > 0 && (j == 0 || row[j-1] != g.Pieces[at-1]) || at < len(g.Pieces)-1 && (j == len(row)-1 || row[j+1] != g.Pieces[at+1]) {
				d.fault("sequence")
			}
			if pat.Turned != nil && pat.Turned[from+j] != (optimize.Turn{}) {
				d.fault("sequence turned")
			}
		}
		if slices.Min(count) != slices.Max(count) {
			d.fault("group apart")
		}
	}
	return left
}

// supply buys the sticks that are cut, now and then a few more or fewer, and writes the bill.
func (d *dealt) supply() {
	p, r := d.p, d.r
	money := p.Rules.YardCut > 0
	cut := make([]int, len(p.Sticks))
	for k := range d.out.Patterns {
		cut[d.out.Patterns[k].Stick]++
	}
	sells := len(p.Rules.Charges) > 0 || p.Rules.Spare > 0 || p.Rules.MaxTransport > 0
	var longest measure.Length
	for i := range p.Pieces {
		longest = max(longest, p.Pieces[i].Length)
	}
	for i := range p.Sticks {
		s := &p.Sticks[i]
		money = money || s.Price > 0
		for _, x := range s.Breaks {
			money = money || x.Price > 0
		}
		sells = sells || s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0
		if s.Limit > 0 && cut[i] > s.Limit {
			d.fault("limit")
		}
	}
	for _, c := range p.Rules.Charges {
		money = money || c.Amount > 0
	}
	spare := p.Rules.Spare
	paid := map[string]bool{}
	d.out.ByLength = true
	if money {
		d.out.ByLength = false
	}
	for i := range p.Sticks {
		s := &p.Sticks[i]
		n := cut[i]
		if sells {
			if n > 0 || r.IntN(4) == 0 {
				n = max(n, s.Minimum)
				if r.IntN(3) == 0 {
					n += r.IntN(3)
				}
				if r.IntN(6) > 0 && s.Bundle > 1 {
					n = (n + s.Bundle - 1) / s.Bundle * s.Bundle
				}
				if r.IntN(12) == 0 && n > 0 {
					n--
				}
			}
			if n > 0 && (n < s.Minimum || s.Limit > 0 && n > s.Limit || s.Bundle > 1 && n%s.Bundle > 0) {
				d.fault("not sold like this")
			}
			if n < cut[i] {
				d.fault("more cut than bought")
			}
		}
		each := s.Price
		for _, x := range s.Breaks {
			if n >= x.From {
				each = x.Price
			}
		}
		if !money {
			each = int64(s.Length)
		}
		cost := each * int64(n)
		if d.yard(s) {
			cost += p.Rules.YardCut * int64(cut[i])
			if n > 0 && s.Length-p.Kerf > 2*p.Rules.MaxTransport {
				d.fault("two cuts in the yard")
			}
		} else if len(s.Defects) == 0 && s.Length-s.TrimStart-s.TrimEnd >= longest {
			spare -= n - cut[i]
		}
		d.out.Cost += cost
		if !sells {
			n = cut[i]
		}
		if n > 0 {
			d.out.Buy = append(d.out.Buy, optimize.Purchase{Stick: i, Count: n, Cost: cost})
			paid[s.Supplier] = true
		}
	}
	if spare > 0 {
		d.fault("spare")
	}
	for _, c := range p.Rules.Charges {
		if paid[c.Supplier] {
			d.out.Cost += c.Amount
		}
	}
	for _, g := range p.Rules.Groups {
		if g.Kind != optimize.GroupOneLot {
			continue
		}
		lots := map[string]bool{}
		for k := range d.out.Patterns {
			for _, i := range d.out.Patterns[k].Pieces {
				if slices.Contains(g.Pieces, i) {
					lots[p.Sticks[d.out.Patterns[k].Stick].Lot] = true
				}
			}
		}
		if len(lots) > 1 || g.Started && !lots[g.Lot] {
			d.fault("lots")
		}
	}
	d.out.Proven = d.out.Cost == 0
}

func anyTurn(r *rand.Rand) optimize.Turn {
	n := r.IntN(4)
	return optimize.Turn{EndForEnd: n&1 > 0, Rolled: n&2 > 0}
}
