package fault_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// Field errors get the field's path wherever they are in a tree; all others stay unchanged.
func TestUnder(t *testing.T) {
	limit := &optimize.LimitError{Stop: optimize.StopDeadline, Cause: context.DeadlineExceeded}
	own := errors.New("not today")
	bad := func(field string) error { return &measure.FieldError{Field: field, Value: "1", Want: "2"} }
	for _, tt := range []struct {
		err  error
		want []string
	}{
		{nil, nil},
		{limit, nil},
		{own, nil},
		{errors.Join(own, limit), nil},
		{bad("kerf"), []string{"problem.kerf"}},
		{bad(""), []string{"problem"}},
		{errors.Join(bad("kerf"), own, errors.Join(bad("sticks[1].price"), bad("start.patterns[0]"))), []string{"problem.kerf", "problem.sticks[1].price", "problem.start.patterns[0]"}},
	} {
		got := fault.Under("problem", tt.err)
		var fields []string
		for e := range measure.FieldErrors(got) {
			fields = append(fields, e.Field)
		}
		if len(fields) != len(tt.want) || fault.Any(tt.err) != (len(tt.want) > 0) {
			t.Errorf("%v: %q, want %q", tt.err, fields, tt.want)
			continue
		}
		for k := range fields {
			if fields[k] != tt.want[k] {
				t.Errorf("%v: %q, want %q", tt.err, fields, tt.want)
			}
		}
		if len(tt.want) == 0 && fmt.Sprint(got) != fmt.Sprint(tt.err) {
			t.Errorf("%v is %v now", tt.err, got)
		}
		if errors.Is(tt.err, own) != errors.Is(got, own) {
			t.Errorf("%v is %v now", tt.err, got)
		}
	}
	if fault.Join(nil, nil) != nil || fault.Join(nil, own) != own {
		t.Error("joined more than there is")
	}
}
