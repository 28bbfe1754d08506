package main

import (
	"context"
	"database/sql"
	"net/url"
	"strings"

	"github.com/riverqueue/river/riverdriver/riversqlite"
	_ "modernc.org/sqlite" // the driver of the name below
)

// openSQLite opens a database in a file, which it makes if need be. River's driver wants one
// connection, since SQLite has one writer; who only reads has others.
func openSQLite(path string) (*database[*sql.Tx], error) {
	open := func(most int, more ...string) (*sql.DB, error) {
		q := url.Values{"_pragma": append([]string{"journal_mode(WAL)", "busy_timeout(10000)", "synchronous(FULL)"}, more...)}
		db, err := sql.Open("sqlite", (&url.URL{Scheme: "file", Opaque: url.PathEscape(path), RawQuery: q.Encode()}).String())
		if err == nil {
			db.SetMaxOpenConns(most)
			err = db.Ping()
		}
		return db, err
	}
	db, err := open(1)
	if err != nil {
		return nil, err
	}
	read, err := open(4, "query_only(true)")
	if err != nil {
		db.Close()
		return nil, err
	}
	return &database[*sql.Tx]{
		driver: riversqlite.New(db),
		read:   read,
		words:  strings.NewReplacer("bytea", "blob", "$", "?"),
		begin:  func(ctx context.Context) (*sql.Tx, error) { return db.BeginTx(ctx, nil) },
		exec: func(ctx context.Context, tx *sql.Tx, statement string, args ...any) (int64, error) {
			r, err := tx.ExecContext(ctx, statement, args...)
			if err != nil {
				return 0, err
			}
			return r.RowsAffected()
		},
		commit:   func(_ context.Context, tx *sql.Tx) error { return tx.Commit() },
		rollback: func(_ context.Context, tx *sql.Tx) error { return tx.Rollback() },
		alone:    func(_ context.Context, do func() error) error { return do() },
		close: func() {
			read.Close()
			db.Close()
		},
	}, nil
}
