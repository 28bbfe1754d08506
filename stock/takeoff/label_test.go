package takeoff_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Whatever rooms, walls and openings are called, no two runs and no two pieces have one
// label, and every part knows its run.
func TestLabelsAreUnique(t *testing.T) {
	word := rapid.SampledFrom([]string{"hall", "N", "left", "hall N", "N left", "door", "base", "run", "return", "1/2", ",", "hall,", `"hall"`, `"N"`, `\"`, "chair", "rail", "casing head", "bottom", "A", " "})
	name := rapid.Map(rapid.SliceOfN(word, 1, 3), func(ws []string) string { return strings.Join(ws, " ") })
	s := fullScheme()
	const in, ft = measure.Inch, measure.Foot
	s.Stool, s.Apron, s.Plinth, s.Backband = board("stool", in, 5*in), board("apron", in, 3*in), board("plinth", in, 4*in), board("band", in, in)
	for _, p := range []*stock.Profile{s.Base, s.Shoe, s.ChairRail, s.Crown} {
		p.Lengths = []measure.Length{8 * ft}
	}
	rapid.Check(t, func(t *rapid.T) {
		// Places are cut out of a few sentences, so that many read alike: the room is the
		// text before one gap, the wall the text between two.
		var rooms []takeoff.Room
		at := map[string]int{}
		for range rapid.IntRange(1, 3).Draw(t, "sentences") {
			words := rapid.SliceOfN(word, 2, 5).Draw(t, "sentence")
			for range rapid.IntRange(1, 5).Draw(t, "places") {
				i := rapid.IntRange(1, len(words)-1).Draw(t, "gap")
				j := rapid.IntRange(i+1, len(words)).Draw(t, "next gap")
				room, wall, rest := strings.Join(words[:i], " "), strings.Join(words[i:j], " "), strings.Join(words[j:], " ")
				k, known := at[room]
				if !known {
					k = len(rooms)
					at[room] = k
					rooms = append(rooms, takeoff.Room{Name: room, Height: 9 * ft})
				}
				w := takeoff.Wall{Name: wall, Length: 25 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerOpen}}
				for i, opening := range []string{rest, name.Draw(t, "opening")} {
					if opening == "" || i > 0 && opening == rest {
						continue
					}
					w.Openings = append(w.Openings, takeoff.Opening{
						Name: opening, Kind: takeoff.OpeningKind(rapid.IntRange(0, 3).Draw(t, "kind")),
						At: (4 + 10*measure.Length(i)) * ft, Width: 3 * ft, Height: 4 * ft, Sill: 3 * ft,
					})
				}
				if !slices.ContainsFunc(rooms[k].Walls, func(v takeoff.Wall) bool { return v.Name == wall }) {
					rooms[k].Walls = append(rooms[k].Walls, w)
				}
			}
		}
		list, err := takeoff.Take(rooms, s, &takeoff.Options{ReturnApron: true})
		if err != nil {
			t.Fatal(err)
		}
		runs, pieces := map[string]bool{}, map[string]bool{}
		for _, r := range list.Runs {
			if runs[r.Label] {
				t.Fatalf("two runs are %q", r.Label)
			}
			runs[r.Label] = true
		}
		for _, p := range list.Pieces {
			if pieces[p.Label] {
				t.Fatalf("two pieces are %q", p.Label)
			}
			pieces[p.Label] = true
			if p.Run != "" && !runs[p.Run] {
				t.Fatalf("no run for %q: %q", p.Label, p.Run)
			}
		}
	})
}

// Only labels that could be mistaken differ from the names.
func TestLabelsStayPlain(t *testing.T) {
	wall := func(name string) takeoff.Wall {
		return takeoff.Wall{Name: name, Length: 5 * measure.Foot, Corner: takeoff.Corner{Kind: takeoff.CornerStop}}
	}
	list, err := takeoff.Take([]takeoff.Room{
		{Name: "hall N", Walls: []takeoff.Wall{wall("left"), wall("right")}},
		{Name: "hall", Walls: []takeoff.Wall{wall("N left"), wall("N")}},
		{Name: "hall, N left", Walls: []takeoff.Wall{wall("x")}},
		{Name: "hall,", Walls: []takeoff.Wall{wall("N left")}},
	}, takeoff.Scheme{Base: base()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range list.Runs {
		got = append(got, r.Label)
	}
	want := []string{"hall N, left base", "hall N right base", `"hall" "N left" base`, "hall N base", "hall, N left x base", "hall,, N left base"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}
