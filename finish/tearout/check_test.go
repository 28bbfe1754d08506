package tearout_test

import (
	"math"
	"strings"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

const (
	in = measure.Inch
	ft = measure.Foot
)

func plan(t testing.TB, job tearout.Job) *tearout.Plan {
	t.Helper()
	p, err := tearout.New(job)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// old is a house that the lead rule covers.
var old = finish.Building{Year: 1926, Occupancy: finish.OccupancyHousing}

func classroom() tearout.Room {
	return tearout.Room{Name: "classroom", Length: 30 * ft, Width: 20 * ft, Doors: 2, Ducts: 2, Sills: 4}
}

// Derived from the limit of 6 square feet (40 CFR 745.83): the length of trim that is just
// within it, by its painted girth.
func TestSixSquareFeetAreSoMuchTrim(t *testing.T) {
	for _, c := range []struct {
		what                    string
		width, thickness, girth measure.Length
		feet                    float64
	}{
		{"3 1/4 base, face", 13 * in / 4, 9 * in / 16, 13 * in / 4, 22.15},
		{"5 1/4 base, face", 21 * in / 4, 9 * in / 16, 21 * in / 4, 13.71},
		{"7 1/4 base, face", 29 * in / 4, 3 * in / 4, 29 * in / 4, 9.93},
		{"2 1/4 casing, face", 9 * in / 4, 11 * in / 16, 9 * in / 4, 32},
		{"3 1/4 base, face and top", 13 * in / 4, 9 * in / 16, 13*in/4 + 9*in/16, 18.89},
	} {
		for _, d := range []struct {
			more float64
			want finish.LeadVerdict
		}{{-0.005, finish.VerdictMinorRepair}, {0.01, finish.VerdictCovered}} {
			length := measure.Length((c.feet + d.more) * float64(ft))
			got := plan(t, tearout.Job{Building: old, Rooms: []tearout.Room{classroom()}, Parts: []tearout.Part{
				{Room: "classroom", Length: length, Width: c.width, Thickness: c.thickness, Girth: c.girth, Method: tearout.MethodPry},
			}})
			if got.Gate.Verdict != d.want {
				t.Errorf("%.3f ft of %s: %v, want %v", c.feet+d.more, c.what, got.Gate.Verdict, d.want)
			}
		}
	}
	// EPA frequent questions 23002-14294: a strip of 1 in off a 36 in door is 36 square
	// inches, minor repair by itself.
	strip := plan(t, tearout.Job{Building: old, Rooms: []tearout.Room{classroom()}, Parts: []tearout.Part{
		{Room: "classroom", Length: 36 * in, Width: in, Thickness: 11 * in / 8, Girth: in, Method: tearout.MethodPry},
	}})
	if got := strip.Gate.Rooms[0].Removed; got != 36*measure.SquareInch || strip.Gate.Verdict != finish.VerdictMinorRepair {
		t.Errorf("a strip of a door: %v, %v", got, strip.Gate.Verdict)
	}
}

// Derived: base on all walls, plastic 6 ft wide (40 CFR 745.85(a)(2)) and at most 40 square
// feet of floor to a wet cloth (745.85(b)).
func TestPlasticAndCloths(t *testing.T) {
	for _, c := range []struct {
		long, wide, sheet, cloths int64
	}{{14, 12, 168, 5}, {20, 16, 288, 8}, {30, 20, 456, 12}, {20, 30, 456, 12}} {
		room := tearout.Room{Name: "room", Length: measure.Length(c.long) * ft, Width: measure.Length(c.wide) * ft}
		base := tearout.Part{Room: "room", Width: 5 * in, Thickness: in / 2, Length: room.Length, Count: 2}
		ends := base
		ends.Length = room.Width
		got := plan(t, tearout.Job{Rooms: []tearout.Room{room}, Parts: []tearout.Part{base, ends}}).Rooms[0]
		if got.Sheet != measure.Area(c.sheet)*measure.SquareFoot || got.Cloths != c.cloths {
			t.Errorf("%d by %d ft: %v, %d cloths; want %d sq ft, %d", c.long, c.wide, got.Sheet, got.Cloths, c.sheet, c.cloths)
		}
	}
	// A door alone in a large room asks for less than all walls (derived): a strip 6 ft wide
	// and 6 ft longer at each end.
	sheet, tape, err := tearout.DefaultContainment().Sheet(classroom(), []tearout.Part{{Length: 3 * ft}})
	if err != nil || sheet != 90*measure.SquareFoot || tape != 42*ft {
		t.Errorf("3 ft of trim: %v, %v, %v; want 15 x 6 ft", sheet, tape, err)
	}
}

// Derived: solid wood of 100 ft of trim, and its weight at specific gravities 0.35 (pine)
// and 0.63 (red oak) and 12 % moisture: 24.46 and 44.03 lb to the cubic foot.
func TestVolumeAndWeight(t *testing.T) {
	for _, c := range []struct {
		width, thickness measure.Length
		cubicFeet        float64
		pine, oak        float64
	}{
		{13 * in / 4, 9 * in / 16, 1.2695, 31.1, 55.9},
		{21 * in / 4, 9 * in / 16, 2.0508, 50.2, 90.3},
		{9 * in / 4, 11 * in / 16, 1.0742, 26.3, 47.3},
		{29 * in / 4, 3 * in / 4, 3.776, 92.4, 166.3},
	} {
		for wood, lb := range map[string]float64{"": c.pine, "pine": c.pine, "red oak": c.oak} {
			d := plan(t, tearout.Job{Rooms: []tearout.Room{classroom()}, Parts: []tearout.Part{
				{Room: "classroom", Material: wood, Length: 10 * ft, Count: 10, Width: c.width, Thickness: c.thickness, Bare: true},
			}}).Debris
			near(t, "cubic feet", d.Solid.CubicInches()/1728, c.cubicFeet, 5e-4)
			near(t, "pounds of "+wood, float64(d.Weight)/float64(measure.Pound), lb, 0.05)
			if c.pine == 31.1 && wood == "" {
				near(t, "cubic yards, loose", d.Loose.CubicInches()/46656, 0.104, 5e-4)
			}
		}
	}
	// With the true section of a molding the rectangle around it does not matter.
	d := plan(t, tearout.Job{Rooms: []tearout.Room{classroom()}, Parts: []tearout.Part{
		{Room: "classroom", Length: 100 * ft, Width: 5 * in, Section: measure.SquareInch, Bare: true},
	}}).Debris
	if d.Solid != 1200*measure.CubicInch {
		t.Errorf("100 ft of a square inch: %v", d.Solid)
	}
	// Derived: a 42 gal bag holds 5.615 cubic feet, a 10 yd box 270.
	usual := tearout.DefaultDisposal()
	near(t, "cubic feet to a bag", usual.Bag.CubicInches()/1728, 5.615, 5e-4)
	near(t, "cubic feet to a box", usual.Box.CubicInches()/1728, 270, 0)
}

// Bags are filled room by room, boxes by the job.
func TestBagsAndBoxes(t *testing.T) {
	rooms := []tearout.Room{classroom(), {Name: "corridor"}}
	// 44.03 lb to the cubic foot make 3.96 cubic feet loose of one solid: 1.4 bags.
	foot := tearout.Part{Room: "classroom", Material: "red oak", Length: ft, Width: ft, Thickness: ft, Bare: true}
	other := foot
	other.Room = "corridor"
	p := plan(t, tearout.Job{Rooms: rooms, Parts: []tearout.Part{foot, foot, other, other}})
	if p.Debris.Bags != 4 || p.Rooms[0].Debris.Bags != 2 || p.Boxes != 1 {
		t.Errorf("%d bags (%d in the first room), %d boxes; want 4 (2) and 1", p.Debris.Bags, p.Rooms[0].Debris.Bags, p.Boxes)
	}
	foot.Count = 69 // 273 cubic feet
	if p := plan(t, tearout.Job{Rooms: rooms, Parts: []tearout.Part{foot}}); p.Boxes != 2 {
		t.Errorf("%v loose: %d boxes, want 2", p.Debris.Loose, p.Boxes)
	}
}

// The ranges are common practice without a source: hours for 100 ft, or for a room.
func TestHours(t *testing.T) {
	part := tearout.Part{Room: "classroom", Profile: "old base", Length: 10 * ft, Count: 10, Width: 5 * in, Thickness: in / 2, Scored: 1}
	hours := map[tearout.Task]float64{}
	for _, m := range []tearout.Method{tearout.MethodBreak, tearout.MethodSalvage} {
		part.Method = m
		for _, s := range plan(t, tearout.Job{Building: old, Rooms: []tearout.Room{classroom()}, Parts: []tearout.Part{part}}).Steps {
			hours[s.Task] = s.Labor.Hours()
		}
	}
	hours[tearout.TaskClean] += hours[tearout.TaskInspect] + hours[tearout.TaskVerify] + hours[tearout.TaskTakeDown]
	for task, usual := range map[tearout.Task][2]float64{
		tearout.TaskBreak: {1, 2}, tearout.TaskPry: {2.5, 4}, tearout.TaskDenail: {.8, 1.5}, tearout.TaskScore: {.3, .6},
		tearout.TaskContain: {1, 3}, tearout.TaskClean: {1, 2},
	} {
		near(t, task.String(), hours[task], (usual[0]+usual[1])/2, 0.001)
	}
	for _, r := range tearout.DefaultRates() {
		if r.Source == "" || r.Date == "" || r.Condition == "" {
			t.Errorf("%v: a rate without source, date or condition: %+v", r.Task, r)
		}
	}
}

// Usual (common practice, no source) are 60 to 90 % of the pieces, less 2 to 4 in at each end.
// The longest break; pieces that the rack does not keep are debris.
func TestSalvageGoesToTheRack(t *testing.T) {
	pieces := func(room string, feet, n int64) tearout.Part {
		return tearout.Part{Room: room, Profile: "old base", Material: "pine", Length: measure.Length(feet) * ft, Count: n,
			Width: 7 * in, Thickness: in, Method: tearout.MethodSalvage}
	}
	job := tearout.Job{
		Building: old,
		Rooms:    []tearout.Room{classroom(), {Name: "corridor", Length: 8 * ft, Width: 20 * ft}},
		Parts:    []tearout.Part{pieces("classroom", 12, 4), pieces("corridor", 2, 2), pieces("classroom", 6, 3)},
		Rack:     stock.Rack{Keep: 3 * ft},
	}
	p := plan(t, job)
	// 9 pieces, 6 survive: both of 2 ft (18 in then, too short to keep), 3 of 6 ft, 1 of 12 ft.
	var got []string
	for _, o := range p.Salvage {
		got = append(got, strings.Join([]string{o.Label, o.Profile, o.Material, o.Length.String(), itoa(o.Count)}, "|"))
	}
	want := "saved from classroom|old base|pine|5' 6\"|3, saved from classroom|old base|pine|11' 6\"|1"
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("saved %s\nwant  %s", s, want)
	}
	solid := measure.Volume(7*12) * measure.CubicInch // of a foot
	if saved := p.Rooms[0].Saved; saved != (3*11+2*11+1)*solid/2 {
		t.Errorf("saved %v, want 28 ft", saved)
	}
	if p.Debris.Solid+p.Rooms[0].Saved != (48+4+18)*solid {
		t.Errorf("debris and saved pieces do not add up to the removed trim: %v, %v", p.Debris.Solid, p.Rooms[0].Saved)
	}
	rack, err := job.Rack.Apply(stock.RackChange{ID: "tear-out", Leaves: p.Salvage})
	if err != nil || len(rack.Offcuts) != 2 || len(rack.SticksIn("old base", "pine")) != 2 {
		t.Errorf("the rack: %+v, %v", rack.Offcuts, err)
	}
}

func itoa(n int) string { return string(rune('0' + n)) }
