package estimate

import (
	"math/big"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Employment is the yearly cost of a person and the billable hours, from which the burdened
// hourly rate follows. Rates of taxes and insurance change every year and differ by place: look
// yours up.
type Employment struct {
	Wage     int64            `json:"wage"`               // cents per hour, before deductions; > 0
	Hours    measure.Duration `json:"hours"`              // paid hours in a year at the wage, paid time off included; > 0
	Overtime measure.Duration `json:"overtime,omitempty"` // paid hours in a year above that, at a wage and a half (29 U.S.C. 207, from memory); >= 0
	Cash     []YearlyAmount   `json:"cash,omitempty"`     // paid with the wages and taxed like them, such as a bonus
	Burden   []BurdenItem     `json:"burden,omitempty"`   // paid on the wages
	Off      []PaidTime       `json:"off,omitempty"`      // part of Hours that is not billable
}

// YearlyAmount is a yearly amount.
type YearlyAmount struct {
	Label  string `json:"label"`  // required
	Amount int64  `json:"amount"` // in cents; >= 0
}

// BurdenItem is a tax, an insurance or a benefit: a share of the wages, up to a limit if there
// is one, and a yearly amount.
type BurdenItem struct {
	Label  string        `json:"label"`            // required
	Rate   measure.Ratio `json:"rate,omitempty"`   // of the wages; 0-1000 %
	Limit  int64         `json:"limit,omitempty"`  // wages of a year on which it is due, in cents; 0 = all
	Amount int64         `json:"amount,omitempty"` // additional yearly amount, in cents; >= 0
	Source string        `json:"source,omitempty"` // source of the rate, with its date
}

// PaidTime is paid time without work on a job.
type PaidTime struct {
	Label string           `json:"label"` // required
	Time  measure.Duration `json:"time"`  // in a year; >= 0
}

// BurdenedRate is the cost of an hour of labor, and its parts.
type BurdenedRate struct {
	Lines    []YearlyAmount   `json:"lines"`     // wages, cash and every item; sum to Total
	Wages    int64            `json:"wages"`     // yearly, with cash, in cents
	Total    int64            `json:"total"`     // yearly, with burden, in cents
	Billable measure.Duration `json:"billable"`  // yearly hours
	PerHour  int64            `json:"per_hour"`  // Total per billable hour, a half up: the wage for [Terms], without burden
	Burden   measure.Ratio    `json:"burden"`    // excess of PerHour over the wage, as a share of the wage, half to even
	OffShare []measure.Ratio  `json:"off_share"` // share of each time off in the hours billable at the wage, half to even
}

func (e Employment) check() error {
	var bad fault.List
	if e.Wage <= 0 {
		bad.Add("wage", e.Wage, "whole cents, more than zero")
	}
	if e.Hours <= 0 {
		bad.Add("hours", e.Hours, "more than zero")
	}
	if e.Overtime < 0 {
		bad.Add("overtime", e.Overtime, "zero or more")
	}
	for i, c := range e.Cash {
		at := "cash[" + strconv.Itoa(i) + "]."
		if c.Label == "" {
			bad.Add(at+"label", c.Label, "a name")
		}
		if c.Amount < 0 {
			bad.Add(at+"amount", c.Amount, wantCents)
		}
	}
	for i, b := range e.Burden {
		at := "burden[" + strconv.Itoa(i) + "]"
		if b.Label == "" {
			bad.Add(at+".label", b.Label, "a name")
		}
		bad.Under(at, fault.UpTo("rate", b.Rate, 10*whole))
		if b.Limit < 0 {
			bad.Add(at+".limit", b.Limit, wantCents)
		}
		if b.Amount < 0 {
			bad.Add(at+".amount", b.Amount, wantCents)
		}
	}
	off := measure.Duration(0)
	for i, o := range e.Off {
		at := "off[" + strconv.Itoa(i) + "]."
		if o.Label == "" {
			bad.Add(at+"label", o.Label, "a name")
		}
		switch {
		case o.Time < 0:
			bad.Add(at+"time", o.Time, "zero or more")
		case o.Time >= max(0, e.Hours-off) && e.Hours > 0:
			bad.Add(at+"time", o.Time, "less: hours are left to work")
		default:
			off += o.Time
		}
	}
	return bad.Err()
}

// Rate computes the burdened rate. Every line is rounded once, a half up, and so is the rate. The
// error joins a [*measure.FieldError] for each invalid field, or is a [*measure.RangeError].
func (e Employment) Rate() (*BurdenedRate, error) {
	if err := e.check(); err != nil {
		return nil, err
	}
	r := &BurdenedRate{}
	ok := true
	line := func(label string, x *big.Rat) int64 {
		n, fits := roundRat(x, true)
		sum, adds := natural.Add(r.Total, n)
		ok = ok && fits && adds
		r.Total = sum
		r.Lines = append(r.Lines, YearlyAmount{label, n})
		return n
	}
	pay := func(t measure.Duration, times *big.Rat) *big.Rat {
		x := big.NewRat(int64(t), int64(hour))
		return x.Mul(x, times.Mul(times, new(big.Rat).SetInt64(e.Wage)))
	}
	line("wages", pay(e.Hours, big.NewRat(1, 1)))
	if e.Overtime > 0 {
		line("overtime", pay(e.Overtime, big.NewRat(3, 2)))
	}
	for _, c := range e.Cash {
		line(c.Label, new(big.Rat).SetInt64(c.Amount))
	}
	r.Wages = r.Total
	for _, b := range e.Burden {
		on := r.Wages
		if b.Limit > 0 {
			on = min(on, b.Limit)
		}
		x := ratio(b.Rate)
		x.Mul(x, new(big.Rat).SetInt64(on))
		line(b.Label, x.Add(x, new(big.Rat).SetInt64(b.Amount)))
	}
	worked := e.Hours
	for _, o := range e.Off {
		worked -= o.Time
	}
	sum, adds := natural.Add(int64(worked), int64(e.Overtime))
	if !ok || !adds {
		return nil, tooLarge("the cost of a year")
	}
	r.Billable = measure.Duration(sum)
	per := big.NewRat(int64(hour), sum)
	r.PerHour, ok = roundRat(per.Mul(per, new(big.Rat).SetInt64(r.Total)), true)
	burden, fits := mulDiv(r.PerHour-e.Wage, int64(whole), e.Wage)
	if !ok || !fits {
		return nil, tooLarge("the rate of an hour")
	}
	r.Burden = measure.Ratio(burden)
	for _, o := range e.Off {
		s, fits := mulDiv(int64(o.Time), int64(whole), int64(worked))
		if !fits {
			return nil, tooLarge("the share of " + o.Label)
		}
		r.OffShare = append(r.OffShare, measure.Ratio(s))
	}
	return r, nil
}
