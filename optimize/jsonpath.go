package optimize

import (
	"reflect"
	"strings"
)

// JSONPath returns Field by the names that a [Problem] has in JSON, for whoever sent it as
// such: sticks[0].trim_end for Sticks[0].TrimEnd. What is no path into a problem stays as it is.
func (e *ProblemError) JSONPath() string {
	var b strings.Builder
	rest, t := e.Field, reflect.TypeFor[Problem]()
	for rest != "" {
		n := strings.IndexAny(rest, ".[")
		if n < 0 {
			n = len(rest)
		}
		f, ok := reflect.StructField{}, false
		if t.Kind() == reflect.Struct {
			f, ok = t.FieldByName(rest[:n])
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if !ok || name == "" {
			break
		}
		b.WriteString(name)
		rest, t = rest[n:], f.Type
		if strings.HasPrefix(rest, "[") && t.Kind() == reflect.Slice {
			n = strings.IndexByte(rest, ']') + 1
			b.WriteString(rest[:n])
			rest, t = rest[n:], t.Elem()
		}
		if !strings.HasPrefix(rest, ".") {
			break
		}
		b.WriteByte('.')
		rest = rest[1:]
	}
	return b.String() + rest
}
