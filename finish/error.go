package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// wrongKind reports an amount of the wrong kind, such as a weight instead of a
// volume.
func wrongKind(field string, value Amount, want dimension) error {
	return fault.Field(field, value, [...]string{"a count", "a length", "an area", "a volume", "a weight"}[want])
}

// tooLarge reports a result outside the range of its type.
func tooLarge(what string) error {
	return &measure.RangeError{Op: "finish", Value: what, Reason: "too large to represent"}
}
