package measure

import (
	"errors"
	"strconv"
)

// Reasons why text cannot be read or a result does not exist. Test for them
// with errors.Is; the concrete error is a *[ParseError] or a *[RangeError] with
// the details.
var (
	// ErrSyntax marks text that does not have the form of the quantity.
	ErrSyntax = errors.New("invalid syntax")

	// ErrUnit marks a number whose unit is missing or unknown.
	ErrUnit = errors.New("missing or unknown unit")

	// ErrAmbiguous marks text that people read in more than one way.
	ErrAmbiguous = errors.New("ambiguous")

	// ErrInexact marks a value between two neighboring values of the type,
	// such as a third of an inch.
	ErrInexact = errors.New("not exact")

	// ErrRange marks a value or a result outside the range of its type.
	ErrRange = errors.New("out of range")
)

// ParseError reports text that could not be read. [Parse], the other functions that
// parse, and the UnmarshalText and Scan methods return it.
type ParseError struct {
	Kind   string // the expected kind, such as "length", "area" or "temperature"
	Input  string // the whole text
	Offset int    // byte offset into Input of the offending part
	Part   string // the offending part of Input; empty at its end
	Err    error  // ErrSyntax, ErrUnit, ErrAmbiguous, ErrInexact or ErrRange
	Reason string // the fault, and the valid values

	// Choices are the possible meanings of the whole text, each written so that the
	// same function reads it: the readings of an ambiguous text, or the two
	// graduations beside a length that is not exact (see [Length]), 1/16 in apart or
	// closer, or the two neighbors of another such value, the smaller first. Other
	// errors have none. A program can offer them to its user.
	Choices []string
}

// Error names the text, the offending part and the valid forms.
func (e *ParseError) Error() string {
	msg := "measure: " + e.Kind + " " + quote(e.Input) + ": "
	if e.Err != nil {
		msg += e.Err.Error()
	} else {
		msg += "invalid"
	}
	if e.Part != "" && e.Part != e.Input {
		msg += " at " + quote(e.Part) + ", byte " + strconv.Itoa(e.Offset)
	}
	if e.Reason != "" {
		msg += ": " + e.Reason
	}
	return msg
}

// within returns e as an error of a longer text that contains its input at
// offset at. Choices for the part are not choices for the whole.
func (e *ParseError) within(kind, input string, at int) *ParseError {
	f := *e
	f.Kind, f.Input, f.Offset, f.Choices = kind, input, e.Offset+at, nil
	return &f
}

// Unwrap returns Err.
func (e *ParseError) Unwrap() error { return e.Err }

// RangeError reports an operation that has no result: it would leave the range
// of the type, or an argument is outside the range that the operation accepts.
// It matches [ErrRange].
type RangeError struct {
	Op     string // the function or method, such as "Length.Add"
	Value  string // the operands
	Reason string // the fault, and the valid values
}

// Error names the operation, the operands and the valid values.
func (e *RangeError) Error() string {
	msg := "measure: " + e.Op + "(" + e.Value + "): " + ErrRange.Error()
	if e.Reason != "" {
		msg += ": " + e.Reason
	}
	return msg
}

// Unwrap returns [ErrRange].
func (e *RangeError) Unwrap() error { return ErrRange }

// quote quotes text for an error message and shortens text that is too long to read.
func quote(s string) string {
	if len(s) > maxText {
		return strconv.Quote(s[:maxText]) + "..."
	}
	return strconv.Quote(s)
}
