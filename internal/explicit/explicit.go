// Package explicit reads and writes JSON objects in which some values differ from those
// of the Go fields, according to the tags of the fields.
//
// If the zero value of a field stands for something other than zero - no limit, one, a
// default - an explicit zero in JSON probably means something else. Such a field has the
// tag zero, which says what to write instead. The tag minus gives the name of -1 in JSON.
//
//	Limit int `json:"limit,omitempty" zero:"\"sold out\", or nothing for no limit" minus:"sold out"`
package explicit

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Fault is a value that must not be explicit in JSON.
type Fault struct {
	Name  string // of the field in JSON
	Field string // name of the field in Go
	Value string // as written
	Want  string // what to write instead
}

// Has reports whether values of a struct type have fields with the tag zero.
func Has(t reflect.Type) bool {
	for i := range t.NumField() {
		if tagged(t.Field(i)) {
			return true
		}
	}
	return false
}

func tagged(f reflect.StructField) bool { return f.Tag.Get("zero") != "" }

// Value examines the JSON value of a field. It returns the value to read, which is the
// same unless it is the name of -1, and what to write instead if the value is a forbidden
// zero or an unknown name, else "".
func Value(f reflect.StructField, raw json.RawMessage) (json.RawMessage, string) {
	zero, minus := f.Tag.Get("zero"), f.Tag.Get("minus")
	if !tagged(f) || string(bytes.TrimSpace(raw)) == "null" {
		return raw, ""
	}
	if text := ""; minus != "" && json.Unmarshal(raw, &text) == nil {
		if text == minus {
			return json.RawMessage("-1"), ""
		}
		return raw, "a whole number, or " + strconv.Quote(minus)
	}
	v := reflect.New(f.Type)
	if json.Unmarshal(raw, v.Interface()) == nil && v.Elem().IsZero() {
		return raw, zero
	}
	return raw, ""
}

// Unmarshal reads an object into the struct to which v points, as json.Unmarshal does; its
// type must not have an UnmarshalJSON method. If a value must not be explicit, Unmarshal
// returns the first such value as a Fault instead.
func Unmarshal(data []byte, v any) (*Fault, error) {
	t := reflect.TypeOf(v).Elem()
	var object map[string]json.RawMessage
	if json.Unmarshal(data, &object) != nil || object == nil {
		return nil, json.Unmarshal(data, v) // which returns the error
	}
	changed := false
	for i := range t.NumField() { // in the order of the fields, not of a map
		f := t.Field(i)
		if !tagged(f) {
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		for _, key := range spelled(object, name) {
			value, want := Value(f, object[key])
			if want != "" {
				return &Fault{name, f.Name, written(object[key]), want}, nil
			}
			if string(value) != string(object[key]) {
				object[key], changed = value, true
			}
		}
	}
	if changed {
		var err error
		if data, err = json.Marshal(object); err != nil {
			return nil, err
		}
	}
	return nil, json.Unmarshal(data, v)
}

// spelled returns the keys that json.Unmarshal takes for a name.
func spelled(object map[string]json.RawMessage, name string) []string {
	var keys []string
	for key := range object {
		if strings.EqualFold(key, name) {
			keys = append(keys, key)
		}
	}
	slices.Sort(keys)
	return keys
}

func written(raw json.RawMessage) string {
	if text := ""; json.Unmarshal(raw, &text) == nil {
		return text
	}
	return string(bytes.TrimSpace(raw))
}

// Marshal writes a struct as json.Marshal does, with -1 by its name. The type
// of v must not have a MarshalJSON method.
func Marshal(v any) ([]byte, error) {
	text, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	s := reflect.ValueOf(v)
	for i := range s.NumField() {
		f := s.Type().Field(i)
		called := f.Tag.Get("minus")
		if v := s.Field(i); called == "" || !v.CanInt() || v.Int() != -1 {
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if text, err = replace(text, name, strconv.Quote(called)); err != nil {
			return nil, err
		}
	}
	return text, nil
}

// replace replaces the value of a name at the top level of an object.
func replace(object []byte, name, value string) ([]byte, error) {
	d := json.NewDecoder(bytes.NewReader(object))
	if _, err := d.Token(); err != nil {
		return nil, err
	}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return nil, err
		}
		from := d.InputOffset()
		var raw json.RawMessage
		if err := d.Decode(&raw); err != nil {
			return nil, err
		}
		if key == name {
			return fmt.Appendf(nil, "%s:%s%s", object[:from], value, object[d.InputOffset():]), nil
		}
	}
	return object, nil
}
