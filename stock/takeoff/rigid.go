package takeoff

import "fmt"

// rigidBends advises about trim that should bend in one piece but whose profile is not in
// Flexible, once for each wall and profile.
func (s Scheme) rigidBends(curves []CurvedTrim, runs map[string]bentRun) (fs []Finding) {
	flexible := map[string]bool{}
	for _, p := range s.Flexible {
		flexible[p.Name] = true
	}
	type place struct{ wall, profile string }
	seen := map[place]bool{}
	for _, v := range curves {
		if v.Method != CurveFlexible {
			continue
		}
		for _, label := range v.Runs {
			p := runs[label].profile
			if flexible[p] || seen[place{v.Wall, p}] {
				continue
			}
			seen[place{v.Wall, p}] = true
			fs = append(fs, Finding{
				Code: FindingRigidTrim, Severity: SeverityAdvice, Room: v.Room, Wall: v.Wall, Length: v.Radius,
				Reason: fmt.Sprintf("%s has to bend, and nothing says that %s does; name flexible stock for %s, or order it preformed", label, p, v.Role),
			})
		}
	}
	return fs
}
