package takeoff_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
)

func readings(feet ...measure.Length) (rs []takeoff.WallReading) {
	for i, f := range feet {
		rs = append(rs, takeoff.WallReading{Room: "classroom", Wall: string("NESWABCD"[i]), Length: f * measure.Foot})
	}
	return rs
}

func TestPublishedEstimates(t *testing.T) {
	for _, c := range []struct {
		what     string
		q        takeoff.RoughRule
		readings []takeoff.WallReading
		need     measure.Length
		buy      float64 // feet
	}{
		// Walls of 13, 12, 6, 4, 7 and 2 ft, a foot added to each: 50 ft (a molding maker's
		// measuring page).
		{"a foot each", takeoff.RoughRule{Each: measure.Foot}, readings(13, 12, 6, 4, 7, 2), 50 * measure.Foot, 50},
		// 421 ft of base: the estimating textbook (sect. 13-7, p. 169, example 13-25) orders
		// 440, which is 4.5% more; 5% makes 442.05.
		{"textbook", takeoff.RoughRule{Waste: 5 * measure.Percent}, readings(148, 149, 124), 421 * measure.Foot, 442.05},
		// Two conventions for 15%: need·1.15 and need/.85. Over the same 106 in they give
		// 22.16 and 22.67 boards of 5 1/2 in (US Army EN01136, lesson 5; the first derived).
		{"of need", takeoff.RoughRule{Round: measure.Inch, Waste: 15 * measure.Percent}, []takeoff.WallReading{{Length: 106 * measure.Inch}}, 106 * measure.Inch, 121.9 / 12},
		{"of purchase", takeoff.RoughRule{Round: measure.Inch, Waste: 15 * measure.Percent, OfPurchase: true}, []takeoff.WallReading{{Length: 106 * measure.Inch}}, 106 * measure.Inch, 124.70588 / 12},
		{"rounded up", takeoff.RoughRule{}, []takeoff.WallReading{{Length: 10*measure.Foot + 1}, {Wall: "b", Length: 10 * measure.Foot}}, 21 * measure.Foot, 21},
	} {
		need, buy, err := c.q.Total(c.readings)
		if err != nil {
			t.Fatalf("%s: %v", c.what, err)
		}
		if d := buy.Feet() - c.buy; need != c.need || d > 1e-6 || d < -1e-6 {
			t.Errorf("%s: need %v, buy %.6f ft, want %.6f", c.what, need, buy.Feet(), c.buy)
		}
	}
	for field, x := range map[string]struct {
		q  takeoff.RoughRule
		rs []takeoff.WallReading
	}{
		"round":              {takeoff.RoughRule{Round: -1}, nil},
		"each":               {takeoff.RoughRule{Each: -1}, nil},
		"waste":              {takeoff.RoughRule{Waste: 100 * measure.Percent}, nil},
		"readings[1].length": {takeoff.RoughRule{}, []takeoff.WallReading{{}, {Length: -1}}},
	} {
		var fe *measure.FieldError
		if _, _, err := x.q.Total(x.rs); !errors.As(err, &fe) || fe.Field != field || strings.Contains(fe.Want, "less than 1/16") {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// Ten percent on many short walls buys too much, and on few long walls too little: offcuts
// and joints decide, not feet.
func TestCompare(t *testing.T) {
	const ft = measure.Foot
	list := take(t, rectangle("9ft", "9ft", "9ft", "9ft"), takeoff.Scheme{Base: base()})
	c, err := list.Compare("base", takeoff.RoughRule{Waste: 10 * measure.Percent}, readings(9, 9, 9, 8), shelf([2]int64{16, 2400}), measure.Inch/8)
	if err != nil {
		t.Fatal(err)
	}
	// 35 ft and 10% are 38 1/2 ft: three sticks, although each wall takes one of four.
	if c.Sticks != 3 || c.Cost != 7200 || c.Picked.Cost != 9600 || c.OverCost != -2400 || c.Over != -16*ft || len(c.Missing) != 1 || c.Exact != 36*ft {
		t.Errorf("%+v", c)
	}
	want := []takeoff.WallComparison{
		{Room: "classroom", Wall: "N", Counted: 9 * ft, Exact: 9 * ft}, {Room: "classroom", Wall: "E", Counted: 9 * ft, Exact: 9 * ft},
		{Room: "classroom", Wall: "S", Counted: 9 * ft, Exact: 9 * ft}, {Room: "classroom", Wall: "W", Counted: 8 * ft, Exact: 9 * ft, Spare: -ft},
	}
	if d := cmp.Diff(want, c.Walls); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}

	// A forgotten wall is detected, and one that does not exist too.
	c, err = list.Compare("base", takeoff.RoughRule{}, append(readings(9, 9), takeoff.WallReading{Room: "attic", Wall: "N", Length: ft}), shelf([2]int64{16, 2400}), 0)
	if err != nil || len(c.Walls) != 5 || c.Walls[2].Spare != ft || c.Walls[3].Spare != -9*ft || c.Walls[3].Counted != 0 {
		t.Errorf("%+v, %v", c, err)
	}
	// Nothing read, nothing bought: everything is lacking.
	if c, err = list.Compare("base", takeoff.RoughRule{}, nil, shelf([2]int64{16, 2400}), 0); err != nil || c.Sticks != 0 || len(c.Missing) != 4 {
		t.Errorf("%+v, %v", c, err)
	}

	var fe *measure.FieldError
	if _, err := list.Compare("base", takeoff.RoughRule{}, append(readings(9), readings(9)...), shelf([2]int64{16, 1}), 0); !errors.As(err, &fe) || fe.Field != "readings[1].wall" {
		t.Errorf("%v", err)
	}
	if _, err := list.Compare("base", takeoff.RoughRule{}, nil, nil, 0); !errors.As(err, &fe) || fe.Field != "shelf" {
		t.Errorf("%v", err)
	}
}
