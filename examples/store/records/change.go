package records

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"example.com/longpoint/stock"
)

// Change changes a rack by hand, as [stock.Rack.Apply] does, and returns the offcuts that it
// put on the rack: those of c.Leaves that are worth keeping, with their IDs there. Called again
// for the same change, it does nothing and returns nil.
//
// The errors are a *[stock.RackError] if the rack has fewer free offcuts than are used, a
// *TakenError if c.ID identifies something else, a *MissingError if there is no such rack, and
// *measure.FieldErrors. Nothing is changed then.
func (d *DB) Change(ctx context.Context, rack string, c stock.RackChange) (kept []stock.Offcut, err error) {
	if err := errors.Join(checkName("rack", rack), checkChange(c)); err != nil {
		return nil, err
	}
	text, err := json.Marshal(c)
	if err != nil {
		return nil, err
	}
	err = d.write(ctx, func(t *tx) error {
		kept = nil
		l, err := t.lock(ctx, rack)
		if err != nil {
			return err
		}
		if old, state, err := l.change(ctx, c.ID); err != nil || state != "" {
			if err == nil && (state != "done" || old != string(text)) {
				err = &TakenError{ID: c.ID}
			}
			return orUnchanged(err)
		}
		rows, err := l.rows(ctx, "")
		if err != nil {
			return err
		}
		if kept, err = l.apply(ctx, c, rows); err != nil {
			return err
		}
		return l.exec(ctx, "INSERT INTO rack_change (rack, id, state, version, document) VALUES ($1, $2, 'done', $3, $4)", rack, c.ID, l.version, string(text))
	})
	if err != nil {
		kept = nil
	}
	return kept, explain(err)
}

func orUnchanged(err error) error {
	if err == nil {
		return errUnchanged
	}
	return err
}

// checkChange returns the *measure.FieldErrors of values that rows cannot hold. Package stock
// finds the other faults of a change.
func checkChange(c stock.RackChange) error {
	bad := []error{checkName("id", c.ID)}
	check := func(list string, offcuts []stock.Offcut) {
		for i, o := range offcuts {
			for _, f := range []struct{ name, text string }{{"id", o.ID}, {"label", o.Label}, {"profile", o.Profile}, {"material", o.Material}} {
				bad = append(bad, checkText(fmt.Sprintf("%s[%d].%s", list, i, f.name), f.text))
			}
		}
	}
	check("uses", c.Uses)
	check("leaves", c.Leaves)
	return errors.Join(bad...)
}

// change returns the document and the state of a change of the rack; the state is empty if
// there is none.
func (l *locked) change(ctx context.Context, id string) (document, state string, err error) {
	err = l.row(ctx, "SELECT document, state FROM rack_change WHERE rack = $1 AND id = $2", l.name, id).Scan(&document, &state)
	if errors.Is(err, sql.ErrNoRows) {
		return "", "", nil
	}
	return document, state, err
}

// apply takes the offcuts that a change uses from the rows, and puts those that it leaves on
// the rack if they are worth keeping.
func (l *locked) apply(ctx context.Context, c stock.RackChange, from []row) (kept []stock.Offcut, err error) {
	taken, err := take(from, c)
	if err != nil {
		return nil, err
	}
	if err := l.remove(ctx, taken); err != nil {
		return nil, err
	}
	if err := l.note(ctx, c.ID, -1, taken); err != nil {
		return nil, err
	}
	// An ID on the rack, free or reserved, is not used again.
	var on []row
	if err := l.each(ctx, func(r *sql.Rows) error {
		o := row{Offcut: stock.Offcut{Profile: "any", Length: 1}}
		err := r.Scan(&o.ID)
		on = append(on, o)
		return err
	}, "SELECT DISTINCT id FROM offcut WHERE rack = $1 AND id <> ''", l.name); err != nil {
		return nil, err
	}
	rack := stock.Rack{Keep: l.keep.Keep, Rules: l.keep.Rules, Offcuts: offcuts(on)}
	after, err := rack.Apply(stock.RackChange{ID: c.ID, Leaves: c.Leaves})
	if err != nil {
		return nil, err
	}
	kept = after.Offcuts[len(on):]
	fresh := make([]row, len(kept))
	for i, o := range kept {
		fresh[i] = row{since: l.version, n: int64(i + 1), Offcut: o}
	}
	if err := l.put(ctx, fresh); err != nil {
		return nil, err
	}
	return kept, l.note(ctx, c.ID, 1, fresh)
}
