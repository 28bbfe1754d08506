package optimize_test

import (
	"errors"
	"fmt"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// A form shows all missing values before anything is solved.
func ExampleProblem_Validate() {
	p := optimize.Problem{
		Sticks: []stock.Stick{{Length: 8 * measure.Foot, Price: 1250}, {Length: 12 * measure.Foot, TrimEnd: 12 * measure.Foot, Price: 1900}},
		Pieces: []stock.Piece{{Label: "stage front", Length: 7 * measure.Foot, Quantity: -2}},
		Kerf:   measure.Inch / 8,
	}
	for fault := range measure.FieldErrors(p.Validate()) {
		fmt.Println(fault)
	}
	// Output:
	// sticks[1].trim_end is "12'", want less than the length that trim_start leaves of the stick, 12'
	// pieces[0].quantity is -2, want zero (meaning one) or more
}

func TestValidateNil(t *testing.T) {
	var bad *measure.FieldError
	if err := (*optimize.Problem)(nil).Validate(); !errors.As(err, &bad) || bad.Value != "nil" {
		t.Error(err)
	}
}
