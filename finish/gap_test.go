package finish_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// The corridor wall bellies: the base stands off 1/16 in at one end and 1/4 in in
// the middle.
func ExampleBead_gap() {
	n, _ := finish.Bead{
		Length:  16 * measure.Foot,
		Section: finish.Section{Depth: measure.Inch / 4},
		Readings: []finish.GapReading{
			{At: 0, Width: measure.Inch / 16},
			{At: 8 * measure.Foot, Width: measure.Inch / 4},
			{At: 16 * measure.Foot, Width: measure.Inch / 8},
		},
	}.Need()
	fmt.Println(n.Net)
	fmt.Println(n.Reasoning[0])
	// Output:
	// 8.25 cu in
	// 16 ft of gap 0.25 in deep, 3 readings of its width: 8.25 cu in
}

// Derived: a gap of constant width is a rectangular bead; one that tapers to zero is half of it; beyond
// the last reading the width stays.
func TestGap(t *testing.T) {
	straight := must[finish.Need](t)(finish.Bead{Section: finish.Section{Width: in / 8, Depth: in / 4}, Length: 10 * ft}.Need())
	gap := func(r ...finish.GapReading) finish.Amount {
		return must[finish.Need](t)(finish.Bead{Length: 10 * ft, Section: finish.Section{Depth: in / 4}, Readings: r}.Need()).Net
	}
	if got := gap(finish.GapReading{At: 3 * ft, Width: in / 8}); got != straight.Net {
		t.Errorf("one reading: %v, straight bead %v", got, straight.Net)
	}
	if got := gap(finish.GapReading{Width: in / 4}, finish.GapReading{At: 10 * ft}); got != straight.Net {
		t.Errorf("a taper from twice the width to nothing: %v, want %v", got, straight.Net)
	}
	if got := gap(finish.GapReading{At: 2 * ft, Width: in / 8}, finish.GapReading{At: 7 * ft, Width: in / 8}); got != straight.Net {
		t.Errorf("two equal readings: %v, want %v", got, straight.Net)
	}
	for name, g := range map[string]finish.Bead{
		"section.depth":  {Length: ft, Readings: []finish.GapReading{{}}},
		"section.width":  {Length: ft, Section: finish.Section{Width: in, Depth: in}, Readings: []finish.GapReading{{}}},
		"section.shape":  {Length: ft, Section: finish.Section{Shape: finish.BeadRound, Depth: in}, Readings: []finish.GapReading{{}}},
		"length":         {Length: -ft, Section: finish.Section{Depth: in}, Readings: []finish.GapReading{{}}},
		"readings[1].at": {Length: ft, Section: finish.Section{Depth: in}, Readings: []finish.GapReading{{At: in}, {At: 0}}},
		"readings[0].at": {Length: ft, Section: finish.Section{Depth: in}, Readings: []finish.GapReading{{At: 2 * ft}}},
		"readings[0].width": {Length: ft, Section: finish.Section{Depth: in},
			Readings: []finish.GapReading{{Width: math.MinInt64}}},
	} {
		_, err := g.Need()
		if f, ok := err.(*measure.FieldError); !ok || f.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := (finish.Bead{Length: math.MaxInt64, Section: finish.Section{Depth: math.MaxInt64}, Readings: []finish.GapReading{{Width: math.MaxInt64}}}).Need(); err == nil {
		t.Error("no error for a gap beyond the range")
	}
}
