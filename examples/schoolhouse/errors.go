package main

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// fieldError is a value of a job file that cannot be used.
type fieldError struct {
	Field string // path, such as rooms[2].walls[0].length
	Value string // as text
	Want  string // what would be right, or what is wrong with it
}

func (e *fieldError) Error() string {
	return fmt.Sprintf("%s is %s: %s", e.Field, e.Value, e.Want)
}

// inFile turns a fault that package takeoff reports into one of the job file.
func (j *job) inFile(base *material, bad *measure.FieldError) error {
	field := bad.Field
	first, rest, _ := strings.Cut(field, ".")
	switch {
	case first == "base":
		field = base.path + ".profile." + rest
	case first == "casing" || first == "crown":
		field = first + ".profile." + rest
	case !strings.HasPrefix(first, "rooms[") && !strings.HasPrefix(first, "casing_styles[") && !strings.HasPrefix(first, "assemblies[") && first != "wainscot":
		field = "habits." + field
	}
	return &fieldError{field, bad.Value, wanted(bad)}
}

// wanted says what would be right, and why a value could not be used.
func wanted(bad *measure.FieldError) string {
	want := "want " + bad.Want
	if bad.Err != nil {
		want += ": " + bad.Err.Error()
	}
	return want
}

// finishError turns every fault that package finish reports into one that names the place
// in the job file; what was planned is named by its cuttings.
func (j *job) finishError(err error, cuts []*cutting) error {
	var all []error
	for bad := range measure.FieldErrors(err) {
		all = append(all, j.ofFinish(bad, cuts))
	}
	if all == nil {
		return err
	}
	return errors.Join(all...)
}

func (j *job) ofFinish(bad *measure.FieldError, cuts []*cutting) error {
	if bad.Field == "products" {
		return &fieldError{"shelf.products", "without " + strconv.Quote(bad.Value), "a system asks for it"}
	}
	field, value, want := cmp.Or(bad.Field, "the file"), strconv.Quote(bad.Value), wanted(bad)
	if i, rest, ok := indexed(field, "work"); ok && i < len(cuts) {
		if step, ok := strings.CutPrefix(rest, "system."); ok {
			field = fmt.Sprintf("systems[%d].%s", cuts[i].system, step)
		} else {
			field = cuts[i].path + "." + strings.TrimPrefix(rest, "job.")
		}
	} else if i, rest, ok := indexed(field, "alternatives"); ok {
		field = fmt.Sprintf("base[%d].%s", i, rest)
	} else if strings.HasPrefix(field, "products[") || strings.HasPrefix(field, "rates[") {
		field = "shelf." + field
	}
	return &fieldError{field, value, want}
}

// indexed splits list[3].rest.
func indexed(path, list string) (i int, rest string, ok bool) {
	inner, ok := strings.CutPrefix(path, list+"[")
	if !ok {
		return 0, "", false
	}
	number, rest, ok := strings.Cut(inner, "].")
	if !ok {
		return 0, "", false
	}
	i, err := strconv.Atoi(number)
	return i, rest, err == nil
}
