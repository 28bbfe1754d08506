package panel

import (
	"cmp"
	"fmt"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Row is the area that paneling fills between two heights above the floor, such as from
// the top of the base to the lower edge of a chair rail.
type Row struct {
	Bottom measure.Length `json:"bottom,omitzero"`
	Top    measure.Length `json:"top"`
}

// A Side is one end of a stretch. The zero value ends in a margin of boxes, or in a stile or
// batten as wide as the others.
type Side struct {
	// None is set if this end needs no stile, because the stile of another stretch is
	// already there.
	None bool `json:"none,omitempty"`

	// Visible is the visible width of the stile, batten or margin; zero means as wide as the
	// others, and in JSON is an error. Extra is the overall width of the stile minus
	// Visible: see CornerStile.
	Visible measure.Length `json:"visible,omitzero" zero:"more than zero, or nothing for as much as of the others"`
	Extra   measure.Length `json:"extra,omitzero"`
}

// UnmarshalJSON reads an object with the names of the fields. A Visible of zero is
// a [*measure.FieldError].
func (s *Side) UnmarshalJSON(data []byte) error {
	type plain Side
	return fault.Unmarshal(data, (*plain)(s))
}

// A Stretch is a part of a wall that is paneled without a break, such as from corner to
// casing.
type Stretch struct {
	Length  measure.Length `json:"length"` // of the visible part
	Left    Side           `json:"left,omitzero"`
	Right   Side           `json:"right,omitzero"`
	Rows    []Row          `json:"rows"`              // from the floor up, one above the other; their fields are in line
	Devices []Device       `json:"devices,omitempty"` // to keep clear of
}

const (
	maxRows    = 100
	maxDevices = 1000
	// maxParts bounds the members, panels and device checks of one stretch.
	maxParts = 100_000
)

// validate returns every fault of the stretch, joined.
func (s Stretch) validate() error {
	var bad fault.List
	within(&bad, "length", s.Length, 1)
	for _, e := range []struct {
		field string
		side  Side
	}{{"left", s.Left}, {"right", s.Right}} {
		within(&bad, e.field+".visible", e.side.Visible, 0)
		if x := e.side.Extra; x < -maxLength || x > maxLength {
			bad.Add(e.field+".extra", x.About(), "at most two miles")
		}
	}
	if n := len(s.Rows); n == 0 || n > maxRows {
		bad.Add("rows", strconv.Itoa(n)+" rows", fmt.Sprintf("from 1 to %d", maxRows))
		return bad.Err()
	}
	var floor measure.Length
	for i, r := range s.Rows {
		at := fmt.Sprintf("rows[%d]", i)
		if within(&bad, at+".bottom", r.Bottom, 0); r.Bottom < floor {
			bad.Add(at+".bottom", r.Bottom.About(), fmt.Sprintf("at least %v, where the row below ends", floor.About()))
		}
		if within(&bad, at+".top", r.Top, 0); r.Top <= r.Bottom {
			bad.Add(at+".top", r.Top.About(), "more than its bottom")
		}
		floor = max(floor, r.Top)
	}
	if n := len(s.Devices); n > maxDevices {
		bad.Add("devices", strconv.Itoa(n)+" devices", fmt.Sprintf("at most %d", maxDevices))
		return bad.Err()
	}
	for i, v := range s.Devices {
		bad.Under(fmt.Sprintf("devices[%d]", i), v.Validate())
	}
	return bad.Err()
}

// Place is the position of a member among those of its kind.
type Place uint8

const (
	PlaceUpright Place = iota // a stile, a batten or a strip
	PlaceLeft                 // the left side of a box
	PlaceRight                // the right side of a box
	PlaceBottom               // the lower side of a box, or the bottom rail
	PlaceTop                  // the upper side of a box, or the top rail
	PlaceMiddle               // a rail between top and bottom
)

var placeNames = [...]string{PlaceUpright: "upright", PlaceLeft: "left", PlaceRight: "right", PlaceBottom: "bottom", PlaceTop: "top", PlaceMiddle: "middle"}

// String returns "upright", "left", "right", "bottom", "top" or "middle".
func (p Place) String() string { return kind.Text("Place", placeNames[:], p) }

// MarshalText writes the name; an unknown place is a [*measure.FieldError].
func (p Place) MarshalText() ([]byte, error) {
	return kind.Marshal("Place", "a place", placeNames[:], p)
}

// UnmarshalText reads the name; any other text is a [*measure.FieldError].
func (p *Place) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a place", placeNames[:], text, p)
}

// A Member is one piece of paneling: a stile, a rail, one side of a box.
type Member struct {
	Role  stock.Role `json:"role"` // RolePanelMold, RoleStile, RoleRail, RoleBatten, or RolePanel for a strip
	Place Place      `json:"place"`

	// Row is the index of its row. Field is the index of its field; for the stile or
	// batten at the right end of the stretch it is the number of fields.
	Row   int `json:"row"`
	Field int `json:"field"`

	// Its visible part is Width by Height, with its lower left corner at Start, from the
	// left end of the stretch, and Bottom, above the floor.
	Start  measure.Length `json:"start"`
	Bottom measure.Length `json:"bottom"`
	Width  measure.Length `json:"width"`
	Height measure.Length `json:"height"`

	// Length is the cut length, the sum of the Allowances, from long point to long point.
	// Ripped is the overall width of the piece if it differs from that of others of its
	// kind, as for a stile in a corner, else zero. Ends is the kind of both its ends.
	Length     measure.Length    `json:"length"`
	Ripped     measure.Length    `json:"ripped,omitzero"`
	Ends       stock.EndKind     `json:"ends,omitzero"`
	Allowances []stock.Allowance `json:"allowances,omitempty"`
}

// Upright reports whether its length runs up the wall.
func (m Member) Upright() bool { return m.Place <= PlaceRight }

// A Panel is the panel in one opening of a frame.
type Panel struct {
	Row   int `json:"row"`
	Field int `json:"field"`

	// Its visible part is Width by Height, with its lower left corner at Start and Bottom,
	// as for a Member.
	Start  measure.Length `json:"start"`
	Bottom measure.Length `json:"bottom"`
	Width  measure.Length `json:"width"`
	Height measure.Length `json:"height"`

	// BlankWidth and BlankHeight are the cut size: opening + 2·groove − float.
	BlankWidth  measure.Length `json:"blank_width"`
	BlankHeight measure.Length `json:"blank_height"`
}

// A Layout is the layout of a stretch; each list is ordered from the left. It is empty if
// the stretch has no room for a field.
type Layout struct {
	Fields  []Field  `json:"fields,omitempty"` // the same for all rows
	Members []Member `json:"members,omitempty"`
	Panels  []Panel  `json:"panels,omitempty"` // of a frame

	// Usual is the number of fields that comes nearest to the target; if the layout has
	// another number, a device was in the way. Shift is the distance by which all boxes
	// were moved to the right of the middle to clear a device, negative for a move to the
	// left. Hits are the devices that neither change clears.
	Usual int            `json:"usual,omitempty"`
	Shift measure.Length `json:"shift,omitzero"`
	Hits  []Hit          `json:"hits,omitempty"`
}

// Lay lays out a stretch. If devices are in the way of the number of fields that comes
// nearest to the target, it takes the next nearest number at which all are clear, provided
// that the fields are from three quarters to four thirds as wide. Otherwise it moves boxes
// by the smallest distance that clears all devices and leaves half of each margin. If that
// also fails, it reports the devices as Hits. Strips are cut around devices.
//
// The error joins a [*measure.FieldError] for each invalid field, with those of the
// stretch under stretch, and for unreasonable numbers of fields, members and devices.
func (d Design) Lay(s Stretch) (Layout, error) {
	var bad fault.List
	bad.Under("", d.Validate())
	bad.Under("stretch", s.validate())
	if err := bad.Err(); err != nil {
		return Layout{}, err
	}
	d = d.filled()
	if d.Kind == KindStrips {
		return d.strips(s)
	}
	spacing := d.spacing(s)
	least := d.least()
	n := spacing.count(s.Length, least)
	each := 1 + len(s.Rows)*(4+2*len(d.MidRails))
	if n > maxFields || n*each*(1+len(s.Devices)) > maxParts {
		return Layout{}, fault.Field("target", d.Target.About(), fmt.Sprintf("more, so that %v has fewer than %d fields", s.Length.About(), min(n, maxFields)))
	}
	try := func(n int, shift measure.Length) (Layout, bool) {
		if !spacing.holds(s.Length, n, least) {
			return Layout{}, false
		}
		l := Layout{Usual: n, Shift: shift, Fields: spacing.fields(s.Length, n, shift)}
		d.build(s, &l)
		return l, len(l.Members) > 0
	}
	l, ok := try(n, 0)
	if !ok {
		return Layout{}, nil
	}
	if l.Hits = d.hits(s.Devices, l.Members); len(l.Hits) == 0 {
		return l, nil
	}
	counts := d.counts(spacing, s.Length, n)
	for _, k := range counts {
		if m, ok := try(k, 0); ok && len(d.hits(s.Devices, m.Members)) == 0 {
			m.Usual = n
			return m, nil
		}
	}
	if d.Kind == KindBoxes {
		for _, k := range counts {
			m, ok := try(k, 0)
			if !ok {
				continue
			}
			shift := d.shift(s.Devices, m.Members)
			if max(shift, -shift) > min(spacing.Left, spacing.Right)/2 {
				continue
			}
			if m, ok := try(k, shift); ok && len(d.hits(s.Devices, m.Members)) == 0 {
				m.Usual = n
				return m, nil
			}
		}
	}
	return l, nil
}

// least returns the least width and height of a field: some width must remain inside the
// molding of a box and for a floating panel, and a field is at least an inch wide unless
// the design asks for less.
func (d Design) least() measure.Length {
	some := measure.Length(1)
	if d.Count == 0 {
		some = min(measure.Inch, d.Target)
	}
	switch d.Kind {
	case KindBoxes:
		return 2*d.Width + 1
	case KindFrame:
		return max(some, d.Float-2*d.Groove+1)
	}
	return some
}

// spacing returns the division of a stretch into fields.
func (d Design) spacing(s Stretch) Spacing {
	between, end := d.Width, d.Width
	if d.Kind == KindBoxes {
		between, end = d.Gap, d.Margin
	}
	at := func(e Side) measure.Length {
		if e.None {
			return 0
		}
		return cmp.Or(e.Visible, end)
	}
	return Spacing{Left: at(s.Left), Right: at(s.Right), Between: between, Count: d.Count, Target: d.Target, Graduation: d.Graduation}
}

// build adds the members of every row to the divided fields.
func (d Design) build(s Stretch, l *Layout) {
	for i, r := range s.Rows {
		switch d.Kind {
		case KindBoxes:
			d.boxes(i, r, l)
		case KindFrame:
			d.frame(i, r, s, l)
		case KindBattens:
			d.uprights(stock.RoleBatten, i, r, s, l)
		}
	}
}

// boxes adds the boxes of one row. The overall length of a side is that of the box; its
// inner edge is shorter by the molding at either end.
func (d Design) boxes(row int, r Row, l *Layout) {
	z, high, w := r.Bottom+d.Below, r.Top-d.Above-r.Bottom-d.Below, d.Width
	if high < d.least() {
		return
	}
	side := func(p Place, field int, x, z, wide, high, length measure.Length) {
		l.Members = append(l.Members, Member{
			Role: stock.RolePanelMold, Place: p, Row: row, Field: field, Start: x, Bottom: z, Width: wide, Height: high,
			Length: length, Ends: stock.EndFlatMiter,
			Allowances: []stock.Allowance{{Name: "inside of the box", Length: length - 2*w}, {Name: "miter at one end", Length: w}, {Name: "miter at other end", Length: w}},
		})
	}
	for i, f := range l.Fields {
		side(PlaceLeft, i, f.Start, z, w, high, high)
		side(PlaceRight, i, f.Start+f.Width-w, z, w, high, high)
		side(PlaceBottom, i, f.Start, z, f.Width, w, f.Width)
		side(PlaceTop, i, f.Start, z+high-w, f.Width, w, f.Width)
	}
}

// uprights adds the stiles or battens of one row.
func (d Design) uprights(role stock.Role, row int, r Row, s Stretch, l *Layout) {
	add := func(field int, x, wide, extra measure.Length) {
		m := Member{
			Role: role, Place: PlaceUpright, Row: row, Field: field, Start: x, Bottom: r.Bottom, Width: wide, Height: r.Top - r.Bottom,
			Length: r.Top - r.Bottom, Allowances: []stock.Allowance{{Name: "height", Length: r.Top - r.Bottom}},
		}
		switch over := wide + extra; {
		case over <= 0: // only the edge of the other stile shows
			return
		case over != d.Width:
			m.Ripped = over
		}
		l.Members = append(l.Members, m)
	}
	first, last := l.Fields[0], l.Fields[len(l.Fields)-1]
	if !s.Left.None {
		add(0, 0, first.Start, s.Left.Extra)
	}
	for i, f := range l.Fields[1:] {
		add(i+1, f.Start-d.Width, d.Width, 0)
	}
	if x := last.Start + last.Width; !s.Right.None {
		add(len(l.Fields), x, s.Length-x, s.Right.Extra)
	}
}

// frame adds stiles, rails and panels of one row, if it has room for a panel.
func (d Design) frame(row int, r Row, s Stretch, l *Layout) {
	if r.Top-r.Bottom < d.BottomRail+d.TopRail+d.least() {
		return
	}
	d.uprights(stock.RoleStile, row, r, s, l)
	type rail struct {
		place    Place
		at, wide measure.Length
	}
	rails := []rail{{PlaceBottom, r.Bottom, d.BottomRail}}
	for _, z := range d.MidRails {
		below := rails[len(rails)-1]
		if some := max(d.least(), measure.Inch); z >= below.at+below.wide+some && z+d.TopRail+some <= r.Top-d.TopRail {
			rails = append(rails, rail{PlaceMiddle, z, d.TopRail})
		}
	}
	rails = append(rails, rail{PlaceTop, r.Top - d.TopRail, d.TopRail})
	for i, f := range l.Fields {
		for k, a := range rails {
			as := []stock.Allowance{{Name: "between stiles", Length: f.Width}}
			if d.Tongue != 0 {
				as = append(as, stock.Allowance{Name: "tongue at left", Length: d.Tongue}, stock.Allowance{Name: "tongue at right", Length: d.Tongue})
			}
			l.Members = append(l.Members, Member{
				Role: stock.RoleRail, Place: a.place, Row: row, Field: i, Start: f.Start, Bottom: a.at, Width: f.Width, Height: a.wide,
				Length: f.Width + 2*d.Tongue, Allowances: as,
			})
			if k == 0 {
				continue
			}
			z := rails[k-1].at + rails[k-1].wide
			l.Panels = append(l.Panels, Panel{
				Row: row, Field: i, Start: f.Start, Bottom: z, Width: f.Width, Height: a.at - z,
				BlankWidth: f.Width + 2*d.Groove - d.Float, BlankHeight: a.at - z + 2*d.Groove - d.Float,
			})
		}
	}
}

// strips lays as few boards as possible edge to edge, including the widths hidden in
// corners. The two at the ends share the remainder, and neither is ripped to less than
// half, unless a single one is wider than the stretch.
func (d Design) strips(s Stretch) (Layout, error) {
	left, right := s.Left.Extra, s.Right.Extra
	cover := s.Length + left + right
	n := max(0, (cover+d.Width-1)/d.Width)
	if n > maxFields || int(n)*len(s.Rows) > maxParts {
		return Layout{}, fault.Field("width", d.Width.About(), fmt.Sprintf("more: at most %d strips in %v", maxFields, s.Length.About()))
	}
	lack := n*d.Width - cover
	var l Layout
	at := -left
	for i := range n {
		over := d.Width
		if i == 0 {
			over -= lack / 2
		}
		if i == n-1 {
			over -= lack - lack/2
		}
		from, to := max(0, at), min(s.Length, at+over) // the visible part
		if at += over; from >= to {
			continue // hidden in a corner, because the strip is narrower than thick
		}
		if i == 0 {
			from = 0 // beyond the edge of the other
		}
		if i == n-1 {
			to = s.Length
		}
		l.Fields = append(l.Fields, Field{from, to - from})
		for row, r := range s.Rows {
			m := Member{
				Role: stock.RolePanel, Row: row, Field: len(l.Fields) - 1, Start: from, Bottom: r.Bottom, Width: to - from, Height: r.Top - r.Bottom,
				Length: r.Top - r.Bottom, Allowances: []stock.Allowance{{Name: "height", Length: r.Top - r.Bottom}},
			}
			if over != d.Width {
				m.Ripped = over
			}
			l.Members = append(l.Members, m)
		}
	}
	l.Usual = len(l.Fields)
	return l, nil
}
