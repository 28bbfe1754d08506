package records

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"strings"
)

// schema has one file for each version of the tables. A released file never changes: later
// changes are new files.
//
//go:embed schema/*.sql
var schema embed.FS

// newest is the version of this program, and the number of files.
const newest = 2

// migrate brings the tables to the newest version, one version at a time, each atomically. Two
// programs may do it concurrently: one waits for the other.
func (d *DB) migrate(ctx context.Context) error { return d.migrateTo(ctx, newest) }

func (d *DB) migrateTo(ctx context.Context, want int64) error {
	for {
		version, err := d.version(ctx)
		switch {
		case err != nil:
			return err
		case version > newest:
			return fmt.Errorf("its tables have version %d and this program knows %d: a newer program made them", version, newest)
		case version >= want:
			return nil
		}
		if err := d.write(ctx, func(t *tx) error { return t.raise(ctx, version) }); err != nil {
			return err
		}
	}
}

// version returns the version of the tables, 0 if there are none. It only reads a database that
// is up to date.
func (d *DB) version(ctx context.Context) (version int64, err error) {
	const ask = "SELECT version FROM schema_version"
	if d.db.QueryRowContext(ctx, ask).Scan(&version) == nil {
		return version, nil
	}
	err = d.write(ctx, func(t *tx) error {
		for _, s := range []string{
			"CREATE TABLE IF NOT EXISTS schema_version (id BIGINT NOT NULL PRIMARY KEY CHECK (id = 1), version BIGINT NOT NULL)",
			"INSERT INTO schema_version (id, version) VALUES (1, 0) ON CONFLICT DO NOTHING",
		} {
			if err := t.exec(ctx, s); err != nil {
				return err
			}
		}
		if err := t.row(ctx, ask).Scan(&version); err != nil || version > 0 || !d.embedded {
			return err
		}
		// A server may have other tables too; a file belongs to one program.
		var others int64
		if err := t.row(ctx, "SELECT count(*) FROM sqlite_master WHERE tbl_name <> 'schema_version'").Scan(&others); err != nil {
			return err
		}
		if others > 0 {
			return errors.New("it is the database of another program")
		}
		return nil
	})
	return version, err
}

// raise brings the tables from a version to the next, unless another program was faster.
func (t *tx) raise(ctx context.Context, from int64) error {
	var version int64
	if err := t.row(ctx, "UPDATE schema_version SET version = version + 1 RETURNING version").Scan(&version); err != nil {
		return err
	}
	if version != from+1 {
		return errUnchanged
	}
	text, err := schema.ReadFile(fmt.Sprintf("schema/%d.sql", version))
	if err != nil {
		return err
	}
	for statement := range strings.SplitSeq(string(text), ";\n") {
		if strings.TrimSpace(statement) == "" {
			continue
		}
		if err := t.exec(ctx, statement); err != nil {
			return fmt.Errorf("raising its tables to version %d: %w", version, err)
		}
	}
	return nil
}
