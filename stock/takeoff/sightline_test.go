package takeoff_test

import (
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

const bay = 16 * measure.Inch

// long returns a room of 28 ft by 12 ft with a door in its south wall, its middle at 8 ft
// from the left end of that wall, which faces 20 ft of the north wall.
func long() takeoff.Room {
	r := rectangle("28ft", "12ft", "28ft", "12ft")
	r.Walls[2].Openings = []takeoff.Opening{{At: 6*measure.Foot + 6*measure.Inch, Width: 3 * measure.Foot, ExistingWidth: 3 * measure.Inch}}
	return r
}

func north(t *testing.T, r takeoff.Room, o *takeoff.Options) (stock.Run, *takeoff.List) {
	t.Helper()
	list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: base()}, o)
	if err != nil {
		t.Fatal(err)
	}
	return list.Runs[0], list
}

func TestSplicesAvoidOutlets(t *testing.T) {
	r := long()
	run, _ := north(t, r, nil)
	if !slices.Equal(run.Splices, []measure.Length{11 * bay}) {
		t.Fatalf("splices at %v", run.Splices)
	}
	// An outlet at the stud: the next best is used, the other stays as a choice to avoid.
	r.Walls[0].KeepClear = []takeoff.KeepClear{{Name: "outlet", At: 11*bay - measure.Inch, Width: 3 * measure.Inch}}
	run, list := north(t, r, nil)
	if slices.Contains(run.Splices, 11*bay) || !slices.Contains(run.Splice.Avoid, 11*bay) || slices.Contains(run.Splice.At, 11*bay) || len(run.Splices) != 1 {
		t.Errorf("splices at %v, %+v", run.Splices, run.Splice)
	}
	if slices.ContainsFunc(list.Findings, func(f takeoff.Finding) bool { return f.Code == takeoff.FindingSpliceSeen }) {
		t.Errorf("%+v", list.Findings)
	}
	// The rule's choices are the studs that one splice can use.
	choices := run.Splice.Choices(run.Length, 16*measure.Foot, 100)
	if !slices.EqualFunc(choices, [][]measure.Length{{10 * bay}}, slices.Equal[[]measure.Length]) {
		t.Errorf("choices %v", choices)
	}
	for _, at := range choices {
		if ps, err := run.Pieces(at); err != nil || len(ps) != 2 || ps[0].Length > 16*measure.Foot || ps[1].Length > 16*measure.Foot {
			t.Errorf("%v: %v, %v", at, ps, err)
		}
	}
	// The whole wall is to be kept clear: it is spliced, with a finding.
	r.Walls[0].KeepClear = []takeoff.KeepClear{{Name: "glass", At: 0, Width: 28 * measure.Foot}}
	run, list = north(t, r, nil)
	if !slices.Equal(run.Splices, []measure.Length{11 * bay}) || len(list.Findings) != 1 || list.Findings[0].Code != takeoff.FindingSpliceSeen {
		t.Errorf("splices at %v, %+v", run.Splices, list.Findings)
	}
	// Low base goes anywhere but there.
	low := base()
	low.Width = 2 * measure.Inch
	r.Walls[0].KeepClear = []takeoff.KeepClear{{At: 14 * measure.Foot, Width: 3 * measure.Foot}}
	l, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: low}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if x := l.Runs[0].Splices[0]; x >= 14*measure.Foot && x <= 17*measure.Foot {
		t.Errorf("low base spliced at %v", x)
	}
}

func TestSightLine(t *testing.T) {
	r := long()
	// The door faces 20 ft from the left end of the north wall: 28 − 8.
	o := &takeoff.Options{Sight: 11 * measure.Foot} // 14 ft 6 in to 25 ft 6 in
	run, _ := north(t, r, o)
	if !slices.Equal(run.Splices, []measure.Length{10 * bay}) || len(run.Splice.Avoid) != 9 || run.Splice.Avoid[0] != 11*bay || run.Splice.Avoid[8] != 19*bay {
		t.Errorf("splices at %v", run.Splices)
	}
	// A chimney breast of the south side hides nothing; one that stands before the door
	// does: an L whose nearer wall is faced.
	l := takeoff.Room{Name: "corridor", Entry: "S", Walls: []takeoff.Wall{
		{Name: "N", Length: 10 * measure.Foot}, {Name: "step", Length: 4 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerOutside}},
		{Name: "shelf", Length: 20 * measure.Foot}, {Name: "E", Length: 8 * measure.Foot},
		{Name: "S", Length: 30 * measure.Foot}, {Name: "W", Length: 12 * measure.Foot},
	}}
	list, err := takeoff.Take([]takeoff.Room{l}, takeoff.Scheme{Base: base()}, &takeoff.Options{Sight: 2 * measure.Foot})
	if err != nil {
		t.Fatal(err)
	}
	// One stands in the middle of S, 15 ft from either end, and faces shelf at 5 ft.
	for _, run := range list.Runs {
		if avoids := len(run.Splice.Avoid) > 0; avoids != (run.Wall == "shelf") {
			t.Errorf("%s avoids %v", run.Label, run.Splice.Avoid)
		}
	}
	// In a room with an oblique corner nothing is known.
	l.Walls[3].Corner.Angle = 100 * measure.Degree
	if list, err = takeoff.Take([]takeoff.Room{l}, takeoff.Scheme{Base: base()}, &takeoff.Options{Sight: 2 * measure.Foot}); err != nil {
		t.Fatal(err)
	}
	for _, run := range list.Runs {
		if len(run.Splice.Avoid) > 0 {
			t.Errorf("%s avoids %v", run.Label, run.Splice.Avoid)
		}
	}
}

// One comes to the west wall of long from its left, to the east wall from its right.
func TestLapFromEntry(t *testing.T) {
	r := long()
	r.Walls[1].Length, r.Walls[3].Length = 20*measure.Foot, 20*measure.Foot
	r.Walls[2].Openings[0].At = 14*measure.Foot - r.Walls[2].Openings[0].Width/2
	for _, from := range []bool{false, true} {
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: base()}, &takeoff.Options{LapFromEntry: from})
		if err != nil {
			t.Fatal(err)
		}
		over := map[string]bool{} // the right part, by wall
		for _, run := range list.Runs {
			over[run.Wall] = run.Splice.RightOver
		}
		if over["W"] || over["E"] != from {
			t.Errorf("from entry %v: %v", from, over)
		}
		for _, p := range list.Pieces {
			end := stock.EndScarfOver
			if over["E"] {
				end = stock.EndScarfUnder
			}
			if p.Run == "classroom E base" && p.Part == 1 && p.Right.Kind != end {
				t.Errorf("%s: %v", p.Label, p.Right.Kind)
			}
		}
	}
}
