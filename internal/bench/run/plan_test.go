package run

import (
	"testing"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/plain"
)

func TestCheckPlan(t *testing.T) {
	p := &model.Problem{
		Items: []model.Item{{Size: 6, Demand: 2}, {Size: 4, Demand: 3}},
		Bins:  []model.Bin{{Cap: 10, Cost: 3, Limit: 2}, {Cap: 5, Cost: 2, Limit: 5}},
	}
	good := func() plain.Result {
		return plain.Result{Cost: 8, Bound: 8, Columns: []model.PatternCount{
			{Pattern: model.Pattern{Bin: 0, Uses: []model.Use{{Item: 0, N: 1}, {Item: 1, N: 1}}}, Count: 2},
			{Pattern: model.Pattern{Bin: 1, Uses: []model.Use{{Item: 1, N: 1}}}, Count: 1},
		}}
	}
	if err := checkPlan(p, good()); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(r *plain.Result){
		"cost":      func(r *plain.Result) { r.Cost = 7; r.Bound = 7 },
		"bound":     func(r *plain.Result) { r.Bound = 9 },
		"too few":   func(r *plain.Result) { r.Columns = r.Columns[:1]; r.Cost = 6 },
		"too many":  func(r *plain.Result) { r.Columns[1].Count = 2; r.Cost = 10 },
		"overfull":  func(r *plain.Result) { r.Columns[0].Uses[1].N = 2 },
		"short bin": func(r *plain.Result) { r.Columns[0].Bin = 1 },
		"no bin":    func(r *plain.Result) { r.Columns[1].Bin = 2 },
		"no item":   func(r *plain.Result) { r.Columns[1].Uses[0].Item = 2 },
		"order":     func(r *plain.Result) { u := r.Columns[0].Uses; u[0], u[1] = u[1], u[0] },
		"empty":     func(r *plain.Result) { r.Columns[1].Uses = nil },
		"count":     func(r *plain.Result) { r.Columns[1].Count = 0 },
		"too many bins": func(r *plain.Result) {
			r.Columns[1].Bin = 0
			r.Cost = 9
		},
	} {
		r := good()
		spoil(&r)
		if checkPlan(p, r) == nil {
			t.Errorf("%s: not noticed", name)
		}
	}
}
