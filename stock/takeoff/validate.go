package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// maxWall limits the length of a wall: a mile. It keeps every sum exact and a stud layout of
// reasonable size.
const maxWall = measure.Length(5280) * measure.Foot

// maxHeight limits heights, far above any room.
const maxHeight = maxWall

// validateRooms returns the faults of the rooms, below rooms, joined. The scheme determines
// which openings are cased.
func validateRooms(rooms []Room, s Scheme) error {
	if err := size(rooms); err != nil {
		return err
	}
	var bad faults
	seen := map[string]bool{}
	for i := range rooms {
		r, path := &rooms[i], indexed("rooms", i)
		if r.Name == "" {
			bad.Add(path+".name", "", "a name")
		} else if seen[r.Name] {
			bad.Add(path+".name", r.Name, "a name that no other room has")
		}
		seen[r.Name] = true
		bad.Under(path, r.validate(s))
	}
	return bad.Err()
}

// validate returns the faults of the room except its name, joined.
func (r *Room) validate(s Scheme) error {
	var bad faults
	if len(r.Walls) == 0 {
		bad.Add("walls", "[]", "at least one wall")
	}
	seen := map[string]bool{}
	for i, w := range r.Walls {
		at := indexed("walls", i)
		if w.Name == "" {
			bad.Add(at+".name", "", "a name")
		} else if seen[w.Name] {
			bad.Add(at+".name", w.Name, "a name that no other wall of the room has")
		}
		seen[w.Name] = true
		bad.Under(at, w.validate(r.before(i), s))
		bad.Under(at, w.validateBullnose(r.Walls[(i+1)%len(r.Walls)]))
	}
	bad.length("height", r.Height, 0, maxHeight)
	if r.Entry != "" && !seen[r.Entry] {
		bad.Add("entry", r.Entry, "the name of a wall of the room")
	}
	r.validateSlopes(&bad)
	bad.Under("studs", r.Studs.validate())
	bad.length("off_square", r.OffSquare, 0, maxHeight)
	bad.Under("", r.validateDiagonals())
	bad.length("paint_line", r.PaintLine, 0, maxHeight)
	return bad.Err()
}

// before returns the corner at the left-hand end of wall i.
func (r Room) before(i int) Corner { return r.Walls[(i+len(r.Walls)-1)%len(r.Walls)].Corner }

// validate returns the faults of the corner itself.
func (c Corner) validate() error {
	var bad faults
	switch {
	case int(c.Kind) >= len(cornerNames):
		bad.Add("", c.Kind.String(), "a known kind of corner")
	case c.Angle < 0 || c.Angle > halfTurn:
		bad.Add("", c.String(), "an angle of more than 0° and at most 180°")
	}
	return bad.Err()
}

func (s Studs) validate() error {
	var bad faults
	bad.length("first", s.First, 0, maxWall)
	if s.Spacing != 0 {
		bad.length("spacing", s.Spacing, measure.Inch, maxWall)
	}
	for i, x := range s.At {
		bad.length(indexed("at", i), x, 0, maxWall)
		if i > 0 && x <= s.At[i-1] {
			bad.Add(indexed("at", i), x.About(), "more than the one before")
		}
	}
	return bad.Err()
}

// validate returns the faults of the wall except its name, joined. The corner before it
// determines whether it has a Start.
func (w Wall) validate(before Corner, s Scheme) error {
	var bad faults
	bad.Under("", w.validateCurve())
	w = w.along()
	bad.length("top_length", w.TopLength, 0, maxWall)
	bad.length("height_left", w.HeightLeft, 0, maxHeight)
	bad.length("height_right", w.HeightRight, 0, maxHeight)
	bad.Under("corner", w.Corner.validate())
	bad.Under("start", w.Start.validate())
	if w.Start != (Corner{}) && before.joined() {
		bad.Add("start", w.Start.String(), "nothing, because the wall before ends in a corner with this one")
	}
	names := map[string]bool{}
	overlaps := w.overlaps()
	for i, o := range w.Openings {
		at, name := indexed("openings", i), w.openingName(i)
		if names[name] {
			bad.Add(at+".name", name, "a name that no other opening of the wall has")
		}
		names[name] = true
		bad.Under(at, o.validate(s))
		bad.Under(at, w.holds(o.At, o.Width))
		bad.Under(at, overlaps[i])
	}
	w.validateJoined(&bad)
	for i, f := range w.Fixtures {
		at := indexed("fixtures", i)
		bad.Under(at, f.validate())
		bad.Under(at, w.holds(f.At, f.Width))
	}
	bad.Under("", w.validateStretches(s))
	bad.Under("studs", w.Studs.validate())
	bad.Under("stair", w.Stair.validate(w.Length))
	w.validateReadings(&bad)
	bad.Under("", w.validateDevices())
	for i, a := range w.KeepClear {
		at := indexed("keep_clear", i)
		bad.length(at+".at", a.At, 0, maxWall)
		bad.positive(at+".width", a.Width, maxWall)
	}
	return bad.Err()
}

// holds returns an error if something at x of the given width extends beyond the wall.
func (w Wall) holds(x, width measure.Length) error {
	if x < 0 || width <= 0 || w.Length <= 0 || x > maxWall || width > maxWall || x+width <= w.Length {
		return nil // valid, or reported by another check
	}
	return &measure.FieldError{
		Value: fmt.Sprintf("%v + %v", x.About(), width.About()),
		Want:  fmt.Sprintf("to end within the wall's %v", w.Length.About()),
	}
}

// overlaps returns for each opening the error if another one ends beyond its start.
func (w Wall) overlaps() []error {
	order := w.fromLeft()
	errs := make([]error, len(w.Openings))
	for k := 1; k < len(order); k++ {
		a, b := w.Openings[order[k-1]], w.Openings[order[k]]
		if a.At < 0 || a.Width <= 0 || a.At > maxWall || a.Width > maxWall || a.At+a.Width <= b.At {
			continue
		}
		errs[order[k]] = &measure.FieldError{
			Field: "at", Value: b.At.About(),
			Want: fmt.Sprintf("at least %v, where %s ends", (a.At + a.Width).About(), w.openingName(order[k-1])),
		}
	}
	return errs
}

func (o Opening) validate(s Scheme) error {
	var bad faults
	if int(o.Kind) >= len(openingNames) {
		bad.Add("kind", o.Kind.String(), "a known kind of opening")
	}
	bad.length("at", o.At, 0, maxWall)
	bad.positive("width", o.Width, maxWall)
	if bad.length("height", o.Height, 0, maxHeight); o.Height == 0 && o.Kind == OpeningWindow && o.cased(s.at(o)) {
		bad.Add("height", o.Height.About(), "more than zero for a window that is cased")
	}
	bad.length("top_width", o.TopWidth, 0, maxWall)
	bad.length("right_height", o.RightHeight, 0, maxHeight)
	bad.length("sill", o.Sill, 0, maxHeight)
	if bad.length("reveal", o.Reveal, 0, maxHeight); o.Flush && o.Reveal != 0 {
		bad.Add("reveal", o.Reveal.About(), "nothing, because the casing is flush")
	}
	bad.length("existing_width", o.ExistingWidth, 0, maxHeight)
	if bad.length("existing_thickness", o.ExistingThickness, 0, maxHeight); o.ExistingThickness > 0 && o.ExistingWidth == 0 {
		bad.Add("existing_thickness", o.ExistingThickness.About(), "nothing, because no existing casing is there")
	}
	bad.Under("", o.validateArch(s))
	o.validateDepths(s, &bad)
	return bad.Err()
}

func (f Fixture) validate() error {
	var bad faults
	if f.Name == "" {
		bad.Add("name", "", "a name")
	}
	bad.length("at", f.At, 0, maxWall)
	bad.positive("width", f.Width, maxWall)
	bad.length("bottom", f.Bottom, 0, maxHeight)
	if f.Height != 0 && f.Bottom >= f.Height {
		bad.Add("bottom", f.Bottom.About(), fmt.Sprintf("less than its height, %v, which is from the floor to its top", f.Height.About()))
	}
	bad.length("height", f.Height, 0, maxHeight)
	bad.length("depth", f.Depth, 0, maxHeight)
	bad.length("notch", f.Notch, 0, maxHeight)
	switch f.Ends {
	case stock.EndSquare, stock.EndButt, stock.EndReturn, stock.EndScribe:
	default:
		bad.Add("ends", f.Ends.String(), "square (or butt), return or scribe")
	}
	return bad.Err()
}
