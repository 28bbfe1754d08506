package takeoff

import (
	"fmt"
	"unicode/utf8"

	"example.com/longpoint/measure"
)

// The size of one call is limited, far above any house, to keep calls quick whatever the input:
// things are walls, openings, fixtures, devices, diagonals, and listed stretches and studs.
const (
	maxInRoom = 1_000       // walls, openings, fixtures and stretches to keep clear
	maxStuds  = 10_000      // listed on one wall
	maxInAll  = 10_000      // walls, openings, fixtures and stretches to keep clear of all rooms
	maxAround = 5 * maxWall // walls of all rooms, one after the other; studs of them are listed one by one
	maxName   = 1_000       // bytes, since names are in every label
)

// named rejects a name that is too long.
func (f *faults) named(field, name string) {
	if len(name) <= maxName {
		return
	}
	cut := maxName / 20
	for cut > 0 && !utf8.RuneStart(name[cut]) {
		cut--
	}
	f.Add(field, fmt.Sprintf("%s... (%d bytes)", name[:cut], len(name)), fmt.Sprintf("at most %d bytes", maxName))
}

// things returns the number of things in a room.
func (r *Room) things() int {
	n := len(r.Walls)
	for i := range r.Walls {
		if c := r.Walls[i].Curve; c != nil {
			n += c.segments().Count
		}
		n += len(r.Walls[i].Openings) + len(r.Walls[i].Fixtures) + len(r.Walls[i].KeepClear) + len(r.Walls[i].Devices) + len(r.Walls[i].Stretches)
		n += len(r.Walls[i].Floor) + len(r.Walls[i].Ceiling)
	}
	return n
}

const manyThings = "walls, segments of curves, openings, fixtures, devices, readings and stretches"

// size returns an error if a room is too large, before it is processed.
func (r *Room) size() error {
	var bad faults
	bad.named("name", r.Name)
	bad.count("", r.things(), maxInRoom, manyThings)
	bad.named("entry", r.Entry)
	bad.count("studs.at", len(r.Studs.At), maxStuds, "studs")
	if len(bad.List) > 0 {
		return bad.Err()
	}
	for i := range r.Walls {
		w := &r.Walls[i]
		at := indexed("walls", i)
		bad.named(at+".name", w.Name)
		for k := range w.Openings {
			bad.named(at+"."+indexed("openings", k)+".name", w.Openings[k].Name)
		}
		for k := range w.Fixtures {
			bad.named(at+"."+indexed("fixtures", k)+".name", w.Fixtures[k].Name)
		}
		for k := range w.Stretches {
			bad.named(at+"."+indexed("stretches", k)+".name", w.Stretches[k].Name)
		}
		for k := range w.Devices {
			bad.named(at+"."+indexed("devices", k)+".name", w.Devices[k].Name)
		}
		bad.count(at+".studs.at", len(w.Studs.At), maxStuds, "studs")
		for k := range w.KeepClear {
			bad.named(at+"."+indexed("keep_clear", k)+".name", w.KeepClear[k].Name)
		}
	}
	return bad.Err()
}

// size returns an error if rooms are too many or too large for one call.
func size(rooms []Room) error {
	var bad faults
	if bad.count("rooms", len(rooms), maxInAll, "rooms"); len(bad.List) > 0 {
		return bad.Err()
	}
	all, studs := 0, 0
	var around measure.Length
	for i := range rooms {
		r := &rooms[i]
		bad.Under(indexed("rooms", i), r.size())
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
	if len(bad.List) > 0 {
		return bad.Err()
	}
	if around > maxAround {
		bad.Add("rooms", around.About()+" of wall", fmt.Sprintf("at most %v in one call", maxAround.About()))
	}
	bad.count("rooms", all, maxInAll, manyThings)
	bad.count("rooms", studs, 10*maxStuds, "studs that are listed, those of a room on each of its walls")
	return bad.Err()
}
