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

func TestKeeps(t *testing.T) {
	const in = measure.Inch
	r := stock.Rack{Keep: 24 * in, Rules: []stock.KeepRule{
		{Material: "oak", Keep: 12 * in},
		{Profile: "crown", Keep: 36 * in},
		{Profile: "crown", Material: "oak", Keep: 18 * in},
		{Profile: "shoe", Never: true},
	}}
	for _, c := range []struct {
		o    stock.Offcut
		keep measure.Length // shortest that is kept; zero for none
	}{
		{stock.Offcut{Profile: "base"}, 24 * in},
		{stock.Offcut{Profile: "base", Material: "oak"}, 12 * in},
		{stock.Offcut{Profile: "crown"}, 36 * in},
		{stock.Offcut{Profile: "crown", Material: "pine"}, 36 * in},
		{stock.Offcut{Profile: "crown", Material: "oak"}, 18 * in},
		{stock.Offcut{Profile: "shoe", Material: "oak"}, 0},
	} {
		o := c.o
		o.Length = max(c.keep, 100*measure.Foot*measure.Length(b2i(c.keep == 0)))
		if r.Keeps(o) != (c.keep != 0) {
			t.Errorf("%+v", o)
		}
		if o.Length = c.keep - 1; r.Keeps(o) {
			t.Errorf("%+v is kept", o)
		}
	}
	if (stock.Rack{}).Keeps(stock.Offcut{}) {
		t.Error("nothing is kept")
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func TestApply(t *testing.T) {
	const ft = measure.Foot
	rack := stock.Rack{Keep: 2 * ft, Offcuts: []stock.Offcut{
		{Profile: "base", Length: 5 * ft, Count: 2}, {Profile: "base", Length: 3 * ft, Label: "behind the door"}, {Profile: "crown", Length: 5 * ft},
	}}
	before, _ := json.Marshal(rack)
	change := stock.RackChange{
		ID:     "classroom base",
		Uses:   []stock.Offcut{{Profile: "base", Length: 5 * ft}, {Profile: "base", Length: 3 * ft}},
		Leaves: []stock.Offcut{{Profile: "base", Length: 30 * measure.Inch, Count: 2}, {Profile: "base", Length: ft}, {Profile: "crown", Length: 5 * ft}},
	}
	got, err := rack.Apply(change)
	if err != nil {
		t.Fatal(err)
	}
	want := []stock.Offcut{
		{Profile: "base", Length: 5 * ft, Count: 1}, {Profile: "crown", Length: 5 * ft},
		{ID: "classroom base/1", Profile: "base", Length: 30 * measure.Inch, Count: 2}, {ID: "classroom base/3", Profile: "crown", Length: 5 * ft, Count: 1},
	}
	if d := cmp.Diff(want, got.Offcuts); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if after, _ := json.Marshal(rack); string(after) != string(before) {
		t.Errorf("the argument was changed: %s", after)
	}

	// Again, also after a restart: nothing happens.
	text, err := json.Marshal(got)
	if err != nil {
		t.Fatal(err)
	}
	var saved stock.Rack
	if err := json.Unmarshal(text, &saved); err != nil {
		t.Fatal(err)
	}
	again, err := saved.Apply(change)
	if d := cmp.Diff(got, again); err != nil || d != "" {
		t.Errorf("twice: %v\n%s", err, d)
	}

	// Another change under its name is refused, not swallowed.
	other := change
	other.Leaves = nil
	var refused *stock.RackError
	if r, err := got.Apply(other); !errors.As(err, &refused) || refused.Use != -1 || refused.ID != change.ID || !strings.Contains(err.Error(), change.ID) || cmp.Diff(got, r) != "" {
		t.Errorf("%v", err)
	}

	// More than available: nothing is taken, nothing added.
	r, err := got.Apply(stock.RackChange{ID: "crown", Uses: []stock.Offcut{{Profile: "base", Length: 5 * ft}, {Profile: "crown", Length: 5 * ft, Count: 3}}})
	if !errors.As(err, &refused) || refused.ID != "crown" || refused.Use != 1 || refused.Have != 2 || refused.Offcut.Profile != "crown" || cmp.Diff(got, r) != "" {
		t.Errorf("%v", err)
	}
	if want := `uses[1]: the rack holds 2 of 3 offcuts of "crown", 5'`; err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
	if f := got.Prune(0); len(f.Applied) != 0 || len(got.Applied) != 1 {
		t.Errorf("%+v", f.Applied)
	}
}

// Used offcuts are found by ID or, without one, by profile and length, whatever their labels, although
// one with the same label goes first.
func TestApplyFindsWhatIsUsed(t *testing.T) {
	rack := stock.Rack{Offcuts: []stock.Offcut{
		{ID: "a/1", Profile: "base", Length: 9, Label: "marked"}, {Profile: "base", Length: 9}, {ID: "b/1", Profile: "base", Length: 9, Material: "oak"},
		{Profile: "base", Length: 9, Label: "marked", Count: 2},
	}}
	for _, tt := range []struct {
		uses []stock.Offcut
		left []int // how many are left of each
	}{
		{[]stock.Offcut{{ID: "b/1", Length: 9}}, []int{1, 1, 0, 2}},
		{[]stock.Offcut{{ID: "a/1", Length: 9, Profile: "of another name", Label: "by the door"}}, []int{0, 1, 1, 2}},
		{[]stock.Offcut{{Profile: "base", Length: 9, Label: "never heard of"}}, []int{1, 0, 1, 2}},
		{[]stock.Offcut{{Profile: "base", Length: 9, Label: "marked"}}, []int{1, 1, 1, 1}},
		{[]stock.Offcut{{Profile: "base", Length: 9, Label: "marked", Count: 3}}, []int{0, 1, 1, 0}},
		{[]stock.Offcut{{Profile: "base", Length: 9}, {Profile: "base", Length: 9, Count: 2}, {Profile: "base", Length: 9, Material: "oak"}, {ID: "a/1", Length: 9}}, []int{0, 0, 0, 0}},
		{[]stock.Offcut{{ID: "a/1", Length: 8}}, nil},
		{[]stock.Offcut{{ID: "c/1", Profile: "base", Length: 9}}, nil},
		{[]stock.Offcut{{ID: "a/1", Length: 9, Count: 2}}, nil},
		{[]stock.Offcut{{Profile: "base", Length: 9, Count: 6}}, nil},
	} {
		got, err := rack.Apply(stock.RackChange{ID: "x", Uses: tt.uses})
		if tt.left == nil {
			if short := (*stock.RackError)(nil); !errors.As(err, &short) || short.Use < 0 || cmp.Diff(rack, got) != "" {
				t.Errorf("%+v: %v", tt.uses, err)
			} else if id := tt.uses[0].ID; !strings.Contains(err.Error(), id) {
				t.Errorf("%v, want the ID %s in it", err, id)
			}
			continue
		}
		want := []stock.Offcut{}
		for i, n := range tt.left {
			if o := rack.Offcuts[i]; n > 0 {
				if n != max(1, o.Count) {
					o.Count = n
				}
				want = append(want, o)
			}
		}
		if d := cmp.Diff(want, got.Offcuts); err != nil || d != "" {
			t.Errorf("%+v: %v\n%s", tt.uses, err, d)
		}
	}
}

// No two offcuts ever have one ID, whatever they and the changes are called.
func TestOffcutIDsDiffer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"a", "a/1", "a/1/1", "a/2", "ä", "", "a/"})
		var rack stock.Rack
		for range 12 {
			c := stock.RackChange{ID: name.Draw(t, "change")}
			for range rapid.IntRange(0, 3).Draw(t, "leaves") {
				c.Leaves = append(c.Leaves, stock.Offcut{ID: rapid.SampledFrom([]string{"", "", "a/1", "a/2"}).Draw(t, "id"), Profile: "base", Length: 9})
			}
			next, err := rack.Apply(c)
			if fe := (*measure.FieldError)(nil); err != nil && !errors.As(err, &fe) {
				if re := (*stock.RackError)(nil); !errors.As(err, &re) || re.Use != -1 {
					t.Fatal(err)
				}
			}
			rack = next.Prune(rapid.IntRange(0, 3).Draw(t, "forget"))
			if err := rack.Validate(); err != nil {
				t.Fatal(err)
			}
		}
	})
}

func TestApplyErrors(t *testing.T) {
	for field, c := range map[string]stock.RackChange{
		"id":              {},
		"uses[0].length":  {ID: "x", Uses: []stock.Offcut{{}}},
		"leaves[0].count": {ID: "x", Leaves: []stock.Offcut{{Length: 1, Count: -1}}},
		"leaves[1].id":    {ID: "x", Leaves: []stock.Offcut{{Length: 1, ID: "a"}, {Length: 1, ID: "a"}}},
	} {
		var fe *measure.FieldError
		if _, err := (stock.Rack{}).Apply(c); !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// In whatever order changes arrive, and however often they are repeated, the rack has its initial
// contents, less the offcuts that each change uses, plus those that it leaves, each once.
func TestRackKeepsCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		offcut := rapid.Custom(func(t *rapid.T) stock.Offcut {
			return stock.Offcut{Profile: "base", Length: measure.Length(rapid.IntRange(1, 4).Draw(t, "length")), Count: rapid.IntRange(0, 3).Draw(t, "count")}
		})
		rack := stock.Rack{Offcuts: rapid.SliceOfN(offcut, 0, 6).Draw(t, "rack")}
		count := func(os []stock.Offcut) (n [5]int) {
			for _, o := range os {
				n[o.Length] += max(1, o.Count)
			}
			return n
		}
		changes := make([]stock.RackChange, rapid.IntRange(1, 4).Draw(t, "changes"))
		for i := range changes {
			changes[i] = stock.RackChange{
				ID: string(rune('a' + i)), Uses: rapid.SliceOfN(offcut, 0, 3).Draw(t, "uses"), Leaves: rapid.SliceOfN(offcut, 0, 3).Draw(t, "leaves"),
			}
		}
		want := count(rack.Offcuts)
		var done []int
		for range 8 {
			i := rapid.IntRange(0, len(changes)-1).Draw(t, "next")
			next, err := rack.Apply(changes[i])
			var short *stock.RackError
			switch {
			case errors.As(err, &short):
				if cmp.Diff(rack, next) != "" {
					t.Fatal("a rejected change changed the rack")
				}
			case err != nil:
				t.Fatal(err)
			case !slices.Contains(done, i):
				done = append(done, i)
				u, l := count(changes[i].Uses), count(changes[i].Leaves)
				for k := range want {
					want[k] += l[k] - u[k]
				}
			}
			rack = next
			if got := count(rack.Offcuts); got != want {
				t.Fatalf("%v, want %v", got, want)
			}
		}
		var sum measure.Length
		for l, n := range want {
			sum += measure.Length(l * n)
		}
		if total, err := rack.Total(); err != nil || total != sum {
			t.Fatalf("total %v, %v, want %v", total, err, sum)
		}
	})
}
