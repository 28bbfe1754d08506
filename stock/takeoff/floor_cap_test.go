package takeoff_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
)

// A cap lies on its base all along, whatever the base does on a floor out of level: the lower edge of
// one is the upper edge of the other, at both ends of each wall.
func TestCapLiesOnBaseOutOfLevel(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	fall := func(a, b measure.Length) scribe.Surface {
		return scribe.Surface{{FromLine: 40*in + a}, {At: 10 * ft, FromLine: 40*in + b}}
	}
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{
		{Name: "N", Length: 10 * ft, Floor: fall(0, in/2)}, {Name: "E", Length: 10 * ft, Floor: fall(in/2, in/2)},
		{Name: "S", Length: 10 * ft, Floor: fall(in/2, 0)}, {Name: "W", Length: 10 * ft, Floor: fall(0, 0)},
	}}
	a := threePieceBase()
	height := a.Members[0].Profile.Width
	for _, c := range []struct {
		fit  scribe.FloorFit
		left [4]measure.Length // how much lower than on a level floor it lies at the left ends (derived)
	}{
		{scribe.FloorScribe, [4]measure.Length{in / 2, 0, 0, in / 2}}, // level with the lowest point of the floor
		{scribe.FloorFollow, [4]measure.Length{}},
		{scribe.FloorShoe, [4]measure.Length{0, -in / 2, -in / 2, 0}}, // level with the highest
	} {
		list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Assemblies: []takeoff.Assembly{a}}, &takeoff.Options{Floor: c.fit})
		if err != nil {
			t.Fatal(err)
		}
		slope := map[string]measure.Angle{}
		n := 0
		for _, r := range list.Runs {
			switch r.Role {
			case stock.RoleBase:
				slope[r.Wall] = r.Slope
			case stock.RoleCap:
				if want := height - c.left[n]; r.Bottom != want || r.Slope != slope[r.Wall] {
					t.Errorf("%v: cap of %s begins at %v and slopes %v, want %v and %v as the base", c.fit, r.Wall, r.Bottom, r.Slope, want, slope[r.Wall])
				}
				n++
			}
		}
		if n != 4 {
			t.Errorf("%v: %d caps", c.fit, n)
		}
	}
}
