package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the recorded output")

func TestOutput(t *testing.T) {
	var got bytes.Buffer
	if err := run(&got); err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", "frames.golden")
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
	// Whatever else the search finds, this stays.
	for _, line := range []string{
		`2 of 1' 8-1/16" and 2' 1/16", 44-1/8" of wood`,
		"Both long sides from one stick of molding: no.",
		"Both long sides from one stick of a flat board that may be turned: yes.",
		"8 sticks  $80.80  proven", "7 sticks  $70.70  proven",
		"Saws cause serious injuries.",
	} {
		if !strings.Contains(got.String(), line) {
			t.Errorf("no %q", line)
		}
	}
}

// Two long sides must not be taken to fit one stick of 48 in: with the play they are
// 48-1/8 in, and without it the blade's cut is missing ("framing site": two 24s from one
// 48 fails). Turned end for end, flat boards give back the 2 in that their miters share. Two
// cuts take 12/64 in each along the stick (1/8 in over the cosine of 45 degrees), of which
// the last may leave the stick by 1/8: 2*x + 2*12/64 - 2 <= 48 + 1/8 where x is at most
// 24-7/8 (derived).
func TestTwoLongSides(t *testing.T) {
	for _, c := range []struct {
		name  string
		turns stock.Symmetry
		nest  bool
		long  measure.Length
		kerf  measure.Length
		fits  bool
	}{
		{"molding", stock.SymmetryNone, false, measure.MustParse(`24-1/16"`), 0, false},
		{"molding without play", stock.SymmetryNone, false, measure.MustParse(`24"`), kerf, false},
		{"molding without play, nesting", stock.SymmetryNone, true, measure.MustParse(`24"`), kerf, false},
		{"board, not nested", stock.SymmetryEnds, false, measure.MustParse(`24-1/16"`), kerf, false},
		{"board, nested", stock.SymmetryEnds, true, measure.MustParse(`24-1/16"`), kerf, true},
		{"two that take all there is", stock.SymmetryEnds, true, measure.MustParse(`24-7/8"`), kerf, true},
		{"and a 64th more", stock.SymmetryEnds, true, measure.MustParse(`24-57/64"`), kerf, false},
	} {
		sides, err := pieces([]frame{{"frame", c.long - 2*face - play, 16 * measure.Inch, 1}}, c.turns)
		if err != nil {
			t.Fatal(err)
		}
		if sides[0].Length != c.long || sides[0].Quantity != 2 || sides[0].Left.Setback != face {
			t.Fatalf("%s: %+v", c.name, sides[0])
		}
		_, err = optimize.Solve(context.Background(), optimize.Problem{
			Sticks: []stock.Stick{{Length: 48 * measure.Inch, Limit: 1}}, Pieces: sides[:1], Kerf: c.kerf,
			Rules: optimize.Rules{Nest: c.nest},
		}, nil)
		if c.fits && err != nil || !c.fits && !errors.As(err, new(*optimize.InfeasibleError)) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

var errFull = errors.New("no space left")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// An error of the writer is the error of run.
func TestFullDisk(t *testing.T) {
	if err := run(full{}); !errors.Is(err, errFull) {
		t.Errorf("run returned %v", err)
	}
}
