package estimate_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// wholeJob is two rooms with everything that a job can have.
func wholeJob() estimate.Job {
	j := teachersRoom()
	const ft, in = measure.Foot, measure.Inch
	j.Rooms = append(j.Rooms, takeoff.Room{Name: "cloakroom", Height: 9 * ft, Walls: []takeoff.Wall{
		{Name: "N", Length: 7 * ft}, {Name: "E", Length: 9*ft + 3*in}, {Name: "S", Length: 7 * ft}, {Name: "W", Length: 9*ft + 3*in},
	}})
	j.Trim.Crown = &stock.Profile{Name: "pine crown"}
	j.Materials[0].Spare = estimate.Spare{Longest: true}
	for i := range j.Materials {
		for k := range j.Materials[i].Sticks {
			j.Materials[i].Sticks[k].Supplier = "river mill"
		}
	}
	j.Materials = append(j.Materials,
		estimate.Material{Profile: stock.Profile{Name: "pine crown", Thickness: 11 * in / 16, Width: 4*in + 5*in/8}, Sticks: []stock.Stick{{Length: 16 * ft, Price: 4013, Supplier: "river mill"}}},
		estimate.Material{Profile: stock.Profile{Name: "oak base", Thickness: 9 * in / 16, Width: 5*in + in/4}, Sticks: []stock.Stick{{Length: 14 * ft, Price: 7311, Supplier: "hardwood yard"}}})
	j.Suppliers = []estimate.Supplier{{Name: "river mill", Delivery: 6503, LeadDays: 4, MinOrder: 50000}, {Name: "hardwood yard", Delivery: 3709, LeadDays: 12}}
	j.Building = finish.Building{Year: 1926}
	j.TearOut = &tearout.Job{
		Rooms: []tearout.Room{{Name: "cloakroom", Length: 9*ft + 3*in, Width: 7 * ft, Doors: 1, Sills: 1}},
		Parts: []tearout.Part{{Label: "old base", Room: "cloakroom", Length: 32 * ft, Thickness: 3 * in / 4, Width: 7 * in, Girth: 8 * in, Method: tearout.MethodPry}},
	}
	j.Disposal = estimate.Disposal{Bag: 511, Box: 38013}
	j.Shelf.Products = append(j.Shelf.Products, product("plastic sheeting", finish.AmountOf(1000*measure.SquareFoot), 8917), product("sheeting tape", finish.AmountOf(180*ft), 983),
		product("heavy-duty bags", finish.Count(20), 3457), product("warning signs", finish.Count(1), 397), product("wet cloths", finish.Count(40), 1291))
	j.Calendar = &schedule.Calendar{Start: time.Date(2027, 6, 7, 8, 0, 0, 0, time.UTC), Crews: []schedule.Crew{
		{Name: "carpenters", People: 2, Skills: []string{"carpenter", "certified renovator"}}, {Name: "painter", People: 1, Skills: []string{"painter"}}}}
	j.Terms = estimate.Terms{Wage: 5147, Burden: 173000, Tax: 67300, Contingency: 71000, Markup: 233000}
	j.Payments = estimate.PaymentTerms{Down: 10 * measure.Percent, Retainage: 5 * measure.Percent}
	j.SecondTrip = &estimate.SecondTrip{Chance: 20 * measure.Percent, Rate: 6500, Drive: hours(1), Miles: 20, PerMile: 71}
	j.Costs = []estimate.Cost{{Label: "staging", Kind: estimate.CostEquipment, Amount: 9203}, {Label: "door hardware", Amount: 40007, Allowance: true}}
	j.Variants = []estimate.Variant{{Label: "oak base, clear finish", Swap: []estimate.Swap{{From: "pine base", To: "oak base"}}}}
	return j
}

func hours(n int) measure.Duration { return measure.Duration(time.Duration(n) * time.Hour) }

func product(material string, size finish.Amount, price int64) finish.Product {
	return finish.Product{Label: material, Material: material, Packages: []finish.Package{{Size: size, Price: price}}}
}

// Every cent and every hour of the parts is in the price, once.
func TestWholeJobAddsUp(t *testing.T) {
	planned := estimated(t, wholeJob(), nil)
	for _, e := range []*estimate.Estimate{planned, planned.Variants[0].Estimate} {
		kinds := map[estimate.CostKind]int64{}
		var labor measure.Duration
		for _, c := range e.Costs {
			kinds[c.Kind] += c.Amount
			labor += c.Labor
		}
		var sticks, delivery, plans int64
		for _, o := range e.Orders {
			sticks, delivery = sticks+o.StickCost, delivery+o.Delivery
			if o.Total != o.StickCost+o.Delivery {
				t.Errorf("order %+v", o)
			}
		}
		for _, p := range e.Plans {
			plans += p.Cost
		}
		var sheeting int64
		for _, b := range e.Sheeting {
			sheeting += b.Cost
		}
		var lines measure.Duration
		for _, l := range e.Labor {
			lines += l.Labor
		}
		for _, c := range []struct {
			what      string
			got, want int64
		}{
			{"trim", kinds[estimate.CostTrim], sticks},
			{"plans", plans, sticks},
			{"delivery", kinds[estimate.CostDelivery], delivery},
			{"consumables", kinds[estimate.CostConsumables], e.Finish.Cost + sheeting},
			{"hours", int64(labor), int64(lines + e.TearOut.Labor)},
			{"hours of the quote", int64(e.Quote.Labor), int64(labor)},
			{"equipment", kinds[estimate.CostEquipment], 9203},
		} {
			if c.got != c.want {
				t.Errorf("%s: %d, want %d", c.what, c.got, c.want)
			}
		}
		var total, price int64
		names := map[string]bool{}
		for i, l := range e.Quote.Lines {
			total += l.Amount
			if i >= len(e.Quote.Costs) {
				continue
			}
			if c := e.Quote.Costs[i]; names[l.Label] || l.Part != estimate.PartDirect || !strings.HasPrefix(l.Label, c.Label) || c.Kind != estimate.CostLabor && l.Amount != c.Amount {
				t.Errorf("line %d: %+v of %+v", i, l, c)
			}
			names[l.Label] = true
		}
		for _, r := range e.Quote.ByRoom() {
			price += r.Price
		}
		var paid int64
		for _, p := range e.Payments.Payments {
			paid += p.Due
		}
		if total != e.Quote.Total || price != e.Quote.Price || paid != e.Quote.Total {
			t.Errorf("lines %d, paid %d of %d; rooms %d of %d", total, paid, e.Quote.Total, price, e.Quote.Price)
		}
	}
	o := planned.Variants[0]
	if o.Difference != o.Estimate.Quote.Total-planned.Quote.Total || o.Difference <= 0 {
		t.Errorf("oak makes a difference of %d", o.Difference)
	}
}

// Spares cost the amount of the job's rule, and are compared with a trip: an hour at $65, 20 miles at
// $0.71 and a chance of one in five.
func TestSparesBesideTheTrip(t *testing.T) {
	e := estimated(t, wholeJob(), nil)
	if len(e.Spares) != 1 || e.Spares[0].Profile != "pine base" || e.Spares[0].Sticks != 1 || e.Spares[0].Trip.Expected != 1584 {
		t.Fatalf("%+v", e.Spares)
	}
	if s := e.Spares[0]; s.Pays != (s.Cost <= 1584) || s.Cost != planOf(t, e, "pine base").SpareCost {
		t.Errorf("%+v", s)
	}
}

// No internal figure is in a proposal, in any form of it: no amount of a line or a share except those
// for the client, no wage, rate or hour, no percentage, no supplier.
func TestProposalTellsNothing(t *testing.T) {
	e := estimated(t, wholeJob(), nil)
	p := e.Proposal()
	var text, page bytes.Buffer
	if err := p.WriteText(&text, 80); err != nil {
		t.Fatal(err)
	}
	if err := p.WriteHTML(&page); err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	plain := html.UnescapeString(regexp.MustCompile(`(?s)<style>.*?</style>|<[^>]*>`).ReplaceAllString(page.String(), " "))
	told := map[int64]bool{p.Price: true, 0: true}
	for _, a := range p.Allowances {
		told[a.Amount] = true
	}
	for _, a := range p.Alternates {
		told[a.Change], told[-a.Change] = true, true
	}
	for _, a := range p.Payments {
		told[a.Amount] = true
	}
	secret := map[string]bool{"river mill": true, "hardwood yard": true}
	amount := func(n int64) {
		if n = max(n, -n); !told[n] && n > 99 {
			secret[e.Job.Locale.FormatMoney(n)], secret[fmt.Sprint(n)], secret[fmt.Sprintf("%d.%02d", n/100, n%100)] = true, true, true
		}
	}
	for _, q := range []*estimate.Quote{e.Quote, e.Variants[0].Estimate.Quote} {
		for _, l := range q.Lines {
			amount(l.Amount)
		}
		for _, c := range q.Costs {
			amount(c.Amount)
			amount(c.Direct)
			amount(c.Loaded)
			if !c.Allowance {
				amount(c.Price)
			}
		}
		for _, n := range []int64{q.Direct, q.Cost} {
			amount(n)
		}
		for _, r := range []measure.Ratio{q.Markup, q.Margin, e.Job.Terms.Burden, e.Job.Terms.Tax, e.Job.Terms.Contingency, e.Job.Terms.Markup} {
			secret[r.String()] = true
		}
		secret[q.Labor.String()] = true
	}
	for _, o := range e.Orders {
		amount(o.Total)
		for _, l := range o.Lines {
			amount(l.Cost)
		}
	}
	for _, b := range e.Finish.Purchases {
		amount(b.Cost)
	}
	amount(e.Job.Terms.Wage)
	if len(secret) < 300 {
		t.Fatalf("only %d secrets", len(secret))
	}
	for name, out := range map[string]string{"text": text.String(), "page": plain, "data": string(data)} {
		numbers := regexp.MustCompile(`[0-9][0-9,.]*[0-9]%?`).FindAllString(out, -1)
		for s := range secret {
			bare := strings.TrimLeft(s, "$")
			if strings.Contains(out, s) && !regexp.MustCompile(`^[0-9.,%]+$`).MatchString(bare) || slices.Contains(numbers, bare) {
				t.Errorf("the %s tells %s", name, s)
			}
		}
	}
}

// A crew finds each minute of the schedule on its sheets, within the hours of the day, and
// cautions before the work that they are about.
func TestDaySheetsHoldTheSchedule(t *testing.T) {
	e := estimated(t, wholeJob(), nil)
	days := e.DaySheets()
	if err := days.Validate(); err != nil {
		t.Fatal(err)
	}
	var onSheets time.Duration
	for i, d := range days.Days {
		if i > 0 && d.Date.String() < days.Days[i-1].Date.String() {
			t.Errorf("%v after %v", d.Date, days.Days[i-1].Date)
		}
		for _, r := range d.Rooms {
			for _, s := range r.Steps {
				onSheets += s.To.Sub(s.From)
				if schedule.DateOf(s.From) != d.Date || s.From.Hour() < 8 || s.To.Hour() > 16 {
					t.Errorf("%s from %v to %v on the sheet of %v", s.Name, s.From, s.To, d.Date)
				}
			}
		}
	}
	var worked time.Duration
	for _, s := range e.Schedule.Slots {
		for d := s.Start; s.Crew > 0 && d.Before(s.End); d = d.Truncate(24 * time.Hour).Add(24 * time.Hour) {
			if open, end, ok := e.Job.Calendar.Hours(schedule.DateOf(d)); ok {
				if open.Before(s.Start) {
					open = s.Start
				}
				if s.End.Before(end) {
					end = s.End
				}
				worked += end.Sub(open)
			}
		}
	}
	if onSheets != worked || worked == 0 {
		t.Errorf("%v on the sheets, %v in the schedule", onSheets, worked)
	}
	var text bytes.Buffer
	if err := days.WriteText(&text, 80); err != nil {
		t.Fatal(err)
	}
	lead, pry := strings.Index(text.String(), "Treat old paint as leaded"), strings.Index(text.String(), "pry off")
	if lead < 0 || pry < lead {
		t.Errorf("the caution is at %d, the work at %d", lead, pry)
	}
	for _, secret := range []string{"$", "51.47", "6503"} {
		if strings.Contains(text.String(), secret) {
			t.Errorf("the crew's sheets mention %s", secret)
		}
	}
}

// Trim comes when it was ordered and its lead has passed, and is not put up before it has settled.
func TestOrderDates(t *testing.T) {
	j := wholeJob()
	e := estimated(t, j, nil)
	o := e.Orders[0]
	if want := (schedule.Date{Year: 2027, Month: 6, Day: 11}); o.Supplier != "river mill" || o.Comes != want {
		t.Errorf("%s comes on %v, want %v", o.Supplier, o.Comes, want)
	}
	if o.OrderBy.String() < "2027-06-07" || o.OrderBy.String() > o.Comes.String() {
		t.Errorf("order by %v", o.OrderBy)
	}
	if o.Short != max(0, 50000-o.StickCost) {
		t.Errorf("%d short at %d", o.Short, o.StickCost)
	}
	for _, s := range e.Schedule.Slots {
		if strings.HasSuffix(s.Name, "install") && s.Start.Before(time.Date(2027, 6, 11, 0, 0, 0, 0, time.UTC)) {
			t.Errorf("%s in the %s on %v", s.Job, s.Room, s.Start)
		}
	}
}

// A job reads back from its JSON, and so makes the same estimate.
func TestJobReadsBack(t *testing.T) {
	j := wholeJob()
	data, err := json.Marshal(j)
	if err != nil {
		t.Fatal(err)
	}
	var back estimate.Job
	if err := measure.UnmarshalStrict(data, &back); err != nil {
		t.Fatal(err)
	}
	a, b := estimated(t, j, nil), estimated(t, back, nil)
	if !reflect.DeepEqual(a.Quote, b.Quote) || !reflect.DeepEqual(a.Plans, b.Plans) || a.Schedule.Done != b.Schedule.Done {
		t.Error("the job that was read back gives a different estimate")
	}
}

// New changes nothing of the job that it is given.
func TestJobIsNotChanged(t *testing.T) {
	j := wholeJob()
	estimated(t, j, nil)
	if !reflect.DeepEqual(j, wholeJob()) {
		t.Error("the job was changed")
	}
}

// A job is priced again, without any search, as when a wage changes.
func BenchmarkEstimateAgain(b *testing.B) {
	j := wholeJob()
	e, err := estimate.New(context.Background(), j, nil)
	if err != nil {
		b.Fatal(err)
	}
	o := &estimate.Options{Start: e.AllPlans(), ScheduleWork: 1}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := estimate.New(context.Background(), j, o); err != nil {
			b.Fatal(err)
		}
	}
}

// Without a context nothing ends early, with any number of searches; a context that has ended gives
// its cause for each profile.
func TestNoContext(t *testing.T) {
	j := bookRoom()
	want := estimated(t, j, nil)
	var none context.Context
	for _, parallel := range []int{0, 1} {
		e, err := estimate.New(none, j, &estimate.Options{Parallel: parallel})
		if err != nil || !reflect.DeepEqual(e, want) {
			t.Errorf("%d searches: %v, or another estimate", parallel, err)
		}
	}
	lunch := errors.New("lunch")
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(lunch)
	_, err := estimate.New(ctx, j, nil)
	if bad := (*estimate.PlanError)(nil); !errors.As(err, &bad) || !errors.Is(err, lunch) {
		t.Error(err)
	}
}

// A single person gets a schedule, with a finding about work for two; a missing skill is reported
// before anything is planned.
func TestAlone(t *testing.T) {
	j := wholeJob()
	j.Rooms[0].Walls[0].Length, j.Rooms[0].Walls[2].Length = 15*measure.Foot, 15*measure.Foot
	j.Calendar.Crews = nil
	e := estimated(t, j, nil)
	if n := len(e.Findings); n == 0 || e.Findings[n-1].Code != estimate.FindingHelper {
		t.Errorf("a second person is not mentioned: %+v", e.Findings)
	}
	j.Calendar.Crews = []schedule.Crew{{Name: "carpenters", Skills: []string{"carpenter"}}, {Name: "firm", Skills: []string{"certified renovator"}}}
	searched := false
	_, err := estimate.New(context.Background(), j, &estimate.Options{Progress: func(string, optimize.Progress) bool { searched = true; return true }})
	bad := (*measure.FieldError)(nil)
	if !errors.As(err, &bad) || bad.Field != "calendar.crews" || bad.Value != `without "painter"` || searched {
		t.Errorf("%v, searched %v", err, searched)
	}
}
