package panel

import (
	"fmt"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Spacing divides a stretch into equal fields: boxes of molding with gaps between them,
// panels between stiles, spaces between battens. n fields are each (length − Left − Right −
// (n − 1)·Between)/n wide.
type Spacing struct {
	// Left and Right are the widths before the first field and after the last: a margin,
	// or the width of a stile. Between is the width between two fields.
	Left    measure.Length `json:"left,omitzero"`
	Right   measure.Length `json:"right,omitzero"`
	Between measure.Length `json:"between,omitzero"`

	// Count is the number of fields. Zero, which in JSON is an error, means the number
	// whose fields come nearest to Target; the smaller of two equally near numbers.
	Count  int            `json:"count,omitempty" zero:"1 or more, or nothing for the number that comes nearest to the target"`
	Target measure.Length `json:"target,omitzero"`

	// Fields are multiples of Graduation and differ by at most one graduation, except for
	// one in the middle, which takes the remainder and differs by less than two. Zero, the
	// usual value, divides to the tick. The fields mirror each other about the middle,
	// unless an even number of them has to share an odd number of graduations.
	Graduation measure.Length `json:"graduation,omitzero"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero count is a
// [*measure.FieldError].
func (s *Spacing) UnmarshalJSON(data []byte) error {
	type plain Spacing
	return fault.Unmarshal(data, (*plain)(s))
}

// A Field is one part of a divided stretch.
type Field struct {
	Start measure.Length `json:"start"` // left edge, from the left end of the stretch
	Width measure.Length `json:"width"`
}

const (
	// maxLength bounds the length to divide: two miles, as for layouts of stone.
	maxLength = 2 * 5280 * measure.Foot
	// maxFields bounds the fields of one stretch.
	maxFields = 10_000
)

// Divide returns the fields of a stretch from left to right.
//
// The error joins a [*measure.FieldError] for each field of the Spacing that is negative, for
// a count of more than 10,000, for a target that is not positive if there is no count, and
// for a length that is out of range (length) or has no room for the fields.
func (s Spacing) Divide(length measure.Length) ([]Field, error) {
	var bad fault.List
	within(&bad, "left", s.Left, 0)
	within(&bad, "right", s.Right, 0)
	within(&bad, "between", s.Between, 0)
	counted(&bad, s.Count, "target", s.Target)
	within(&bad, "graduation", s.Graduation, 0)
	within(&bad, "length", length, 1)
	if err := bad.Err(); err != nil {
		return nil, err
	}
	n := s.count(length, 1)
	if n > maxFields {
		return nil, fault.Field("target", s.Target.About(), fmt.Sprintf("more: at most %d fields in %v", maxFields, length.About()))
	}
	if room := s.room(length, n); !s.holds(length, n, 1) {
		return nil, fault.Field("length", length.About(), fmt.Sprintf("more than %v, which leaves room for fields", (length-room+measure.Length(n)*s.Graduation).About()))
	}
	return s.fields(length, n, 0), nil
}

// within records a length that is not from lo to two miles.
func within(bad *fault.List, field string, l, lo measure.Length) {
	if l < lo || l > maxLength {
		want := "zero or more"
		if lo > 0 {
			want = "more than zero"
		}
		bad.Add(field, l.About(), want+", at most two miles")
	}
}

// counted records an invalid number of fields, or the lack of both a number and a
// target.
func counted(bad *fault.List, count int, field string, target measure.Length) {
	if count < 0 || count > maxFields {
		bad.Add("count", strconv.Itoa(count), fmt.Sprintf("from 1 to %d, or nothing for the number that comes nearest to the %s", maxFields, field))
	}
	if count == 0 {
		within(bad, field, target, 1)
	} else {
		within(bad, field, target, 0)
	}
}

// room returns the length that n fields share; it may be negative.
func (s Spacing) room(length measure.Length, n int) measure.Length {
	return length - s.Left - s.Right - measure.Length(n-1)*s.Between
}

// holds reports whether each of n fields is at least as wide as least.
func (s Spacing) holds(length measure.Length, n int, least measure.Length) bool {
	return s.room(length, n) >= measure.Length(n)*s.up(least)
}

// up rounds a width up to whole graduations.
func (s Spacing) up(l measure.Length) measure.Length {
	g := max(1, s.Graduation)
	return (l + g - 1) / g * g
}

// count returns the number of fields, at most one more than maxFields. If it may choose a
// number above one, each field is at least as wide as least.
func (s Spacing) count(length, least measure.Length) int {
	if s.Count != 0 {
		return s.Count
	}
	// A field and the space to the next are together whole/n wide, and should be pitch.
	// Fewer fields are wider and more are narrower, so only the two numbers next to
	// whole/pitch can be nearest, unless the fields would become too narrow.
	whole, pitch := length-s.Left-s.Right+s.Between, s.Between+s.Target
	few := max(1, min(maxFields, whole/pitch, whole/(s.Between+s.up(least))))
	many := few + 1
	if s.holds(length, int(many), least) && many*(whole-few*pitch) > few*(many*pitch-whole) {
		return int(many)
	}
	return int(few)
}

// nearer reports whether n fields come nearer to the target than m; of two equally
// near numbers, the smaller is nearer. Both numbers are positive.
func (s Spacing) nearer(length measure.Length, n, m int) bool {
	whole, pitch := length-s.Left-s.Right+s.Between, s.Between+s.Target
	off := func(n int) measure.Length { return max(whole-measure.Length(n)*pitch, measure.Length(n)*pitch-whole) }
	a, b := off(n)*measure.Length(m), off(m)*measure.Length(n)
	return a < b || a == b && n < m
}

// fields returns n fields, which must have room, all moved to the right by shift.
func (s Spacing) fields(length measure.Length, n int, shift measure.Length) []Field {
	widths := equal(s.room(length, n), n, s.Graduation)
	fs := make([]Field, n)
	at := s.Left + shift
	for i, w := range widths {
		fs[i] = Field{Start: at, Width: w}
		at += w + s.Between
	}
	return fs
}

// equal divides a length into n parts that sum to it, each a multiple of the graduation but
// for one in the middle, and differ by at most one. They mirror each other as far as
// possible: of an odd number of longer parts, one is in the middle, or right of it if there
// is no middle part.
func equal(whole measure.Length, n int, graduation measure.Length) []measure.Length {
	g := max(graduation, 1)
	steps := int64(whole / g)
	each, extra := measure.Length(steps/int64(n))*g, int(steps%int64(n))
	parts := make([]measure.Length, n)
	for i := range parts {
		parts[i] = each
	}
	half := n / 2
	pairs := extra / 2
	if extra%2 == 1 {
		parts[half] += g
	}
	for j := range half { // spread evenly, the outermost first
		if (half-j)*pairs/half > (half-j-1)*pairs/half {
			parts[j] += g
			parts[n-1-j] += g
		}
	}
	parts[half] += whole % g
	return parts
}
