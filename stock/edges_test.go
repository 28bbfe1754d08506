package stock_test

import (
	"testing"

	"example.com/longpoint/stock"
)

// Common practice, no source: a base is caulked at its top, casing and crown along
// both edges, and no trim along none.
func TestEdges(t *testing.T) {
	for use, want := range map[stock.Use]int{stock.Baseboard: 1, stock.Casing: 2, stock.Crown: 2, stock.ChairRail: 2, stock.PictureRail: 1} {
		if got := use.Edges(); got != want {
			t.Errorf("%v: %d edges, want %d", use, got, want)
		}
	}
	for use := stock.Baseboard; use <= stock.Backband; use++ {
		if n := use.Edges(); n < 1 || n > 2 {
			t.Errorf("%v: %d edges", use, n)
		}
	}
}
