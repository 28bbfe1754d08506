package measure

import (
	"iter"
	"strconv"
	"strings"
	"unicode/utf8"
)

// maxFieldValue is how many bytes of a value an error quotes.
const maxFieldValue = 100

// A FieldError reports a field whose value cannot be used. If there are several,
// as from [UnmarshalStrict], the errors are joined in the order of the data, at
// most 100 of them; errors.As finds the first, and [FieldErrors] lists all.
type FieldError struct {
	// Field is the path of the field from the argument, in JSON names, such as
	// sticks[2].trim_end. It is empty if the argument itself is wrong.
	Field string

	Value string // the field's value, as text of at most 100 bytes
	Want  string // the valid values

	// Err is the reason why the value could not be read, such as a
	// [*ParseError], or nil if it was read but is invalid.
	Err error
}

// Error names the field, its value and the valid values, on one line.
func (e *FieldError) Error() string {
	field := e.Field
	if field == "" {
		field = "value"
	}
	value := e.Value
	if len(value) > maxFieldValue {
		n := maxFieldValue
		for n > 0 && !utf8.RuneStart(value[n]) {
			n--
		}
		value = value[:n] + "..."
	}
	msg := field + " is " + quoteValue(value)
	if e.Want != "" {
		msg += ", want " + e.Want
	}
	if e.Err != nil {
		msg += ": " + e.Err.Error()
	}
	return msg
}

// Unwrap returns Err.
func (e *FieldError) Unwrap() error { return e.Err }

// JSONPath returns Field as a path expression of RFC 9535, such as
// $.sticks[2].trim_end. A name that is not an identifier is written in
// brackets.
func (e *FieldError) JSONPath() string {
	var b strings.Builder
	b.WriteByte('$')
	for rest := e.Field; rest != ""; {
		if rest[0] == '[' {
			n := strings.IndexByte(rest, ']') + 1
			if n == 0 {
				n = len(rest)
			}
			b.WriteString(rest[:n])
			rest = strings.TrimPrefix(rest[n:], ".")
			continue
		}
		n := strings.IndexAny(rest, ".[")
		if n < 0 {
			n = len(rest)
		}
		if name := rest[:n]; plainName(name) {
			b.WriteString("." + name)
		} else {
			b.WriteString("['" + strings.NewReplacer(`\`, `\\`, `'`, `\'`).Replace(name) + "']")
		}
		rest = strings.TrimPrefix(rest[n:], ".")
	}
	return b.String()
}

// plainName reports whether RFC 9535 allows the name after a dot.
func plainName(s string) bool {
	for i, r := range s {
		letter := 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || r == '_' || r >= 0x80
		if !letter && (i == 0 || r < '0' || r > '9') {
			return false
		}
	}
	return s != ""
}

// Under returns a copy of e for an enclosing argument, of which e's argument is
// the field parent, such as problems[3]. Field then begins with parent.
func (e *FieldError) Under(parent string) *FieldError {
	f := *e
	switch {
	case parent == "":
	case f.Field == "":
		f.Field = parent
	case f.Field[0] == '[':
		f.Field = parent + f.Field
	default:
		f.Field = parent + "." + f.Field
	}
	return &f
}

// FieldErrors returns every [FieldError] in the tree of errors that err joins and
// wraps, in order. It does not list a FieldError that is the Err of another.
func FieldErrors(err error) iter.Seq[*FieldError] {
	return func(yield func(*FieldError) bool) { fieldErrors(err, yield) }
}

func fieldErrors(err error, yield func(*FieldError) bool) bool {
	switch e := err.(type) {
	case nil:
	case *FieldError:
		return e == nil || yield(e)
	case interface{ Unwrap() error }:
		return fieldErrors(e.Unwrap(), yield)
	case interface{ Unwrap() []error }:
		for _, err := range e.Unwrap() {
			if !fieldErrors(err, yield) {
				return false
			}
		}
	}
	return true
}

// quoteValue quotes a value on one line; a number is left as it is.
func quoteValue(s string) string {
	number := s != ""
	for i, r := range s {
		number = number && ('0' <= r && r <= '9' || r == '-' && i == 0 && len(s) > 1)
	}
	if number {
		return s
	}
	return strconv.Quote(s)
}
