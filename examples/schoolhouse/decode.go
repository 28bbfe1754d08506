package main

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"
)

// fieldError is a value of a job file that cannot be used.
type fieldError struct {
	Field string // path, such as rooms[2].walls[0].length
	Value string // as it stands in the file
	Want  string // what would be right, or what is wrong with it
}

func (e *fieldError) Error() string {
	return fmt.Sprintf("%s is %s: %s", e.Field, e.Value, e.Want)
}

// decode reads exactly one JSON value into v. It knows where it is, which
// encoding/json does not tell when a length or an angle cannot be read, and
// lets nothing pass that is misspelled, given twice or left over.
func decode(data []byte, v any) error {
	if err := wellFormed(data); err != nil {
		return err
	}
	return fill(reflect.ValueOf(v).Elem(), data, "")
}

func wellFormed(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	var raw json.RawMessage
	err := d.Decode(&raw)
	if err == io.EOF {
		return &fieldError{"the file", "empty", "want a job in JSON"}
	}
	if err != nil {
		at := min(int(d.InputOffset()), len(data))
		if e, ok := err.(*json.SyntaxError); ok {
			at = min(int(e.Offset), len(data))
		}
		line := 1 + bytes.Count(data[:at], []byte("\n"))
		return &fieldError{fmt.Sprintf("line %d", line), quoted(lineOf(data, line)), "not JSON: " + err.Error()}
	}
	if rest := bytes.TrimSpace(data[d.InputOffset():]); len(rest) > 0 {
		return &fieldError{"what follows the job", quoted(string(rest)), "want nothing"}
	}
	return nil
}

func lineOf(data []byte, n int) string {
	return strings.TrimSpace(strings.Split(string(data), "\n")[n-1])
}

// quoted keeps a value on one line of sensible length.
func quoted(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 40 {
		s = string(r[:37]) + "..."
	}
	return s
}

func fill(v reflect.Value, raw json.RawMessage, path string) error {
	raw = bytes.TrimSpace(raw)
	if string(raw) == "null" {
		return &fieldError{name(path), "null", "leave the field out instead"}
	}
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		return fill(v.Elem(), raw, path)
	}
	if readsItself(v) {
		return leaf(v, raw, path)
	}
	switch v.Kind() {
	case reflect.Struct:
		return fillStruct(v, raw, path)
	case reflect.Slice:
		return fillSlice(v, raw, path)
	}
	return leaf(v, raw, path)
}

func readsItself(v reflect.Value) bool {
	switch v.Addr().Interface().(type) {
	case encoding.TextUnmarshaler, json.Unmarshaler:
		return true
	}
	return false
}

func leaf(v reflect.Value, raw json.RawMessage, path string) error {
	err := json.Unmarshal(raw, v.Addr().Interface())
	if err == nil {
		return nil
	}
	want := err.Error()
	if _, ok := err.(*json.UnmarshalTypeError); ok {
		want = "want " + kind(v)
	}
	return &fieldError{name(path), quoted(string(raw)), want}
}

// kind says in words what a field holds.
func kind(v reflect.Value) string {
	if readsItself(v) {
		return "text in quotes"
	}
	switch v.Kind() {
	case reflect.String:
		return "text in quotes"
	case reflect.Bool:
		return "true or false"
	case reflect.Int, reflect.Int64:
		return "a whole number of at most 18 digits"
	case reflect.Slice:
		return "a list"
	}
	return "an object"
}

func fillSlice(v reflect.Value, raw json.RawMessage, path string) error {
	if raw[0] != '[' {
		return &fieldError{name(path), quoted(string(raw)), "want a list"}
	}
	var items []json.RawMessage
	if err := json.Unmarshal(raw, &items); err != nil {
		return err
	}
	v.Set(reflect.MakeSlice(v.Type(), len(items), len(items)))
	for i, item := range items {
		if err := fill(v.Index(i), item, fmt.Sprintf("%s[%d]", path, i)); err != nil {
			return err
		}
	}
	return nil
}

func fillStruct(v reflect.Value, raw json.RawMessage, path string) error {
	if raw[0] != '{' {
		return &fieldError{name(path), quoted(string(raw)), "want an object"}
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	if _, err := d.Token(); err != nil {
		return err
	}
	seen := map[string]bool{}
	for d.More() {
		t, err := d.Token()
		if err != nil {
			return err
		}
		key := t.(string)
		at := strings.TrimPrefix(path+"."+key, ".")
		var item json.RawMessage
		if err := d.Decode(&item); err != nil {
			return err
		}
		f, known := field(v, key)
		switch {
		case !known:
			return &fieldError{at, quoted(string(item)), "no field has this name; here are " + strings.Join(fieldNames(v.Type()), ", ")}
		case seen[key]:
			return &fieldError{at, quoted(string(item)), "the field stands here twice"}
		}
		seen[key] = true
		if err := fill(f, item, at); err != nil {
			return err
		}
	}
	return nil
}

func field(v reflect.Value, key string) (f reflect.Value, ok bool) {
	for i := range v.NumField() {
		if jsonName(v.Type().Field(i)) == key {
			return v.Field(i), true
		}
	}
	return reflect.Value{}, false
}

func fieldNames(t reflect.Type) []string {
	var out []string
	for i := range t.NumField() {
		if n := jsonName(t.Field(i)); n != "" {
			out = append(out, n)
		}
	}
	return out
}

// jsonName is the name of a field in a file, or nothing for one that is not in
// files.
func jsonName(f reflect.StructField) string {
	tag := f.Tag.Get("json")
	if !f.IsExported() || tag == "-" {
		return ""
	}
	if n, _, _ := strings.Cut(tag, ","); n != "" {
		return n
	}
	return f.Name
}

func name(path string) string {
	if path == "" {
		return "the job"
	}
	return path
}
