package stock_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"github.com/google/go-cmp/cmp"
)

func TestProfileDefaults(t *testing.T) {
	const in = measure.Inch
	base := stock.Profile{Name: "base", Thickness: 9 * in / 16, Width: 5 * in, Lengths: []measure.Length{8 * measure.Foot, 16 * measure.Foot}, EndTrim: in / 2}
	if base.Projection() != 9*in/16 || base.Drop() != 5*in || base.Developed() != 5*in+9*in/16 || base.Longest() != 16*measure.Foot-in {
		t.Errorf("projection %v, drop %v, developed %v, longest %v", base.Projection(), base.Drop(), base.Developed(), base.Longest())
	}
	base.Face, base.Lengths = 6*in, nil
	if base.Developed() != 6*in || base.Longest() != 0 {
		t.Errorf("developed %v, longest %v", base.Developed(), base.Longest())
	}
}

// Crown of nominal 4 5/8 in with a drop of 3 5/8 and a projection of 2 5/8 in (a
// forum's example) would have a spring of 35.9°, not 38°: the three do not fit
// together, so the spring has to be asked for. Derived from 4 5/8·sin and ·cos.
func TestCrownProfile(t *testing.T) {
	crown := stock.Profile{Name: "crown", Role: stock.RoleCrown, Thickness: 11 * measure.Inch / 16, Width: 37 * measure.Inch / 8}
	for _, c := range []struct {
		spring           measure.Angle
		projection, drop float64
	}{{0, 2.8474, 3.6445}, {45 * measure.Degree, 3.2704, 3.2704}, {30 * measure.Degree, 2.3125, 4.0054}, {60 * measure.Degree, 4.0054, 2.3125}} {
		crown.Spring = c.spring
		if p, d := crown.Projection().Inches(), crown.Drop().Inches(); p-c.projection > .00005 || c.projection-p > .00005 || d-c.drop > .00005 || c.drop-d > .00005 {
			t.Errorf("spring %v: projection %.4f, drop %.4f, want %.4f, %.4f", c.spring, p, d, c.projection, c.drop)
		}
	}
	if crown.Spring = 30 * measure.Degree; crown.Projection() != 37*measure.Inch/16 {
		t.Errorf("sin 30° is not exactly half: %d", crown.Projection())
	}
}

func TestProfileValidate(t *testing.T) {
	good := stock.Profile{Name: "base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch}
	if err := good.Validate(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		field, value string
		spoil        func(*stock.Profile)
	}{
		{"name", "", func(p *stock.Profile) { p.Name = "" }},
		{"thickness", `0"`, func(p *stock.Profile) { p.Thickness = 0 }},
		{"thickness", `-1"`, func(p *stock.Profile) { p.Thickness = -measure.Inch }},
		{"width", `1001'`, func(p *stock.Profile) { p.Width = 1001 * measure.Foot }},
		{"face", `-1"`, func(p *stock.Profile) { p.Face = -measure.Inch }},
		{"spring", "90°", func(p *stock.Profile) { p.Spring = 90 * measure.Degree }},
		{"spring", "-1°", func(p *stock.Profile) { p.Spring = -measure.Degree }},
		{"role", "Role(77)", func(p *stock.Profile) { p.Role = 77 }},
		{"inside", "InsideJoint(77)", func(p *stock.Profile) { p.Inside = 77 }},
		{"end_trim", `-1"`, func(p *stock.Profile) { p.EndTrim = -measure.Inch }},
		{"lengths[1]", `1"`, func(p *stock.Profile) {
			p.EndTrim, p.Lengths = measure.Inch, []measure.Length{measure.Foot, measure.Inch}
		}},
	} {
		p := good
		c.spoil(&p)
		var fe *measure.FieldError
		if err := p.Validate(); !errors.As(err, &fe) || fe.Field != c.field || fe.Value != c.value || fe.Want == "" {
			t.Errorf("%s: %v", c.field, err)
		}
	}
}

func TestNames(t *testing.T) {
	type all struct {
		End    stock.EndKind
		Use    stock.Role
		Inside stock.InsideJoint
		Class  stock.Class
		Turn   stock.Symmetry
	}
	for i := range 13 {
		v := all{
			stock.EndKind(i), stock.Role(min(i, 9)), stock.InsideJoint(min(i, 2)), stock.Class(min(i, 4)), stock.Symmetry(min(i, 2)),
		}
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var back all
		if err := json.Unmarshal(text, &back); err != nil || back != v {
			t.Errorf("%s reads as %+v, %v", text, back, err)
		}
	}
	var fe *measure.FieldError
	if _, err := stock.EndKind(13).MarshalText(); !errors.As(err, &fe) {
		t.Errorf("unknown kind: %v", err)
	}
	var k stock.EndKind
	if err := k.UnmarshalText([]byte("dovetail")); !errors.As(err, &fe) || fe.Value != "dovetail" {
		t.Errorf("%v", err)
	}
	var u stock.Role
	if err := u.UnmarshalText([]byte("roof")); !errors.As(err, &fe) {
		t.Errorf("%v", err)
	}
	var in stock.InsideJoint
	if err := in.UnmarshalText([]byte("glue")); !errors.As(err, &fe) {
		t.Errorf("%v", err)
	}
	for _, x := range []struct {
		v    interface{ UnmarshalText([]byte) error }
		bad  interface{ MarshalText() ([]byte, error) }
		name interface{ String() string }
		want string
	}{
		{new(stock.Class), stock.Class(9), stock.Class(9), "Class(9)"}, {new(stock.Symmetry), stock.Symmetry(9), stock.Symmetry(9), "Symmetry(9)"},
		{new(stock.Role), stock.Role(99), stock.Role(99), "Role(99)"},
	} {
		if err := x.v.UnmarshalText([]byte("x")); !errors.As(err, &fe) {
			t.Errorf("%T: %v", x.v, err)
		}
		if _, err := x.bad.MarshalText(); !errors.As(err, &fe) || x.name.String() != x.want {
			t.Errorf("%T: %v, %v", x.bad, err, x.name)
		}
	}
	if stock.SymmetryNone.MayTurn() || !stock.SymmetryEnds.MayTurn() || stock.SymmetryEnds.MayRoll() || !stock.SymmetryAll.MayTurn() || !stock.SymmetryAll.MayRoll() {
		t.Error("symmetry")
	}
}

func TestRackSticks(t *testing.T) {
	rack := stock.Rack{Offcuts: []stock.Offcut{
		{Profile: "base", Length: 3 * measure.Foot},
		{Profile: "crown", Length: 9 * measure.Foot},
		{Profile: "base", Length: 5 * measure.Foot, Count: 2, Label: "over the door"},
		{Profile: "base", Length: 0}, {Profile: "base", Length: measure.Foot, Count: -1},
	}}
	want := []stock.Stick{
		{Label: "over the door", Length: 5 * measure.Foot, Limit: 2, Profile: "base", Rack: true},
		{Length: 3 * measure.Foot, Limit: 1, Profile: "base", Rack: true},
	}
	if d := cmp.Diff(want, rack.Sticks("base")); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}
