package measure

import (
	"strings"
	"time"
)

// Duration is a span of time, such as labor or the wait for a coat to dry. It
// counts nanoseconds, as [time.Duration] does, and converts to and from it: write
// Duration(2*time.Hour). Unlike time.Duration, it is text in JSON and in databases.
// The range is about ±2.5 million hours.
//
// The zero value is no time. The operators do not check for overflow.
type Duration int64

// Hours returns d in hours as the nearest float64, for display.
func (d Duration) Hours() float64 { return time.Duration(d).Hours() }

// String returns d in hours, minutes and seconds without trailing zero units: 3h25m,
// 24h, 1.5s. UnmarshalText reads it back to the same value.
func (d Duration) String() string {
	s := time.Duration(d).String()
	if s, ok := strings.CutSuffix(s, "m0s"); ok {
		if s, ok := strings.CutSuffix(s, "h0"); ok {
			return s + "h"
		}
		return s + "m"
	}
	return s
}

// AppendText appends what String returns to b. It never fails.
func (d Duration) AppendText(b []byte) ([]byte, error) { return append(b, d.String()...), nil }

// MarshalText returns what String returns. It never fails.
func (d Duration) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what [time.ParseDuration] reads, such as 2h30m, 2.5h or 45m.
// The error is a *[ParseError].
func (d *Duration) UnmarshalText(b []byte) error {
	v, err := time.ParseDuration(string(b))
	if err == nil {
		*d = Duration(v)
		return nil
	}
	e := &ParseError{Kind: "duration", Input: string(b), Part: string(b), Err: ErrSyntax, Reason: "write a duration such as 2h30m, 2.5h or 45m"}
	if strings.Contains(err.Error(), " unit ") { // missing or unknown
		e.Err = ErrUnit
	}
	return e
}
