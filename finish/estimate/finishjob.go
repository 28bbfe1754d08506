package estimate

import (
	"cmp"
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// FinishJob returns the finishing job of a profile p with the totals t of a takeoff: its
// length, edges, corners and joints, its height and developed face, and for stone or tile the
// course. The length of casing and backband is measured along the middle of their faces, the
// average of their two edges. For totals of a room, from [takeoff.List].RoomTotals, the label
// is "PROFILE, ROOM", so a profile has a job in each room.
//
// Hazards are those of the profile's place: ladders and scaffolds below a ceiling, open edges
// along stairs, the table saw for what is ripped: extensions, backing, stiles, and trim cut
// to a floor or a ceiling that is out of level. Add the hazards that a
// takeoff does not know, such as those of the material. Back, Studs, Holes and Preprimed are
// left zero.
func FinishJob(t takeoff.ProfileTotals, p stock.Profile) finish.Job {
	j := finish.Job{
		Label: cmp.Or(t.Profile, p.Name), Length: t.Net, Height: p.Width, Face: p.Developed(),
		Runs: int64(t.Runs), Edges: int64(t.Edges), Hazards: hazardsOf(t.Role),
		Corners: int64(t.Corners), Outside: int64(t.Joints.OutsideMiters),
	}
	// The outer edge is longer than the middle by half the width at either end of a miter.
	if longer, err := p.Width.Mul(int64(t.Joints.FlatMiters)); err == nil && longer < t.Net {
		j.Length -= longer
	}
	if t.Room != "" {
		j.Label += ", " + t.Room
	}
	if !t.Course {
		j.Splices = int64(t.Splices)
		if t.Scribed > 0 && !slices.Contains(j.Hazards, finish.HazardTableSaw) {
			j.Hazards = append(j.Hazards, finish.HazardTableSaw)
		}
		j.Glued = int64(t.Joints.OutsideMiters + t.Joints.FlatMiters + t.Joints.RakeMiters + t.Joints.Scarfs + t.Joints.Returns)
		return j
	}
	j.CourseJoints = int64(t.CourseJoints)
	j.Tile = finish.Tile{Length: p.Longest(), Width: p.Width, Thickness: p.Thickness, Joint: p.StripJoint}
	if t.CourseJoints == 0 { // no single wall is longer than a strip, though the total is
		j.Tile.Length = max(j.Tile.Length, t.Net, measure.Inch)
	}
	return j
}

// hazardsOf returns the hazards at the place of a role (common practice, no source).
func hazardsOf(r stock.Role) []finish.Hazard {
	switch r {
	case stock.RoleCrown, stock.RoleBed, stock.RoleSoffit, stock.RoleFrieze, stock.RolePictureRail:
		return []finish.Hazard{finish.HazardLadders, finish.HazardScaffold}
	case stock.RoleSkirt:
		return []finish.Hazard{finish.HazardFalls}
	case stock.RoleExtension, stock.RoleBacking, stock.RoleStile:
		return []finish.Hazard{finish.HazardTableSaw}
	}
	return nil
}
