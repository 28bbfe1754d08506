package records

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
	"modernc.org/sqlite"
)

// tx is a transaction.
type tx struct {
	*sql.Tx
	fault func(string)
}

func (t *tx) at(point string) {
	if t.fault != nil {
		t.fault(point)
	}
}

func (t *tx) exec(ctx context.Context, statement string, args ...any) error {
	_, err := t.count(ctx, statement, args...)
	return err
}

// count executes a statement and returns how many rows it has changed.
func (t *tx) count(ctx context.Context, statement string, args ...any) (int64, error) {
	t.at(statement)
	result, err := t.ExecContext(ctx, statement, args...)
	if err != nil {
		return 0, err
	}
	return result.RowsAffected()
}

func (t *tx) row(ctx context.Context, statement string, args ...any) *sql.Row {
	t.at(statement)
	return t.QueryRowContext(ctx, statement, args...)
}

// each calls f for every row of the answer. F must not use the transaction.
func (t *tx) each(ctx context.Context, f func(*sql.Rows) error, statement string, args ...any) error {
	t.at(statement)
	rows, err := t.QueryContext(ctx, statement, args...)
	return forEach(rows, err, f)
}

func forEach(rows *sql.Rows, err error, f func(*sql.Rows) error) error {
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := f(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// errUnchanged ends a transaction that has nothing to do: it is rolled back without an error.
var errUnchanged = errors.New("unchanged")

// write runs f in a transaction and commits it. F changes only the database, and does nothing
// if its work is done already, so it may run again.
func (d *DB) write(ctx context.Context, f func(*tx) error) error {
	return d.again(ctx, func() error { return d.once(ctx, f) })
}

// read calls f for every row of a query's result. Begin is called before the first, and again
// if the query must be repeated.
func (d *DB) read(ctx context.Context, begin func(), f func(*sql.Rows) error, query string, args ...any) error {
	return explain(d.again(ctx, func() error {
		begin()
		rows, err := d.db.QueryContext(ctx, query, args...)
		return forEach(rows, err, f)
	}))
}

// readOne reads the single row of a result; if there is none, the error is sql.ErrNoRows.
func (d *DB) readOne(ctx context.Context, into []any, query string, args ...any) error {
	return explain(d.again(ctx, func() error { return d.db.QueryRowContext(ctx, query, args...).Scan(into...) }))
}

// again calls f until it succeeds or fails permanently. If the server goes down or another
// transaction interferes, it retries for half a minute.
func (d *DB) again(ctx context.Context, f func() error) error {
	const first, longest, patience = 5 * time.Millisecond, 500 * time.Millisecond, 30 * time.Second
	pause, end := first, time.Now().Add(patience)
	for {
		err := f()
		if err == nil || !passing(err) || time.Now().After(end) {
			return err
		}
		select {
		case <-ctx.Done():
			return errors.Join(context.Cause(ctx), err)
		case <-time.After(pause):
		}
		pause = min(2*pause, longest)
	}
}

func (d *DB) once(ctx context.Context, f func(*tx) error) error {
	begun, err := d.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer begun.Rollback() // which does nothing after Commit
	t := &tx{Tx: begun, fault: d.fault}
	switch err := f(t); {
	case errors.Is(err, errUnchanged):
		return nil
	case err != nil:
		return err
	}
	t.at("COMMIT")
	if err := t.Commit(); err != nil {
		return err
	}
	t.at("committed")
	return nil
}

// passing reports whether the same transaction may succeed if it is retried.
func passing(err error) bool {
	if server := (*pgconn.PgError)(nil); errors.As(err, &server) {
		switch server.Code {
		case "40001", "40P01", "55P03", // serialization failure, deadlock, no lock
			"57P01", "57P02", "57P03", "53300", // the server stops, crashed, starts, is full
			"23505", "42P07", "42710": // another was faster: the next try finds its result
			return true
		}
		return server.Code[:2] == "08" // connection failure
	}
	if file := (*sqlite.Error)(nil); errors.As(err, &file) {
		const busy, locked = 5, 6
		code := file.Code() & 0xff
		return code == busy || code == locked
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return false
	}
	for _, lost := range []error{driver.ErrBadConn, pgconn.ErrConnClosed, io.EOF, io.ErrUnexpectedEOF, net.ErrClosed,
		syscall.ECONNREFUSED, syscall.ECONNRESET, syscall.EPIPE, syscall.ENOENT} {
		if errors.Is(err, lost) {
			return true
		}
	}
	return pgconn.SafeToRetry(err)
}

// explain adds to an error of SQLite its meaning for a file.
func explain(err error) error {
	file := (*sqlite.Error)(nil)
	if !errors.As(err, &file) {
		return err
	}
	const busy, readOnly, disk, corrupt, full, cannotOpen, notADatabase = 5, 8, 10, 11, 13, 14, 26
	means := map[int]string{
		busy:         "another program has held it for too long",
		readOnly:     "it cannot be written; SQLite writes the file and beside it, in its folder",
		disk:         "the disk failed",
		corrupt:      "the file is damaged: put a copy in its place",
		full:         "the disk is full; nothing was changed",
		cannotOpen:   "it cannot be opened: is its folder there, and may this program write in it?",
		notADatabase: "the file is no database",
	}[file.Code()&0xff]
	if means == "" {
		return err
	}
	return fmt.Errorf("%s (%w)", means, err)
}
