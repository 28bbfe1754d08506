package takeoff_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/takeoff"
)

// No style panics, however wild; errors are of the package's types, and accepted styles explain their
// lengths, with unique labels and ends that package joint can cut.
func TestWildStyles(t *testing.T) {
	const in = measure.Inch
	wild := rapid.OneOf(
		rapid.Map(rapid.Int64(), func(l int64) measure.Length { return measure.Length(l) }),
		rapid.SampledFrom([]measure.Length{0, 1, -1, in, 3 * in, 20 * measure.Foot, 1 << 62, -1 << 63, 1<<63 - 1}),
		length(0, 6*in), length(0, 6*in), length(0, 6*in),
	)
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.IntRange(0, 9)
		profile := func(name string) *stock.Profile {
			n := few.Draw(t, "how")
			switch n {
			case 0:
				return nil
			case 1:
				return &stock.Profile{
					Name: name, Role: stock.Role(rapid.Uint8().Draw(t, "role")), Thickness: wild.Draw(t, "thickness"), Width: wild.Draw(t, "width"),
					Spring: measure.Angle(rapid.Int64().Draw(t, "spring")),
				}
			}
			role := rapid.SampledFrom([]stock.Role{stock.RoleCasing, stock.RoleFillet, stock.RoleFrieze, stock.RoleCap, stock.RoleCrown, stock.RoleBed, stock.RoleBand}).Draw(t, "role")
			return rolled(role, name, length(in/8, 4*in).Draw(t, "thickness"), length(in/8, 6*in).Draw(t, "width"))
		}
		s := takeoff.Scheme{Base: profile("base"), PictureRail: profile("rail"), Crown: rolled(stock.RoleCrown, "room crown", in/2, 4*in), Casing: profile("casing"), Backband: profile("band"), Plinth: profile("plinth"), Stool: profile("stool")}
		for i := range rapid.IntRange(0, 3).Draw(t, "styles") {
			c := takeoff.CasingStyle{
				Name: string(rune('a' + i)), Joint: takeoff.CasingJoint(rapid.IntRange(0, 3).Draw(t, "joint")), Casing: profile("its casing"),
				Plinth: profile("its plinth"), Mullion: profile("its mullion"), Apron: profile("its apron"),
			}
			if c.Joint == takeoff.CasingBlock {
				c.Block = profile("its block")
			}
			switch few.Draw(t, "wild") {
			case 0:
				c.PlinthHeight, c.BackbandLap, c.FlatEdge, c.BlockHeight = wild.Draw(t, "plinth"), wild.Draw(t, "lap"), wild.Draw(t, "flat"), wild.Draw(t, "block")
			case 1:
				c.Without = []stock.Role{stock.Role(rapid.Uint8().Draw(t, "without"))}
			case 2:
				c.Kinds = []takeoff.OpeningKind{takeoff.OpeningKind(few.Draw(t, "kind"))}
			}
			for range rapid.IntRange(0, 4).Draw(t, "members") {
				m := takeoff.HeadMember{Profile: profile("member"), Return: rapid.Bool().Draw(t, "return"), Around: few.Draw(t, "around") == 0}
				if m.Profile == nil || !m.Profile.Role.Sprung() {
					m.Overhang = wild.Draw(t, "overhang")
				} else {
					m.Return = false
				}
				c.Head = append(c.Head, m)
			}
			s.CasingStyles = append(s.CasingStyles, c)
		}
		var on []takeoff.Opening
		at := measure.Length(0)
		for range rapid.IntRange(0, 3).Draw(t, "openings") {
			o := takeoff.Opening{
				At: at + length(in, 8*in).Draw(t, "wall"), Kind: takeoff.OpeningKind(rapid.IntRange(0, 3).Draw(t, "kind")),
				Width: length(in, 30*in).Draw(t, "width"), Height: length(in, 80*in).Draw(t, "height"), Sill: length(0, 40*in).Draw(t, "sill"),
				Style: rapid.SampledFrom([]string{"", "", "a", "b", "z"}).Draw(t, "style"), Joined: few.Draw(t, "joined") == 0,
			}
			at = o.At + o.Width
			on = append(on, o)
		}
		rooms := hall(on...)
		rooms[0].Height = length(0, 10*measure.Foot).Draw(t, "room")
		opt := &takeoff.Options{FloorGap: length(0, in).Draw(t, "gap"), ReturnApron: true}
		list, err := takeoff.Take(rooms, s, opt)
		if (list == nil) != (err != nil) {
			t.Fatalf("list %v, error %v", list, err)
		}
		known(t, err)
		if list != nil {
			placed(t, list, rooms)
		}
		_, err = takeoff.Check(rooms, s, opt)
		known(t, err)
		_, err = takeoff.CheckTrim(rooms, s, takeoff.Conditions{MaxTransport: 8 * measure.Foot})
		known(t, err)
		if list == nil {
			return
		}
		labels := map[string]bool{}
		for _, p := range list.Pieces {
			if sum, err := total(p.Allowances); err != nil || sum != p.Length || p.Length <= 0 {
				t.Fatalf("%s: length %v, allowances %v", p.Label, p.Length, p.Allowances)
			}
			if labels[p.Label] {
				t.Fatalf("label %q is used twice", p.Label)
			}
			labels[p.Label] = true
		}
		var joints takeoff.Joints
		for _, s := range list.Totals {
			joints.Butts += s.Joints.Butts
			joints.FlatMiters += s.Joints.FlatMiters
			joints.Returns += s.Joints.Returns
		}
		if joints.Butts != list.Joints.Butts || joints.FlatMiters != list.Joints.FlatMiters || joints.Returns != list.Joints.Returns {
			t.Fatalf("joints of profiles %+v, of all %+v", joints, list.Joints)
		}
	})
}

// The ends of a head come out of package joint: its settings are those of a saw's table for
// crown in a square corner, 38° of spring: miter 31.62°, bevel 33.86° (saws' manuals print
// 31.6 and 33.9), the setback its projection.
func TestHeadAtTheSaw(t *testing.T) {
	const in = measure.Inch
	crown := rolled(stock.RoleCrown, "cornice", 9*in/16, 3*in) // 38°
	style := takeoff.CasingStyle{Joint: takeoff.CasingButt, Head: []takeoff.HeadMember{
		{Profile: rolled(stock.RoleFillet, "fillet", 5*in/4, in/2), Return: true}, {Profile: rolled(stock.RoleFrieze, "frieze", 3*in/4, 6*in)}, {Profile: crown},
	}}
	list, err := checkDoor(takeoff.Scheme{}, style)
	if err != nil {
		t.Fatal(err)
	}
	profiles := map[string]stock.Profile{"casing": *board("casing", 3*in/4, 7*in/2)}
	for _, m := range style.Head {
		profiles[m.Profile.Name] = *m.Profile
	}
	seen := 0
	for _, p := range list.Pieces {
		for _, e := range []stock.End{p.Left, p.Right} {
			cut, err := joint.NewCut(profiles[p.Profile], e)
			if err != nil || cut.End.Setback != e.Setback {
				t.Errorf("%s: %+v, %v", p.Label, cut, err)
			}
			switch {
			case e.Kind != stock.EndReturn:
				if e != (stock.End{}) {
					t.Errorf("%s: %+v", p.Label, e)
				}
			case strings.Contains(p.Label, "crown"):
				seen++
				if m, b := cut.Flat.Miter.Degrees(), cut.Flat.Bevel.Degrees(); m < 31.615 || m > 31.625 || b < 33.855 || b > 33.865 || e.Setback != crown.Projection() {
					t.Errorf("%s: %v, %v, %v", p.Label, m, b, e.Setback)
				}
			default: // it stands on the saw as on the wall: 45° through 1 1/4 in
				seen++
				if cut.Standing.Miter != 45*measure.Degree || e.Setback != 5*in/4 {
					t.Errorf("%s: %+v", p.Label, cut)
				}
			}
		}
	}
	if seen != 8 {
		t.Errorf("%d ends are returned", seen)
	}
}
