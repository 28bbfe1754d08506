package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/panel"
)

// A Wainscot is paneling on the walls of rooms: boxes of molding, stiles and rails, battens or
// strips. Package panel divides a stretch of wall. Each stretch from corner to casing or from
// casing to casing is divided separately, and so are the areas below and above a window, over
// the width of its casing. All rows of a stretch have aligned fields.
//
// Curved walls and walls along stairs are not paneled, and at a bullnose corner the paneling
// ends where the round begins.
//
// The Role of a profile follows from its place here.
type Wainscot struct {
	// Rooms are the names of the paneled rooms; none means all. Unknown names are ignored.
	// Walls without paneling are Unpaneled.
	Rooms []string `json:"rooms,omitempty"`

	// Profile is the trim of the fields, by Kind: the molding of boxes, the stiles of a frame,
	// the battens, or the strips.
	Kind    panel.Kind     `json:"kind,omitzero"`
	Profile *stock.Profile `json:"profile,omitempty"`

	// Rail and BottomRail are those of a frame; nil means the Profile, and for the bottom rail
	// the Rail. Battens end under a Rail, which is run along the wall like a chair rail.
	Rail       *stock.Profile `json:"rail,omitempty"`
	BottomRail *stock.Profile `json:"bottom_rail,omitempty"`

	// CornerStile is wider stock for stiles and battens in corners of which a part is hidden,
	// so that their visible width equals that of the others. Without it the parts of a corner
	// are ripped to equal visible widths. MiterCorners miters them along their edges; otherwise
	// they are butted. See panel.Corner.
	CornerStile  *stock.Profile `json:"corner_stile,omitempty"`
	MiterCorners bool           `json:"miter_corners,omitempty"`

	// Cap runs along the top, coped or mitered like any rail.
	Cap *stock.Profile `json:"cap,omitempty"`

	// Bottom and Top are the lower and upper end of the paneling above the floor, without the
	// cap and with the rail of battens. Zero means the top of the base, and the lower edge of
	// the chair rail or, without one, 32 in (common practice, no source). Upper is a second row
	// above, such as boxes between a chair rail and a picture rail.
	Bottom measure.Length `json:"bottom,omitzero" zero:"more than zero, or nothing for the top of the base"`
	Top    measure.Length `json:"top,omitzero" zero:"more than zero, or nothing for the lower edge of the chair rail"`
	Upper  *panel.Row     `json:"upper,omitempty"`

	// ToFloor is set if it begins at the floor, behind a base that stands off the wall by its
	// thickness: a member of an Assembly with that much Off.
	ToFloor bool `json:"to_floor,omitempty"`

	// The next fields are those of a panel.Design. Match is set if only the longest stretch of
	// a room approximates the target, and the others match its result.
	Target     measure.Length   `json:"target,omitzero"`
	Count      int              `json:"count,omitempty" zero:"1 or more, or nothing for the number that comes nearest to the target"`
	Match      bool             `json:"match,omitempty"`
	Graduation measure.Length   `json:"graduation,omitzero"`
	Gap        measure.Length   `json:"gap,omitzero" zero:"more than zero, or nothing for 3in"`
	Margin     measure.Length   `json:"margin,omitzero" zero:"more than zero, or nothing for the gap"`
	Below      measure.Length   `json:"below,omitzero" zero:"more than zero, or nothing for the gap"`
	Above      measure.Length   `json:"above,omitzero" zero:"more than zero, or nothing for the gap"`
	MidRails   []measure.Length `json:"mid_rails,omitempty"`
	Tongue     measure.Length   `json:"tongue,omitzero"`
	Groove     measure.Length   `json:"groove,omitzero"`
	Float      measure.Length   `json:"float,omitzero"`
	Clear      measure.Length   `json:"clear,omitzero"`

	// SheetThickness is that of a sheet on the wall behind all of it; zero if there is none.
	// PanelMaterial is the material of panels, or of the sheet. Solid means boards, which swell and
	// need a Float.
	SheetThickness measure.Length `json:"sheet_thickness,omitzero"`
	PanelMaterial  string         `json:"panel_material,omitempty"`
	Solid          bool           `json:"solid,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero that would mean
// something else is a *measure.FieldError.
func (w *Wainscot) UnmarshalJSON(data []byte) error {
	type plain Wainscot
	return fault.Unmarshal(data, (*plain)(w))
}

// role returns the role of the profile.
func (w *Wainscot) role() stock.Role {
	switch w.Kind {
	case panel.KindFrame:
		return stock.RoleStile
	case panel.KindBattens:
		return stock.RoleBatten
	case panel.KindStrips:
		return stock.RolePanel
	}
	return stock.RolePanelMold
}

// named returns the profiles by their JSON names in a Scheme, nil if there is none.
func (w *Wainscot) named() []namedProfile {
	if w == nil {
		return nil
	}
	return []namedProfile{
		{"wainscot.profile", w.Profile, w.role()}, {"wainscot.rail", w.Rail, stock.RoleRail}, {"wainscot.bottom_rail", w.BottomRail, stock.RoleRail},
		{"wainscot.corner_stile", w.CornerStile, w.role()}, {"wainscot.cap", w.Cap, stock.RoleCap},
	}
}

// paneled reports whether a wall of a room has the wainscot.
func (s Scheme) paneled(r *Room, wall int) bool {
	w := s.Wainscot
	return w != nil && !r.Walls[wall].Unpaneled && r.Walls[wall].Curve == nil && r.Walls[wall].Stair == nil && (len(w.Rooms) == 0 || slices.Contains(w.Rooms, r.Name))
}

// paneledAt reports whether a wall of the course has the wainscot.
func (t *taker) paneledAt(wall int) bool {
	return t.section(wall).curved == nil && t.scheme.paneled(t.room, wall)
}

// panels reports whether any wall of a room has the wainscot.
func (s Scheme) panels(r *Room) bool {
	for i := range r.Walls {
		if s.paneled(r, i) {
			return true
		}
	}
	return false
}

// wainscotTop returns the upper end of the wainscot, without its cap.
func (s Scheme) wainscotTop() measure.Length {
	switch {
	case s.Wainscot.Top != 0:
		return s.Wainscot.Top
	case s.ChairRail != nil && s.ChairRailAt != 0:
		return s.ChairRailAt
	}
	return usualChairRail
}

// wainscotRows returns the rows of fields.
func (s Scheme) wainscotRows() []panel.Row {
	w := s.Wainscot
	r := panel.Row{Bottom: w.Bottom, Top: s.wainscotTop()}
	if r.Bottom == 0 && !w.ToFloor {
		r.Bottom = s.belowWainscot()
	}
	if w.Kind == panel.KindBattens && w.Rail != nil {
		r.Top -= w.Rail.Width
	}
	rows := []panel.Row{r}
	if w.Upper != nil {
		rows = append(rows, *w.Upper)
	}
	return rows
}

// design returns the design for dividing a stretch.
func (w *Wainscot) design() panel.Design {
	d := panel.Design{
		Kind: w.Kind, Target: w.Target, Count: w.Count, Graduation: w.Graduation, Width: w.Profile.Width,
		Gap: w.Gap, Margin: w.Margin, Below: w.Below, Above: w.Above, MidRails: w.MidRails,
		Tongue: w.Tongue, Groove: w.Groove, Float: w.Float, Clear: w.Clear,
	}
	if w.Rail != nil {
		d.TopRail = w.Rail.Width
		d.BottomRail = d.TopRail
	}
	if w.BottomRail != nil {
		d.BottomRail = w.BottomRail.Width
	}
	return d
}

// rail returns the profile of a rail of a frame.
func (w *Wainscot) rail(p panel.Place) *stock.Profile {
	rail := cmp.Or(w.Rail, w.Profile)
	if p == panel.PlaceBottom {
		rail = cmp.Or(w.BottomRail, rail)
	}
	return rail
}

// wainscotAssemblies returns the trim that runs along the wainscot: the rail over battens and
// the cap.
func (s Scheme) wainscotAssemblies() (as []Assembly) {
	w := s.Wainscot
	if w == nil {
		return nil
	}
	add := func(p *stock.Profile, r stock.Role, at, off measure.Length) {
		if p != nil {
			q := *p
			q.Role = r
			as = append(as, Assembly{At: at, Members: []Member{{Profile: q, Off: off}}, Rooms: w.Rooms})
		}
	}
	top := s.wainscotTop()
	if w.Kind == panel.KindBattens && w.Rail != nil {
		add(w.Rail, stock.RoleRail, top-w.Rail.Width, w.SheetThickness)
	}
	add(w.Cap, stock.RoleCap, top, 0)
	return as
}

// belowWainscot returns the height of the trim on the floor under the wainscot.
func (s Scheme) belowWainscot() measure.Length {
	var here []course
	for _, c := range s.stacked(nil) {
		if shareRoom(c.rooms, s.Wainscot.Rooms) {
			here = append(here, c)
		}
	}
	_, height := foot(here)
	return height
}

// validateWainscot returns every fault of the wainscot but those of its profiles, joined.
func (s Scheme) validateWainscot() error {
	w := s.Wainscot
	if w == nil {
		return nil
	}
	var bad faults
	if w.Profile == nil {
		bad.Add("profile", "", "the trim of the fields")
		return bad.Err()
	}
	if s.faultyBesideWainscot() {
		return nil // said already
	}
	bad.length("bottom", w.Bottom, 0, maxHeight)
	bad.length("top", w.Top, 0, maxHeight)
	bad.length("sheet_thickness", w.SheetThickness, 0, maxHeight)
	bad.Under("", w.design().Validate())
	w.validateMembers(&bad)
	if len(bad.List) > 0 || s.ChairRailAt < 0 || s.ChairRailAt > maxHeight {
		return bad.Err()
	}
	s.validateWainscotLevels(&bad)
	return bad.Err()
}

// faultyBesideWainscot reports whether a profile of the wainscot, or of the base and the chair
// rail that it stands between, is invalid.
func (s Scheme) faultyBesideWainscot() bool {
	for _, f := range s.Wainscot.named() {
		if f.p != nil && f.p.Validate() != nil {
			return true
		}
	}
	for _, f := range s.members() {
		if f.p.Validate() != nil {
			return true
		}
	}
	return s.Base != nil && s.Base.Validate() != nil || s.ChairRail != nil && s.ChairRail.Validate() != nil
}

// validateMembers finds members that the kind of wainscot does not have, or whose size does not
// suit the others.
func (w *Wainscot) validateMembers(bad *faults) {
	frame := w.Kind == panel.KindFrame
	for _, f := range []struct {
		field string
		p     *stock.Profile
		fits  bool
		why   string
	}{
		{"rail", w.Rail, frame || w.Kind == panel.KindBattens, "boxes and strips have no rails: use a chair rail or a cap"},
		{"bottom_rail", w.BottomRail, frame, "a frame alone has one"},
		{"corner_stile", w.CornerStile, frame || w.Kind == panel.KindBattens, "boxes and strips have no stiles"},
	} {
		if f.p != nil && !f.fits {
			bad.Add(f.field, f.p.Name, "nothing: "+f.why)
		}
	}
	if w.CornerStile != nil && w.CornerStile.Width < w.Profile.Width {
		bad.Add("corner_stile.width", w.CornerStile.Width.About(), fmt.Sprintf("at least %v, as the others", w.Profile.Width.About()))
	}
}

// validateWainscotLevels finds heights that are out of order, and wainscot that another course
// runs across.
func (s Scheme) validateWainscotLevels(bad *faults) {
	w := s.Wainscot
	rows := s.wainscotRows()
	if w.ToFloor && w.Bottom != 0 {
		bad.Add("bottom", w.Bottom.About(), "nothing, because it begins at the floor")
	}
	if base := s.belowWainscot(); rows[0].Bottom < base && !w.ToFloor {
		bad.Add("bottom", rows[0].Bottom.About(), fmt.Sprintf("at least %v, the top of the base", base.About()))
	}
	if rows[0].Top <= rows[0].Bottom {
		bad.Add("top", s.wainscotTop().About(), fmt.Sprintf("more than %v, where it begins", (s.wainscotTop()-rows[0].Top+rows[0].Bottom).About()))
		return
	}
	top := s.wainscotTop()
	if w.Cap != nil {
		top += w.Cap.Width
	}
	u := w.Upper
	if u != nil {
		bad.length("upper.bottom", u.Bottom, top, maxHeight)
		bad.length("upper.top", u.Top, u.Bottom+1, maxHeight)
	}
	for _, c := range s.stacked(nil) {
		if c.paneled || c.ceiling || c.foot || !shareRoom(c.rooms, w.Rooms) {
			continue
		}
		clear := fmt.Sprintf("clear of the %s, from %v to %v", called(c.profile.Role.String(), c.profile.Name), c.lo.About(), c.hi.About())
		if c.lo < top && rows[0].Bottom < c.hi {
			bad.Add("top", s.wainscotTop().About(), clear+", with the cap")
		}
		if u != nil && c.lo < u.Top && u.Bottom < c.hi {
			bad.Add("upper", u.Bottom.About()+" to "+u.Top.About(), clear)
		}
	}
}

// validateDevices returns every fault of the devices of a wall, joined.
func (w Wall) validateDevices() error {
	var bad faults
	for i, v := range w.Devices {
		at := indexed("devices", i)
		bad.Under(at, v.Validate())
		if v.At < 0 || w.Length > 0 && v.At > w.Length {
			bad.Add(at+".at", v.At.About(), fmt.Sprintf("from 0\" to %v, on the wall", w.Length.About()))
		}
	}
	return bad.Err()
}

// nameOfDevice returns the name of device i of the wall.
func (w Wall) nameOfDevice(i int) string { return cmp.Or(w.Devices[i].Name, "device "+fmt.Sprint(i+1)) }

// keepOffDevices adds the plates of devices in the course to the stretches without a splice.
func (t *taker) keepOffDevices(wall int, as []KeepClear) []KeepClear {
	w := t.room.Walls[wall]
	lo, hi, known := t.course.edges(t.room, wall)
	for i, v := range w.Devices {
		left, right, bottom, top := v.Plate()
		if known && bottom < hi && top > lo {
			as = append(as[:len(as):len(as)], KeepClear{Name: w.nameOfDevice(i), At: left, Width: right - left})
		}
	}
	return as
}
