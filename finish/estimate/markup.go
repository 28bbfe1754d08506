package estimate

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// MarginOf returns the margin on price for a markup on cost, k/(1+k), rounded half to even: a
// markup of 50 % is a margin of a third. The markup is 0 % to 1000 %; any other is a
// [*measure.FieldError].
func MarginOf(markup measure.Ratio) (measure.Ratio, error) {
	if err := fault.UpTo("markup", markup, 10*whole); err != nil {
		return 0, err
	}
	_, margin := Terms{Markup: markup}.shares()
	return margin, nil
}

// MarkupOf returns the markup on cost for a margin on price, m/(1-m), rounded half to even: a
// margin of 40 % takes a markup of two thirds. The margin is 0 % to below 100 %; any other is a
// [*measure.FieldError].
func MarkupOf(margin measure.Ratio) (measure.Ratio, error) {
	if err := fault.Below("margin", margin, whole); err != nil {
		return 0, err
	}
	markup, _ := Terms{Margin: margin}.shares()
	return markup, nil
}

// MarkupNeeded returns the markup on direct cost that pays for a year's overhead and profit,
// (overhead + profit) / direct, rounded up to a part per million. The amounts are in cents; a
// result over 1000 % is a [*measure.RangeError].
func MarkupNeeded(overhead, profit, direct int64) (measure.Ratio, error) {
	var bad fault.List
	if overhead < 0 {
		bad.Add("overhead", overhead, wantCents)
	}
	if profit < 0 {
		bad.Add("profit", profit, wantCents)
	}
	if direct <= 0 {
		bad.Add("direct", direct, "whole cents, more than zero")
	}
	if err := bad.Err(); err != nil {
		return 0, err
	}
	sum, ok := natural.Add(overhead, profit)
	if ok {
		r, _, err := measure.Length(sum).MulDiv(int64(whole), direct, measure.RoundUp)
		if err == nil && measure.Ratio(r) <= 10*whole {
			return measure.Ratio(r), nil
		}
	}
	return 0, tooLarge("the markup needed")
}
