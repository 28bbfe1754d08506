package labor_test

import (
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/panel"
	"example.com/longpoint/stock/stair"
	"example.com/longpoint/stock/takeoff"
)

const (
	in = measure.Inch
	ft = measure.Foot

	second = measure.Duration(1_000_000_000)
	minute = 60 * second
	hour   = 60 * minute
)

// classroom is 12 ft by 14 ft and 8 ft high, with a door of 3-0 in a 12-ft wall.
func classroom(height measure.Length, more ...takeoff.Opening) takeoff.Room {
	return takeoff.Room{Name: "classroom", Height: height, Walls: []takeoff.Wall{
		{Name: "N", Length: 14 * ft}, {Name: "E", Length: 12 * ft, Openings: []takeoff.Opening{{At: 2 * ft, Width: 36 * in}}},
		{Name: "S", Length: 14 * ft, Openings: more}, {Name: "W", Length: 12 * ft},
	}}
}

func board(name string, role stock.Role, thickness, width measure.Length) *stock.Profile {
	return &stock.Profile{Name: name, Role: role, Thickness: thickness, Width: width, Lengths: []measure.Length{16 * ft}}
}

func take(t testing.TB, s takeoff.Scheme, rooms ...takeoff.Room) *takeoff.List {
	t.Helper()
	list, err := takeoff.Take(rooms, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// workOf returns the labor of work, without set-up, of the lines that are wanted.
func workOf(t testing.TB, lines []labor.Line, wanted func(l *labor.Line) bool) measure.Duration {
	t.Helper()
	var some []labor.Line
	for i := range lines {
		if lines[i].Kind == labor.KindWork && wanted(&lines[i]) {
			some = append(some, lines[i])
		}
	}
	d, err := labor.Total(some)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// usual is a row of usual hours for trim, in hundredths of an hour per quantity, paint grade and stain
// grade: common practice of the 2020s, no source.
type usual struct {
	what           string
	paint, stained [2]int64
	scheme         takeoff.Scheme
	room           takeoff.Room
	per            int64 // so many feet or square feet; 0 = in all
	area           measure.Area
	roles          []stock.Role
	mitered        bool
}

func usualRows() []usual {
	const none = 0
	window := takeoff.Opening{Kind: takeoff.OpeningWindow, At: 4 * ft, Width: 36 * in, Height: 5 * ft, Sill: 30 * in}
	casing := board("casing", stock.RoleCasing, 11*in/16, 9*in/4)
	base, tall := board("base", stock.RoleBase, 9*in/16, 13*in/4), board("base", stock.RoleBase, 3*in/4, 29*in/4)
	room, lit := classroom(8*ft), classroom(8*ft, window)
	onlyWindow := classroom(8*ft, window)
	onlyWindow.Walls[1].Openings = nil
	flight := takeoff.Room{Name: "corridor", Walls: []takeoff.Wall{{Name: "N", Length: 20 * ft, Corner: takeoff.Corner{Kind: takeoff.CornerStop}, Stair: &takeoff.Stair{
		Flight: stair.Flight{Risers: 14, Rise: 15 * in / 2, Run: 10 * in, Nosing: in}, At: 3 * ft,
	}}}}
	twoPiece := takeoff.Assembly{Name: "base", Members: []takeoff.Member{
		{Profile: *base}, {Profile: *board("cap", stock.RoleCap, in/2, in), At: 13 * in / 4},
	}}
	wainscot := func(kind panel.Kind, width, sheet measure.Length) takeoff.Scheme {
		w := &takeoff.Wainscot{Kind: kind, Top: 32 * in, Target: 20 * in, SheetThickness: sheet, Bottom: in}
		if kind != panel.KindFrame || width > 0 {
			w.Profile = board("member", 0, 3*in/4, width)
		}
		return takeoff.Scheme{Wainscot: w}
	}
	walls := measure.Area(52*31) * measure.SquareFoot / 12 // 52 ft around, 31 in high, less the door
	walls -= measure.Area(36*31) * measure.SquareInch
	return []usual{
		{"base of one piece", [2]int64{300, 500}, [2]int64{500, 800}, takeoff.Scheme{Base: base, Casing: casing}, room, 100, none, []stock.Role{stock.RoleBase}, false},
		{"tall base", [2]int64{500, 800}, [2]int64{800, 1200}, takeoff.Scheme{Base: tall, Casing: casing}, room, 100, none, []stock.Role{stock.RoleBase}, false},
		{"base of two pieces", [2]int64{500, 800}, [2]int64{800, 1200}, takeoff.Scheme{Assemblies: []takeoff.Assembly{twoPiece}, Casing: casing}, room, 100, none, []stock.Role{stock.RoleBase, stock.RoleCap}, false},
		{"shoe", [2]int64{150, 250}, [2]int64{200, 400}, takeoff.Scheme{Shoe: board("shoe", stock.RoleShoe, in/2, 3*in/4), Base: base, Casing: casing}, room, 100, none, []stock.Role{stock.RoleShoe}, false},
		{"casing of a side of a door", [2]int64{40, 60}, [2]int64{70, 100}, takeoff.Scheme{Casing: casing}, room, none, none, []stock.Role{stock.RoleCasing}, false},
		{"casing of a window, as a frame", [2]int64{60, 90}, [2]int64{100, 150}, takeoff.Scheme{Casing: casing}, onlyWindow, none, none, []stock.Role{stock.RoleCasing}, false},
		{"stool, apron and casing", [2]int64{100, 150}, [2]int64{150, 250},
			takeoff.Scheme{Casing: casing, Stool: board("stool", stock.RoleStool, in, 4*in), Apron: board("apron", stock.RoleApron, 11*in/16, 9*in/4)}, onlyWindow, none, none,
			[]stock.Role{stock.RoleCasing, stock.RoleStool, stock.RoleApron}, false},
		{"chair rail", [2]int64{300, 500}, [2]int64{500, 700}, takeoff.Scheme{ChairRail: board("rail", stock.RoleChairRail, 3*in/4, 5*in/2), Casing: casing}, lit, 100, none, []stock.Role{stock.RoleChairRail}, false},
		{"picture rail", [2]int64{300, 400}, [2]int64{400, 600}, takeoff.Scheme{PictureRail: board("rail", stock.RolePictureRail, 3*in/4, 7*in/4), Casing: casing}, room, 100, none, []stock.Role{stock.RolePictureRail}, false},
		{"crown", [2]int64{600, 900}, [2]int64{900, 1400}, takeoff.Scheme{Crown: board("crown", stock.RoleCrown, 9*in/16, 17*in/4)}, room, 100, none, []stock.Role{stock.RoleCrown}, false},
		{"wainscot of boards", [2]int64{600, 1000}, [2]int64{1000, 1600}, wainscot(panel.KindStrips, 13*in/4, 0), room, 100, walls, []stock.Role{stock.RolePanel}, false},
		{"wainscot of sheets", [2]int64{600, 1000}, [2]int64{1000, 1600}, wainscot(panel.KindBattens, 5*in/2, in/4), room, 100, walls, []stock.Role{stock.RolePanel}, false},
		{"wainscot of rails and panels", [2]int64{1500, 3000}, [2]int64{2500, 4500}, wainscot(panel.KindFrame, 3*in, 0), room, 100, walls, []stock.Role{stock.RoleStile, stock.RoleRail, stock.RolePanel}, false},
		{"closed skirt", [2]int64{150, 300}, [2]int64{250, 500}, takeoff.Scheme{Skirt: board("skirt", stock.RoleSkirt, 3*in/4, 45*in/4), Base: base}, flight, none, none, []stock.Role{stock.RoleSkirt}, false},
		{"mitered skirt", [2]int64{400, 800}, [2]int64{600, 1200}, takeoff.Scheme{Skirt: board("skirt", stock.RoleSkirt, 3*in/4, 45*in/4), Base: base}, flight, none, none, []stock.Role{stock.RoleSkirt}, true},
	}
}

// profilesOf returns the profiles of a scheme with their roles.
func profilesOf(s takeoff.Scheme) (all []stock.Profile) {
	for _, p := range []*stock.Profile{s.Base, s.Shoe, s.ChairRail, s.PictureRail, s.Casing, s.Crown, s.Skirt, s.Stool, s.Apron} {
		if p != nil {
			all = append(all, *p)
		}
	}
	return all
}

// A usual room takes the usual hours, paint grade and stain grade.
func TestUsualHoursOfInstall(t *testing.T) {
	for _, row := range usualRows() {
		list := take(t, row.scheme, row.room)
		o := labor.Options{Profiles: profilesOf(row.scheme)}
		if row.mitered {
			o.MiteredSkirts = []string{row.room.Name}
		}
		for i, want := range [][2]int64{row.paint, row.stained} {
			if i == 1 {
				o.Conditions = []labor.Condition{{Factor: "hardwood"}}
			}
			lines, err := labor.Lines(list, []takeoff.Room{row.room}, nil, labor.Rates{}, &o)
			if err != nil {
				t.Fatal(row.what, err)
			}
			got := int64(0)
			role := func(l *labor.Line) bool {
				for _, r := range row.roles {
					if l.Role == r {
						return true
					}
				}
				return false
			}
			got = int64(workOf(t, lines, role)) / int64(hour/100)
			switch {
			case row.area != 0:
				got = got * row.per * int64(measure.SquareFoot/measure.SquareInch) / int64(row.area/measure.SquareInch)
			case row.per != 0:
				var net measure.Length
				for _, total := range list.RoomTotals {
					if total.Role == row.roles[0] {
						net += total.Net
					}
				}
				got = got * row.per * int64(ft) / int64(net)
			}

			if got < want[0] || got > want[1] {
				t.Errorf("%s: %d hundredths of an hour, usually %v", row.what, got, want)
			}
		}
	}
}

// Single events take their usual times, in seconds.
func TestUsualMinutes(t *testing.T) {
	r := labor.DefaultRates()
	for _, x := range []struct {
		event    labor.Event
		of       labor.Trim
		from, to int64
	}{
		{labor.EventStop, labor.Trim{Role: stock.RoleBase}, 60, 120}, // a square end
		{labor.EventButt, labor.Trim{Role: stock.RoleCasing}, 60, 120},
		{labor.EventCope, labor.Trim{Role: stock.RoleBase}, 300, 480},
		{labor.EventCope, labor.Trim{Role: stock.RoleBase, Width: 7 * in}, 300, 480},
		{labor.EventCope, labor.Trim{Role: stock.RoleCap}, 300, 480},
		{labor.EventCope, labor.Trim{Role: stock.RoleCrown}, 600, 1200},
		{labor.EventOutsideMiter, labor.Trim{Role: stock.RoleBase}, 240, 480},
		{labor.EventOutsideMiter, labor.Trim{Role: stock.RoleCrown}, 600, 900},
		{labor.EventScarf, labor.Trim{Role: stock.RoleBase}, 300, 480},
		{labor.EventScarf, labor.Trim{Role: stock.RoleCrown}, 300, 480},
		{labor.EventReturn, labor.Trim{Role: stock.RoleChairRail}, 480, 720},
		{labor.EventReturn, labor.Trim{Role: stock.RoleCrown}, 480, 720},
		{labor.EventScribe, labor.Trim{Role: stock.RoleBase}, 60, 120}, // a foot
		{labor.EventTestCorner, labor.Trim{Role: stock.RoleBase}, 180, 180},
		{labor.EventSetUp, labor.Trim{}, 900, 1800},
		{labor.EventStaging, labor.Trim{Role: stock.RoleCrown, Height: 10 * ft}, 1800, 3600},
	} {
		k := r.Find(finish.TaskInstall, x.event, x.of)
		if k < 0 {
			t.Errorf("%v of %+v has no rate", x.event, x.of)
			continue
		}
		if got := int64(r.Table[k].Time / second); got < x.from || got > x.to || !r.Table[k].Per.IsZero() {
			t.Errorf("%v of %v: %d s, usually %d to %d", x.event, x.of.Role, got, x.from, x.to)
		}
	}
	if k := r.Find(finish.TaskInstall, labor.EventStaging, labor.Trim{Role: stock.RoleCrown, Height: 8 * ft}); k >= 0 {
		t.Error("staging for a ceiling of 8 ft")
	}
	for _, x := range []struct {
		name     string
		from, to measure.Ratio // in percent
		above    measure.Length
	}{
		{"overhead", 115, 125, 9*ft + 6*in}, {"overhead", 130, 150, 11*ft + 6*in}, {"old plaster", 120, 150, 0}, {"hardwood", 130, 170, 0},
		{"small room", 130, 160, 0}, {"occupied", 110, 125, 0}, {"second person", 120, 120, 0},
	} {
		found := false
		for _, f := range r.Factors {
			if f.Name == x.name && f.Above == x.above {
				found = true
				if f.By < x.from*measure.Percent || f.By > x.to*measure.Percent {
					t.Errorf("%s: %v", f.Name, f.By)
				}
			}
		}
		if !found {
			t.Errorf("no factor %s from %v up", x.name, x.above)
		}
	}
}

// A hundred feet of trim 3 in to 5 in wide, with the corners of a usual room, take the usual hours for
// finishing, in hundredths of an hour: common practice, no source.
func TestUsualHoursOfFinishing(t *testing.T) {
	room := classroom(8 * ft)
	base, casing := board("base", stock.RoleBase, 9*in/16, 13*in/4), board("casing", stock.RoleCasing, 11*in/16, 9*in/4)
	list := take(t, takeoff.Scheme{Base: base, Casing: casing}, room)
	var work []finish.Work
	for _, total := range list.RoomTotals {
		p, system := *base, finish.PaintedTrim()
		if total.Profile == "casing" {
			p, system = *casing, finish.PaintedCasing()
		}
		for i := range system.Steps {
			switch s := &system.Steps[i]; s.Task {
			case finish.TaskPaint:
				s.Coats = 1
			case finish.TaskMask:
				s.Lines = 1
			case finish.TaskCaulk:
				s.Lines = 1
			}
		}
		work = append(work, finish.Work{Job: estimate.FinishJob(total, p), System: system})
	}
	done, err := finish.NewList(work, shelf())
	if err != nil {
		t.Fatal(err)
	}
	lines, err := labor.Lines(list, []takeoff.Room{room}, done.Steps, labor.Rates{}, &labor.Options{Profiles: []stock.Profile{*base, *casing}})
	if err != nil {
		t.Fatal(err)
	}
	spray := []finish.StepResult{{Job: "base", Task: finish.TaskPaint, Step: "spray on racks", Length: 100 * ft}}
	if l := mustLines(t, nil, nil, spray, labor.Rates{}, nil)[0]; l.Labor < hour*3/10 || l.Labor > hour/2 {
		t.Errorf("%v for a coat sprayed on 100 ft on racks, usually 0.3 h to 0.5 h", l.Labor)
	}
	// Upright joints are grouted and cleaned along 30 to 50 ft of a course an hour.
	if k := labor.DefaultRates().Find(finish.TaskGrout, labor.EventLength, labor.Trim{}); k < 0 {
		t.Error("no rate for grout")
	} else if d, err := labor.DefaultRates().Table[k].For(finish.AmountOf(120 * ft)); err != nil || d < 120*hour/50 || d > 120*hour/30 {
		t.Errorf("%v for grout along 120 ft, %v", d, err)
	}
	net := list.TotalsOf("base").Net
	for _, x := range []struct {
		step     string
		from, to int64
	}{
		{"fill", 50, 100}, {"sand the primer", 50, 80}, {"caulk", 40, 80}, {"mask", 30, 60}, {"prime", 100, 150}, {"paint", 120, 200},
	} {
		of := workOf(t, lines, func(l *labor.Line) bool { return l.Profile == "base" && l.Step == x.step })
		if got := int64(of) / int64(hour/100) * 100 * int64(ft) / int64(net); got < x.from || got > x.to {
			t.Errorf("%s: %d hundredths of an hour per 100 ft, usually %d to %d", x.step, got, x.from, x.to)
		}
	}
	coat := workOf(t, lines, func(l *labor.Line) bool { return l.Profile == "casing" && l.Step == "paint" })
	if got := int64(coat) / int64(hour/100); got < 25 || got > 40 {
		t.Errorf("a coat on the casing of a side of a door takes %d hundredths of an hour", got)
	}
}

// shelf has a product for every task.
func shelf() finish.Shelf {
	var s finish.Shelf
	for _, x := range []struct {
		material string
		size     finish.Amount
	}{
		{"nails", finish.Count(1000)}, {"brads", finish.Count(1000)}, {"filler", finish.AmountOf(measure.Gallon)}, {"sandpaper", finish.Count(10)},
		{"caulk", finish.AmountOf(measure.Gallon)}, {"tape", finish.AmountOf(180 * ft)}, {"primer", finish.AmountOf(measure.Gallon)},
		{"paint", finish.AmountOf(measure.Gallon)}, {"wood glue", finish.AmountOf(measure.Gallon)}, {"thinset", finish.AmountOf(50 * measure.Pound)},
		{"grout", finish.AmountOf(25 * measure.Pound)}, {"sealant", finish.AmountOf(measure.Gallon)}, {"sealer", finish.AmountOf(measure.Gallon)},
	} {
		s.Products = append(s.Products, finish.Product{Label: x.material, Material: x.material, Packages: []finish.Package{{Size: x.size, Price: 1000}}})
	}
	return s
}
