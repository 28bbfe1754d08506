package estimate_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
	"example.com/longpoint/stock/takeoff"
)

// teachersRoom is a room of 12 by 14 ft with a door, its base and its casing.
func teachersRoom() estimate.Job {
	const ft, in = measure.Foot, measure.Inch
	return estimate.Job{
		Name: "teacher's room",
		Rooms: []takeoff.Room{{Name: "teacher's room", Height: 9 * ft, Walls: []takeoff.Wall{
			{Name: "N", Length: 14 * ft},
			{Name: "E", Length: 12 * ft},
			{Name: "S", Length: 14 * ft, Openings: []takeoff.Opening{{At: 4 * ft, Width: 36 * in, Height: 80 * in}}},
			{Name: "W", Length: 12 * ft},
		}}},
		Trim: takeoff.Scheme{Base: &stock.Profile{Name: "pine base"}, Casing: &stock.Profile{Name: "casing"}},
		Materials: []estimate.Material{
			{Profile: stock.Profile{Name: "pine base", Thickness: 9 * in / 16, Width: 5*in + in/4},
				Sticks: []stock.Stick{{Length: 12 * ft, Price: 1908}, {Length: 16 * ft, Price: 2608}}},
			{Profile: stock.Profile{Name: "casing", Thickness: 11 * in / 16, Width: 3*in + in/2},
				Sticks: []stock.Stick{{Length: 7*ft + in, Price: 1015}, {Length: 14 * ft, Price: 2030}}},
		},
		Kerf:  in / 8,
		Shelf: workshopShelf(),
		Terms: estimate.Terms{Wage: 5200},
	}
}

// workshopShelf has a product for everything that the usual systems ask for.
func workshopShelf() finish.Shelf {
	var s finish.Shelf
	add := func(material string, size finish.Amount, price int64) {
		s.Products = append(s.Products, finish.Product{Label: material, Material: material, Packages: []finish.Package{{Size: size, Price: price}}})
	}
	for _, m := range []string{"nails", "brads"} {
		add(m, finish.Count(1000), 1480)
	}
	add("sandpaper", finish.Count(15), 1090)
	for _, m := range []string{"wood glue", "filler", "caulk", "primer", "paint", "sealer"} {
		add(m, finish.AmountOf(measure.Quart), 1850)
	}
	add("tape", finish.AmountOf(180*measure.Foot), 720)
	add("thinset", finish.AmountOf(50*measure.Pound), 2400)
	add("grout", finish.AmountOf(10*measure.Pound), 1700)
	return s
}

func estimated(t *testing.T, j estimate.Job, o *estimate.Options) *estimate.Estimate {
	t.Helper()
	e, err := estimate.New(context.Background(), j, o)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// planOf returns the plan of a profile.
func planOf(t *testing.T, e *estimate.Estimate, profile string) estimate.ProfilePlan {
	t.Helper()
	for _, p := range e.Plans {
		if p.Profile == profile {
			return p
		}
	}
	t.Fatalf("no plan for %s", profile)
	return estimate.ProfilePlan{}
}

// The requirements of each profile alone are those of the job.
func TestPlansAreTheCheapest(t *testing.T) {
	j := teachersRoom()
	e := estimated(t, j, nil)
	for _, p := range e.Plans {
		alone, err := optimize.Solve(context.Background(), p.Problem, nil)
		if err != nil {
			t.Fatal(err)
		}
		if alone.Cost != p.Cost || !p.Plan.Proven {
			t.Errorf("%s costs %d, alone %d, proven %v", p.Profile, p.Cost, alone.Cost, p.Plan.Proven)
		}
	}
	if len(e.Orders) != 1 || e.Orders[0].StickCost != planOf(t, e, "pine base").Cost+planOf(t, e, "casing").Cost {
		t.Errorf("orders %+v", e.Orders)
	}
}

// How many are solved at a time changes nothing.
func TestParallelChangesNothing(t *testing.T) {
	j := teachersRoom()
	j.Materials[0].Spare = estimate.Spare{Longest: true}
	j.Materials = append(j.Materials, estimate.Material{Profile: stock.Profile{Name: "oak base", Thickness: measure.Inch / 2, Width: 5 * measure.Inch},
		Sticks: []stock.Stick{{Length: 10 * measure.Foot, Price: 3100}, {Length: 14 * measure.Foot, Price: 4200}}})
	j.Variants = []estimate.Variant{{Label: "oak", Swap: []estimate.Swap{{From: "pine base", To: "oak base"}}}}
	one := estimated(t, j, &estimate.Options{Parallel: 1})
	for _, n := range []int{0, 2, 7} {
		if e := estimated(t, j, &estimate.Options{Parallel: n}); !reflect.DeepEqual(e, one) {
			t.Errorf("with %d at a time, a different estimate", n)
		}
	}
	if got := planOf(t, one.Variants[0].Estimate, "casing"); !reflect.DeepEqual(got, planOf(t, one, "casing")) {
		t.Error("the casing of the variant is different")
	}
	if one.Takeoff.TotalsOf("oak base").Runs != 0 || one.Variants[0].Estimate.Takeoff.TotalsOf("pine base").Runs != 0 {
		t.Error("a variant has the base of the job, or the job that of the variant")
	}
}

// Plans of an earlier estimate are taken over without a search if nothing changed.
func TestStartIsNotSolvedAgain(t *testing.T) {
	j := teachersRoom()
	first := estimated(t, j, nil)
	searched := 0
	again := estimated(t, j, &estimate.Options{Start: first.Plans, Progress: func(string, optimize.Progress) bool { searched++; return true }})
	if searched != 0 || !reflect.DeepEqual(again, first) {
		t.Errorf("%d reports of searches", searched)
	}
	j.Materials[0].Sticks[0].Price++
	dearer := estimated(t, j, &estimate.Options{Start: first.Plans})
	if alone := estimated(t, j, nil); planOf(t, dearer, "pine base").Cost != planOf(t, alone, "pine base").Cost {
		t.Error("a start makes the base more expensive or cheaper")
	}
	// Sticks that are gone make the plan no place to start from, and no error.
	j.Materials[0].Sticks = j.Materials[0].Sticks[:1]
	j.Materials[0].Sticks[0].Length = 16 * measure.Foot
	estimated(t, j, &estimate.Options{Start: first.Plans})
}

// Spare sticks are those of the rule, and SpareCost is the difference of two optima.
func TestSpares(t *testing.T) {
	j := teachersRoom()
	without := planOf(t, estimated(t, j, nil), "pine base")
	cut := int(without.Plan.Sticks())
	for _, tt := range []struct {
		spare estimate.Spare
		want  int
	}{
		{estimate.Spare{}, 0},
		{estimate.Spare{Sticks: 2}, 2},
		{estimate.Spare{Longest: true}, 1},
		{estimate.Spare{Sticks: 2, Longest: true}, 2},
		{estimate.Spare{Share: 1}, 1},
		{estimate.Spare{Share: 100 * measure.Percent}, cut},
		{estimate.Spare{Share: 100*measure.Percent - 1, Sticks: 1}, cut},
	} {
		j.Materials[0].Spare = tt.spare
		p := planOf(t, estimated(t, j, nil), "pine base")
		bought := 0
		for _, b := range p.Plan.Buy {
			bought += b.Count
		}
		if p.Spare != tt.want || bought != int(p.Plan.Sticks())+tt.want || p.SpareCost != p.Cost-without.Cost || tt.want > 0 && p.SpareCost < 1908*int64(tt.want) {
			t.Errorf("%+v: %d spare of %d bought, costing %d; want %d", tt.spare, p.Spare, bought, p.SpareCost, tt.want)
		}
		if err := optimize.Check(context.Background(), p.Problem, p.Plan); err != nil {
			t.Error(err)
		}
	}
}

// The choice of suppliers is that of a slow look at every set of them.
func TestSuppliersBrute(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 16))
	names := []string{"north yard", "mill", "depot"}
	for range 60 {
		j := teachersRoom()
		for i := range j.Materials {
			m := &j.Materials[i]
			base := m.Sticks
			m.Sticks = nil
			for _, n := range names {
				if chance.IntN(4) == 0 && n != names[0] {
					continue
				}
				for _, s := range base {
					s.Supplier, s.Price = n, s.Price*int64(80+chance.IntN(40))/100
					m.Sticks = append(m.Sticks, s)
				}
			}
		}
		j.Suppliers = nil
		for _, n := range names[:1+chance.IntN(3)] {
			j.Suppliers = append(j.Suppliers, estimate.Supplier{Name: n, Delivery: int64(chance.IntN(2000)), MinOrder: int64(chance.IntN(9000)), LeadDays: 3})
		}
		var got int64
		for _, o := range estimated(t, j, nil).Orders {
			got += o.Total
			if o.Short > 0 && o.Short+o.StickCost != j.Suppliers[slices.IndexFunc(j.Suppliers, func(s estimate.Supplier) bool { return s.Name == o.Supplier })].MinOrder {
				t.Errorf("%d short of the minimum order at %d", o.Short, o.StickCost)
			}
		}
		if want := cheapestOf(t, j, names); got != want {
			t.Fatalf("orders come to %d, the cheapest set of suppliers to %d", got, want)
		}
	}
}

// cheapestOf solves a job without deliveries for every set of suppliers and adds them.
func cheapestOf(t *testing.T, j estimate.Job, names []string) int64 {
	best := int64(-1)
	for set := 1; set < 1<<len(names); set++ {
		k := j
		k.Suppliers = nil
		k.Materials = slices.Clone(j.Materials)
		var cost int64
		for i, n := range names {
			if set>>i&1 == 1 {
				if at := slices.IndexFunc(j.Suppliers, func(s estimate.Supplier) bool { return s.Name == n }); at >= 0 {
					cost += j.Suppliers[at].Delivery
				}
			}
		}
		enough := true
		for i := range k.Materials {
			k.Materials[i].Sticks = slices.DeleteFunc(slices.Clone(j.Materials[i].Sticks), func(s stock.Stick) bool { return set>>slices.Index(names, s.Supplier)&1 == 0 })
			enough = enough && len(k.Materials[i].Sticks) > 0
		}
		if !enough {
			continue
		}
		for _, p := range estimated(t, k, nil).Plans {
			cost += p.Cost
		}
		if best < 0 || cost < best {
			best = cost
		}
	}
	return best
}

// A job that cannot be done names the profile, and nothing is half computed.
func TestPlanError(t *testing.T) {
	j := teachersRoom()
	j.Materials[1].Sticks = []stock.Stick{{Length: 7*measure.Foot + measure.Inch, Price: 500, Limit: 2}}
	e, err := estimate.New(context.Background(), j, nil)
	bad := (*estimate.PlanError)(nil)
	if e != nil || !errors.As(err, &bad) || bad.Profile != "casing" || !errors.As(err, new(*optimize.InfeasibleError)) {
		t.Errorf("%v, %v", e, err)
	}
}

// A deadline that has passed leaves no estimate or one with plans, and no waiting goroutine.
func TestDeadline(t *testing.T) {
	ctx, done := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer done()
	if e, err := estimate.New(ctx, teachersRoom(), nil); (e == nil) == (err == nil) {
		t.Errorf("%v, %v", e, err)
	}
}

// All that is wrong with a job is reported at once, each fault at its place.
func TestJobFaults(t *testing.T) {
	if err := teachersRoom().Validate(); err != nil {
		t.Fatal(err)
	}
	j := teachersRoom()
	j.Rooms[0].Walls[1].Length = -1
	j.Trim.Shoe = &stock.Profile{Name: "shoe"}
	j.Materials[0].Sticks[1].Price = 0
	j.Materials[1].System = "varnish"
	j.Materials[1].Spare.Share = 101 * measure.Percent
	j.Suppliers = []estimate.Supplier{{Name: "", Delivery: -1}, {Name: "mill", LeadDays: -2}, {Name: "mill"}}
	j.Kerf = -1
	j.Rules.Spare = 2
	j.Terms.Wage = -1
	j.Variants = []estimate.Variant{{Swap: []estimate.Swap{{From: "oak", To: "casing"}, {From: "casing", To: "oak"}}}, {Label: "none"}}
	_, err := estimate.New(context.Background(), j, nil)
	var got []string
	for bad := range measure.FieldErrors(err) {
		got = append(got, bad.Field)
	}
	want := []string{
		"materials[0].sticks[1].price", "materials[1].system", "materials[1].spare.share", "trim.shoe.name", "rooms[0].walls[1].length",
		"suppliers[0].name", "suppliers[0].delivery", "suppliers[1].lead_days", "suppliers[2].name", "kerf", "rules.spare", "terms.wage",
		"variants[0].label", "variants[0].swap[0].from", "variants[0].swap[1].to", "variants[1].swap",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// Duplicate data is consistent, or a fault.
func TestSaidTwice(t *testing.T) {
	j := wholeJob()
	j.Locale = measure.Locale{Currency: measure.Currency{Symbol: "$"}}
	j.Habits.Locale = j.Locale
	if err := j.Validate(); err != nil {
		t.Fatal(err)
	}
	metric := measure.Locale{Metric: true}
	j.Habits.Locale, j.Conditions.Locale, j.Shelf.Locale, j.Terms.Locale, j.Payments.Locale = metric, metric, metric, metric, metric
	off := *j.TearOut
	off.Locale, off.Building, off.Rack = metric, finish.Building{Year: 2001}, stock.Rack{Keep: measure.Foot}
	j.TearOut = &off
	j.Labor.Profiles = []stock.Profile{{Name: "pine base"}}
	j.Materials[0].Costs = []estimate.Cost{{Label: "blade", Profile: "casing"}}
	var got []string
	for bad := range measure.FieldErrors(j.Validate()) {
		got = append(got, bad.Field)
	}
	want := []string{"tear_out.building", "tear_out.rack", "habits.locale", "conditions.locale", "shelf.locale", "terms.locale", "payments.locale", "tear_out.locale", "labor.profiles", "materials[0].costs[0].profile"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// A material that a system needs and the shelf does not have is a fault before anything is solved.
func TestShelfWithout(t *testing.T) {
	j := teachersRoom()
	j.Shelf.Products = j.Shelf.Products[1:] // no nails
	_, err := estimate.New(context.Background(), j, nil)
	bad := (*measure.FieldError)(nil)
	if !errors.As(err, &bad) || bad.Field != "shelf.products" || bad.Value != `without "nails"` {
		t.Errorf("%v", err)
	}
}

// Strips that are ripped from boards are bought as whole boards.
func TestStripsAreBoughtAsBoards(t *testing.T) {
	in := measure.MustParse
	j := teachersRoom()
	j.Rooms[0].Walls[1].Openings = []takeoff.Opening{{
		Kind: takeoff.OpeningWindow, At: in("18in"), Width: in("30-1/4in"), Height: in("60in"), Sill: in("32in"),
		Depths: &scribe.Depths{TopLeft: in("1/2in"), TopRight: in("11/16in"), BottomLeft: in("9/16in"), BottomRight: in("9/16in"), Left: in("5/8in")},
	}}
	j.Trim.Extension = &takeoff.ExtensionStock{Board: stock.Profile{Name: "pine 1x6"}, Kerf: in("1/8in")}
	j.Materials = append(j.Materials, estimate.Material{
		Profile: stock.Profile{Name: "pine 1x6", Thickness: in("3/4in"), Width: in("5-1/2in")},
		Sticks:  []stock.Stick{{Length: in("8ft"), Price: 1010, Limit: 2}},
	})
	e := estimated(t, j, nil)
	p := planOf(t, e, `pine 1x6 ripped to 11/16"`)
	if p.Parts != 6 || p.Cost != 1010 || p.Plan.Sticks() != 2 {
		t.Errorf("%d strips of a board, %d of them cut, %d cents; want 6, 2, 1010", p.Parts, p.Plan.Sticks(), p.Cost)
	}
	k := slices.IndexFunc(e.Orders[0].Lines, func(l estimate.OrderLine) bool { return l.Profile == "pine 1x6" })
	if k < 0 || e.Orders[0].Lines[k].Count != 1 || e.Orders[0].Lines[k].Cost != 1010 {
		t.Errorf("orders %+v", e.Orders[0].Lines)
	}
}
