package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/panel"
)

// wainscotDepth finds a cap, stiles, battens or strips that project beyond the casing into
// which they die: they must stop short of it, or be notched or chamfered. A sheet behind them
// counts.
func (s Scheme) wainscotDepth(words words, casing stock.Profile) (fs []Finding) {
	w := s.Wainscot
	if w == nil {
		return nil
	}
	for _, f := range []struct {
		p    *stock.Profile
		deep measure.Length
	}{{w.Profile, w.SheetThickness}} {
		if f.p == nil || w.Kind == panel.KindBoxes {
			continue
		}
		if over := f.p.Thickness + f.deep - casing.Thickness; over > 0 {
			fs = append(fs, Finding{
				Code: FindingThickBase, Severity: SeverityAdvice, Length: over,
				Reason: fmt.Sprintf("%s stands out %v beyond the %s that it dies into; its end will show", f.p.Name, words.About(over, f.p.Thickness), called("casing", casing.Name)),
			})
		}
	}
	return fs
}

// wainscotStack finds a cap that does not cover the members below it, and paneling that
// projects beyond the base below it.
func (s Scheme) wainscotStack(words words) (fs []Finding) {
	w := s.Wainscot
	if w == nil || w.Kind == panel.KindBoxes {
		return nil
	}
	deep := w.SheetThickness + w.Profile.Thickness
	if w.Cap != nil && w.Cap.Thickness < deep {
		lack := deep - w.Cap.Thickness
		fs = append(fs, Finding{
			Code: FindingThinHead, Severity: SeverityAdvice, Length: lack,
			Reason: fmt.Sprintf("%s reaches %v from the wall, over paneling that is %v deep: %v of its top will show", called("cap", w.Cap.Name), words.About(w.Cap.Thickness), words.About(deep), words.About(lack)),
		})
	}
	rows, told := s.wainscotRows(), false
	for _, c := range s.stacked(nil) {
		if !c.foot || c.profile.Role == stock.RoleShoe || !shareRoom(c.rooms, w.Rooms) || told {
			continue
		}
		switch {
		case w.ToFloor && c.standoff < deep:
			told = true // of the first, which stands on the floor
			fs = append(fs, Finding{
				Code: FindingThickBase, Severity: SeverityDoubt, Length: deep - c.standoff,
				Reason: fmt.Sprintf("%s stands %v off the wall, and paneling that is %v deep goes to the floor behind it", called(c.profile.Role.String(), c.profile.Name), words.About(c.standoff), words.About(deep)),
			})
		case !w.ToFloor && c.hi == rows[0].Bottom && c.face() < deep:
			fs = append(fs, Finding{
				Code: FindingThickBase, Severity: SeverityAdvice, Length: deep - c.face(),
				Reason: fmt.Sprintf("paneling of %s stands out %v beyond the %s that it stands on; its lower end will show", w.Profile.Name, words.About(deep-c.face()), called(c.profile.Role.String(), c.profile.Name)),
			})
		}
	}
	return fs
}

// wainscotTooHigh doubts paneling that is too high for the lowest wall of a room, less the trim
// that hangs from the ceiling.
func (s Scheme) wainscotTooHigh(words words, r *Room, courses []course) []Finding {
	if s.Wainscot == nil || !s.panels(r) {
		return nil
	}
	wall, low := 0, measure.Length(0)
	for i := range r.Walls {
		if h := r.low(i); h > 0 && (low == 0 || h < low) {
			wall, low = i, h
		}
	}
	hangs := measure.Length(0)
	for _, c := range running(courses, r) {
		if c.ceiling {
			hangs = max(hangs, -c.lo)
		}
	}
	rows := s.wainscotRows()
	top := rows[len(rows)-1].Top
	if over := top - (low - min(hangs, low)); low > 0 && over > 0 {
		return []Finding{{
			Code: FindingTrimFit, Severity: SeverityDoubt, Room: r.Name, Wall: r.Walls[wall].Name, Length: over,
			Reason: fmt.Sprintf("paneling of %s would end %v above the floor, %v too high, where the room is %v high", s.Wainscot.Profile.Name, words.About(top), words.about(over), words.About(low)),
		}}
	}
	return nil
}

// panelFloat doubts solid panels without room to swell: between the driest and the dampest
// conditions, as far as their material is known.
func (s Scheme) panelFloat(words words, at Conditions, catalog *stock.Catalog) []Finding {
	w := s.Wainscot
	if w == nil || w.Kind != panel.KindFrame || !w.Solid {
		return nil
	}
	f := Finding{Code: FindingPanelFloat, Severity: SeverityDoubt}
	m, _ := catalog.Material(w.PanelMaterial)
	from, to := max(at.MinMoisture, m.MinMoisture), min(at.MaxMoisture, m.MaxMoisture) // as far as it is known
	if swells, err := m.SwellAcross(w.Target, from, to); err == nil && from < to && m.Across > 0 && w.Target > 0 {
		if swells <= w.Float {
			return nil
		}
		f.Length = swells
		f.Reason = fmt.Sprintf("a panel of %s %v wide moves by %v between %s and %s, and has %v to do so", w.PanelMaterial, words.About(w.Target), words.about(swells),
			words.FormatRatio(from), words.FormatRatio(to), words.About(w.Float))
		return []Finding{f}
	}
	if w.Float > 0 {
		return nil
	}
	f.Reason = "solid panels swell across the grain; without a float they split or push the stiles apart"
	return []Finding{f}
}

// clearOfStool is the clearance between a rail and a stool at another height; common practice,
// no source.
const clearOfStool = 2 * measure.Inch

// railsAtStools finds rails and caps whose upper edge is neither that of a stool nor clear of it.
func railsAtStools(words words, r Room, s Scheme, courses []course) (fs []Finding) {
	for i, w := range r.Walls {
		for _, g := range w.groups() {
			o := g.Opening
			s := s.at(o)
			if !o.hasStool(s) || o.Sill == 0 {
				continue
			}
			for _, c := range courses {
				switch role := c.profile.Role; {
				case role != stock.RoleChairRail && role != stock.RoleCap, c.paneled && !s.paneled(&r, i), c.hi == o.Sill:
					continue
				}
				if apart := max(o.Sill-s.Stool.Thickness-c.hi, c.lo-o.Sill); apart < clearOfStool {
					off := max(c.hi-o.Sill, o.Sill-c.hi)
					fs = append(fs, Finding{
						Code: FindingRailStool, Severity: SeverityAdvice, Room: r.Name, Wall: w.Name, Length: off,
						Reason: fmt.Sprintf("the top of %s is %v off that of the stool of %s: as high, or clear of it by %s, looks meant", called(c.profile.Role.String(), c.profile.Name), words.About(off), w.openingName(g.first), words.or("2 in", "51 mm")),
					})
				}
			}
		}
	}
	return fs
}
