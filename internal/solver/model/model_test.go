package model_test

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/internal/solver/model"
)

func TestSizeAndPieces(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		var p model.Problem
		var uses []model.Use
		size, pieces := int64(0), int64(0)
		for i := range 1 + r.IntN(8) {
			it := model.Item{Size: 1 + r.Int64N(1<<40), Demand: 1 + r.Int64N(1<<15)}
			p.Items = append(p.Items, it)
			for range it.Demand {
				pieces++
			}
			if n := r.Int64N(3); n > 0 {
				uses = append(uses, model.Use{Item: i, N: n})
				for range n {
					size += it.Size
				}
			}
		}
		if got := p.Size(uses); got != size {
			t.Fatalf("Size(%v) = %d, want %d", uses, got, size)
		}
		if got := p.Pieces(); got != pieces {
			t.Fatalf("Pieces() = %d, want %d", got, pieces)
		}
	}
	var p model.Problem
	if p.Size(nil) != 0 || p.Pieces() != 0 {
		t.Error("the empty problem is not empty")
	}
}
