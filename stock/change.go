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

// A RackChange is what a plan does to the rack: the offcuts that it uses up and those
// that it leaves. Its ID names it for ever, such as "classroom base, 3 May".
type RackChange struct {
	ID     string   `json:"id"`               // required, different from that of every other change
	Uses   []Offcut `json:"uses,omitempty"`   // what is taken off the rack
	Leaves []Offcut `json:"leaves,omitempty"` // what is put there
}

// A RackRecord records a change that was applied: its ID and a fingerprint of what it did.
type RackRecord struct {
	ID  string `json:"id"`  // the change's
	Sum string `json:"sum"` // of its offcuts; only Apply makes one
}

// Apply returns the rack after the change, with the change in Applied; r is not altered.
// It happens as a whole or not at all: on an error the rack is returned as it is.
//
// A change that is in Applied already does nothing, so that a call that is repeated,
// because a program stopped before it knew whether it had saved the rack, can neither
// double nor lose a stick. For that to hold, write the rack (offcuts and records are one
// document) to a new file and rename it over the old one.
//
// A used offcut that has an ID is the one with that ID and length. One without is any of
// its profile and length, and of its material if the change gives one; those that have
// its label too, or no ID, go first. What is left goes on the rack if it is worth keeping
// (see Keeps), under its own ID or one that is made of the change's.
//
// The error is a [*RackError] if the rack has less than is used, or if another change had
// the ID before; otherwise a [*measure.FieldError], possibly several joined, for an empty
// ID, an ID that another offcut has, a length that is not positive and a count that is
// negative.
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
	// What names its offcut has first choice, so that what does not cannot take what
	// another needs.
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
	ids := make(map[string]bool, len(after.Offcuts))
	for _, o := range after.Offcuts {
		ids[o.ID] = true
	}
	keeps := r.keeping()
	next := 1 // all numbers before it, from that of the last one that was named on, are taken
	for i, o := range c.Leaves {
		if !keeps(o) {
			continue
		}
		if o.ID == "" {
			for next = max(next, i+1); ids[numbered(c.ID, next)]; next++ {
			}
			o.ID = numbered(c.ID, next)
		} else if ids[o.ID] {
			return r, fault.Field(fmt.Sprintf("leaves[%d].id", i), o.ID, "an ID that no other offcut has, or none")
		}
		ids[o.ID] = true
		o.Count = max(1, o.Count)
		after.Offcuts = append(after.Offcuts, o)
	}
	after.Applied = append(slices.Clone(r.Applied), RackRecord{ID: c.ID, Sum: sum})
	return after, nil
}

// Prune returns a copy of r with only the newest keep records in Applied. A change whose
// record is gone would be applied again.
func (r Rack) Prune(keep int) Rack {
	if keep = max(0, keep); keep < len(r.Applied) {
		r.Applied = slices.Clone(r.Applied[len(r.Applied)-keep:])
	}
	return r
}

// sum is a fingerprint of what the change does.
func (c RackChange) sum() (string, error) {
	text, err := json.Marshal(c)
	if err != nil {
		return "", err
	}
	h := sha256.Sum256(text)
	return hex.EncodeToString(h[:12]), nil
}

// named tells how closely a used offcut is named: 2 by its ID, 1 by its material.
func (o Offcut) named() int {
	switch {
	case o.ID != "":
		return 2
	case o.Material != "":
		return 1
	}
	return 0
}

// numbered is an ID for what a change leaves.
func numbered(change string, n int) string { return fmt.Sprintf("%s/%d", change, n) }

// A RackError reports a change that the rack cannot take: it uses more than the rack
// holds, because the rack has moved on since it was planned, or another change was applied
// under its ID.
type RackError struct {
	ID     string // the change's
	Use    int    // index into RackChange.Uses of what is missing; -1 if another change had the ID
	Offcut Offcut // what is missing
	Have   int    // how many of it the rack holds
}

// Error says what is missing, or names the ID that was used before.
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

// Total returns the summed length of the offcuts, or measure's range error. Offcuts
// without length or with a negative count are left out.
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
