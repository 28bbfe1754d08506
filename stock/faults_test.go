package stock_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"pgregory.net/rapid"
)

// spoiler puts one fault into a value of type T.
type spoiler[T any] struct {
	field string
	spoil func(*T)
}

// allFaults checks the promise that Validate reports every fault, in the order of the data: of any of
// the spoilers, which are in that order.
func allFaults[T interface{ Validate() error }](t *testing.T, good func() T, spoilers []spoiler[T]) {
	t.Helper()
	rapid.Check(t, func(t *rapid.T) {
		v := good()
		var want []string
		for _, s := range spoilers {
			if rapid.Bool().Draw(t, s.field) {
				s.spoil(&v)
				want = append(want, s.field)
			}
		}
		err := v.Validate()
		var got []string
		for e := range measure.FieldErrors(err) {
			if got = append(got, e.Field); e.Want == "" {
				t.Fatalf("%v does not say what is valid", e)
			}
		}
		if !slices.Equal(got, want) || (err == nil) != (len(want) == 0) {
			t.Fatalf("%q, want %q: %v", got, want, err)
		}
	})
}

func TestAllFaults(t *testing.T) {
	const in = measure.Inch
	t.Run("Profile", func(t *testing.T) {
		allFaults(t, func() stock.Profile {
			return stock.Profile{Name: "base", Thickness: in, Width: in, Lengths: []measure.Length{in, in}}
		}, []spoiler[stock.Profile]{
			{"name", func(p *stock.Profile) { p.Name = "" }},
			{"role", func(p *stock.Profile) { p.Role = 200 }},
			{"thickness", func(p *stock.Profile) { p.Thickness = -in }},
			{"width", func(p *stock.Profile) { p.Width = 0 }},
			{"face", func(p *stock.Profile) { p.Face = -in }},
			{"spring", func(p *stock.Profile) { p.Spring = -1 }},
			{"inside", func(p *stock.Profile) { p.Inside = 3 }},
			{"strip_joint", func(p *stock.Profile) { p.StripJoint = 1 }},
			{"symmetry", func(p *stock.Profile) { p.Symmetry = 3 }},
			{"lengths[1]", func(p *stock.Profile) { p.Lengths[1] = 0 }},
			{"end_trim", func(p *stock.Profile) { p.EndTrim = -in }},
			{"mill_short", func(p *stock.Profile) { p.MillShort = -in }},
		})
	})
	t.Run("Material", func(t *testing.T) {
		allFaults(t, func() stock.Material {
			return stock.Material{Name: "oak", Bow: &stock.Bow{}, Gaps: []stock.GapStep{{Per: 1}, {Below: 1, Per: 1}}, Lengths: []measure.Length{in}}
		}, []spoiler[stock.Material]{
			{"name", func(m *stock.Material) { m.Name = "" }},
			{"class", func(m *stock.Material) { m.Class = 5 }},
			{"thermal", func(m *stock.Material) { m.Thermal = -1 }},
			{"along", func(m *stock.Material) { m.Along = -1 }},
			{"across", func(m *stock.Material) { m.Across = 1_000_001 }},
			{"through", func(m *stock.Material) { m.Through = -1 }},
			{"min_moisture", func(m *stock.Material) { m.MinMoisture = -1 }},
			{"max_moisture", func(m *stock.Material) { m.MaxMoisture = 1 << 60 }},
			{"swell24h", func(m *stock.Material) { m.Swell24h = -1 }},
			{"bow.longer_than", func(m *stock.Material) { m.Bow.LongerThan = -1 }},
			{"bow.deduct", func(m *stock.Material) { m.Bow.Deduct = -1 }},
			{"gaps[0].gap", func(m *stock.Material) { m.Gaps[0].Gap = -1 }},
			{"gaps[1].below", func(m *stock.Material) { m.Gaps[1].Below = 0 }},
			{"gaps[1].per", func(m *stock.Material) { m.Gaps[1].Per = 0 }},
			{"lengths[0]", func(m *stock.Material) { m.Lengths[0] = -1 }},
		})
	})
	t.Run("Fit", func(t *testing.T) {
		allFaults(t, func() stock.Fit { return stock.Fit{Bow: &stock.Bow{}} }, []spoiler[stock.Fit]{
			{"bow.add", func(f *stock.Fit) { f.Bow.Add = -1 }},
			{"bow.per", func(f *stock.Fit) { f.Bow.Per = -1 }},
			{"between_finished", func(f *stock.Fit) { f.BetweenFinished = -1 }},
			{"install_temp", func(f *stock.Fit) { f.InstallTemp = 1 << 60 }},
			{"max_temp", func(f *stock.Fit) { f.MaxTemp = 1 << 60 }},
			{"install_moisture", func(f *stock.Fit) { f.InstallMoisture = -1 }},
			{"max_moisture", func(f *stock.Fit) { f.MaxMoisture = -1 }},
		})
	})
	t.Run("Rack", func(t *testing.T) {
		allFaults(t, func() stock.Rack {
			return stock.Rack{
				Rules: make([]stock.KeepRule, 2), Applied: []stock.RackRecord{{ID: "a"}, {ID: "b"}},
				Offcuts: []stock.Offcut{{ID: "a", Profile: "base", Length: in}, {ID: "b", Profile: "base", Length: in}},
			}
		}, []spoiler[stock.Rack]{
			{"keep", func(r *stock.Rack) { r.Keep = -1 }},
			{"rules[1].keep", func(r *stock.Rack) { r.Rules[1].Keep = -1 }},
			{"offcuts[0].length", func(r *stock.Rack) { r.Offcuts[0].Length = 0 }},
			{"offcuts[1].id", func(r *stock.Rack) { r.Offcuts[1].ID = "a" }},
			{"offcuts[1].profile", func(r *stock.Rack) { r.Offcuts[1].Profile = "" }},
			{"offcuts[1].length", func(r *stock.Rack) { r.Offcuts[1].Length = -1 }},
			{"offcuts[1].count", func(r *stock.Rack) { r.Offcuts[1].Count = -1 }},
			{"applied[0].id", func(r *stock.Rack) { r.Applied[0].ID = "" }},
			{"applied[1].id", func(r *stock.Rack) { r.Applied[1].ID = "" }},
		})
	})
	t.Run("Catalog", func(t *testing.T) {
		allFaults(t, func() stock.Catalog {
			return stock.Catalog{
				Materials: []stock.Material{{Name: "oak"}, {Name: "slate"}},
				Profiles:  []stock.Profile{{Name: "oak", Thickness: in, Width: in}, {Name: "crown", Thickness: in, Width: in}},
			}
		}, []spoiler[stock.Catalog]{
			{"materials[0].along", func(c *stock.Catalog) { c.Materials[0].Along = -1 }},
			{"materials[1].name", func(c *stock.Catalog) { c.Materials[1].Name = "oak" }},
			{"profiles[0].width", func(c *stock.Catalog) { c.Profiles[0].Width = -1 }},
			{"profiles[1].name", func(c *stock.Catalog) { c.Profiles[1].Name = "oak" }},
		})
	})
	t.Run("Rip", func(t *testing.T) {
		allFaults(t, func() ripped { return ripped{Width: measure.Foot, Strip: in} }, []spoiler[ripped]{
			{"width", func(r *ripped) { r.Width = 0 }},
			{"strip", func(r *ripped) { r.Strip = in / 2 }},
			{"kerf", func(r *ripped) { r.Kerf = -1 }},
			{"finished_edges", func(r *ripped) { r.FinishedEdges = 3 }},
			{"trim", func(r *ripped) { r.Trim = -1 }},
			{"min_strip", func(r *ripped) { r.MinStrip = -1 }},
		})
	})
	t.Run("Run", func(t *testing.T) {
		good := func() spliced {
			return spliced{Length: 10, Splice: stock.SpliceRule{At: []measure.Length{2, 4, 6}}}
		}
		allFaults(t, good, []spoiler[spliced]{
			{"splice.at[0]", func(r *spliced) { r.Splice.At[0] = 0 }},
			{"splice.at[2]", func(r *spliced) { r.Splice.At[2] = 4 }},
			{"splice.overlap", func(r *spliced) { r.Splice.Overlap = 1 << 61 }},
			{"splice.clear", func(r *spliced) { r.Splice.Clear = -1 }},
			{"splice.min_part", func(r *spliced) { r.Splice.MinPart = -1 }},
		})
		allFaults(t, good, []spoiler[spliced]{ // of the positions
			{"at", func(r *spliced) { r.Splice.MaxSplices = 2 }},
			{"at[0]", func(r *spliced) { r.Splice.At = r.Splice.At[1:] }},
			{"at[2]", func(r *spliced) { r.Splice.At = r.Splice.At[:len(r.Splice.At)-1] }},
		})
	})
	t.Run("RackChange", func(t *testing.T) {
		allFaults(t, func() change {
			return change{ID: "x", Uses: []stock.Offcut{{Length: 1}}, Leaves: []stock.Offcut{{Length: 1}, {Length: 1}}}
		}, []spoiler[change]{
			{"id", func(c *change) { c.ID = "" }},
			{"uses[0].length", func(c *change) { c.Uses[0].Length = 0 }},
			{"uses[0].count", func(c *change) { c.Uses[0].Count = -1 }},
			{"leaves[1].length", func(c *change) { c.Leaves[1].Length = 0 }},
		})
	})
}

// ripped is validated when a blank is ripped.
type ripped stock.Rip

func (r ripped) Validate() error {
	_, err := stock.Rip(r).Blank()
	return err
}

// spliced is validated when it is cut at three positions.
type spliced stock.Run

func (r spliced) Validate() error {
	_, err := stock.Run(r).Pieces([]measure.Length{2, 4, 6})
	return err
}

// change is validated when it is applied, here to a rack that has the offcuts it uses.
type change stock.RackChange

func (c change) Validate() error {
	_, err := stock.Rack{Offcuts: []stock.Offcut{{Length: 1}}}.Apply(stock.RackChange(c))
	return err
}

// A hundred are enough.
func TestFaultsEnd(t *testing.T) {
	var c stock.Catalog
	var r stock.Rack
	for range 300 {
		c.Profiles = append(c.Profiles, stock.Profile{})
		r.Offcuts = append(r.Offcuts, stock.Offcut{Length: -1})
	}
	for _, err := range []error{c.Validate(), r.Validate()} {
		var fields []string
		for e := range measure.FieldErrors(err) {
			fields = append(fields, e.Field)
		}
		if len(fields) != 100 {
			t.Errorf("%d faults", len(fields))
		}
	}
}

// An unknown kind is rejected with the path of the field.
func TestUnknownKinds(t *testing.T) {
	for text, want := range map[string]string{
		`{"profiles":[{},{"role":"roof"}]}`: `profiles[1].role is "roof", want a role: base, shoe, chair rail, picture rail, casing, crown, stool, apron, plinth, backband, ` +
			`cap, frieze, soffit, bed molding, band, backing, fillet, block, jamb extension, panel molding, stile, rail, panel, batten, skirt`,
		`{"profiles":[{"inside":"glue"}]}`:        `profiles[0].inside is "glue", want a joint: cope, miter, butt`,
		`{"profiles":[{"symmetry":"Any way"}]}`:   `profiles[0].symmetry is "Any way", want a symmetry: one way, end for end, any way`,
		`{"materials":[{"class":"Class(1)"}]}`:    `materials[0].class is "Class(1)", want a class: wood, composite, plastic, stone, tile`,
		`{"pieces":[{"left":{"kind":"finger"}}]}`: `pieces[0].left.kind is "finger", want a kind of end: square, cope, inside miter, outside miter, scarf over, scarf under, return, flat miter, butt, scribe, plumb cut, level cut, rake miter`,
	} {
		var v struct {
			Profiles  []stock.Profile  `json:"profiles"`
			Materials []stock.Material `json:"materials"`
			Pieces    []stock.Piece    `json:"pieces"`
		}
		err := measure.UnmarshalStrict([]byte(text), &v)
		if err == nil || err.Error() != want {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	for want, v := range map[string]interface {
		fmt.Stringer
		MarshalText() ([]byte, error)
	}{
		"EndKind(13)": stock.EndKind(13), "Role(200)": stock.Role(200), "InsideJoint(3)": stock.InsideJoint(3), "Class(5)": stock.Class(5), "Symmetry(255)": stock.Symmetry(255),
	} {
		var fe *measure.FieldError
		if _, err := json.Marshal(v); v.String() != want || !errors.As(err, &fe) || fe.Value != want || fe.Want == "" {
			t.Errorf("%v: %v", v, err)
		}
	}
}
