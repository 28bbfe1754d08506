package lp

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// TestProducts multiplies rows with few entries by the columns in both ways, after changes of rows and columns: the
// results are the same to the last bit.
func TestProducts(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 300 {
		p := new(LP)
		for range 1 + r.IntN(12) {
			p.AddRow(0, 1, nil, nil)
		}
		columns := func() {
			for range r.IntN(20) {
				var idx []int32
				var val []float64
				for i := range p.Rows() {
					if r.IntN(3) == 0 {
						idx, val = append(idx, int32(i)), append(val, r.Float64()-0.5)
					}
				}
				p.AddColumn(1, idx, val)
			}
		}
		columns()
		var basis Basis
		p.Save(&basis)
		for range r.IntN(4) {
			var cols []int32
			for j := range p.Columns() {
				if r.IntN(2) == 0 {
					cols = append(cols, int32(j))
				}
			}
			p.AddRow(0, 1, cols, nil)
		}
		columns()
		switch r.IntN(3) {
		case 0:
			p.Restore(&basis)
			p.AddRow(0, 1, nil, nil)
			columns()
		case 1:
			p.x = make([]float64, p.Rows())
			p.Drop(r.IntN(p.Rows() + 1))
			columns()
		}
		for range 3 {
			rho := make([]float64, p.Rows())
			for i := range rho {
				if r.IntN(3) == 0 {
					rho[i] = r.Float64() - 0.5
				}
			}
			d, weight := slices.Clone(p.d), slices.Clone(p.weight)
			p.reweighAll(rho, 0.7, 0.3, 1.1)
			wantD, wantWeight := p.d, p.weight
			p.d, p.weight = d, weight
			if p.reweighFew(rho, 0.7, 0.3, 1.1); !slices.Equal(p.d, wantD) || !slices.Equal(p.weight, wantWeight) {
				t.Fatalf("%v: %v, %v, want %v, %v", rho, p.d, p.weight, wantD, wantWeight)
			}
		}
	}
}
