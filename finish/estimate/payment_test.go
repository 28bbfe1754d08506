package estimate_test

import (
	"math/rand/v2"
	"testing"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

func thirds() []estimate.PaymentStage {
	return []estimate.PaymentStage{{Label: "base hung", Done: 40 * percent}, {Label: "crown hung", Done: 75 * percent}, {Label: "painted", Done: one}}
}

// 10,000 with 10 % held (derived): 40 % done pays 3,600; at 75 % 6,750 less 3,600; at the
// end 2,250; the release 1,000.
func TestProgressWithRetainage(t *testing.T) {
	s := must[*estimate.PaymentSchedule](t)(estimate.NewPaymentSchedule(10_000_00, estimate.PaymentTerms{Stages: thirds(), Retainage: 10 * percent}))
	want := []int64{3_600_00, 3_150_00, 2_250_00, 1_000_00}
	if len(s.Payments) != len(want) || s.Findings != nil {
		t.Fatalf("%+v", s)
	}
	for i, p := range s.Payments {
		if p.Due != want[i] {
			t.Errorf("payment %d: %+v, want %d", i, p, want[i])
		}
	}
}

// California, Business and Professions Code 7159, 7159.5: the lower of $1,000 and 10 %.
func TestDownPaymentLimit(t *testing.T) {
	limit := estimate.DownLimits()[0]
	for _, c := range []struct {
		price, down int64
		asked       measure.Ratio
		found       bool
	}{
		{15_000_00, 1_000_00, 10 * percent, true}, {8_000_00, 800_00, 10 * percent, false}, {8_000_00, 800_00, 50 * percent, true},
		{8_000_00, 400_00, 5 * percent, false}, {99, 9, 10 * percent, true}, // rounded down: 9.9 is no more than 10 %
	} {
		s := must[*estimate.PaymentSchedule](t)(estimate.NewPaymentSchedule(c.price, estimate.PaymentTerms{Down: c.asked, DownLimit: limit, Stages: thirds()}))
		if s.Payments[0].Due != c.down || (len(s.Findings) > 0) != c.found || c.found && s.Findings[0].Code != estimate.FindingDownPayment {
			t.Errorf("%d: %+v", c.price, s)
		}
	}
}

// However a price is divided, payments sum to it, none is negative, and after the down payment none is
// ahead of the work, minus the retainage.
func TestPaymentsSumToThePrice(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for range 10_000 {
		price := r.Int64N([]int64{3, 100, 1_000_000, 1 << 60}[r.IntN(4)])
		terms := estimate.PaymentTerms{Down: measure.Ratio(r.Int64N(int64(one) + 1)), Retainage: measure.Ratio(r.Int64N(200_000))}
		if r.IntN(2) == 0 {
			terms.DownLimit = estimate.DownLimits()[0]
		}
		done := measure.Ratio(0)
		for range r.IntN(6) {
			done += 1 + measure.Ratio(r.Int64N(150_000))
			terms.Stages = append(terms.Stages, estimate.PaymentStage{Label: "stage", Done: done})
		}
		if len(terms.Stages) > 0 {
			terms.Stages = append(terms.Stages, estimate.PaymentStage{Label: "end", Done: one})
		}
		s := must[*estimate.PaymentSchedule](t)(estimate.NewPaymentSchedule(price, terms))
		sum := int64(0)
		down := int64(0)
		for i, p := range s.Payments {
			sum += p.Due
			if terms.Down > 0 && i == 0 {
				down = p.Due
			} else if p.Paid > max(down, p.Earned-p.Held) {
				t.Fatalf("%d, %+v: %+v is ahead of the work", price, terms, p)
			}
			if p.Due < 0 || p.Paid != sum || p.Earned > price {
				t.Fatalf("%d, %+v: %+v", price, terms, p)
			}
		}
		if sum != price {
			t.Fatalf("%d, %+v: %+v sums to %d", price, terms, s, sum)
		}
	}
}

func TestPaymentFaults(t *testing.T) {
	_, err := estimate.NewPaymentSchedule(-1, estimate.PaymentTerms{Down: -1, Retainage: one, DownLimit: estimate.DownLimit{Share: -1, Amount: -1},
		Stages: []estimate.PaymentStage{{"", 50 * percent}, {"b", 50 * percent}, {"c", 90 * percent}}, Locale: measure.Locale{Currency: measure.Currency{Minor: 7}}})
	fields(t, err, "price", "terms.down", "terms.retainage", "terms.down_limit.share", "terms.down_limit.amount", "terms.stages[0].label", "terms.stages[1].done", "terms.stages[2].done", "terms.locale.currency.minor")
}
