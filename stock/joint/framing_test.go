package joint_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// outer returns the side of a frame, long point to long point, for an inner edge.
func outer(t *testing.T, inner, width measure.Length) measure.Length {
	t.Helper()
	p := stock.Profile{Name: "frame", Role: stock.RoleCasing, Thickness: width, Width: width}
	c, err := joint.NewCut(p, stock.End{Kind: stock.EndFlatMiter})
	if err != nil {
		t.Fatal(err)
	}
	return inner + 2*c.Allowance
}

func TestPublishedFrames(t *testing.T) {
	const in, mm, cm = measure.Inch, measure.Millimeter, measure.Centimeter
	// 16 × 20 in with molding of 2 in: sticks of 20 and 24 in; with 1/16 in of play on each
	// piece the two from one 4-ft length use 44 1/8 in (a framing page).
	a, b := outer(t, 16*in, 2*in), outer(t, 20*in, 2*in)
	if a != 20*in || b != 24*in || a+b+2*in/16 != 44*in+in/8 {
		t.Errorf("16 × 20: %v and %v", a, b)
	}
	// 305 × 407 mm with molding of 66 mm: 1424 and 4 for play and 8·66, 1956 mm in all (a
	// framing supplier).
	if all := 2*outer(t, 305*mm, 66*mm) + 2*outer(t, 407*mm, 66*mm) + 4*mm; all != 1956*mm {
		t.Errorf("305 × 407: %v", all)
	}
	// 20 × 25 cm with wood of 1 cm: a published example prints 23 and 28 cm; its own rule,
	// size + 2·width, gives 22 and 27.
	a, b = outer(t, 20*cm, cm), outer(t, 25*cm, cm)
	if a != 22*cm || b != 27*cm || a == 23*cm || b == 28*cm {
		t.Errorf("20 × 25: %v and %v", a, b)
	}
}
