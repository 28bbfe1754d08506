package sequence

import "slices"

// paint orders the work on a room with all its trim: dust removal before wet work, then
// walls and trim, from the top down.
func (b *builder) paint() {
	for _, room := range b.rooms {
		dust := b.loose[StageDust]
		dust = slices.DeleteFunc(slices.Clone(dust), func(n int) bool { return b.nodes[n].Room != room })
		var late []int
		if n := len(dust); n > 0 && slices.Contains(b.late, room) && (n > 1 || !slices.Contains(b.early, room)) {
			dust, late = dust[:n-1], dust[n-1:]
		}
		b.dust(room, dust, false)
		b.dust(room, late, true)
		b.walls(room)
		if !b.opt.AnyCoatFirst {
			b.topDown(room)
		}
	}
}

// firstWet returns the index of the first in-place coat of a unit, or the number of its
// nodes.
func (b *builder) firstWet(u *unit) int {
	for i, n := range u.nodes {
		if u.inPlace(i) && b.nodes[n].Wet && b.nodes[n].stage != StageBackPrime {
			return i
		}
	}
	return len(u.nodes)
}

// lastDusty returns the last node that raises dust before a unit is caulked or coated in place, or
// -1: hanging, or sanding its filler.
func (b *builder) lastDusty(u *unit) int {
	last := -1
	for i, n := range u.nodes {
		s := b.nodes[n].stage
		if u.inPlace(i) && s != StageFill && s != StageSand {
			break
		}
		if b.nodes[n].Dusty && i >= u.first {
			last = n
		}
	}
	return last
}

// dust puts vacuuming between the dusty work in a room and its coats, for trim that is
// installed before the room is painted or after.
func (b *builder) dust(room string, dust []int, late bool) {
	if len(dust) == 0 {
		return
	}
	rule := RuleUsual // nothing dusty is done
	wait := func(dusty []int) {
		if len(dusty) > 0 {
			rule = RuleDust
		}
		b.waitAll(dusty, dust, RuleDust)
	}
	if !late {
		wait(b.in(StageJambs, room))
		if b.opt.Floor != FloorAfterPaint {
			wait(b.in(StageFloor, room))
		}
	}
	mine := func(u *unit) bool { return u.Room == room && u.late == late }
	for k := range b.units {
		if u := &b.units[k]; mine(u) {
			if n := b.lastDusty(u); n >= 0 && len(dust) > 0 {
				rule = RuleDust
				for _, d := range dust {
					b.wait(n, d, RuleDust, 0) // mortar need not be hard for it
				}
			}
		}
	}
	for k := range b.units {
		if u := &b.units[k]; mine(u) {
			if wet := b.firstWet(u); wet < len(u.nodes) {
				b.waitAll(dust, u.nodes[wet:wet+1], rule)
			}
		}
	}
	for _, n := range b.loose[StageWallPaint] {
		if !late && b.nodes[n].Room == room {
			b.waitAll(dust, []int{n}, rule)
		}
	}
}

// walls puts the last coat on the walls before or after the trim's coats, and before or
// after its caulk.
func (b *builder) walls(room string) {
	var walls []int
	for _, n := range b.loose[StageWallPaint] {
		if b.nodes[n].Room == room {
			walls = append(walls, n)
		}
	}
	if len(walls) == 0 {
		return
	}
	for i := 1; i < len(walls); i++ {
		b.waitAll(walls[i-1:i], walls[i:i+1], RuleDry)
	}
	last := walls[len(walls)-1:]
	for k := range b.units {
		u := &b.units[k]
		if u.Room != room || u.late {
			continue
		}
		var coats []int
		for i, n := range u.nodes {
			switch s := b.nodes[n].stage; {
			case !u.inPlace(i):
			case s == StageCoat:
				coats = append(coats, n)
			case s == StageCaulk && b.opt.CaulkAfterWalls:
				b.waitAll(last, []int{n}, RuleCaulkWalls)
			case s == StageCaulk:
				b.waitAll([]int{n}, walls[:1], RuleCaulkWalls)
			}
		}
		if len(coats) == 0 {
			continue
		}
		if b.opt.WallsAfterTrim {
			b.waitAll(coats[len(coats)-1:], walls[:1], RuleWalls)
		} else {
			b.waitAll(last, coats[:1], RuleWalls)
		}
	}
}

// topDown paints crown before casing and casing before base: each primer and each coat in place.
func (b *builder) topDown(room string) {
	for _, s := range [...]Stage{StagePrime, StageCoat} {
		var above []int // units that have a tier, by place in coats
		for t := range 3 {
			var here []int
			for k := range b.units {
				if u := &b.units[k]; u.Room == room && !u.late && tier(u.Role) == t && len(b.coatsInPlace(u, s)) > 0 {
					here = append(here, k)
				}
			}
			if len(here) == 0 {
				continue
			}
			for _, k := range above {
				for _, l := range here {
					upper, lower := b.coatsInPlace(&b.units[k], s), b.coatsInPlace(&b.units[l], s)
					for i := range min(len(upper), len(lower)) {
						b.wait(upper[len(upper)-1-i], lower[len(lower)-1-i], RuleTopDown, 0)
					}
				}
			}
			above = here
		}
	}
}

// coatsInPlace returns the nodes of a stage that are done on the wall.
func (b *builder) coatsInPlace(u *unit, s Stage) []int {
	var all []int
	for i, n := range u.nodes {
		if u.inPlace(i) && b.nodes[n].stage == s {
			all = append(all, n)
		}
	}
	return all
}

// end puts the last coat on the floor, the punch list, the final cleaning and the sign-off
// after all other work.
func (b *builder) end() {
	rooms := b.rooms
	if len(rooms) == 0 {
		rooms = []string{""}
	}
	for _, room := range rooms {
		var last []int
		for k := range b.units {
			if u := &b.units[k]; u.Room == room {
				last = append(last, u.nodes[len(u.nodes)-1])
			}
		}
		for _, s := range [...]Stage{StageJambs, StageFloor, StageDust, StageWallPaint, StageMask} {
			last = append(last, b.in(s, room)...)
		}
		for _, p := range preliminary {
			last = append(last, b.in(p.stage, room)...)
		}
		coat := b.in(StageFloorCoat, room)
		b.waitAll(last, coat, RuleLastCoat)
		if len(coat) > 0 {
			last = coat
		}
		if len(b.rooms) > 0 && len(last) > 0 {
			finished := b.milestone(MilestoneFinished, room)
			b.waitAll(last, []int{finished}, RulePunch)
			last = []int{finished}
		}
		b.after(room, last)
	}
}

// after puts the punch list and its successors after the last work in a room.
func (b *builder) after(room string, last []int) {
	rule := RulePunch
	for _, s := range [...]Stage{StagePunch, StageFinalClean, StageSignOff} {
		now := b.in(s, room)
		if len(now) == 0 {
			continue
		}
		b.waitAll(last, now, rule)
		last = now
		rule = RuleClean
		if s == StageFinalClean {
			rule = RuleSignOff
		}
	}
}

// milestones adds the milestones to which others refer.
func (b *builder) milestones() {
	for _, room := range b.rooms {
		if !b.wanted[MilestoneTrimUp.In(room)] {
			continue
		}
		at := b.milestone(MilestoneTrimUp, room)
		for k := range b.units {
			if u := &b.units[k]; u.Room == room && u.first >= 0 {
				b.wait(u.hung(), at, RuleSystem, b.nodes[u.hung()].Dry)
			}
		}
	}
}
