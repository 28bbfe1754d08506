package optimize_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// Random problems with and without rules are stated for the solver, and the first plan that it has for them is read back: Check takes
// it. Stated as a plan to begin from and read back once more it is the same.
func TestWhatIsCompiledIsDecoded(t *testing.T) {
	plans, plain := 0, 0
	for seed := range uint64(150 * *bruteCases) {
		r := rand.New(rand.NewPCG(seed, 1926))
		p := tinyBase(r)
		chosen := r.Perm(len(features))[:r.IntN(5)]
		slices.Sort(chosen)
		for _, k := range chosen {
			features[k].Add(r, &p)
		}
		if p.Validate() != nil {
			continue
		}
		out, back, err := optimize.RoundTrip(p)
		if errors.As(err, new(*measure.FieldError)) || errors.As(err, new(*optimize.InfeasibleError)) {
			continue
		}
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, written(&p))
		}
		if out == nil {
			continue
		}
		if plans++; optimize.Plain(&p) {
			plain++
		}
		if err := optimize.Check(context.Background(), p, out); err != nil {
			t.Fatalf("seed %d: %v\n%+v\n%s", seed, err, out, written(&p))
		}
		if !reflect.DeepEqual(out, back) {
			t.Fatalf("seed %d: as a start it is returned as\n%+v\nand was\n%+v\n%s", seed, back, out, written(&p))
		}
	}
	if plans < 50**bruteCases || plain < 5**bruteCases {
		t.Errorf("%d plans, %d of them without rules: this tests little", plans, plain)
	}
}
