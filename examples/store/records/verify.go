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

// Counted is the result of Verify.
type Counted struct {
	Jobs    int // whose plans passed Check
	Changes int // by hand and by jobs, done
	Came    Sum // all that were ever added to the racks
	Went    Sum // all that were ever removed
	There   Sum // all on the racks, free or reserved
}

// A Sum counts offcuts and their length, either of which may overflow int64. The zero Sum is
// nothing.
type Sum struct {
	Offcuts big.Int
	Ticks   big.Int // of measure.Length
}

func (s *Sum) add(count int64, length measure.Length) {
	n := big.NewInt(count)
	s.Offcuts.Add(&s.Offcuts, n)
	s.Ticks.Add(&s.Ticks, n.Mul(n, big.NewInt(int64(length))))
}

func (s *Sum) plus(t *Sum) {
	s.Offcuts.Add(&s.Offcuts, &t.Offcuts)
	s.Ticks.Add(&s.Ticks, &t.Ticks)
}

// maxDamage is the greatest number of faults that Verify reports.
const maxDamage = 100

// verifier collects the faults.
type verifier struct {
	*locked
	counted Counted
	bad     []error
}

func (v *verifier) wrong(where, format string, args ...any) {
	v.bad = append(v.bad, &DamageError{Where: where, What: fmt.Sprintf(format, args...)})
}

// Verify recounts everything and changes nothing. It runs Check on every plan. It verifies that
// for every kind of offcut the number on the rack is the number added less the number removed;
// that every applied change added and removed what its document says, once; and that a job
// reserves what its plan takes if it is open, and nothing if it is not. Each fault is a
// *DamageError, joined, at most 100. While a rack is counted, changes of it wait.
func (d *DB) Verify(ctx context.Context) (*Counted, error) {
	counted := &Counted{}
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
		err := d.write(ctx, func(t *tx) error {
			l, err := t.lock(ctx, rack)
			if err != nil {
				return err
			}
			v = &verifier{locked: l}
			return orUnchanged(v.rack(ctx))
		})
		if err != nil {
			return nil, explain(err)
		}
		counted.Changes += v.counted.Changes
		counted.Came.plus(&v.counted.Came)
		counted.Went.plus(&v.counted.Went)
		counted.There.plus(&v.counted.There)
		// The counts are in maps, which have no order.
		slices.SortFunc(v.bad, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
		bad = append(bad, v.bad...)
	}
	return counted, errors.Join(bad[:min(len(bad), maxDamage)]...)
}

// whole makes SQLite check its file. A server does so by itself.
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

// tally counts offcuts by kind.
type tally map[kind]*big.Int

func (t tally) add(o kind, n int64) {
	if t[o] == nil {
		t[o] = new(big.Int)
	}
	t[o].Add(t[o], big.NewInt(n))
}

// rack verifies one rack.
func (v *verifier) rack(ctx context.Context) error {
	balance, moved, err := v.movements(ctx)
	if err != nil {
		return err
	}
	where := "rack " + strconv.Quote(v.name)
	held := map[string]*Sum{}
	err = v.each(ctx, func(r *sql.Rows) error {
		var job string
		o, n, err := scanOffcut(r, &job)
		balance.add(o, -n)
		v.counted.There.add(n, o.Length)
		if job != "" {
			if held[job] == nil {
				held[job] = &Sum{}
			}
			held[job].add(n, o.Length)
		}
		return err
	}, "SELECT id, label, profile, material, length, count, job FROM offcut WHERE rack = $1", v.name)
	if err != nil {
		return err
	}
	for o, n := range balance {
		name := fmt.Sprintf("of %s %v, ID %s, label %s", strconv.Quote(o.Profile), o.Length, strconv.Quote(o.ID), strconv.Quote(o.Label))
		switch n.Sign() {
		case 1:
			v.wrong(where, "%s: %v are gone that nobody took", name, n)
		case -1:
			v.wrong(where, "%s: %v lie there that never came", name, n.Neg(n))
		}
	}
	return v.changes(ctx, moved, held)
}

// movement is the additions to the rack and the removals from it by one change.
type movement struct{ came, went Sum }

// movements sums the additions and removals: by kind, with removals negative, and by change.
func (v *verifier) movements(ctx context.Context) (balance tally, moved map[string]*movement, err error) {
	balance, moved = tally{}, map[string]*movement{}
	err = v.each(ctx, func(r *sql.Rows) error {
		var change string
		o, n, err := scanOffcut(r, &change)
		if err != nil {
			return err
		}
		balance.add(o, n)
		m := moved[change]
		if m == nil {
			m = &movement{}
			moved[change] = m
		}
		if n > 0 {
			v.counted.Came.add(n, o.Length)
			m.came.add(n, o.Length)
		} else {
			v.counted.Went.add(-n, o.Length)
			m.went.add(-n, o.Length)
		}
		return nil
	}, "SELECT id, label, profile, material, length, count, change FROM movement WHERE rack = $1", v.name)
	return balance, moved, err
}

func scanOffcut(r *sql.Rows, last *string) (o kind, n int64, err error) {
	var length int64
	err = r.Scan(&o.ID, &o.Label, &o.Profile, &o.Material, &length, &n, last)
	o.Length = measure.Length(length)
	return o, n, err
}

// changes compares every change with its movements and its reservations.
func (v *verifier) changes(ctx context.Context, moved map[string]*movement, held map[string]*Sum) error {
	// Changes applied before movements were recorded have none.
	older := moved[""] != nil
	err := v.each(ctx, func(r *sql.Rows) error {
		var id, state, document string
		if err := r.Scan(&id, &state, &document); err != nil {
			return err
		}
		v.change(id, state, document, moved[id], held[id], older)
		delete(moved, id)
		delete(held, id)
		return nil
	}, "SELECT id, state, document FROM rack_change WHERE rack = $1", v.name)
	if err != nil {
		return err
	}
	delete(moved, "")
	where := "rack " + strconv.Quote(v.name)
	for id := range moved {
		v.wrong(where, "offcuts moved by %s, which is no change", strconv.Quote(id))
	}
	for id := range held {
		v.wrong(where, "offcuts are held for %s, which is no change", strconv.Quote(id))
	}
	return v.states(ctx)
}

// change verifies one change. Moved and held are nil if it has no movements or reservations.
func (v *verifier) change(id, state, document string, moved *movement, held *Sum, older bool) {
	where := "change " + strconv.Quote(id)
	var c stock.RackChange
	if err := json.Unmarshal([]byte(document), &c); err != nil {
		v.wrong(where, "%v", err)
		return
	}
	uses, leaves := total(c.Uses), total(c.Leaves)
	if state == "done" {
		v.counted.Changes++
		m := moved
		if m == nil {
			m = &movement{}
		}
		if !(older && moved == nil) && !same(&m.went, uses) {
			v.wrong(where, "it took %v offcuts and its document uses %v", &m.went.Offcuts, &uses.Offcuts)
		}
		if m.came.Offcuts.Cmp(&leaves.Offcuts) > 0 { // fewer if some are not worth keeping
			v.wrong(where, "it brought %v offcuts and its document leaves %v", &m.came.Offcuts, &leaves.Offcuts)
		}
	} else if moved != nil {
		v.wrong(where, "it is %s and has moved offcuts", state)
	}
	if held == nil {
		held = &Sum{}
	}
	want := uses
	if state != "held" {
		want = &Sum{}
	}
	if !same(held, want) {
		v.wrong(where, "it is %s and %v offcuts are held for it, want %v", state, &held.Offcuts, &want.Offcuts)
	}
}

// states finds contradictory jobs and changes.
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

func total(offcuts []stock.Offcut) *Sum {
	s := &Sum{}
	for _, o := range offcuts {
		s.add(int64(max(1, o.Count)), o.Length)
	}
	return s
}

func same(a, b *Sum) bool { return a.Offcuts.Cmp(&b.Offcuts) == 0 && a.Ticks.Cmp(&b.Ticks) == 0 }
