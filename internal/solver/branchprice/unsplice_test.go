package branchprice

import (
	"context"
	"math/rand/v2"
	"reflect"
	"testing"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/heuristic"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/solvertest"
)

// A plan whose useless splices are removed is still a plan, is no worse by any criterion, and has no further
// useless splices. The original plan is unchanged.
func TestUnsplicedPlansAreNoWorse(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 31))
	looked, fewer := 0, 0
	for i := range 3000 {
		p := solvertest.Tiny(r, solvertest.WithRuns|solvertest.Feature(1)<<r.IntN(10)&^solvertest.WithPart)
		x := &solver{p: p, mt: meter.New(context.Background(), 20_000_000), cost: rules.NoCost}
		heuristic.Quick(p, x.mt, func(plan []rules.ColumnCount) {
			before, ok := rules.Evaluate(p, plan)
			if !ok {
				return
			}
			looked++
			copied := append([]rules.ColumnCount(nil), plan...)
			got := p.Unspliced(plan)
			if !reflect.DeepEqual(plan, copied) {
				t.Fatalf("case %d: the plan has changed", i)
			}
			after, ok := rules.Evaluate(p, got)
			for k := range before {
				ok = ok && after[k] <= before[k]
			}
			if !ok {
				t.Fatalf("case %d: %v, then %v\n%+v", i, before, after, p)
			}
			if after[rules.Splices] < before[rules.Splices] {
				fewer++
			}
			if again := p.Unspliced(got); !reflect.DeepEqual(again, got) {
				t.Fatalf("case %d: more splices could be removed", i)
			}
		})
	}
	if fewer < 20 {
		t.Errorf("%d plans, %d with an unnecessary splice", looked, fewer)
	}
	t.Logf("%d plans, %d with an unnecessary splice", looked, fewer)
}
