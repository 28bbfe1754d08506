package measure_test

import (
	"database/sql"
	"database/sql/driver"
	"encoding"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/measure"
)

// The interfaces of other packages that the quantities fulfill. The nested
// module internal/interop runs them through a real database.
var (
	_ = []driver.Valuer{measure.Length(0), measure.Angle(0), measure.Area(0), measure.Volume(0), measure.Weight(0), measure.Ratio(0), measure.Temperature(0), measure.Duration(0), measure.Scale{}, measure.Slope{}}
	_ = []sql.Scanner{new(measure.Length), new(measure.Angle), new(measure.Area), new(measure.Volume), new(measure.Weight), new(measure.Ratio), new(measure.Temperature), new(measure.Duration), new(measure.Scale), new(measure.Slope)}
	_ = []encoding.TextAppender{measure.Length(0), measure.Angle(0), measure.Area(0), measure.Volume(0), measure.Weight(0), measure.Ratio(0), measure.Temperature(0), measure.Duration(0), measure.Scale{}, measure.Slope{}}
	_ = []encoding.TextMarshaler{measure.Length(0), measure.Angle(0), measure.Area(0), measure.Volume(0), measure.Weight(0), measure.Ratio(0), measure.Temperature(0), measure.Duration(0), measure.Scale{}, measure.Slope{}}
	_ = []encoding.TextUnmarshaler{new(measure.Length), new(measure.Angle), new(measure.Area), new(measure.Volume), new(measure.Weight), new(measure.Ratio), new(measure.Temperature), new(measure.Duration), new(measure.Scale), new(measure.Slope)}
	_ = []fmt.Stringer{measure.Length(0), measure.Angle(0), measure.Area(0), measure.Volume(0), measure.Weight(0), measure.Ratio(0), measure.Temperature(0), measure.Duration(0), measure.Scale{}, measure.Slope{}}
)

func TestScan(t *testing.T) {
	quarter, err := measure.NewScale(in/4, ft)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		q    driver.Valuer
		text string
		scan func(any) (any, error)
	}{
		{7*ft + 4*in, "7ft 4in", func(v any) (any, error) { var q measure.Length; err := q.Scan(v); return q, err }},
		{45 * deg / 2, "22.5deg", func(v any) (any, error) { var q measure.Angle; err := q.Scan(v); return q, err }},
		{25 * measure.SquareFoot / 2, "12.5 sq ft", func(v any) (any, error) { var q measure.Area; err := q.Scan(v); return q, err }},
		{3 * measure.Gallon, "3 gal", func(v any) (any, error) { var q measure.Volume; err := q.Scan(v); return q, err }},
		{50 * measure.Pound, "50 lb", func(v any) (any, error) { var q measure.Weight; err := q.Scan(v); return q, err }},
		{6 * measure.Percent, "6%", func(v any) (any, error) { var q measure.Ratio; err := q.Scan(v); return q, err }},
		{70 * measure.DegreeF, "70°F", func(v any) (any, error) { var q measure.Temperature; err := q.Scan(v); return q, err }},
		{measure.Duration(90 * time.Minute), "1h30m", func(v any) (any, error) { var q measure.Duration; err := q.Scan(v); return q, err }},
		{quarter, "1:48", func(v any) (any, error) { var q measure.Scale; err := q.Scan(v); return q, err }},
		{slope(t, 7, 12), "7:12", func(v any) (any, error) { var q measure.Slope; err := q.Scan(v); return q, err }},
	} {
		v, err := c.q.Value()
		if err != nil || v != c.text {
			t.Errorf("Value of %v = %v, %v; want %s", c.q, v, err, c.text)
		}
		for _, column := range []any{c.text, []byte(c.text)} {
			if got, err := c.scan(column); err != nil || got != c.q {
				t.Errorf("Scan(%q) = %v, %v; want %v", column, got, err, c.q)
			}
		}
		for _, bad := range []struct {
			column any
			err    error
			says   string
		}{
			{nil, measure.ErrSyntax, "sql.Null"}, {int64(88), measure.ErrUnit, "no unit"}, {88.75, measure.ErrUnit, "no unit"},
			{true, measure.ErrSyntax, "not text"}, {time.Time{}, measure.ErrSyntax, "not text"}, {"cubit", measure.ErrSyntax, "cubit"},
		} {
			got, err := c.scan(bad.column)
			var pe *measure.ParseError
			if !errors.As(err, &pe) || !errors.Is(err, bad.err) || pe.Kind == "" || !strings.Contains(err.Error(), bad.says) {
				t.Errorf("Scan(%v) = %v, %v; want %v", bad.column, got, err, bad.err)
			}
		}
	}
}

func TestTextVar(t *testing.T) {
	fs := flag.NewFlagSet("", flag.ContinueOnError)
	var usage strings.Builder
	fs.SetOutput(&usage)
	var (
		kerf  = in / 8
		miter = 45 * deg
		wall  measure.Area
		paint measure.Volume
		sheet measure.Scale
		skirt measure.Slope
	)
	fs.TextVar(&kerf, "kerf", kerf, "")
	fs.TextVar(&miter, "miter", miter, "")
	fs.TextVar(&wall, "wall", wall, "")
	fs.TextVar(&paint, "paint", paint, "")
	fs.TextVar(&sheet, "sheet", sheet, "")
	fs.TextVar(&skirt, "skirt", skirt, "")
	fs.PrintDefaults()
	if !strings.Contains(usage.String(), `(default 1/8in)`) || !strings.Contains(usage.String(), `(default 45deg)`) || !strings.Contains(usage.String(), "(default 0 gal)") {
		t.Errorf("defaults are shown as\n%s", usage.String())
	}
	fs.SetOutput(io.Discard)
	if err := fs.Parse([]string{"-kerf", "3/32in", "-miter=22.5", "-wall", "12.5 sq ft", "-paint", "3 gal", "-sheet", "1:48", "-skirt", "7 in 12"}); err != nil {
		t.Fatal(err)
	}
	if kerf != 3*in/32 || miter != 45*deg/2 || wall != 25*measure.SquareFoot/2 || paint != 3*measure.Gallon || sheet.String() != `1/4" = 1'-0"` || skirt != slope(t, 7, 12) {
		t.Errorf("%v %v %v %v %v %v", kerf, miter, wall, paint, sheet, skirt)
	}
	if err := fs.Parse([]string{"-kerf", "0.1"}); err == nil || !strings.Contains(err.Error(), "no unit") || kerf != 3*in/32 {
		t.Errorf("-kerf 0.1: %v, %v", kerf, err)
	}
}
