package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
)

// looseEdges finds crown and bed molding without support for both edges: for the lower one the
// wall or the member behind, for the upper one the ceiling or a member with the same
// projection.
func looseEdges(w words, courses []course) []Finding {
	var fs []Finding
	loose := func(c course, lacks measure.Length, what string) {
		fs = append(fs, Finding{
			Code: FindingLooseEdge, Severity: SeverityDoubt, Length: lacks,
			Reason: fmt.Sprintf("%s of %s: %s", called(c.profile.Role.String(), c.profile.Name), c.assembly, what),
		})
	}
	for _, c := range courses {
		if !c.profile.Role.Sprung() {
			continue
		}
		if c.standoff > 0 {
			lacks := c.standoff // to the wall
			for _, k := range c.behind {
				if b := courses[k]; !b.profile.Role.Sprung() {
					lacks = min(lacks, max(c.standoff-b.face(), b.lo-c.lo))
				}
			}
			if lacks > 0 {
				loose(c, lacks, fmt.Sprintf("nothing is behind its lower edge, %v off the wall", w.About(c.standoff)))
			}
		}
		if c.ceiling && c.hi == 0 {
			continue
		}
		lacks, known := -c.hi, c.ceiling // to the ceiling
		for _, b := range courses {
			if b.stack != c.stack || b.profile.Role.Sprung() || b.lo < c.hi {
				continue
			}
			if short := max(c.face()-b.face(), b.lo-c.hi); !known || short < lacks {
				lacks, known = short, true
			}
		}
		if !known || lacks > 0 {
			loose(c, max(0, lacks), fmt.Sprintf("nothing is above its upper edge, %v from the wall", w.About(c.face())))
		}
	}
	return fs
}
