package takeoff_test

import (
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
	"pgregory.net/rapid"
)

// fewestSplices tries every choice of positions on a grid that contains all sizes: positions are
// ordered by the number of splices that reach them. It returns −1 if there is none.
func fewestSplices(length, longest, part, clear int, allowed func(int) bool) int {
	reached := map[int]bool{0: true}
	for n := 1; n <= length && len(reached) > 0; n++ {
		next := map[int]bool{}
		for x := range reached {
			for y := x + max(1, part); y <= x+longest && y < length; y++ {
				if y >= clear && length-y >= clear && allowed(y) {
					next[y] = true
				}
			}
		}
		for y := range next {
			if rest := length - y; rest >= part && rest <= longest {
				return n
			}
		}
		reached = next
	}
	return -1
}

// Butted strips find a way along every wall that has one, clear of the stretches to avoid if that costs
// no splice, and a finding reports if there is none.
func TestStripsAgainstEveryPlace(t *testing.T) {
	const grain = measure.Inch / 4
	rapid.Check(t, func(t *rapid.T) {
		longest := rapid.IntRange(1, 30).Draw(t, "strip")
		length := rapid.IntRange(1, 120).Draw(t, "wall")
		part, clear := rapid.IntRange(0, longest).Draw(t, "min part"), rapid.IntRange(0, longest).Draw(t, "clear")
		w := takeoff.Wall{Name: "N", Length: grain * measure.Length(length), Corner: takeoff.Corner{Kind: takeoff.CornerStop}}
		type stretch struct{ at, end int }
		var avoid []stretch
		for range rapid.IntRange(0, 3).Draw(t, "avoid") {
			at := rapid.IntRange(0, length).Draw(t, "at")
			width := rapid.IntRange(1, 2*longest).Draw(t, "width")
			avoid = append(avoid, stretch{at, at + width})
			w.KeepClear = append(w.KeepClear, takeoff.KeepClear{Name: "outlet", At: grain * measure.Length(at), Width: grain * measure.Length(width)})
		}
		p := board("strip", measure.Inch, 3*measure.Inch)
		p.ButtSpliced, p.Lengths = true, []measure.Length{grain * measure.Length(longest)}
		o := &takeoff.Options{Clear: grain * measure.Length(clear), MinPart: grain * measure.Length(part)}
		if part == 0 {
			part = (longest + 1) / 2 // half a strip, on the grid
			if longest%2 != 0 {
				t.Skip("half a strip is off the grid")
			}
		}
		list, err := takeoff.Take([]takeoff.Room{{Name: "hall", Walls: []takeoff.Wall{w}}}, takeoff.Scheme{Base: p}, o)
		want, free := 0, 0
		if length > longest {
			free = fewestSplices(length, longest, part, clear, func(x int) bool {
				for _, a := range avoid {
					if x > a.at && x < a.end {
						return false
					}
				}
				return true
			})
			want = fewestSplices(length, longest, part, clear, func(int) bool { return true })
		}
		if want < 0 {
			var se *takeoff.SpliceError
			if !errors.As(err, &se) {
				t.Fatalf("no position is valid; %v", err)
			}
			return
		}
		if err != nil {
			t.Fatalf("%d splices will do: %v", want, err)
		}
		run := list.Runs[0]
		if len(run.Splices) != want {
			t.Fatalf("spliced at %v, although %d splices suffice", run.Splices, want)
		}
		if told := len(list.Findings) > 0; told != (free != want) {
			t.Fatalf("%d splices clear of everything, %d anywhere: %+v", free, want, list.Findings)
		}
		if ps, err := run.Pieces(run.Splices); err != nil {
			t.Fatal(err)
		} else {
			for _, p := range ps {
				if p.Length < grain*measure.Length(part) && len(ps) > 1 || p.Length > grain*measure.Length(longest) {
					t.Fatalf("%s is %v", p.Label, p.Length)
				}
			}
		}
	})
}

// Butted trim comes in strips: nothing is kept clear and half a strip is long enough, so every length
// from a foot up serves on every wall. Wood keeps its own rules.
func TestSpliceDefaults(t *testing.T) {
	const in = measure.Inch
	for _, strip := range []measure.Length{12 * in, 18 * in, 36 * in} {
		for wall := 3 * in; wall <= 480*in; wall += 7 * in / 2 {
			p := board("slab", in, 4*in)
			p.Material, p.ButtSpliced, p.Lengths = "marble", true, []measure.Length{strip}
			r := takeoff.Room{Name: "hall", Walls: []takeoff.Wall{{Name: "N", Length: wall, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}}}
			list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: p}, nil)
			if err != nil {
				t.Fatalf("strips of %v on %v: %v", strip, wall, err)
			}
			for _, q := range list.Pieces {
				if len(list.Pieces) > 1 && q.Length < strip/2 {
					t.Errorf("strips of %v on %v: %s is %v", strip, wall, q.Label, q.Length)
				}
			}
		}
	}
	p := board("base", in, 5*in)
	p.Lengths = []measure.Length{8 * measure.Foot}
	rule := take(t, square(), takeoff.Scheme{Base: p}).Runs[0].Splice
	if rule.Clear != 24*in || rule.MinPart != 16*in {
		t.Errorf("wood: %+v", rule)
	}
}
