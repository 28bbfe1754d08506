// Package fault collects the faults of an argument as errors of package measure, one per
// field, and reports them all at once.
package fault

import (
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"

	"example.com/longpoint/measure"
)

// Max is the maximum number of faults reported for one argument.
const Max = 100

// Field returns a *measure.FieldError for a value that cannot be used.
func Field(field string, value any, want string) error {
	return &measure.FieldError{Field: field, Value: short(fmt.Sprint(value)), Want: want}
}

// short cuts a value to the 100 bytes that a FieldError holds.
func short(s string) string {
	const most, mark = 100, "..."
	if len(s) <= most {
		return s
	}
	n := most - len(mark)
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n] + mark
}

// Under returns err for an enclosing argument, in which the subject of err is the field
// path: every field then begins with path. Joined errors stay joined, at most Max of
// them.
func Under(path string, err error) error {
	switch e := err.(type) {
	case *measure.FieldError:
		return e.Under(path)
	case *measure.RangeError:
		if path == "" {
			return e
		}
		return &measure.RangeError{Op: e.Op, Value: path + ": " + e.Value, Reason: e.Reason}
	case interface{ Unwrap() []error }:
		var l List
		l.Under(path, err)
		return l.Err()
	}
	return err
}

// A List is a list of faults, in the order of the data. The zero value is empty.
type List []error

// Add records a value that cannot be used.
func (l *List) Add(field string, value any, want string) { l.Under("", Field(field, value, want)) }

// Under records every fault of err under path, or none if err is nil.
func (l *List) Under(path string, err error) {
	if err == nil {
		return
	}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range many.Unwrap() {
			l.Under(path, e)
		}
		return
	}
	if len(*l) < Max {
		*l = append(*l, Under(path, err))
	}
}

// Err returns the faults joined, or nil if there are none.
func (l List) Err() error { return errors.Join(l...) }

// At returns the path of an element of a list.
func At(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

// Below returns an error if a ratio is negative or not below a limit, else nil.
func Below(field string, r, limit measure.Ratio) error {
	if r < 0 || r >= limit {
		return Field(field, r, "at least 0% and less than "+limit.String())
	}
	return nil
}

// UpTo returns an error if a ratio is negative or above most, else nil.
func UpTo(field string, r, most measure.Ratio) error {
	if r < 0 || r > most {
		return Field(field, r, "0% to "+most.String())
	}
	return nil
}
