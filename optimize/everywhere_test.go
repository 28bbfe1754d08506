package optimize_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/longpoint/internal/trimjob"
	"example.com/longpoint/optimize"
)

var update = flag.Bool("update", false, "rewrite the recorded plans in testdata")

// TestSamePlanEverywhere compares whole plans, proofs and counts of steps with
// recorded ones. The gates run it for processors with other words, other byte
// orders and other floating point units; a change of the engine may change the
// record, a change of the machine may not.
func TestSamePlanEverywhere(t *testing.T) {
	rooms := trimjob.OfClass("room")
	var got bytes.Buffer
	got.WriteString("# job cost bound steps, sha256 of the plan as JSON\n")
	record := func(name string, p optimize.Problem, work int64) {
		plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: work})
		if errors.As(err, new(*optimize.InfeasibleError)) {
			fmt.Fprintf(&got, "%s: %v\n", name, err)
			return
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		text, err := json.Marshal(plan)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&got, "%s %d %d %d %x\n", name, plan.Cost, plan.Bound, plan.Work, sha256.Sum256(text))
	}
	for _, k := range slices.Concat(rooms[:10], trimjob.OfClass("house")[:2]) {
		record(k.Name, problem(k.Job()), 8_000_000)
	}
	for i, v := range variants[1:] {
		k := rooms[i%len(rooms)]
		p := problem(k.Job())
		v.add(&p)
		record(k.Name+", "+v.name, p, 1_000_000)
	}
	file := filepath.Join("testdata", "everywhere.txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got.String()); d != "" {
		t.Errorf("the plans differ from the recorded ones. If the engine was changed on purpose: go test ./optimize -run Everywhere -update\n-recorded +found\n%s", d)
	}
}
