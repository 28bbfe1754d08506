package panel

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Device is a device in the wall whose plate must lie flat: an outlet, a switch.
type Device struct {
	Name string `json:"name,omitempty"`

	// At and Height locate the middle of its plate, from the left end of the stretch
	// and above the floor.
	At     measure.Length `json:"at"`
	Height measure.Length `json:"height"`

	// PlateWidth and PlateHeight are the size of the plate; zero, which in JSON is an
	// error, means 2 3/4 in and 4 1/2 in (a single plate, from memory).
	PlateWidth  measure.Length `json:"plate_width,omitzero" zero:"more than zero, or nothing for 2-3/4in"`
	PlateHeight measure.Length `json:"plate_height,omitzero" zero:"more than zero, or nothing for 4-1/2in"`
}

// UnmarshalJSON reads an object with the names of the fields. A plate of zero is
// a [*measure.FieldError].
func (d *Device) UnmarshalJSON(data []byte) error {
	type plain Device
	return fault.Unmarshal(data, (*plain)(d))
}

// Validate returns nil if the device is valid, or a [*measure.FieldError] for every
// fault, joined.
func (d Device) Validate() error {
	var bad fault.List
	if d.At < -maxLength || d.At > maxLength {
		bad.Add("at", d.At.About(), "at most two miles")
	}
	within(&bad, "height", d.Height, 0)
	within(&bad, "plate_width", d.PlateWidth, 0)
	within(&bad, "plate_height", d.PlateHeight, 0)
	return bad.Err()
}

// Plate returns the left and right, lower and upper edges of the plate.
func (d Device) Plate() (left, right, bottom, top measure.Length) {
	w, h := cmp.Or(d.PlateWidth, 11*measure.Inch/4), cmp.Or(d.PlateHeight, 9*measure.Inch/2)
	left, bottom = d.At-w/2, d.Height-h/2
	return left, left + w, bottom, bottom + h
}

// Clearance returns the distance of the plate of the device from the member, along the
// wall or up it, whichever is more. If the plate lies on the member, the result is
// negative: the distance by which it would have to be moved.
func (d Device) Clearance(m Member) measure.Length {
	left, right, bottom, top := d.Plate()
	return max(left-(m.Start+m.Width), m.Start-right, bottom-(m.Bottom+m.Height), m.Bottom-top)
}

// hits reports whether the device is nearer to the member than clear. A plate within a
// rail, at least clear from its edges, does not hit it.
func (d Device) hits(m Member, clear measure.Length) bool {
	if d.Clearance(m) >= clear {
		return false
	}
	_, _, bottom, top := d.Plate()
	return m.Role != stock.RoleRail || bottom-clear < m.Bottom || top+clear > m.Bottom+m.Height
}

// A Hit is a device that is nearer to a member than Design.Clear, or lies on it, however
// the stretch is divided. It needs its own mounting block, or another place.
type Hit struct {
	Device    int            `json:"device"`    // its index in the Stretch
	Member    int            `json:"member"`    // that of the member in the Layout
	Clearance measure.Length `json:"clearance"` // see Device.Clearance
}

// hits returns the members that each device lies on or is too near to.
func (d Design) hits(devices []Device, members []Member) (hs []Hit) {
	for i, v := range devices {
		for k, m := range members {
			if v.hits(m, d.Clear) {
				hs = append(hs, Hit{Device: i, Member: k, Clearance: v.Clearance(m)})
			}
		}
	}
	return hs
}

// counts returns the numbers of fields to try if a device is in the way of the first
// number, nearest to the target first: those whose fields are from three quarters to four
// thirds as wide (common practice, no source: they still look alike).
func (d Design) counts(s Spacing, length measure.Length, first int) []int {
	ns := []int{first}
	if d.Count != 0 || d.Kind == KindStrips {
		return ns
	}
	const most = 10 // more or fewer fields: each number is laid out and checked
	wide := func(n int) measure.Length { return s.room(length, n) / measure.Length(n) }
	w := wide(first)
	for n := first - 1; n >= max(1, first-most) && 3*wide(n) <= 4*w; n-- {
		ns = append(ns, n)
	}
	for n := first + 1; n <= min(maxFields, first+most) && 4*wide(n) >= 3*w && wide(n) > 0; n++ {
		ns = append(ns, n)
	}
	slices.SortFunc(ns, func(a, b int) int {
		switch {
		case a == b:
			return 0
		case s.nearer(length, a, b):
			return -1
		}
		return 1
	})
	return ns
}

// shift returns the smallest move of all members after which no device is nearer to one
// than clear; to the left if both directions are equal.
func (d Design) shift(devices []Device, members []Member) measure.Length {
	type interval struct{ from, to measure.Length } // open interval of shifts that do not work
	var bad []interval
	for _, v := range devices {
		left, right, bottom, top := v.Plate()
		for _, m := range members {
			if bottom-d.Clear < m.Bottom+m.Height && m.Bottom < top+d.Clear {
				bad = append(bad, interval{left - d.Clear - m.Start - m.Width, right + d.Clear - m.Start})
			}
		}
	}
	slices.SortFunc(bad, func(a, b interval) int { return cmp.Compare(a.from, b.from) })
	for i := 0; i < len(bad); {
		around := bad[i]
		for i++; i < len(bad) && bad[i].from < around.to; i++ {
			around.to = max(around.to, bad[i].to)
		}
		if around.from < 0 && 0 < around.to {
			if -around.from <= around.to {
				return around.from
			}
			return around.to
		}
	}
	return 0
}
