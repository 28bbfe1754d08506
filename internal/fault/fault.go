// Package fault collects what is wrong with an argument, as errors of package measure: a
// field each, all of them at once.
package fault

import (
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"

	"example.com/longpoint/measure"
)

// Max is how many faults are reported of one argument.
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

// Under returns err for an argument in which what err is about is the field path: every
// field of it then begins with path. Joined errors stay joined, at most Max of them.
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

// A List is what is wrong, in the order of the data. The zero value is empty.
type List []error

// Add notes a value that cannot be used.
func (l *List) Add(field string, value any, want string) { l.Under("", Field(field, value, want)) }

// Under notes every fault of err below path, or none if err is nil.
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

// At is the path of an element of a list.
func At(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

// Below reports a ratio that is not at least 0 and below a limit, or returns nil.
func Below(field string, r, limit measure.Ratio) error {
	if r < 0 || r >= limit {
		return Field(field, r, "at least 0% and less than "+limit.String())
	}
	return nil
}

// UpTo reports a ratio that is not at least 0 and at most most, or returns nil.
func UpTo(field string, r, most measure.Ratio) error {
	if r < 0 || r > most {
		return Field(field, r, "0% to "+most.String())
	}
	return nil
}
