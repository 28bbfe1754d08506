package sequence

import (
	"slices"
	"time"

	"example.com/longpoint/stock"
)

// rooms checks the order of works in one room, or in all rooms.
func (c *checker) rooms() {
	var rooms []string
	of := map[string][]*deed{}
	for i := range c.deeds {
		d := &c.deeds[i]
		if of[d.w.Room] == nil {
			rooms = append(rooms, d.w.Room)
		}
		of[d.w.Room] = append(of[d.w.Room], d)
	}
	for _, r := range rooms {
		here := of[r]
		if r != "" {
			here = append(slices.Clone(here), of[""]...)
		} else {
			here = nil
			for i := range c.deeds {
				here = append(here, &c.deeds[i])
			}
		}
		for _, b := range of[r] {
			for _, a := range here {
				if a != b {
					c.house(a, b)
					c.meeting(a, b)
					c.ending(a, b)
				}
			}
			if r != "" {
				c.vacuumed(b, here)
			}
		}
	}
}

// house checks the stages of a house: b has to wait for a.
func (c *checker) house(a, b *deed) {
	toTrim := b.isTrim() && c.isHung(b)
	switch {
	case a.stage == StageDecision && (b.stage == StageTearOut || b.stage == StageWalls || toTrim) && b.start.Before(a.dry):
		c.broken(RuleHazards, b, a, "old paint and asbestos are not dealt with yet")
	case a.stage == StageTearOut && (b.stage == StageWalls || toTrim) && b.start.Before(a.dry):
		c.broken(RuleTearOut, b, a, "the old trim is not off yet")
	case a.stage == StageWalls && (toTrim || b.stage == StageClimate) && b.start.Before(a.dry):
		c.broken(RuleWallsDry, b, a, "the walls are wet until "+a.dry.Format("2006-01-02 15:04"))
	case a.stage == StageClimate && toTrim && b.start.Before(a.dry):
		c.broken(RuleClimate, b, a, "the house has no heat yet")
	case a.stage == StageJambs && b.stage == StageInstall && jamb(b.w.Role) && b.start.Before(a.dry):
		c.broken(RuleJamb, b, a, "the doors are not hung yet")
	case a.stage == StageFloor && b.stage == StageInstall && b.w.Role == stock.RoleShoe && b.start.Before(a.dry):
		c.broken(RuleShoe, b, a, "the finish floor is not in yet")
	}
}

// jamb reports whether trim of a role is nailed to jambs.
func jamb(r stock.Role) bool {
	return r == stock.RoleCasing || r == stock.RoleExtension || r == stock.RoleStool
}

// isHung reports whether the job hangs the trim of a deed, rather than finding it on the wall.
func (c *checker) isHung(d *deed) bool {
	_, ok := c.hang[[2]string{d.w.Room, d.w.Profile}]
	return ok
}

// meeting checks adjoining trim: b has to wait for a.
func (c *checker) meeting(a, b *deed) {
	if a.stage != StageInstall || b.stage != StageInstall || a.w.Room != b.w.Room || a.w.Profile == b.w.Profile || !b.start.Before(a.dry) {
		return
	}
	x, y := &a.w.Trim, &b.w.Trim
	if x.Assembly != "" && x.Assembly == y.Assembly && x.Order > 0 && y.Order > 0 && x.Order != y.Order {
		if x.Order < y.Order {
			c.broken(RuleMember, b, a, x.Profile+", which it is fixed to or covers, is not up yet")
		}
		return
	}
	for _, p := range upFirst {
		if slices.Contains(p.first, x.Role) && slices.Contains(p.then, y.Role) {
			c.broken(p.rule, b, a, x.Profile+", which it meets, is not up yet")
		}
	}
	for _, p := range upFirstTogether {
		if x.Assembly == y.Assembly && slices.Contains(p.first, x.Role) && slices.Contains(p.then, y.Role) {
			c.broken(p.rule, b, a, x.Profile+", which it is fixed to or covers, is not up yet")
		}
	}
}

// ending checks the last stages: b has to wait for a.
func (c *checker) ending(a, b *deed) {
	closing := func(d *deed) bool {
		return d.stage == StagePunch || d.stage == StageFinalClean || d.stage == StageSignOff
	}
	switch {
	case b.stage == StagePunch && !closing(a) && b.start.Before(a.dry):
		c.broken(RulePunch, b, a, "work is still to be done: "+a.name())
	case b.stage == StageFinalClean && (a.stage == StagePunch || !closing(a)) && b.start.Before(a.dry):
		c.broken(RuleClean, b, a, "work is still to be done: "+a.name())
	case b.stage == StageSignOff && a.stage != StageSignOff && b.start.Before(a.dry):
		c.broken(RuleSignOff, b, a, "work is still to be done: "+a.name())
	case b.stage == StageFloorCoat && !closing(a) && a.stage != StageFloorCoat && b.start.Before(a.dry):
		c.broken(RuleLastCoat, b, a, "work is still to be done: "+a.name())
	case b.stage == StageCoat && !b.racks && b.last && a.isTrade() && !c.late(a) && !c.late(b) && b.start.Before(a.settled()):
		c.broken(RuleLastCoat, b, a, "a trade is still to work in the room: "+a.name())
	}
}

// vacuumed checks that the room of a coat was vacuumed after dusty work.
func (c *checker) vacuumed(b *deed, here []*deed) {
	if !b.isWet() || b.racks || b.stage == StageFloorCoat || b.stage == StageBackPrime {
		return
	}
	var since time.Time // the last vacuuming before b starts
	for _, d := range here {
		if d.stage == StageDust && !d.end.After(b.start) && d.start.After(since) {
			since = d.start
		}
	}
	for _, a := range here {
		if !a.isTrade() && !a.filler || a.end.After(b.start) || !a.start.Before(b.end) { // not before it, or at the same moment
			continue
		}
		if since.Before(a.settled()) {
			c.broken(RuleDust, b, a, "the room was not vacuumed after: "+a.name())
		}
	}
}

// air checks that no work raises dust near a wet coat.
func (c *checker) air() {
	for i := range c.deeds {
		a := &c.deeds[i]
		if !a.isDusty() || !a.start.Before(a.end) {
			continue
		}
		for k := range c.deeds {
			b := &c.deeds[k]
			if !b.isWet() || !b.start.Before(b.dry) || !c.sameAir(a, b) || !a.start.Before(b.dry) || !b.start.Before(a.end) {
				continue
			}
			c.broken(RuleAir, a, b, b.name()+" is wet until "+b.dry.Format("2006-01-02 15:04"))
		}
	}
}

// sameAir reports whether dust of a settles on b.
func (c *checker) sameAir(a, b *deed) bool {
	racks := func(d *deed) bool { return d.racks || d.stage == StageBackPrime }
	switch {
	case c.opt.OneAir:
		return true
	case racks(a) != racks(b):
		return false
	case racks(a):
		return true
	}
	return together(a, b)
}
