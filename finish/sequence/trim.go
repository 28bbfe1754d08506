package sequence

import (
	"slices"

	"example.com/longpoint/stock"
)

// chain makes the steps of each unit follow each other as they stand, each when the one before is
// dry, and sealers when all before have cured.
func (b *builder) chain() {
	for i := range b.units {
		u := &b.units[i]
		for k := 1; k < len(u.nodes); k++ {
			from, to := &b.nodes[u.nodes[k-1]], &b.nodes[u.nodes[k]]
			b.wait(u.nodes[k-1], u.nodes[k], b.next(u, k), from.Dry)
			if to.stage != StageSeal || from.stage == StageSeal {
				continue
			}
			for _, n := range u.nodes[:k] {
				if cure := max(b.nodes[n].Cure, b.nodes[n].Dry); cure > 0 {
					b.wait(n, u.nodes[k], RuleCured, cure)
				}
			}
		}
	}
}

// next returns the rule by which number k of a unit's nodes follows the one before.
func (b *builder) next(u *unit, k int) RuleCode {
	from, to := &b.nodes[u.nodes[k-1]], &b.nodes[u.nodes[k]]
	filled := slices.ContainsFunc(u.nodes[:k], func(n int) bool { return b.nodes[n].stage == StageFill })
	switch {
	case k == u.first && (from.stage == StageBackPrime || from.Dry > 0):
		return RuleBackPrime
	case to.stage == StageInstall && b.isGlue(from) && !b.isGlue(to):
		return RuleGlue
	case from.stage == StageInstall && (to.stage == StageFill || to.stage == StageCaulk || to.stage == StageGrout):
		return RuleNailed
	case from.Dry > 0:
		return RuleDry
	case filled && from.stage == StageSand && (to.stage == StagePrime || to.stage == StageCoat):
		return RuleSanded
	case from.stage == StageCaulk && to.stage == StageCoat && !u.mineral:
		return RuleCaulked
	}
	return RuleSystem
}

// meet puts the trim of each room up in order.
func (b *builder) meet() {
	for i := range b.units {
		for k := range b.units {
			a, c := &b.units[i], &b.units[k]
			if i == k || a.Room != c.Room || a.first < 0 || c.first < 0 {
				continue
			}
			if rule := b.goesUpFirst(a, c); rule != "" {
				b.wait(a.hung(), c.nodes[c.first], rule, b.nodes[a.hung()].Dry)
			}
		}
	}
	for _, room := range b.rooms {
		for _, n := range b.in(StageJambs, room) {
			for i := range b.units {
				if u := &b.units[i]; u.Room == room && u.first >= 0 && (u.Role == stock.RoleExtension || u.Role == stock.RoleStool || u.Role == stock.RoleCasing) {
					b.wait(n, u.nodes[u.first], RuleJamb, b.nodes[n].Dry)
				}
			}
		}
	}
}

// goesUpFirst returns the rule by which a goes up before c in the same room, or "".
func (b *builder) goesUpFirst(a, c *unit) RuleCode {
	if a.Assembly != "" && a.Assembly == c.Assembly && a.Order > 0 && c.Order > 0 && a.Order != c.Order {
		if a.Order < c.Order {
			return RuleMember
		}
		return ""
	}
	if a.Assembly == c.Assembly && carries(a.Role, c.Role) {
		if c.Role == stock.RoleShoe {
			return RuleShoe
		}
		return RuleMember
	}
	if rule := meets(a.Role, c.Role); rule != "" {
		return rule
	}
	if a.Role == stock.RoleCap && c.Role == stock.RolePanelMold {
		return RuleUsual // boxes are laid out between the base and the cap
	}
	crown, base := b.isCrown(a), a.Role == stock.RoleBase
	if b.opt.CrownAfterBase && base && b.isCrown(c) || !b.opt.CrownAfterBase && crown && c.Role == stock.RoleBase {
		return RuleCrown
	}
	return ""
}

// isCrown reports whether a unit is crown, or a member of trim that is built up with crown.
func (b *builder) isCrown(u *unit) bool {
	if u.Role.Sprung() {
		return true
	}
	switch u.Role {
	case stock.RoleFrieze, stock.RoleSoffit, stock.RoleBand, stock.RoleFillet, stock.RoleBacking:
	default:
		return false
	}
	for i := range b.units {
		if o := &b.units[i]; u.Assembly != "" && o.Assembly == u.Assembly && o.Room == u.Room && o.Role.Sprung() {
			return true
		}
	}
	return false
}

// carries reports whether trim of role c is fixed to trim of role a, or covers its edge, where both
// are of one assembly or of none.
func carries(a, c stock.Role) bool {
	switch a {
	case stock.RoleBase:
		return c == stock.RoleCap || c == stock.RoleShoe
	case stock.RoleCasing:
		return c == stock.RoleBackband
	case stock.RoleStile, stock.RoleRail:
		return c == stock.RoleCap || c == stock.RolePanelMold
	case stock.RolePanel:
		return c == stock.RoleCap || c == stock.RolePanelMold || c == stock.RoleBatten
	}
	return false
}

// meets returns the rule by which trim of role a is up before trim of role c, which it carries on
// no assembly, or "".
func meets(a, c stock.Role) RuleCode {
	switch a {
	case stock.RoleExtension:
		if c == stock.RoleCasing {
			return RuleJamb
		}
	case stock.RoleStool:
		if c == stock.RoleCasing || c == stock.RoleApron {
			return RuleStool
		}
	case stock.RolePlinth:
		if c == stock.RoleCasing || dies(c) {
			return RulePlinth
		}
	case stock.RoleBlock:
		if dies(c) || c == stock.RolePictureRail || c == stock.RoleCrown {
			return RulePlinth
		}
	case stock.RoleCasing, stock.RoleBackband:
		if dies(c) {
			return RuleCasing
		}
	case stock.RoleBacking:
		if c.Sprung() || c == stock.RoleFrieze || c == stock.RoleSoffit || c == stock.RoleBand ||
			c == stock.RoleChairRail || c == stock.RolePictureRail || c == stock.RoleBase {
			return RuleBacking
		}
	}
	return ""
}

// tier returns how high in a room trim of a role is, from the top: it is painted first.
func tier(r stock.Role) int {
	switch r {
	case stock.RoleCrown, stock.RoleBed, stock.RoleSoffit, stock.RoleFrieze, stock.RolePictureRail:
		return 0
	case stock.RoleBase, stock.RoleShoe, stock.RoleSkirt:
		return 2
	}
	return 1
}
