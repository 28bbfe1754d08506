package records

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// model is a rack as plain data: every stick by itself, in the order in which it came.
type model struct {
	keep measure.Length
	free []single
	held map[string][]single
	next int
}

type single struct {
	place int
	stock.Offcut
}

func plain(list []single) []stock.Offcut {
	o := []stock.Offcut{}
	for _, s := range list {
		o = append(o, s.Offcut)
	}
	return o
}

// split divides sticks into those that a change takes and the rest.
func split(list []single, uses []stock.Offcut) (taken, rest []single, err error) {
	after, err := stock.Rack{Offcuts: plain(list)}.Apply(stock.RackChange{ID: "any", Uses: uses})
	if err != nil {
		return nil, nil, err
	}
	left := after.Offcuts
	for _, s := range list {
		if len(left) > 0 && left[0] == s.Offcut {
			left, rest = left[1:], append(rest, s)
		} else {
			taken = append(taken, s)
		}
	}
	return taken, rest, nil
}

func (m *model) leave(c stock.RackChange) {
	after, err := stock.Rack{Keep: m.keep}.Apply(stock.RackChange{ID: c.ID, Leaves: c.Leaves})
	if err != nil {
		panic(err)
	}
	for _, o := range after.Offcuts {
		n := o.Count
		o.Count = 1
		for range n {
			m.next++
			m.free = append(m.free, single{m.next, o})
		}
	}
}

func (m *model) back(list []single) {
	m.free = append(m.free, list...)
	slices.SortFunc(m.free, func(a, b single) int { return a.place - b.place })
}

func (m *model) change(c stock.RackChange) error {
	_, rest, err := split(m.free, c.Uses)
	if err != nil {
		return err
	}
	m.free = rest
	m.leave(c)
	return nil
}

func (m *model) save(id string, c stock.RackChange) error {
	taken, rest, err := split(m.free, c.Uses)
	if err == nil {
		m.free, m.held[id] = rest, taken
	}
	return err
}

func (m *model) cut(id string, planned stock.RackChange, actual *stock.RackChange) error {
	if actual == nil {
		delete(m.held, id)
		m.leave(planned)
		return nil
	}
	_, rest, err := split(slices.Concat(m.held[id], m.free), actual.Uses)
	if err != nil {
		return err
	}
	delete(m.held, id)
	m.free = nil
	m.back(rest)
	m.leave(stock.RackChange{ID: id, Leaves: actual.Leaves})
	return nil
}

// compare compares the rack of the database with that of the model.
func (m *model) compare(t *testing.T, db *DB, rack string) {
	t.Helper()
	free, held, err := db.Rack(context.Background(), rack)
	must(t, err)
	singles := func(list []stock.Offcut) []stock.Offcut {
		all := []stock.Offcut{}
		for _, o := range list {
			n := o.Count
			o.Count = 1
			for range n {
				all = append(all, o)
			}
		}
		return all
	}
	if d := cmp.Diff(plain(m.free), singles(free.Offcuts)); d != "" {
		t.Fatalf("free (-want +got):\n%s", d)
	}
	got := map[string][]stock.Offcut{}
	for _, h := range held {
		got[h.Job] = singles(h.Offcuts)
	}
	for id, list := range m.held {
		if d := cmp.Diff(plain(list), append([]stock.Offcut{}, got[id]...)); d != "" {
			t.Fatalf("reserved for %s (-want +got):\n%s", id, d)
		}
		delete(got, id)
	}
	if len(got) > 0 {
		t.Fatalf("reserved for no job: %v", got)
	}
}

var strange = []string{"", "", "behind the stove", "Küche", "стена", "壁", "\u202eflow", "a'; DROP TABLE rack; --", "100%_\\", "\t", "🪚"}

// Any sequence of calls, each once or twice, with plans that are current or outdated, changes the rows
// as package stock changes plain data, and every job reads back as it was saved.
func TestAgainstModel(t *testing.T) {
	onBoth(t, func(t *testing.T, fresh func() string) {
		db := opened(t, fresh())
		cases, refused := 12, 0
		if testing.Short() {
			cases = 4
		}
		for seed := range cases {
			refused += againstModel(t, db, uint64(seed))
		}
		if c := verified(t, db); c.Jobs < 3*cases || refused == 0 {
			t.Errorf("%+v, %d plans were overtaken", c, refused)
		}
	})
}

func againstModel(t *testing.T, db *DB, seed uint64) (refused int) {
	ctx, r := t.Context(), rand.New(rand.NewPCG(seed, 17))
	rack := fmt.Sprintf("rack %d", seed)
	m := &model{held: map[string][]single{}}
	must(t, db.SetRack(ctx, rack, 0, nil))
	length := func() measure.Length { return measure.Length(10+r.IntN(40)) * 2 * in }
	offcut := func() stock.Offcut {
		return stock.Offcut{Label: strange[r.IntN(len(strange))], Profile: "fir rail", Material: []string{"fir", "fir", ""}[r.IntN(3)], Length: length(), Count: r.IntN(4)}
	}
	jobs := map[string]Job{}
	changes := map[string]stock.RackChange{}
	var open []string
	var stale stock.Rack
	twice := func(f func() error) error {
		err := f()
		if r.IntN(2) == 0 {
			if again := f(); (again == nil) != (err == nil) {
				t.Fatalf("once: %v, again: %v", err, again)
			}
		}
		return err
	}
	agree := func(got, want error) {
		t.Helper()
		if (got == nil) != (want == nil) || want != nil && !errors.As(got, new(*stock.RackError)) {
			t.Fatalf("got %v, want %v", got, want)
		}
		if want != nil {
			refused++
		}
	}
	for step := range 14 {
		id := fmt.Sprintf("%s/%d %s", rack, step, strange[r.IntN(len(strange)-3)])
		switch k := r.IntN(7); {
		case k == 0 || step < 2:
			c := stock.RackChange{ID: id, Leaves: []stock.Offcut{offcut(), offcut(), offcut()}}
			must(t, checkChange(c))
			agree(twice(func() error { _, err := db.Change(ctx, rack, c); return err }), m.change(c))
		case k == 1:
			o := stock.Offcut{Profile: "fir rail", Length: length(), Label: strange[r.IntN(len(strange))]}
			if len(m.free) > 0 && r.IntN(4) > 0 {
				o.Length = m.free[r.IntN(len(m.free))].Length
			}
			c := stock.RackChange{ID: id, Uses: []stock.Offcut{o}}
			agree(twice(func() error { _, err := db.Change(ctx, rack, c); return err }), m.change(c))
		case k <= 4 || len(open) == 0:
			free, _, err := db.Rack(ctx, rack)
			must(t, err)
			if stale.Offcuts != nil && r.IntN(3) == 0 {
				free = stale
			}
			j := Job{ID: id, Rack: rack}
			j.Problem, j.Plan, j.Options, err = solve(length(), length(), length()/2)(ctx, free)
			must(t, err)
			c, err := j.Plan.RackChange(j.Problem, id)
			must(t, err)
			stale = free
			saved := twice(func() error { return db.Save(ctx, j) })
			agree(saved, m.save(id, c))
			if saved == nil {
				jobs[id], changes[id] = j, c
				open = append(open, id)
			}
		default:
			i := r.IntN(len(open))
			id := open[i]
			open = slices.Delete(open, i, i+1)
			switch r.IntN(3) {
			case 0:
				must(t, twice(func() error { return db.Drop(ctx, id) }))
				m.back(m.held[id])
				delete(m.held, id)
			case 1:
				must(t, twice(func() error { return db.Cut(ctx, id, nil) }))
				must(t, m.cut(id, changes[id], nil))
			default: // one stick less than planned, and one that was not planned
				c := stock.RackChange{Uses: slices.Clone(changes[id].Uses), Leaves: []stock.Offcut{offcut()}}
				if len(c.Uses) > 0 {
					c.Uses = c.Uses[1:]
				}
				if len(m.free) > 0 {
					o := m.free[r.IntN(len(m.free))].Offcut
					o.Label, o.ID = "", ""
					c.Uses = append(c.Uses, o)
				}
				must(t, m.cut(id, changes[id], &c))
				must(t, twice(func() error { return db.Cut(ctx, id, &c) }))
			}
		}
		m.compare(t, db, rack)
	}
	for id, want := range jobs {
		got, _, err := db.Job(ctx, id)
		must(t, err)
		if !equal(got.Problem, want.Problem) || !equal(got.Plan, want.Plan) || got.Rack != rack {
			t.Fatalf("%s reads back as %+v", id, got)
		}
		must(t, optimize.Check(ctx, got.Problem, got.Plan))
	}
	return refused
}
