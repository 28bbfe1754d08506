package recipes_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

func Example_typed() {
	// Numbers without a unit are inches.
	inches := measure.Parser{Unit: measure.Inch}

	pieces, err := stock.ParsePieces(`
		# casing of the classroom
		6 @ 66-1/2" window leg
		3 x 35 window head
		2 @ 6' 11-11/16" door leg
		41 1/2" (2), cloakroom
	`, inches)
	for _, p := range pieces {
		fmt.Println(p.Quantity, "of", p.Length, p.Label)
	}
	fmt.Println(err)

	_, err = stock.ParsePieces("6 @ 66-1/2\" leg\n2x4\n7' 4-3/4 shelf\n3 legs 41-1/2", inches)
	for line := range stock.LineErrors(err) {
		fmt.Println(line) // and line.Line, line.Column, line.Text for a form
	}
	// Output:
	// 6 of 5' 6-1/2" window leg
	// 3 of 2' 11" window head
	// 2 of 6' 11-11/16" door leg
	// 2 of 3' 5-1/2" cloakroom
	// <nil>
	// line 2, column 3: ambiguous at "4": "x" before a small whole number could give the size of a board; write @ before a length, or its unit
	// line 4, column 8: ambiguous at "41-1/2": a whole number without a unit, and a length at the end: the number could be a count; write 3 @ 41-1/2 legs, or give the number its unit
}
