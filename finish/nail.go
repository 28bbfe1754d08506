package finish

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// Nail is one size of a published chart.
type Nail struct {
	Penny    int            `json:"penny"`     // size as sold, such as 6 for 6d
	Length   measure.Length `json:"length"`    // point to head
	PerPound int64          `json:"per_pound"` // approximate number in a pound
	Source   string         `json:"source"`    // publication
}

const (
	finishingSource = "sizes.com, finishing nails"
	chartSource     = "woodworking nail chart"
	cutSource       = "ICS Building Construction, volume 4"
)

// NailChart returns a published chart of nails, as a fresh slice: "finishing", 2d to 20d
// (sizes.com, finishing nails), "common", 2d to 20d (woodworking nail chart), or "cut
// finish", the older cut nails (ICS Building Construction, volume 4). Any other name is
// a [*measure.FieldError].
func NailChart(name string) ([]Nail, error) {
	switch name {
	case "finishing":
		return []Nail{
			{2, 1 * measure.Inch, 1351, finishingSource},
			{3, 5 * measure.Inch / 4, 807, finishingSource},
			{4, 3 * measure.Inch / 2, 584, finishingSource},
			{5, 7 * measure.Inch / 4, 500, finishingSource},
			{6, 2 * measure.Inch, 309, finishingSource},
			{7, 9 * measure.Inch / 4, 238, finishingSource},
			{8, 5 * measure.Inch / 2, 189, finishingSource},
			{10, 3 * measure.Inch, 121, finishingSource},
			{12, 13 * measure.Inch / 4, 113, finishingSource},
			{16, 7 * measure.Inch / 2, 90, finishingSource},
			{20, 4 * measure.Inch, 62, finishingSource},
		}, nil
	case "common":
		return []Nail{
			{2, 1 * measure.Inch, 854, chartSource},
			{3, 5 * measure.Inch / 4, 540, chartSource},
			{4, 3 * measure.Inch / 2, 300, chartSource},
			{5, 7 * measure.Inch / 4, 270, chartSource},
			{6, 2 * measure.Inch, 170, chartSource},
			{8, 5 * measure.Inch / 2, 100, chartSource},
			{10, 3 * measure.Inch, 65, chartSource},
			{12, 13 * measure.Inch / 4, 60, chartSource},
			{16, 7 * measure.Inch / 2, 50, chartSource},
			{20, 4 * measure.Inch, 30, chartSource},
		}, nil
	case "cut finish":
		return []Nail{
			{6, 2 * measure.Inch, 204, cutSource},
			{8, 5 * measure.Inch / 2, 102, cutSource},
			{10, 3 * measure.Inch, 80, cutSource},
		}, nil
	}
	return nil, fault.Field("name", name, "finishing, common or cut finish")
}

// Yield returns the chart's count per pound, for a [Product] sold by weight.
func (n Nail) Yield() Yield { return Yield{Covers: Count(n.PerPound), Of: AmountOf(measure.Pound)} }

// Nails is a nailing schedule: the number of nails at each stud and at each
// joint.
type Nails struct {
	Material string         `json:"material,omitempty"`  // "" = "nails"
	Length   measure.Length `json:"length"`              // total length of the runs; >= 0
	Runs     int64          `json:"runs,omitempty"`      // 0 = 1; each run is nailed at both its ends
	Spacing  measure.Length `json:"spacing,omitempty"`   // of studs, center to center; 0 = 16 in
	PerStud  int64          `json:"per_stud,omitempty"`  // 0 = 2
	Joints   int64          `json:"joints,omitempty"`    // joints with additional nails
	PerJoint int64          `json:"per_joint,omitempty"` // 0 = 2, and 3 where Width is over 8 in (US Army correspondence course EN0069A, nail estimate)
	Width    measure.Length `json:"width,omitempty"`     // of the piece; >= 0
	Waste    Waste          `json:"waste,omitzero"`
}

// Need returns the number of nails. The number of studs is one for each started
// spacing plus one for each run.
func (n Nails) Need() (Need, error) { return n.need(words{}) }

func (n Nails) need(w words) (Need, error) {
	if n.Runs == 0 {
		n.Runs = 1
	}
	if n.Spacing == 0 {
		n.Spacing = 16 * measure.Inch
	}
	if n.PerStud == 0 {
		n.PerStud = 2
	}
	if n.PerJoint == 0 {
		n.PerJoint = 2
		if n.Width > 8*measure.Inch {
			n.PerJoint = 3
		}
	}
	switch {
	case n.Length < 0:
		return Need{}, fault.Field("length", AmountOf(n.Length), "zero or more")
	case n.Width < 0:
		return Need{}, fault.Field("width", AmountOf(n.Width), "zero or more")
	case n.Spacing < 0:
		return Need{}, fault.Field("spacing", AmountOf(n.Spacing), "zero or more")
	}
	for _, c := range [...]struct {
		field string
		n     int64
	}{{"runs", n.Runs}, {"per_stud", n.PerStud}, {"joints", n.Joints}, {"per_joint", n.PerJoint}} {
		if c.n < 0 {
			return Need{}, fault.Field(c.field, c.n, "zero or more")
		}
	}
	var studs int64
	ok := true
	if n.Length > 0 {
		studs, _ = natural.Quotient(natural.Up, []int64{int64(n.Length)}, []int64{int64(n.Spacing)})
		studs, ok = natural.Add(studs, n.Runs)
	}
	at, ok1 := natural.Mul(studs, n.PerStud)
	more, ok2 := natural.Mul(n.Joints, n.PerJoint)
	sum, ok3 := natural.Add(at, more)
	units, ok4 := natural.Mul(sum, millionthsPerPiece)
	if !(ok && ok1 && ok2 && ok3 && ok4) {
		return Need{}, tooLarge("the number of nails")
	}
	why := []string{w.along(n.Length) + " at " + w.across(n.Spacing) + " meets " + itoa(studs) + " studs, " +
		itoa(n.PerStud) + " nails each: " + itoa(at)}
	if n.Joints > 0 {
		why = append(why, itoa(n.Joints)+" joints, "+itoa(n.PerJoint)+" nails each: "+itoa(more))
	}
	return w.need(or(n.Material, "nails"), Amount{byCount, units}, n.Waste, why...)
}
