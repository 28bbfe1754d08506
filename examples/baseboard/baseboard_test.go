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
	// fingerprint YHT-9NV-7XQ
	// 2 sticks to buy; 2 pieces to cut; cost $45.16.
	// Pieces take up 93.6% of the material. The offcut to keep is 1' 3-5/8"-.
	// A saw cut takes 1/8". Lengths are from long point to long point, to the nearest
	// 1/16". A + behind a length means a hair over the mark, a - a hair under.
	//
	// To buy -------------------------------------------------------------------------
	//   [ ] 1 x 12'  at $19.08 = $19.08
	//   [ ] 1 x 16'  at $26.08 = $26.08
	//   Cost $45.16
	//
	// Saw settings -------------------------------------------------------------------
	//   scarf over   right end: upright miter 45 deg, flat bevel 45 deg; miter right,
	//                keep left
	//   scarf under  left end: upright miter 45 deg, flat bevel 45 deg; miter right,
	//                keep right
	//   Miter and bevel are read on the scales of the saw with these names, from the
	//   square cut, to the nearest 0.1 deg. In the lists the angle beside an end is
	//   the miter, of a piece that is upright or, at a flat miter, of a flat one.
	//   Miter left: the saw is swung to the left; keep left: the piece is what lies to
	//   the left of the blade. Upright: the back against the fence as on the wall.
	//   Flat: the back on the table. For crown these settings are wrong; it needs its
	//   profile.
	//
	// Before you cut -----------------------------------------------------------------
	// Saws injure. Follow the manual of the saw, keep the guards on and your hands out
	// of the path of the blade, wear eye and hearing protection, and breathe no dust.
	// A piece too short to hold against the fence is cut from the end of a longer one:
	// let the blade stop before you take it away. Local codes and licensed people go
	// before anything on this sheet.
	// Cut in the order of the numbers, from the start of the stick, and measure every
	// piece anew from the last cut.
	// In the drawings / and \ are ends that slant, seen with the back of the piece up,
	// or the outer edge where it lies flat.
	//
	// A: 1 stick of 12' --------------------------------------------------------------
	//   |------------------------1------------------------\......
	//   1  []  10' 8-1/4"+  corridor north wall base 1/2
	//                         left square, right scarf over 45 deg; spliced on an
	//                         assumed stud: find it first
	//           1' 3-5/8"-  offcut
	//
	// B: 1 stick of 16' --------------------------------------------------------------
	//   \-----------------------------------1------------------------------------|..
	//   1  []  15' 6-1/2"+  corridor north wall base 2/2
	//                         left scarf under 45 deg, right square; spliced on an
	//                         assumed stud: find it first
	//              5-3/8"-  waste
	//
	// Where the pieces come from -----------------------------------------------------
	// By room and wall: the letter is the pattern of the stick, the number the cut.
	// corridor
	//   north wall  A 1  base 1/2, 10' 8-1/4"+
	//               B 1  base 2/2, 15' 6-1/2"+
	//
	// Left over ----------------------------------------------------------------------
	//   [ ] 1 x 1' 3-5/8"-  from A
	//   Waste, shorter than 1': 1 piece, 5-3/8"- in all.
	//
	// How good the plan is -----------------------------------------------------------
	// Proven: no plan costs less than $45.16; a separate check confirms it.
}

// What the writer refuses is what run returns.
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
