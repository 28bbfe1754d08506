package stock

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Rack holds the offcuts kept from job to job. It is plain data that reads and writes
// JSON; the zero value is an empty rack.
type Rack struct {
	// Keep is the shortest offcut worth keeping unless a rule says otherwise; zero keeps
	// everything.
	Keep    measure.Length `json:"keep,omitzero"`
	Rules   []KeepRule     `json:"rules,omitempty"`
	Offcuts []Offcut       `json:"offcuts,omitempty"`

	// Applied records the applied changes, oldest first, so that none is applied twice.
	// See Apply.
	Applied []RackRecord `json:"applied,omitempty"`
}

// An Offcut is a length on the rack, Count times (0 = 1).
type Offcut struct {
	// ID is permanently unique on the rack. Apply assigns one to each offcut that a
	// change leaves; it is empty for an offcut added by hand.
	ID string `json:"id,omitempty"`

	Label    string         `json:"label,omitempty"`
	Profile  string         `json:"profile"`
	Material string         `json:"material,omitempty"`
	Length   measure.Length `json:"length"`
	Count    int            `json:"count,omitempty" zero:"1 or more, or nothing for 1"` // in JSON a zero is an error
}

// UnmarshalJSON reads an object with the names of the fields. A zero count is a
// [*measure.FieldError].
func (o *Offcut) UnmarshalJSON(data []byte) error {
	type plain Offcut
	return fault.Unmarshal(data, (*plain)(o))
}

// A KeepRule sets the shortest offcut worth keeping of a profile, of a material, or of a
// profile in a material. An empty name matches everything.
type KeepRule struct {
	Profile  string         `json:"profile,omitempty"`
	Material string         `json:"material,omitempty"`
	Keep     measure.Length `json:"keep"`
	Never    bool           `json:"never,omitempty"` // no offcut is worth keeping
}

// Keeps reports whether an offcut is worth keeping. Among the matching rules, one with both
// a profile and a material takes precedence over one with only a profile, and that over one
// with only a material; the last of equal rules applies. If no rule matches, Rack.Keep
// applies. An offcut of length zero is not kept.
func (r Rack) Keeps(o Offcut) bool { return r.keeping()(o) }

// keeping returns Keeps as a function for any number of offcuts.
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

// Sticks returns the offcuts of a profile, of any material, as sticks without a price,
// longest first, each limited to its count. Offcuts without length or with a negative count
// are omitted: see Validate.
func (r Rack) Sticks(profile string) []Stick {
	return r.sticks(func(o Offcut) bool { return o.Profile == profile })
}

// SticksIn returns the offcuts of a profile in one material, as Sticks does. An empty
// material selects the offcuts without a named material, not all offcuts.
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

// Validate returns nil if the rack is valid, or a [*measure.FieldError] for every fault,
// joined, at most 100: a length that is not positive, a negative count, an offcut without
// a profile if others have one, a duplicate ID, a negative length to keep, a record
// without an ID or with that of another. If people edit the rack, call Validate before
// any other method.
func (r Rack) Validate() error {
	var bad fault.List
	const keep = "zero (for everything) or more"
	if r.Keep < 0 {
		bad.Add("keep", r.Keep.About(), keep)
	}
	for i, k := range r.Rules {
		if k.Keep < 0 {
			bad.Add(fmt.Sprintf("rules[%d].keep", i), k.Keep.About(), keep)
		}
	}
	named := slices.ContainsFunc(r.Offcuts, func(o Offcut) bool { return o.Profile != "" })
	ids := make(map[string]bool, len(r.Offcuts))
	for i, o := range r.Offcuts {
		path := fmt.Sprintf("offcuts[%d]", i)
		if ids[o.ID] {
			bad.Add(path+".id", o.ID, "an ID that no other offcut has, or none")
		}
		if named && o.Profile == "" {
			bad.Add(path+".profile", "", "a name, because another offcut has one")
		}
		bad.Under(path, o.validate())
		ids[o.ID] = o.ID != ""
	}
	seen := make(map[string]bool, len(r.Applied))
	for i, d := range r.Applied {
		if d.ID == "" || seen[d.ID] {
			bad.Add(fmt.Sprintf("applied[%d].id", i), d.ID, "a name that no other change has")
		}
		seen[d.ID] = true
	}
	return bad.Err()
}

// validate returns the faults of the offcut by itself.
func (o Offcut) validate() error {
	var bad fault.List
	if o.Length <= 0 {
		bad.Add("length", o.Length.About(), "more than zero")
	}
	if o.Count < 0 {
		bad.Add("count", strconv.Itoa(o.Count), "zero (for one) or more")
	}
	return bad.Err()
}
