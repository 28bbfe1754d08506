package records

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"time"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// A Job is a problem with a plan for it.
type Job struct {
	ID      string // identifies the job permanently; also its change of the rack
	Rack    string // the rack of its Rack sticks
	Problem optimize.Problem
	Plan    *optimize.Plan

	// Options are those of its sheet. Those that belong to the job are stored, such as its
	// title and its currency; the others belong to the reader: see [cutsheet.Options].
	Options *cutsheet.Options
}

// A State is the state of a job.
type State string

// The states of a job.
const (
	StateOpen    State = "open"    // it reserves its offcuts
	StateCut     State = "cut"     // they are removed, and the new offcuts are on the rack
	StateDropped State = "dropped" // they are free again
)

// An Entry is a job in a list: the values of its columns.
type Entry struct {
	ID, Rack, Title   string
	State             State
	Saved             time.Time // to the second
	Profile, Material string    // of all its sticks; empty if they differ
	Pieces, Sticks    int64     // sticks bought and off the rack
	ByLength          bool      // Cost and Bound are lengths in ticks, not money in minor units
	Cost, Bound       int64
	Currency          measure.Currency
	Proven            bool
}

// prepared is a job in its stored form.
type prepared struct {
	Job
	entry    Entry
	document string           // of the job
	change   stock.RackChange // the change of the rack by cutting it
	rackText string           // JSON of change
}

// prepare checks a job and writes its document, which it reads back and compares: it rejects
// what a document cannot hold.
func (d *DB) prepare(ctx context.Context, j Job) (*prepared, error) {
	if err := errors.Join(checkName("id", j.ID), checkName("rack", j.Rack)); err != nil {
		return nil, err
	}
	sheet, err := cutsheet.New(ctx, j.Problem, j.Plan, j.Options)
	if err != nil {
		return nil, err
	}
	if err := optimize.Check(ctx, j.Problem, j.Plan); err != nil {
		return nil, err
	}
	var text bytes.Buffer
	if err := sheet.WriteJSON(&text); err != nil {
		return nil, err
	}
	p, plan, o, err := cutsheet.ReadJSON(bytes.NewReader(text.Bytes()))
	if err != nil {
		return nil, err
	}
	if !equal(p, j.Problem) || !equal(plan, j.Plan) {
		return nil, wrong("problem", j.ID, "a problem and a plan that are the same after they were written as JSON and read, with all text in UTF-8")
	}
	change, err := j.Plan.RackChange(j.Problem, j.ID)
	if err != nil {
		return nil, err
	}
	if err := errors.Join(checkChange(change), checkText("title", o.Title)); err != nil {
		return nil, err
	}
	rackText, err := json.Marshal(change)
	if err != nil {
		return nil, err
	}
	r := &prepared{Job: j, document: text.String(), change: change, rackText: string(rackText)}
	r.entry = Entry{ID: j.ID, Rack: j.Rack, Title: o.Title, State: StateOpen, Saved: time.Unix(d.now().Unix(), 0).UTC(),
		ByLength: plan.ByLength, Cost: plan.Cost, Bound: plan.Bound, Currency: o.Locale.Currency, Proven: plan.Proven}
	r.entry.count(p, plan)
	return r, errors.Join(checkText("profile", r.entry.Profile), checkText("material", r.entry.Material))
}

// equal reports whether two values are equal: an empty list equals nil.
func equal(a, b any) bool {
	if reflect.DeepEqual(a, b) {
		return true
	}
	x, errX := json.Marshal(a)
	y, errY := json.Marshal(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

// count computes the columns from the problem and the plan.
func (e *Entry) count(p optimize.Problem, plan *optimize.Plan) {
	for i, s := range p.Sticks {
		if i == 0 {
			e.Profile, e.Material = s.Profile, s.Material
		}
		if s.Profile != e.Profile {
			e.Profile = ""
		}
		if s.Material != e.Material {
			e.Material = ""
		}
	}
	for _, pat := range plan.Patterns {
		for range pat.Pieces {
			e.Pieces = saturated(e.Pieces, pat.Count)
		}
	}
	for _, b := range plan.Buy {
		e.Sticks = saturated(e.Sticks, b.Count)
	}
}

// saturated adds two counts; on overflow it returns the greatest int64.
func saturated(n int64, m int) int64 {
	if n > math.MaxInt64-int64(m) {
		return math.MaxInt64
	}
	return n + int64(m)
}

// Save stores a job and reserves the offcuts that its plan takes off the rack. If the same job
// is stored already, in any state, Save does nothing.
//
// The errors are a *[stock.RackError] if the rack has fewer free offcuts than the plan takes,
// since others have changed it after the job was planned: see Plan, which plans again; a
// *TakenError if another job or another change of the rack has the ID; a *MissingError if there
// is no such rack; those of package optimize for an invalid plan; and *measure.FieldErrors.
// Nothing is stored then.
func (d *DB) Save(ctx context.Context, j Job) error {
	r, err := d.prepare(ctx, j)
	if err != nil {
		return err
	}
	return explain(d.write(ctx, func(t *tx) error { return t.save(ctx, r) }))
}

func (t *tx) save(ctx context.Context, r *prepared) error {
	l, err := t.lock(ctx, r.Rack)
	if err != nil {
		return err
	}
	var rack, document string
	switch err := t.row(ctx, "SELECT rack, document FROM job WHERE id = $1", r.ID).Scan(&rack, &document); {
	case err == nil && rack == r.Rack && document == r.document:
		return errUnchanged
	case err == nil:
		return &TakenError{ID: r.ID}
	case !errors.Is(err, sql.ErrNoRows):
		return err
	}
	if _, state, err := l.change(ctx, r.ID); err != nil {
		return err
	} else if state != "" {
		return &TakenError{ID: r.ID}
	}
	free, err := l.rows(ctx, "")
	if err != nil {
		return err
	}
	taken, err := take(free, r.change)
	if err != nil {
		return err
	}
	if err := l.hand(ctx, taken, r.ID); err != nil {
		return err
	}
	if err := l.exec(ctx, "INSERT INTO rack_change (rack, id, state, version, document) VALUES ($1, $2, 'held', $3, $4)", r.Rack, r.ID, l.version, r.rackText); err != nil {
		return err
	}
	e := &r.entry
	currency, err := json.Marshal(e.Currency)
	if err != nil {
		return err
	}
	return l.exec(ctx, `INSERT INTO job (id, rack, state, saved, version, title, profile, material, pieces, sticks, currency, by_length, cost, bound, proven, document)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16)`,
		e.ID, e.Rack, string(e.State), e.Saved.Unix(), l.version, e.Title, e.Profile, e.Material, e.Pieces, e.Sticks, string(currency), bit(e.ByLength), e.Cost, e.Bound, bit(e.Proven), r.document)
}

// bit is a bool as both databases store it alike.
func bit(b bool) int64 {
	if b {
		return 1
	}
	return 0
}

// Plan returns the job with an ID, or makes it: solve receives the current rack and returns a
// problem, a plan for it and the options of its sheet, which Plan saves. If someone else takes
// a needed offcut in the meantime, solve is called again, a few times.
func (d *DB) Plan(ctx context.Context, id, rack string, solve func(context.Context, stock.Rack) (optimize.Problem, *optimize.Plan, *cutsheet.Options, error)) (*Job, error) {
	const tries = 20
	for try := 1; ; try++ {
		j, _, err := d.Job(ctx, id)
		if missing := (*MissingError)(nil); err == nil || !errors.As(err, &missing) {
			return j, err
		}
		free, _, err := d.Rack(ctx, rack)
		if err != nil {
			return nil, err
		}
		j = &Job{ID: id, Rack: rack}
		if j.Problem, j.Plan, j.Options, err = solve(ctx, free); err != nil {
			return nil, err
		}
		err = d.Save(ctx, *j)
		overtaken := errors.As(err, new(*stock.RackError)) || errors.As(err, new(*TakenError))
		if err == nil || !overtaken || try == tries {
			return j, err
		}
		// A TakenError is final unless the same job was stored concurrently: then the next
		// round finds it.
		if _, _, again := d.Job(ctx, id); errors.As(err, new(*TakenError)) && again != nil {
			return nil, err
		}
	}
}

// Job reads a job and checks its plan again. If there is none with the ID, the error is a
// *MissingError, and if the stored data is invalid, a *DamageError.
func (d *DB) Job(ctx context.Context, id string) (*Job, State, error) {
	if err := checkName("id", id); err != nil {
		return nil, "", err
	}
	j := &Job{ID: id}
	var state State
	var document string
	err := d.readOne(ctx, []any{&j.Rack, &state, &document}, "SELECT rack, state, document FROM job WHERE id = $1", id)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, "", &MissingError{Kind: "job", Name: id}
	}
	if err != nil {
		return nil, "", err
	}
	j.Problem, j.Plan, j.Options, err = cutsheet.ReadJSON(bytes.NewReader([]byte(document)))
	if err == nil {
		err = optimize.Check(ctx, j.Problem, j.Plan)
	}
	if ctx.Err() != nil {
		return nil, "", context.Cause(ctx)
	}
	if err != nil {
		return nil, "", &DamageError{Where: "job " + strconv.Quote(id), Err: err}
	}
	return j, state, nil
}

// A Filter selects the jobs of a list. Empty fields match everything.
type Filter struct {
	Rack, Profile, Material string
	State                   State
}

// Jobs lists jobs, the oldest first. It reads only the columns.
func (d *DB) Jobs(ctx context.Context, f Filter) (list []Entry, err error) {
	for _, t := range []struct{ field, text string }{{"rack", f.Rack}, {"profile", f.Profile}, {"material", f.Material}, {"state", string(f.State)}} {
		if err := checkText(t.field, t.text); err != nil {
			return nil, err
		}
	}
	err = d.read(ctx, func() { list = nil }, func(r *sql.Rows) error {
		var e Entry
		var saved, byLength, proven int64
		var currency string
		err := r.Scan(&e.ID, &e.Rack, &e.State, &saved, &e.Title, &e.Profile, &e.Material, &e.Pieces, &e.Sticks, &currency, &byLength, &e.Cost, &e.Bound, &proven)
		if err == nil {
			if bad := json.Unmarshal([]byte(currency), &e.Currency); bad != nil {
				err = &DamageError{Where: "job " + strconv.Quote(e.ID), Err: bad}
			}
		}
		e.Saved, e.ByLength, e.Proven = time.Unix(saved, 0).UTC(), byLength != 0, proven != 0
		list = append(list, e)
		return err
	}, `SELECT id, rack, state, saved, title, profile, material, pieces, sticks, currency, by_length, cost, bound, proven FROM job
		WHERE ($1 = '' OR rack = $1) AND ($2 = '' OR profile = $2) AND ($3 = '' OR material = $3) AND ($4 = '' OR state = $4)
		ORDER BY saved, version, id`, f.Rack, f.Profile, f.Material, string(f.State))
	return list, err
}

// Cut records that a job was cut: the offcuts that it used are removed, and the new ones are on
// the rack, if they are worth keeping. If actual is nil, the job went as planned; otherwise
// actual is what was actually used and left, under any ID, and reserved offcuts that were not
// used are free again. Called again for the same job and the same actual change, it does
// nothing.
//
// The errors are a *MissingError if there is no such job, a *StateError if it was dropped or
// was cut differently, a *[stock.RackError] if more is used than is reserved for the job and
// free, and *measure.FieldErrors. Nothing is changed then.
func (d *DB) Cut(ctx context.Context, id string, actual *stock.RackChange) error {
	text := ""
	if actual != nil {
		c := *actual
		c.ID = id
		if err := checkChange(c); err != nil {
			return err
		}
		written, err := json.Marshal(c)
		if err != nil {
			return err
		}
		actual, text = &c, string(written)
	}
	return d.finish(ctx, id, StateCut, func(l *locked, planned string) error {
		held, err := l.rows(ctx, id)
		if err != nil {
			return err
		}
		var c stock.RackChange
		if actual == nil {
			text = planned
			if err := json.Unmarshal([]byte(planned), &c); err != nil {
				return &DamageError{Where: "change " + strconv.Quote(id), Err: err}
			}
			if _, err := l.apply(ctx, c, held); err != nil {
				return err
			}
		} else if err := l.cutOtherwise(ctx, *actual, held); err != nil {
			return err
		}
		return l.exec(ctx, "UPDATE rack_change SET state = 'done', version = $3, document = $4 WHERE rack = $1 AND id = $2", l.name, id, l.version, text)
	}, func(done string) bool { return actual == nil || done == text })
}

// cutOtherwise applies a change that differs from the plan. Reserved offcuts are used first;
// those not used become free.
func (l *locked) cutOtherwise(ctx context.Context, c stock.RackChange, held []row) error {
	if err := l.hand(ctx, held, ""); err != nil {
		return err
	}
	free, err := l.rows(ctx, "")
	if err != nil {
		return err
	}
	// hand has returned the reserved offcuts to their places.
	was := make(map[[2]int64]int, len(held))
	for _, r := range held {
		was[[2]int64{r.since, r.n}] = r.Count
	}
	var first, rest []row
	for _, r := range free {
		if n := was[[2]int64{r.since, r.n}]; n > 0 {
			mine := r
			mine.Count = n
			first = append(first, mine)
			r.Count -= n
		}
		if r.Count > 0 {
			rest = append(rest, r)
		}
	}
	_, err = l.apply(ctx, c, append(first, rest...))
	return err
}

// Drop gives up a job: its offcuts are free again. Called again, it does nothing. The errors
// are a *MissingError if there is no such job and a *StateError if it was cut.
func (d *DB) Drop(ctx context.Context, id string) error {
	return d.finish(ctx, id, StateDropped, func(l *locked, _ string) error {
		held, err := l.rows(ctx, id)
		if err != nil {
			return err
		}
		if err := l.hand(ctx, held, ""); err != nil {
			return err
		}
		return l.exec(ctx, "UPDATE rack_change SET state = 'dropped', version = $3 WHERE rack = $1 AND id = $2", l.name, id, l.version)
	}, func(string) bool { return true })
}

// finish brings an open job to its last state. Work receives the document of the planned
// change. If the job is in that state already, same is called to determine whether it got there
// in the same way.
func (d *DB) finish(ctx context.Context, id string, last State, work func(l *locked, planned string) error, same func(done string) bool) error {
	if err := checkName("id", id); err != nil {
		return err
	}
	var rack string
	err := d.readOne(ctx, []any{&rack}, "SELECT rack FROM job WHERE id = $1", id) // which never changes
	if errors.Is(err, sql.ErrNoRows) {
		return &MissingError{Kind: "job", Name: id}
	}
	if err != nil {
		return err
	}
	return explain(d.write(ctx, func(t *tx) error {
		l, err := t.lock(ctx, rack)
		if err != nil {
			return err
		}
		var state State
		if err := t.row(ctx, "SELECT state FROM job WHERE id = $1", id).Scan(&state); err != nil {
			return err
		}
		document, recorded, err := l.change(ctx, id)
		if err != nil {
			return err
		}
		switch {
		case recorded == "":
			return &DamageError{Where: "job " + strconv.Quote(id), What: fmt.Sprintf("the rack %s has no record of it", strconv.Quote(rack))}
		case state == last && same(document):
			return errUnchanged
		case state != StateOpen:
			return &StateError{ID: id, State: state}
		}
		if err := work(l, document); err != nil {
			return err
		}
		return l.exec(ctx, "UPDATE job SET state = $2 WHERE id = $1", id, string(last))
	}))
}
