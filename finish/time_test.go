package finish_test

import (
	"slices"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
)

const (
	minute = measure.Duration(time.Minute)
	hour   = measure.Duration(time.Hour)
)

// timed is how long the steps of a list take, each and together.
func timed(t interface{ Fatal(...any) }, l *finish.List, rates ...labor.Rate) (each []measure.Duration, total measure.Duration) {
	lines, err := labor.Lines(nil, nil, l.Steps, labor.Rates{Table: rates}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if total, err = labor.Total(lines); err != nil {
		t.Fatal(err)
	}
	for _, line := range lines {
		each = append(each, line.Labor)
	}
	return each, total
}

func hours(t interface{ Fatal(...any) }, l *finish.List, rates ...labor.Rate) measure.Duration {
	_, total := timed(t, l, rates...)
	return total
}

// withJoints are the usual rates with another time for every joint.
func withJoints(t interface{ Fatal(...any) }, time func() measure.Duration) []labor.Rate {
	rates := slices.DeleteFunc(labor.DefaultRates().Table, func(r labor.Rate) bool { return r.Event == labor.EventJoint })
	for _, task := range everyTask(t) {
		if d := time(); d > 0 {
			rates = append(rates, labor.Rate{Task: task, Event: labor.EventJoint, Time: d})
		}
	}
	return rates
}

// quantityOf and yieldOf read the quantities of a test.
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
