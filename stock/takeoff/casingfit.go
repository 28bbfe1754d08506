package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// setting is an opening of a wall with the extents of its trim.
type setting struct {
	Opening
	name   string
	scheme Scheme // as it is at the opening
	bands  []band
}

// reach returns the greatest extent of the named part beyond the jambs.
func (s setting) reach(part string) (out measure.Length) {
	for _, b := range s.bands {
		if b.part == part {
			out = max(out, b.out)
		}
	}
	return out
}

// top returns the height of the top of the trim above the floor, and the part there.
func (s setting) top() (hi measure.Length, part string) {
	for _, b := range s.bands {
		if b.hi > hi {
			hi, part = b.hi, b.part
		}
	}
	return hi, part
}

// parts are the parts of the trim of an opening that can be too wide, the legs first.
var parts = []string{"casing", "plinth", "block", "head", "stool"}

// settings returns the openings of a wall from left to right.
func (c *checker) settings(w Wall) []setting {
	var ss []setting
	for _, g := range w.groups() {
		at := c.s.at(g.Opening)
		ss = append(ss, setting{g.Opening, w.openingName(g.first), at, g.bands(at, c.opt, 0)})
	}
	slices.SortStableFunc(ss, func(a, b setting) int { return cmp.Compare(a.At, b.At) })
	return ss
}

// fit adds a finding that a part of the trim of an opening is too wide, with a remedy.
func (c *checker) fit(w Wall, s setting, part string, lack measure.Length, where, remedy string) {
	if lack <= 0 {
		return
	}
	if remedy != "" {
		remedy = "; " + remedy
	}
	c.add(Finding{
		Code: FindingCasingFit, Severity: SeverityAdvice, Wall: w.Name, Length: lack,
		Reason: fmt.Sprintf("the %s of %s is %v too %s%s", part, s.name, c.w.About(lack), where, remedy),
	})
}

// beside reports trim that extends beyond an end of the wall.
func (c *checker) beside(w Wall, s setting) {
	for _, end := range []struct {
		room measure.Length // from the jamb to the end
		name string
	}{{s.At, "left"}, {w.Length - s.At - s.Width, "right"}} {
		told := measure.Length(0)
		for _, part := range parts {
			lack := s.reach(part) - end.room
			if lack <= told { // no more than already reported
				continue
			}
			told = lack
			c.fit(w, s, part, lack, "wide for the "+end.name+" end of the wall", c.remedy(s, part, lack))
		}
	}
}

// overJamb reports corner blocks that extend over the jambs, where a door or a sash moves.
func (c *checker) overJamb(w Wall, s setting) {
	style := s.scheme.style()
	if style.Joint != CasingBlock {
		return
	}
	if over := (style.Block.Width-s.scheme.Casing.Width)/2 - s.reveal(); over > 0 {
		c.fit(w, s, "block", over, "wide for the reveal and reaches over the jamb", fmt.Sprintf("a reveal of %v clears it", c.w.About(s.reveal()+over)))
	}
}

// remedy describes how to make a part narrower.
func (c *checker) remedy(s setting, part string, lack measure.Length) string {
	switch {
	case part == "casing" && s.ExistingWidth == 0 && s.scheme.Casing != nil && lack < s.scheme.Casing.Width:
		return fmt.Sprintf("its leg ripped to %v fits", c.w.About(s.scheme.Casing.Width-lack))
	case part == "plinth" && lack < s.scheme.Plinth.Width:
		return fmt.Sprintf("ripped to %v it fits", c.w.About(s.scheme.Plinth.Width-lack))
	case part == "head" && lack <= s.reach("head")-s.reach("casing"):
		return fmt.Sprintf("the legs fit: end it %v short there, without a return", c.w.About(lack))
	case part == "stool" && lack < c.opt.Horn:
		return fmt.Sprintf("a horn of %v fits", c.w.About(c.opt.Horn-lack))
	}
	return ""
}

// between reports trim of two openings, the first to the left of the second, that is wider than
// the wall between them.
func (c *checker) between(w Wall, a, b setting) {
	wall := b.At - a.At - a.Width
	told := measure.Length(0)
	for _, part := range parts {
		lack := measure.Length(0)
		for _, x := range a.bands {
			for _, y := range b.bands {
				if x.part != "" && y.part != "" && (x.part == part || y.part == part) && x.lo < y.hi && y.lo < x.hi {
					lack = max(lack, x.out+y.out-wall)
				}
			}
		}
		if lack <= told {
			continue
		}
		told = lack
		remedy := ""
		switch gap := wall - a.reveal() - b.reveal(); {
		case part == "casing" && a.ExistingWidth == 0 && b.ExistingWidth == 0 && gap > 0:
			remedy = fmt.Sprintf("between the reveals are %v: one flat casing of that width serves both, if they are joined", c.w.About(gap))
		case part == "head" && a.reach("casing")+b.reach("casing") <= wall:
			remedy = "the legs fit: let one head run over both"
		}
		c.fit(w, b, part, lack, "wide for the one of "+a.name, remedy)
	}
}

// above reports an opening that is higher than the room, and trim that reaches the ceiling, the
// crown or a picture rail.
func (c *checker) above(w Wall, height measure.Length, s setting) {
	top := s.height()
	if s.Kind == OpeningWindow {
		top += s.Sill
	}
	trim, part := top+s.margin(s.scheme), "casing"
	known := s.Kind != OpeningWindow || s.Sill != 0 && s.Height != 0
	if known {
		trim, part = s.top()
	}
	if height > 0 && top > height {
		c.add(Finding{
			Code: FindingOpeningFit, Severity: SeverityDoubt, Wall: w.Name, Length: top - height,
			Reason: fmt.Sprintf("%s ends %v above the floor, higher than the ceiling at %v", s.name, c.w.About(top, height), c.w.About(height)),
		})
	} else if height > 0 && trim > top {
		c.fit(w, s, part, trim-height, "high for the ceiling", "")
	}
	c.crown(w, height, s.name, trim)
	if known {
		c.rails(w, height, s, part, trim)
	}
}

// rails reports trim that ends within the height of a picture rail, and rails that are thicker
// than the trim into which they die.
func (c *checker) rails(w Wall, height measure.Length, s setting, part string, top measure.Length) {
	for _, rail := range c.courses {
		if rail.profile.Role != stock.RolePictureRail || rail.ceiling && height == 0 || !rail.runsIn(c.r) {
			continue
		}
		if rail.ceiling {
			rail.lo, rail.hi = height+rail.lo, height+rail.hi
		}
		if into := top - rail.lo; into > 0 && top < rail.hi && s.reach("casing") > 0 {
			c.add(Finding{
				Code: FindingRailFit, Severity: SeverityAdvice, Wall: w.Name, Length: into,
				Reason: fmt.Sprintf("the %s of %s ends %v above the floor, %s up the picture rail, which dies into it in part only", part, s.name, c.w.About(top), c.w.about(into)),
			})
		}
		var end band // the trim into which it dies
		for _, b := range s.bands {
			if b.lo < rail.hi && b.hi > rail.lo && b.out > end.out {
				end = b
			}
		}
		thick := rail.standoff + rail.profile.Projection()
		if over := thick - end.depth; end.depth > 0 && over > 0 {
			c.add(Finding{
				Code: FindingThickBase, Severity: SeverityAdvice, Wall: w.Name, Length: over,
				Reason: fmt.Sprintf("%s reaches %v farther into the room than the %s of %s that it dies into; its end will show", rail.profile.Name, c.w.About(over, thick), end.part, s.name),
			})
		}
	}
}

// inCorner reports trim of openings on two walls that meets in the corner between them.
func (c *checker) inCorner(i int, a, b []setting) {
	walls := c.r.Walls
	j := (i + 1) % len(walls)
	corner := walls[i].Corner
	if corner.Kind != CornerInside || corner.straight() || len(a) == 0 || len(b) == 0 || i == j {
		return
	}
	x, y := a[len(a)-1], b[0]
	left := ray{point{}, 1, 0}
	dx, dy := direction(corner.turn())
	right := ray{left.to(walls[i].Length, 0), dx, dy}
	outline := func(r ray, o setting, b band) polygon {
		return polygon{r.to(o.At-b.out, 0), r.to(o.At+o.Width+b.out, 0), r.to(o.At+o.Width+b.out, b.depth), r.to(o.At-b.out, b.depth)}
	}
	var lack measure.Length
	var p, q string
	for _, u := range x.bands {
		for _, v := range y.bands {
			if u.part == "" || v.part == "" || u.depth == 0 || v.depth == 0 || u.lo >= v.hi || v.lo >= u.hi {
				continue
			}
			if u.out > walls[i].Length-x.At-x.Width || v.out > y.At {
				continue // the wall is too narrow for it, which is already reported
			}
			common := outline(left, x, u).and(outline(right, y, v))
			if !common.thick() {
				continue
			}
			if along, _ := right.extent(common); asLength(along[1]-along[0]) > lack {
				lack, p, q = asLength(along[1]-along[0]), u.part, v.part
			}
		}
	}
	if lack > 0 {
		c.add(Finding{
			Code: FindingCasingFit, Severity: SeverityAdvice, Wall: walls[j].Name, Length: lack, Suspects: []string{walls[i].Name, walls[j].Name},
			Reason: fmt.Sprintf("the %s of %s runs %s into the %s of %s on %s, in the corner; rip it by as much, or scribe one to the other", q, y.name, c.w.about(lack), p, x.name, walls[i].Name),
		})
	}
}

// styleFindings checks a scheme at the openings of one style for joints that will show.
func styleFindings(w words, s Scheme) []Finding {
	style := s.style()
	if s.Casing == nil {
		return nil
	}
	var fs []Finding
	add := func(code FindingCode, severity Severity, l measure.Length, reason string) {
		fs = append(fs, Finding{Code: code, Severity: severity, Length: l, Reason: style.Name + ": " + reason})
	}
	legs, thickest := s.Casing.Thickness, s.Casing
	if s.Backband != nil && s.Backband.Thickness > legs {
		legs, thickest = s.Backband.Thickness, s.Backband
	}
	if b := style.Block; b != nil {
		if over := b.Width - s.Casing.Width; over > 0 {
			add(FindingWideBlock, SeverityNote, over, fmt.Sprintf("%s is %v wider than %s: legs are %v shorter, and a head %v", called("block", b.Name), w.About(over), called("casing", s.Casing.Name), w.About(over/2), w.About(over/2*2)))
		}
		if under := legs - b.Thickness; under > 0 {
			add(FindingThinHead, SeverityAdvice, under, fmt.Sprintf("%s is %v thinner than %s that ends at it; its end grain will show", called("block", b.Name), w.About(under, legs), thickest.Name))
		}
	}
	if over := s.BackbandLap - style.FlatEdge; s.Backband != nil && style.FlatEdge > 0 && over > 0 {
		add(FindingWideLap, SeverityAdvice, over, fmt.Sprintf("the lip of %s laps %v over %s, whose edge is flat for %v", called("backband", s.Backband.Name), w.About(s.BackbandLap), called("casing", s.Casing.Name), w.About(style.FlatEdge)))
	}
	if style.Joint == CasingBlock {
		return fs
	}
	parts := Opening{}.head(s)
	for i, h := range parts {
		below, what := legs, thickest.Name // the trim on which the member lies
		if i == 0 && style.Joint == CasingMiter || i == 0 && len(style.Head) == 0 {
			continue
		}
		if i > 0 {
			below, what = parts[i-1].depth(), parts[i-1].p.Name
			if h.around() {
				continue
			}
		}
		switch under := below - h.depth(); {
		case i > 0 && parts[i-1].p.Role == stock.RoleFillet, i > 0 && parts[i-1].p.Role == stock.RoleCap:
			// A fillet and a cap project beyond the member below them.
		case under > 0:
			add(FindingThinHead, SeverityAdvice, under, fmt.Sprintf("%s reaches %v less into the room than %s below it, whose upper edge will show", h.p.Name, w.About(under), what))
		case under == 0 && i == 0: // common practice, no source
			add(FindingThinHead, SeverityNote, 0, fmt.Sprintf("head %s is flush with the legs, %s: it will show as they shrink, which a thicker one hides", h.p.Name, what))
		}
		if i > 0 && parts[i-1].around() && h.beyond < parts[i-1].beyond {
			add(FindingThinHead, SeverityAdvice, parts[i-1].beyond-h.beyond, fmt.Sprintf("%s covers %s but for %v at either end; its overhang has to be at least %v", h.p.Name, what, w.About(parts[i-1].beyond-h.beyond), w.About(parts[i-1].beyond)))
		}
	}
	return fs
}

// dressed returns the scheme at the openings of the rooms that get new casing: without a style
// if an opening has none, then by styles.
func (s Scheme) dressed(rooms []Room) []Scheme {
	if len(s.CasingStyles) == 0 {
		return []Scheme{s}
	}
	used := make([]bool, 1+len(s.CasingStyles))
	for i := range rooms {
		for _, w := range rooms[i].Walls {
			for _, o := range w.Openings {
				if o.cased(s.at(o)) {
					used[1+s.pick(o)] = true
				}
			}
		}
	}
	var all []Scheme
	for i, u := range used {
		switch {
		case !u:
		case i == 0:
			plain := s
			plain.CasingStyles = nil
			all = append(all, plain)
		default:
			all = append(all, s.styled(i-1))
		}
	}
	return all
}
