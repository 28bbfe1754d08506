package main

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/optimize"
)

// Concurrent planning gives the same results as sequential planning, in the same order.
func TestSideBySide(t *testing.T) {
	var want []int64
	for _, h := range house {
		p, err := plan(context.Background(), h)
		if err != nil {
			t.Fatal(err)
		}
		want = append(want, p.Cost)
	}
	for range 10 {
		plans, err := all(context.Background(), house)
		if err != nil {
			t.Fatal(err)
		}
		var got []int64
		for _, p := range plans {
			got = append(got, p.Cost)
		}
		if !slices.Equal(got, want) {
			t.Fatalf("costs %v concurrently, %v one after another", got, want)
		}
	}
	var out bytes.Buffer
	if err := run(context.Background(), &out, house); err != nil || strings.Count(out.String(), ", proven\n") != 3 {
		t.Errorf("%v\n%s", err, out.String())
	}
}

// One profile that cannot be planned ends the call, and its name is in the error.
func TestFirstErrorEnds(t *testing.T) {
	bad := slices.Clone(house)
	bad[1].pieces = "3 @ 41 1/2\" hall N\n1 @ 30' no stick is as long"
	_, err := all(context.Background(), bad)
	var none *optimize.InfeasibleError
	if !errors.As(err, &none) || !strings.HasPrefix(err.Error(), "casing: ") {
		t.Errorf("got %v, want an InfeasibleError of casing", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := all(ctx, house); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v after the context ended", err)
	}
}
