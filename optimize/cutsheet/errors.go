package cutsheet

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/longpoint/measure"
)

// fieldError reports an argument of [New] that a sheet cannot show.
func fieldError(field, value, want string) error {
	return &measure.FieldError{Field: field, Value: value, Want: want}
}

// VersionError reports a JSON cut sheet of an unsupported version.
type VersionError struct {
	Version int64 // the version in the text; zero if there is none
}

// Error names the version and the supported ones.
func (e *VersionError) Error() string {
	return fmt.Sprintf("cutsheet: version is %d: want 1 to %d", e.Version, version)
}

// FormatError reports JSON that is not a cut sheet.
type FormatError struct {
	Reason string // the problem
	Err    error  // the underlying error, or nil
}

// Error describes the problem.
func (e *FormatError) Error() string {
	if e.Err != nil {
		return "cutsheet: " + e.Reason + ": " + e.Err.Error()
	}
	return "cutsheet: " + e.Reason
}

// Unwrap returns Err.
func (e *FormatError) Unwrap() error { return e.Err }

// checkText checks that text is UTF-8. JSON cannot carry anything else, and two labels that
// differ only in an invalid byte would look the same everywhere.
func checkText(field, s string) error {
	if utf8.ValidString(s) {
		return nil
	}
	return fieldError(field, strings.Trim(strconv.QuoteToASCII(s), `"`), "text in UTF-8")
}
