package tearout

import (
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// planner fills a plan, room by room.
type planner struct {
	tally
	job   Job
	plan  *Plan
	saved []int64 // pieces of each part that go to the rack

	tape, cloths, signs, bags int64 // of the rooms in which dust is contained
	sheet                     int64
}

// lengths holds the lengths by which the tasks of a room are counted.
type lengths struct {
	scored, broken, pried, denailed int64
}

func (p *planner) room(i int) error {
	room := p.job.Rooms[i]
	var parts []Part
	var l lengths
	r := RoomResult{Room: room.Name, Covered: p.plan.Gate.Covers(room.Name), Contained: p.job.contained(p.plan.Gate, room.Name)}
	for k, part := range p.job.Parts {
		if part.Room != room.Name {
			continue
		}
		parts = append(parts, part)
		p.debris(&r, part, p.saved[k])
		p.lengths(&l, part)
	}
	if len(parts) > 0 {
		p.bag(&r)
		if r.Contained {
			p.contain(&r, room, parts)
		}
		if err := p.steps(&r, room, parts, l); err != nil {
			return err
		}
	}
	p.plan.Rooms = append(p.plan.Rooms, r)
	return nil
}

// debris adds the debris of a part, without the saved pieces.
func (p *planner) debris(r *RoomResult, part Part, saved int64) {
	const volume, weight = "the volume of the debris", "the weight of the debris"
	solid := func(length, n int64) int64 {
		num, den := []int64{length, n, int64(measure.CubicInch)}, []int64{int64(measure.Inch)}
		if part.Section > 0 {
			return p.product(append(num, int64(part.Section)), append(den, int64(measure.SquareInch)), volume)
		}
		return p.product(append(num, int64(part.Thickness), int64(part.Width)), append(den, int64(measure.Inch), int64(measure.Inch)), volume)
	}
	all := solid(int64(part.Length), part.count())
	kept := int64(0)
	if saved > 0 {
		kept = solid(int64(part.Length-2*p.job.Rules.Salvage.End), saved)
	}
	wood := p.job.Rules.Woods[p.job.wood(part)]
	// A cubic foot of water weighs 62.4 lb.
	lb := p.product([]int64{all - kept, 624, int64(measure.Pound), int64(wood.Gravity), int64(whole + wood.Moisture)},
		[]int64{int64(measure.CubicFoot), 10, int64(whole), int64(whole)}, weight)
	p.add((*int64)(&r.Debris.Solid), all-kept, volume)
	p.add((*int64)(&r.Saved), kept, volume)
	p.add((*int64)(&r.Debris.Weight), lb, weight)
}

// bag computes the loose volume of the debris and the number of bags that it fills.
func (p *planner) bag(r *RoomResult) {
	d := p.job.Rules.Disposal
	const loose, bags = "the volume of loose debris", "the bags"
	v := p.product([]int64{int64(r.Debris.Weight), 27, int64(measure.CubicFoot)}, []int64{int64(d.Loose)}, loose)
	r.Debris.Loose = measure.Volume(v)
	r.Debris.Bags = p.product([]int64{v}, []int64{int64(d.Bag)}, bags)
	if r.Contained {
		p.add(&r.Debris.Bags, d.Lining, bags)
	}
}

// contain adds the containment of a room.
func (p *planner) contain(r *RoomResult, room Room, parts []Part) {
	c := p.job.Rules.Containment
	floor, tape := c.sheet(&p.tally, room, parts)
	r.Sheet, r.Cloths = measure.Area(floor), c.cloths(&p.tally, room, floor)
	const plastic, edges = "the plastic", "the tape"
	p.add(&p.sheet, floor, plastic)
	p.add(&p.sheet, p.product([]int64{room.Doors, int64(c.Door)}, []int64{1}, plastic), plastic)
	p.add(&p.sheet, p.product([]int64{room.Ducts, int64(c.Duct)}, []int64{1}, plastic), plastic)
	p.add(&p.tape, tape, edges)
	p.add(&p.tape, p.product([]int64{room.Doors, int64(c.Taped)}, []int64{1}, edges), edges)
	p.add(&p.signs, p.product([]int64{max(room.Doors, 1), c.Signs}, []int64{1}, "the signs"), "the signs")
	if !p.clears(r) {
		p.add(&p.cloths, r.Cloths, "the cloths")
	}
	p.add(&p.bags, r.Debris.Bags, "the bags")
}

// clears reports whether a laboratory instead of cloths verifies that a room is clean.
func (p *planner) clears(r *RoomResult) bool {
	return p.job.Clearance || p.job.Building.Assisted && r.Covered
}

func (p *planner) lengths(l *lengths, part Part) {
	const length = "the length of the trim"
	n := p.product([]int64{int64(part.Length), part.count()}, []int64{1}, length)
	p.add(&l.scored, p.product([]int64{n, part.Scored}, []int64{1}, "the edges to score"), "the edges to score")
	switch part.Method {
	case MethodBreak:
		p.add(&l.broken, n, length)
	case MethodSalvage:
		p.add(&l.denailed, n, length)
		p.add(&l.pried, n, length)
	case MethodPry:
		p.add(&l.pried, n, length)
	}
}

// steps adds the steps of a room.
func (p *planner) steps(r *RoomResult, room Room, parts []Part, l lengths) error {
	lead, err := p.job.Rules.Lead.Cautions(p.job.Building, p.job.removed(room.Name), p.job.Locale)
	if err != nil {
		return err
	}
	first := len(p.plan.Steps)
	step := func(t Task, n int64, skill string) error {
		all, err := p.cautions(t, room, parts, lead)
		if err == nil {
			p.step(Step{Room: room.Name, Task: t, Skill: skill, Cautions: all, Hold: t == TaskTest || t == TaskClear}, n)
		}
		return err
	}
	var skill string
	if r.Covered {
		skill = SkillRenovator
	}
	check := TaskVerify
	if p.clears(r) {
		check = TaskClear
	}
	for _, s := range []struct {
		task  Task
		n     int64
		skill string
		due   bool
	}{
		{TaskTest, 1, "", slices.ContainsFunc(room.Suspects, func(s Suspect) bool { return !s.Free })},
		{TaskContain, 1, skill, r.Contained},
		{TaskScore, l.scored, skill, l.scored > 0},
		{TaskBreak, l.broken, skill, l.broken > 0},
		{TaskPry, l.pried, skill, l.pried > 0},
		{TaskDenail, l.denailed, skill, l.denailed > 0},
		{TaskBag, r.Debris.Bags, skill, r.Debris.Bags > 0},
		{TaskSweep, 1, "", !r.Contained},
		{TaskClean, 1, skill, r.Contained},
		{TaskInspect, 1, skill, r.Contained},
		{check, 1, skill, r.Contained},
		{TaskTakeDown, 1, skill, r.Contained},
	} {
		if !s.due {
			continue
		}
		if err := step(s.task, s.n, s.skill); err != nil {
			return err
		}
	}
	for _, s := range p.plan.Steps[first:] {
		p.add((*int64)(&r.Labor), int64(s.Labor), "the labor")
	}
	return nil
}

// total sums the rooms and adds the needs.
func (p *planner) total() {
	d := &p.plan.Debris
	for _, r := range p.plan.Rooms {
		p.add((*int64)(&d.Solid), int64(r.Debris.Solid), "the volume of the debris")
		p.add((*int64)(&d.Loose), int64(r.Debris.Loose), "the volume of loose debris")
		p.add((*int64)(&d.Weight), int64(r.Debris.Weight), "the weight of the debris")
		p.add(&d.Bags, r.Debris.Bags, "the bags")
	}
	for _, s := range p.plan.Steps {
		p.add((*int64)(&p.plan.Labor), int64(s.Labor), "the labor")
		for _, c := range s.Cautions {
			if !slices.Contains(p.plan.Cautions, c) && c.Topic != finish.HazardGeneral {
				p.plan.Cautions = append(p.plan.Cautions, c)
			}
		}
	}
	for _, c := range general() {
		if len(p.plan.Cautions) > 0 {
			p.plan.Cautions = append(p.plan.Cautions, c)
		}
	}
	p.plan.Boxes = p.product([]int64{int64(d.Loose)}, []int64{int64(p.job.Rules.Disposal.Box)}, "the boxes")
	laps := p.job.Rules.Containment.Laps
	p.need("plastic sheeting", finish.AmountOf(measure.Area(p.sheet)), laps, "floors by the reach from the work, doors and ducts")
	p.need("sheeting tape", finish.AmountOf(measure.Length(p.tape)), laps, "edges of the plastic on floors and doors")
	p.need("heavy-duty bags", finish.Count(p.bags), finish.Waste{}, "of "+p.job.Locale.FormatVolume(p.job.Rules.Disposal.Bag)+", filled room by room")
	p.need("warning signs", finish.Count(p.signs), finish.Waste{}, "at each door, at least one a room")
	p.need("wet cloths", finish.Count(p.cloths), finish.Waste{}, "one for each sill and for each "+p.job.Locale.FormatArea(p.job.Rules.Containment.Cloth)+" of floor")
}

func (p *planner) need(material string, net finish.Amount, waste finish.Waste, why string) {
	if net.IsZero() {
		return
	}
	gross, err := waste.Apply(net)
	if err != nil && p.bad == "" {
		p.bad = "the " + material
	}
	p.plan.Needs = append(p.plan.Needs, finish.Need{Material: material, Net: net, Waste: waste, Gross: gross, Reasoning: []string{why}})
}
