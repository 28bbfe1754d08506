package stock

import (
	"fmt"
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Catalog lists materials and profiles: plain data that reads and writes JSON and that
// callers can extend. The zero value is empty.
type Catalog struct {
	Materials []Material `json:"materials,omitempty"`
	Profiles  []Profile  `json:"profiles,omitempty"`
}

// With returns a catalog that also holds the contents of more. A material or profile of
// more replaces one of c with the same name. Neither catalog is changed.
func (c Catalog) With(more Catalog) Catalog {
	out := Catalog{Materials: slices.Clone(c.Materials), Profiles: slices.Clone(c.Profiles)}
	for _, m := range more.Materials {
		if i := slices.IndexFunc(out.Materials, func(o Material) bool { return o.Name == m.Name }); i >= 0 {
			out.Materials[i] = m
		} else {
			out.Materials = append(out.Materials, m)
		}
	}
	for _, p := range more.Profiles {
		if i := slices.IndexFunc(out.Profiles, func(o Profile) bool { return o.Name == p.Name }); i >= 0 {
			out.Profiles[i] = p
		} else {
			out.Profiles = append(out.Profiles, p)
		}
	}
	return out
}

// Material returns the material with the name, and whether there is one.
func (c Catalog) Material(name string) (Material, bool) {
	i := slices.IndexFunc(c.Materials, func(m Material) bool { return m.Name == name })
	if i < 0 {
		return Material{}, false
	}
	return c.Materials[i], true
}

// Profile returns the profile with the name, and whether there is one.
func (c Catalog) Profile(name string) (Profile, bool) {
	i := slices.IndexFunc(c.Profiles, func(p Profile) bool { return p.Name == name })
	if i < 0 {
		return Profile{}, false
	}
	return c.Profiles[i], true
}

// Validate returns nil if the catalog is valid and no name occurs twice, or a
// [*measure.FieldError] for every fault, joined, at most 100.
func (c Catalog) Validate() error {
	var bad fault.List
	seen := map[string]bool{}
	once := func(path, name string) {
		if seen[name] {
			bad.Add(path+".name", name, "a name that is given once")
		}
		seen[name] = true
	}
	for i, m := range c.Materials {
		path := fmt.Sprintf("materials[%d]", i)
		once(path, m.Name)
		bad.Under(path, m.Validate())
	}
	clear(seen)
	for i, p := range c.Profiles {
		path := fmt.Sprintf("profiles[%d]", i)
		once(path, p.Name)
		bad.Under(path, p.Validate())
	}
	return bad.Err()
}

// GenericCatalog returns a new catalog of generic materials; it has none of a
// particular maker.
//
// The coefficients of wood are those of the Wood Handbook (FPL-GTR-190, table 13-5, 6% to
// 14%): Across is tangential, as in flat-sawn boards, and Through radial; for
// quarter-sawn ones it is the reverse. In that table, the radial coefficients of red
// maple, black walnut, basswood, white ash and red alder and both coefficients of
// yellow-poplar and eastern white pine are from memory. "pine" and "poplar" stand for any
// species, and have no known properties. The thermal expansion of wood along the grain
// (4e-6/K) is from memory. The coefficients of fiberboard are from a European MDF
// association; other sources give up to twice as much along the length. Those of plastics
// and stone are from data pages of plastics and tables of materials. The gaps of cellular
// PVC are copied from a trade article and carry little weight; the bow of polyurethane is
// from one maker, and another contradicts it for long runs. Lengths are common practice,
// no source.
func GenericCatalog() Catalog {
	wood := func(name string, tangential, radial measure.Ratio) Material {
		return Material{
			Name: name, Thermal: 4_000, Across: tangential, Through: radial,
			MinMoisture: 6 * measure.Percent, MaxMoisture: 14 * measure.Percent, Lengths: feet(8, 10, 12, 14, 16),
		}
	}
	return Catalog{Materials: []Material{
		wood("red oak", 3690, 1580),
		wood("red oak, quarter-sawn", 1580, 3690),
		wood("white oak", 3650, 1800),
		wood("white oak, quarter-sawn", 1800, 3650),
		wood("sugar maple", 3530, 1650),
		wood("red maple", 2890, 1370),
		wood("black cherry", 2480, 1260),
		wood("black walnut", 2740, 1900),
		wood("basswood", 3300, 2300),
		wood("white ash", 2740, 1690),
		wood("red alder", 2560, 1510),
		wood("yellow-poplar", 2890, 1580),
		wood("eastern white pine", 2120, 710),
		wood("pine", 0, 0),
		wood("poplar", 0, 0),
		{
			Name: "fiberboard", Class: ClassComposite, Along: 500, Across: 500, Through: 3500, WaterSensitive: true,
			Lengths: feet(8, 12, 16),
		},
		{
			Name: "cellular PVC", Class: ClassPlastic, Thermal: 58_680, Lengths: feet(8, 12, 16, 18, 20),
			Gaps: []GapStep{
				{Below: 60 * measure.DegreeF, Gap: measure.Inch / 8, Per: 18 * measure.Foot},
				{Below: 80 * measure.DegreeF, Gap: measure.Inch / 16, Per: 18 * measure.Foot},
			},
		},
		{Name: "rigid PVC", Class: ClassPlastic, Thermal: 54_000, Lengths: feet(8, 12, 16)},
		{Name: "polystyrene", Class: ClassPlastic, Thermal: 70_000, Lengths: feet(8)},
		{Name: "ABS", Class: ClassPlastic, Thermal: 73_800},
		{Name: "polyurethane", Class: ClassPlastic, Bow: &Bow{Add: measure.Inch / 8, Per: 5 * measure.Foot}},
		{Name: "marble", Class: ClassStone, Thermal: 7_000, Rigid: true, Lengths: feet(1, 2, 5, 8)},
		{Name: "granite", Class: ClassStone, Thermal: 7_900, Rigid: true, Lengths: feet(1, 2, 5, 8)},
		{Name: "limestone", Class: ClassStone, Thermal: 8_000, Rigid: true, Lengths: feet(1, 2, 5)},
		{Name: "ceramic tile", Class: ClassTile, Rigid: true, Lengths: feet(1)},
	}}
}

func feet(ns ...measure.Length) []measure.Length {
	ls := make([]measure.Length, len(ns))
	for i, n := range ns {
		ls[i] = n * measure.Foot
	}
	return ls
}
