package recipes_test

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

func Example_form() {
	for _, body := range []string{
		// What cannot be read.
		`{"sticks": [{"length": "12ft", "price": 1908}, {"length": "16 furlongs", "price": 2608}],
		  "pieces": [{"label": "base", "length": "7ft 4-3/4in", "quantity": 0}], "kerf": "1/8in"}`,
		// What can be read and makes no sense.
		`{"sticks": [{"length": "12ft", "price": 1908}, {"length": "16ft"}],
		  "pieces": [{"label": "base", "length": "0in"}], "kerf": "-1/8in"}`,
	} {
		var job optimize.Problem
		err := measure.UnmarshalStrict([]byte(body), &job)
		if err == nil {
			err = job.Validate()
		}
		for e := range measure.FieldErrors(err) {
			fmt.Printf("%-18s %-18s want %s\n", e.Field, e.Value, e.Want) // Field is the name of the form's field
		}
	}
	// Output:
	// sticks[1].length   16 furlongs        want a length, such as "7ft 4-3/4in"
	// pieces[0].quantity 0                  want 1 or more, or nothing for 1
	// sticks[1].price    0                  want a price, since sticks[0] has one, or rack for what is owned
	// pieces[0].length   0"                 want more than zero
	// kerf               -1/8"              want zero or more
}
