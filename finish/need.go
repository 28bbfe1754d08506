package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// whole is one, 100 %.
const whole = 100 * measure.Percent

// Waste is an allowance for material that is spilled, torn, left in the tube or
// spoiled. The zero Waste allows nothing. A percentage can mean two things, which
// give different answers for the same number (at 15 %, 115 and 117.6).
type Waste struct {
	Share measure.Ratio `json:"share"` // at least 0; at most 1000 % of the need, less than 100 % of the purchase

	// OfPurchase is set if Share is a share of the purchase: buy need / (1 - Share).
	// The US Army course EN01136, lesson 5, divides by .85 for 15 % waste. Otherwise
	// Share is added to the need: buy need x (1 + Share), as the US Army
	// correspondence course EN0069A estimates nails and lumber.
	OfPurchase bool `json:"of_purchase,omitempty"`
}

// Apply returns the amount to buy so that net remains, rounded up.
func (w Waste) Apply(net Amount) (Amount, error) {
	num, den := int64(whole), int64(whole)
	if w.OfPurchase {
		if err := fault.Below("waste.share", w.Share, whole); err != nil {
			return Amount{}, err
		}
		den -= int64(w.Share)
	} else {
		if err := fault.UpTo("waste.share", w.Share, 10*whole); err != nil {
			return Amount{}, err
		}
		num += int64(w.Share)
	}
	n, ok := natural.Quotient(natural.Up, []int64{net.n, num}, []int64{den})
	if !ok {
		return Amount{}, tooLarge("waste on " + net.String())
	}
	return Amount{net.dim, n}, nil
}

// Need is the amount of a material that a job takes, with the reasoning.
type Need struct {
	Material  string   `json:"material"`            // its name, such as "caulk"
	Net       Amount   `json:"net"`                 // exact, before waste
	Waste     Waste    `json:"waste,omitzero"`      // waste applied to Net
	Gross     Amount   `json:"gross"`               // with waste: the amount to cover
	Reasoning []string `json:"reasoning,omitempty"` // the reasoning, one line per step
}

// need completes a Need: it applies the waste and adds the line about it.
func (w words) need(material string, net Amount, waste Waste, why ...string) (Need, error) {
	gross, err := waste.Apply(net)
	if err != nil {
		return Need{}, err
	}
	lines := append(make([]string, 0, len(why)+1), why...)
	switch {
	case waste.Share == 0:
	case !waste.OfPurchase:
		lines = append(lines, "plus waste, "+w.FormatRatio(waste.Share)+" of the need: "+w.amount(gross))
	default:
		lines = append(lines, "plus waste, "+w.FormatRatio(waste.Share)+" of the purchase: "+w.amount(gross))
	}
	return Need{Material: material, Net: net, Waste: waste, Gross: gross, Reasoning: lines}, nil
}

func or(s, usual string) string {
	if s == "" {
		return usual
	}
	return s
}
