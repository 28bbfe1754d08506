package takeoff_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// counted counts the ends of the pieces of one profile, independent of Take.
type counted struct {
	runs, pieces, splices int
	net                   measure.Length
	ends                  map[stock.EndKind]int // of runs: parts of a run are counted once
}

func countOf(t *rapid.T, list *takeoff.List, profile string) counted {
	c := counted{ends: map[stock.EndKind]int{}}
	for _, p := range list.Pieces {
		if p.Profile != profile {
			continue
		}
		c.pieces++
		if p.Run == "" {
			continue // it closes a return, whose other half is the end of a run
		}
		for i, e := range []stock.End{p.Left, p.Right} {
			if spliced := i == 0 && p.Part > 1 || i == 1 && p.Part < p.Parts; spliced {
				if e.Kind != stock.EndSquare && e.Kind != stock.EndScarfOver && e.Kind != stock.EndScarfUnder {
					t.Fatalf("%s is spliced with %v", p.Label, e.Kind)
				}
				if i == 0 {
					c.splices++
				}
				continue
			}
			c.ends[e.Kind]++
		}
	}
	for _, r := range list.Runs {
		if r.Profile == profile {
			c.runs++
			c.net += r.Net
		}
	}
	return c
}

// The totals of a profile follow from its pieces' own ends: two mitered ends meet, a fitted end meets a
// square one, and a square end without a neighbor is a stop. The joints of the list are the sum.
func TestTotalsAreWhatTheEndsSay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const in = measure.Inch
		s := fullScheme()
		s.Base.Inside = stock.InsideJoint(rapid.IntRange(0, 2).Draw(t, "inside"))
		stone := rapid.Bool().Draw(t, "stone")
		switch {
		case stone && rapid.Bool().Draw(t, "open joints"):
			s.Base.ButtSpliced, s.Base.StripJoint, s.Base.Lengths = true, in/8, []measure.Length{measure.Foot}
		case stone:
			s.Base.Material = "limestone"
		case rapid.Bool().Draw(t, "square splices"):
			s.Base.ButtSpliced = true
		}
		o := &takeoff.Options{}
		if rapid.Bool().Draw(t, "windows") {
			s.Stool, s.Plinth, s.Backband = board("stool", in, 5*in), board("plinth", in, 4*in), board("band", in, in)
			s.Apron, o.ReturnApron = board("apron", in, 3*in), rapid.Bool().Draw(t, "returned")
		}
		var rooms []takeoff.Room
		for i := range rapid.IntRange(1, 2).Draw(t, "rooms") {
			r := walls(t, everyCorner...)
			r.Name = fmt.Sprint("room ", i)
			for k := range r.Walls {
				for j := range r.Walls[k].Openings {
					r.Walls[k].Openings[j].Sill = length(10*in, 20*in).Draw(t, "sill")
				}
			}
			rooms = append(rooms, r)
		}
		list, err := takeoff.Take(rooms, s, o)
		if err != nil {
			t.Fatal(err)
		}
		var sum takeoff.Joints
		var order []string
		for _, r := range list.Runs {
			if !slices.Contains(order, r.Profile) {
				order = append(order, r.Profile)
			}
		}
		var got []string
		pieces := 0
		for _, total := range list.Totals {
			got = append(got, total.Profile)
			pieces += total.Pieces
			sum.Copes += total.Joints.Copes
			sum.InsideMiters += total.Joints.InsideMiters
			sum.OutsideMiters += total.Joints.OutsideMiters
			sum.FlatMiters += total.Joints.FlatMiters
			sum.Scarfs += total.Joints.Scarfs
			sum.Returns += total.Joints.Returns
			sum.Butts += total.Joints.Butts
			sum.Stops += total.Joints.Stops
			sum.Scribes += total.Joints.Scribes

			c := countOf(t, list, total.Profile)
			j, base := total.Joints, total.Profile == "base"
			if list.TotalsOf(total.Profile) != total || c.net != total.Net {
				t.Fatalf("%s: %v, the runs say %v", total.Profile, total.Net, c.net)
			}
			if c.runs != total.Runs || c.pieces != total.Pieces || c.splices != total.Splices+total.CourseJoints {
				t.Fatalf("%+v, the pieces say %+v", total, c)
			}
			if course := base && stone; course != total.Course || course && total.Splices != 0 || !course && total.CourseJoints != 0 {
				t.Fatalf("stone: %v, %+v", course, total)
			}
			edges := map[stock.Role]int{ // caulked along; common practice, no source
				stock.RoleBase: 1, stock.RoleShoe: 1, stock.RoleChairRail: 2, stock.RolePictureRail: 1, stock.RoleCasing: 2,
				stock.RoleCrown: 2, stock.RoleStool: 1, stock.RoleApron: 1, stock.RolePlinth: 2, stock.RoleBackband: 1,
			}[total.Role]
			if total.Course { // floor and top
				edges = 2
			}
			if total.Edges != edges {
				t.Fatalf("%+v: want %d edges", total, edges)
			}
			pairs := []struct {
				what       string
				n, halves  int
				wantPaired bool
			}{
				{"inside miters", j.InsideMiters, c.ends[stock.EndInsideMiter], true},
				{"outside miters", j.OutsideMiters, c.ends[stock.EndOutsideMiter], true},
				{"flat miters", j.FlatMiters, c.ends[stock.EndFlatMiter], true},
				{"copes", j.Copes, c.ends[stock.EndCope], false},
				{"returns", j.Returns, c.ends[stock.EndReturn], false},
				{"scribes", j.Scribes, c.ends[stock.EndScribe], false},
			}
			for _, p := range pairs {
				if n := p.n; p.wantPaired && 2*n != p.halves || !p.wantPaired && n != p.halves {
					t.Fatalf("%s: %d %s of %d ends", total.Profile, p.n, p.what, p.halves)
				}
			}
			if want := c.ends[stock.EndCope] + c.ends[stock.EndButt] + j.InsideMiters + j.OutsideMiters + j.FlatMiters; total.Corners != want {
				t.Fatalf("%s: %d corners, the ends say %d", total.Profile, total.Corners, want)
			}
			square := 0 // splices that are no scarfs
			if j.Scarfs == 0 {
				square = c.splices
			}
			if j.Scarfs+square != c.splices {
				t.Fatalf("%s: %d scarfs, the ends say %d splices", total.Profile, j.Scarfs, c.splices)
			}
			switch total.Role {
			case stock.RoleBase, stock.RoleShoe, stock.RoleChairRail, stock.RolePictureRail, stock.RoleCrown:
				// Square ends: one under each fitted end, two between walls in line, and stops.
				fitted := c.ends[stock.EndCope] + c.ends[stock.EndButt]
				inLine := j.Butts - c.ends[stock.EndButt] - square
				if inLine < 0 || c.ends[stock.EndSquare] != fitted+2*inLine+j.Stops {
					t.Fatalf("%s: %d square ends, %+v", total.Profile, c.ends[stock.EndSquare], j)
				}
			}
		}
		if d := cmp.Diff(order, got); d != "" {
			t.Fatalf("in order of their first runs (-want +got):\n%s", d)
		}
		if d := cmp.Diff(list.Joints, sum); d != "" || pieces != len(list.Pieces) {
			t.Fatalf("%d pieces of %d; joints of all (-want +got):\n%s", pieces, len(list.Pieces), d)
		}
	})
}

// A piece is called as its run, and its parts are counted behind that.
func TestPiecesAreCalledAsTheirRuns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, err := takeoff.Take([]takeoff.Room{walls(t, everyCorner...)}, fullScheme(), nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range list.Pieces {
			want := p.Run
			if p.Parts > 1 {
				want += fmt.Sprintf(" %d of %d", p.Part, p.Parts)
			}
			if p.Run != "" && p.Label != want {
				t.Fatalf("%q is called %q", want, p.Label)
			}
		}
	})
}

// By hand: a hall of 20 ft by 5 ft with a door in S and sticks of 16 ft. N and S are
// spliced as far as they are longer; the door takes 2·(3/16 + 3-1/2) + 36 in.
func TestTotalsByHand(t *testing.T) {
	r := rectangle("20ft", "5ft", "20ft", "5ft")
	r.Walls[2].Openings = []takeoff.Opening{{At: measure.Foot, Width: 36 * measure.Inch}}
	s := fullScheme()
	list := take(t, r, takeoff.Scheme{Base: s.Base, Casing: s.Casing})
	const in = measure.Inch
	want := []takeoff.ProfileTotals{
		{Profile: "base", Role: stock.RoleBase, Net: 50*measure.Foot - 43*in - 3*in/8, Runs: 5, Pieces: 6, Joints: takeoff.Joints{Copes: 4, Scarfs: 1, Stops: 2}, Corners: 4, Splices: 1, Edges: 1},
		{Profile: "casing", Role: stock.RoleCasing, Net: 2*(80*in+3*in/16+7*in/2) + 36*in + 3*in/8 + 7*in, Runs: 3, Pieces: 3, Joints: takeoff.Joints{FlatMiters: 2}, Corners: 2, Edges: 2},
	}
	if d := cmp.Diff(want, list.Totals); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}
