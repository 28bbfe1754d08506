package estimate_test

import (
	"context"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
)

// schoolhouse is the job of the example program, with its first variant alone.
func schoolhouse(t *testing.T, change func(*estimate.Job)) *estimate.Estimate {
	t.Helper()
	data, err := os.ReadFile("../../examples/schoolhouse/job.json")
	if err != nil {
		t.Fatal(err)
	}
	var j estimate.Job
	if err := measure.UnmarshalStrict(data, &j); err != nil {
		t.Fatal(err)
	}
	j.Variants = j.Variants[:1]
	if change != nil {
		change(&j)
	}
	e, err := estimate.New(context.Background(), j, &estimate.Options{ScheduleWork: 1})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// Parts on top of the legs of a casing are installed after them, from the bottom up (derived).
func TestHeadGoesUpInOrder(t *testing.T) {
	e := schoolhouse(t, func(j *estimate.Job) { j.Variants = nil })
	var last time.Time
	for _, profile := range []string{"primed casing", "fillet", "frieze", "cornice", "cap"} {
		var from, to time.Time
		for _, s := range e.Schedule.Slots {
			if s.Room == "corridor" && s.Job == profile && strings.Contains(s.Name, "install") {
				from, to = s.Start, s.End
			}
		}
		if from.IsZero() || from.Before(last) {
			t.Errorf("%s goes up at %v, but the trim under it only at %v", profile, from, last)
		}
		last = to
	}
}

// An order goes out on a day of work.
func TestOrdersGoOutOnDaysOfWork(t *testing.T) {
	for _, start := range []int{0, 1, 5} {
		e := schoolhouse(t, func(j *estimate.Job) {
			j.Variants, j.TearOut = nil, nil
			j.Calendar.Start = j.Calendar.Start.AddDate(0, 0, start)
			j.OrderOn = schedule.Date{}
		})
		for _, o := range e.Orders {
			d := time.Date(o.OrderBy.Year, o.OrderBy.Month, o.OrderBy.Day, 12, 0, 0, 0, time.UTC).Weekday()
			if d == time.Saturday || d == time.Sunday {
				t.Errorf("start %d: order from %s by %s, a %v", start, o.Supplier, o.OrderBy, d)
			}
		}
	}
}

// The crew's sheet says how to do a tear-out and how much of everything to bring.
func TestDaySheetsSayWhatToBring(t *testing.T) {
	e := schoolhouse(t, nil)
	sheets := e.DaySheets()
	first := sheets.Days[0]
	if want := "6 mil sheeting: 1 x roll of 10 ft by 100 ft"; !slices.Contains(first.Bring.Packages, want) {
		t.Errorf("the first day brings %q, want %q", first.Bring.Packages, want)
	}
	told := map[string]bool{}
	brought := map[string]bool{}
	var sticks []string
	for _, d := range sheets.Days {
		for _, r := range d.Rooms {
			for _, s := range r.Steps {
				for _, n := range s.Notes {
					told[r.Room+n] = true
				}
			}
		}
		for _, p := range d.Bring.Packages {
			if brought[p] {
				t.Errorf("%s is brought twice", p)
			}
			brought[p] = true
		}
		sticks = append(sticks, d.Bring.Sticks...)
	}
	for _, s := range e.TearOut.Steps {
		if s.Room != "" && s.Labor > 0 && !told[s.Room+s.Text] {
			t.Errorf("no sheet describes the work %s", s.ID)
		}
	}
	if want := "painter's caulk: what is on hand, "; !slices.ContainsFunc(slices.Sorted(maps.Keys(brought)), func(s string) bool { return strings.HasPrefix(s, want) }) {
		t.Errorf("nothing of %q in %v", want, brought)
	}
	if len(brought) != len(e.Sheeting)+len(e.Finish.Purchases) {
		t.Errorf("%d products are brought, %d bought", len(brought), len(e.Sheeting)+len(e.Finish.Purchases))
	}
	if want := `1 @ 6' 2-1/2", primed pine base, from the rack`; !slices.Contains(sticks, want) {
		t.Errorf("nothing of %q in %q", want, sticks)
	}
}

// The client's paper begins with the handover of the pamphlet, and says how many openings are cased and
// what an alternate replaces.
func TestProposalForTheClient(t *testing.T) {
	e := schoolhouse(t, nil)
	p := e.Proposal()
	if len(p.Lead) < 2 || p.Lead[0].Source != "40 CFR 745.84" || !strings.Contains(p.Lead[0].Text, "pamphlet") {
		t.Errorf("the pamphlet is not mentioned first: %+v", p.Lead)
	}
	for _, c := range p.Lead {
		if strings.HasPrefix(c.Source, "29 CFR") {
			t.Errorf("the proposal mentions the duties of an employer: %+v", c)
		}
	}
	if got := p.Alternates[0].Label; got != "MDF base, instead of primed pine base" {
		t.Errorf("the alternate is %q", got)
	}
	openings := 0
	for _, w := range e.Job.Rooms {
		for _, wall := range w.Walls {
			openings += len(wall.Openings)
		}
	}
	got := 0
	for _, s := range p.Scope {
		for _, i := range s.Items {
			for n := 1; n <= 9; n++ {
				for _, word := range []string{" opening", " openings"} {
					if strings.HasSuffix(i.Label, ", around "+string(rune('0'+n))+word) {
						got += n
					}
				}
			}
		}
	}
	if got != openings {
		t.Errorf("casing goes around %d openings, there are %d", got, openings)
	}

	e = schoolhouse(t, func(j *estimate.Job) {
		j.Building = finish.Building{Year: 1990}
		j.TearOut.Rooms, j.Variants = j.TearOut.Rooms[:1], nil
		j.TearOut.Parts = j.TearOut.Parts[:1]
	})
	if slices.ContainsFunc(e.TearOut.Steps, func(s tearout.Step) bool { return s.Task == tearout.TaskNotify }) {
		t.Fatal("the pamphlet is for old buildings")
	}
	for _, c := range e.Proposal().Lead {
		if strings.Contains(c.Text, "pamphlet") {
			t.Errorf("a pamphlet for a building of 1990: %+v", c)
		}
	}
}

// The members of the heads of the corridor's casings are no trim along its walls: they have no length.
func TestHeadsHaveNoLength(t *testing.T) {
	e := schoolhouse(t, func(j *estimate.Job) { j.Variants = nil })
	var heads []string
	for _, s := range e.Proposal().Scope {
		for _, i := range s.Items {
			if strings.HasSuffix(i.Label, ", over openings") {
				heads = append(heads, s.Room+": "+i.Label)
				if i.Length != 0 {
					t.Errorf("%s: %s is %v long", s.Room, i.Label, i.Length)
				}
			} else if i.Label == "frieze" && i.Length == 0 {
				t.Errorf("%s: the frieze has no length", s.Room)
			}
		}
	}
	want := []string{"corridor: fillet, over openings", "corridor: frieze, over openings", "corridor: crown, cornice, over openings", "corridor: cap, over openings"}
	if !slices.Equal(heads, want) {
		t.Errorf("%q, want %q", heads, want)
	}
}

// Varnish is not called paint grade.
func TestVarnishIsNoPaint(t *testing.T) {
	e := schoolhouse(t, func(j *estimate.Job) {
		j.Variants = nil
		j.Systems = append(j.Systems, finish.System{Label: "clear", Steps: []finish.Step{{Task: finish.TaskInstall}, {Task: finish.TaskPaint, Label: "stain", Material: "stain"}, {Task: finish.TaskPaint, Label: "varnish", Material: "varnish", Coats: 3}}})
		j.Materials[0].System, j.Materials[0].Preprimed = "clear", false
		varnish := j.Shelf.Products[slices.IndexFunc(j.Shelf.Products, func(p finish.Product) bool { return p.Material == "paint" })]
		varnish.Label, varnish.Material = "satin varnish", "varnish"
		stain := varnish
		stain.Label, stain.Material = "oil stain", "stain"
		j.Shelf.Products = append(j.Shelf.Products, varnish, stain)
	})
	for _, s := range e.Proposal().Scope {
		for _, i := range s.Items {
			if strings.HasPrefix(i.Label, "primed pine base") && (i.Grade != "stain grade" || i.Finish != "one coat of stain, 3 coats of varnish") {
				t.Errorf("%s: %s is %q, %q", s.Room, i.Label, i.Grade, i.Finish)
			}
		}
	}
}

// The day sheet of a person who works alone says how to hold pieces that take two.
func TestDaySheetOfOneAlone(t *testing.T) {
	e := schoolhouse(t, func(j *estimate.Job) { j.Variants = nil; j.Calendar.Crews = nil })
	found := false
	for _, d := range e.DaySheets().Days {
		for _, r := range d.Rooms {
			for _, s := range r.Steps {
				props := slices.ContainsFunc(s.Notes, func(n string) bool { return strings.HasPrefix(n, "long pieces take two") })
				if props && !strings.Contains(s.Name, "crown") && !strings.Contains(s.Name, "cornice") {
					t.Errorf("%s takes two: %q", s.Name, s.Notes)
				}
				found = found || props
			}
		}
	}
	if !found {
		t.Error("long pieces are not mentioned")
	}
}
