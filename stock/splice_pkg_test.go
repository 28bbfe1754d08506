package stock

import (
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

// everySplice tries all subsets of the positions: fewest splices first, then the
// longest first part, the longest second, and so on, seen from the left or from the
// right, whichever has the longer parts first.
func everySplice(r SpliceRule, length, longest measure.Length) []measure.Length {
	var best, bestParts []measure.Length
	for set := 1; set < 1<<len(r.At); set++ {
		var at []measure.Length
		for i, x := range r.At {
			if set&(1<<i) != 0 {
				at = append(at, x)
			}
		}
		parts := partsOf(r, at, length)
		if slices.Max(parts) > longest || slices.Min(parts) < r.MinPart {
			continue
		}
		reach := distances(at, length)
		mirrored := slices.Clone(reach)
		slices.Reverse(mirrored)
		if slices.Compare(mirrored[:len(at)], reach[:len(at)]) > 0 {
			reach = mirrored
		}
		if best == nil || len(at) < len(best) || (len(at) == len(best) && slices.Compare(reach[:len(at)], bestParts) > 0) {
			best, bestParts = at, reach[:len(at)]
		}
	}
	return best
}

func distances(at []measure.Length, length measure.Length) (ds []measure.Length) {
	left := measure.Length(0)
	for _, x := range append(slices.Clone(at), length) {
		ds = append(ds, x-left)
		left = x
	}
	return ds
}

func partsOf(r SpliceRule, at []measure.Length, length measure.Length) []measure.Length {
	ds := distances(at, length)
	for i := range ds {
		if i > 0 {
			ds[i] += r.Overlap - r.Overlap/2
		}
		if i < len(ds)-1 {
			ds[i] += r.Overlap / 2
		}
	}
	return ds
}

func TestSpliceAgainstEverySubset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := measure.Length(rapid.IntRange(20, 120).Draw(t, "length"))
		longest := measure.Length(rapid.IntRange(10, 60).Draw(t, "longest"))
		if length <= longest {
			t.Skip("nothing to splice")
		}
		r := SpliceRule{
			Overlap: 2 * measure.Length(rapid.IntRange(0, 3).Draw(t, "half overlap")),
			MinPart: measure.Length(rapid.IntRange(0, 20).Draw(t, "min part")),
		}
		at := rapid.SliceOfNDistinct(rapid.IntRange(1, int(length)-1), 0, 10, rapid.ID[int]).Draw(t, "positions")
		slices.Sort(at)
		for _, x := range at {
			r.At = append(r.At, measure.Length(x))
		}
		got, ok := r.Place(length, longest)
		want := everySplice(r, length, longest)
		if ok != (want != nil) {
			t.Fatalf("splice found %v, every subset %v", got, want)
		}
		if !ok {
			return
		}
		parts := partsOf(r, got, length)
		if slices.Max(parts) > longest || slices.Min(parts) < r.MinPart {
			t.Fatalf("splices at %v give parts %v", got, parts)
		}
		score := func(at []measure.Length) []measure.Length {
			a := distances(at, length)
			b := slices.Clone(a)
			slices.Reverse(b)
			if slices.Compare(b[:len(at)], a[:len(at)]) > 0 {
				a = b
			}
			return a[:len(at)]
		}
		if len(got) != len(want) || slices.Compare(score(got), score(want)) != 0 {
			t.Fatalf("splices at %v, best %v", got, want)
		}
	})
}

func TestSpliceAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		longest := measure.Length(rapid.IntRange(40, 200).Draw(t, "longest"))
		length := longest + measure.Length(rapid.IntRange(1, 2000).Draw(t, "more"))
		r := SpliceRule{
			Anywhere: true,
			Overlap:  measure.Length(rapid.IntRange(0, 5).Draw(t, "overlap")),
			MinPart:  measure.Length(rapid.IntRange(0, 10).Draw(t, "min part")),
			Clear:    measure.Length(rapid.IntRange(0, 12).Draw(t, "clear")),
		}
		at, ok := r.Place(length, longest)
		if !ok {
			t.Fatal("a stick much longer than the shortest part always has a place")
		}
		parts := partsOf(r, at, length)
		if slices.Max(parts) > longest || slices.Min(parts) < r.MinPart || at[0] < r.Clear || length-at[len(at)-1] < r.Clear {
			t.Fatalf("splices at %v give parts %v", at, parts)
		}
		// No fewer parts can hold the run and its overlaps.
		if n := measure.Length(len(parts) - 1); n*longest >= length+(n-1)*r.Overlap {
			t.Fatalf("%d parts where %d would do", n+1, n)
		}
	})
}
