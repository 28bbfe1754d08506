package stock_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"pgregory.net/rapid"
)

func ExampleParsePieces() {
	pieces, err := stock.ParsePieces(`
# classroom
3 @ 41-1/2
2x 7' 4-3/4" hall N
41-1/2 (3)       // cloakroom
88 3/4, 2nd window
`, measure.Parser{Unit: measure.Inch})
	for _, p := range pieces {
		fmt.Printf("%d of %v %q\n", p.Quantity, p.Length, p.Label)
	}
	fmt.Println(err)
	// Output:
	// 3 of 3' 5-1/2" ""
	// 2 of 7' 4-3/4" "hall N"
	// 3 of 3' 5-1/2" ""
	// 1 of 7' 4-3/4" "2nd window"
	// <nil>
}

func ExampleFormatPieces() {
	text, err := stock.FormatPieces([]stock.Piece{
		{Label: "hall N", Length: measure.MustParse(`7' 4-3/4"`), Quantity: 2},
		{Label: "2nd window", Length: measure.MustParse(`41-1/2"`)},
	}, measure.Style{Unit: measure.Inch})
	fmt.Print(text, err)
	// Output:
	// 2 @ 88-3/4" hall N
	// 41-1/2", 2nd window
	// <nil>
}

func ExampleLineError() {
	_, err := stock.ParsePieces("2x4\n3 @ 41-1/2 hall\n7' 4-3/ hall", measure.Parser{Unit: measure.Inch})
	fmt.Println(err)
	if line := (*stock.LineError)(nil); errors.As(err, &line) {
		fmt.Println(line.Line, line.Column, line.Text)
	}
	// Output:
	// line 1, column 3: ambiguous at "4": "x" before a small whole number could give the size of a board; write @ before a length, or its unit
	// line 3, column 4: ambiguous at "4-3/": a second number or a dash behind the length; put a comma before a label that begins so
	// 1 3 2x4
}

// A form shows each fault beside its line.
func ExampleLineErrors() {
	_, err := stock.ParsePieces("2x4\n3 @ 41-1/2 hall\n\t# closet\n41 1/2 12 shelf", measure.Parser{Unit: measure.Inch})
	for e := range stock.LineErrors(err) {
		fmt.Printf("line %d, column %d of %q\n", e.Line, e.Column, e.Text)
	}
	// Output:
	// line 1, column 3 of "2x4"
	// line 4, column 8 of "41 1/2 12 shelf"
}

// Each line stands for the piece that its writer, a carpenter, means.
func TestParsePieces(t *testing.T) {
	in := measure.Parser{Unit: measure.Inch}
	for _, c := range []struct {
		line  string
		n     int
		want  string
		label string
	}{
		{`3 @ 41-1/2"`, 3, `41-1/2"`, ""},
		{`3@41-1/2`, 3, `41-1/2"`, ""},
		{`3 pcs 41-1/2`, 3, `41-1/2"`, ""},
		{`3 PC. 41-1/2`, 3, `41-1/2"`, ""},
		{`3 pieces 41-1/2 rail`, 3, `41-1/2"`, "rail"},
		{`1 piece @ 41-1/2`, 1, `41-1/2"`, ""},
		{`3 ea @ 41-1/2 left leg`, 3, `41-1/2"`, "left leg"},
		{`2x 7' 4-3/4" hall N`, 2, `7' 4-3/4"`, "hall N"},
		{`2 × 7'4-3/4" hall N`, 2, `7' 4-3/4"`, "hall N"},
		{`2x41-1/2`, 2, `41-1/2"`, ""},
		{`2x4'`, 2, `4'`, ""},
		{`2x13`, 2, `13"`, ""},
		{`2 x 4-1/2`, 2, `4-1/2"`, ""},
		{`(3) 41 1/2 closet`, 3, `41-1/2"`, "closet"},
		{`( 3 )41 1/2 closet`, 3, `41-1/2"`, "closet"},
		{`41-1/2 (3)`, 3, `41-1/2"`, ""},
		{`41-1/2(3) spare`, 3, `41-1/2"`, "spare"},
		{`41-1/2 (spare)`, 1, `41-1/2"`, "(spare)"},
		{`41-1/2, (3)`, 1, `41-1/2"`, "(3)"},
		{`88 3/4, 2nd floor`, 1, `88-3/4"`, "2nd floor"},
		{`88 3/4: -left-`, 1, `88-3/4"`, "-left-"},
		{`41in, 3`, 1, `41"`, "3"},
		{`3 @ 41, 7`, 3, `41"`, "7"},
		{`30, six panel door`, 1, `30"`, "six panel door"},
		{`30 at noon`, 1, `30"`, "at noon"},
		{`12`, 1, `12"`, ""},
		{"\t12'  1-3/8\"   long  wall \r", 1, `12' 1-3/8"`, "long  wall"},
		{`12' 1-3/8" // to the jamb`, 1, `12' 1-3/8"`, ""},
		{`12' 1-3/8" see a//b`, 1, `12' 1-3/8"`, "see a//b"},
		{`1200 mm ganancia número 3`, 1, `1200mm`, "ganancia número 3"},
		{`2 m 253 mm 教室`, 1, `2253mm`, "教室"},
		{`7 feet, 4¾ inches door`, 1, `7' 4-3/4"`, "door"},
		{`12 x-ray room`, 1, `12"`, "x-ray room"},
		{`12 pcsomething`, 1, `12"`, "pcsomething"},
		{`41 #2 pine`, 1, `41"`, "#2 pine"},
		{`41 closet 2`, 1, `41"`, "closet 2"},
		{`41" stop at 7'`, 1, `41"`, "stop at 7'"},
		{`41-1/2 stop at 7'`, 1, `41-1/2"`, "stop at 7'"},
		{`3 @ 41 stop 7-1/2`, 3, `41"`, "stop 7-1/2"},
	} {
		got, err := stock.ParsePieces(c.line, in)
		want := measure.MustParse(c.want)
		if err != nil || len(got) != 1 || got[0].Quantity != c.n || got[0].Length != want || got[0].Label != c.label {
			t.Errorf("%q is read as %+v, %v; want %d of %v %q", c.line, got, err, c.n, want, c.label)
		}
	}
}

// What can be read in two ways, or in none, names its line and its column.
func TestParsePiecesRefuses(t *testing.T) {
	in := measure.Parser{Unit: measure.Inch}
	for _, c := range []struct {
		line   string
		column int
		class  error
	}{
		{`2x4`, 3, measure.ErrAmbiguous},
		{`2 x 4 8'`, 5, measure.ErrAmbiguous},
		{`2x12`, 3, measure.ErrAmbiguous},
		{`41 1/2 12 hall`, 8, measure.ErrAmbiguous},
		{`12,00`, 3, measure.ErrAmbiguous},
		{`41,5 hall`, 3, measure.ErrAmbiguous},
		{`3 - 41`, 3, measure.ErrAmbiguous},
		{`3 41-1/2`, 3, measure.ErrAmbiguous},
		{`3/41-1/2`, 0, nil},
		{`12' x 3`, 5, measure.ErrAmbiguous},
		{`12' ×3`, 5, measure.ErrAmbiguous},
		{`41-1/2 @ ３ hall`, 8, measure.ErrAmbiguous},
		{`12' 3 pcs`, 7, measure.ErrAmbiguous},
		{`12ft 3 EA. hall`, 8, measure.ErrAmbiguous},
		{`(3) 41-1/2 (4)`, 12, measure.ErrAmbiguous},
		{`+3 @ 41`, 4, measure.ErrAmbiguous},
		{`12' 3 pieces`, 7, measure.ErrAmbiguous},
		{`3 legs 41-1/2`, 8, measure.ErrAmbiguous},
		{`3 legs 41.5`, 8, measure.ErrAmbiguous},
		{`3 door legs, 6' 11-11/16"`, 14, measure.ErrAmbiguous},
		{`3, 41.5`, 4, measure.ErrAmbiguous},
		{`3, 41 1/2, closet`, 4, measure.ErrAmbiguous},
		{`41 1/2, 3`, 9, measure.ErrAmbiguous},
		{`3: 7' 4-3/4"`, 4, measure.ErrAmbiguous},
		{`3 at 41 1/2`, 3, measure.ErrAmbiguous},
		{`3, At 41`, 4, measure.ErrAmbiguous},
		{`0 @ 41`, 1, measure.ErrRange},
		{`41 (0)`, 5, measure.ErrRange},
		{`1000000001 @ 41`, 1, measure.ErrRange},
		{`99999999999999999999 @ 41`, 1, measure.ErrRange},
		{`0`, 1, measure.ErrRange},
		{`-41`, 1, measure.ErrRange},
		{`3 @`, 4, measure.ErrSyntax},
		{`3 @ hall`, 0, nil},
		{`hall`, 0, nil},
		{`hall // of the school`, 1, nil},
		{"41 \xff", 4, measure.ErrSyntax},
		{`教室教室 41`, 1, nil},
	} {
		got, err := stock.ParsePieces("12\n\n"+c.line, in)
		line := (*stock.LineError)(nil)
		if got != nil || !errors.As(err, &line) || line.Line != 3 {
			t.Errorf("%q: %v, %v; want an error of line 3", c.line, got, err)
			continue
		}
		if strings.ToValidUTF8(c.line, "") == c.line && line.Text != c.line {
			t.Errorf("%q: the text is %q", c.line, line.Text)
		}
		if c.column > 0 && line.Column != c.column {
			t.Errorf("%q: column %d, want %d: %v", c.line, line.Column, c.column, err)
		}
		if c.class != nil && !errors.Is(err, c.class) {
			t.Errorf("%q: %v; want %v", c.line, err, c.class)
		}
	}
	// Without a unit there is no length to go with.
	if _, err := stock.ParsePieces("41-1/2", measure.Parser{}); !errors.Is(err, measure.ErrUnit) {
		t.Errorf("a bare number without a unit: %v", err)
	}
}

// A count that people write where none is read is never taken for one piece with a label.
func TestParsePiecesLosesNoCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.SampledFrom([]string{"12'", "12' 4-3/4\"", "41-1/2", "41in", "3,5m"}).Draw(t, "length")
		count := rapid.SampledFrom([]string{"x 3", "x3", "X 3", "× 3", "@ 3", "@3", "x ３", "3 pcs", "3 pcs.", "pcs 3", "3 ea", "(3) (3)", "3 @ 3", "3x"}).Draw(t, "count")
		in := measure.Parser{Unit: rapid.SampledFrom([]measure.Length{0, measure.Inch, measure.Millimeter}).Draw(t, "unit"), DecimalComma: true}
		rest := rapid.SampledFrom([]string{"", " hall", ", hall"}).Draw(t, "rest")
		line := length + " " + count + rest
		if p, err := stock.ParsePieces(line, in); err == nil && p[0].Quantity != 3 {
			t.Fatalf("%q is read as %+v", line, p)
		}
	})
}

// All bad lines are named at once, up to a number that can be read.
func TestParsePiecesNamesAllLines(t *testing.T) {
	_, err := stock.ParsePieces("x\n41 in\ny\nz", measure.Parser{})
	var lines []int
	for _, e := range err.(interface{ Unwrap() []error }).Unwrap() {
		lines = append(lines, e.(*stock.LineError).Line)
	}
	if !slices.Equal(lines, []int{1, 3, 4}) {
		t.Errorf("lines %v", lines)
	}
	_, err = stock.ParsePieces(strings.Repeat("x\n", 1000), measure.Parser{})
	if n := len(err.(interface{ Unwrap() []error }).Unwrap()); n != 100 {
		t.Errorf("%d errors", n)
	}
}

// The output of FormatPieces reads back, whatever the labels are; a list that it rejects
// names a field.
func TestCutListRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		label := rapid.OneOf(
			rapid.String(),
			rapid.StringMatching(`[0-9x@,:(#/" '-]{0,6}`),
			rapid.SampledFrom([]string{"", "hall N", "2nd", "-", "(3)", "in", "m", "ft base", "x", "//", "a // b", " a", "#", "教室", ", ,", ": 4", "½", "−3", "1/2", "\u00a0", "a\nb"}),
		)
		pieces := rapid.SliceOf(rapid.Custom(func(t *rapid.T) stock.Piece {
			return stock.Piece{
				Label:    label.Draw(t, "label"),
				Length:   measure.Length(rapid.OneOf(rapid.Int64Range(1, 1<<40), rapid.Int64Range(1, 4000)).Draw(t, "length")) * measure.Length(rapid.SampledFrom([]int64{1, int64(measure.Inch / 16), int64(measure.Millimeter)}).Draw(t, "unit")),
				Quantity: rapid.IntRange(0, 1000).Draw(t, "quantity"),
			}
		})).Draw(t, "pieces")
		style := rapid.SampledFrom([]measure.Style{{}, {Unit: measure.Inch}, {Unit: measure.Millimeter}, {Words: true}, {Typographic: true}, {Hyphen: true, Zeros: true}, {DecimalComma: true}, {Unit: measure.Meter, DecimalComma: true}}).Draw(t, "style")
		text, err := stock.FormatPieces(pieces, style)
		if err != nil {
			bad := (*measure.FieldError)(nil)
			if !errors.As(err, &bad) {
				t.Fatalf("%v is no measure.FieldError", err)
			}
			return
		}
		back, err := stock.ParsePieces(text, measure.Parser{DecimalComma: style.DecimalComma})
		if err != nil || len(back) != len(pieces) {
			t.Fatalf("%q reads back to %d of %d pieces, %v", text, len(back), len(pieces), err)
		}
		for i, p := range pieces {
			if b := back[i]; b.Label != p.Label || b.Length != p.Length || b.Quantity != max(p.Quantity, 1) {
				t.Fatalf("%+v reads back as %+v from %q", p, b, text)
			}
		}
	})
}

// Ordinary labels are never refused.
func TestFormatPiecesTakesLabels(t *testing.T) {
	for _, label := range []string{"", "hall N", "2nd floor", "(3)", "in the hall", "m", "ft base", "x", "#2 pine", "教室", "½ wall", "- left", "E base 1/2", "a//b", ", then", "3 @ 4"} {
		if _, err := stock.FormatPieces([]stock.Piece{{Label: label, Length: measure.Foot}}, measure.Style{}); err != nil {
			t.Errorf("%q: %v", label, err)
		}
	}
	for _, label := range []string{" a", "a ", "a\nb", "a\rb\n", "a // b", "\xff"} {
		if text, err := stock.FormatPieces([]stock.Piece{{Label: label, Length: measure.Foot}}, measure.Style{}); err == nil {
			t.Errorf("%q is written as %q", label, text)
		}
	}
	if text, err := stock.FormatPieces([]stock.Piece{{Length: measure.Inch / 3}}, measure.Style{Graduation: measure.Inch / 16}); err == nil {
		t.Errorf("a rounded length is written as %q", text)
	}
}

// All pieces that cannot be written are named at once.
func TestFormatPiecesNamesAllFaults(t *testing.T) {
	pieces := []stock.Piece{{Label: "a", Length: measure.Foot}, {Label: "a\nb", Quantity: -1}, {Label: " b", Length: measure.Inch / 3, Quantity: 2_000_000_000}}
	for range 200 {
		pieces = append(pieces, stock.Piece{Label: "c", Length: -1})
	}
	text, err := stock.FormatPieces(pieces, measure.Style{Graduation: measure.Inch})
	var fields []string
	for e := range measure.FieldErrors(err) {
		fields = append(fields, e.Field)
	}
	want := []string{"pieces[1].label", "pieces[1].length", "pieces[1].quantity", "pieces[2].label", "pieces[2].length", "pieces[2].quantity", "pieces[3].length"}
	if text != "" || len(fields) != 100 || !slices.Equal(fields[:len(want)], want) {
		t.Errorf("%q, %d faults: %q", text, len(fields), fields)
	}
}

func FuzzParsePieces(f *testing.F) {
	for _, s := range []string{"3 @ 41-1/2 hall\n2x4", "(3) 41 1/2 closet // x", "41-1/2 (3)", "88 3/4, 2nd floor", "# c\n\n12 m", "3 pcs. @ 4'"} {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, text string, inches bool) {
		var in measure.Parser
		if inches {
			in.Unit = measure.Inch
		}
		pieces, err := stock.ParsePieces(text, in)
		if err != nil {
			if pieces != nil {
				t.Fatal("pieces together with an error")
			}
			return
		}
		for _, p := range pieces {
			if p.Length <= 0 || p.Quantity < 1 {
				t.Fatalf("%q gives %+v", text, p)
			}
		}
		out, err := stock.FormatPieces(pieces, measure.Style{})
		if err != nil {
			t.Fatalf("%q is read but not written: %v", text, err)
		}
		back, err := stock.ParsePieces(out, measure.Parser{})
		if err != nil || len(back) != len(pieces) {
			t.Fatalf("%q is written as %q: %v", text, out, err)
		}
	})
}
