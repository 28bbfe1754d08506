package scribe_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/scribe"
)

// The corner of two leaning walls is rounded once: derived, (x + own·cos A)/sin A with
// x = height·Out/Over, worked out to 40 digits.
func TestCornerIsRoundedOnce(t *testing.T) {
	l, next := scribe.Lean{Out: 6_096_000, Over: 33_909_000}, scribe.Lean{Out: 4_714_794, Over: 108_823_310}
	if got, err := l.Corner(next, 86_297_575_808, false, 78_783_877); err != nil || got != 40_255_422 {
		t.Errorf("%d, %v", got, err)
	}
}

// Trim whose lower edge does not reach the floor stands off it, if nothing is taken off.
func TestNothingTakenOffLeavesAGap(t *testing.T) {
	s := scribe.Surface{{At: 0, FromLine: 12 * in}, {At: 48 * in, FromLine: 49 * in / 4}}
	if c := s.Cut(0, 48*in, 47*in/4, in/16); c.Kind != scribe.CutNone || c.Gap != in/2 {
		t.Errorf("%+v", c)
	}
}

// The strict reader also reads back the JSON of a shape.
func TestShapeIsReadStrictly(t *testing.T) {
	f := scribe.Floor{Height: 5 * in, Walls: []scribe.Surface{{}, {{At: in, FromLine: 12 * in}, {At: 48 * in, FromLine: 49 * in / 4}}}}
	want, err := f.Shape()
	if err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	var got scribe.FloorShape
	if err := measure.UnmarshalStrict(data, &got); err != nil || got != want {
		t.Errorf("%+v, %v", got, err)
	}
}

// A zero that is written out would stand for the other width, the other height.
func TestZeroSecondSizeIsRefused(t *testing.T) {
	for _, name := range []string{"top_width", "right_height"} {
		err := json.Unmarshal([]byte(`{"width": "30in", "height": "60in", "`+name+`": "0in"}`), new(scribe.Extension))
		var field *measure.FieldError
		if !errors.As(err, &field) || field.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
}
