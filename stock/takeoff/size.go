package takeoff

import (
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"

	"example.com/longpoint/measure"
)

// What is looked at in one call is bounded, far above any house, so that nobody waits long
// for the answer whatever is asked: things are walls, openings, fixtures, diagonals, and
// stretches and studs that are listed.
const (
	maxInRoom = 1_000       // walls, openings, fixtures and stretches to avoid
	maxStuds  = 10_000      // listed on one wall
	maxInAll  = 10_000      // walls, openings, fixtures and stretches to avoid of all rooms
	maxAround = 5 * maxWall // walls of all rooms, one after the other; studs of them are listed one by one
	maxName   = 1_000       // bytes, since names are in every label
)

// tooMany returns a *FieldError unless n <= most.
func tooMany(field string, n, most int, what string) error {
	if n <= most {
		return nil
	}
	return &measure.FieldError{Field: field, Value: strconv.Itoa(n) + " " + what, Want: fmt.Sprintf("at most %d", most)}
}

// named returns a *FieldError unless a name is short enough to be called by.
func named(field, name string) error {
	if len(name) <= maxName {
		return nil
	}
	cut := maxName / 20
	for cut > 0 && !utf8.RuneStart(name[cut]) {
		cut--
	}
	return &measure.FieldError{Field: field, Value: fmt.Sprintf("%s... (%d bytes)", name[:cut], len(name)), Want: fmt.Sprintf("at most %d bytes", maxName)}
}

// things is how much of a room there is to look at.
func (r *Room) things() int {
	n := len(r.Walls)
	for i := range r.Walls {
		n += len(r.Walls[i].Openings) + len(r.Walls[i].Fixtures) + len(r.Walls[i].KeepClear)
	}
	return n
}

// size returns an error where a room is too large to look at, before anybody does.
func (r *Room) size(path string) error {
	const what = "walls, openings, fixtures and stretches to avoid"
	errs := []error{named(path+".name", r.Name), named(path+".entry", r.Entry), tooMany(path, r.things(), maxInRoom, what),
		tooMany(path+".studs.at", len(r.Studs.At), maxStuds, "studs")}
	if errors.Join(errs...) != nil {
		return errors.Join(errs...)
	}
	for i := range r.Walls {
		w := &r.Walls[i]
		at := fmt.Sprintf("%s.walls[%d]", path, i)
		errs = append(errs, named(at+".name", w.Name), tooMany(at+".studs.at", len(w.Studs.At), maxStuds, "studs"))
		for k := range w.Openings {
			errs = append(errs, named(fmt.Sprintf("%s.openings[%d].name", at, k), w.Openings[k].Name))
		}
		for k := range w.Fixtures {
			errs = append(errs, named(fmt.Sprintf("%s.fixtures[%d].name", at, k), w.Fixtures[k].Name))
		}
		for k := range w.KeepClear {
			errs = append(errs, named(fmt.Sprintf("%s.avoid[%d].name", at, k), w.KeepClear[k].Name))
		}
	}
	return errors.Join(errs...)
}

// size returns an error where rooms are too many or too large to look at in one call.
func size(rooms []Room) error {
	if err := tooMany("rooms", len(rooms), maxInAll, "rooms"); err != nil {
		return err
	}
	all, studs := 0, 0
	var around measure.Length
	var errs []error
	for i := range rooms {
		r := &rooms[i]
		errs = append(errs, r.size(fmt.Sprintf("rooms[%d]", i)))
		all += r.things()
		for k := range r.Walls {
			if l := r.Walls[k].Length; l > 0 && l <= maxWall {
				around += l // at most as many as there are things
			}
			if n := len(r.Walls[k].Studs.At); n > 0 {
				studs += n
			} else {
				studs += len(r.Studs.At)
			}
		}
	}
	if err := errors.Join(errs...); err != nil {
		return err
	}
	if around > maxAround {
		errs = append(errs, &measure.FieldError{Field: "rooms", Value: around.About() + " of wall", Want: fmt.Sprintf("at most %v in one call", maxAround.About())})
	}
	return errors.Join(append(errs,
		tooMany("rooms", all, maxInAll, "walls, openings, fixtures and stretches to avoid"),
		tooMany("rooms", studs, 10*maxStuds, "studs that are listed, those of a room on each of its walls"))...)
}
