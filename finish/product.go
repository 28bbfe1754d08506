package finish

import (
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
)

// Product is a product to buy in one or more package sizes.
type Product struct {
	Label    string    `json:"label"`            // its name; required
	Material string    `json:"material"`         // its purpose, such as "caulk"; not empty
	Yield    Yield     `json:"yield,omitzero"`   // work per amount, if the need and the packages are of different kinds; zero = not stated
	Packages []Package `json:"packages"`         // at least one
	OnHand   Amount    `json:"on_hand,omitzero"` // opened or left over, used up first; of the packages' kind; >= 0
	Minimum  Amount    `json:"minimum,omitzero"` // smallest order, of the packages' kind; >= 0
	Dry      Drying    `json:"dry,omitzero"`     // from its sheet; zero = not stated

	// DryAt are the rows of its sheet if that gives drying times by temperature and
	// humidity, in any order; see DryIn.
	DryAt []DryingRow `json:"dry_at,omitempty"`

	Notes   []string `json:"notes,omitempty"`   // shelf life, cleaning up: printed, not used in computations
	Hazards []Hazard `json:"hazards,omitempty"` // hazards to warn about
}

// Package is one size in which a product is sold, in any number.
type Package struct {
	Label string `json:"label"` // its name; "" = its size
	Size  Amount `json:"size"`  // > 0
	Price int64  `json:"price"` // each, in cents; >= 0
}

func (p Package) name(w words) string {
	if p.Label == "" {
		return w.amount(p.Size)
	}
	return p.Label
}

func (p Package) sameName(o Package) bool {
	if p.Label == "" && o.Label == "" {
		return p.Size == o.Size
	}
	return p.name(words{}) == o.name(words{})
}

// wantCents describes a valid amount of money.
const wantCents = "whole cents, zero or more"

// maxPackages bounds the sizes of one product; a real product has a few.
const maxPackages = 64

// Validate returns nil if p is valid, or every fault as joined
// [*measure.FieldError] values, at most 100.
func (p Product) Validate() error {
	var f fault.List
	if p.Label == "" {
		f.Add("label", p.Label, "a name")
	}
	if p.Material == "" {
		f.Add("material", p.Material, "a name")
	}
	if !p.Yield.IsZero() {
		f.Under("", p.Yield.check("yield"))
	}
	packages := p.Packages
	if len(packages) == 0 || len(packages) > maxPackages {
		f.Add("packages", len(packages), "1 to 64 sizes")
		packages = nil
	}
	var dim dimension
	if len(packages) > 0 {
		dim = packages[0].Size.dim
	}
	for i, k := range packages {
		at := "packages[" + strconv.Itoa(i) + "]"
		if slices.ContainsFunc(packages[:i], k.sameName) {
			f.Add(at+".label", k.name(words{}), "a label that no other has")
		}
		switch {
		case k.Size.n <= 0:
			f.Add(at+".size", k.Size, "more than zero")
		case k.Size.dim != dim:
			f.Under("", wrongKind(at+".size", k.Size, dim))
		}
		if k.Price < 0 {
			f.Add(at+".price", k.Price, wantCents)
		}
	}
	for _, a := range [...]struct {
		field string
		v     Amount
	}{{"on_hand", p.OnHand}, {"minimum", p.Minimum}} {
		switch {
		case a.v.n < 0:
			f.Add(a.field, a.v, "zero or more")
		case a.v.n > 0 && len(packages) > 0 && a.v.dim != dim:
			f.Under("", wrongKind(a.field, a.v, dim))
		}
	}
	f.Under("dry", p.Dry.check())
	for i, r := range p.DryAt {
		f.Under("dry_at["+strconv.Itoa(i)+"]", r.check())
	}
	f.Under("", checkHazards(p.Hazards))
	return f.Err()
}
