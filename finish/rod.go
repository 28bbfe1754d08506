package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// BackerRod is foam rod pressed into a joint before the sealant if the gap is
// deeper than the bead.
type BackerRod struct {
	Material string         `json:"material,omitempty"` // "" = "backer rod"
	Length   measure.Length `json:"length"`             // of the joint; >= 0
	Joint    measure.Length `json:"joint,omitempty"`    // greatest width; 0 = not stated, and no size is computed
	Oversize measure.Ratio  `json:"oversize,omitempty"` // of the rod over the joint, so that it stays in place; 0 = 25 % (common practice, no source), at most 100 %
	Waste    Waste          `json:"waste,omitzero"`
}

// rodGrade is the increment of the sizes in which rod is sold (common practice,
// no source).
const rodGrade = measure.Inch / 8

// Diameter returns the diameter of the rod for the joint, rounded up to the
// next 1/8 in. It is 0 if the width of the joint is not stated.
func (r BackerRod) Diameter() (measure.Length, error) {
	if r.Joint < 0 {
		return 0, fault.Field("joint", AmountOf(r.Joint), "zero or more")
	}
	if err := fault.UpTo("oversize", r.Oversize, whole); err != nil {
		return 0, err
	}
	if r.Oversize == 0 {
		r.Oversize = 25 * measure.Percent
	}
	n, ok := natural.Quotient(natural.Up, []int64{int64(r.Joint), int64(whole + r.Oversize)}, []int64{int64(whole), int64(rodGrade)})
	if ok {
		n, ok = natural.Mul(n, int64(rodGrade))
	}
	if !ok {
		return 0, tooLarge("the diameter of the rod")
	}
	return measure.Length(n), nil
}

// Need returns the length of rod, which is the length of the joint.
func (r BackerRod) Need() (Need, error) { return r.need(words{}) }

func (r BackerRod) need(w words) (Need, error) {
	if r.Length < 0 {
		return Need{}, fault.Field("length", AmountOf(r.Length), "zero or more")
	}
	d, err := r.Diameter()
	if err != nil {
		return Need{}, err
	}
	why := w.along(r.Length) + " of joint takes as much rod"
	if d > 0 {
		why += ", " + w.across(d) + " thick for a joint " + w.across(r.Joint) + " wide"
	}
	return w.need(or(r.Material, "backer rod"), AmountOf(r.Length), r.Waste, why)
}
