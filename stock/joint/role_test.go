package joint_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// Around a square outside corner the long point lies beyond the short one by the depth of the miter:
// the thickness of an upright member on the wall, the width of a board flat on the ceiling, and the
// projection of a member sprung at 30°, half its width. Derived.
func TestDepthByRole(t *testing.T) {
	for role := stock.RoleBase; role <= stock.RoleSkirt; role++ {
		p := stock.Profile{Name: "S4S", Role: role, Thickness: 3 * measure.Inch / 4, Width: 5 * measure.Inch, Spring: 30 * measure.Degree}
		cut, err := joint.NewCut(p, stock.End{Kind: stock.EndOutsideMiter})
		if err != nil {
			t.Fatal(err)
		}
		want, standing, flat := p.Thickness, joint.Setting{Miter: 45 * measure.Degree}, joint.Setting{Bevel: 45 * measure.Degree}
		switch role {
		case stock.RoleSoffit:
			want = 5 * measure.Inch
		case stock.RoleCrown, stock.RoleBed:
			want = 5 * measure.Inch / 2
			if flat, err = joint.CrownSetting(p.Spring, 90*measure.Degree); err != nil {
				t.Fatal(err)
			}
		}
		if cut.Allowance != want || cut.End.Setback != want || p.Projection() != want || cut.Standing != standing || cut.Flat != flat {
			t.Errorf("%v: %v and %v through %v, %+v and %+v; want %v", role, cut.Allowance, cut.End.Setback, p.Projection(), cut.Standing, cut.Flat, want)
		}
		left := joint.Hand{Miter: joint.SideLeft, Keep: joint.SideRight}
		if role.Sprung() { // upside down
			left = joint.Hand{Miter: joint.SideRight, Keep: joint.SideLeft}
		}
		if got := cut.Hand(joint.SideLeft); got != left {
			t.Errorf("%v: %+v, want %+v", role, got, left)
		}
	}
}
