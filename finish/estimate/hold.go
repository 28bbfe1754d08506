package estimate

import (
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock/takeoff"
)

// Hold returns the rooms in which a measurement is probably wrong, each with its doubts, for
// cutsheet.Options: their pieces wait until the room is measured again.
func (e *Estimate) Hold() []cutsheet.Hold {
	e = e.complete()
	var hold []cutsheet.Hold
	for i := range e.Findings {
		if f := &e.Findings[i]; f.Severity == takeoff.SeverityDoubt && f.Room != "" {
			hold = append(hold, cutsheet.Hold{Room: f.Room, Reason: f.Reason})
		}
	}
	return hold
}
