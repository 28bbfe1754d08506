package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the recorded output")

func TestOutput(t *testing.T) {
	var got bytes.Buffer
	if err := run(&got); err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", "partition.golden")
	if *update {
		if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got.String()); d != "" {
		t.Errorf("the output changed (-recorded +now); read the difference, then run with -update:\n%s", d)
	}
}

// The wall is filled: on the layout every stud is there, over the door those that bear on
// the header, and the joints of the plates lie on studs and apart (derived by hand: studs
// at 0-3/4, 16, 32, ... 272 and 279-1/4 are 19; the door takes those at 96, 112 and 128, of
// which 112 and 128 are over it).
func TestFraming(t *testing.T) {
	runs, pieces := wall()
	if got := len(studs()); got != 19 {
		t.Errorf("%d positions of studs, want 19", got)
	}
	for i, want := range []struct {
		length   string
		quantity int
	}{{`8' 9"`, 16 + 2}, {`6' 9"`, 2}, {`3' 5-1/2"`, 2}, {`1' 9"`, 2}} {
		if p := pieces[i]; p.Length != measure.MustParse(want.length) || p.Quantity != want.quantity {
			t.Errorf("%s: %d of %v, want %d of %s", p.Label, p.Quantity, p.Length.About(), want.quantity, want.length)
		}
	}
	plan, err := optimize.Solve(context.Background(), optimize.Problem{Sticks: lumber, Runs: runs, Pieces: pieces, Kerf: measure.Inch / 8}, nil)
	if err != nil {
		t.Fatal(err)
	}
	joints := map[int][]measure.Length{}
	for _, s := range plan.Spliced {
		for _, at := range s.At {
			if at%spacing != 0 || king(at) || over(at) {
				t.Errorf("run %d is joined at %v, where there is no stud", s.Run, at.About())
			}
			joints[s.Run] = append(joints[s.Run], at)
		}
	}
	if len(joints[2]) == 0 || len(joints[3]) == 0 {
		t.Fatalf("plates of 23 ft 4 in are joined at %v", joints)
	}
	for _, x := range joints[2] {
		for _, y := range joints[3] {
			if max(x-y, y-x) < lap {
				t.Errorf("the joints at %v and %v are not staggered", x.About(), y.About())
			}
		}
	}
}
