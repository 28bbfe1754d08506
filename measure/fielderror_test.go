package measure_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

func ExampleFieldError() {
	err := &measure.FieldError{Field: "trim_end", Value: "-1 in", Want: "zero or more"}
	err = err.Under("sticks[2]")
	fmt.Println(err)
	fmt.Println(err.JSONPath())
	// Output:
	// sticks[2].trim_end is "-1 in", want zero or more
	// $.sticks[2].trim_end
}

func ExampleFieldErrors() {
	err := fmt.Errorf("job: %w", errors.Join(
		&measure.FieldError{Field: "kerf", Value: "-1/8 in", Want: "zero or more"},
		&measure.FieldError{Field: "pieces[0].quantity", Value: "-2", Want: "zero or more"},
	))
	for e := range measure.FieldErrors(err) {
		fmt.Println(e.Field)
	}
	// Output:
	// kerf
	// pieces[0].quantity
}

func TestFieldErrorText(t *testing.T) {
	cause := errors.New("no unit")
	for _, c := range []struct {
		e    measure.FieldError
		want string
	}{
		{measure.FieldError{}, `value is ""`},
		{measure.FieldError{Field: "a", Value: "-7", Want: "more"}, `a is -7, want more`},
		{measure.FieldError{Field: "a", Value: "-", Want: "more"}, `a is "-", want more`},
		{measure.FieldError{Field: "a", Value: "x\ny", Want: "w", Err: cause}, `a is "x\ny", want w: no unit`},
		{measure.FieldError{Field: "a", Value: strings.Repeat("é", 60)}, `a is "` + strings.Repeat("é", 50) + `..."`},
	} {
		if got := c.e.Error(); got != c.want {
			t.Errorf("%+v: %s, want %s", c.e, got, c.want)
		}
		if errors.Is(&c.e, cause) != (c.e.Err != nil) {
			t.Errorf("%+v does not wrap its cause", c.e)
		}
	}
}

func TestFieldErrorPath(t *testing.T) {
	for _, c := range [][4]string{
		{"", "", "", "$"},
		{"", "a", "a", "$.a"},
		{"a", "", "a", "$.a"},
		{"a", "b", "b.a", "$.b.a"},
		{"[3].x", "b", "b[3].x", "$.b[3].x"},
		{"a b.c", "", "a b.c", "$['a b'].c"},
		{"it's", "", "it's", `$['it\'s']`},
		{"0", "", "0", "$['0']"},
		{"a[", "", "a[", "$.a["},
		{"é[1][2].b1", "", "é[1][2].b1", "$.é[1][2].b1"},
	} {
		e := &measure.FieldError{Field: c[0]}
		u := e.Under(c[1])
		if u.Field != c[2] || u.JSONPath() != c[3] || e.Field != c[0] {
			t.Errorf("%q under %q is %q, %s; want %q, %s", c[0], c[1], u.Field, u.JSONPath(), c[2], c[3])
		}
	}
}

// All field errors of any tree come out, in order, and the walk ends when asked.
func TestFieldErrorsOfTrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var want []*measure.FieldError
		var grow func(depth int) error
		grow = func(depth int) error {
			switch k := rapid.IntRange(0, 5).Draw(t, "kind"); {
			case k == 0:
				return nil
			case k == 1:
				return errors.New("other")
			case k == 2 || depth == 0:
				e := &measure.FieldError{Field: fmt.Sprint(len(want)), Err: &measure.FieldError{Field: "within"}}
				want = append(want, e)
				return e
			case k == 3:
				return fmt.Errorf("wrapped: %w", grow(depth-1))
			default:
				var all []error
				for range rapid.IntRange(0, 3).Draw(t, "n") {
					all = append(all, grow(depth-1))
				}
				return errors.Join(all...)
			}
		}
		err := grow(4)
		got := slices.Collect(measure.FieldErrors(err))
		if !slices.Equal(got, want) {
			t.Fatalf("%d of %d", len(got), len(want))
		}
		for e := range measure.FieldErrors(err) {
			if e != want[0] {
				t.Fatal("not the first")
			}
			break
		}
	})
}
