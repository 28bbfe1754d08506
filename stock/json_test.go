package stock_test

import (
	"encoding/json"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// readsBack checks a promise of the package for a type: any value is written as JSON and read back,
// also strictly. known makes enumerations have valid values.
func readsBack[T any](t *testing.T, known func(*T)) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Make[T]().Draw(t, "value")
		if known != nil {
			known(&v)
		}
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var plain, strict T
		if err := json.Unmarshal(text, &plain); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		if err := measure.UnmarshalStrict(text, &strict); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		for _, back := range []T{plain, strict} {
			if d := cmp.Diff(v, back, cmpopts.EquateEmpty()); d != "" {
				t.Fatalf("%s (-want +got):\n%s", text, d)
			}
		}
	})
}

func TestJSONReadsBack(t *testing.T) {
	end := func(e *stock.End) { e.Kind %= stock.EndScribe + 1 }
	profile := func(p *stock.Profile) { p.Role, p.Inside, p.Symmetry = p.Role%10, p.Inside%3, p.Symmetry%3 }
	material := func(m *stock.Material) { m.Class %= 5 }
	for name, test := range map[string]func(*testing.T){
		"Stick":      func(t *testing.T) { readsBack[stock.Stick](t, nil) },
		"Rack":       func(t *testing.T) { readsBack[stock.Rack](t, nil) },
		"RackChange": func(t *testing.T) { readsBack[stock.RackChange](t, nil) },
		"SpliceRule": func(t *testing.T) { readsBack[stock.SpliceRule](t, nil) },
		"Fit":        func(t *testing.T) { readsBack[stock.Fit](t, nil) },
		"Rip":        func(t *testing.T) { readsBack[stock.Rip](t, nil) },
		"RipResult":  func(t *testing.T) { readsBack[stock.RipResult](t, nil) },
		"End":        func(t *testing.T) { readsBack(t, end) },
		"Profile":    func(t *testing.T) { readsBack(t, profile) },
		"Material":   func(t *testing.T) { readsBack(t, material) },
		"Piece": func(t *testing.T) {
			readsBack(t, func(p *stock.Piece) { end(&p.Left); end(&p.Right); p.Symmetry %= 3 })
		},
		"Run": func(t *testing.T) {
			readsBack(t, func(r *stock.Run) { end(&r.Left); end(&r.Right); r.Role %= 10 })
		},
		"Catalog": func(t *testing.T) {
			readsBack(t, func(c *stock.Catalog) {
				for i := range c.Profiles {
					profile(&c.Profiles[i])
				}
				for i := range c.Materials {
					material(&c.Materials[i])
				}
			})
		},
	} {
		t.Run(name, test)
	}
}
