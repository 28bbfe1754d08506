package takeoff_test

import (
	"errors"
	"slices"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func shelf(kinds ...[2]int64) (s []stock.Stick) {
	for _, k := range kinds {
		s = append(s, stock.Stick{Length: measure.Length(k[0]) * measure.Foot, Price: k[1], Profile: "base"})
	}
	return s
}

// Sixteen-foot sticks are out of stock: the same walls from twelves, spliced by the rules of their
// runs, and the cost of that.
func TestPickAdapts(t *testing.T) {
	r := rectangle("15ft", "10ft", "15ft", "10ft")
	list := take(t, r, takeoff.Scheme{Base: base()})
	if list.Joints.Scarfs != 0 {
		t.Fatal("no run has to be spliced with 16 ft")
	}
	full, err := list.PickFrom("base", shelf([2]int64{12, 1800}, [2]int64{16, 2400}), measure.Inch/8)
	if err != nil {
		t.Fatal(err)
	}
	if full.Cost != 2*2400+2*1800 || len(full.Pieces) != 4 || len(full.Missing) != 0 || full.Length != 56*measure.Foot {
		t.Errorf("%+v", full)
	}
	short, err := list.PickFrom("base", shelf([2]int64{12, 1800}), measure.Inch/8)
	if err != nil {
		t.Fatal(err)
	}
	if len(short.Pieces) != 6 || short.Cost != 6*1800 && short.Cost != 5*1800 || len(short.Missing) != 0 {
		t.Errorf("%d pieces, %d, missing %v", len(short.Pieces), short.Cost, short.Missing)
	}
	for _, p := range short.Pieces {
		if p.Length > 12*measure.Foot {
			t.Errorf("%s is %v", p.Label, p.Length)
		}
	}
	// The last two twelves are gone after three.
	few := shelf([2]int64{12, 1800})
	few[0].Limit = 3
	if some, err := list.PickFrom("base", few, measure.Inch/8); err != nil || len(some.Sticks) != 3 || len(some.Missing) == 0 || some.Cost != 3*1800 {
		t.Errorf("%+v, %v", some, err)
	}
	// Sixteens that are sold out are as good as not on the shelf.
	gone := shelf([2]int64{12, 1800}, [2]int64{16, 2400})
	gone[1].Limit = stock.SoldOut
	if same, err := list.PickFrom("base", gone, measure.Inch/8); err != nil || cmp.Diff(short, same) != "" {
		t.Errorf("%+v, %v", same, err)
	}
	// Twos are too short for any splice.
	var se *takeoff.SpliceError
	if _, err := list.PickFrom("base", shelf([2]int64{2, 300}), 0); !errors.As(err, &se) || se.Longest != 2*measure.Foot {
		t.Errorf("%v", err)
	}
	// A shelf without the profile holds nothing.
	if none, err := list.PickFrom("base", []stock.Stick{{Profile: "crown", Length: measure.Foot}}, 0); err != nil || len(none.Missing) != 4 || none.Cost != 0 {
		t.Errorf("%+v, %v", none, err)
	}
}

func TestPickErrors(t *testing.T) {
	list := take(t, square(), takeoff.Scheme{Base: base()})
	for field, s := range map[string]stock.Stick{
		"shelf[0].length":     {},
		"shelf[0].price":      {Length: measure.Foot, Price: -1},
		"shelf[0].limit":      {Length: measure.Foot, Limit: -2},
		"shelf[0].trim_start": {Length: measure.Foot, TrimStart: -1},
		"shelf[0].trim_end":   {Length: measure.Foot, TrimEnd: -1},
		"shelf":               {Length: 12 * measure.Foot, Price: 1<<63 - 1},
	} {
		var fe *measure.FieldError
		if _, err := list.PickFrom("base", []stock.Stick{s}, 0); !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	var fe *measure.FieldError
	if _, err := list.PickFrom("base", nil, -1); !errors.As(err, &fe) || fe.Field != "kerf" {
		t.Errorf("%v", err)
	}
}

// Whatever is on the shelf, every piece is cut once or missing, no stick is overfilled or taken twice,
// and the sums are right.
func TestPickListIsValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := walls(t, takeoff.Corner{}, takeoff.Corner{Kind: takeoff.CornerOutside}, takeoff.Corner{Kind: takeoff.CornerStop})
		s := fullScheme()
		list, err := takeoff.Take([]takeoff.Room{r}, takeoff.Scheme{Base: s.Base, Casing: s.Casing}, nil)
		if err != nil {
			t.Fatal(err)
		}
		kerf := length(0, measure.Inch/4).Draw(t, "kerf")
		var shelf []stock.Stick
		for range rapid.IntRange(1, 4).Draw(t, "kinds") {
			shelf = append(shelf, stock.Stick{
				Length: length(8*measure.Foot, 16*measure.Foot).Draw(t, "stick"), Price: rapid.Int64Range(0, 3000).Draw(t, "price"),
				Limit: rapid.IntRange(0, 4).Draw(t, "limit"), TrimStart: length(0, measure.Inch).Draw(t, "trim"),
			})
		}
		b, err := list.PickFrom("base", shelf, kerf)
		if err != nil {
			known(t, err)
			return
		}
		cut, taken, cost := make([]int, len(b.Pieces)), make([]int, len(shelf)), int64(0)
		for _, pick := range b.Sticks {
			st := shelf[pick.Stick]
			taken[pick.Stick]++
			cost += st.Price
			used := -kerf
			for _, i := range pick.Pieces {
				cut[i]++
				used += b.Pieces[i].Length + kerf
			}
			if used > st.Length-st.TrimStart || len(pick.Pieces) == 0 || pick.Offcut != max(0, st.Length-st.TrimStart-used-kerf) {
				t.Fatalf("%+v holds %v", pick, used)
			}
		}
		for _, i := range b.Missing {
			cut[i]++
		}
		for i, n := range cut {
			if n != 1 {
				t.Fatalf("%s is cut or missing %d times", b.Pieces[i].Label, n)
			}
		}
		for k, n := range taken {
			if shelf[k].Limit > 0 && n > shelf[k].Limit {
				t.Fatalf("%d of %d sticks", n, shelf[k].Limit)
			}
		}
		if cost != b.Cost || len(b.Missing) > 0 && slices.ContainsFunc(shelf, func(s stock.Stick) bool { return s.Limit == 0 && s.Length-s.TrimStart >= b.Pieces[b.Missing[0]].Length }) {
			t.Fatalf("cost %d, want %d; missing %v", b.Cost, cost, b.Missing)
		}
		again, err := list.PickFrom("base", shelf, kerf)
		if err != nil || cmp.Diff(b, again) != "" {
			t.Fatal("the same shelf gives a different pick list")
		}
	})
}
