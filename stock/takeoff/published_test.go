package takeoff_test

import (
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// stretch is a wall between two square stops.
func stretch(name string, l measure.Length, o ...takeoff.Opening) takeoff.Wall {
	return takeoff.Wall{Name: name, Length: l, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Openings: o}
}

// Baseboard takeoff of an estimating textbook (sect. 13-7, p. 169, example 13-25):
// 148 ft of wall on one side, 149 ft on both sides, 25 ft of doors: 421 lineal feet.
func TestTextbookBaseboard(t *testing.T) {
	rooms := []takeoff.Room{{Name: "schoolhouse", Walls: []takeoff.Wall{
		stretch("outer", 148*measure.Foot, takeoff.Opening{Kind: takeoff.OpeningPlain, At: 60 * measure.Foot, Width: 25 * measure.Foot}),
		stretch("partitions, front", 149*measure.Foot),
		stretch("partitions, back", 149*measure.Foot),
	}}}
	b := base()
	b.Lengths = nil
	list, err := takeoff.Take(rooms, takeoff.Scheme{Base: b}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if net := list.TotalsOf("base").Net; net != 421*measure.Foot {
		t.Errorf("net %v, want 421 ft", net)
	}
}

// Walls of 13, 12, 6, 4, 7 and 2 ft with a foot added to each make 50 ft (a molding maker's measuring
// page). The foot per wall is that page's rule of thumb; the installed length is 44 ft. As one room
// these walls cannot close, and Check says so.
func TestMeasuringPage(t *testing.T) {
	var room takeoff.Room
	room.Name = "teacher's room"
	for i, feet := range []measure.Length{13, 12, 6, 4, 7, 2} {
		room.Walls = append(room.Walls, takeoff.Wall{Name: string(rune('A' + i)), Length: feet * measure.Foot})
	}
	room.Walls[3].Corner.Kind = takeoff.CornerOutside
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	net := list.TotalsOf("base").Net
	if want := 50*measure.Foot - measure.Length(len(room.Walls))*measure.Foot; net != want {
		t.Errorf("net %v, want %v", net, want)
	}
	fs, err := takeoff.Check([]takeoff.Room{room}, takeoff.Scheme{}, nil)
	if err != nil || len(fs) != 1 || fs[0].Code != takeoff.FindingClosure || fs[0].Severity != takeoff.SeverityDoubt {
		t.Errorf("findings %+v, %v", fs, err)
	}
}

// 80 ft at lengths of 8 ft takes 10 pieces (a flooring retailer's page) if they only butt. A 45° scarf
// takes its 9/16 in nine times, so it takes 11.
func TestEightyFeetOfEight(t *testing.T) {
	room := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{stretch("W", 80*measure.Foot)}}
	p := base()
	p.Lengths = []measure.Length{8 * measure.Foot}
	for _, c := range []struct {
		plain bool
		want  int
	}{{true, 10}, {false, 11}} {
		p.ButtSpliced = c.plain
		p.Width = 2 * measure.Inch // low enough to be spliced anywhere
		list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: p}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := len(list.PiecesOf("base")); got != c.want {
			t.Errorf("plain %v: %d pieces, want %d", c.plain, got, c.want)
		}
		var sum measure.Length
		for _, q := range list.Pieces {
			sum += q.Length
		}
		if want := 80*measure.Foot + measure.Length(list.Joints.Scarfs)*9*measure.Inch/16; sum != want {
			t.Errorf("plain %v: pieces sum to %v, want %v", c.plain, sum, want)
		}
	}
}

// One splice, on the last stud that a full stick reaches.
func TestSpliceOnStuds(t *testing.T) {
	room := takeoff.Room{Name: "classroom", Walls: []takeoff.Wall{stretch("N", 30*measure.Foot)}}
	list, err := takeoff.Take([]takeoff.Room{room}, takeoff.Scheme{Base: base()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	run := list.Runs[0]
	// A part of 16 ft less half the lap ends before the stud at 16 ft; the one before
	// is 11 bays of 16 in from the left.
	if len(run.Splices) != 1 || run.Splices[0] != 11*16*measure.Inch {
		t.Errorf("splices at %v", run.Splices)
	}
	for i, want := range []string{`14' 8-9/32"`, `15' 4-9/32"`} {
		if got := list.Pieces[i].Length.String(); got != want {
			t.Errorf("part %d is %s, want %s", i+1, got, want)
		}
	}
	if list.Pieces[0].Right.Kind != stock.EndScarfOver || list.Pieces[1].Left.Kind != stock.EndScarfUnder {
		t.Errorf("ends %v, %v", list.Pieces[0].Right.Kind, list.Pieces[1].Left.Kind)
	}
}

// The halves of a scarf overlap by the depth of their cuts, base through its thickness and crown, which
// is nested, through its projection: 2 in for one of 4 in at a spring of 30°.
func TestScarfTakesWhatItsCutReaches(t *testing.T) {
	room := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{stretch("W", 40*measure.Foot)}}
	crown := &stock.Profile{Name: "crown", Thickness: 11 * measure.Inch / 16, Width: 4 * measure.Inch, Spring: 30 * measure.Degree, Lengths: []measure.Length{16 * measure.Foot}}
	for overlap, s := range map[measure.Length]takeoff.Scheme{9 * measure.Inch / 16: {Base: base()}, 2 * measure.Inch: {Crown: crown}} {
		list, err := takeoff.Take([]takeoff.Room{room}, s, nil)
		if err != nil {
			t.Fatal(err)
		}
		var sum measure.Length
		for _, q := range list.Pieces {
			sum += q.Length
			for _, e := range []stock.End{q.Left, q.Right} {
				if e.Kind.Spliced() && e.Setback != overlap {
					t.Errorf("%s: a scarf's points are %v apart, want %v", q.Label, e.Setback, overlap)
				}
			}
		}
		if n := list.Joints.Scarfs; n == 0 || sum != 40*measure.Foot+measure.Length(n)*overlap {
			t.Errorf("pieces with %d scarfs of %v sum to %v", n, overlap, sum)
		}
	}
}
