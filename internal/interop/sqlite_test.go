package interop

import (
	"database/sql"
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	_ "modernc.org/sqlite"
)

func open(t *testing.T) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(t.TempDir(), "schoolhouse.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := db.Close(); err != nil {
			t.Error(err)
		}
	})
	return db
}

func exec(t *testing.T, db *sql.DB, query string, args ...any) {
	t.Helper()
	if _, err := db.Exec(query, args...); err != nil {
		t.Fatalf("%s: %v", query, err)
	}
}

// row is one of every quantity.
type row struct {
	wall    measure.Length
	corner  measure.Angle
	floor   measure.Area
	paint   measure.Volume
	drawing measure.Scale
	stair   measure.Slope
}

func rows(t *testing.T) []row {
	t.Helper()
	quarter, err := measure.NewScale(measure.Inch/4, measure.Foot)
	if err != nil {
		t.Fatal(err)
	}
	stair, err := measure.NewSlope(7*measure.Inch, 11*measure.Inch)
	if err != nil {
		t.Fatal(err)
	}
	return []row{
		{},
		{measure.MustParse(`23' 7-1/2"`), 91*measure.Degree + 3*measure.Degree/10, 400 * measure.SquareFoot, 3 * measure.Gallon, quarter, stair},
		{math.MinInt64, -1, -1, 1, quarter, stair},
		{math.MaxInt64, 1<<63 - 1, 1<<63 - 1, -1 << 63, quarter, stair},
		{measure.MustParse(`2219.3250125mm`), measure.Degree / 3, measure.SquareMillimeter, 101 * measure.FluidOunce / 10, quarter, stair},
	}
}

// The quantities pass unchanged through columns of every declared kind, and are stored as text with a
// unit.
func TestRoundTrip(t *testing.T) {
	for _, kind := range []string{"TEXT", "BLOB", "NUMERIC", "INTEGER", ""} {
		t.Run("column "+kind, func(t *testing.T) {
			db := open(t)
			exec(t, db, strings.ReplaceAll("CREATE TABLE room (id INTEGER, wall ?, corner ?, floor ?, paint ?, drawing ?, stair ?)", "?", kind))
			for i, r := range rows(t) {
				exec(t, db, "INSERT INTO room VALUES (?, ?, ?, ?, ?, ?, ?)", i, r.wall, r.corner, r.floor, r.paint, r.drawing, r.stair)
			}
			for i, want := range rows(t) {
				var got row
				err := db.QueryRow("SELECT wall, corner, floor, paint, drawing, stair FROM room WHERE id = ?", i).
					Scan(&got.wall, &got.corner, &got.floor, &got.paint, &got.drawing, &got.stair)
				if err != nil || got != want {
					t.Errorf("row %d: %+v, %v; want %+v", i, got, err, want)
				}
			}
			var text, typ string
			if err := db.QueryRow("SELECT wall, typeof(wall) FROM room WHERE id = 1").Scan(&text, &typ); err != nil || text != "23ft 7-1/2in" || typ != "text" {
				t.Errorf("stored as %s %q, %v", typ, text, err)
			}
		})
	}
}

// A length is also an argument of a query.
func TestQuery(t *testing.T) {
	db := open(t)
	exec(t, db, "CREATE TABLE stick (length TEXT, count INTEGER)")
	exec(t, db, "INSERT INTO stick VALUES (?, 4), (?, 9)", 12*measure.Foot, 16*measure.Foot)
	var n int
	if err := db.QueryRow("SELECT count FROM stick WHERE length = ?", 192*measure.Inch).Scan(&n); err != nil || n != 9 {
		t.Errorf("%d, %v; want 9", n, err)
	}
}

func TestNull(t *testing.T) {
	db := open(t)
	exec(t, db, "CREATE TABLE room (wall TEXT)")
	exec(t, db, "INSERT INTO room VALUES (?), (?)", sql.Null[measure.Length]{}, sql.Null[measure.Length]{V: 6 * measure.Foot, Valid: true})
	rs, err := db.Query("SELECT wall FROM room ORDER BY wall")
	if err != nil {
		t.Fatal(err)
	}
	defer rs.Close()
	var got []sql.Null[measure.Length]
	for rs.Next() {
		var n sql.Null[measure.Length]
		if err := rs.Scan(&n); err != nil {
			t.Fatal(err)
		}
		got = append(got, n)
	}
	if err := rs.Err(); err != nil || len(got) != 2 || got[0].Valid || got[1] != (sql.Null[measure.Length]{V: 6 * measure.Foot, Valid: true}) {
		t.Errorf("%+v, %v", got, err)
	}
	wall := measure.Inch
	err = db.QueryRow("SELECT NULL").Scan(&wall)
	var pe *measure.ParseError
	if !errors.As(err, &pe) || !strings.Contains(err.Error(), "sql.Null") || wall != measure.Inch {
		t.Errorf("NULL into a length: %v, %v", wall, err)
	}
}

// A number has no unit, and the column does not tell.
func TestNumbersAreRefused(t *testing.T) {
	db := open(t)
	for _, value := range []string{"88", "88.75", "'88.75'", "'7-4'", "x'ff'"} {
		wall := measure.Inch
		err := db.QueryRow("SELECT " + value).Scan(&wall)
		var pe *measure.ParseError
		if !errors.As(err, &pe) || wall != measure.Inch {
			t.Errorf("%s into a length: %v, %v", value, wall, err)
		}
	}
}

// If SQL has to sort and sum, a column of tick counts works, chosen deliberately.
func TestCounts(t *testing.T) {
	db := open(t)
	exec(t, db, "CREATE TABLE piece (ticks INTEGER)")
	for _, l := range []measure.Length{9 * measure.Foot, 10 * measure.Foot, measure.Inch / 128} {
		exec(t, db, "INSERT INTO piece VALUES (?)", int64(l))
	}
	var sum, longest int64
	if err := db.QueryRow("SELECT sum(ticks), max(ticks) FROM piece").Scan(&sum, &longest); err != nil || measure.Length(sum) != 19*measure.Foot+measure.Inch/128 || measure.Length(longest) != 10*measure.Foot {
		t.Errorf("%d, %d, %v", sum, longest, err)
	}
}
