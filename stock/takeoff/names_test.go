package takeoff_test

import (
	"errors"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// Every kind of finding has a name of its own that reads back.
func TestFindingNames(t *testing.T) {
	seen := map[string]bool{}
	for k := takeoff.FindingClosure; ; k++ {
		text, err := k.MarshalText()
		if err != nil {
			var fe *measure.FieldError
			if !errors.As(err, &fe) || k <= takeoff.FindingOpenJoints || !strings.HasPrefix(k.String(), "FindingKind(") {
				t.Errorf("%v: %v", k, err)
			}
			return
		}
		var back takeoff.FindingCode
		if err := back.UnmarshalText(text); err != nil || back != k || seen[string(text)] || k.String() != string(text) || len(text) == 0 {
			t.Errorf("%d is %q and reads as %v, %v", k, text, back, err)
		}
		seen[string(text)] = true
	}
}

func TestErrorText(t *testing.T) {
	re := &takeoff.RunError{Run: "N base", Length: 1, Err: errors.New("why")}
	se := &takeoff.SpliceError{Run: "N base", Studs: 3}
	if !strings.HasPrefix(re.Error(), "N base, ") || !strings.HasSuffix(re.Error(), ": why") || !strings.Contains(se.Error(), "3 studs") {
		t.Errorf("%v; %v", re, se)
	}
}
