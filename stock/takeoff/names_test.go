package takeoff_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// codes are the texts of the codes, in the order in which findings of a room come. They
// stand in people's files and programs and never change; new ones are added.
var codes = []string{
	"closure", "angle sum", "opposite walls", "missed inch", "missed foot", "missed decimeter",
	"missed meter", "top and bottom", "casing fit", "opening fit", "sliver", "thick base",
	"short return", "high crown", "splice seen", "ceiling angle", "out of level", "out of square",
	"corner reading", "height reading", "floor level", "base height", "shoe gap", "ceiling level", "uneven legs",
	"proud jamb", "jamb depth", "jamb twist", "jamb bow", "thin rip", "stool width",
	"paint line", "wet swelling", "proportion",
	"device", "narrow panel", "corner stile", "rail at stool", "unpaneled", "panel float",
	"wood rules", "transport", "open joints",
	"diagonal fit", "swapped digits", "wrong side", "wrong fraction", "weak check", "trim fit",
	"rail fit", "wide block", "wide lap", "thin head", "curve fit", "curved head",
	"mid-wall", "tight curve", "rigid trim", "loose edge", "thin backing", "stair fit", "rake",
	"roof pitch",
}

// The constants are these texts, each once, in this order.
func TestFindingCodes(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "finding.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var got, names, order []string
	ast.Inspect(file, func(n ast.Node) bool {
		v, ok := n.(*ast.ValueSpec)
		if !ok || len(v.Names) != 1 || len(v.Values) != 1 {
			return true
		}
		if v.Names[0].Name == "findingOrder" {
			for _, e := range v.Values[0].(*ast.CompositeLit).Elts {
				order = append(order, e.(*ast.Ident).Name)
			}
		}
		if kind, ok := v.Type.(*ast.Ident); ok && kind.Name == "FindingCode" {
			text, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, text)
			names = append(names, v.Names[0].Name)
		}
		return true
	})
	if !slices.Equal(got, codes) {
		t.Errorf("%q, want %q", got, codes)
	}
	if !slices.Equal(order, names) {
		t.Errorf("findings are sorted by %v, want %v", order, names)
	}
}

// A finding of a later version is read as it stands.
func TestUnknownFindingCode(t *testing.T) {
	const text = `{"code":"damp wall","severity":"advice","reason":"dry it"}`
	var f takeoff.Finding
	if err := json.Unmarshal([]byte(text), &f); err != nil || f.Code != "damp wall" {
		t.Fatalf("%+v, %v", f, err)
	}
	if back, err := json.Marshal(f); err != nil || string(back) != text {
		t.Errorf("%s, %v", back, err)
	}
}

// An unknown value is printed with its number, and is neither written nor read.
func TestUnknownKinds(t *testing.T) {
	for want, k := range map[string]fmt.Stringer{
		"CornerKind(9)": takeoff.CornerKind(9), "OpeningKind(9)": takeoff.OpeningKind(9), "Severity(9)": takeoff.Severity(9),
		"CasingJoint(9)": takeoff.CasingJoint(9),
	} {
		if got := fmt.Sprint(k); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	var fe *measure.FieldError
	for _, v := range []any{takeoff.Corner{Kind: 9}, takeoff.OpeningKind(9), takeoff.Severity(9), takeoff.CasingJoint(9)} {
		if _, err := json.Marshal(v); !errors.As(err, &fe) || fe.Field != "" {
			t.Errorf("%T: %v", v, err)
		}
	}
	// An enumeration does not know its field; the reader of the whole does.
	for _, v := range []encoding.TextUnmarshaler{new(takeoff.Corner), new(takeoff.OpeningKind), new(takeoff.Severity), new(takeoff.CasingJoint)} {
		if err := v.UnmarshalText([]byte("trapdoor")); !errors.As(err, &fe) || fe.Field != "" || fe.Value != "trapdoor" {
			t.Errorf("%T: %v", v, err)
		}
	}
	var room takeoff.Room
	if err := measure.UnmarshalStrict([]byte(`{"name": "corridor", "walls": [{"name": "N", "length": "9ft", "corner": "trapdoor"}]}`), &room); !errors.As(err, &fe) || fe.Field != "walls[0].corner" {
		t.Errorf("%v, want the path of the corner", err)
	}
}

func TestSpliceErrorText(t *testing.T) {
	se := &takeoff.SpliceError{Run: "N base", Length: 40 * measure.Foot, Longest: 8 * measure.Foot, Clear: 2 * measure.Foot, MinPart: measure.Foot, Studs: 3}
	if want := "on its 3 studs keeps 2' from the ends and parts of 1' or more"; !strings.Contains(se.Error(), want) {
		t.Errorf("%v, want %s", se, want)
	}
}
