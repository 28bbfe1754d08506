package stock_test

import (
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"github.com/google/go-cmp/cmp"
)

func TestRackSticksOf(t *testing.T) {
	const ft = measure.Foot
	rack := stock.Rack{Offcuts: []stock.Offcut{
		{Profile: "base", Material: "oak", Length: 3 * ft},
		{Profile: "base", Material: "pine", Length: 4 * ft, Label: "painted"},
		{Profile: "base", Length: 5 * ft},
		{Profile: "base", Material: "oak", Length: 6 * ft, Count: 2},
		{Profile: "crown", Material: "oak", Length: 7 * ft},
		{Profile: "base", Material: "oak"}, {Profile: "base", Material: "oak", Length: ft, Count: -1},
	}}
	for _, c := range []struct {
		material string
		want     []stock.Stick
	}{
		{"oak", []stock.Stick{
			{Length: 6 * ft, Limit: 2, Profile: "base", Material: "oak", Rack: true},
			{Length: 3 * ft, Limit: 1, Profile: "base", Material: "oak", Rack: true},
		}},
		{"pine", []stock.Stick{{Label: "painted", Length: 4 * ft, Limit: 1, Profile: "base", Material: "pine", Rack: true}}},
		{"", []stock.Stick{{Length: 5 * ft, Limit: 1, Profile: "base", Rack: true}}},
		{"ash", nil},
	} {
		if d := cmp.Diff(c.want, rack.SticksIn("base", c.material)); d != "" {
			t.Errorf("%q (-want +got):\n%s", c.material, d)
		}
	}
	// Sticks accepts any material, and reports which.
	var materials []string
	for _, s := range rack.Sticks("base") {
		materials = append(materials, s.Material)
	}
	if d := cmp.Diff([]string{"oak", "", "pine", "oak"}, materials); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

func TestRackValidate(t *testing.T) {
	const ft = measure.Foot
	for _, c := range []struct {
		rack               stock.Rack
		field, value, want string
	}{
		{stock.Rack{}, "", "", ""},
		{stock.Rack{Keep: ft, Offcuts: []stock.Offcut{{Length: ft}, {Length: 2 * ft, Count: 3}}}, "", "", ""}, // one profile, not named
		{stock.Rack{Offcuts: []stock.Offcut{{Profile: "base", Length: ft}, {Profile: "base"}, {Length: -ft}}}, "offcuts[1].length", `0"`, "more than zero"},
		{stock.Rack{Offcuts: []stock.Offcut{{Length: ft, Count: -2}}}, "offcuts[0].count", "-2", "zero (for one) or more"},
		{stock.Rack{Offcuts: []stock.Offcut{{Length: ft}, {Profile: "base", Length: ft}}}, "offcuts[0].profile", "", "a name, because another offcut has one"},
		{stock.Rack{Keep: -1}, "keep", `just below 0"`, "zero (for everything) or more"},
		{stock.Rack{Rules: []stock.KeepRule{{}, {Keep: -ft}}}, "rules[1].keep", (-ft).String(), "zero (for everything) or more"},
		{stock.Rack{Applied: []stock.RackRecord{{ID: "a"}, {}}}, "applied[1].id", "", "a name that no other change has"},
		{stock.Rack{Applied: []stock.RackRecord{{ID: "a"}, {ID: "b"}, {ID: "a"}}}, "applied[2].id", "a", "a name that no other change has"},
	} {
		err := c.rack.Validate()
		if c.field == "" {
			if err != nil {
				t.Errorf("%+v: %v", c.rack, err)
			}
			continue
		}
		var fe *measure.FieldError
		if !errors.As(err, &fe) || *fe != (measure.FieldError{Field: c.field, Value: c.value, Want: c.want}) {
			t.Errorf("%+v: %v", c.rack, err)
		}
	}
}
