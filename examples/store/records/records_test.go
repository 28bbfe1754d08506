package records

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/internal/postgres"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// onBoth runs a test with both databases. Each call of fresh returns the address of one
// that is empty.
func onBoth(t *testing.T, test func(t *testing.T, fresh func() string)) {
	t.Run("SQLite", func(t *testing.T) {
		test(t, func() string { return filepath.Join(t.TempDir(), "schoolhouse.db") })
	})
	t.Run("PostgreSQL", func(t *testing.T) {
		// A schema is as good as a database here, and made in no time.
		c := postgres.Shared(t)
		address := c.Database(t, "")
		server, err := sql.Open("pgx", address)
		must(t, err)
		t.Cleanup(func() { server.Close() })
		schemas := 0
		test(t, func() string {
			schemas++
			name := fmt.Sprintf("test_%d", schemas)
			_, err := server.Exec("CREATE SCHEMA " + name)
			must(t, err)
			return address + "&search_path=" + name
		})
	})
}

func opened(t testing.TB, address string) *DB {
	t.Helper()
	db, err := Open(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return db
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

const in, ft = measure.Inch, measure.Foot

// solve returns a plan for pieces of fir rail from a rack and from the sticks on sale.
func solve(pieces ...measure.Length) func(context.Context, stock.Rack) (optimize.Problem, *optimize.Plan, *cutsheet.Options, error) {
	return func(ctx context.Context, rack stock.Rack) (optimize.Problem, *optimize.Plan, *cutsheet.Options, error) {
		p := optimize.Problem{Sticks: append(rack.SticksIn("fir rail", "fir"), stock.Stick{Length: 12 * ft, Price: 2175, Profile: "fir rail", Material: "fir"}), Kerf: in / 8}
		for _, l := range pieces {
			p.Pieces = append(p.Pieces, stock.Piece{Label: "classroom", Length: l})
		}
		plan, err := optimize.Solve(ctx, p, nil)
		return p, plan, &cutsheet.Options{Title: "Coat rail", Locale: measure.Locale{Currency: measure.Currency{Symbol: "$"}}}, err
	}
}

// sticks are the contents of the racks in tests.
func sticks(id string, offcuts ...stock.Offcut) stock.RackChange {
	for i := range offcuts {
		offcuts[i].Profile, offcuts[i].Material = "fir rail", "fir"
	}
	return stock.RackChange{ID: id, Leaves: offcuts}
}

func verified(t testing.TB, db *DB) *Counted {
	t.Helper()
	c, err := db.Verify(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// One job from the rack to the rack.
func TestJob(t *testing.T) {
	onBoth(t, func(t *testing.T, fresh func() string) {
		ctx, db := t.Context(), opened(t, fresh())
		must(t, db.SetRack(ctx, "shop", 16*in, []stock.KeepRule{{Profile: "slate", Never: true}}))
		kept, err := db.Change(ctx, "shop", sticks("delivery", stock.Offcut{Length: 7*ft + 2*in}, stock.Offcut{Length: 51*in + in/2, Count: 3}, stock.Offcut{Length: ft}))
		must(t, err)
		want := []stock.Offcut{
			{ID: "delivery/1", Profile: "fir rail", Material: "fir", Length: 86 * in, Count: 1},
			{ID: "delivery/2", Profile: "fir rail", Material: "fir", Length: 51*in + in/2, Count: 3},
		}
		if d := cmp.Diff(want, kept); d != "" {
			t.Errorf("kept (-want +got):\n%s", d)
		}
		j, err := db.Plan(ctx, "coat-rail", "shop", solve(50*in+3*in/8, 67*in+in/2, 9*ft+in))
		must(t, err)
		free, held, err := db.Rack(ctx, "shop")
		must(t, err)
		if d := cmp.Diff(stock.Rack{Keep: 16 * in, Rules: []stock.KeepRule{{Profile: "slate", Never: true}}, Offcuts: []stock.Offcut{
			{ID: "delivery/2", Profile: "fir rail", Material: "fir", Length: 51*in + in/2, Count: 2},
		}}, free); d != "" {
			t.Errorf("free (-want +got):\n%s", d)
		}
		one := want[1]
		one.Count = 1
		if d := cmp.Diff([]Held{{Job: "coat-rail", Offcuts: []stock.Offcut{want[0], one}}}, held); d != "" {
			t.Errorf("held (-want +got):\n%s", d)
		}
		verified(t, db)

		got, state, err := db.Job(ctx, "coat-rail")
		must(t, err)
		if !equal(got.Problem, j.Problem) || !equal(got.Plan, j.Plan) || state != StateOpen || got.Options.Title != "Coat rail" || got.Options.Locale.Currency.Symbol != "$" {
			t.Errorf("read back as %+v, %s", got, state)
		}
		must(t, optimize.Check(ctx, got.Problem, got.Plan))
		list, err := db.Jobs(ctx, Filter{Profile: "fir rail", Material: "fir", State: StateOpen, Rack: "shop"})
		must(t, err)
		if len(list) != 1 || list[0].ID != "coat-rail" || list[0].Cost != 2175 || !list[0].Proven || list[0].Pieces != 3 || list[0].Sticks != 3 || list[0].Title != "Coat rail" || list[0].Saved.IsZero() {
			t.Errorf("listed as %+v", list)
		}

		for range 2 { // the second time after the answer to the first was lost
			must(t, db.Save(ctx, *j))
			must(t, db.Cut(ctx, "coat-rail", nil))
		}
		free, held, err = db.Rack(ctx, "shop")
		must(t, err)
		if d := cmp.Diff([]stock.Offcut{
			{ID: "delivery/2", Profile: "fir rail", Material: "fir", Length: 51*in + in/2, Count: 2},
			{ID: "coat-rail/1", Profile: "fir rail", Material: "fir", Length: 86*in - 67*in - in/2 - in/8, Count: 1},
			{ID: "coat-rail/3", Profile: "fir rail", Material: "fir", Length: 12*ft - 9*ft - in - in/8, Count: 1},
		}, free.Offcuts); d != "" {
			t.Errorf("free (-want +got):\n%s", d)
		}
		if len(held) > 0 {
			t.Errorf("held: %+v", held)
		}
		if s := new(StateError); !errors.As(db.Drop(ctx, "coat-rail"), &s) || s.State != StateCut {
			t.Errorf("dropped after it was cut: %v", s)
		}
		c := verified(t, db)
		if c.Jobs != 1 || c.Changes != 2 || c.Came.Offcuts.Int64() != 6 || c.Went.Offcuts.Int64() != 2 || c.There.Offcuts.Int64() != 4 {
			t.Errorf("counted %+v", c)
		}
	})
}
