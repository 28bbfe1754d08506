package cutsheet

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/longpoint/measure"
)

// fieldError reports something that a sheet cannot be made of, in what [New] is given.
func fieldError(field, value, want string) error {
	return &measure.FieldError{Field: field, Value: value, Want: want}
}

// VersionError reports JSON that is a cut sheet of a version that this package
// does not read.
type VersionError struct {
	Version int64 // what the text says; zero where it says nothing
}

// Error names the version and those that would do.
func (e *VersionError) Error() string {
	return fmt.Sprintf("cutsheet: version is %d: want 1 to %d", e.Version, version)
}

// FormatError reports JSON that is no cut sheet.
type FormatError struct {
	Reason string // what is wrong
	Err    error  // why, where another package found it; may be nil
}

// Error says what is wrong.
func (e *FormatError) Error() string {
	if e.Err != nil {
		return "cutsheet: " + e.Reason + ": " + e.Err.Error()
	}
	return "cutsheet: " + e.Reason
}

// Unwrap returns Err.
func (e *FormatError) Unwrap() error { return e.Err }

// checkText holds text to UTF-8: JSON cannot carry anything else, and two
// labels that differ in a broken byte only would look alike everywhere.
func checkText(field, s string) error {
	if utf8.ValidString(s) {
		return nil
	}
	return fieldError(field, strings.Trim(strconv.QuoteToASCII(s), `"`), "text in UTF-8")
}
