package records

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Counted says what Verify has counted.
type Counted struct {
	Jobs    int // whose plans passed Check
	Changes int // by hand and by jobs, done
	Came    Sum // all that ever came to the racks
	Went    Sum // all that ever went
	There   Sum // all that lies there, free or held
}

// A Sum counts offcuts and their length, which in all may be more than a Length holds.
type Sum struct {
	Offcuts int64
	Ticks   *big.Int // of measure.Length
}

func (s *Sum) add(count int64, length measure.Length) {
	if s.Ticks == nil {
		s.Ticks = new(big.Int)
	}
	s.Offcuts += count
	s.Ticks.Add(s.Ticks, new(big.Int).Mul(big.NewInt(count), big.NewInt(int64(length))))
}

// maxDamage is how many faults Verify reports.
const maxDamage = 100

// verifier collects what is wrong.
type verifier struct {
	*locked
	counted *Counted
	bad     []error
}

func (v *verifier) wrong(where, format string, args ...any) {
	v.bad = append(v.bad, &DamageError{Where: where, What: fmt.Sprintf(format, args...)})
}

// Verify counts everything a second time and changes nothing. Every plan passes Check.
// Of every kind of offcut, as many lie on the rack as came and did not go. Every change
// that is done brought and took what its document says, once. A job holds what its
// plan takes if it is open, and nothing if it is not. What is wrong is a *DamageError
// each, joined, at most 100. While a rack is counted, whoever wants to change it waits.
func (d *DB) Verify(ctx context.Context) (*Counted, error) {
	counted := &Counted{}
	for _, s := range []*Sum{&counted.Came, &counted.Went, &counted.There} {
		s.add(0, 0)
	}
	var bad []error
	if d.embedded {
		if err := d.whole(ctx); err != nil {
			return nil, err
		}
	}
	jobs, err := d.Jobs(ctx, Filter{})
	if err != nil {
		return nil, err
	}
	for _, e := range jobs {
		err := d.verifyJob(ctx, e)
		switch damage := (*DamageError)(nil); {
		case errors.As(err, &damage):
			bad = append(bad, damage)
		case err != nil:
			return nil, err
		}
		counted.Jobs++
	}
	racks, err := d.Racks(ctx)
	if err != nil {
		return nil, err
	}
	for _, rack := range racks {
		var v *verifier
		before := *counted
		err := d.write(ctx, func(t *tx) error {
			l, err := t.lock(ctx, rack)
			if err != nil {
				return err
			}
			sums := before
			v = &verifier{locked: l, counted: &sums}
			for _, s := range []*Sum{&sums.Came, &sums.Went, &sums.There} {
				s.Ticks = new(big.Int).Set(s.Ticks)
			}
			return orUnchanged(v.rack(ctx))
		})
		if err != nil {
			return nil, explain(err)
		}
		counted = v.counted
		// What is counted is in maps, which have no order.
		slices.SortFunc(v.bad, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
		bad = append(bad, v.bad...)
	}
	return counted, errors.Join(bad[:min(len(bad), maxDamage)]...)
}

// whole lets SQLite look through its file. A server does so by itself.
func (d *DB) whole(ctx context.Context) error {
	var said string
	if err := d.readOne(ctx, []any{&said}, "PRAGMA integrity_check(1)"); err != nil {
		return err
	}
	if said != "ok" {
		return &DamageError{Where: "file", What: said}
	}
	return nil
}

// verifyJob reads a job, checks its plan and compares it with its columns.
func (d *DB) verifyJob(ctx context.Context, e Entry) error {
	j, _, err := d.Job(ctx, e.ID)
	if err != nil {
		return err
	}
	where := "job " + strconv.Quote(e.ID)
	r, err := d.prepare(ctx, *j)
	if err != nil {
		return &DamageError{Where: where, Err: err}
	}
	want := r.entry
	want.State, want.Saved = e.State, e.Saved
	if want != e {
		return &DamageError{Where: where, What: fmt.Sprintf("its columns say %+v, its document %+v", e, want)}
	}
	if e.State != StateOpen {
		return nil
	}
	var text string
	if err := d.readOne(ctx, []any{&text}, "SELECT document FROM rack_change WHERE rack = $1 AND id = $2 AND state = 'held'", e.Rack, e.ID); errors.Is(err, sql.ErrNoRows) {
		// It was cut or dropped in the meantime, unless it is open still.
		if _, state, err := d.Job(ctx, e.ID); err != nil || state != StateOpen {
			return err
		}
		return &DamageError{Where: where, What: "no change is held for it"}
	} else if err != nil {
		return err
	}
	if text != r.rackText {
		return &DamageError{Where: where, What: "the change that is held for it is not that of its plan"}
	}
	return nil
}

// kind is an offcut without its number.
type kind = stock.Offcut

// rack verifies one rack.
func (v *verifier) rack(ctx context.Context) error {
	balance, byChange, err := v.movements(ctx)
	if err != nil {
		return err
	}
	where := "rack " + strconv.Quote(v.name)
	held := map[string]map[kind]int64{}
	err = v.each(ctx, func(r *sql.Rows) error {
		var job string
		o, n, err := scanOffcut(r, &job)
		balance[o] -= n
		v.counted.There.add(n, o.Length)
		if job != "" {
			if held[job] == nil {
				held[job] = map[kind]int64{}
			}
			held[job][o] += n
		}
		return err
	}, "SELECT id, label, profile, material, length, count, job FROM offcut WHERE rack = $1", v.name)
	if err != nil {
		return err
	}
	for o, n := range balance {
		if n != 0 {
			v.wrong(where, "of %s %v, ID %s, label %s, %d more came than went and lie there", strconv.Quote(o.Profile), o.Length, strconv.Quote(o.ID), strconv.Quote(o.Label), n)
		}
	}
	var before int64 // changes of before the movements were written down
	if err := v.row(ctx, "SELECT count(*) FROM movement WHERE rack = $1 AND change = ''", v.name).Scan(&before); err != nil {
		return err
	}
	return v.changes(ctx, byChange, held, before > 0)
}

// movements adds up what came and went, by offcut and by change. Numbers that go are
// negative in the first and are under the second of each pair in the other.
func (v *verifier) movements(ctx context.Context) (balance map[kind]int64, byChange map[string]*[2]Sum, err error) {
	balance, byChange = map[kind]int64{}, map[string]*[2]Sum{}
	err = v.each(ctx, func(r *sql.Rows) error {
		var change string
		o, n, err := scanOffcut(r, &change)
		if err != nil {
			return err
		}
		balance[o] += n
		c := byChange[change]
		if c == nil {
			c = &[2]Sum{}
			byChange[change] = c
		}
		if n > 0 {
			v.counted.Came.add(n, o.Length)
			c[0].add(n, o.Length)
		} else {
			v.counted.Went.add(-n, o.Length)
			c[1].add(-n, o.Length)
		}
		return nil
	}, "SELECT id, label, profile, material, length, count, change FROM movement WHERE rack = $1", v.name)
	return balance, byChange, err
}

func scanOffcut(r *sql.Rows, last *string) (o kind, n int64, err error) {
	var length int64
	err = r.Scan(&o.ID, &o.Label, &o.Profile, &o.Material, &length, &n, last)
	o.Length = measure.Length(length)
	return o, n, err
}

// changes compares every change with what moved by it and with what is held.
func (v *verifier) changes(ctx context.Context, moved map[string]*[2]Sum, held map[string]map[kind]int64, older bool) error {
	open := map[string]bool{}
	err := v.each(ctx, func(r *sql.Rows) error {
		var id, state, document string
		if err := r.Scan(&id, &state, &document); err != nil {
			return err
		}
		where := "change " + strconv.Quote(id)
		var c stock.RackChange
		if err := json.Unmarshal([]byte(document), &c); err != nil {
			v.wrong(where, "%v", err)
			return nil
		}
		uses, leaves := total(c.Uses), total(c.Leaves)
		m := moved[id]
		if m == nil {
			m = &[2]Sum{}
		}
		switch state {
		case "done":
			v.counted.Changes++
			older := older && moved[id] == nil
			if !older && !same(m[1], uses) {
				v.wrong(where, "it took %d offcuts and its document uses %d", m[1].Offcuts, uses.Offcuts)
			}
			if m[0].Offcuts > leaves.Offcuts { // fewer if some are not worth keeping
				v.wrong(where, "it brought %d offcuts and its document leaves %d", m[0].Offcuts, leaves.Offcuts)
			}
		case "held":
			open[id] = true
			var has Sum
			for o, n := range held[id] {
				has.add(n, o.Length)
			}
			if !same(has, uses) {
				v.wrong(where, "%d offcuts are held and its document uses %d", has.Offcuts, uses.Offcuts)
			}
		}
		if state != "done" && moved[id] != nil {
			v.wrong(where, "it is %s and has moved offcuts", state)
		}
		delete(moved, id)
		return nil
	}, "SELECT id, state, document FROM rack_change WHERE rack = $1", v.name)
	if err != nil {
		return err
	}
	delete(moved, "")
	for id := range moved {
		v.wrong("rack "+strconv.Quote(v.name), "offcuts moved by %s, which is no change", strconv.Quote(id))
	}
	for id := range held {
		if !open[id] {
			v.wrong("rack "+strconv.Quote(v.name), "offcuts are held for %s, which is not open", strconv.Quote(id))
		}
	}
	return v.states(ctx)
}

// states finds jobs and changes that contradict each other.
func (v *verifier) states(ctx context.Context) error {
	return v.each(ctx, func(r *sql.Rows) error {
		var id, job string
		var change sql.Null[string]
		if err := r.Scan(&id, &job, &change); err != nil {
			return err
		}
		if want := map[string]string{"open": "held", "cut": "done", "dropped": "dropped"}[job]; change.V != want {
			v.wrong("job "+strconv.Quote(id), "it is %s and its change is %q, want %q", job, change.V, want)
		}
		return nil
	}, "SELECT j.id, j.state, c.state FROM job j LEFT JOIN rack_change c ON c.rack = j.rack AND c.id = j.id WHERE j.rack = $1", v.name)
}

func total(offcuts []stock.Offcut) (s Sum) {
	for _, o := range offcuts {
		s.add(int64(max(1, o.Count)), o.Length)
	}
	return s
}

func same(a, b Sum) bool {
	a.add(0, 0)
	b.add(0, 0)
	return a.Offcuts == b.Offcuts && a.Ticks.Cmp(b.Ticks) == 0
}
