package stock

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/measure"
)

// Rack holds the offcuts that are kept from job to job. It is plain data that
// reads and writes JSON; the zero value is an empty rack.
type Rack struct {
	// Keep is the shortest offcut worth keeping where no rule says otherwise; zero
	// keeps everything.
	Keep    measure.Length `json:"keep,omitzero"`
	Rules   []KeepRule     `json:"rules,omitempty"`
	Offcuts []Offcut       `json:"offcuts,omitempty"`

	// Applied holds the changes that were applied, oldest first, so that none is applied
	// twice. See Apply.
	Applied []RackRecord `json:"done,omitempty"`
}

// Offcut is one length on the rack, Count times over (0 = 1).
type Offcut struct {
	// ID tells the offcut apart from all others on the rack, for ever. Apply gives one to
	// what a change leaves; it is empty for what was put there by hand or before offcuts had
	// one.
	ID string `json:"id,omitempty"`

	Label    string         `json:"label,omitempty"`
	Profile  string         `json:"profile"`
	Material string         `json:"material,omitempty"`
	Length   measure.Length `json:"length"`
	Count    int            `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // in JSON a zero is an error
}

// UnmarshalJSON reads an object by the names of the fields. A zero count is a *FieldError.
func (o *Offcut) UnmarshalJSON(data []byte) error {
	type plain Offcut
	return unmarshal(data, (*plain)(o))
}

// KeepRule is the shortest offcut worth keeping of a profile, of a material, or of a
// profile in a material. What is empty matches everything.
type KeepRule struct {
	Profile  string         `json:"profile,omitempty"`
	Material string         `json:"material,omitempty"`
	Keep     measure.Length `json:"keep"`
	Never    bool           `json:"never,omitempty"` // none is worth keeping
}

// Keeps reports whether an offcut is worth keeping. Of the rules that match, one that
// names the profile goes before one that names the material only, one that names both
// before either, and of equal ones the later; without any, Rack.Keep counts. An offcut
// without length is not kept.
func (r Rack) Keeps(o Offcut) bool { return r.keeping()(o) }

// keeping returns Keeps for as many offcuts as one likes.
func (r Rack) keeping() func(Offcut) bool {
	type key struct{ profile, material string }
	rules := make(map[key]KeepRule, len(r.Rules)+1)
	rules[key{}] = KeepRule{Keep: r.Keep}
	for _, k := range r.Rules {
		rules[key{k.Profile, k.Material}] = k
	}
	return func(o Offcut) bool {
		best := rules[key{}]
		for _, k := range []key{{o.Profile, o.Material}, {o.Profile, ""}, {"", o.Material}} {
			if rule, ok := rules[k]; ok {
				best = rule
				break
			}
		}
		return !best.Never && o.Length > 0 && o.Length >= best.Keep
	}
}

// Sticks returns the offcuts of a profile, whatever their material, as sticks without a
// price, longest first, each limited to what is there. Offcuts without length or with a
// negative count are left out: see Validate.
func (r Rack) Sticks(profile string) []Stick {
	return r.sticks(func(o Offcut) bool { return o.Profile == profile })
}

// SticksIn is Sticks for one material. An empty one stands for the offcuts whose material is
// not named, not for any.
func (r Rack) SticksIn(profile, material string) []Stick {
	return r.sticks(func(o Offcut) bool { return o.Profile == profile && o.Material == material })
}

func (r Rack) sticks(wanted func(Offcut) bool) []Stick {
	var sticks []Stick
	for _, o := range r.Offcuts {
		if !wanted(o) || o.Length <= 0 || o.Count < 0 {
			continue
		}
		sticks = append(sticks, Stick{
			ID: o.ID, Label: o.Label, Length: o.Length, Limit: max(1, o.Count), Profile: o.Profile, Material: o.Material, Rack: true,
		})
	}
	slices.SortStableFunc(sticks, func(a, b Stick) int { return cmp.Compare(b.Length, a.Length) })
	return sticks
}

// Validate returns nil where everything on the rack can be used, or a *FieldError for the
// first thing that cannot: a length that is not positive, a negative count, a profile that
// is not named where others are, an ID that another has, a negative length to keep, a change
// without an ID or with that of another. Whoever reads a rack that people edit calls it before anything else.
func (r Rack) Validate() error {
	bad := func(value, want, field string, i ...any) error {
		return &FieldError{Field: fmt.Sprintf(field, i...), Value: value, Want: want}
	}
	const keep, id = "zero (for everything) or more", "a name that no other change has"
	if r.Keep < 0 {
		return bad(r.Keep.About(), keep, "keep")
	}
	for i, k := range r.Rules {
		if k.Keep < 0 {
			return bad(k.Keep.About(), keep, "rules[%d].keep", i)
		}
	}
	named := slices.ContainsFunc(r.Offcuts, func(o Offcut) bool { return o.Profile != "" })
	ids := make(map[string]bool, len(r.Offcuts))
	for i, o := range r.Offcuts {
		switch {
		case ids[o.ID]:
			return bad(o.ID, "an ID that no other offcut has, or none", "offcuts[%d].id", i)
		case named && o.Profile == "":
			return bad("", "a name, as another has one", "offcuts[%d].profile", i)
		case o.Length <= 0:
			return bad(o.Length.About(), "more than zero", "offcuts[%d].length", i)
		case o.Count < 0:
			return bad(strconv.Itoa(o.Count), "zero (for one) or more", "offcuts[%d].count", i)
		}
		ids[o.ID] = o.ID != ""
	}
	seen := make(map[string]bool, len(r.Applied))
	for i, d := range r.Applied {
		if d.ID == "" || seen[d.ID] {
			return bad(d.ID, id, "done[%d].id", i)
		}
		seen[d.ID] = true
	}
	return nil
}
