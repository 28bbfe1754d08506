package main

import (
	"context"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
)

// migrating is the number of the lock that a process holds while it creates tables.
const migrating = 19_240_907

// openPostgres opens a database of a server, which several machines may share.
func openPostgres(ctx context.Context, address string) (*database[pgx.Tx], error) {
	config, err := pgxpool.ParseConfig(address)
	if err != nil {
		return nil, err
	}
	config.HealthCheckPeriod = 5 * time.Second // to notice soon that a server came back
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, err
	}
	if err := pool.Ping(ctx); err != nil {
		pool.Close()
		return nil, err
	}
	read := stdlib.OpenDBFromPool(pool)
	return &database[pgx.Tx]{
		driver: riverpgxv5.New(pool),
		read:   read,
		words:  strings.NewReplacer(),
		begin:  func(ctx context.Context) (pgx.Tx, error) { return pool.Begin(ctx) },
		exec: func(ctx context.Context, tx pgx.Tx, statement string, args ...any) (int64, error) {
			tag, err := tx.Exec(ctx, statement, args...)
			return tag.RowsAffected(), err
		},
		commit:   func(ctx context.Context, tx pgx.Tx) error { return tx.Commit(ctx) },
		rollback: func(ctx context.Context, tx pgx.Tx) error { return tx.Rollback(ctx) },
		alone: func(ctx context.Context, do func() error) error {
			return pool.AcquireFunc(ctx, func(c *pgxpool.Conn) error {
				if _, err := c.Exec(ctx, "select pg_advisory_lock($1)", migrating); err != nil {
					return err
				}
				defer c.Exec(context.WithoutCancel(ctx), "select pg_advisory_unlock($1)", migrating)
				return do()
			})
		},
		close: func() {
			read.Close()
			pool.Close()
		},
	}, nil
}
