package estimate_test

import (
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

// The mason of Estimating in Building Construction (college text), example 7-5: $29, 20
// weeks of 50 hours and 29 of 40, 3 weeks paid off. The text ends with the total of
// 89,436.08; that by 2,160 hours is derived.
func TestMasonOfTheTextbook(t *testing.T) {
	e := estimate.Employment{
		Wage: 2900, Hours: 52 * 40 * hour, Overtime: 20 * 10 * hour,
		Cash: []estimate.YearlyAmount{{"allowance", 12 * 100_00}, {"bonus", 500_00}},
		Burden: []estimate.BurdenItem{
			{Label: "social security", Rate: 62 * percent / 10}, {Label: "Medicare", Rate: 145 * percent / 100},
			{Label: "FUTA", Rate: 8 * percent / 10, Limit: 7000_00}, {Label: "SUTA", Rate: 45 * percent / 10, Limit: 18000_00},
			{Label: "workers' compensation", Rate: 725 * percent / 100}, {Label: "liability", Rate: 75 * percent / 100},
			{Label: "health", Amount: 3600_00}, {Label: "retirement", Rate: 45 * percent / 10},
		},
		Off: []estimate.PaidTime{{"paid weeks", 3 * 40 * hour}},
	}
	r := must[*estimate.BurdenedRate](t)(e.Rate())
	want := []int64{60_320_00, 8_700_00, 1200_00, 500_00, 4_384_64, 1_025_44, 56_00, 810_00, 5_127_20, 530_40, 3_600_00, 3_182_40}
	sum := int64(0)
	for i, l := range r.Lines {
		if i >= len(want) || l.Amount != want[i] {
			t.Errorf("%s %d, want %v", l.Label, l.Amount, want[min(i, len(want)-1)])
		}
		sum += l.Amount
	}
	if r.Wages != 70_720_00 || r.Total != 89_436_08 || sum != r.Total || r.Billable != 2160*hour || r.PerHour != 4141 {
		t.Errorf("wages %d, total %d, %v, %d an hour; want 70,720.00, 89,436.08, 2,160 h, 41.41", r.Wages, r.Total, r.Billable, r.PerHour)
	}
}

// Remodeling, "How Much Does an Employee Cost": $20 with 42.15 % on top is $28.43; of
// 2,080 hours 1,912 are worked, and the vacation of 80 is 4.18 % of them.
func TestCostOfAnEmployee(t *testing.T) {
	e := estimate.Employment{Wage: 2000, Hours: 2080 * hour}
	total := measure.Ratio(0)
	for _, part := range []measure.Ratio{765, 100, 1000, 1200, 400, 200, 200, 100, 250} {
		e.Burden = append(e.Burden, estimate.BurdenItem{Label: "part", Rate: part * percent / 100})
		total += part * percent / 100
	}
	r := must[*estimate.BurdenedRate](t)(e.Rate())
	if total != 4215*percent/100 || r.PerHour != 2843 || r.Burden != 4215*percent/100 {
		t.Errorf("%v on top: %d an hour, %v", total, r.PerHour, r.Burden)
	}
	e.Off = []estimate.PaidTime{{"vacation", 80 * hour}, {"holidays", 48 * hour}, {"sick days", 40 * hour}}
	r = must[*estimate.BurdenedRate](t)(e.Rate())
	if r.Billable != 1912*hour || r.OffShare[0] != 41_841 {
		t.Errorf("%v billable, vacation %v", r.Billable, r.OffShare)
	}
}

func TestEmploymentFaults(t *testing.T) {
	_, err := estimate.Employment{Overtime: -1, Cash: []estimate.YearlyAmount{{"", -1}}, Burden: []estimate.BurdenItem{{Rate: -1, Limit: -1, Amount: -1}}, Off: []estimate.PaidTime{{"", -1}}}.Rate()
	fields(t, err, "wage", "hours", "overtime", "cash[0].label", "cash[0].amount", "burden[0].label", "burden[0].rate", "burden[0].limit", "burden[0].amount", "off[0].label", "off[0].time")
	_, err = estimate.Employment{Wage: 1, Hours: 40 * hour, Off: []estimate.PaidTime{{"a", 20 * hour}, {"b", 20 * hour}}}.Rate()
	fields(t, err, "off[1].time")
}

// fields reports whether an error names just these fields, in order.
func fields(t *testing.T, err error, want ...string) {
	t.Helper()
	var got []string
	for f := range measure.FieldErrors(err) {
		got = append(got, f.Field)
	}
	if len(got) != len(want) {
		t.Errorf("%q, want %q: %v", got, want, err)
		return
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("%q, want %q: %v", got, want, err)
			return
		}
	}
}
