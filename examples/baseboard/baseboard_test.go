package main

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"
)

func Example() {
	if err := run(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// Corridor base
	// fingerprint KFJ-X9G-GWF
	// 2 sticks to buy; 2 pieces to cut; cost $45.16.
	// The pieces use 93.6% of the stock. The offcut to keep is 1' 3-5/8"-.
	// Kerf 1/8". Lengths are from long point to long point, to the nearest 1/16". A +
	// after a length means a hair over the mark, a - a hair under.
	//
	// To buy -------------------------------------------------------------------------
	//   [ ] 1 @ 12'  at $19.08 = $19.08
	//   [ ] 1 @ 16'  at $26.08 = $26.08
	//   Cost $45.16
	//
	// Saw settings -------------------------------------------------------------------
	//   scarf over   right end, upright: miter 45 deg, or flat: bevel 45 deg; miter
	//                right, keep left
	//   scarf under  left end, upright: miter 45 deg, or flat: bevel 45 deg; miter
	//                right, keep right
	//   Miter and bevel are the readings of the saw's two scales, 0 for a square cut,
	//   to the nearest 0.1 deg. In the lists the angle beside an end is the miter for
	//   a piece cut upright or, at a flat miter, flat. Miter left: swing the saw to
	//   the left; keep left: your piece is on the left of the blade. Upright: back
	//   against the fence, as on the wall. Flat: back on the table. Do not use these
	//   settings for crown: they need its profile.
	//
	// Before you cut -----------------------------------------------------------------
	// Saws cause serious injuries. Follow the saw's manual, keep the guards on and
	// your hands out of the path of the blade, wear eye and hearing protection, and do
	// not breathe the dust. Cut a piece too short to hold against the fence off the
	// end of a longer one, and let the blade stop before you take it away. Local codes
	// and licensed professionals take precedence over this sheet.
	// Cut in numbered order from the start of the stick, and measure each piece from
	// the last cut.
	// In the drawings / and \ are slanted ends, drawn with the back of the piece up,
	// or its outer edge if it lies flat.
	//
	// A: 1 stick of 12' --------------------------------------------------------------
	//   |------------------------1------------------------\......
	//   1  []  10' 8-1/4"+  corridor north wall base 1 of 2
	//                         left square, right scarf over 45 deg; spliced on an
	//                         assumed stud: find it first
	//           1' 3-5/8"-  offcut
	//
	// B: 1 stick of 16' --------------------------------------------------------------
	//   \-----------------------------------1------------------------------------|..
	//   1  []  15' 6-1/2"+  corridor north wall base 2 of 2
	//                         left scarf under 45 deg, right square; spliced on an
	//                         assumed stud: find it first
	//              5-3/8"-  waste
	//
	// Where the pieces come from -----------------------------------------------------
	// By room and wall: the letter is the stick's in this list, the number the cut's.
	// corridor
	//   north wall  A 1  base 1 of 2, 10' 8-1/4"+
	//               B 1  base 2 of 2, 15' 6-1/2"+
	//
	// Left over ----------------------------------------------------------------------
	//   [ ] 1 @ 1' 3-5/8"-  from A
	//   Waste, shorter than 1': 1 piece, 5-3/8"- in all.
	//
	// How good the plan is -----------------------------------------------------------
	// Proven: no plan costs less than $45.16; a separate check confirms it.
}

// An error of the writer is the error of run.
func TestFullDisk(t *testing.T) {
	if err := run(full{}); !errors.Is(err, errFull) {
		t.Errorf("run returned %v", err)
	}
}

var errFull = errors.New("no space left")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// The README of the examples promises fifteen lines.
func TestFifteenLines(t *testing.T) {
	text, err := os.ReadFile("main.go")
	if err != nil {
		t.Fatal(err)
	}
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, "main.go", text, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range file.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name == "run" {
			body := string(text[files.Position(f.Body.Lbrace).Offset:files.Position(f.Body.Rbrace).Offset])
			if n := strings.Count(body, "\n") - 1; n != 15 {
				t.Errorf("run has %d lines", n)
			}
			return
		}
	}
	t.Fatal("no function run")
}
