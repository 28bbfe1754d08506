package finish_test

import (
	"testing"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

const (
	minute = measure.Duration(time.Minute)
	hour   = measure.Duration(time.Hour)
)

// labor is how long the steps of a list take.
func labor(t interface{ Fatal(...any) }, l *finish.List, rates ...estimate.Rate) ([]measure.Duration, measure.Duration) {
	each, total, err := estimate.Labor(l.Steps, rates)
	if err != nil {
		t.Fatal(err)
	}
	return each, total
}

func hours(t testing.TB, l *finish.List, rates ...estimate.Rate) measure.Duration {
	_, total := labor(t, l, rates...)
	return total
}

// quantityOf and yieldOf read what a test means.
func quantityOf(text string) finish.Amount {
	a, err := finish.ParseAmount(text)
	if err != nil {
		panic(err)
	}
	return a
}

func yieldOf(text string) finish.Yield {
	y, err := finish.ParseYield(text)
	if err != nil {
		panic(err)
	}
	return y
}
