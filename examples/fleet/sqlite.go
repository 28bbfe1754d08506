package main

import (
	"context"
	"database/sql"
	"net/url"
	"strings"

	"github.com/riverqueue/river/riverdriver/riversqlite"
	_ "modernc.org/sqlite" // the driver of the name below
)

// byItself runs a function while no other process does so for the same database. The lock is an
// SQLite lock on a second file, which stays empty: it ends with its process, however that ends.
func byItself(ctx context.Context, path string, do func() error) error {
	db, err := sql.Open("sqlite", address(path+"-lock", "immediate", "busy_timeout(60000)"))
	if err != nil {
		return err
	}
	defer db.Close()
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	return do()
}

// address is that of a file for SQLite's driver.
func address(path, lock string, pragmas ...string) string {
	q := url.Values{"_txlock": {lock}, "_pragma": pragmas}
	return (&url.URL{Scheme: "file", Opaque: url.PathEscape(path), RawQuery: q.Encode()}).String()
}

// openSQLite opens a database in a file, creating it if necessary. River's driver needs a
// single connection, since SQLite has one writer; readers have others.
func openSQLite(path string) (*database[*sql.Tx], error) {
	open := func(most int, lock string, more ...string) (*sql.DB, error) {
		pragmas := append([]string{"busy_timeout(10000)", "journal_mode(WAL)", "synchronous(FULL)"}, more...)
		db, err := sql.Open("sqlite", address(path, lock, pragmas...))
		if err == nil {
			db.SetMaxOpenConns(most)
			// Creating the file changes its mode, during which nothing can wait for a lock.
			err = byItself(context.Background(), path, db.Ping)
		}
		return db, err
	}
	// A transaction that reads first cannot wait for the write lock: this one takes it at once.
	db, err := open(1, "immediate")
	if err != nil {
		return nil, err
	}
	read, err := open(4, "deferred", "query_only(true)")
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
		alone:    func(ctx context.Context, do func() error) error { return byItself(ctx, path, do) },
		close: func() {
			read.Close()
			db.Close()
		},
	}, nil
}
