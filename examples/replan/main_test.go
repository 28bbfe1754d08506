package main

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the recorded output")

func TestOutput(t *testing.T) {
	var b bytes.Buffer
	if err := run(&b); err != nil {
		t.Fatal(err)
	}
	const file = "testdata/replan.golden"
	if *update {
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), b.String()); d != "" {
		t.Errorf("the output changed (-want +got); -update rewrites it:\n%s", d)
	}
}

var errFull = errors.New("no space left")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestFullDisk(t *testing.T) {
	if err := run(full{}); !errors.Is(err, errFull) {
		t.Errorf("run returned %v", err)
	}
}
