package main

import (
	"context"
	"database/sql"
	"embed"
	"strings"

	"github.com/riverqueue/river/riverdriver"
	"github.com/riverqueue/river/rivermigrate"
)

// database has the jobs and the sheets, so that one transaction covers both: SQLite in a file,
// or PostgreSQL. TTx is the transaction of River's driver.
type database[TTx any] struct {
	driver   riverdriver.Driver[TTx]
	read     *sql.DB
	words    *strings.Replacer // from PostgreSQL's dialect, in which statements are written
	begin    func(context.Context) (TTx, error)
	exec     func(ctx context.Context, tx TTx, statement string, args ...any) (rows int64, err error)
	commit   func(context.Context, TTx) error
	rollback func(context.Context, TTx) error
	alone    func(context.Context, func() error) error // runs one process at a time
	close    func()
}

//go:embed schema.sql
var schema embed.FS

// within runs a function in a transaction, which is rolled back if it fails.
func (d *database[TTx]) within(ctx context.Context, do func(TTx) error) error {
	tx, err := d.begin(ctx)
	if err != nil {
		return err
	}
	if err := do(tx); err != nil {
		// The transaction must end even if the context has.
		d.rollback(context.WithoutCancel(ctx), tx)
		return err
	}
	return d.commit(ctx, tx)
}

// migrate creates the tables of the queue and of the sheets if they do not exist.
func (d *database[TTx]) migrate(ctx context.Context) error {
	return d.alone(ctx, func() error {
		m, err := rivermigrate.New(d.driver, nil)
		if err != nil {
			return err
		}
		if _, err := m.Migrate(ctx, rivermigrate.DirectionUp, nil); err != nil {
			return err
		}
		text, err := schema.ReadFile("schema.sql")
		if err != nil {
			return err
		}
		return d.within(ctx, func(tx TTx) error {
			for statement := range strings.SplitSeq(string(text), ";\n") {
				if strings.TrimSpace(statement) == "" {
					continue
				}
				if _, err := d.exec(ctx, tx, d.words.Replace(statement)); err != nil {
					return err
				}
			}
			return nil
		})
	})
}
