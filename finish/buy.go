package finish

import (
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
)

// Purchase describes the packages of one product to buy.
type Purchase struct {
	Product  string         `json:"product"`  // label of the product
	Material string         `json:"material"` // material of the product
	Need     Amount         `json:"need"`     // of the packages' kind
	Used     Amount         `json:"used"`     // taken from what is on hand
	Lines    []PurchaseLine `json:"lines"`    // in the product's order; sizes not bought are omitted
	Bought   Amount         `json:"bought"`   // in whole packages
	Left     Amount         `json:"left"`     // left over after the job, of the material on hand and bought
	Packages int64          `json:"packages"` // total packages of all sizes
	Cost     int64          `json:"cost"`     // in cents

	// Proven reports that no mix is cheaper, or equally cheap with fewer packages,
	// or equal in both with less left over. The problem is NP-hard, so the search
	// is limited. Proven is false only if all of these conditions hold: there are
	// three sizes or more, none of which another replaces more cheaply; the need is
	// over 2^19 times the greatest common divisor of the sizes; the branch and
	// bound does not end within a million nodes, which takes many packages of
	// almost the same value; and the size with the best value is over 2^18 common
	// divisors, or a price over 2^34, or the ideal mix by remainders exceeds the
	// need. Ounces and milliliters mixed by the thousand can cause that. The mix is
	// then the best one found.
	Proven bool `json:"proven"`
}

// PurchaseLine is a number of packages of one size.
type PurchaseLine struct {
	Package string `json:"package"` // its label, or its size in words
	Size    Amount `json:"size"`    // of each
	Count   int64  `json:"count"`   // number of packages; > 0
	Price   int64  `json:"price"`   // each, in cents
	Cost    int64  `json:"cost"`    // total, in cents
}

// Buy returns the whole packages of p that cover need at the least cost. Material
// on hand is used first. Ties in cost are broken by the fewest packages, then by
// the least left over, and then always in the same way. A need of another kind
// than the packages is converted by p.Yield, in either direction. The error joins a
// [*measure.FieldError] for each invalid field, or is a [*measure.RangeError].
func Buy(need Amount, p Product) (*Purchase, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	if need.n < 0 {
		return nil, fault.Field("need", need, "zero or more")
	}
	amount, err := p.convert(need)
	if err != nil {
		return nil, err
	}
	return p.buy(words{}, amount)
}

// buy covers an amount of the packages' kind, for a valid product.
func (p *Product) buy(w words, amount Amount) (*Purchase, error) {
	dim := p.Packages[0].Size.dim
	buy := &Purchase{Product: p.Label, Material: p.Material, Need: amount, Proven: true}
	buy.Used = Amount{dim, min(amount.n, p.OnHand.n)}
	rest := amount.n - buy.Used.n
	if rest > 0 {
		rest = max(rest, p.Minimum.n)
	}
	sizes := make([]size, len(p.Packages))
	for i, k := range p.Packages {
		sizes[i] = size{n: k.Size.n, price: k.Price}
	}
	counts, proven, ok := cover(rest, sizes)
	if !ok {
		return nil, tooLarge("the purchase of " + p.Label + " for " + amount.String())
	}
	buy.Proven = proven
	bought := int64(0)
	for i, n := range counts {
		if n == 0 {
			continue
		}
		k := p.Packages[i]
		cost, ok1 := natural.Mul(n, k.Price)
		total, ok2 := natural.Add(buy.Cost, cost)
		much, ok3 := natural.Mul(n, k.Size.n)
		sum, ok4 := natural.Add(bought, much)
		all, ok5 := natural.Add(buy.Packages, n)
		if !(ok1 && ok2 && ok3 && ok4 && ok5) {
			return nil, tooLarge("the purchase of " + p.Label + " for " + amount.String())
		}
		buy.Cost, bought, buy.Packages = total, sum, all
		buy.Lines = append(buy.Lines, PurchaseLine{Package: k.name(w), Size: k.Size, Count: n, Price: k.Price, Cost: cost})
	}
	left, ok := natural.Add(bought-(amount.n-buy.Used.n), p.OnHand.n-buy.Used.n)
	if !ok {
		left = math.MaxInt64
	}
	buy.Bought, buy.Left = Amount{dim, bought}, Amount{dim, left}
	return buy, nil
}

// convert expresses need in the kind of the packages.
func (p *Product) convert(need Amount) (Amount, error) {
	dim := p.Packages[0].Size.dim
	switch {
	case need.dim == dim:
		return need, nil
	case need.n == 0:
		return Amount{dim: dim}, nil
	case p.Yield.Covers.dim == need.dim && p.Yield.Of.dim == dim && !p.Yield.IsZero():
		return p.Yield.Material(need)
	case p.Yield.Covers.dim == dim && p.Yield.Of.dim == need.dim && !p.Yield.IsZero():
		return Yield{Covers: p.Yield.Of, Of: p.Yield.Covers}.Material(need)
	}
	return Amount{}, wrongKind("need", need, dim)
}
