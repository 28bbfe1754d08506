package finish

import (
	"fmt"

	"example.com/longpoint/measure"
)

// OverflowError reports a result outside the range of its type.
type OverflowError struct {
	What string // the amount that does not fit
}

// Error says what does not fit.
func (e *OverflowError) Error() string {
	return "finish: " + e.What + " is too large to represent"
}

// DimensionError reports an amount of the wrong kind: a weight where a volume
// is needed, say.
type DimensionError struct {
	Field string    // path by JSON names
	Value Amount    // the amount
	Want  Dimension // the kind that would be right
}

// Error names the field, the amount and the kind that would be right.
func (e *DimensionError) Error() string {
	return fmt.Sprintf("finish: %s is %q, %s, want %s", e.Field, e.Value, withArticle(e.Value.Dimension()), withArticle(e.Want))
}

func withArticle(d Dimension) string {
	if d == ByArea {
		return "an " + d.String()
	}
	return "a " + d.String()
}

// MissingProductError reports a material that no product on the shelf
// supplies.
type MissingProductError struct {
	Material string // as the step asks for it
	Product  string // the product the step insists on, if any
}

// Error names the material or the product that is missing.
func (e *MissingProductError) Error() string {
	if e.Product != "" {
		return fmt.Sprintf("finish: products: none is labeled %q with material %q", e.Product, e.Material)
	}
	return fmt.Sprintf("finish: products: none has material %q", e.Material)
}

func bad(field string, value any, want string) error {
	return &measure.FieldError{Field: field, Value: fmt.Sprint(value), Want: want}
}

// within prefixes the field of err with the path of the value that holds it.
func within(path string, err error) error {
	switch e := err.(type) {
	case *measure.FieldError:
		return e.Under(path)
	case *DimensionError:
		return &DimensionError{Field: path + "." + e.Field, Value: e.Value, Want: e.Want}
	case *OverflowError:
		return &OverflowError{What: path + "." + e.What}
	}
	return err
}
