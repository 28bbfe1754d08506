package stock

import (
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

// everySplice tries all subsets of the positions: fewest splices first, then the longest first part,
// the longest second, and so on, from the left or from the right, whichever has the longer parts first.
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
			t.Fatalf("splice found %v, exhaustive search %v", got, want)
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

// rules draws a rule in which everything matters: odd overlaps, open joints, ends that
// are kept clear, parts that are nearly as long as a stick.
func rules(t *rapid.T, most int) SpliceRule {
	tick := func(name string, lo, hi int) measure.Length {
		return measure.Length(rapid.IntRange(lo, hi).Draw(t, name))
	}
	return SpliceRule{
		Overlap: tick("overlap", -5, 5), MinPart: tick("min part", 0, most), Clear: tick("clear", 0, most),
		MaxSplices: rapid.SampledFrom([]int{0, 0, 0, 1, 2, 3}).Draw(t, "most"),
	}
}

// legal reports, from the rule alone, whether a run may be spliced at the positions.
func legal(r SpliceRule, at []measure.Length, length, longest measure.Length) bool {
	for _, x := range at {
		if r.Anywhere && (x < r.Clear || length-x < r.Clear) || !r.Anywhere && !slices.Contains(r.At, x) || x <= 0 || x >= length {
			return false
		}
	}
	for _, p := range partsOf(r, at, length) {
		if p <= 0 || p < r.MinPart || p > longest {
			return false
		}
	}
	return r.MaxSplices == 0 || len(at) <= r.MaxSplices
}

// eachSplice calls f with every set of the positions, ascending.
func eachSplice(from []measure.Length, f func([]measure.Length)) {
	at := make([]measure.Length, 0, len(from))
	for set := 1; set < 1<<len(from); set++ {
		at = at[:0]
		for i, x := range from {
			if set&(1<<i) != 0 {
				at = append(at, x)
			}
		}
		f(at)
	}
}

// Place finds a legal choice if there is one, as good as the best, and no illegal one: against every
// set of positions, tick by tick, anywhere and on studs.
func TestPlaceIsComplete(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := measure.Length(rapid.IntRange(2, 13).Draw(t, "length"))
		longest := measure.Length(rapid.IntRange(1, int(length)-1).Draw(t, "longest"))
		r := rules(t, int(longest)+1)
		every := make([]measure.Length, length-1)
		for i := range every {
			every[i] = measure.Length(i + 1)
		}
		if r.Anywhere = rapid.Bool().Draw(t, "anywhere"); !r.Anywhere {
			for _, x := range every {
				if rapid.Bool().Draw(t, "stud") {
					r.At = append(r.At, x)
				}
			}
		}
		// The parts in their order of preference for length.
		rank := func(at []measure.Length) []measure.Length {
			parts := partsOf(r, at, length)
			if !r.Anywhere {
				back := slices.Clone(parts)
				slices.Reverse(back)
				if slices.Compare(back, parts) > 0 {
					return back
				}
			}
			return parts
		}
		var best []measure.Length
		eachSplice(every, func(at []measure.Length) {
			if legal(r, at, length, longest) && (best == nil || len(at) < len(best) || len(at) == len(best) && slices.Compare(rank(at), rank(best)) > 0) {
				best = slices.Clone(at)
			}
		})
		got, ok := r.Place(length, longest)
		if ok != (best != nil) {
			t.Fatalf("placed at %v, %v; the best is %v", got, ok, best)
		}
		if ok && (!legal(r, got, length, longest) || len(got) != len(best) || slices.Compare(rank(got), rank(best)) != 0) {
			t.Fatalf("placed at %v, parts %v; at %v they are %v", got, partsOf(r, got, length), best, partsOf(r, best, length))
		}
	})
}

// In real sizes the results of Place and Choices keep every rule, and Pieces accepts them.
func TestPlacedPiecesKeepTheRule(t *testing.T) {
	const grain = measure.Inch / 16
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string, hi measure.Length) measure.Length {
			x := grain * measure.Length(rapid.Int64Range(0, int64(hi/grain)).Draw(t, name))
			return x + measure.Length(rapid.IntRange(0, 1).Draw(t, "odd tick"))
		}
		longest := 1 + size("longest", 16*measure.Foot)
		length := 1 + size("length", 60*measure.Foot)
		r := SpliceRule{Overlap: size("overlap", 2*measure.Inch), MinPart: size("min part", longest), Clear: size("clear", longest)}
		if rapid.Bool().Draw(t, "open joint") {
			r.Overlap = -r.Overlap
		}
		if r.Anywhere = rapid.Bool().Draw(t, "anywhere"); !r.Anywhere {
			for x := size("first", measure.Foot) + 1; x < length; x += size("spacing", 4*measure.Foot) + grain {
				r.At = append(r.At, x)
			}
		}
		run := Run{Label: "N base", Length: length, Splice: r}
		at, ok := r.Place(length, longest)
		all := r.Choices(length, longest, 5)
		if ok != (len(all) > 0) {
			t.Fatalf("placed %v, choices %v", ok, all)
		}
		if ok {
			all = append(all, at)
		}
		for _, at := range all {
			if length > longest && !legal(r, at, length, longest) {
				t.Fatalf("%v: parts %v", at, partsOf(r, at, length))
			}
			ps, err := run.Pieces(at)
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range ps {
				if want := partsOf(r, at, length)[i]; p.Length != want || p.Length > longest {
					t.Fatalf("part %d of %v is %v, want %v", i, at, p.Length, want)
				}
			}
		}
	})
}

// The cases of a tape and a pencil.
func TestPlaceAnywhere(t *testing.T) {
	const in = measure.Inch
	for _, c := range []struct {
		name            string
		rule            SpliceRule
		length, longest measure.Length
		want            []measure.Length
	}{
		{"the last must not be short", SpliceRule{Anywhere: true, Clear: 24 * in, MinPart: 16 * in}, 109 * in, 36 * in, []measure.Length{36 * in, 69 * in, 85 * in}},
		{"two", SpliceRule{Anywhere: true, Clear: 24 * in, MinPart: 16 * in}, 60 * in, 36 * in, []measure.Length{36 * in}},
		{"none", SpliceRule{Anywhere: true, Clear: 24 * in}, 47 * in, 36 * in, nil},
		{"the clear ends are longer than a stick", SpliceRule{Anywhere: true, Clear: 24 * in}, 47 * in, 18 * in, nil},
		{"more parts than can be short", SpliceRule{Anywhere: true, MinPart: 35 * in}, 74 * in, 36 * in, nil},
		{"an open joint", SpliceRule{Anywhere: true, Overlap: -in / 8, MinPart: 6 * in}, 12*in + in/8, 6 * in, []measure.Length{6*in + in/16}},
	} {
		at, ok := c.rule.Place(c.length, c.longest)
		if ok != (c.want != nil) || !slices.Equal(at, c.want) {
			t.Errorf("%s: %v, %v; want %v", c.name, at, ok, c.want)
		}
	}
}
