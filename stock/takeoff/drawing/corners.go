package drawing

import (
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// A corner holds the joints at the right-hand end of a wall and at the left-hand end of the
// next.
type corner struct {
	joints []cornerJoint
}

// cornerJoint is one kind of joint or end of trim in a corner, and its trim.
type cornerJoint struct {
	kind  stock.EndKind
	next  bool // cut at the left-hand end of the next wall, such as a cope over this one's trim
	roles []stock.Role
	of    string // the wall of the trim that is cut
}

// both reports whether the ends of both walls are cut alike.
func (j *cornerJoint) both() bool {
	return j.kind == stock.EndInsideMiter || j.kind == stock.EndOutsideMiter
}

// findCorners finds the list's joints in each corner.
func (pl *plan) findCorners() {
	n := len(pl.places)
	pl.corners = make([]corner, n)
	index := map[string]int{}
	for i := range pl.room.Walls {
		index[pl.room.Walls[i].Name] = i
	}
	for i := range pl.list.Runs {
		r := &pl.list.Runs[i]
		wall, ok := index[r.Wall]
		if r.Room != pl.room.Name || !ok || !runsAround(r) {
			continue
		}
		bent := pl.room.Walls[wall].Curve != nil
		if from := r.Start - r.Reach; pl.joined(r.Left.Kind, pl.leftEnd(wall), from, bent) {
			pl.corners[(wall+n-1)%n].add(r.Left.Kind, true, r.Role, r.Wall)
		}
		if to := r.Start + r.Net; pl.joined(r.Right.Kind, pl.room.Walls[wall].Corner, pl.places[wall].Length-to, bent) {
			pl.corners[wall].add(r.Right.Kind, false, r.Role, r.Wall)
		}
	}
}

// leftEnd returns the corner at the left of a wall.
func (pl *plan) leftEnd(wall int) takeoff.Corner {
	n := len(pl.room.Walls)
	c := pl.room.Walls[(wall+n-1)%n].Corner
	if c.Kind > takeoff.CornerOutside && pl.room.Walls[wall].Start != (takeoff.Corner{}) {
		return pl.room.Walls[wall].Start
	}
	return c
}

// joined reports whether an end of a run at the given distance from the end of its wall is a
// joint of the corner there. Copes and miters occur only in corners, except on curved walls,
// where segments are mitered; other ends occur at openings and fixtures too.
func (pl *plan) joined(kind stock.EndKind, c takeoff.Corner, off measure.Length, bent bool) bool {
	const near = 2 * measure.Inch
	switch kind {
	case stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter:
		return !bent || off < near
	case stock.EndButt:
		return c.Kind <= takeoff.CornerOutside && off < 6*measure.Inch
	case stock.EndReturn:
		return c.Kind == takeoff.CornerOpen && off < near
	case stock.EndScribe:
		return c.Kind == takeoff.CornerRough && off < near
	}
	return false
}

// runsAround reports whether a run is trim that goes around the room.
func runsAround(r *stock.Run) bool {
	switch r.Role {
	case stock.RoleBase, stock.RoleShoe, stock.RoleCap, stock.RoleChairRail, stock.RolePictureRail, stock.RoleBand, stock.RoleFillet,
		stock.RoleFrieze, stock.RoleSoffit, stock.RoleBed, stock.RoleCrown:
		return r.Slope < 80*measure.Degree && r.Slope > -80*measure.Degree
	}
	return false
}

// add notes an end in the corner.
func (c *corner) add(kind stock.EndKind, next bool, role stock.Role, of string) {
	j := cornerJoint{kind: kind, next: next, of: of}
	if j.both() {
		if next { // counted at the other wall
			return
		}
		j.next = false
	}
	for i := range c.joints {
		if q := &c.joints[i]; q.kind == kind && q.next == j.next {
			q.roles = append(q.roles, role)
			return
		}
	}
	j.roles = []stock.Role{role}
	c.joints = append(c.joints, j)
}

// jointNames are the names of the joints, and the letters of their marks.
var jointNames = map[stock.EndKind][2]string{
	stock.EndCope: {"cope", "C"}, stock.EndInsideMiter: {"inside miter", "I"}, stock.EndOutsideMiter: {"outside miter", "O"},
	stock.EndButt: {"butt", "B"}, stock.EndScribe: {"scribe", "S"}, stock.EndReturn: {"return", "R"},
}

// jointKinds are the joints in the order of the key.
var jointKinds = []stock.EndKind{stock.EndCope, stock.EndInsideMiter, stock.EndOutsideMiter, stock.EndButt, stock.EndScribe, stock.EndReturn}

// String describes the joints.
func (c *corner) String() string {
	var parts []string
	for _, j := range c.joints {
		var roles []string
		for _, r := range j.roles {
			if !slices.Contains(roles, r.String()) {
				roles = append(roles, r.String())
			}
		}
		text := strings.Join(roles, ", ")
		switch {
		case j.kind == stock.EndCope:
			text += " coped on " + j.of
		case j.both():
			text += " in " + jointNames[j.kind][0] + "s"
		case j.kind == stock.EndButt:
			text += " butted on " + j.of
		case j.kind == stock.EndScribe:
			text += " scribed on " + j.of
		default:
			text += " returned on " + j.of
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// side describes the joints at one of the two walls.
func (c *corner) side(next bool) string {
	var of corner
	for _, j := range c.joints {
		if j.next == next {
			of.joints = append(of.joints, j)
		}
	}
	return of.String()
}

// counts sums up the joints in all corners.
func (pl *plan) counts() string {
	var parts []string
	for _, k := range jointKinds {
		n := 0
		for _, c := range pl.corners {
			for _, j := range c.joints {
				if j.kind == k {
					n += len(j.roles)
				}
			}
		}
		if n > 0 {
			name := jointNames[k][0]
			if n > 1 {
				name += "s"
			}
			parts = append(parts, strconv.Itoa(n)+" "+name)
		}
	}
	return strings.Join(parts, ", ")
}
