package records

import (
	"errors"
	"fmt"
	"sync"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// together runs f n times at once, each with a database that it opened itself.
func together(t *testing.T, n int, address string, f func(k int, db *DB) error) (errs []error) {
	t.Helper()
	errs = make([]error, n)
	var group sync.WaitGroup
	for k := range n {
		group.Go(func() {
			db, err := Open(t.Context(), address)
			if err == nil {
				err = errors.Join(f(k, db), db.Close())
			}
			errs[k] = err
		})
	}
	group.Wait()
	return errs
}

// Many want the same stick: one gets it, and the others get an error. Many make the same call: it
// takes effect once.
func TestAtOnce(t *testing.T) {
	onBoth(t, func(t *testing.T, fresh func() string) {
		const n = 6
		address := fresh()
		delivery := sticks("delivery", stock.Offcut{Length: 7 * ft})
		// They make the tables at once, too.
		for _, err := range together(t, n, address, func(_ int, db *DB) error {
			if err := db.SetRack(t.Context(), "shop", 0, nil); err != nil {
				return err
			}
			_, err := db.Change(t.Context(), "shop", delivery)
			return err
		}) {
			must(t, err)
		}
		db := opened(t, address)
		free, _, err := db.Rack(t.Context(), "shop")
		must(t, err)
		if len(free.Offcuts) != 1 || free.Offcuts[0].Count != 1 {
			t.Fatalf("on the rack is %+v", free.Offcuts)
		}
		job := func(id string) Job {
			j := Job{ID: id, Rack: "shop"}
			j.Problem, j.Plan, j.Options, err = solve(80*in)(t.Context(), free)
			must(t, err)
			return j
		}
		jobs := make([]Job, n)
		for k := range jobs {
			jobs[k] = job(fmt.Sprintf("job %d", k))
		}
		won := 0
		for _, err := range together(t, n, address, func(k int, db *DB) error { return db.Save(t.Context(), jobs[k]) }) {
			switch {
			case err == nil:
				won++
			case !errors.As(err, new(*stock.RackError)):
				t.Error(err)
			}
		}
		if won != 1 {
			t.Errorf("%d jobs reserve the same stick", won)
		}
		list, err := db.Jobs(t.Context(), Filter{})
		must(t, err)
		if len(list) != 1 {
			t.Fatalf("stored: %+v", list)
		}
		// One is cut and dropped at once: one of the two happens.
		cut := 0
		for k, err := range together(t, n, address, func(k int, db *DB) error {
			if k%2 == 0 {
				return db.Cut(t.Context(), list[0].ID, nil)
			}
			return db.Drop(t.Context(), list[0].ID)
		}) {
			switch {
			case err == nil && k%2 == 0:
				cut++
			case err == nil:
				cut--
			case !errors.As(err, new(*StateError)):
				t.Error(err)
			}
		}
		if cut != n/2 && cut != -n/2 {
			t.Errorf("cut and dropped: %d", cut)
		}
		verified(t, db)
		// Planning a job again and again, and the same job from everywhere.
		for _, err := range together(t, n, address, func(k int, db *DB) error {
			for i := range 3 {
				if _, err := db.Plan(t.Context(), fmt.Sprintf("shelf %d", i), "shop", solve(80*in-measure.Length(k)*in)); err != nil {
					return err
				}
			}
			return nil
		}) {
			must(t, err)
		}
		if c := verified(t, db); c.Jobs != 4 {
			t.Errorf("%+v", c)
		}
	})
}
