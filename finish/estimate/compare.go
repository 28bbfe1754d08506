package estimate

import (
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
)

// Comparison is a comparison of several alternatives.
type Comparison struct {
	Quotes []Quote `json:"quotes"` // in the order of the alternatives
	Order  []int   `json:"order"`  // indices into Quotes, cheapest per installed foot first
}

// Compare prices each alternative under the same terms. The order is by exact price per net
// installed foot, then as given. Labels must differ. All faults of terms and alternatives are
// reported together.
func Compare(alternatives []Alternative, t Terms) (*Comparison, error) {
	var bad fault.List
	bad.Under("terms", t.check())
	seen := map[string]bool{}
	for i, c := range alternatives {
		at := "alternatives[" + strconv.Itoa(i) + "]"
		bad.Under(at, c.check())
		bad.Under(at, c.checkNet())
		if seen[c.Label] && c.Label != "" {
			bad.Add(at+".label", c.Label, "a label that no other has")
		}
		seen[c.Label] = true
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	var cmp Comparison
	for i, c := range alternatives {
		q, err := NewQuote(c, t)
		if err != nil {
			return nil, fault.Under("alternatives["+strconv.Itoa(i)+"]", err)
		}
		cmp.Quotes = append(cmp.Quotes, *q)
		cmp.Order = append(cmp.Order, i)
	}
	slices.SortStableFunc(cmp.Order, func(a, b int) int {
		x, y := cmp.Quotes[a], cmp.Quotes[b]
		return natural.CompareProducts(x.Total, int64(y.Net), y.Total, int64(x.Net))
	})
	return &cmp, nil
}
