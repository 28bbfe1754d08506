package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// Conditions are the conditions that the trim meets on its way to the wall and there. The zero
// value checks nothing.
type Conditions struct {
	// MaxTransport is the longest stick that can be carried, including up the stairs; zero for
	// any.
	MaxTransport measure.Length `json:"max_transport,omitzero"`

	// MinTemp and MaxTemp, MinMoisture and MaxMoisture are the range of conditions in service.
	// If two are equal, they are not checked.
	MinTemp     measure.Temperature `json:"min_temp,omitzero"`
	MaxTemp     measure.Temperature `json:"max_temp,omitzero"`
	MinMoisture measure.Ratio       `json:"min_moisture,omitzero"`
	MaxMoisture measure.Ratio       `json:"max_moisture,omitzero"`

	// Catalog holds the materials that the profiles name; nil means stock.GenericCatalog. A
	// profile with an unknown material is checked by its dimensions only.
	Catalog *stock.Catalog `json:"catalog,omitempty"`

	// Locale is the format of the findings. It changes none of their numbers.
	Locale measure.Locale `json:"locale,omitzero"`
}

// Limits that a carpenter checks before buying.
const (
	openJoint  = 31 * measure.Inch / 1000  // a custom grade joint (ANSI/AWI 0620-2024)
	lowSwell   = 55 * measure.Percent / 10 // in 24 h, near the floor (ANSI/AWI 0622.0646-2024)
	nearFloor  = 6 * measure.Inch          // height meant by that (the same source)
	leastJoint = measure.Inch / 16         // between tiles (ANSI A108.02, as TileLetter quotes it)
)

// CheckTrim reports trim that does not suit the rooms, the other trim or the conditions: base
// thicker than the casing at which it ends, old paint that shows, material that swells in a wet
// room, poor proportions, stone treated like wood, sticks that cannot be carried, joints that
// will open. None of these is an error; each finding has numbers. Findings about the scheme
// come first, then those of each room.
//
// The error joins a *measure.FieldError for each invalid field, at most 100, in the order of
// the arguments.
func CheckTrim(rooms []Room, s Scheme, at Conditions) ([]Finding, error) {
	var bad faults
	bad.Under("", validateRooms(rooms, Scheme{}))
	bad.Under("", s.validate())
	s.validateExtent(rooms, &bad)
	bad.length("max_transport", at.MaxTransport, 0, maxWall)
	bad.temperature("min_temp", at.MinTemp)
	bad.temperature("max_temp", at.MaxTemp)
	bad.moisture("min_moisture", at.MinMoisture)
	bad.moisture("max_moisture", at.MaxMoisture)
	s.validateChoice(rooms, &bad)
	opt, err := (&Options{Catalog: at.Catalog}).filled()
	bad.Under("", err)
	if bad.Under("locale", at.Locale.Validate()); len(bad.List) > 0 {
		return nil, bad.Err()
	}
	rooms = along(rooms)
	catalog := opt.Catalog
	w := words{at.Locale}
	fs := suitability(w, s, rooms)
	fs = append(fs, proportion(w, s)...)
	longest := s.longestRuns(rooms, opt)
	for _, p := range s.profiles() {
		m, known := catalog.Material(p.Material)
		if known {
			fs = append(fs, woodRules(w, p, m)...)
			fs = append(fs, openJoints(w, p, m, at, longest[use{p.Role, p.Name}])...)
		}
		fs = append(fs, vehicle(w, p, at.MaxTransport)...)
	}
	fs = append(fs, s.wainscotStack(w)...)
	fs = append(fs, s.panelFloat(w, at, catalog)...)
	courses := s.courses(opt)
	for i := range rooms {
		r := &rooms[i]
		here, low := running(courses, r), []course(nil)
		fs = append(fs, paintLine(w, *r, here)...)
		fs = append(fs, railsAtStools(w, *r, s, here)...)
		if !r.Wet {
			continue
		}
		for _, c := range here {
			if c.foot && c.lo < nearFloor {
				low = append(low, c)
			}
		}
		if s.Plinth != nil {
			low = append(low, course{profile: *s.Plinth})
		}
		for _, c := range low {
			if m, known := catalog.Material(c.profile.Material); known {
				fs = append(fs, wet(w, *r, c.profile, m)...)
			}
		}
	}
	return fs, nil
}

// profiles returns every profile of the scheme and of its styles with its role.
func (s Scheme) profiles() []stock.Profile {
	var ps []stock.Profile
	for _, f := range append(s.named(), s.ofStyles()...) {
		if f.p != nil {
			p := *f.p
			p.Role = f.role
			ps = append(ps, p)
		}
	}
	return ps
}

// suitability checks the profiles together, as Take does too.
func suitability(w words, s Scheme, rooms []Room) []Finding {
	var fs []Finding
	for _, p := range s.profiles() {
		if trap, ok := joint.CheckSpring(p); ok {
			fs = append(fs, Finding{Code: FindingCeilingAngle, Severity: SeverityDoubt, Angle: trap.Meant, Length: trap.Gap, Reason: p.Name + ": " + w.marks(trap.Reason)})
		}
	}
	fs = append(fs, s.oldCasings(w, rooms)...)
	courses := s.stacked(nil)
	fs = append(fs, looseEdges(w, courses)...)
	fs = append(fs, thinBacking(w, courses)...)
	for _, d := range s.dressed(rooms) {
		for _, f := range append(footings(w, d), styleFindings(w, d)...) {
			if !slices.ContainsFunc(fs, func(g Finding) bool { return g.Code == f.Code && g.Reason == f.Reason }) {
				fs = append(fs, f) // styles may share profiles
			}
		}
	}
	return fs
}

// footings finds trim that projects beyond the casing or the plinth at which it ends.
func footings(w words, s Scheme) []Finding {
	var fs []Finding
	if s.Casing == nil {
		return fs
	}
	side := *s.Casing // the trim into which a rail dies
	if s.Backband != nil && s.Backband.Thickness > side.Thickness {
		side = *s.Backband
	}
	var foot stock.Profile // the trim into which base dies
	if s.Plinth != nil {
		foot = *s.Plinth
	}
	for _, c := range s.stacked(nil) {
		into, what := side, "casing"
		if c.foot && s.Plinth != nil && c.lo < s.plinthHeight() {
			into, what = foot, "plinth"
		}
		over := c.face() - into.Thickness
		if over <= 0 || c.ceiling || c.profile.Role == stock.RoleShoe || c.profile.Role == stock.RolePictureRail || s.ThickEnd != MeetSquare {
			continue
		}
		reason := fmt.Sprintf("%s is %v thicker than the %s that it dies into; its end will show", c.profile.Name, w.About(over, c.face()), called(what, into.Name))
		if c.standoff > 0 {
			reason = fmt.Sprintf("%s stands out %v farther than the %s that it dies into; its end will show", c.profile.Name, w.About(over, c.face()), called(what, into.Name))
		} else {
			reason += waysOut(w, c.profile, over)
		}
		fs = append(fs, Finding{Code: FindingThickBase, Severity: SeverityAdvice, Length: over, Reason: reason})
	}
	fs = append(fs, s.wainscotDepth(w, side)...)
	if s.Plinth != nil && s.Casing.Thickness > s.Plinth.Thickness {
		over := s.Casing.Thickness - s.Plinth.Thickness
		fs = append(fs, Finding{
			Code: FindingThickBase, Severity: SeverityAdvice, Length: over,
			Reason: fmt.Sprintf("%s is %v thicker than the %s that it stands on; its end will show", called("casing", s.Casing.Name), w.About(over, s.Casing.Thickness), called("plinth", s.Plinth.Name)),
		})
	}
	return fs
}

// proportion compares heights; common practice, no source.
func proportion(w words, s Scheme) []Finding {
	courses := s.stacked(nil)
	base, height := foot(courses)
	if height == 0 {
		return nil
	}
	var fs []Finding
	compare := func(name, dim string, size measure.Length) {
		if size <= height {
			return
		}
		fs = append(fs, Finding{
			Code: FindingProportion, Severity: SeverityNote, Length: size - height,
			Reason: fmt.Sprintf("%s is %v %s and base %s only %v high; base is usually the largest", name, w.About(size), dim, base, w.About(height)),
		})
	}
	if s.Casing != nil {
		compare(s.Casing.Name, "wide", s.Casing.Width)
	}
	var shoes []course
	for i := 0; i < len(courses); { // by assembly
		c := courses[i]
		name, lo, hi := cmp.Or(c.assembly, c.profile.Name), c.lo, c.hi
		for ; i < len(courses) && courses[i].stack == c.stack; i++ {
			lo, hi = min(lo, courses[i].lo), max(hi, courses[i].hi)
			if courses[i].profile.Role == stock.RoleShoe {
				shoes = append(shoes, courses[i])
			}
		}
		if !c.foot && !c.ceiling {
			compare(name, "high", hi-lo)
		}
	}
	for _, c := range shoes {
		compare(c.profile.Name, "high", c.hi-c.lo)
	}
	return fs
}

// woodRules finds stone and tile whose profile is scarfed or has no joint. Take butts it all
// the same.
func woodRules(w words, p stock.Profile, m stock.Material) []Finding {
	if !m.Class.Mineral() {
		return nil
	}
	var fs []Finding
	add := func(s Severity, l measure.Length, reason string) {
		fs = append(fs, Finding{Code: FindingWoodRules, Severity: s, Length: l, Reason: p.Name + " is " + m.Class.String() + ": " + reason})
	}
	if !p.ButtSpliced && p.Role != stock.RoleCasing {
		add(SeverityDoubt, 0, "it cannot be coped or scarfed; set it as strips, spliced square, with a joint between them")
	}
	if p.ButtSpliced && p.StripJoint < leastJoint {
		add(SeverityAdvice, leastJoint-p.StripJoint, fmt.Sprintf("joints of %v are too narrow, at least %v; where the plane changes at least %s of sealant", w.About(p.StripJoint), w.About(leastJoint), w.or("1/8 in", "3.2 mm")))
	}
	return fs
}

// vehicle finds sticks that are too long to be carried.
func vehicle(w words, p stock.Profile, longest measure.Length) []Finding {
	if longest == 0 {
		return nil
	}
	var over, fits measure.Length
	for _, l := range p.Lengths {
		if l > longest {
			over = max(over, l-longest)
		} else {
			fits = max(fits, l)
		}
	}
	if over == 0 {
		return nil
	}
	f := Finding{Code: FindingTransport, Severity: SeverityAdvice, Length: over}
	f.Reason = fmt.Sprintf("sticks of %s of %v are %v longer than can be carried", p.Name, w.About(longest+over), w.About(over, longest+over))
	if fits == 0 {
		f.Severity = SeverityDoubt
		f.Reason += "; no length that is sold can"
	} else {
		f.Reason += fmt.Sprintf("; the longest that can is %v", w.About(fits))
	}
	return []Finding{f}
}

// paintLine finds old paint that the base leaves bare.
func paintLine(w words, r Room, courses []course) []Finding {
	base, height := foot(courses)
	if height == 0 || r.PaintLine <= height {
		return nil
	}
	bare := r.PaintLine - height
	return []Finding{{
		Code: FindingPaintLine, Severity: SeverityAdvice, Room: r.Name, Length: bare,
		Reason: fmt.Sprintf("%s is %v high and the old paint line at %v: %v of it will show", called("base", base), w.About(height), w.About(r.PaintLine), w.About(bare)),
	}}
}

// wet finds trim that a wet floor ruins.
func wet(w words, r Room, p stock.Profile, m stock.Material) []Finding {
	gain := measure.Length(0)
	if m.Swell24h > 0 {
		gain, _, _ = p.Thickness.MulDiv(int64(m.Swell24h), int64(100*measure.Percent), measure.RoundHalfEven) // cannot overflow: a validated thickness, at most doubled
	}
	if !m.WaterSensitive && m.Swell24h <= lowSwell {
		return nil
	}
	f := Finding{Code: FindingWetSwelling, Severity: SeverityDoubt, Room: r.Name, Length: gain}
	f.Reason = fmt.Sprintf("%s is of %s, which swells, and the floor gets wet", p.Name, m.Name)
	if gain > 0 {
		f.Reason += fmt.Sprintf("; soaked for 24 hours it gets %s thicker, where %s is allowed within %s of the floor", w.about(gain), w.FormatRatio(lowSwell), w.or("6 in", "152 mm"))
	}
	return []Finding{f}
}
