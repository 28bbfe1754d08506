package finish

import (
	"slices"
	"strconv"
)

// Comparison is several candidates side by side.
type Comparison struct {
	Quotes []Quote `json:"quotes"` // in the order of the candidates
	Order  []int   `json:"order"`  // indices into Quotes, cheapest per installed foot first
}

// Compare prices each candidate under the same terms. The order is by exact
// price per net installed foot, then as given. Labels must differ.
func Compare(candidates []Candidate, t Terms) (*Comparison, error) {
	if err := t.check(); err != nil {
		return nil, within("terms", err)
	}
	var cmp Comparison
	for i, c := range candidates {
		at := "candidates[" + strconv.Itoa(i) + "]"
		for _, other := range candidates[:i] {
			if other.Label == c.Label {
				return nil, bad(at+".label", c.Label, "a label that no other has")
			}
		}
		q, err := Price(c, t)
		if err != nil {
			return nil, within(at, err)
		}
		cmp.Quotes = append(cmp.Quotes, *q)
		cmp.Order = append(cmp.Order, i)
	}
	slices.SortStableFunc(cmp.Order, func(a, b int) int {
		x, y := cmp.Quotes[a], cmp.Quotes[b]
		return cmpProducts(x.Total, int64(y.Net), y.Total, int64(x.Net))
	})
	return &cmp, nil
}
