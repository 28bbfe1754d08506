package stock

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A RackChange describes the effect of a plan on the rack: the offcuts that it uses
// and those that it leaves. Its ID names it permanently, such as "classroom base, 3
// May".
type RackChange struct {
	ID     string   `json:"id"`               // required, different from that of every other change
	Uses   []Offcut `json:"uses,omitempty"`   // offcuts taken off the rack
	Leaves []Offcut `json:"leaves,omitempty"` // offcuts put on the rack
}

// A RackRecord records an applied change: its ID and a fingerprint of its contents.
type RackRecord struct {
	ID  string `json:"id"`  // the change's
	Sum string `json:"sum"` // fingerprint of its offcuts; only Apply computes it
}

// Apply returns the rack after the change, with the change in Applied; r is not
// modified. The change is applied completely or not at all: on an error, Apply returns
// the rack unchanged.
//
// A change that is already in Applied has no effect. So a program that stopped before it
// knew whether it had saved the rack can repeat the call, and no stick is counted twice
// or lost. For that to hold, write the rack (offcuts and records are one document) to a
// new file and rename it over the old one.
//
// A used offcut with an ID refers to the offcut with that ID and length. One without
// refers to any offcut of its profile and length, and of its material if the change gives
// one; offcuts with the same label, or without an ID, are used first. Remainders go on
// the rack if they are worth keeping (see Keeps), under their own ID or one derived from
// that of the change.
//
// The error is a [*RackError] if the rack has fewer offcuts than the change uses, or if
// another change already had the ID; otherwise it is a [*measure.FieldError], possibly
// several joined, for an empty ID, an ID of another offcut, a length that is not positive
// and a negative count.
func (r Rack) Apply(c RackChange) (Rack, error) {
	var bad fault.List
	if c.ID == "" {
		bad.Add("id", "", "a name that no other change has")
	}
	for i, o := range c.Uses {
		bad.Under(fmt.Sprintf("uses[%d]", i), o.validate())
	}
	for i, o := range c.Leaves {
		bad.Under(fmt.Sprintf("leaves[%d]", i), o.validate())
	}
	if err := bad.Err(); err != nil {
		return r, err
	}
	sum, err := c.sum()
	if err != nil {
		return r, err
	}
	for _, d := range r.Applied {
		switch {
		case d.ID != c.ID:
		case d.Sum == sum:
			return r, nil
		default:
			return r, &RackError{ID: c.ID, Use: -1}
		}
	}

	after, rack := r, newSupply(r.Offcuts, c.Uses)
	// Uses that name their offcut choose first, so that other uses cannot take an
	// offcut that they need.
	for _, exact := range []int{2, 1, 0} {
		for i, u := range c.Uses {
			if u.named() != exact {
				continue
			}
			if have := rack.take(u); have < max(1, u.Count) {
				return r, &RackError{ID: c.ID, Use: i, Offcut: u, Have: have}
			}
		}
	}
	after.Offcuts = rack.left()
	if after.Offcuts, err = r.shelve(after.Offcuts, c); err != nil {
		return r, err
	}
	after.Applied = append(slices.Clone(r.Applied), RackRecord{ID: c.ID, Sum: sum})
	return after, nil
}

// shelve adds the offcuts that a change leaves, each named, if the rack keeps it.
func (r Rack) shelve(offcuts []Offcut, c RackChange) ([]Offcut, error) {
	ids := make(map[string]bool, len(offcuts))
	for _, o := range offcuts {
		ids[o.ID] = true
	}
	keeps := r.keeping()
	next := 1 // all lower numbers, from that of the last offcut named on, are taken
	for i, o := range c.Leaves {
		if !keeps(o) {
			continue
		}
		if o.ID == "" {
			for next = max(next, i+1); ids[numbered(c.ID, next)]; next++ {
			}
			o.ID = numbered(c.ID, next)
		} else if ids[o.ID] {
			return nil, fault.Field(fmt.Sprintf("leaves[%d].id", i), o.ID, "an ID that no other offcut has, or none")
		}
		ids[o.ID] = true
		o.Count = max(1, o.Count)
		offcuts = append(offcuts, o)
	}
	return offcuts, nil
}

// Prune returns a copy of r with only the newest keep records in Applied. A change whose
// record is gone would be applied again.
func (r Rack) Prune(keep int) Rack {
	if keep = max(0, keep); keep < len(r.Applied) {
		r.Applied = slices.Clone(r.Applied[len(r.Applied)-keep:])
	}
	return r
}

// sum returns a fingerprint of the change.
func (c RackChange) sum() (string, error) {
	text, err := json.Marshal(c)
	if err != nil {
		return "", err
	}
	h := sha256.Sum256(text)
	return hex.EncodeToString(h[:12]), nil
}

// named returns how specifically a used offcut is named: 2 by its ID, 1 by its
// material, 0 by neither.
func (o Offcut) named() int {
	switch {
	case o.ID != "":
		return 2
	case o.Material != "":
		return 1
	}
	return 0
}

// numbered returns an ID for an offcut that a change leaves.
func numbered(change string, n int) string { return fmt.Sprintf("%s/%d", change, n) }

// A RackError reports a change that cannot be applied: it uses more than the rack holds,
// because the rack has changed since the plan was made, or another change was applied
// under its ID.
type RackError struct {
	ID     string // the change's
	Use    int    // index of the missing offcut in RackChange.Uses; -1 if another change had the ID
	Offcut Offcut // the missing offcut
	Have   int    // how many such offcuts the rack holds
}

// Error names the missing offcut, or the ID that was used before.
func (e *RackError) Error() string {
	if e.Use < 0 {
		return fmt.Sprintf("another change was applied as %s; give this one its own ID", strconv.Quote(e.ID))
	}
	id := ""
	if e.Offcut.ID != "" {
		id = " with the ID " + strconv.Quote(e.Offcut.ID)
	}
	return fmt.Sprintf("uses[%d]: the rack holds %d of %d offcuts of %s, %v%s",
		e.Use, e.Have, max(1, e.Offcut.Count), strconv.Quote(e.Offcut.Profile), e.Offcut.Length.About(), id)
}

// Total returns the total length of the offcuts, or a [*measure.RangeError].
// Offcuts without length or with a negative count are omitted.
func (r Rack) Total() (measure.Length, error) {
	var total measure.Length
	for _, o := range r.Offcuts {
		if o.Length <= 0 || o.Count < 0 {
			continue
		}
		l, err := o.Length.Mul(int64(max(1, o.Count)))
		if err != nil {
			return 0, err
		}
		if total, err = total.Add(l); err != nil {
			return 0, err
		}
	}
	return total, nil
}
