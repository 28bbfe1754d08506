package records

import (
	"fmt"
	"strconv"
	"unicode"
	"unicode/utf8"

	"example.com/longpoint/measure"
)

// A MissingError reports that there is no job or no rack with a name.
type MissingError struct {
	Kind string // "job" or "rack"
	Name string
}

// Error names the missing job or rack.
func (e *MissingError) Error() string {
	return fmt.Sprintf("there is no %s %s", e.Kind, strconv.Quote(e.Name))
}

// A TakenError reports that an ID already identifies something else: another job, or another
// change of the rack.
type TakenError struct{ ID string }

// Error says so.
func (e *TakenError) Error() string {
	return fmt.Sprintf("%s is the ID of something else already; every job and every change has its own", strconv.Quote(e.ID))
}

// A StateError reports that a job can no longer be cut or dropped.
type StateError struct {
	ID    string
	State State // current state of the job
}

// Error reports the state of the job.
func (e *StateError) Error() string {
	return fmt.Sprintf("the job %s is %s already", strconv.Quote(e.ID), e.State)
}

// A DamageError reports that stored data is inconsistent or cannot be read.
type DamageError struct {
	Where string // such as job "coat-rail"
	What  string // the fault; empty if Err has it
	Err   error  // nil if What has it
}

// Error reports the place and the fault.
func (e *DamageError) Error() string {
	if e.Err != nil {
		return fmt.Sprintf("the stored %s is damaged: %v", e.Where, e.Err)
	}
	return fmt.Sprintf("the stored %s is damaged: %s", e.Where, e.What)
}

// Unwrap returns Err.
func (e *DamageError) Unwrap() error { return e.Err }

// maxName is the greatest length of a name in bytes: an index of PostgreSQL takes some two
// thousand in total.
const maxName = 200

// checkName returns a *measure.FieldError for an invalid name of a rack, a job or a change.
func checkName(field, name string) error {
	const want = "a name of 1 to 200 bytes in UTF-8, without control characters"
	if name == "" || len(name) > maxName || !utf8.ValidString(name) {
		return wrong(field, name, want)
	}
	for _, r := range name {
		if unicode.IsControl(r) {
			return wrong(field, name, want)
		}
	}
	return nil
}

// checkText returns a *measure.FieldError for text that a column cannot hold.
func checkText(field, text string) error {
	if !utf8.ValidString(text) {
		return wrong(field, text, "text in UTF-8")
	}
	for _, r := range text {
		if r == 0 {
			return wrong(field, text, "text without the character U+0000")
		}
	}
	return nil
}

func wrong(field, value, want string) error {
	const most = 100
	if len(value) > most {
		value = value[:most-len("...")] + "..."
	}
	return &measure.FieldError{Field: field, Value: value, Want: want}
}
