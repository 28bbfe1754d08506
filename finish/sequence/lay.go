package sequence

import (
	"math"
	"slices"
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// unit is the work on one profile in one room, in order.
type unit struct {
	Trim
	nodes       []int
	first, last int  // the first and the last of nodes that hangs it; -1 if it hangs already
	late        bool // it is installed after its room was painted
	mineral     bool // stone or tile, set in mortar
}

// hung returns the node that ends the hanging of the unit.
func (u *unit) hung() int { return u.nodes[u.last] }

// inPlace reports whether node i of the unit is done on the wall.
func (u *unit) inPlace(i int) bool { return u.first < 0 || i > u.last }

// lay converts the works to nodes, and those on trim to units.
func (b *builder) lay() {
	index := map[[2]string]int{}
	for i := range b.job.Work {
		w := &b.job.Work[i]
		if w.Room != "" && !slices.Contains(b.rooms, w.Room) {
			b.rooms = append(b.rooms, w.Room)
		}
		s := w.stage()
		if w.Profile == "" {
			b.loose[s] = append(b.loose[s], b.coats(i, -1)...)
			continue
		}
		key := [2]string{w.Room, w.Profile}
		k, ok := index[key]
		if !ok {
			k = len(b.units)
			index[key] = k
			b.units = append(b.units, unit{Trim: w.Trim, late: b.isLate(w)})
		}
		u := &b.units[k]
		u.Preprimed, u.OilPutty = u.Preprimed || w.Preprimed, u.OilPutty || w.OilPutty
		u.Longest = max(u.Longest, w.Longest)
		if u.Assembly == "" {
			u.Assembly, u.Order = w.Assembly, w.Order
		}
		u.mineral = u.mineral || w.Stage == "" && w.Task == finish.TaskSet
		u.nodes = append(u.nodes, b.coats(i, k)...)
	}
	for k := range b.units {
		u := &b.units[k]
		b.glue(u)
		b.hangs(u)
		if b.opt.Prefinish && u.first >= 0 {
			b.prefinish(u)
			b.hangs(u)
		}
		for i, n := range u.nodes {
			step := i
			if i > u.first && i <= u.last {
				step = u.first // joints are glued during installation: no trim waits for joints of other rooms
			}
			b.nodes[n].kind = u.Profile + "\x00" + strconv.Itoa(step) + "\x00" + strconv.FormatBool(u.late)
			b.nodes[n].Zone = b.zone(u.Room, b.nodes[n].stage == StageBackPrime || i < u.first)
		}
		b.inOrder(u)
	}
}

// glue merges the gluing of joints with the nailing into one activity: otherwise joints
// could be closed days before their trim is installed.
func (b *builder) glue(u *unit) {
	for i := len(u.nodes) - 2; i >= 0; i-- {
		a, c := &b.nodes[u.nodes[i]], &b.nodes[u.nodes[i+1]]
		if a.stage != StageInstall || c.stage != StageInstall || !b.isGlue(a) || a.Skill != c.Skill || a.Dry > 0 || a.Labor > math.MaxInt64-c.Labor {
			continue
		}
		c.Labor += a.Labor
		c.People, c.Cure = max(a.People, c.People), max(a.Cure, c.Cure)
		c.Name = a.Name + ", " + c.Name
		c.with = append([]int{a.work}, c.with...)
		b.ids[a.ID] = u.nodes[i+1]
		a.gone, a.work, a.kind = true, -1, ""
		u.nodes = slices.Delete(u.nodes, i, i+1)
	}
}

// isGlue reports whether a node closes joints or glues the back of trim.
func (b *builder) isGlue(x *node) bool {
	w := &b.job.Work[x.work]
	return w.Stage == "" && (w.Task == finish.TaskGlue || w.Task == finish.TaskGlueJoints)
}

// hangs finds the nodes that hang the unit.
func (b *builder) hangs(u *unit) {
	u.first, u.last = -1, -1
	for i, n := range u.nodes {
		if b.nodes[n].stage == StageInstall {
			if u.first < 0 {
				u.first = i
			}
			u.last = i
		}
	}
}

// zone returns the air of a room, or of the racks.
func (b *builder) zone(room string, racks bool) string {
	switch {
	case b.opt.OneAir:
		return "house"
	case racks:
		return "racks"
	case room == "":
		return "house"
	}
	return "room: " + room
}

// coats adds the nodes of a work, one for each coat. They share its labor to the nanosecond.
func (b *builder) coats(i, unit int) []int {
	w := &b.job.Work[i]
	s := w.stage()
	p, _ := placeOf(s)
	id := w.ID
	if id == "" {
		for _, part := range [...]string{w.Room, w.Profile, w.step()} {
			if part != "" && id != "" {
				id += ": "
			}
			id += part
		}
	}
	var all []int
	n := w.coats()
	part := func(k int64) measure.Duration { // a carrier: exact to 128 bits
		l, _, _ := measure.Length(w.Labor).MulDiv(k, n, measure.RoundDown)
		return measure.Duration(l)
	}
	for k := int64(1); k <= n; k++ {
		a := node{stage: s, work: i, coat: k, unit: unit, kind: "\x00" + string(s) + "\x00" + w.step() + "\x00" + strconv.FormatInt(k, 10),
			Activity: schedule.Activity{ID: id, Name: w.step(), Job: w.Profile, Room: w.Room, Labor: part(k) - part(k-1),
				Skill: w.Skill, People: b.people(w), Dry: w.Dry.Recoat, Cure: w.Dry.Cure, Zone: b.zone(w.Room, false), Dusty: p.dusty, Wet: p.wet}}
		if n > 1 {
			a.ID += ", coat " + strconv.FormatInt(k, 10)
			a.Name += ", coat " + strconv.FormatInt(k, 10) + " of " + strconv.FormatInt(n, 10)
		}
		if w.Room == "" {
			a.kind = ""
		}
		if a.Skill == "" {
			a.Skill = b.skill(w, s)
		}
		all = append(all, b.add(a))
	}
	return all
}

// skill returns the skill that a work needs according to the options. Setting stone needs
// the skill of grouting.
func (b *builder) skill(w *Work, s Stage) string {
	if s == StageInstall && w.Stage == "" && w.Task == finish.TaskSet {
		s = StageGrout
	}
	for _, k := range b.opt.Skills {
		if k.Stage == s {
			return k.Skill
		}
	}
	return ""
}

// people returns the least number of people for a work.
func (b *builder) people(w *Work) int64 {
	long := w.Role.Sprung() && w.Longest >= b.opt.LongPiece
	if w.People == 0 && long && w.stage() == StageInstall && w.Task != finish.TaskGlueJoints {
		return 2
	}
	return w.People
}

// prefinish moves primer, all coats but the last, and the sanding between them before the
// installation of the trim. Spots on preprimed trim stay: they are primed after nailing.
func (b *builder) prefinish(u *unit) {
	lastCoat := -1
	for i, n := range u.nodes {
		if b.nodes[n].stage == StageCoat {
			lastCoat = i
		}
	}
	if lastCoat < u.first {
		return
	}
	moved := make([]bool, len(u.nodes))
	for i, n := range u.nodes {
		switch b.nodes[n].stage {
		case StagePrime:
			moved[i] = !u.Preprimed && i > u.first
		case StageCoat:
			moved[i] = i != lastCoat && i > u.first
		}
	}
	coats := func(i int) bool {
		s := b.nodes[u.nodes[i]].stage
		return s == StagePrime || s == StageCoat
	}
	for i, n := range u.nodes {
		if b.nodes[n].stage != StageSand || i < u.first {
			continue
		}
		before, after := i-1, i+1
		for before >= 0 && !coats(before) && b.nodes[u.nodes[before]].stage != StageFill {
			before--
		}
		for after < len(u.nodes) && !coats(after) {
			after++
		}
		moved[i] = before >= 0 && moved[before] && after < len(u.nodes) && moved[after]
	}
	var sorted []int
	for _, want := range [...]func(i int) bool{
		func(i int) bool { return i < u.first },
		func(i int) bool { return i >= u.first && moved[i] },
		func(i int) bool { return i >= u.first && !moved[i] },
	} {
		for i, n := range u.nodes {
			if want(i) {
				sorted = append(sorted, n)
			}
		}
	}
	u.nodes = sorted
}

// inOrder reports steps of a unit that cannot be done at their place in the order.
func (b *builder) inOrder(u *unit) {
	sealed := u.Preprimed || u.first < 0 || u.mineral
	coated := false
	for i, n := range u.nodes {
		x := &b.nodes[n]
		w := &b.job.Work[x.work]
		fault := func(rule RuleCode, want string) {
			field := "work[" + strconv.Itoa(x.work) + "].task"
			if w.Stage != "" {
				field = "work[" + strconv.Itoa(x.work) + "].stage"
			}
			b.bad.Add(field, w.step(), want+": "+ruleOf(rule).Text)
		}
		caulk := x.stage == StageCaulk && (w.Stage != "" || w.Task == finish.TaskCaulk)
		switch {
		case i < u.first && (x.stage == StageFill || x.stage == StageCaulk || x.stage == StageGrout):
			fault(RuleNailed, "a place after the trim is up")
		case i > u.first && u.first >= 0 && x.stage == StageBackPrime:
			fault(RuleBackPrime, "a place before the trim is up")
		case caulk && !sealed:
			fault(RulePrimed, "a place after the primer")
		case caulk && coated && !u.mineral:
			fault(RuleCaulked, "a place before the coats in place")
		case x.stage == StageFill && u.OilPutty && !sealed:
			fault(RulePutty, "a place after the primer")
		}
		switch x.stage {
		case StagePrime, StageCoat:
			sealed = true
			coated = coated || x.stage == StageCoat && u.inPlace(i)
		}
	}
}

// dies reports whether trim of a role dies into casing.
func dies(r stock.Role) bool {
	switch r {
	case stock.RoleBase, stock.RoleShoe, stock.RoleChairRail, stock.RoleStile, stock.RoleRail, stock.RolePanel, stock.RoleBatten, stock.RolePanelMold:
		return true
	}
	return false
}
