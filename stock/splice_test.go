package stock_test

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Choices against every subset of the positions.
func TestChoicesAreAllWithFewestSplices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		longest := measure.Length(rapid.IntRange(10, 60).Draw(t, "longest"))
		length := longest + measure.Length(rapid.IntRange(1, 80).Draw(t, "more"))
		r := stock.SpliceRule{Overlap: measure.Length(rapid.IntRange(0, 5).Draw(t, "overlap")), MinPart: measure.Length(rapid.IntRange(0, 20).Draw(t, "min part"))}
		at := rapid.SliceOfNDistinct(rapid.IntRange(1, int(length)-1), 0, 9, rapid.ID[int]).Draw(t, "positions")
		slices.Sort(at)
		for _, x := range at {
			r.At = append(r.At, measure.Length(x))
		}
		run := stock.Run{Label: "N base", Length: length, Splice: r}
		fewest := len(at) + 1
		var want [][]measure.Length
		for set := 1; set < 1<<len(at); set++ {
			var try []measure.Length
			for i, x := range r.At {
				if set&(1<<i) != 0 {
					try = append(try, x)
				}
			}
			ps, err := run.Pieces(try)
			if err != nil || slices.ContainsFunc(ps, func(p stock.Piece) bool { return p.Length > longest }) || len(try) > fewest {
				continue
			}
			if len(try) < fewest {
				fewest, want = len(try), nil
			}
			want = append(want, try)
		}
		got := r.Choices(length, longest, 1000)
		slices.SortFunc(want, func(a, b []measure.Length) int { return slices.Compare(b, a) })
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("(-want +got):\n%s", d)
		}
		best, ok := r.Place(length, longest)
		if ok != (len(want) > 0) || ok && !slices.ContainsFunc(want, func(w []measure.Length) bool { return slices.Equal(w, best) }) {
			t.Fatalf("place %v is not among %v", best, want)
		}
		if n := len(want); n > 1 && len(r.Choices(length, longest, n-1)) != n-1 {
			t.Fatal("limit")
		}
	})
}

func TestRunPieces(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	run := stock.Run{
		Label: "classroom N base", Profile: "base", Length: 20 * ft, Left: stock.End{Kind: stock.EndCope},
		Splice: stock.SpliceRule{
			At: []measure.Length{8 * ft, 10 * ft}, Avoid: []measure.Length{9 * ft}, Overlap: 9 * in / 16, MinPart: 16 * in,
			Bevel: 45 * measure.Degree, RightOver: true,
		},
	}
	ps, err := run.Pieces([]measure.Length{9 * ft})
	if err != nil {
		t.Fatal(err)
	}
	if len(ps) != 2 || ps[0].Length != 9*ft+9*in/32 || ps[1].Length != 11*ft+9*in/32 ||
		ps[0].Left.Kind != stock.EndCope || ps[0].Right.Kind != stock.EndScarfUnder || ps[1].Left.Kind != stock.EndScarfOver || ps[1].Label != "classroom N base 2 of 2" {
		t.Errorf("%+v", ps)
	}
	for _, c := range [][]measure.Length{{7 * ft}, {10 * ft, 8 * ft}, {8 * ft, 8 * ft}, {-ft}} {
		var fe *measure.FieldError
		if ps, err := run.Pieces(c); !errors.As(err, &fe) || ps != nil {
			t.Errorf("%v: %v, %v", c, ps, err)
		}
	}
	run.Splice.MinPart = 11 * ft
	var fe *measure.FieldError
	if _, err := run.Pieces([]measure.Length{8 * ft}); !errors.As(err, &fe) || fe.Field != "at[0]" {
		t.Errorf("a part that is too short: %v", err)
	}
	// An open joint takes length away.
	run.Splice = stock.SpliceRule{Anywhere: true, Overlap: -in / 8}
	ps, err = run.Pieces([]measure.Length{ft, 2 * ft})
	if err != nil || ps[0].Length+ps[1].Length+ps[2].Length != 20*ft-in/4 || ps[1].Left != (stock.End{}) {
		t.Errorf("%+v, %v", ps, err)
	}
}

func TestSpliceNeverPanics(t *testing.T) {
	wild := rapid.OneOf(rapid.Map(rapid.Int64(), func(l int64) measure.Length { return measure.Length(l) }),
		rapid.SampledFrom([]measure.Length{0, 1, -1, 12, 100, 1 << 60, 1<<63 - 1, -1 << 63}))
	rapid.Check(t, func(t *rapid.T) {
		r := stock.Run{Length: wild.Draw(t, "length"), Splice: stock.SpliceRule{
			At: rapid.SliceOfN(wild, 0, 5).Draw(t, "at"), Anywhere: rapid.Bool().Draw(t, "anywhere"), Overlap: wild.Draw(t, "overlap"),
			Clear: wild.Draw(t, "clear"), MinPart: wild.Draw(t, "min part"), RightOver: rapid.Bool().Draw(t, "right over"),
		}}
		longest := wild.Draw(t, "longest")
		if at, ok := r.Splice.Place(r.Length, longest); ok {
			if _, err := r.Pieces(at); err != nil {
				t.Fatalf("%v: %v", at, err)
			}
		}
		r.Splice.Choices(r.Length, longest, 3)
		if _, err := r.Pieces(rapid.SliceOfN(wild, 0, 3).Draw(t, "splices")); err != nil {
			var fe *measure.FieldError
			if !errors.As(err, &fe) {
				t.Fatal(err)
			}
		}
	})
}

func TestProfileSticks(t *testing.T) {
	const in, ft = measure.Inch, measure.Foot
	p := stock.Profile{Name: "base", Thickness: in, Width: 5 * in, Lengths: []measure.Length{12 * ft, 16 * ft, 12 * ft}, EndTrim: in / 2, MillShort: 6 * in}
	// A "16-foot" stick may come 6 in short (mill ordering rules).
	want := []stock.Stick{
		{Length: 15*ft + 6*in, Nominal: 16 * ft, TrimStart: in / 2, TrimEnd: in / 2, Profile: "base"},
		{Length: 11*ft + 6*in, Nominal: 12 * ft, TrimStart: in / 2, TrimEnd: in / 2, Profile: "base"},
	}
	if d := cmp.Diff(want, p.Sticks()); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if p.Longest() != 15*ft+5*in {
		t.Errorf("longest %v", p.Longest())
	}
	var fe *measure.FieldError
	p.Lengths = []measure.Length{7 * in}
	if err := p.Validate(); !errors.As(err, &fe) || fe.Field != "lengths[0]" || len(p.Sticks()) != 0 {
		t.Errorf("%v, %v", err, p.Sticks())
	}
}

// In JSON, too, a scarf laps over its other part by a bool.
func TestRightOver(t *testing.T) {
	for text, right := range map[string]bool{`{"right_over":true}`: true, `{"right_over":false}`: false, `{}`: false, `{"right_over":null}`: false} {
		var plain, strict stock.SpliceRule
		err, err2 := json.Unmarshal([]byte(text), &plain), measure.UnmarshalStrict([]byte(text), &strict)
		if err != nil || err2 != nil || plain.RightOver != right || strict.RightOver != right {
			t.Errorf("%s: %v, %v, %v, %v", text, plain.RightOver, strict.RightOver, err, err2)
		}
	}
	var fe *measure.FieldError
	if err := measure.UnmarshalStrict([]byte(`{"splice":{"lap":"right over"}}`), new(stock.Run)); !errors.As(err, &fe) || fe.Field != "splice.lap" {
		t.Errorf("a name from before 1.0.0: %v", err)
	}
	for want, run := range map[string]stock.Run{
		`"splice":{"anywhere":true,"right_over":true}`: {Splice: stock.SpliceRule{Anywhere: true, RightOver: true}},
		`"splice":{"anywhere":true}`:                   {Splice: stock.SpliceRule{Anywhere: true}},
		`"length":"0in"}`:                              {},
	} {
		if text, err := json.Marshal(run); err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%s, want %s: %v", text, want, err)
		}
	}
}
