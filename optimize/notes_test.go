package optimize_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"reflect"
	"testing"

	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/internal/brute"
	"example.com/longpoint/stock"
)

// Notes are for people: whatever they say, the plan, its proof and its steps are the same, and no
// problem is changed.
func TestNotesChangeNoPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 29))
	n := 0
	for range 150 {
		p := brute.Job(r)
		noted := p
		noted.Pieces = append([]stock.Piece(nil), p.Pieces...)
		for i := range noted.Pieces {
			for k := range r.IntN(3) {
				noted.Pieces[i].Notes = append(noted.Pieces[i].Notes, fmt.Sprint("cut ", i, " ", k, " \xff"))
			}
		}
		plain, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: 1 << 22})
		plan, again := optimize.Solve(context.Background(), noted, &optimize.Options{Work: 1 << 22})
		if fmt.Sprint(err) != fmt.Sprint(again) || !reflect.DeepEqual(plan, plain) {
			t.Fatalf("%+v, %v\nwithout notes %+v, %v", plan, again, plain, err)
		}
		if plan == nil {
			continue
		}
		n++
		if err := optimize.Check(context.Background(), noted, plan); err != nil {
			t.Fatal(err)
		}
		for _, part := range plan.Parts {
			if part.Notes != nil {
				t.Fatalf("%+v", part)
			}
		}
	}
	if n < 50 {
		t.Errorf("only %d plans", n)
	}
}
