package estimate_test

import (
	"fmt"
	"time"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// A form that asks again for what is probably a mistake, by its code.
func ExampleFinding() {
	q, err := estimate.NewQuote(estimate.Alternative{Label: "pine base", Labor: measure.Duration(6 * time.Hour)}, estimate.Terms{Wage: 45})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range q.Findings {
		switch f.Code {
		case estimate.FindingLowWage:
			fmt.Println("Is the wage", f.Value, "cents or", f.Value, "dollars?")
		case estimate.FindingDownPayment, estimate.FindingLoggedHours: // of a payment schedule and of a log
		default:
			fmt.Println(f.Reason)
		}
	}
	// Output:
	// Is the wage 45 cents or 45 dollars?
}
