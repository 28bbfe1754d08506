package stock_test

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// applySlowly is Apply from its comment alone, going through everything for each thing.
func applySlowly(r stock.Rack, c stock.RackChange) (left []stock.Offcut, short *stock.RackError) {
	left = slices.Clone(r.Offcuts)
	take := func(u stock.Offcut) int {
		taken := 0
		for like := range 4 {
			for i := range left {
				o := &left[i]
				if o.Count < 0 || o.Length != u.Length || taken == max(1, u.Count) {
					continue
				}
				if u.ID != "" && o.ID != u.ID || u.ID == "" && (o.Profile != u.Profile || u.Material != "" && u.Material != o.Material) {
					continue
				}
				label, id := o.Label == u.Label, o.ID == u.ID
				if like == 0 && !(label && id) || like == 1 && !label || like == 2 && !id {
					continue
				}
				n := min(max(1, o.Count), max(1, u.Count)-taken)
				taken += n
				if o.Count = max(1, o.Count) - n; o.Count == 0 {
					o.Length = -7 // gone
				}
			}
		}
		return taken
	}
	for _, named := range []func(stock.Offcut) bool{
		func(o stock.Offcut) bool { return o.ID != "" },
		func(o stock.Offcut) bool { return o.ID == "" && o.Material != "" },
		func(o stock.Offcut) bool { return o.ID == "" && o.Material == "" },
	} {
		for i, u := range c.Uses {
			if !named(u) {
				continue
			}
			if have := take(u); have < max(1, u.Count) {
				return nil, &stock.RackError{ID: c.ID, Use: i, Offcut: u, Have: have}
			}
		}
	}
	left = slices.DeleteFunc(left, func(o stock.Offcut) bool { return o.Length == -7 })
	has := func(id string) bool {
		return slices.ContainsFunc(left, func(o stock.Offcut) bool { return o.ID == id })
	}
	for i, o := range c.Leaves {
		best, rank := stock.KeepRule{Keep: r.Keep}, 0
		for _, k := range r.Rules {
			v := 1
			if k.Profile != "" {
				v += 2
			}
			if k.Material != "" {
				v++
			}
			if (k.Profile == "" || k.Profile == o.Profile) && (k.Material == "" || k.Material == o.Material) && v >= rank {
				best, rank = k, v
			}
		}
		if best.Never || o.Length < best.Keep {
			continue
		}
		for n := i + 1; o.ID == ""; n++ {
			if id := fmt.Sprintf("%s/%d", c.ID, n); !has(id) {
				o.ID = id
			}
		}
		o.Count = max(1, o.Count)
		left = append(left, o)
	}
	return left, nil
}

// Apply looks up offcuts and names in maps, and gives the same result.
func TestApplyAsItSays(t *testing.T) {
	shortages, applied := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		few := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
		offcut := func(name string, ids ...string) stock.Offcut {
			return stock.Offcut{
				ID: few(name+" id", ids...), Label: few(name+" label", "", "a", "b"), Profile: few(name+" profile", "", "base"), Material: few(name+" material", "", "oak"),
				Length: measure.Length(rapid.IntRange(1, 2).Draw(t, name+" length")), Count: rapid.IntRange(0, 3).Draw(t, name+" count"),
			}
		}
		var r stock.Rack
		c := stock.RackChange{ID: "c"}
		r.Keep = measure.Length(rapid.IntRange(0, 2).Draw(t, "keep"))
		for i := range rapid.IntRange(0, 3).Draw(t, "rules") {
			n := strconv.Itoa(i)
			r.Rules = append(r.Rules, stock.KeepRule{Profile: few("profile "+n, "", "base"), Material: few("material "+n, "", "oak"),
				Keep: measure.Length(rapid.IntRange(0, 3).Draw(t, "keep "+n)), Never: rapid.Bool().Draw(t, "never "+n)})
		}
		for i := range rapid.IntRange(0, 8).Draw(t, "offcuts") {
			r.Offcuts = append(r.Offcuts, offcut(strconv.Itoa(i), "", "x", "c/"+strconv.Itoa(i)))
		}
		for i := range rapid.IntRange(0, 3).Draw(t, "uses") {
			c.Uses = append(c.Uses, offcut("use "+strconv.Itoa(i), "", "x", "c/1"))
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "leaves") {
			c.Leaves = append(c.Leaves, offcut("left "+strconv.Itoa(i), ""))
		}
		want, lacks := applySlowly(r, c)
		got, err := r.Apply(c)
		if short, ok := err.(*stock.RackError); ok || lacks != nil {
			if shortages++; !gocmp.Equal(short, lacks) {
				t.Fatalf("%v, want %v", err, lacks)
			}
			return
		}
		applied++
		if err != nil || cmp.Or(len(got.Offcuts), len(want)) > 0 && !gocmp.Equal(got.Offcuts, want) {
			t.Fatalf("%v\n%s", err, gocmp.Diff(want, got.Offcuts))
		}
	})
	if shortages == 0 || applied == 0 {
		t.Errorf("%d shortages, %d changes: the test shows little", shortages, applied)
	}
}

// Lookups take a fraction of a second; a linear search would run into the time limit of the whole test.
func TestHostileRack(t *testing.T) {
	const n = 200_000
	var r stock.Rack
	c := stock.RackChange{ID: "c"}
	for i := range n {
		id := strconv.Itoa(i)
		r.Offcuts = append(r.Offcuts, stock.Offcut{ID: "c/" + id, Label: id, Profile: "base", Length: 7})
		r.Rules = append(r.Rules, stock.KeepRule{Profile: id, Never: true})
		if i < n/2 {
			c.Uses = append(c.Uses, stock.Offcut{Label: strconv.Itoa(n - 1 - i), Profile: "base", Length: 7})
		}
		c.Leaves = append(c.Leaves, stock.Offcut{Profile: "base", Length: 9})
	}
	after, err := r.Apply(c)
	if err != nil || len(after.Offcuts) != n/2+n || after.Offcuts[0].ID != "c/0" || after.Offcuts[n/2].ID != fmt.Sprintf("c/%d", n/2) {
		t.Errorf("%d offcuts, %v", len(after.Offcuts), err)
	}
}

func TestHostileRun(t *testing.T) {
	const n = 400_000
	run := stock.Run{Length: 10 * (n + 1)}
	for i := range measure.Length(n) {
		run.Splice.At = append(run.Splice.At, 10*(i+1))
	}
	if pieces, err := run.Pieces(run.Splice.At); err != nil || len(pieces) != n+1 {
		t.Errorf("%d pieces, %v", len(pieces), err)
	}
	run.Splice.At, run.Splice.Avoid = nil, run.Splice.At
	slices.Reverse(run.Splice.Avoid) // they are looked up in whatever order they are
	if pieces, err := run.Pieces([]measure.Length{10, 30}); err != nil || len(pieces) != 3 {
		t.Errorf("%d pieces, %v", len(pieces), err)
	}
}
