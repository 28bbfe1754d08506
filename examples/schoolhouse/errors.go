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

// inFile turns a path of package takeoff into one of the job file.
func (j *job) inFile(base *material, field, value, want string) error {
	first, rest, _ := strings.Cut(field, ".")
	switch {
	case first == "base":
		field = base.path + ".profile." + rest
	case first == "casing" || first == "crown":
		field = first + ".profile." + rest
	case !strings.HasPrefix(first, "rooms["):
		field = "habits." + field
	}
	return &fieldError{field, value, want}
}

// finishError turns an error of package finish into one that names the place in
// the job file; what was planned is named by its cuttings.
func (j *job) finishError(err error, cuts []*cutting) error {
	var field, value, want string
	var bad *measure.FieldError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &bad) && bad.Field == "products":
		return &fieldError{"shelf.products", "without " + strconv.Quote(bad.Value), "a system asks for it"}
	case errors.As(err, &bad):
		field, value, want = cmp.Or(bad.Field, "the file"), strconv.Quote(bad.Value), "want "+bad.Want
		if bad.Err != nil {
			want += ": " + bad.Err.Error()
		}
	default:
		return err
	}
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
