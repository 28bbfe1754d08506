package kind_test

import (
	"errors"
	"testing"

	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

type size uint8

var sizes = []string{"small", "large"}

// Every value that has a name reads back, no other is written or read.
func TestText(t *testing.T) {
	for v := range size(255) {
		text, err := kind.Marshal("size", "a size", sizes, v)
		var bad *measure.FieldError
		if int(v) >= len(sizes) {
			if !errors.As(err, &bad) || bad.Field != "" || bad.Value != kind.Text("size", sizes, v) || bad.Want != "a size: small, large" {
				t.Errorf("%d: %q, %v", v, text, err)
			}
			continue
		}
		var got size = 9
		if err := kind.Unmarshal("a size", sizes, text, &got); err != nil || got != v || string(text) != kind.Text("size", sizes, v) {
			t.Errorf("%d: %q reads as %d, %v", v, text, got, err)
		}
	}
	if got := kind.Text("size", sizes, size(9)); got != "size(9)" {
		t.Errorf("got %s", got)
	}
	got := size(1)
	var bad *measure.FieldError
	if err := kind.Unmarshal("a size", sizes, []byte("tiny"), &got); !errors.As(err, &bad) || bad.Value != "tiny" || got != 1 {
		t.Errorf("%v, and %d is left", err, got)
	}
}
