package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// longestRun is the longest stretch of wall or opening that one profile covers
// without a stop.
type longestRun struct {
	room, wall string
	length     measure.Length
}

func (l *longestRun) see(room, wall string, length measure.Length) {
	if length > l.length {
		*l = longestRun{room, wall, length}
	}
}

// use is a profile in a role.
type use struct {
	role stock.Role
	name string
}

// longestRuns returns for each profile in its role the longest run in the rooms, spliced or
// not: parts that are glued and nailed together move as one.
func (s Scheme) longestRuns(rooms []Room, opt Options) map[use]longestRun {
	longest := map[use]longestRun{}
	courses := s.courses(opt)
	called := newLabels(rooms, callings(courses)...)
	for i := range rooms {
		for _, c := range courses {
			if !c.runsIn(&rooms[i]) {
				continue
			}
			t := taker{room: &rooms[i], called: called.of(i), scheme: s, opt: opt, course: c, list: &List{}}
			t.layOut()
			for t.clearCorners() {
			}
			of := use{c.profile.Role, c.profile.Name}
			l := longest[of]
			for _, line := range t.lines {
				if !line.gone {
					l.see(rooms[i].Name, rooms[i].Walls[line.wall].Name, line.to-line.from)
				}
			}
			longest[of] = l
		}
		for _, w := range rooms[i].Walls {
			for _, g := range w.groups() {
				o, s := g.Opening, s.at(g.Opening)
				if !o.cased(s) {
					continue
				}
				m := o.margin(s)
				wide, high := max(o.Width, o.topWidth())+2*m, max(o.height(), o.rightHeight())+o.ArchRise+m
				for _, h := range o.head(s) {
					of := use{h.p.Role, h.p.Name}
					l := longest[of]
					l.see(rooms[i].Name, w.Name, wide+2*h.beyond)
					longest[of] = l
				}
				for _, p := range s.profiles() {
					of := use{p.Role, p.Name}
					l := longest[of]
					switch p.Role {
					case stock.RoleCasing, stock.RoleBackband:
						l.see(rooms[i].Name, w.Name, max(wide, high))
					case stock.RoleStool:
						if o.hasStool(s) {
							l.see(rooms[i].Name, w.Name, wide+2*opt.Horn)
						}
					case stock.RoleApron:
						if o.hasStool(s) {
							l.see(rooms[i].Name, w.Name, wide)
						}
					}
					longest[of] = l
				}
			}
		}
	}
	return longest
}

// openJoints finds trim whose longest run moves more than a joint may open. Without rooms, or
// if each strip has its own joints, the longest stick is used.
func openJoints(w words, p stock.Profile, m stock.Material, at Conditions, run longestRun) []Finding {
	what := fmt.Sprintf("the longest run of %s, %v in %s, %s,", p.Name, w.About(run.length), run.room, run.wall)
	if run.length == 0 || p.StripJoint > 0 {
		run = longestRun{}
		if run.length = p.Longest(); run.length == 0 {
			return nil
		}
		what = fmt.Sprintf("a stick of %s of %v", p.Name, w.About(run.length))
	}
	var fs []Finding
	note := func(moves measure.Length, err error, why string) {
		if moves = max(moves, -moves); err != nil || moves <= openJoint {
			return
		}
		fs = append(fs, Finding{
			Code: FindingOpenJoints, Severity: SeverityAdvice, Room: run.room, Wall: run.wall, Length: moves,
			Reason: fmt.Sprintf("%s moves %s %s; leave room or expect open joints", what, w.about(moves), why),
		})
	}
	if at.MinTemp != at.MaxTemp {
		moves, err := m.Expansion(run.length, at.MinTemp, at.MaxTemp)
		note(moves, err, fmt.Sprintf("between %v and %v", w.FormatTemperature(at.MinTemp), w.FormatTemperature(at.MaxTemp)))
	}
	if at.MinMoisture != at.MaxMoisture && m.Along != 0 {
		moves, err := m.SwellAlong(run.length, at.MinMoisture, at.MaxMoisture)
		note(moves, err, fmt.Sprintf("between %v and %v of moisture", w.FormatRatio(at.MinMoisture), w.FormatRatio(at.MaxMoisture)))
	}
	return fs
}
