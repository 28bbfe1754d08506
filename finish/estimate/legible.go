package estimate

import (
	"reflect"
	"strconv"
	"strings"
)

// legible makes the texts of a paper valid UTF-8, and quotes those that are blank, in
// everything that a pointer, a struct or a list holds: names in a job may be any text, but a
// paper accepts no other.
func legible(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			legible(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			legible(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				legible(v.Field(i))
			}
		}
	case reflect.String:
		s := strings.ToValidUTF8(v.String(), "\uFFFD")
		if s != "" && strings.TrimSpace(s) == "" {
			s = strconv.Quote(s)
		}
		if v.CanSet() && s != v.String() {
			v.SetString(s)
		}
	}
}
