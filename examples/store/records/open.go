package records

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"strconv"
	"strings"
	"time"

	_ "github.com/jackc/pgx/v5/stdlib" // the driver pgx
	_ "modernc.org/sqlite"             // the driver sqlite
)

// A DB is an open database. Its methods may be called concurrently, and several programs may
// have the same database open.
type DB struct {
	db       *sql.DB
	embedded bool // SQLite
	now      func() time.Time
	fault    func(point string) // called at every step, for tests that end the program there; or nil
}

// Open opens the database at an address and migrates its tables. An address that begins with
// postgres:// or postgresql:// is that of a PostgreSQL server; any other is the name of a file,
// which SQLite creates if it does not exist.
//
// A file must be on a local disk: over a network its locks do not work.
func Open(ctx context.Context, address string) (*DB, error) {
	return open(ctx, address, nil)
}

func open(ctx context.Context, address string, fault func(string)) (_ *DB, err error) {
	scheme, rest, isURL := strings.Cut(address, "://")
	d := &DB{embedded: !isURL, now: time.Now, fault: fault}
	switch {
	case isURL && (scheme == "postgres" || scheme == "postgresql"):
		d.db, err = sql.Open("pgx", address)
	case isURL:
		return nil, fmt.Errorf("database %q: want the name of a file or postgres://%s", address, rest)
	case address == "" || strings.Contains(address, ":memory:"):
		return nil, fmt.Errorf("database %q: want the name of a file", address)
	case short(address):
		return nil, fmt.Errorf("database %s: the file is no database", shown(address))
	default:
		d.db, err = sql.Open("sqlite", fileAddress(address))
	}
	if err != nil {
		return nil, fmt.Errorf("database: %w", explain(err))
	}
	// An unreachable server is not awaited: the address may be wrong.
	if err = d.db.PingContext(ctx); err == nil {
		err = d.migrate(ctx)
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("database %s: %w", shown(address), explain(err)), d.db.Close())
	}
	return d, nil
}

// Close closes the database.
func (d *DB) Close() error { return d.db.Close() }

// fileAddress returns the address of a file for SQLite: many read while one writes, others wait
// up to ten seconds, and committed data is on the disk.
func fileAddress(name string) string {
	name = strings.NewReplacer("%", "%25", "?", "%3f", "#", "%23").Replace(name)
	q := url.Values{"_pragma": {"busy_timeout(10000)", "journal_mode(wal)", "synchronous(full)", "foreign_keys(1)"}}
	return "file:" + name + "?" + q.Encode()
}

// shown returns an address without its password.
func shown(address string) string {
	if !strings.Contains(address, "://") {
		return strconv.Quote(address)
	}
	u, err := url.Parse(address)
	if err != nil {
		scheme, _, _ := strings.Cut(address, "://")
		return scheme + "://..."
	}
	q := u.Query()
	q.Del("password")
	u.RawQuery = q.Encode()
	return u.Redacted()
}

// short reports whether a file is not empty but smaller than any database. SQLite takes such a
// file for an empty one.
func short(name string) bool {
	const least = 512
	info, err := os.Stat(name)
	return err == nil && info.Mode().IsRegular() && info.Size() > 0 && info.Size() < least
}
