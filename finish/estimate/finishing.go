package estimate

import (
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// finishing computes the finishing of a scenario: a job for each profile in each room, so that
// one room can dry while the work goes on in the next. Packages are bought for all.
func (w *work) finishing(s *scenario) error {
	var todo []finish.Work
	var of []int // their materials
	for _, t := range s.list.RoomTotals {
		m := w.materialOf(s, t.Profile)
		if m < 0 {
			continue // takeOff has reported it
		}
		todo = append(todo, finish.Work{System: w.systemOf(t, w.job.Materials[m]), Job: w.finishJob(s, t, w.job.Materials[m])})
		of = append(of, m)
	}
	var err error
	s.finish, err = finish.NewList(todo, w.job.shelf())
	return w.faultsOfFinish(err, of)
}

// materialOf returns the index of the material of a profile, that of the board for strips
// ripped from it, or -1.
func (w *work) materialOf(s *scenario, profile string) int {
	if k := slices.IndexFunc(s.list.Strips, func(x takeoff.StripStock) bool { return x.Profile.Name == profile }); k >= 0 {
		profile = s.list.Strips[k].Board
	}
	return slices.IndexFunc(w.job.Materials, func(m Material) bool { return m.Profile.Name == profile })
}

// systemOf returns the finishing system of a profile: the one that its material names, or the
// usual one.
func (w *work) systemOf(t takeoff.ProfileTotals, m Material) finish.System {
	switch {
	case m.System != "":
		return w.job.Systems[slices.IndexFunc(w.job.Systems, func(s finish.System) bool { return s.Label == m.System })]
	case t.Course:
		return finish.TileBase()
	case t.Role == stock.RoleCasing:
		return finish.PaintedCasing()
	}
	return finish.PaintedTrim()
}

// finishJob returns the finishing job of a profile in a room.
func (w *work) finishJob(s *scenario, t takeoff.ProfileTotals, m Material) finish.Job {
	p := w.known[m.Profile.Name]
	if k := slices.IndexFunc(s.list.Strips, func(x takeoff.StripStock) bool { return x.Profile.Name == t.Profile }); k >= 0 {
		p = s.list.Strips[k].Profile
	}
	f := FinishJob(t, p)
	f.Preprimed = m.Preprimed
	for _, h := range m.Hazards { // in addition to those of its place
		if !slices.Contains(f.Hazards, h) {
			f.Hazards = append(f.Hazards, h)
		}
	}
	if k := slices.IndexFunc(w.rooms, func(r takeoff.Room) bool { return r.Name == t.Room }); k >= 0 {
		f.Studs = closestStuds(w.rooms[k])
	}
	return f
}

// closestStuds returns the closest stud spacing on any wall of a room, which takes the most
// nails; zero means the default of package finish.
func closestStuds(r takeoff.Room) measure.Length {
	least := r.Studs.Spacing
	for _, wall := range r.Walls {
		if s := wall.Studs.Spacing; s > 0 && (least <= 0 || s < least) {
			least = s
		}
	}
	return max(least, 0)
}

// faultsOfFinish translates the paths of faults that package finish reports for a list of work
// to those of the job.
func (w *work) faultsOfFinish(err error, of []int) error {
	if err == nil {
		return nil
	}
	var out fault.List
	for bad := range measure.FieldErrors(err) {
		out.Under("", w.faultOfFinish(bad, of))
	}
	if len(out) == 0 {
		return err
	}
	return out.Err()
}

func (w *work) faultOfFinish(bad *measure.FieldError, of []int) error {
	moved := *bad
	switch first, rest, _ := strings.Cut(bad.Field, "."); {
	case bad.Field == "products":
		return fault.Field("shelf.products", "without "+strconv.Quote(bad.Value), bad.Want+", for which a system asks")
	case strings.HasPrefix(first, "work["):
		i, err := strconv.Atoi(strings.TrimSuffix(strings.TrimPrefix(first, "work["), "]"))
		if err != nil || i < 0 || i >= len(of) {
			return bad
		}
		m := w.job.Materials[of[i]]
		k := slices.IndexFunc(w.job.Systems, func(s finish.System) bool { return m.System != "" && s.Label == m.System })
		if step, ok := strings.CutPrefix(rest, "system."); ok && k >= 0 {
			moved.Field = fault.At("systems", k) + "." + step
		} else {
			moved.Field = fault.At("materials", of[i]) + "." + strings.TrimPrefix(rest, "job.")
		}
		return &moved
	}
	return bad.Under("shelf")
}
