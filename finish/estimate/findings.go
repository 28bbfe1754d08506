package estimate

import (
	"fmt"

	"example.com/longpoint/finish"
	"example.com/longpoint/stock/takeoff"
)

// look collects the findings of a scenario: about the measurements, the choice of trim and the
// takeoff, each once.
func (w *work) look(s *scenario) ([]takeoff.Finding, error) {
	habits := w.job.habits()
	out, err := takeoff.Check(w.rooms, s.trim, &habits)
	if err != nil {
		return nil, fieldsOfTake(err)
	}
	trim, err := takeoff.CheckTrim(w.rooms, s.trim, w.job.conditions())
	if err != nil {
		return nil, fieldsOfTake(err)
	}
	type said struct{ room, wall, reason string }
	known := make(map[said]bool, len(out))
	all := out[:0:0]
	for _, list := range [...][]takeoff.Finding{out, trim, s.list.Findings} {
		for _, f := range list {
			if key := (said{f.Room, f.Wall, f.Reason}); !known[key] {
				known[key] = true
				all = append(all, f)
			}
		}
	}
	for _, l := range s.alone {
		all = append(all, takeoff.Finding{Code: FindingHelper, Severity: takeoff.SeverityNote, Room: l.Room,
			Reason: fmt.Sprintf("%s takes %d people at its longest pieces, more than any crew has: get a helper for it, or props", l.Profile, l.People)})
	}
	return all, nil
}

// FindingHelper reports work for more people than any crew of the calendar has: it is planned
// for the people available.
const FindingHelper takeoff.FindingCode = "helper"

// cautions collects the cautions, in the order of work, each once; the general one comes last.
func (w *work) cautions(s *scenario) []finish.Caution {
	var all []finish.Caution
	if w.tearOut != nil {
		all = append(all, w.tearOut.Cautions...)
	}
	all = append(all, s.finish.Cautions...)
	var out, last []finish.Caution
	type said struct{ trigger, text string }
	known := make(map[said]bool, len(all))
	for _, c := range all {
		if key := (said{c.Trigger, c.Text}); !known[key] {
			known[key] = true
			if c.Topic == finish.HazardGeneral {
				last = append(last, c)
				continue
			}
			out = append(out, c)
		}
	}
	return append(out, last...)
}
