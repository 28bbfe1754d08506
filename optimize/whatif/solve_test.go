package whatif_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/optimize/whatif"
	"example.com/longpoint/stock"
)

// somewhat are limits from which on a search ends unproven, early or late.
var somewhat = []int64{1, 300, 1000, 3000, 10_000, 30_000}

// with returns a problem that is changed in the way that a change is meant to change it.
func with(p optimize.Problem, change func(*optimize.Problem)) optimize.Problem {
	p.Sticks, p.Pieces, p.Runs = slices.Clone(p.Sticks), slices.Clone(p.Pieces), slices.Clone(p.Runs)
	change(&p)
	return p
}

// meant is a change, and its intended effect.
type meant struct {
	name   string
	change whatif.Change
	does   func(*optimize.Problem)
}

func morePieces(i, n int) meant {
	return meant{"more pieces", whatif.MorePieces(i, n), func(p *optimize.Problem) { p.Pieces[i].Quantity = max(1, p.Pieces[i].Quantity) + n }}
}

func newPiece(pc stock.Piece) meant {
	return meant{"a new piece", whatif.NewPiece(pc), func(p *optimize.Problem) { p.Pieces = append(p.Pieces, pc) }}
}

func longer(i int, by measure.Length) meant {
	return meant{"longer", whatif.LongerPiece(i, by), func(p *optimize.Problem) { p.Pieces[i].Length += by }}
}

func longerRun(i int, by measure.Length) meant {
	return meant{"a longer run", whatif.LongerRun(i, by), func(p *optimize.Problem) { p.Runs[i].Length += by }}
}

func widerKerf(by measure.Length) meant {
	return meant{"a wider kerf", whatif.WiderKerf(by), func(p *optimize.Problem) { p.Kerf += by }}
}

func stickLimit(i, n int) meant {
	return meant{"a limit", whatif.StickLimit(i, n), func(p *optimize.Problem) {
		if s := &p.Sticks[i]; n > 0 && n >= s.Bundle && n >= s.Minimum {
			s.Limit = n
		} else {
			p.Sticks = slices.Delete(p.Sticks, i, i+1)
		}
	}}
}

func stickPrice(i int, price int64) meant {
	return meant{"another price", whatif.StickPrice(i, price), func(p *optimize.Problem) { p.Sticks[i].Price = price }}
}

func newStick(s stock.Stick) meant {
	return meant{"a new stick", whatif.NewStick(s), func(p *optimize.Problem) { p.Sticks = append(p.Sticks, s) }}
}

// oneFewer takes one less of a stick than a plan does.
func oneFewer(plan *optimize.Plan, stick int) meant {
	n := 0
	if plan.Buy != nil {
		for _, b := range plan.Buy {
			if b.Stick == stick {
				n += b.Count
			}
		}
	} else {
		for k := range plan.Patterns {
			if plan.Patterns[k].Stick == stick {
				n += plan.Patterns[k].Count
			}
		}
	}
	return stickLimit(stick, n-1)
}

// Every change against brute force, before and after, with and without enough work.
func TestWhatIfBrute(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	tried, dearer, impossible, open := 0, 0, 0, 0
	for i := range 60 {
		p := brute.Job(r)
		if len(p.Pieces) == 4 {
			p.Pieces = p.Pieces[:3] // one more is still few enough for brute force
		}
		before, ok := bruteSolve(&p)
		if !ok {
			continue
		}
		plan := mustSolve(t, p)
		rough, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: oneOf(r, somewhat...)})
		if err != nil && !errors.As(err, new(*optimize.LimitError)) {
			t.Fatal(err)
		}
		was := written(&p)
		for _, x := range []meant{
			morePieces(0, 1), newPiece(stock.Piece{Length: 30 * measure.Inch}), longer(0, measure.Foot), longer(0, -measure.Inch), widerKerf(measure.Inch / 8),
			oneFewer(plan, plan.Patterns[0].Stick), stickLimit(0, 1), stickLimit(0, 0), stickPrice(0, 1+r.Int64N(29)), newStick(stock.Stick{Length: 12 * measure.Foot, Price: 20}),
			{"nothing at all", whatif.Edit(func(*optimize.Problem) error { return nil }), func(*optimize.Problem) {}},
			{"no change", whatif.Change{}, func(*optimize.Problem) {}},
			{"half of it", whatif.Edit(func(p *optimize.Problem) error { p.Pieces[0].Length /= 2; return nil }), func(p *optimize.Problem) { p.Pieces[0].Length /= 2 }},
		} {
			name, c := x.name, x.change
			q := with(p, x.does)
			var after []int64
			ok := len(q.Sticks) > 0
			if ok {
				after, ok = bruteSolve(&q)
			}
			if !slices.ContainsFunc(q.Sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
				after = []int64{0} // nothing on the list has a price any more
			}
			d, err := whatif.Solve(context.Background(), p, plan, nil, c)
			switch {
			case !ok:
				if !errors.As(err, new(*optimize.InfeasibleError)) {
					t.Errorf("%d, %s: %v, want no plan\n%s", i, name, err, written(&q))
				}
				impossible++
				continue
			case err != nil:
				t.Fatalf("%d, %s: %v\n%s", i, name, err, written(&q))
			}
			want := after[0] - before[0]
			if !d.Exact() || d.Low != want {
				t.Errorf("%d, %s: %d to %d, want %d\n%s", i, name, d.Low, d.High, want, written(&q))
			}
			if err := optimize.Check(context.Background(), d.Problem, d.Plan); err != nil {
				t.Error(i, name, err)
			}
			if want > 0 {
				dearer++
			}
			tried++
			if rough == nil {
				continue
			}
			d, err = whatif.Solve(context.Background(), p, rough, &optimize.Options{Work: oneOf(r, somewhat...)}, c)
			if err != nil {
				if !errors.As(err, new(*optimize.LimitError)) {
					t.Errorf("%d, %s: %v", i, name, err)
				}
				continue
			}
			if d.Low > want || d.High < want {
				t.Errorf("%d, %s: %d to %d with a limit, want %d\n%s", i, name, d.Low, d.High, want, written(&q))
			}
			if !d.Exact() {
				open++
			}
		}
		if now := written(&p); now != was {
			t.Fatalf("the problem was changed:\n%s\n%s", was, now)
		}
	}
	t.Logf("%d tried, %d more expensive, %d impossible, %d open", tried, dearer, impossible, open)
	if tried < 200 || dearer < 50 || impossible < 10 {
		t.Error("the test shows little")
	}
}

// The same with each rule.
func TestWhatIfRulesBrute(t *testing.T) {
	exact, tried := 0, 0
	for a, f := range features {
		for seed := range uint64(1) {
			r := rand.New(rand.NewPCG(uint64(a), seed))
			p := bothAdded(a, a, seed)
			before, ok := bruteSolve(&p)
			plan, err := optimize.Solve(context.Background(), p, nil)
			if err != nil || !ok || len(p.Pieces) > 5 {
				continue
			}
			changes := []meant{widerKerf(u), oneFewer(plan, plan.Patterns[0].Stick), newStick(stock.Stick{Length: 60 * u, Price: p.Sticks[0].Price})}
			if len(p.Runs) > 0 {
				changes = append(changes, longerRun(r.IntN(len(p.Runs)), 2*u))
			}
			if len(p.Pieces) > 0 {
				changes = append(changes, longer(r.IntN(len(p.Pieces)), u), newPiece(stock.Piece{Length: 5 * u}))
			}
			for k, c := range changes {
				d, err := whatif.Solve(context.Background(), p, plan, &optimize.Options{Work: 2_000_000}, c.change)
				if isField(err) || errors.As(err, new(*optimize.LimitError)) {
					continue // a rule may not stand the change
				}
				q := with(p, c.does)
				var after []int64
				ok := len(q.Sticks) > 0
				if ok {
					after, ok = bruteSolve(&q)
				}
				if !ok {
					if !errors.As(err, new(*optimize.InfeasibleError)) {
						t.Errorf("%s, change %d: %v, want no plan\n%s", f.Name, k, err, written(&q))
					}
					continue
				}
				if err != nil {
					t.Errorf("%s, change %d: %v\n%s", f.Name, k, err, written(&q))
					continue
				}
				if d.Plan.ByLength != plan.ByLength {
					after = []int64{0} // nothing on the list has a price any more
				}
				if want := after[0] - before[0]; d.Low > want || d.High < want {
					t.Errorf("%s, change %d: %d to %d, want %d\n%s", f.Name, k, d.Low, d.High, want, written(&q))
				}
				if tried++; d.Exact() {
					exact++
				}
			}
		}
	}
	t.Logf("%d tried, %d exact", tried, exact)
	if exact < 30 {
		t.Error("the test shows little")
	}
}

// More of a piece, longer pieces, wider cuts and fewer sticks never make a job cheaper.
func TestWhatIfNeverCheaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		p := brute.Job(r)
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil {
			return
		}
		i := r.IntN(len(p.Pieces))
		for _, c := range []whatif.Change{
			whatif.MorePieces(i, 1), whatif.NewPiece(p.Pieces[i]), whatif.LongerPiece(i, measure.Length(r.IntN(12))*measure.Inch),
			whatif.WiderKerf(measure.Length(r.IntN(9)) * measure.Inch / 16), oneFewer(plan, plan.Patterns[0].Stick).change,
		} {
			d, err := whatif.Solve(context.Background(), p, plan, nil, c)
			if errors.As(err, new(*optimize.InfeasibleError)) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			if d.Low < 0 {
				t.Errorf("%d to %d\n%s", d.Low, d.High, written(&d.Problem))
			}
		}
	})
}

// The threshold against brute force at every price, and in a hurry.
func TestPriceToBuyBrute(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	const most = 45
	bought, needed, never, open := 0, 0, 0, 0
	for i := range 70 {
		p := brute.Job(r)
		if len(p.Pieces) == 4 {
			p.Pieces = p.Pieces[:3]
		}
		if i%7 == 0 {
			p.Sticks[0].Price, p.Sticks[0].Rack = 0, true
		}
		s := r.IntN(len(p.Sticks))
		base, without := []int64{math.MaxInt64}, with(p, stickLimit(s, 0).does)
		if len(without.Sticks) > 0 {
			if b, ok := bruteSolve(&without); ok {
				base = b
				if without.Sticks[0].Price == 0 && len(without.Sticks) == 1 {
					base = []int64{0}
				}
			}
		}
		want, last := int64(-1), int64(0)
		possible := true
		for price := int64(0); price <= most && possible; price++ {
			q := with(p, stickPrice(s, price).does)
			cost, ok := bruteSolve(&q)
			if possible = ok; !ok {
				break
			}
			if price == 0 && !slices.ContainsFunc(q.Sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
				cost = []int64{0}
			}
			if cost[0] < last {
				t.Errorf("%d: the cost falls as the price rises", i)
			}
			if last = cost[0]; last < base[0] {
				want = price
			} else {
				break // the test above says that it stays so
			}
		}
		for _, o := range []*optimize.Options{nil, {Work: oneOf(r, somewhat...) * 10}} {
			got, err := whatif.PriceToBuy(context.Background(), p, s, most, o)
			switch {
			case !possible:
				if !errors.As(err, new(*optimize.InfeasibleError)) && (o == nil || !errors.As(err, new(*optimize.LimitError))) {
					t.Errorf("%d: %+v, %v, want no plan\n%s", i, got, err, written(&p))
				}
				continue
			case o != nil && errors.As(err, new(*optimize.LimitError)):
				continue
			case isField(err) && !slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return s.Price != 0 }):
				continue
			case err != nil:
				t.Fatalf("%d: %v\n%s", i, err, written(&p))
			}
			if got.Price > want || got.Above <= want || o == nil && (got.Price != want || !got.Exact()) {
				t.Errorf("%d: %+v, want %d\n%s", i, got, want, written(&p))
			}
			if o != nil {
				if !got.Exact() {
					open++
				}
				continue
			}
			if got.Needed != (base[0] == math.MaxInt64) || (got.Plan == nil) != (want < 0) {
				t.Errorf("%d: needed %t, plan %v, want %d", i, got.Needed, got.Plan, want)
			}
			if got.Plan != nil {
				if err := optimize.Check(context.Background(), with(p, stickPrice(s, got.Price).does), got.Plan); err != nil {
					t.Error(i, err)
				}
			}
			switch {
			case got.Needed:
				needed++
			case want >= 0:
				bought++
			default:
				never++
			}
		}
	}
	t.Logf("%d bought, %d needed, %d never, %d open", bought, needed, never, open)
	if bought < 15 || needed < 5 || never < 1 {
		t.Error("the test shows little")
	}
}

// The saving of a candidate, by brute force, lies in its range at any limit; the proof's break-even is
// valid.
func TestCandidatesBrute(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	settled, solved, saves := 0, 0, 0
	n := 45
	if testing.Short() {
		n = 20
	}
	for i := range n {
		p := brute.Job(r)
		if len(p.Pieces) == 4 {
			p.Pieces = p.Pieces[:3]
		}
		before, ok := bruteSolve(&p)
		if !ok {
			continue
		}
		var sticks []stock.Stick
		for range 3 {
			sticks = append(sticks, stock.Stick{Length: measure.Length(40+r.IntN(130)) * measure.Inch, Price: 1 + r.Int64N(45)})
		}
		plan := mustSolve(t, p)
		rough, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: oneOf(r, somewhat...)})
		if err != nil {
			rough = plan
		}
		for _, c := range []struct {
			plan *optimize.Plan
			o    *optimize.Options
		}{{plan, nil}, {rough, &optimize.Options{Work: oneOf(r, somewhat...)}}} {
			got, err := whatif.Candidates(context.Background(), p, c.plan, sticks, c.o)
			if err != nil {
				t.Fatal(i, err)
			}
			if len(got) != len(sticks) {
				t.Fatalf("%d candidates of %d", len(got), len(sticks))
			}
			for k, x := range got {
				q := with(p, newStick(x.Stick).does)
				after, _ := bruteSolve(&q)
				want := before[0] - after[0]
				if x.Saving.Low > want || x.Saving.High < want || c.o == nil && x.Saving.Low != x.Saving.High {
					t.Errorf("%d: %+v, want %d\n%s", i, x, want, written(&q))
				}
				if k > 0 && x.Saving.Low > got[k-1].Saving.Low {
					t.Errorf("%d: not in order", i)
				}
				if c.o != nil {
					continue
				}
				if x.Plan == nil {
					settled++
				} else if solved++; optimize.Check(context.Background(), q, x.Plan) != nil {
					t.Errorf("%d: %+v", i, x.Plan)
				}
				if want > 0 {
					saves++
				}
				if x.BreakEven < 0 || c.plan.Proof.Kind() == optimize.ProofSearch {
					continue
				}
				// From the break-even on nothing is saved, except for rounding.
				q.Sticks[len(q.Sticks)-1].Price = x.BreakEven
				if after, _ := bruteSolve(&q); before[0]-after[0] >= unit(t, &p, c.plan, &x.Stick) {
					t.Errorf("%d: at its break-even of %d the stick saves %d\n%s", i, x.BreakEven, before[0]-after[0], written(&q))
				}
			}
		}
	}
	t.Logf("%d decided by proof, %d solved, %d save", settled, solved, saves)
	if min(settled, solved, saves) < 8 {
		t.Error("the test shows little")
	}
}

// On whole rooms the proof alone gives the same answer as solving.
func TestCandidatesRooms(t *testing.T) {
	settled := 0
	for _, k := range trimjob.OfClass("room")[:5] {
		p := problem(k.Job())
		plan := mustSolve(t, p)
		var sticks []stock.Stick
		for l := 6; l <= 20; l += 2 {
			sticks = append(sticks, stock.Stick{Length: measure.Length(l) * measure.Foot, Price: int64(l) * 170})
		}
		got, err := whatif.Candidates(context.Background(), p, plan, sticks, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range got {
			if c.Plan != nil {
				continue
			}
			settled++
			d, err := whatif.Solve(context.Background(), p, plan, nil, whatif.NewStick(c.Stick))
			if err != nil {
				t.Fatal(err)
			}
			if d.Low != 0 || d.High != 0 || c.Saving != (whatif.Range{}) {
				t.Errorf("%s: %v saves %+v, by solving %d to %d", k.Name, c.Stick.Length, c.Saving, -d.High, -d.Low)
			}
		}
	}
	t.Logf("%d settled by proof", settled)
	if settled == 0 {
		t.Error("no candidate was decided by the proof alone")
	}
}

// Calls return soon after the context ends, and their partial results are right.
func TestWhatIfEnds(t *testing.T) {
	p := openJob(t)
	plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 20_000_000})
	if err != nil {
		t.Fatal(err)
	}
	sticks := []stock.Stick{{Label: "9 ft", Length: 9 * measure.Foot, Price: 900}, {Label: "a gift", Length: 16 * measure.Foot, Rack: true}}
	for k := range p.Sticks {
		if p.Sticks[k].Label == "" {
			sticks[0].Label, sticks[1].Label = "", ""
		}
	}
	for _, looks := range []int{0, 1, 2, 3, 5, 30} {
		ends := func() context.Context { return &silentContext{context.Background(), looks} }
		d, err := whatif.Solve(ends(), p, plan, nil, whatif.MorePieces(0, 1))
		if err == nil && (d.Low > d.High || optimize.Check(context.Background(), d.Problem, d.Plan) != nil) || err != nil && !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("%d looks: %+v, %v", looks, d, err)
		}
		// With a limit of work, so that shares have the context itself.
		cs, err := whatif.Candidates(ends(), p, plan, sticks, &optimize.Options{Work: 40_000_000})
		if looks == 0 && !errors.Is(err, context.DeadlineExceeded) || looks > 0 && err != nil {
			t.Errorf("%d looks: %v", looks, err)
		}
		for _, c := range cs {
			if c.Saving.Low < 0 || c.Saving.Low > c.Saving.High || c.Saving.High > plan.Cost {
				t.Errorf("%d looks: %+v", looks, c.Saving)
			}
		}
		th, err := whatif.PriceToBuy(ends(), p, 0, p.Sticks[0].Price, &optimize.Options{Work: 40_000_000})
		if err == nil && th.Price >= th.Above || err != nil && !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("%d looks: %+v, %v", looks, th, err)
		}
	}
}

func TestWhatIfErrors(t *testing.T) {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 5}, {Length: 9 * measure.Foot, Price: 50, Bundle: 3}},
		Pieces: []stock.Piece{{Length: measure.Foot}},
	}
	plan := mustSolve(t, p)
	ctx := context.Background()
	for k, c := range []whatif.Change{
		whatif.MorePieces(1, 1), whatif.MorePieces(-1, 1), whatif.NewPiece(stock.Piece{}), whatif.LongerPiece(7, 1), whatif.LongerRun(0, 1), whatif.StickLimit(2, 1),
		whatif.StickLimit(0, -1), whatif.StickPrice(2, 1), whatif.StickPrice(0, -1), whatif.LongerPiece(0, -9*measure.Foot), whatif.WiderKerf(-1),
		whatif.StickLimit(-1, 0), whatif.MorePieces(0, -1), whatif.MorePieces(0, math.MaxInt), whatif.NewStick(stock.Stick{}),
	} {
		if _, err := whatif.Solve(ctx, p, plan, nil, c); !isField(err) {
			t.Errorf("%d: error %v", k, err)
		}
	}
	if _, err := whatif.Solve(ctx, p, plan, nil, whatif.StickLimit(0, 0), whatif.StickLimit(1, 2)); !errors.As(err, new(*optimize.InfeasibleError)) {
		t.Errorf("no stick is available: %v", err)
	}
	if _, err := whatif.Solve(ctx, p, plan, nil, whatif.LongerPiece(0, 1<<62), whatif.LongerPiece(0, 1<<62)); err == nil {
		t.Error("lengths out of range")
	}
	bad := *plan
	bad.Cost++
	var ce *optimize.CheckError
	if _, err := whatif.Solve(ctx, p, &bad, nil); !errors.As(err, &ce) {
		t.Error(err)
	}
	if _, err := whatif.Candidates(ctx, p, nil, nil, nil); !errors.As(err, &ce) {
		t.Error(err)
	}
	free := optimize.Problem{Sticks: []stock.Stick{{Length: 8 * measure.Foot}}, Pieces: p.Pieces}
	var pe *measure.FieldError
	if _, err := whatif.Solve(ctx, free, mustSolve(t, free), nil, whatif.StickPrice(0, 3)); !errors.As(err, &pe) {
		t.Error(err)
	}
	for _, c := range []struct {
		p     optimize.Problem
		s     stock.Stick
		field string
	}{
		{p, stock.Stick{Price: 3}, "sticks[1].length"},
		{p, stock.Stick{Length: measure.Foot, Price: -3}, "sticks[1].price"},
		{free, stock.Stick{Length: measure.Foot, Price: 3}, "sticks[1].price"},
	} {
		_, err := whatif.Candidates(ctx, c.p, mustSolve(t, c.p), []stock.Stick{{Length: measure.Foot, Rack: true}, c.s}, nil)
		if !errors.As(err, &pe) || pe.Field != c.field {
			t.Errorf("%+v: %v, want an error for %s", c.s, err, c.field)
		}
	}
	for _, c := range []struct {
		p     optimize.Problem
		stick int
		most  int64
	}{{p, 3, 5}, {p, -1, 5}, {p, 0, -1}, {p, 0, math.MaxInt64}, {free, 0, 5}, {optimize.Problem{Sticks: p.Sticks}, 0, 5}} {
		if _, err := whatif.PriceToBuy(ctx, c.p, c.stick, c.most, nil); !isField(err) {
			t.Error(err)
		}
	}
	// A price break counts as it stands, whatever the price of one.
	p.Sticks[0] = stock.Stick{Length: measure.Foot, Price: 9, Breaks: []stock.PriceBreak{{From: 2, Price: 1}}}
	p.Pieces[0].Quantity = 2
	if th, err := whatif.PriceToBuy(ctx, p, 0, 1000, nil); err != nil || th.Price != 1000 || th.Needed {
		t.Errorf("%+v, %v", th, err)
	}
}

// With one less than Plan.Buy as the limit a plan buys at most one less of the stick, whatever
// is bought without being cut: bundles, minimums, price breaks, spares.
func TestOneFewerIsOneFewerBought(t *testing.T) {
	uncut, gone := 0, 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 71))
		p := tinyBase(r)
		for _, name := range []string{"bundle", "minimum", "breaks", "spare"} {
			if r.IntN(2) == 0 {
				features[slices.IndexFunc(features, func(f feature) bool { return f.Name == name })].Add(r, &p)
			}
		}
		plan, err := optimize.Solve(context.Background(), p, nil)
		if err != nil || plan.Buy == nil {
			continue
		}
		for _, b := range plan.Buy {
			cut := 0
			for k := range plan.Patterns {
				if plan.Patterns[k].Stick == b.Stick {
					cut += plan.Patterns[k].Count
				}
			}
			if cut < b.Count {
				uncut++
			}
			d, err := whatif.Solve(context.Background(), p, plan, nil, whatif.StickLimit(b.Stick, b.Count-1))
			if err != nil {
				continue
			}
			got, s := d.Problem.Sticks[b.Stick].Limit, &p.Sticks[b.Stick]
			if b.Count-1 < max(1, s.Bundle, s.Minimum) {
				gone++
				if got != stock.SoldOut {
					t.Fatalf("seed %d: a limit of %d, but %d are bought\n%s", seed, got, b.Count, written(&p))
				}
			} else if got != b.Count-1 {
				t.Fatalf("seed %d: at most %d, but %d are bought, %d of them cut\n%s", seed, got, b.Count, cut, written(&p))
			}
			for _, now := range d.Plan.Buy {
				if now.Stick == b.Stick && now.Count >= b.Count {
					t.Fatalf("seed %d: %d are bought, after %d\n%s", seed, now.Count, b.Count, written(&p))
				}
			}
		}
	}
	if uncut < 50 || gone < 50 {
		t.Errorf("%d purchases hold sticks that are not cut, %d sticks are sold out", uncut, gone)
	}
}
