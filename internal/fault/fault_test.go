package fault_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Faults keep their order and get their paths however deeply they are joined; errors that are not
// fields keep their type.
func TestListUnder(t *testing.T) {
	odd := errors.New("odd")
	inner := errors.Join(
		fault.Field("length", -1, "zero or more"),
		errors.Join(fault.Field("", 7, "less"), &measure.RangeError{Op: "op", Value: "v"}),
		odd, nil,
	)
	var l fault.List
	l.Add("name", "", "a name")
	l.Under("jobs[2]", nil)
	l.Under("jobs[3]", inner)
	err := fault.Under("work", l.Err())
	var got []string
	for fe := range measure.FieldErrors(err) {
		got = append(got, fe.Field+" "+fe.Value)
	}
	if want := "work.name |work.jobs[3].length -1|work.jobs[3] 7"; strings.Join(got, "|") != want {
		t.Errorf("%q, want %s", got, want)
	}
	var re *measure.RangeError
	if !errors.As(err, &re) || re.Value != "work: jobs[3]: v" || !errors.Is(err, odd) {
		t.Errorf("%v", err)
	}
}

func TestListIsBounded(t *testing.T) {
	var many []error
	for range 3 * fault.Max {
		many = append(many, fault.Field("x", 0, "1"))
	}
	n := 0
	for range measure.FieldErrors(fault.Under("a", errors.Join(many...))) {
		n++
	}
	if n != fault.Max {
		t.Errorf("%d faults, want %d", n, fault.Max)
	}
}

func TestEmptyList(t *testing.T) {
	var l fault.List
	if l.Under("a", nil); l.Err() != nil || fault.Under("a", nil) != nil {
		t.Error(l.Err())
	}
}

// Whatever a value is, an error holds at most 100 bytes of it, in whole runes.
func TestFieldIsShort(t *testing.T) {
	for value, want := range map[string]string{
		strings.Repeat("x", 100): strings.Repeat("x", 100),
		strings.Repeat("x", 101): strings.Repeat("x", 97) + "...",
		strings.Repeat("é", 60):  strings.Repeat("é", 48) + "...",
	} {
		var fe *measure.FieldError
		if err := fault.Field("label", value, "less"); !errors.As(err, &fe) || fe.Value != want {
			t.Errorf("%v, want %q", err, want)
		}
	}
}
