package stock_test

import (
	"testing"

	"example.com/longpoint/stock"
)

// Common practice, no source: a base is caulked at its top, casing and crown along both edges, and every
// trim but backing and panels along at least one.
func TestEdges(t *testing.T) {
	for role, want := range map[stock.Role]int{stock.RoleBase: 1, stock.RoleCasing: 2, stock.RoleCrown: 2, stock.RoleChairRail: 2, stock.RolePictureRail: 1, stock.RoleBed: 2, stock.RoleBacking: 0} {
		if got := role.Edges(); got != want {
			t.Errorf("%v: %d edges, want %d", role, got, want)
		}
	}
	for role := stock.RoleBase; role <= stock.RoleSkirt; role++ {
		if n := role.Edges(); n < 0 || n > 2 || n == 0 && role != stock.RoleBacking && role != stock.RolePanel {
			t.Errorf("%v: %d edges", role, n)
		}
	}
}
