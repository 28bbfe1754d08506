package tearout

import (
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// hazards are the hazards of the tasks, besides old paint and suspect materials in the
// room.
var hazards = [len(taskNames)][]finish.Hazard{
	TaskBreak:  {finish.HazardScrap, finish.HazardHiddenServices, finish.HazardNoise},
	TaskPry:    {finish.HazardScrap, finish.HazardHiddenServices},
	TaskDenail: {finish.HazardScrap},
	TaskBag:    {finish.HazardScrap},
	TaskSweep:  {finish.HazardPower},
	TaskClean:  {finish.HazardPower},
}

// disturbs reports whether a task raises dust of old paint.
func (t Task) disturbs() bool { return t == TaskContain || t.dusty() }

// cautions returns the cautions to read before a task starts in a room, with the one
// that defers to local codes and licensed practice last, or none.
func (p *planner) cautions(t Task, room Room, parts []Part, lead []finish.Caution) ([]finish.Caution, error) {
	asked := hazards[t]
	if t.byLength() && slices.ContainsFunc(parts, func(p Part) bool { return p.High }) {
		asked = slices.Concat(asked, []finish.Hazard{finish.HazardLadders, finish.HazardScaffold})
	}
	if t.dusty() && (len(lead) > 0 || slices.ContainsFunc(room.Suspects, func(s Suspect) bool { return s.Kind == SuspectPlaster })) {
		asked = slices.Concat(asked, []finish.Hazard{finish.HazardRespirators})
	}
	opens := t == TaskBreak || t == TaskPry
	var out []finish.Caution
	if t.disturbs() {
		out = append(out, lead...)
	}
	if t == TaskDenail && len(lead) > 0 {
		out = append(out, savedPaint)
	}
	if t == TaskBag && len(lead) > 0 {
		out = append(out, paintedWaste)
	}
	old := p.job.Building.Year == 0 || p.job.Building.Year < presumed
	if t == TaskTest || opens && (old || len(room.Suspects) > 0) {
		asked = slices.Concat([]finish.Hazard{finish.HazardAsbestos}, asked)
	}
	if opens && slices.ContainsFunc(room.Suspects, func(s Suspect) bool { return s.Kind == SuspectPlaster }) {
		out = append(out, plasterDust)
	}
	more, err := finish.Cautions(p.job.Locale, asked...)
	if err != nil {
		return nil, err
	}
	out = append(out, more...)
	if len(out) > 0 && len(more) == 0 {
		out = append(out, general()...)
	}
	return out, nil
}

// presumed is the first year of construction from which old flooring and insulation are not
// presumed to hold asbestos (29 CFR 1926.1101(k), from memory).
const presumed = 1981

// Except for 29 CFR 1926.1153, the statements about rules of law are from memory.
var savedPaint = finish.Caution{
	Topic:   finish.HazardLeadPaint,
	Trigger: "old painted trim that is saved",
	Text:    "Saved trim keeps its old paint: write on each piece where it came from, and treat every later cut, sanding and stripping of it as work on old paint. Keep it wrapped until it is used.",
	Source:  commonPractice,
}

var paintedWaste = finish.Caution{
	Topic:   finish.HazardLeadPaint,
	Trigger: "debris with old paint",
	Text:    "Debris from homes may go with household waste in most states, but never into a fire, a chipper or a garden. From any other building it may be hazardous waste: ask the authority and the landfill before the dumpster is ordered. States may be stricter.",
	Source:  "40 CFR 261.4(b)(1); EPA memorandum of 31 July 2000",
}

var plasterDust = finish.Caution{
	Topic:   finish.HazardSilica,
	Trigger: "old plaster that comes loose with the trim",
	Text:    "Plaster and mortar hold silica: the limit is 50 ug/m3, the action level 25 ug/m3, as an 8-hour average. Score and mist before you pry, extract with a HEPA vacuum, never sweep dry, and wear the respirator that your employer has to provide if the dust is not controlled. States may be stricter.",
	Source:  "29 CFR 1926.1153",
}

// leadOffice returns the cautions before the first step if the lead rule covers the
// job.
func leadOffice(r finish.LeadRule) []finish.Caution {
	return append([]finish.Caution{{
		Topic:   finish.HazardLeadPaint,
		Trigger: "the renovation rule covers the job",
		Text:    "Only a certified firm may do it, with a certified renovator who posts the signs, oversees containment and cleaning, and does the cleaning verification. States may be stricter, and some run the program themselves: ask yours before you set a date.",
		Source:  "40 CFR 745.85, 745.89 and 745.90",
	}}, general()...)
}

// general is the caution that defers to local codes and licensed practice.
func general() []finish.Caution {
	all, _ := finish.Cautions(measure.Locale{}, finish.HazardGeneral)
	return all
}
