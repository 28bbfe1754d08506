package whatif

import (
	"reflect"
	"testing"

	"example.com/longpoint/optimize"
)

// fill sets every field that a value has, with one element in each slice.
func fill(t *testing.T, v reflect.Value, n *int64) {
	*n++
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				fill(t, v.Field(i), n)
			}
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 2))
		fill(t, v.Index(0), n)
	case reflect.String:
		v.SetString("x")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(*n)
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(1)
	default:
		t.Fatalf("a problem has a %v: does clone copy it?", v.Type())
	}
}

// shared names the slices that two values of a type have in common.
func shared(a, b reflect.Value, path string, seen *int) (out []string) {
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			out = append(out, shared(a.Field(i), b.Field(i), path+"."+a.Type().Field(i).Name, seen)...)
		}
	case reflect.Slice:
		*seen++
		if a.Pointer() == b.Pointer() {
			out = append(out, path)
		}
		for i := range a.Len() {
			out = append(out, shared(a.Index(i), b.Index(i), path+"[]", seen)...)
		}
	}
	return out
}

// The problem that Edit gets shares nothing with the caller's, whatever fields it has.
func TestCloneSharesNothing(t *testing.T) {
	var p optimize.Problem
	n, slices := int64(0), 0
	fill(t, reflect.ValueOf(&p).Elem(), &n)
	q := clone(p)
	if !reflect.DeepEqual(p, q) {
		t.Errorf("%+v\nis not\n%+v", q, p)
	}
	if both := shared(reflect.ValueOf(p), reflect.ValueOf(q), "Problem", &slices); both != nil || slices < 15 {
		t.Errorf("of %d slices, the copy shares %v", slices, both)
	}
	if empty := clone(optimize.Problem{}); !reflect.DeepEqual(empty, optimize.Problem{}) {
		t.Errorf("the copy of the zero value is %+v", empty)
	}
}
