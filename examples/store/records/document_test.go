package records

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// anyProblem returns a problem of any kind: prices or lengths, ends, runs, bundles,
// defects, labels as people and others write them.
func anyProblem(r *rand.Rand) optimize.Problem {
	text := func() string { return append(strange, "\x00", "<b>", "=1+1")[r.IntN(len(strange)+3)] }
	odd := func(l measure.Length) measure.Length { return l + measure.Length(r.IntN(3))*977 }
	p := optimize.Problem{Kerf: []measure.Length{0, in / 8, 977, 3 * measure.Millimeter}[r.IntN(4)]}
	priced := r.IntN(4) > 0
	for range 1 + r.IntN(3) {
		s := stock.Stick{Label: text(), Length: odd(measure.Length(8+r.IntN(9)) * ft), Profile: "base"}
		if priced {
			s.Price = 500 + r.Int64N(3000)
		}
		switch r.IntN(5) {
		case 0:
			s.Bundle = 2
		case 1:
			s.TrimStart, s.TrimEnd = in, in/2
		case 2:
			s.Limit, s.Defects = 30, []stock.Defect{{From: 3 * ft, To: 3*ft + in}}
		}
		p.Sticks = append(p.Sticks, s)
	}
	for range 1 + r.IntN(6) {
		c := stock.Piece{Label: text(), Length: odd(measure.Length(6+r.IntN(80)) * in / 2), Quantity: r.IntN(3), Profile: "base"}
		if r.IntN(2) == 0 {
			c.Left = stock.End{Kind: stock.EndInsideMiter, Angle: 91*measure.Degree + measure.Degree/10}
		}
		p.Pieces = append(p.Pieces, c)
	}
	if r.IntN(3) == 0 {
		p.Runs = []stock.Run{{Label: text(), Profile: "base", Length: 19 * ft, Splice: stock.SpliceRule{At: []measure.Length{4 * ft, 8 * ft, 12 * ft}}}}
	}
	return p
}

// Whatever the problem, it reads back as it was saved, its plan passes Check, and the columns agree
// with the document.
func TestReadBack(t *testing.T) {
	onBoth(t, func(t *testing.T, fresh func() string) {
		ctx, db := t.Context(), opened(t, fresh())
		must(t, db.SetRack(ctx, "shop", 0, nil))
		cases, stored := 60, 0
		if testing.Short() {
			cases = 15
		}
		for seed := range cases {
			r := rand.New(rand.NewPCG(uint64(seed), 3))
			p := anyProblem(r)
			plan, err := optimize.Solve(ctx, p, &optimize.Options{Work: 300_000})
			if err != nil {
				continue // a piece that fits no stick
			}
			if r.IntN(4) == 0 {
				plan = plan.WithoutProof()
			}
			o := &cutsheet.Options{Title: []string{"", "Küche", "\u202eflow"}[r.IntN(3)], Profile: &stock.Profile{Name: "base", Thickness: 3 * in / 4, Width: 5 * in}}
			j := Job{ID: fmt.Sprint("job ", seed), Rack: "shop", Problem: p, Plan: plan, Options: o}
			if err := db.Save(ctx, j); err != nil {
				t.Fatalf("%d: %v\n%+v", seed, err, p)
			}
			stored++
			got, _, err := db.Job(ctx, j.ID)
			must(t, err)
			if !equal(got.Problem, p) || !equal(got.Plan, plan) || got.Options.Title != o.Title || !equal(got.Options.Profile, o.Profile) {
				t.Fatalf("%d reads back as\n%+v, want\n%+v", seed, got, j)
			}
			must(t, optimize.Check(ctx, got.Problem, got.Plan))
			if seed%2 == 0 {
				must(t, db.Cut(ctx, j.ID, nil))
			}
		}
		if c := verified(t, db); c.Jobs != stored || stored < cases*2/3 {
			t.Errorf("%d of %d stored, %+v", stored, cases, c)
		}
	})
}

// The longest length, the greatest price and the greatest number come back as they were.
func TestExtremes(t *testing.T) {
	onBoth(t, func(t *testing.T, fresh func() string) {
		ctx, db := t.Context(), opened(t, fresh())
		must(t, db.SetRack(ctx, "shop", math.MaxInt64, nil))
		must(t, db.SetRack(ctx, "shop", 0, nil))
		want := []stock.Offcut{
			{ID: "all/1", Profile: "rail", Length: math.MaxInt64, Count: math.MaxInt},
			{ID: "all/2", Profile: "rail", Length: 1, Count: math.MaxInt},
			{ID: "a name", Label: strings.Repeat("壁", 1000), Length: measure.Inch/128 + 1, Count: 1},
		}
		for i, o := range want {
			if i < 2 {
				o.ID = ""
			}
			_, err := db.Change(ctx, "shop", stock.RackChange{ID: []string{"all", "all again", "named"}[i], Leaves: []stock.Offcut{o}})
			must(t, err)
		}
		want[1].ID = "all again/1"
		free, _, err := db.Rack(ctx, "shop")
		must(t, err)
		for i, o := range want {
			if free.Offcuts[i] != o {
				t.Errorf("offcut %d is %+v, want %+v", i, free.Offcuts[i], o)
			}
		}
		_, err = db.Change(ctx, "shop", stock.RackChange{ID: "most", Uses: []stock.Offcut{{Profile: "rail", Length: math.MaxInt64, Count: math.MaxInt - 1}}})
		must(t, err)
		p := optimize.Problem{Sticks: []stock.Stick{{Length: 1 << 58, Price: 1 << 60}}, Pieces: []stock.Piece{{Length: 1<<58 - 1}}}
		plan, err := optimize.Solve(ctx, p, nil)
		must(t, err)
		must(t, db.Save(ctx, Job{ID: strings.Repeat("i", maxName), Rack: "shop", Problem: p, Plan: plan}))
		list, err := db.Jobs(ctx, Filter{})
		must(t, err)
		if len(list) != 1 || list[0].Cost != 1<<60 {
			t.Errorf("%+v", list)
		}
		c := verified(t, db)
		if c.There.Ticks.IsInt64() || c.Came.Offcuts.IsInt64() || c.Came.Offcuts.Sign() < 0 {
			t.Errorf("%v", c)
		}
	})
}

// An invalid record is rejected, by its field, and leaves no trace.
func TestRefused(t *testing.T) {
	onBoth(t, func(t *testing.T, fresh func() string) {
		ctx, db := t.Context(), opened(t, fresh())
		must(t, db.SetRack(ctx, "shop", 0, nil))
		_, err := db.Change(ctx, "shop", sticks("delivery", stock.Offcut{Length: 7 * ft}))
		must(t, err)
		free, _, err := db.Rack(ctx, "shop")
		must(t, err)
		job := func(change func(*Job)) error {
			j := Job{ID: "bench", Rack: "shop"}
			j.Problem, j.Plan, j.Options, err = solve(6*ft)(ctx, free)
			must(t, err)
			change(&j)
			return db.Save(ctx, j)
		}
		for _, c := range []struct {
			name, want string
			err        error
		}{
			{"no ID", "id is", job(func(j *Job) { j.ID = "" })},
			{"long ID", "id is", job(func(j *Job) { j.ID = strings.Repeat("i", maxName+1) })},
			{"line break", "id is", job(func(j *Job) { j.ID = "a\nb" })},
			{"no text", "id is", job(func(j *Job) { j.ID = "\xff" })},
			{"no rack", `no rack "attic"`, job(func(j *Job) { j.Rack = "attic" })},
			{"no plan", "plan", job(func(j *Job) { j.Plan = nil })},
			{"wrong plan", "cost", job(func(j *Job) { j.Plan.Cost++ })},
			{"label is no text", "UTF-8", job(func(j *Job) { j.Problem.Pieces[0].Label = "\xff" })},
			{"title is no text", "title", job(func(j *Job) { j.Options.Title = "\xff" })},
			{"title with a NUL", "title", job(func(j *Job) { j.Options.Title = "\x00" })},
			{"ID of a change", "something else", job(func(j *Job) { j.ID = "delivery" })},
			{"profile with a NUL", "profile", func() error {
				_, err := db.Change(ctx, "shop", stock.RackChange{ID: "x", Leaves: []stock.Offcut{{Profile: "\x00", Length: ft}}})
				return err
			}()},
			{"negative", "leaves[0].count", func() error {
				_, err := db.Change(ctx, "shop", stock.RackChange{ID: "x", Leaves: []stock.Offcut{{Profile: "a", Length: ft, Count: -1}}})
				return err
			}()},
			{"another delivery", "something else", func() error {
				_, err := db.Change(ctx, "shop", sticks("delivery", stock.Offcut{Length: 8 * ft}))
				return err
			}()},
			{"more than there is", "the rack holds 1 of 2", func() error {
				_, err := db.Change(ctx, "shop", stock.RackChange{ID: "x", Uses: sticks("", stock.Offcut{Length: 7 * ft, Count: 2}).Leaves})
				return err
			}()},
			{"no such job", `no job "x"`, db.Cut(ctx, "x", nil)},
			{"negative keep", "keep", db.SetRack(ctx, "other", -1, nil)},
			{"rule that is no text", "rules[0].material", db.SetRack(ctx, "other", 0, []stock.KeepRule{{Material: "\xff"}})},
			{"name of a rack", "rack is", db.SetRack(ctx, "\x00", 0, nil)},
		} {
			if c.err == nil || !strings.Contains(c.err.Error(), c.want) {
				t.Errorf("%s: %v, want %q", c.name, c.err, c.want)
			}
		}
		if c := verified(t, db); c.Jobs != 0 || c.Changes != 1 || c.There.Offcuts.Int64() != 1 {
			t.Errorf("%+v", c)
		}
		must(t, job(func(*Job) {}))
		if err := job(func(j *Job) { j.Options.Title = "another" }); !errors.As(err, new(*TakenError)) {
			t.Errorf("a different job with the same ID: %v", err)
		}
	})
}
