package records

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Held are offcuts on a rack that are reserved for a job.
type Held struct {
	Job     string
	Offcuts []stock.Offcut
}

// SetRack makes a rack, or changes what is worth keeping on an existing one. It returns the
// *measure.FieldErrors of invalid names and rules.
func (d *DB) SetRack(ctx context.Context, name string, keep measure.Length, rules []stock.KeepRule) error {
	bad := []error{checkName("rack", name), stock.Rack{Keep: keep, Rules: rules}.Validate()}
	for i, r := range rules {
		bad = append(bad, checkText(fmt.Sprintf("rules[%d].profile", i), r.Profile), checkText(fmt.Sprintf("rules[%d].material", i), r.Material))
	}
	if err := errors.Join(bad...); err != nil {
		return err
	}
	text, err := json.Marshal(rules)
	if err != nil {
		return err
	}
	return explain(d.write(ctx, func(t *tx) error {
		return t.exec(ctx, `INSERT INTO rack (name, version, keep, rules) VALUES ($1, 0, $2, $3)
			ON CONFLICT (name) DO UPDATE SET version = rack.version + 1, keep = excluded.keep, rules = excluded.rules`, name, int64(keep), string(text))
	}))
}

// AddRack makes a rack that keeps everything, unless there is one with the name.
func (d *DB) AddRack(ctx context.Context, name string) error {
	if err := checkName("rack", name); err != nil {
		return err
	}
	return explain(d.write(ctx, func(t *tx) error {
		return t.exec(ctx, "INSERT INTO rack (name, version, keep, rules) VALUES ($1, 0, 0, 'null') ON CONFLICT (name) DO NOTHING", name)
	}))
}

// Racks returns the names of the racks, in the database's order.
func (d *DB) Racks(ctx context.Context) (names []string, err error) {
	err = d.read(ctx, func() { names = nil }, func(r *sql.Rows) error {
		var name string
		err := r.Scan(&name)
		names = append(names, name)
		return err
	}, "SELECT name FROM rack ORDER BY name")
	return names, err
}

// Rack returns the free offcuts of a rack, as of one moment, and those reserved for jobs, in
// the order of the jobs. Applied is empty: the database keeps the records itself. If there is
// no such rack, the error is a *MissingError.
func (d *DB) Rack(ctx context.Context, name string) (free stock.Rack, held []Held, err error) {
	if err := checkName("rack", name); err != nil {
		return free, nil, err
	}
	found := false
	begin := func() { free, held, found = stock.Rack{}, nil, false }
	err = d.read(ctx, begin, func(r *sql.Rows) error {
		var (
			keep                              int64
			rules                             string
			job, id, label, profile, material sql.Null[string]
			length, count                     sql.Null[int64]
		)
		if err := r.Scan(&keep, &rules, &job, &id, &label, &profile, &material, &length, &count); err != nil {
			return err
		}
		if !found {
			found = true
			if err := readRules(name, keep, rules, &free); err != nil {
				return err
			}
		}
		if !job.Valid {
			return nil // an empty rack
		}
		o := stock.Offcut{ID: id.V, Label: label.V, Profile: profile.V, Material: material.V, Length: measure.Length(length.V), Count: int(count.V)}
		switch {
		case job.V == "":
			free.Offcuts = append(free.Offcuts, o)
		case len(held) == 0 || held[len(held)-1].Job != job.V:
			held = append(held, Held{Job: job.V, Offcuts: []stock.Offcut{o}})
		default:
			held[len(held)-1].Offcuts = append(held[len(held)-1].Offcuts, o)
		}
		return nil
	}, // One statement sees one moment.
		`SELECT r.keep, r.rules, o.job, o.id, o.label, o.profile, o.material, o.length, o.count
		FROM rack r LEFT JOIN offcut o ON o.rack = r.name WHERE r.name = $1 ORDER BY o.job, o.since, o.n`, name)
	if err == nil && !found {
		err = &MissingError{Kind: "rack", Name: name}
	}
	return free, held, err
}

func readRules(name string, keep int64, rules string, into *stock.Rack) error {
	into.Keep = measure.Length(keep)
	if err := json.Unmarshal([]byte(rules), &into.Rules); err != nil {
		return &DamageError{Where: "rack " + strconv.Quote(name), Err: err}
	}
	return nil
}

// locked is a rack that only this transaction may change.
type locked struct {
	*tx
	name    string
	version int64      // of the rack after the transaction
	keep    stock.Rack // Keep and Rules alone
	n       int64      // of the rows and movements that came so far
}

// lock makes every other transaction that locks the rack wait until this one ends. It is the
// first statement of each: a transaction of SQLite that reads first cannot wait.
func (t *tx) lock(ctx context.Context, rack string) (*locked, error) {
	l := &locked{tx: t, name: rack}
	var keep int64
	var rules string
	err := t.row(ctx, "UPDATE rack SET version = version + 1 WHERE name = $1 RETURNING version, keep, rules", rack).Scan(&l.version, &keep, &rules)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, &MissingError{Kind: "rack", Name: rack}
	}
	if err == nil {
		err = readRules(rack, keep, rules, &l.keep)
	}
	return l, err
}

// row is an offcut on the rack with its position there.
type row struct {
	since, n int64
	job      string
	stock.Offcut
}

// rows returns the offcuts reserved for a job, or the free ones if the job is empty, in order.
func (l *locked) rows(ctx context.Context, job string) (list []row, err error) {
	err = l.each(ctx, func(r *sql.Rows) error {
		o := row{job: job}
		var length int64
		err := r.Scan(&o.since, &o.n, &o.ID, &o.Label, &o.Profile, &o.Material, &length, &o.Count)
		o.Length = measure.Length(length)
		list = append(list, o)
		return err
	}, "SELECT since, n, id, label, profile, material, length, count FROM offcut WHERE rack = $1 AND job = $2 ORDER BY since, n", l.name, job)
	return list, err
}

func offcuts(rows []row) []stock.Offcut {
	list := make([]stock.Offcut, len(rows))
	for i, r := range rows {
		list[i] = r.Offcut
	}
	return list
}

// take returns the rows that a change uses, with the number of each in Count. Package stock
// chooses them.
func take(rows []row, c stock.RackChange) (taken []row, err error) {
	after, err := stock.Rack{Offcuts: offcuts(rows)}.Apply(stock.RackChange{ID: c.ID, Uses: c.Uses})
	if err != nil {
		return nil, err
	}
	// The remainder is in the order of the rows, some removed and some with lower counts. Among
	// equal rows it does not matter which.
	left := after.Offcuts
	for _, r := range rows {
		if len(left) > 0 && like(left[0], r.Offcut) && left[0].Count <= r.Count {
			r.Count -= left[0].Count
			left = left[1:]
		}
		if r.Count > 0 {
			taken = append(taken, r)
		}
	}
	if len(left) > 0 {
		return nil, fmt.Errorf("records: %d offcuts of the rack were not found again", len(left))
	}
	return taken, nil
}

// like reports whether two offcuts are equal except for their number.
func like(a, b stock.Offcut) bool {
	a.Count, b.Count = 0, 0
	return a == b
}

// remove removes rows from the table, as many of each as Count.
func (l *locked) remove(ctx context.Context, rows []row) error {
	for _, r := range rows {
		args := []any{l.name, r.since, r.n, r.job, int64(r.Count)}
		all, err := l.count(ctx, "DELETE FROM offcut WHERE rack = $1 AND since = $2 AND n = $3 AND job = $4 AND count = $5", args...)
		if err != nil {
			return err
		}
		if all == 1 {
			continue
		}
		some, err := l.count(ctx, "UPDATE offcut SET count = count - $5 WHERE rack = $1 AND since = $2 AND n = $3 AND job = $4 AND count > $5", args...)
		if err != nil {
			return err
		}
		if some != 1 {
			return &DamageError{Where: "rack " + strconv.Quote(l.name), What: "an offcut is gone that was there in the same transaction"}
		}
	}
	return nil
}

// put adds rows to the table, as many of each as Count, merging those with the same position
// and job.
func (l *locked) put(ctx context.Context, rows []row) error {
	for _, r := range rows {
		if err := l.exec(ctx, `INSERT INTO offcut (rack, since, n, job, id, label, profile, material, length, count) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)
			ON CONFLICT (rack, since, n, job) DO UPDATE SET count = offcut.count + excluded.count`,
			l.name, r.since, r.n, r.job, r.ID, r.Label, r.Profile, r.Material, int64(r.Length), int64(r.Count)); err != nil {
			return err
		}
	}
	return nil
}

// hand reserves free rows for a job, or frees rows of a job.
func (l *locked) hand(ctx context.Context, rows []row, job string) error {
	if err := l.remove(ctx, rows); err != nil {
		return err
	}
	for i := range rows {
		rows[i].job = job
	}
	return l.put(ctx, rows)
}

// note records the additions of a change to the rack, or its removals if sign is -1.
func (l *locked) note(ctx context.Context, change string, sign int64, rows []row) error {
	for _, r := range rows {
		l.n++
		if err := l.exec(ctx, `INSERT INTO movement (rack, version, n, change, id, label, profile, material, length, count) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
			l.name, l.version, l.n, change, r.ID, r.Label, r.Profile, r.Material, int64(r.Length), sign*int64(r.Count)); err != nil {
			return err
		}
	}
	return nil
}
