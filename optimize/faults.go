package optimize

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// maxFaults is the greatest number of faults reported at once.
const maxFaults = 100

// faults collects the faults of a problem, at most one per field.
type faults struct {
	list []*measure.FieldError
	at   map[string]bool // the fields with a fault
}

// add records an invalid field, unless it already has a fault.
func (f *faults) add(field string, value any, want string) {
	if f.at[field] {
		return
	}
	if f.at == nil {
		f.at = make(map[string]bool)
	}
	f.at[field] = true
	f.list = append(f.list, fieldError(field, value, want))
}

// has reports whether the field at a path has a fault. If so, nothing is compared with it.
func (f *faults) has(format string, index ...any) bool {
	return len(f.at) > 0 && f.at[fmt.Sprintf(format, index...)]
}

// full reports whether a check of one list after another has found enough. It is called before
// each element, never within one, so the first faults are always among those found.
func (f *faults) full() bool { return len(f.list) >= maxFaults }

// join returns the faults in the order of the data.
func (f *faults) join() error {
	if len(f.list) == 0 {
		return nil
	}
	place := make(map[*measure.FieldError][]int, len(f.list))
	for _, e := range f.list {
		place[e] = placeOf(e.Field)
	}
	slices.SortStableFunc(f.list, func(a, b *measure.FieldError) int { return slices.Compare(place[a], place[b]) })
	errs := make([]error, min(len(f.list), maxFaults))
	for i := range errs {
		errs[i] = f.list[i]
	}
	return errors.Join(errs...)
}

// placeOf returns the position of a field in a problem or in the plan start: the index of each
// field in its struct and of each element in its list. A field comes before its contents.
func placeOf(field string) []int {
	var place []int
	t := reflect.TypeFor[Problem]()
	rest, start := strings.CutPrefix(field, "start.")
	if start {
		t = reflect.TypeFor[Plan]()
	}
	for rest != "" {
		if rest[0] == '[' {
			n := strings.IndexByte(rest, ']')
			i, err := strconv.Atoi(rest[1:max(n, 1)])
			if err != nil || t.Kind() != reflect.Slice {
				break
			}
			place, rest, t = append(place, i), strings.TrimPrefix(rest[n+1:], "."), t.Elem()
			continue
		}
		n := strings.IndexAny(rest, ".[")
		if n < 0 {
			n = len(rest)
		}
		i := 0
		for t.Kind() == reflect.Struct && i < t.NumField() && jsonName(t.Field(i)) != rest[:n] {
			i++
		}
		if t.Kind() != reflect.Struct || i == t.NumField() {
			break
		}
		place, rest, t = append(place, i), strings.TrimPrefix(rest[n:], "."), t.Field(i).Type
	}
	return place
}

func jsonName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return cmp.Or(name, f.Name)
}

// fieldError is a [measure.FieldError] with the value as text; a length is written for people.
func fieldError(field string, value any, want string) *measure.FieldError {
	return &measure.FieldError{Field: field, Value: fmt.Sprint(value), Want: want}
}
