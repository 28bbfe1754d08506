package measure

import (
	"database/sql/driver"
	"encoding"
	"strconv"
)

// In a database, quantities are text, as MarshalText returns it, so that a
// column shows its units and other programs can read it. Without the Value
// methods, database/sql would silently store bare counts of ticks. Text does
// not sort or sum by size; if SQL has to do that, store int64(l) in an integer
// column, and read it back into an int64.
//
// A NULL is not a quantity: scan it into a sql.Null[measure.Length]. A number
// has no unit and is rejected like a number in JSON.

// Value returns the text of [Length.MarshalText]. It never fails.
func (l Length) Value() (driver.Value, error) { return value(l) }

// Value returns the text of [Angle.MarshalText]. It never fails.
func (a Angle) Value() (driver.Value, error) { return value(a) }

// Value returns the text of [Area.MarshalText]. It never fails.
func (a Area) Value() (driver.Value, error) { return value(a) }

// Value returns the text of [Volume.MarshalText]. It never fails.
func (v Volume) Value() (driver.Value, error) { return value(v) }

// Value returns the text of [Scale.MarshalText]. It never fails.
func (s Scale) Value() (driver.Value, error) { return value(s) }

// Value returns the text of [Slope.MarshalText]. It never fails.
func (s Slope) Value() (driver.Value, error) { return value(s) }

// Value returns the text of [Weight.MarshalText]. It never fails.
func (w Weight) Value() (driver.Value, error) { return value(w) }

// Value returns the text of [Ratio.MarshalText]. It never fails.
func (r Ratio) Value() (driver.Value, error) { return value(r) }

// Value returns the text of [Temperature.MarshalText]. It never fails.
func (t Temperature) Value() (driver.Value, error) { return value(t) }

// Value returns the text of [Duration.MarshalText]. It never fails.
func (d Duration) Value() (driver.Value, error) { return value(d) }

// Scan reads a column of text as [Parse] does. Other columns, and NULL, give a
// *[ParseError].
func (l *Length) Scan(column any) error { return scan(l, "length", column) }

// Scan reads a column of text as [ParseAngle] does. Other columns, and NULL,
// give a *[ParseError].
func (a *Angle) Scan(column any) error { return scan(a, "angle", column) }

// Scan reads a column of text as [ParseArea] does. Other columns, and NULL,
// give a *[ParseError].
func (a *Area) Scan(column any) error { return scan(a, "area", column) }

// Scan reads a column of text as [ParseVolume] does. Other columns, and NULL,
// give a *[ParseError].
func (v *Volume) Scan(column any) error { return scan(v, "volume", column) }

// Scan reads a column of text as [ParseScale] does. Other columns, and NULL,
// give a *[ParseError].
func (s *Scale) Scan(column any) error { return scan(s, "scale", column) }

// Scan reads a column of text as [ParseSlope] does. Other columns, and NULL,
// give a *[ParseError].
func (s *Slope) Scan(column any) error { return scan(s, "slope", column) }

// Scan reads a column of text as [ParseWeight] does. Other columns, and NULL,
// give a *[ParseError].
func (w *Weight) Scan(column any) error { return scan(w, "weight", column) }

// Scan reads a column of text as [ParseRatio] does. Other columns, and NULL,
// give a *[ParseError].
func (r *Ratio) Scan(column any) error { return scan(r, "ratio", column) }

// Scan reads a column of text as [ParseTemperature] does. Other columns, and NULL,
// give a *[ParseError].
func (t *Temperature) Scan(column any) error { return scan(t, "temperature", column) }

// Scan reads a column of text as [Duration.UnmarshalText] does. Other columns, and
// NULL, give a *[ParseError].
func (d *Duration) Scan(column any) error { return scan(d, "duration", column) }

func value(q encoding.TextMarshaler) (driver.Value, error) {
	text, err := q.MarshalText()
	return string(text), err
}

func scan(q encoding.TextUnmarshaler, kind string, column any) error {
	e := &ParseError{Kind: kind, Err: ErrSyntax}
	switch v := column.(type) {
	case string:
		return q.UnmarshalText([]byte(v))
	case []byte:
		return q.UnmarshalText(v)
	case nil:
		e.Reason = "the column is NULL; scan it into a sql.Null"
	case int64:
		e.Input, e.Err = strconv.FormatInt(v, 10), ErrUnit
		e.Reason = "a column of numbers has no unit; keep text such as 7ft 4in, or scan counts into an int64"
	case float64:
		e.Input, e.Err = formatFloat(v), ErrUnit
		e.Reason = "a column of numbers has no unit; keep text such as 7ft 4in"
	default:
		e.Reason = "the column is not text"
	}
	e.Part = e.Input
	return e
}
