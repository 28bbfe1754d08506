package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"example.com/longpoint/optimize"
	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the recorded output")

func TestOutput(t *testing.T) {
	var got bytes.Buffer
	if err := run(&got); err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", "tube.golden")
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

// A mitered end of square tube runs back by its width over the tangent of half the corner:
// 1-1/2 in at 90 degrees, 0.866 in at the 120 of a hexagon (derived).
func TestMiters(t *testing.T) {
	all, err := pieces()
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{1.5, 1.5, 0.8660254} {
		if got := all[i].Left.Setback.Inches(); got < want-1e-6 || got > want+1e-6 || all[i].Right != all[i].Left {
			t.Errorf("%s: the ends run back %v and %v in, want %v", all[i].Label, got, all[i].Right.Setback.Inches(), want)
		}
	}
	job := optimize.Problem{Sticks: sticks, Pieces: all, Kerf: kerf}
	var cost [2]int64
	for i := range cost {
		job.Rules.Nest = i == 1
		plan, err := optimize.Solve(context.Background(), job, nil)
		if err != nil {
			t.Fatal(err)
		}
		if err := optimize.Check(context.Background(), job, plan); err != nil {
			t.Error(err)
		}
		cost[i] = plan.Cost
	}
	if cost[1] >= cost[0] {
		t.Errorf("shared miters save nothing: %d, separate cuts %d", cost[1], cost[0])
	}
}
