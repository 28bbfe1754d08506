package stock_test

import (
	"testing"

	"example.com/longpoint/stock"
)

// Common practice, no source: a base is caulked at its top, casing and crown along
// both edges, and no trim along none.
func TestEdges(t *testing.T) {
	for use, want := range map[stock.Role]int{stock.RoleBase: 1, stock.RoleCasing: 2, stock.RoleCrown: 2, stock.RoleChairRail: 2, stock.RolePictureRail: 1} {
		if got := use.Edges(); got != want {
			t.Errorf("%v: %d edges, want %d", use, got, want)
		}
	}
	for use := stock.RoleBase; use <= stock.RoleBackband; use++ {
		if n := use.Edges(); n < 1 || n > 2 {
			t.Errorf("%v: %d edges", use, n)
		}
	}
}
