package fault

import (
	"errors"
	"slices"

	"example.com/longpoint/measure"
)

// Join returns nil, the only error, or all of them joined.
func Join(errs ...error) error {
	errs = slices.DeleteFunc(errs, func(err error) bool { return err == nil })
	if len(errs) == 1 {
		return errs[0]
	}
	return errors.Join(errs...)
}

// Any reports whether an error contains a field error.
func Any(err error) bool {
	for range measure.FieldErrors(err) {
		return true
	}
	return false
}

// Map returns the error with each of its field errors replaced.
func Map(err error, to func(*measure.FieldError) *measure.FieldError) error {
	switch e := err.(type) {
	case *measure.FieldError:
		return to(e)
	case interface{ Unwrap() []error }:
		for range measure.FieldErrors(err) {
			var out []error
			for _, part := range e.Unwrap() {
				out = append(out, Map(part, to))
			}
			return Join(out...)
		}
	}
	return err
}
