package takeoff

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"example.com/longpoint/measure"
)

// maxWall bounds the length of a wall: a mile. It keeps every sum exact and a
// stud layout of reasonable size.
const maxWall = measure.Length(5280) * measure.Foot

// within returns a *FieldError unless lo <= l <= hi.
func within(field string, l, lo, hi measure.Length) error {
	if l >= lo && l <= hi {
		return nil
	}
	return &measure.FieldError{Field: field, Value: l.About(), Want: fmt.Sprintf("from %v to %v", lo.About(), hi.About())}
}

// positive returns a *FieldError unless 0 < l <= hi.
func positive(field string, l, hi measure.Length) error {
	if l > 0 && l <= hi {
		return nil
	}
	return &measure.FieldError{Field: field, Value: l.About(), Want: fmt.Sprintf("more than zero, at most %v", hi.About())}
}

// under puts every fault of err below a field.
func under(field string, err error) error {
	var errs []error
	for e := range measure.FieldErrors(err) {
		errs = append(errs, e.Under(field))
	}
	return errors.Join(errs...)
}

func validateRooms(rooms []Room) error {
	if err := size(rooms); err != nil {
		return err
	}
	var errs []error
	seen := map[string]bool{}
	for i, r := range rooms {
		path := fmt.Sprintf("rooms[%d]", i)
		if r.Name == "" {
			errs = append(errs, &measure.FieldError{Field: path + ".name", Value: "", Want: "a name"})
		} else if seen[r.Name] {
			errs = append(errs, &measure.FieldError{Field: path + ".name", Value: r.Name, Want: "a name that no other room has"})
		}
		seen[r.Name] = true
		errs = append(errs, r.validate(path))
	}
	return errors.Join(errs...)
}

func (r *Room) validate(path string) error {
	var errs []error
	bad := func(field, value, want string) {
		errs = append(errs, &measure.FieldError{Field: path + "." + field, Value: value, Want: want})
	}
	if len(r.Walls) == 0 {
		bad("walls", "[]", "at least one wall")
	}
	errs = append(errs, within(path+".height", r.Height, 0, maxHeight), within(path+".paint_line", r.PaintLine, 0, maxHeight), r.Studs.validate(path+".studs"))
	seen := map[string]bool{}
	for i, w := range r.Walls {
		at := fmt.Sprintf("walls[%d]", i)
		if w.Name == "" {
			bad(at+".name", "", "a name")
		} else if seen[w.Name] {
			bad(at+".name", w.Name, "a name that no other wall of the room has")
		}
		seen[w.Name] = true
		if w.Start != (Corner{}) && r.before(i).joined() {
			bad(at+".start", w.Start.String(), "nothing, because the wall before ends in a corner with this one")
		}
		errs = append(errs, w.validate(path+"."+at))
	}
	errs = append(errs, within(path+".off_square", r.OffSquare, 0, maxHeight), r.validateDiagonals(path+".diagonals"))
	if r.Entry != "" && !seen[r.Entry] {
		bad("entry", r.Entry, "the name of a wall of the room")
	}
	return errors.Join(errs...)
}

// before returns the corner at the left-hand end of wall i.
func (r Room) before(i int) Corner { return r.Walls[(i+len(r.Walls)-1)%len(r.Walls)].Corner }

func (c Corner) validate(path string) error {
	if int(c.Kind) >= len(cornerNames) {
		return &measure.FieldError{Field: path, Value: c.Kind.String(), Want: "a known kind of corner"}
	}
	if c.Angle < 0 || c.Angle > halfTurn {
		return &measure.FieldError{Field: path, Value: c.String(), Want: "an angle of more than 0° and at most 180°"}
	}
	return nil
}

func (s Studs) validate(path string) error {
	errs := []error{within(path+".first", s.First, 0, maxWall)}
	if s.Spacing != 0 {
		errs = append(errs, within(path+".spacing", s.Spacing, measure.Inch, maxWall))
	}
	for i, x := range s.At {
		field := fmt.Sprintf("%s.at[%d]", path, i)
		errs = append(errs, within(field, x, 0, maxWall))
		if i > 0 && x <= s.At[i-1] {
			errs = append(errs, &measure.FieldError{Field: field, Value: x.About(), Want: "more than the one before"})
		}
	}
	return errors.Join(errs...)
}

func (w Wall) validate(path string) error {
	errs := []error{
		positive(path+".length", w.Length, maxWall),
		within(path+".top", w.Top, 0, maxWall),
		within(path+".height_left", w.HeightLeft, 0, maxHeight),
		within(path+".height_right", w.HeightRight, 0, maxHeight),
		w.Corner.validate(path + ".corner"),
		w.Start.validate(path + ".start"),
		w.Studs.validate(path + ".studs"),
	}
	names := map[string]bool{}
	for i, o := range w.Openings {
		at := fmt.Sprintf("%s.openings[%d]", path, i)
		errs = append(errs, o.validate(at), w.holds(at, o.At, o.Width))
		if name := w.openingName(i); names[name] {
			errs = append(errs, &measure.FieldError{Field: at + ".name", Value: name, Want: "a name that no other opening of the wall has"})
		} else {
			names[name] = true
		}
	}
	for i, f := range w.Fixtures {
		at := fmt.Sprintf("%s.fixtures[%d]", path, i)
		errs = append(errs, f.validate(at), w.holds(at, f.At, f.Width))
	}
	for i, a := range w.KeepClear {
		at := fmt.Sprintf("%s.avoid[%d]", path, i)
		errs = append(errs, within(at+".at", a.At, 0, maxWall), positive(at+".width", a.Width, maxWall))
	}
	return errors.Join(append(errs, w.validateOverlap(path))...)
}

// holds returns an error where something at x of the given width reaches beyond
// the wall.
func (w Wall) holds(path string, x, width measure.Length) error {
	if x < 0 || width <= 0 || w.Length <= 0 || x > maxWall || width > maxWall || x+width <= w.Length {
		return nil // in order, or reported by another check
	}
	return &measure.FieldError{
		Field: path, Value: fmt.Sprintf("%v + %v", x.About(), width.About()),
		Want: fmt.Sprintf("to end within the wall's %v", w.Length.About()),
	}
}

func (w Wall) validateOverlap(path string) error {
	order := make([]int, len(w.Openings))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(w.Openings[a].At, w.Openings[b].At) })
	var errs []error
	for k := 1; k < len(order); k++ {
		a, b := w.Openings[order[k-1]], w.Openings[order[k]]
		if a.At < 0 || a.Width <= 0 || a.At > maxWall || a.Width > maxWall || a.At+a.Width <= b.At {
			continue
		}
		errs = append(errs, &measure.FieldError{
			Field: fmt.Sprintf("%s.openings[%d].at", path, order[k]), Value: b.At.About(),
			Want: fmt.Sprintf("at least %v, where %s ends", (a.At + a.Width).About(), w.openingName(order[k-1])),
		})
	}
	return errors.Join(errs...)
}

func (o Opening) validate(path string) error {
	errs := []error{
		within(path+".at", o.At, 0, maxWall),
		positive(path+".width", o.Width, maxWall),
		within(path+".height", o.Height, 0, maxHeight),
		within(path+".top_width", o.TopWidth, 0, maxWall),
		within(path+".right_height", o.RightHeight, 0, maxHeight),
		within(path+".sill", o.Sill, 0, maxHeight),
		within(path+".reveal", o.Reveal, 0, maxHeight),
		within(path+".existing", o.Existing, 0, maxHeight),
	}
	if o.Flush && o.Reveal != 0 {
		errs = append(errs, &measure.FieldError{Field: path + ".reveal", Value: o.Reveal.About(), Want: "nothing, because the casing is flush"})
	}
	if int(o.Kind) >= len(openingNames) {
		errs = append(errs, &measure.FieldError{Field: path + ".kind", Value: o.Kind.String(), Want: "a known kind of opening"})
	}
	return errors.Join(errs...)
}

func (f Fixture) validate(path string) error {
	errs := []error{
		within(path+".at", f.At, 0, maxWall),
		positive(path+".width", f.Width, maxWall),
		within(path+".bottom", f.Bottom, 0, maxHeight),
		within(path+".height", f.Height, 0, maxHeight),
		within(path+".depth", f.Depth, 0, maxHeight),
	}
	if f.Name == "" {
		errs = append(errs, &measure.FieldError{Field: path + ".name", Value: "", Want: "a name"})
	}
	if f.Height != 0 && f.Bottom >= f.Height {
		errs = append(errs, &measure.FieldError{Field: path + ".bottom", Value: f.Bottom.About(), Want: fmt.Sprintf("less than its height, %v, which is from the floor to its top", f.Height.About())})
	}
	if int(f.Ends) >= len(terminationNames) {
		errs = append(errs, &measure.FieldError{Field: path + ".ends", Value: f.Ends.String(), Want: "butt, return or scribe"})
	}
	return errors.Join(errs...)
}
