package run

import (
	"testing"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
)

func TestCheckPlan(t *testing.T) {
	p := &model.Problem{
		Items: []model.Item{{Size: 6, Demand: 2}, {Size: 4, Demand: 3}},
		Bins:  []model.Bin{{Cap: 10, Cost: 3, Limit: 2}, {Cap: 5, Cost: 2, Limit: 5}},
	}
	good := func() search.Result {
		return search.Result{Cost: 8, Bound: 8, Patterns: []model.PatternCount{
			{Pattern: model.Pattern{Bin: 0, Uses: []model.Use{{Item: 0, N: 1}, {Item: 1, N: 1}}}, Count: 2},
			{Pattern: model.Pattern{Bin: 1, Uses: []model.Use{{Item: 1, N: 1}}}, Count: 1},
		}}
	}
	if err := checkPlan(p, good()); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(r *search.Result){
		"cost":      func(r *search.Result) { r.Cost = 7; r.Bound = 7 },
		"bound":     func(r *search.Result) { r.Bound = 9 },
		"too few":   func(r *search.Result) { r.Patterns = r.Patterns[:1]; r.Cost = 6 },
		"too many":  func(r *search.Result) { r.Patterns[1].Count = 2; r.Cost = 10 },
		"overfull":  func(r *search.Result) { r.Patterns[0].Uses[1].N = 2 },
		"short bin": func(r *search.Result) { r.Patterns[0].Bin = 1 },
		"no bin":    func(r *search.Result) { r.Patterns[1].Bin = 2 },
		"no item":   func(r *search.Result) { r.Patterns[1].Uses[0].Item = 2 },
		"order":     func(r *search.Result) { u := r.Patterns[0].Uses; u[0], u[1] = u[1], u[0] },
		"empty":     func(r *search.Result) { r.Patterns[1].Uses = nil },
		"count":     func(r *search.Result) { r.Patterns[1].Count = 0 },
		"too many bins": func(r *search.Result) {
			r.Patterns[1].Bin = 0
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
