package optimize_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// followed is a problem to watch, solved within a work limit.
type followed struct {
	name string
	p    optimize.Problem
	work int64
}

// watched calls f with problems with and without rules, some that are proven at once and some that
// remain open.
func watched(t *testing.T, f func(t *testing.T, w followed)) {
	t.Run("rooms", func(t *testing.T) {
		rapid.Check(t, func(rt *rapid.T) {
			f(t, followed{"a drawn problem", drawProblem(rt), rapid.SampledFrom([]int64{1, 1_000, 100_000, 20_000_000}).Draw(rt, "work")})
		})
	})
	t.Run("any rules", func(t *testing.T) {
		for seed := range uint64(*mixedCases / 4) {
			f(t, followed{fmt.Sprint("mixed ", seed), mixed(seed), 3_000_000})
		}
	})
	t.Run("houses", func(t *testing.T) {
		houses := trimjob.OfClass("house")
		if testing.Short() {
			houses = houses[:3]
		}
		for _, k := range houses {
			f(t, followed{k.Name, problem(k.Job()), 40_000_000})
		}
	})
	t.Run("rooms with rules", func(t *testing.T) {
		for i, v := range variants {
			if testing.Short() && i%5 != 0 {
				continue
			}
			for _, goals := range [][]optimize.Goal{nil, {optimize.GoalCost, optimize.GoalPatterns, optimize.GoalSticks}, {optimize.GoalCost, optimize.GoalCuts, optimize.GoalLongestOffcut}} {
				p := problem(trimjob.OfClass("room")[i%5].Job())
				v.add(&p)
				p.Rules.Goals = goals
				f(t, followed{fmt.Sprint(v.name, " ", goals), p, 40_000_000})
			}
		}
	})
}

// follow solves and keeps the reports; it stops after the given report, -1 for never.
func follow(w followed, stop int) (reports []optimize.Progress, plan *optimize.Plan, err error) {
	plan, err = optimize.Solve(context.Background(), w.p, &optimize.Options{Work: w.work, Progress: func(p optimize.Progress) bool {
		reports = append(reports, p)
		return len(reports)-1 != stop
	}})
	return reports, plan, err
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// TestProgressChangesNothing compares plans with and without it, byte for byte, and two
// sequences of reports.
func TestProgressChangesNothing(t *testing.T) {
	t.Parallel()
	all, rising, plans := 0, 0, 0
	watched(t, func(t *testing.T, w followed) {
		alone, aloneErr := optimize.Solve(context.Background(), w.p, &optimize.Options{Work: w.work})
		reports, plan, err := follow(w, -1)
		if a, b := fmt.Sprint(asJSON(t, alone), aloneErr), fmt.Sprint(asJSON(t, plan), err); a != b {
			t.Fatalf("%s: without reports\n%s\nwith\n%s", w.name, a, b)
		}
		again, _, _ := follow(w, -1)
		if a, b := asJSON(t, reports), asJSON(t, again); a != b {
			t.Fatalf("%s: reports\n%s\nand then\n%s", w.name, a, b)
		}
		ordered(t, w, reports, plan)
		for _, p := range slices.Backward(reports) {
			if plan != nil && p.Found && better(w.p.Rules.Goals, p.Plan(), plan, 99) {
				t.Fatalf("%s: the last reported plan is better than the final one\n%+v\n%+v", w.name, p.Plan().Goals, plan.Goals)
			}
			break
		}
		all += len(reports)
		for k, p := range reports {
			if p.NewBound && k > 0 {
				rising++
			}
			if p.NewPlan {
				plans++
			}
		}
	})
	if all == 0 || rising == 0 || plans < 100 {
		t.Errorf("%d reports, of them %d of better bounds and %d of plans: this tests little", all, rising, plans)
	}
}

// ordered verifies the relations between the fields of reports and about the plan that Solve
// finally returns, nil for none.
func ordered(t *testing.T, w followed, reports []optimize.Progress, last *optimize.Plan) {
	t.Helper()
	for k, p := range reports {
		switch {
		case p.Bound < 0 || p.Found && p.Bound > p.Cost:
			t.Fatalf("%s: report %d: bound %d, cost %d", w.name, k, p.Bound, p.Cost)
		case p.Found != (p.Plan() != nil) || p.NewPlan && !p.Found || !p.Found && p.Cost != 0:
			t.Fatalf("%s: report %d: %+v", w.name, k, p)
		case k == 0 && !p.NewBound:
			t.Fatalf("%s: the first report has no new bound: %+v", w.name, p)
		case p.Stage == "":
			t.Fatalf("%s: report %d: no stage", w.name, k)
		}
		if last != nil && (p.Found && p.Cost < last.Cost || p.Bound > last.Bound) {
			t.Fatalf("%s: report %d: cost %d, bound %d; in the end %d, %d", w.name, k, p.Cost, p.Bound, last.Cost, last.Bound)
		}
		if k == 0 {
			continue
		}
		b := reports[k-1]
		switch {
		case p.Work < b.Work || last != nil && p.Work > last.Work:
			t.Fatalf("%s: report %d: work %d after %d", w.name, k, p.Work, b.Work)
		case p.NewBound != (p.Bound > b.Bound) || p.Bound < b.Bound:
			t.Fatalf("%s: report %d: bound %d after %d", w.name, k, p.Bound, b.Bound)
		case b.Found && (!p.Found || p.Cost > b.Cost):
			t.Fatalf("%s: report %d: cost %d after %d", w.name, k, p.Cost, b.Cost)
		case !p.NewPlan && (p.Found != b.Found || p.Cost != b.Cost):
			t.Fatalf("%s: report %d has no new plan, cost %d after %d", w.name, k, p.Cost, b.Cost)
		case p.NewPlan && b.Found && p.Goal == optimize.GoalCost && p.Cost >= b.Cost:
			t.Fatalf("%s: report %d has a new plan of cost %d after %d", w.name, k, p.Cost, b.Cost)
		case p.NewPlan && b.Found && p.Goal != optimize.GoalCost && !better(w.p.Rules.Goals, p.Plan(), b.Plan(), p.Goal):
			t.Fatalf("%s: report %d: no better at %v\n%+v\n%+v", w.name, k, p.Goal, b.Plan().Goals, p.Plan().Goals)
		}
	}
}

// better reports whether plan a is better than b in the goals up to g, if that is one.
func better(goals []optimize.Goal, a, b *optimize.Plan, g optimize.Goal) bool {
	for k := range goals {
		x, y := a.Goals[k].Value, b.Goals[k].Value
		if goals[k] == optimize.GoalLongestOffcut || goals[k] == optimize.GoalOffcutValue {
			x, y = -x, -y
		}
		if x != y || goals[k] == g {
			return x < y
		}
	}
	return false
}

// TestProgressPlans checks each plan on the way, when it is reported and, kept, in the end.
func TestProgressPlans(t *testing.T) {
	t.Parallel()
	watched(t, func(t *testing.T, w followed) {
		var kept []string
		var reports []optimize.Progress
		_, err := optimize.Solve(context.Background(), w.p, &optimize.Options{Work: w.work, Progress: func(p optimize.Progress) bool {
			plan := p.Plan()
			if plan != nil {
				if err := optimize.Check(context.Background(), w.p, plan); err != nil {
					t.Fatalf("%s: %v\n%+v", w.name, err, plan)
				}
				if plan.Cost != p.Cost || plan.Bound != p.Bound || plan.Work != p.Work || plan.Proven || plan.Stop != optimize.StopUnknown {
					t.Fatalf("%s: %+v\n%+v", w.name, p, plan)
				}
			}
			kept, reports = append(kept, asJSON(t, plan)), append(reports, p)
			return true
		}})
		if errors.As(err, new(*optimize.InternalError)) {
			t.Fatalf("%s: %v", w.name, err)
		}
		for k := range reports {
			if now := asJSON(t, reports[k].Plan()); now != kept[k] {
				t.Fatalf("%s: plan of report %d\n%s\nlater\n%s", w.name, k, kept[k], now)
			}
		}
	})
}

// TestProgressStops ends the search at each report in turn.
func TestProgressStops(t *testing.T) {
	t.Parallel()
	stops, noPlan := map[optimize.Stop]int{}, 0
	watched(t, func(t *testing.T, w followed) {
		reports, whole, wholeErr := follow(w, -1)
		for k := range reports {
			if k > 6 && k%7 > 0 {
				continue
			}
			told, plan, err := follow(w, k)
			if len(told) != k+1 {
				t.Fatalf("%s: %d reports, although the one at %d returned false", w.name, len(told), k)
			}
			if err != nil {
				var limit *optimize.LimitError
				switch {
				case told[k].Found:
					t.Fatalf("%s: report %d: a plan was found, but the result is %v", w.name, k, err)
				case errors.As(err, new(*optimize.InfeasibleError)) && errors.As(wholeErr, new(*optimize.InfeasibleError)):
				case !errors.As(err, &limit) || limit.Stop != optimize.StopCaller || limit.Cause != nil:
					t.Fatalf("%s: report %d: %v", w.name, k, err)
				default:
					noPlan++
				}
				continue
			}
			if err := optimize.Check(context.Background(), w.p, plan); err != nil {
				t.Fatalf("%s: report %d: %v\n%+v", w.name, k, err, plan)
			}
			if plan.Cost > told[k].Cost && told[k].Found || plan.Bound < told[k].Bound || whole != nil && plan.Bound > whole.Cost {
				t.Fatalf("%s: report %d: %+v; then cost %d, bound %d, and without a limit %d", w.name, k, told[k], plan.Cost, plan.Bound, whole.Cost)
			}
			if plan.Stop != optimize.StopCaller && plan.Stop != optimize.StopProven {
				t.Fatalf("%s: report %d: stop %v", w.name, k, plan.Stop)
			}
			stops[plan.Stop]++
		}
	})
	if stops[optimize.StopCaller] == 0 || stops[optimize.StopProven] == 0 || noPlan == 0 {
		t.Errorf("stop reasons: %v, without a plan %d times", stops, noPlan)
	}
}

// TestTicks looks for ticks in a long search.
func TestTicks(t *testing.T) {
	const tick = 1 << 26
	for _, w := range []followed{{"house", openJob(t), 12 * tick}, {"with grades", func() optimize.Problem {
		p := openJob(t)
		variants[1].add(&p)
		return p
	}(), 12 * tick}} {
		reports, plan, err := follow(w, -1)
		if err != nil {
			t.Fatal(err)
		}
		at := map[int64]bool{}
		for k, p := range reports {
			if !p.NewPlan && !p.NewBound {
				if k > 0 && p.Work/tick == at0(reports[:k])/tick {
					t.Errorf("%s: a tick at %d, although the last was at %d", w.name, p.Work, at0(reports[:k]))
				}
			}
			at[p.Work/tick] = true
		}
		for k := int64(0); k < plan.Work/tick; k++ {
			if !at[k] {
				t.Errorf("%s: no report between %d and %d steps", w.name, k*tick, (k+1)*tick)
			}
		}
	}
}

// at0 returns the work at the last tick.
func at0(reports []optimize.Progress) int64 {
	for _, p := range slices.Backward(reports) {
		if !p.NewPlan && !p.NewBound {
			return p.Work
		}
	}
	return -1
}

// TestProgressWithinProgress solves something else, and the same problem, at each report.
func TestProgressWithinProgress(t *testing.T) {
	w := followed{"house", openJob(t), 30_000_000}
	_, want, err := follow(w, -1)
	if err != nil {
		t.Fatal(err)
	}
	calls := 0
	plan, err := optimize.Solve(context.Background(), w.p, &optimize.Options{Work: w.work, Progress: func(optimize.Progress) bool {
		if calls++; calls < 6 {
			if _, err := optimize.Solve(context.Background(), sound(), nil); err != nil {
				t.Fatal(err)
			}
			if _, err := optimize.Solve(context.Background(), w.p, &optimize.Options{Work: 100_000}); err != nil {
				t.Fatal(err)
			}
		}
		return true
	}})
	if err != nil || calls == 0 {
		t.Fatalf("%d calls, %v", calls, err)
	}
	if d := cmp.Diff(want, plan); d != "" {
		t.Errorf("-without +with\n%s", d)
	}
}

// TestPlans compares the iterator with the reports and with Solve, and breaks off at each plan.
func TestPlans(t *testing.T) {
	watched(t, func(t *testing.T, w followed) {
		reports, last, lastErr := follow(w, -1)
		var want []string
		for _, p := range reports {
			if p.NewPlan {
				want = append(want, asJSON(t, p.Plan())+" <nil>")
			}
		}
		want = append(want, fmt.Sprint(asJSON(t, last), " ", lastErr))
		var got []string
		before := (*optimize.Plan)(nil)
		seen := 0
		o := &optimize.Options{Work: w.work, Progress: func(optimize.Progress) bool { seen++; return true }}
		for plan, err := range optimize.Plans(context.Background(), w.p, o) {
			got = append(got, fmt.Sprint(asJSON(t, plan), " ", err))
			if before != nil && (plan == nil || plan.Cost > before.Cost ||
				plan.Cost == before.Cost && plan.Proof.Kind() == optimize.ProofOmitted && len(w.p.Rules.Goals) < 2) {
				t.Fatalf("%s: plan %d is not better than the one before\n%+v\n%+v", w.name, len(got), plan, before)
			}
			before = plan
		}
		if !slices.Equal(got, want) {
			t.Fatalf("%s: plans\n%s\nreported\n%s", w.name, got, want)
		}
		if seen != len(reports) {
			t.Fatalf("%s: the caller's own Progress was called %d times, want %d", w.name, seen, len(reports))
		}
		for n := range min(len(want), 3) {
			running, k := runtime.NumGoroutine(), 0
			for plan, err := range optimize.Plans(context.Background(), w.p, o) {
				if s := fmt.Sprint(asJSON(t, plan), " ", err); s != want[k] {
					t.Fatalf("%s: plan %d\n%s\nwant\n%s", w.name, k, s, want[k])
				}
				if k++; k > n {
					break
				}
			}
			if k != n+1 || runtime.NumGoroutine() > running {
				t.Fatalf("%s: ended after %d plans, want %d; %d goroutines, %d before", w.name, k, n+1, runtime.NumGoroutine(), running)
			}
		}
	})
}

// TestPlansOfNone wants the error, once.
func TestPlansOfNone(t *testing.T) {
	for _, p := range []optimize.Problem{{}, {
		Sticks: []stock.Stick{{Length: measure.Foot}}, Pieces: []stock.Piece{{Length: 2 * measure.Foot}},
	}} {
		n := 0
		for plan, err := range optimize.Plans(context.Background(), p, nil) {
			if n++; plan != nil || err == nil {
				t.Errorf("%+v, %v", plan, err)
			}
		}
		if n != 1 {
			t.Errorf("%d times round", n)
		}
	}
}

// TestProgressAfterCancel cancels the context from within.
func TestProgressAfterCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	plan, err := optimize.Solve(ctx, openJob(t), &optimize.Options{Work: -1, Progress: func(p optimize.Progress) bool {
		if p.Found {
			cancel()
		}
		return true
	}})
	if err != nil || plan.Stop != optimize.StopCanceled {
		t.Fatalf("%+v, %v", plan, err)
	}
}

// TestProgressElsewhere lets other goroutines read plans while the search continues.
func TestProgressElsewhere(t *testing.T) {
	for i, v := range variants {
		p := problem(trimjob.OfClass("room")[i%5].Job())
		v.add(&p)
		var wg sync.WaitGroup
		_, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 3_000_000, Progress: func(now optimize.Progress) bool {
			if now.NewPlan {
				wg.Go(func() {
					if err := optimize.Check(context.Background(), p, now.Plan()); err != nil {
						t.Errorf("%s: %v", v.name, err)
					}
				})
			}
			return true
		}})
		wg.Wait()
		if err != nil {
			t.Errorf("%s: %v", v.name, err)
		}
	}
}
