package optimize_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A form asks for what is missing before anything is solved.
func ExampleProblem_Validate() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 1250}, {Length: 12 * measure.Foot, TrimEnd: 12 * measure.Foot, Price: 1900}},
		Pieces: []stock.Piece{{Label: "stage front", Length: 7 * measure.Foot}},
		Kerf:   measure.Inch / 8,
	}
	fmt.Println(p.Validate())
	// Output: optimize: Sticks[1].TrimEnd is 12', want less than what TrimStart leaves of the stick, 12'
}
