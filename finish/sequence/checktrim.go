package sequence

import (
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/stock"
)

// trim checks the work on each trim by itself.
func (c *checker) trim() {
	var order [][2]string
	of := map[[2]string][]*deed{}
	for i := range c.deeds {
		d := &c.deeds[i]
		if !d.isTrim() {
			continue
		}
		key := [2]string{d.w.Room, d.w.Profile}
		if of[key] == nil {
			order = append(order, key)
		}
		of[key] = append(of[key], d)
	}
	for _, key := range order {
		all := of[key]
		for _, b := range all {
			for _, a := range all {
				if a != b {
					c.pair(a, b)
				}
			}
			c.surface(b, all)
		}
	}
}

// pair checks whether b has to wait for a, on the same trim.
func (c *checker) pair(a, b *deed) {
	first := a.start.Before(b.start) || a.start.Equal(b.start) && a.at < b.at
	switch {
	case a.w == b.w && a.number < b.number && b.start.Before(a.end):
		c.broken(RuleDry, b, a, "the coat under it is not on yet")
	case a.glues() && b.stage == StageInstall && a.w.Dry.Recoat == 0: // its joints are closed when it is nailed
	case first && b.start.Before(a.dry):
		c.broken(RuleDry, b, a, a.w.step()+" under it is wet until "+a.dry.Format("2006-01-02 15:04"))
	case first && b.stage == StageSeal && a.stage != StageSeal && b.start.Before(a.cured):
		c.broken(RuleCured, b, a, a.w.step()+" under it cures until "+a.cured.Format("2006-01-02 15:04"))
	}
	nails := b.bare && (b.task == finish.TaskInstall || b.task == finish.TaskBrad || b.task == finish.TaskSet)
	onWall := b.stage == StageFill || b.stage == StageCaulk || b.stage == StageGrout
	switch {
	case a.stage == StageInstall && onWall && b.start.Before(a.end):
		c.broken(RuleNailed, b, a, "the trim is not up yet")
	case a.stage == StageBackPrime && b.stage == StageInstall && b.start.Before(a.end):
		c.broken(RuleBackPrime, b, a, "its back is not primed yet")
	case a.glues() && nails && b.start.Before(a.start):
		c.broken(RuleGlue, b, a, "its joints are not glued yet")
	}
}

// glues reports whether the deed closes joints or glues the back of trim.
func (d *deed) glues() bool {
	return d.bare && (d.task == finish.TaskGlue || d.task == finish.TaskGlueJoints)
}

// surface checks the condition of the surface before b.
func (c *checker) surface(b *deed, all []*deed) {
	up, hung := c.hang[[2]string{b.w.Room, b.w.Profile}]
	stone, preprimed, putty := false, false, false
	for _, a := range all {
		stone = stone || a.bare && a.task == finish.TaskSet
		preprimed = preprimed || a.w.Preprimed
		putty = putty || a.w.OilPutty
	}
	before := func(is func(a *deed) bool) bool {
		for _, a := range all {
			if is(a) && !a.end.After(b.start) && a != b {
				return true
			}
		}
		return false
	}
	primed := preprimed || stone || !hung || before(func(a *deed) bool { return a.stage == StagePrime || a.stage == StageCoat })
	switch {
	case b.isCaulk() && !primed:
		c.broken(RulePrimed, b, nil, "the wood is bare, and draws the water out of the caulk")
	case b.stage == StageFill && putty && !primed:
		c.broken(RulePutty, b, nil, "the wood is bare, and draws the oil out of the putty")
	case b.stage == StageCoat && !stone && !(hung && b.start.Before(up)):
		for _, a := range all {
			if a.isCaulk() && b.start.Before(a.end) {
				c.broken(RuleCaulked, b, a, "it is not caulked yet")
			}
		}
	}
	if b.stage == StagePrime || b.stage == StageCoat {
		c.sanded(b, all)
	}
}

// sanded checks that filler under a coat was sanded, if the job has such sanding: a work
// listed after the filling.
func (c *checker) sanded(b *deed, all []*deed) {
	var since time.Time // the last sanding before b starts
	sands := -1
	for _, s := range all {
		if s.stage != StageSand {
			continue
		}
		sands = max(sands, s.work)
		if !s.end.After(b.start) && s.start.After(since) {
			since = s.start
		}
	}
	for _, a := range all {
		if a.stage == StageFill && !a.end.After(b.start) && a.work < sands && since.Before(a.end) {
			c.broken(RuleSanded, b, a, "the filler under it is not sanded")
		}
	}
}

// pairs of roles of which the first is up before the second; those under same only if both are members of one
// assembly or of none.
var (
	upFirst = [...]struct {
		rule        RuleCode
		first, then []stock.Role
	}{
		{RuleJamb, []stock.Role{stock.RoleExtension}, []stock.Role{stock.RoleCasing}},
		{RuleStool, []stock.Role{stock.RoleStool}, []stock.Role{stock.RoleApron, stock.RoleCasing}},
		{RulePlinth, []stock.Role{stock.RolePlinth}, []stock.Role{stock.RoleCasing, stock.RoleBase, stock.RoleShoe, stock.RoleChairRail,
			stock.RoleStile, stock.RoleRail, stock.RolePanel, stock.RoleBatten, stock.RolePanelMold}},
		{RulePlinth, []stock.Role{stock.RoleBlock}, []stock.Role{stock.RoleBase, stock.RoleShoe, stock.RoleChairRail, stock.RolePictureRail, stock.RoleCrown,
			stock.RoleStile, stock.RoleRail, stock.RolePanel, stock.RoleBatten, stock.RolePanelMold}},
		{RuleCasing, []stock.Role{stock.RoleCasing, stock.RoleBackband}, []stock.Role{stock.RoleBase, stock.RoleShoe, stock.RoleChairRail,
			stock.RoleStile, stock.RoleRail, stock.RolePanel, stock.RoleBatten, stock.RolePanelMold}},
		{RuleBacking, []stock.Role{stock.RoleBacking}, []stock.Role{stock.RoleCrown, stock.RoleBed, stock.RoleFrieze, stock.RoleSoffit,
			stock.RoleBand, stock.RoleChairRail, stock.RolePictureRail, stock.RoleBase}},
	}
	upFirstTogether = [...]struct {
		rule        RuleCode
		first, then []stock.Role
	}{
		{RuleShoe, []stock.Role{stock.RoleBase}, []stock.Role{stock.RoleShoe}},
		{RuleMember, []stock.Role{stock.RoleBase}, []stock.Role{stock.RoleCap}},
		{RuleMember, []stock.Role{stock.RoleCasing}, []stock.Role{stock.RoleBackband}},
		{RuleMember, []stock.Role{stock.RoleStile, stock.RoleRail, stock.RolePanel}, []stock.Role{stock.RoleCap, stock.RolePanelMold}},
		{RuleMember, []stock.Role{stock.RolePanel}, []stock.Role{stock.RoleBatten}},
	}
)
