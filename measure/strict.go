package measure

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/longpoint/internal/explicit"
)

// maxFaults is the maximum number of faults reported for one input.
const maxFaults = 100

// UnmarshalStrict reads one JSON value into v, a pointer to a problem, a room, a
// rack, a shelf or any struct or slice of your own that contains them. It reads what
// [json.Unmarshal] reads, but reports every unreadable value as a [*FieldError] with
// its full path, joined in the order of the text, at most 100:
//
//	products[2].packages[0].size is "10 furlongs", want an amount: ...
//
// [FieldErrors] lists them. It rejects unknown names (the spelling must match
// exactly), duplicate names in an object and text after the value: otherwise a
// misspelled price would be a price of zero. UnmarshalStrict does not check what
// values mean; Validate and the functions that use them do. Do not call Validate
// after an error: it would report an unreadable value as missing. null leaves a
// field unchanged. Maps, arrays and types that unmarshal themselves are read as a
// whole, and embedded structs under their own name. After an error, v is partly
// filled.
func UnmarshalStrict(data []byte, v any) error {
	p := reflect.ValueOf(v)
	if p.Kind() != reflect.Pointer || p.IsNil() {
		return &FieldError{Value: fmt.Sprintf("%T", v), Want: "a pointer to the value to read"}
	}
	d := json.NewDecoder(bytes.NewReader(data))
	var raw json.RawMessage
	if err := d.Decode(&raw); err != nil {
		if err == io.EOF {
			return &FieldError{Want: "a JSON value"}
		}
		at, want := d.InputOffset(), "JSON on line %d"
		if s := (*json.SyntaxError)(nil); errors.As(err, &s) {
			at = s.Offset
		}
		if errors.Is(err, io.ErrUnexpectedEOF) {
			at, want = int64(len(bytes.TrimRight(data, " \t\r\n"))), "JSON to the end, but line %d breaks off"
		}
		line := 1 + bytes.Count(data[:min(int(at), len(data))], []byte("\n"))
		return &FieldError{Value: oneLine(lineOf(data, line)), Want: fmt.Sprintf(want, line), Err: err}
	}
	if rest := bytes.TrimSpace(data[d.InputOffset():]); len(rest) > 0 {
		return &FieldError{Value: oneLine(rest), Want: "the end after the JSON value"}
	}
	var r strictReader
	r.read(p.Elem(), raw, "")
	return errors.Join(r.faults...)
}

// strictReader collects the values that cannot be read.
type strictReader struct{ faults []error }

func (r *strictReader) full() bool { return len(r.faults) >= maxFaults }

func (r *strictReader) fault(e *FieldError) {
	if !r.full() {
		r.faults = append(r.faults, e)
	}
}

func (r *strictReader) bad(path string, raw json.RawMessage, want string) {
	r.fault(&FieldError{Field: path, Value: unquoted(raw), Want: want})
}

func (r *strictReader) read(v reflect.Value, raw json.RawMessage, path string) {
	raw = bytes.TrimSpace(raw)
	if string(raw) == "null" || r.full() {
		return
	}
	switch v.Addr().Interface().(type) {
	case encoding.TextUnmarshaler:
		r.leaf(v, raw, path)
		return
	case json.Unmarshaler:
		if v.Kind() != reflect.Struct || !explicit.Has(v.Type()) {
			r.leaf(v, raw, path)
			return
		} // else its method does the same as this code, but does not know the path
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		r.read(v.Elem(), raw, path)
		return
	case reflect.Struct:
		r.object(v, raw, path)
		return
	case reflect.Slice:
		if v.Type().Elem().Kind() != reflect.Uint8 || raw[0] == '[' {
			r.list(v, raw, path)
			return
		}
	}
	r.leaf(v, raw, path)
}

// leaf reads a value without fields known to UnmarshalStrict.
func (r *strictReader) leaf(v reflect.Value, raw json.RawMessage, path string) {
	err := json.Unmarshal(raw, v.Addr().Interface())
	if err == nil {
		return
	}
	if _, ok := v.Addr().Interface().(json.Unmarshaler); ok {
		found := false
		for e := range FieldErrors(err) {
			found = true
			r.fault(e.Under(path))
		}
		if found {
			return
		}
	}
	e := &FieldError{Field: path, Value: unquoted(raw)}
	var kind *FieldError
	var text *ParseError
	switch {
	case errors.As(err, &kind):
		e.Want, e.Err = kind.Want, kind.Err
	case errors.As(err, &text):
		if e.Want, e.Err = wanted(v), text; e.Want == anyText {
			e.Want = withArticle(text.Kind)
		} else if raw[0] == '"' {
			e.Want = strings.Replace(e.Want, " in quotes", "", 1) // it has them
		}
	case errors.As(err, new(*json.UnmarshalTypeError)):
		e.Want = wanted(v)
		name := path[strings.LastIndexByte(path, '.')+1:]
		if v.Kind() == reflect.Int64 && slices.Contains(moneyNames[:], name) {
			e.Want = "a whole number of cents, such as 1999 for 19.99"
		}
	default:
		e.Want, e.Err = "a value of its type", err
	}
	r.fault(e)
}

// moneyNames are the names of fields that hold money in this module.
var moneyNames = [...]string{"price", "wage", "amount", "cost", "stick_cost", "consumables"}

// withArticle returns the name of a kind with its article.
func withArticle(kind string) string {
	if kind != "" && strings.IndexByte("aeiou", kind[0]) >= 0 {
		return "an " + kind
	}
	return "a " + kind
}

const anyText = "text in quotes"

// wanted describes the values of a field in words.
func wanted(v reflect.Value) string {
	if _, ok := v.Addr().Interface().(encoding.TextUnmarshaler); ok {
		switch v.Interface().(type) {
		case Length:
			return `a length in quotes, such as "7ft 4-3/4in"`
		case Angle:
			return `an angle in quotes, such as "22.5deg"`
		case Area:
			return `an area in quotes, such as "12 sq ft"`
		case Volume:
			return `a volume in quotes, such as "10.1 fl oz"`
		case Weight:
			return `a weight in quotes, such as "50 lb"`
		case Ratio:
			return `a percentage in quotes, such as "6%"`
		case Temperature:
			return `a temperature in quotes, such as "70°F"`
		case Duration:
			return `a duration in quotes, such as "2h30m"`
		}
		return anyText
	}
	switch v.Kind() {
	case reflect.String:
		return anyText
	case reflect.Bool:
		return "true or false"
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return "a whole number within the range of its field"
	}
	return "a value of its field's kind"
}

func (r *strictReader) list(v reflect.Value, raw json.RawMessage, path string) {
	var items []json.RawMessage
	if err := json.Unmarshal(raw, &items); err != nil {
		r.bad(path, raw, "a list")
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(items), len(items)))
	for i, item := range items {
		r.read(v.Index(i), item, path+"["+strconv.Itoa(i)+"]")
	}
}

func (r *strictReader) object(v reflect.Value, raw json.RawMessage, path string) {
	if raw[0] != '{' {
		r.bad(path, raw, "an object")
		return
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	_, err := d.Token() // the brace
	names := jsonNames(v.Type())
	seen := make([]bool, len(names))
	for err == nil && d.More() && !r.full() {
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
			known := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == "" })
			r.bad(field, item, "one of the names here: "+strings.Join(known, ", "))
			continue
		case seen[i]:
			r.bad(field, item, "a name that occurs here once")
			continue
		}
		seen[i] = true
		item, want := explicit.Value(v.Type().Field(i), item)
		if want != "" {
			r.bad(field, item, want)
			continue
		}
		r.read(v.Field(i), item, field)
	}
	if err != nil {
		r.bad(path, raw, "an object: "+err.Error())
	}
}

// jsonNames returns the JSON names of a struct's fields, "" for a field that
// JSON omits.
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

func lineOf(data []byte, n int) []byte { return bytes.Split(data, []byte("\n"))[n-1] }

// unquoted returns a JSON value for an error message: a string without its
// quotes, since the error adds its own.
func unquoted(raw json.RawMessage) string {
	if s := ""; raw[0] == '"' && json.Unmarshal(raw, &s) == nil {
		return oneLine([]byte(s))
	}
	return oneLine(raw)
}

// oneLine keeps text on one line of at most maxFieldValue bytes.
func oneLine(b []byte) string {
	s := strings.Join(strings.Fields(string(b)), " ")
	if len(s) <= maxFieldValue {
		return s
	}
	n := maxFieldValue - 3
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return s[:n] + "..."
}
