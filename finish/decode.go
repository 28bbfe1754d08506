package finish

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
)

// Decode reads one JSON value into v, a pointer to a [Shelf], a []Work, a
// [Candidate] or any struct or slice of your own that is made of such. It reads
// what [json.Unmarshal] reads, but says where a value stands that cannot be
// read, with the whole path, in a [*FieldError] such as
//
//	products[2].packages[0].size is "10 furlongs": ...
//
// and refuses a name that no field has (in exactly that spelling), a name that
// stands twice in an object and text after the value: a misspelled price would
// otherwise be a price of zero. What a value means is checked where it is used.
// null leaves a field as it is. Maps and arrays are read whole, and embedded structs
// under their own name. On an error v may be filled in part.
func Decode(data []byte, v any) error {
	p := reflect.ValueOf(v)
	if p.Kind() != reflect.Pointer || p.IsNil() {
		return bad("v", reflect.TypeOf(v), "a pointer to what is read")
	}
	d := json.NewDecoder(bytes.NewReader(data))
	var raw json.RawMessage
	if err := d.Decode(&raw); err != nil {
		at, want := d.InputOffset(), "JSON: "+err.Error()
		if s := (*json.SyntaxError)(nil); errors.As(err, &s) {
			at = s.Offset
		}
		switch {
		case err == io.EOF:
			return bad("text", "", "a JSON value")
		case errors.Is(err, io.ErrUnexpectedEOF):
			at, want = int64(len(bytes.TrimRight(data, " \t\r\n"))), "JSON to the end, but the text breaks off here"
		}
		line := 1 + bytes.Count(data[:min(int(at), len(data))], []byte("\n"))
		return bad("line "+strconv.Itoa(line), clip(lineOf(data, line)), want)
	}
	if rest := bytes.TrimSpace(data[d.InputOffset():]); len(rest) > 0 {
		return bad("text", clip(rest), "the end after the value")
	}
	return decode(p.Elem(), raw, "")
}

func decode(v reflect.Value, raw json.RawMessage, path string) error {
	raw = bytes.TrimSpace(raw)
	if string(raw) == "null" {
		return nil
	}
	switch v.Addr().Interface().(type) {
	case encoding.TextUnmarshaler, json.Unmarshaler:
		return decodeLeaf(v, raw, path)
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		return decode(v.Elem(), raw, path)
	case reflect.Struct:
		return decodeStruct(v, raw, path)
	case reflect.Slice:
		if v.Type().Elem().Kind() != reflect.Uint8 || raw[0] == '[' {
			return decodeSlice(v, raw, path)
		}
	}
	return decodeLeaf(v, raw, path)
}

// decodeLeaf reads what has no fields that Decode knows.
func decodeLeaf(v reflect.Value, raw json.RawMessage, path string) error {
	err := json.Unmarshal(raw, v.Addr().Interface())
	if err == nil {
		return nil
	}
	want := "what its type can read: " + err.Error()
	var f *FieldError
	var m *measure.ParseError
	switch {
	case errors.As(err, &f):
		want = f.Want
	case errors.As(err, &m):
		want = wanted(v) + ": " + err.Error()
	case errors.As(err, new(*json.UnmarshalTypeError)):
		want = wanted(v)
		if name := path[strings.LastIndexByte(path, '.')+1:]; v.Kind() == reflect.Int64 && slices.Contains(moneyNames[:], name) {
			want = "a whole number of cents, such as 1999 for 19.99"
		}
	}
	return bad(at(path), unquoted(raw), want)
}

// moneyNames are the names of fields, here and in package stock, that hold money.
var moneyNames = [...]string{"price", "wage", "amount", "cost", "sticks", "consumables"}

// wanted says in words what a field holds.
func wanted(v reflect.Value) string {
	if _, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		switch v.Interface().(type) {
		case measure.Length:
			return `a length in quotes, such as "7ft 4-3/4in"`
		case Ratio:
			return `a percentage in quotes, such as "6%"`
		case measure.Area:
			return `an area in quotes, such as "12 sq ft"`
		}
		return "text in quotes"
	}
	switch v.Kind() {
	case reflect.String:
		return "text in quotes"
	case reflect.Bool:
		return "true or false"
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return "a whole number within the range of its field"
	}
	return "a value of its field's kind"
}

func decodeSlice(v reflect.Value, raw json.RawMessage, path string) error {
	if raw[0] != '[' {
		return bad(at(path), unquoted(raw), "a list")
	}
	var items []json.RawMessage
	if err := json.Unmarshal(raw, &items); err != nil {
		return bad(at(path), unquoted(raw), "a list: "+err.Error())
	}
	v.Set(reflect.MakeSlice(v.Type(), len(items), len(items)))
	for i, item := range items {
		if err := decode(v.Index(i), item, path+"["+strconv.Itoa(i)+"]"); err != nil {
			return err
		}
	}
	return nil
}

func decodeStruct(v reflect.Value, raw json.RawMessage, path string) error {
	if raw[0] != '{' {
		return bad(at(path), unquoted(raw), "an object")
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	_, err := d.Token() // the brace
	names := jsonNames(v.Type())
	seen := make([]bool, len(names))
	for err == nil && d.More() {
		var key json.Token
		if key, err = d.Token(); err != nil {
			break
		}
		name, _ := key.(string)
		field := strings.TrimPrefix(path+"."+name, ".")
		var item json.RawMessage
		if err = d.Decode(&item); err != nil {
			break
		}
		i := slices.Index(names, name)
		switch {
		case i < 0 || name == "":
			return bad(field, unquoted(item), "one of the names here: "+strings.Join(slices.DeleteFunc(names, func(n string) bool { return n == "" }), ", "))
		case seen[i]:
			return bad(field, unquoted(item), "a name that stands here once")
		}
		seen[i] = true
		if err := decode(v.Field(i), item, field); err != nil {
			return err
		}
	}
	if err != nil {
		return bad(at(path), unquoted(raw), "an object: "+err.Error())
	}
	return nil
}

// jsonNames returns the names of a struct's fields in a file, "" for one that is
// not in files.
func jsonNames(t reflect.Type) []string {
	names := make([]string, t.NumField())
	for i := range names {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case !f.IsExported() || f.Tag.Get("json") == "-":
		case name != "":
			names[i] = name
		default:
			names[i] = f.Name
		}
	}
	return names
}

func at(path string) string { return or(path, "the value") }

func lineOf(data []byte, n int) []byte { return bytes.Split(data, []byte("\n"))[n-1] }

// unquoted writes a JSON value for an error: a text without its quotes, since the error
// puts its own around it.
func unquoted(raw json.RawMessage) string {
	if s := ""; raw[0] == '"' && json.Unmarshal(raw, &s) == nil {
		return clip([]byte(s))
	}
	return clip(raw)
}

// clip keeps text on one line of sensible length.
func clip(b []byte) string {
	s := strings.Join(strings.Fields(string(b)), " ")
	if r := []rune(s); len(r) > 40 {
		s = string(r[:37]) + "..."
	}
	return s
}
