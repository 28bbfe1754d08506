package sequence

import (
	"slices"
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// preliminary lists the stages before any trim, in order, each with the rule by which later
// work waits.
var preliminary = [...]struct {
	stage Stage
	rule  RuleCode
}{
	{StageDecision, RuleHazards}, {StageTearOut, RuleTearOut}, {StageWalls, RuleWallsDry},
	{StageClimate, RuleClimate}, {StageSetUp, RuleSetUp},
}

// in returns the nodes of a stage for a room: its own, and those of the whole job.
func (b *builder) in(s Stage, room string) []int {
	var all []int
	for _, n := range b.loose[s] {
		if r := b.nodes[n].Room; r == room || r == "" {
			all = append(all, n)
		}
	}
	return all
}

// inStage makes the works of a stage without trim follow each other in each room in their
// given order.
func (b *builder) inStage() {
	for _, p := range places {
		if len(b.loose[p.stage]) < 2 || p.stage == StageWallPaint || p.stage == StageDust {
			continue // which have their own orders
		}
		rooms := b.rooms
		if len(rooms) == 0 {
			rooms = []string{""}
		}
		for _, r := range rooms {
			all := b.in(p.stage, r)
			for i := 1; i < len(all); i++ {
				b.waitAll(all[i-1:i], all[i:i+1], RuleUsual)
			}
		}
	}
}

// preliminaries orders the work before all trim, for each room, up to its milestone.
func (b *builder) preliminaries() {
	b.ready = make([]int, len(b.rooms))
	rooms := b.rooms
	if len(rooms) == 0 {
		rooms = []string{""}
	}
	for k, r := range rooms {
		var before []int
		rule := RuleOther // of a milestone that nothing is before
		was := -1
		for i, p := range preliminary {
			now := b.in(p.stage, r)
			if len(now) == 0 {
				continue
			}
			why := rule
			if p.stage == StageSetUp || i != was+1 && p.stage != StageWalls {
				why = RuleUsual // nothing firm is between the two
			}
			b.waitAll(before, now, why)
			for n := 1; n < len(now) && p.stage == StageTearOut; n++ { // dust is held before it is raised, and cleaned up after
				if b.nodes[now[n-1]].Room == b.nodes[now[n]].Room {
					b.wait(now[n-1], now[n], RuleUsual, b.nodes[now[n-1]].Dry)
				}
			}
			before, rule, was = now, p.rule, i
		}
		if len(b.rooms) == 0 {
			for _, s := range [...]Stage{StageJambs, StageFloor, StageFloorCoat} {
				b.waitAll(before, b.loose[s], RuleUsual)
			}
			continue
		}
		b.ready[k] = -1
		if len(before) > 0 || b.wanted[MilestoneReady.In(r)] {
			b.ready[k] = b.milestone(MilestoneReady, r)
			b.waitAll(before, []int{b.ready[k]}, rule)
		}
		b.begin(k, rule)
	}
}

// milestone adds the node of a milestone.
func (b *builder) milestone(m Milestone, room string) int {
	return b.add(node{work: -1, unit: -1, kind: "\x00\x00" + string(m),
		Activity: schedule.Activity{ID: m.In(room), Name: string(m), Room: room, Zone: b.zone(room, false)}})
}

// begin makes the first work in a room wait until the room is ready.
func (b *builder) begin(k int, rule RuleCode) {
	at, room := b.ready[k], b.rooms[k]
	if at < 0 {
		return
	}
	for i := range b.units {
		if u := &b.units[i]; u.Room == room {
			b.wait(at, u.nodes[0], rule, 0)
		}
	}
	for _, s := range [...]Stage{StageJambs, StageFloor, StageDust, StageWallPaint, StageMask, StageFloorCoat} {
		for _, n := range b.in(s, room) {
			b.wait(at, n, RuleUsual, 0)
		}
	}
}

// deliver adds the deliveries, before the work that uses them.
func (b *builder) deliver() {
	for i := range b.job.Deliveries {
		d := &b.job.Deliveries[i]
		id := d.ID
		if id == "" {
			id = "delivery"
			if d.Profile != "" {
				id += ": " + d.Profile
			}
			for _, t := range d.Tasks {
				id += ": " + t.String()
			}
		}
		at := b.add(node{work: -1, delivery: i + 1, unit: -1, stage: StageDelivery, Activity: schedule.Activity{ID: id, Name: "delivery", Job: d.Profile, NotBefore: d.On(), Zone: b.zone("", false)}})
		used := len(d.Tasks) > 0 && b.deliverFor(at, d) || len(d.Tasks) == 0 && b.deliverTrim(at, d)
		if !used {
			b.finds = append(b.finds, Finding{Code: FindingUnused, Item: id, Reason: "nothing waits for it: no work is of its profile or its tasks"})
		}
	}
}

// deliverFor makes the tasks that use material wait for it.
func (b *builder) deliverFor(at int, d *Delivery) (used bool) {
	for n := range b.nodes {
		x := &b.nodes[n]
		uses := func(w int) bool {
			return w >= 0 && b.job.Work[w].Stage == "" && slices.Contains(d.Tasks, b.job.Work[w].Task)
		}
		if !uses(x.work) && !slices.ContainsFunc(x.with, uses) || d.Profile != "" && x.Job != d.Profile {
			continue
		}
		used = true
		b.wait(at, n, RuleOnSite, 0)
	}
	return used
}

// deliverTrim makes the first work on trim wait until it has settled. Trim is not delivered
// to a house that is wet or without heat.
func (b *builder) deliverTrim(at int, d *Delivery) (used bool) {
	lag, reason, doubt := d.settles(b.opt)
	if doubt != "" {
		b.finds = append(b.finds, Finding{Code: FindingMoisture, Item: b.nodes[at].ID, Reason: doubt})
	}
	for i := range b.units {
		u := &b.units[i]
		if d.Profile != "" && u.Profile != d.Profile || u.first < 0 {
			continue
		}
		used = true
		l := link{from: at, to: u.nodes[0], rule: RuleSettled, lag: lag, reason: reason}
		if lag == 0 {
			l.rule = RuleOnSite
		}
		b.link(l)
		for k := len(preliminary) - 2; k >= 0; k-- { // tools need not be set up
			if before := b.in(preliminary[k].stage, u.Room); len(before) > 0 {
				rule := preliminary[k].rule
				if rule != RuleWallsDry && rule != RuleClimate {
					rule = RuleUsual
				}
				b.waitAll(before, []int{at}, rule)
				break
			}
		}
	}
	return used
}

// floors puts the finish floor before base, after it or after paint, and before shoe.
func (b *builder) floors() {
	for _, room := range b.rooms {
		floor := b.in(StageFloor, room)
		b.waitAll(b.in(StageJambs, room), b.in(StageFloor, room), RuleUsual)
		for i := range b.units {
			u := &b.units[i]
			if u.Room != room {
				continue
			}
			for _, f := range floor {
				b.floor(f, u)
			}
		}
		if b.opt.Floor == FloorAfterPaint {
			b.waitAll(b.in(StageWallPaint, room), floor, RuleFloor)
		}
	}
}

// floor links a floor to one unit.
func (b *builder) floor(f int, u *unit) {
	switch {
	case u.Role == stock.RoleShoe && u.first >= 0:
		b.wait(f, u.nodes[u.first], RuleShoe, b.nodes[f].Dry)
	case b.opt.Floor == FloorAfterPaint:
		last := u.nodes[len(u.nodes)-1]
		b.wait(last, f, RuleFloor, b.nodes[last].Dry)
	case u.Role != stock.RoleBase && u.Role != stock.RolePlinth || u.first < 0:
	case b.opt.Floor == FloorAfterBase:
		b.wait(u.hung(), f, RuleFloor, b.nodes[u.hung()].Dry)
	default:
		b.wait(f, u.nodes[u.first], RuleFloor, b.nodes[f].Dry)
	}
}

// others adds the activities without a stage.
func (b *builder) others() {
	first := len(b.nodes)
	for i := range b.job.Others {
		a := b.job.Others[i].Activity
		if _, taken := b.ids[a.ID]; taken {
			b.bad.Add("others["+strconv.Itoa(i)+"].activity.id", a.ID, "a name that no other activity has")
		}
		b.add(node{work: -1, unit: -1, Activity: a})
	}
	punch := b.loose[StagePunch]
	for i := range b.job.Others {
		o, at := &b.job.Others[i], "others["+strconv.Itoa(i)+"]"
		n := first + i
		for k, l := range o.Activity.After {
			from, ok := b.ids[l.ID]
			if !ok {
				b.bad.Add(at+".activity.after["+strconv.Itoa(k)+"].id", l.ID, "an activity, a delivery or a milestone such as "+strconv.Quote(MilestoneTrimUp.In("classroom")))
				continue
			}
			b.link(link{from: from, to: n, typ: l.Type, lag: l.Lag, working: l.Working, rule: RuleOther})
		}
		for k, id := range o.Before {
			to, ok := b.ids[id]
			if !ok {
				b.bad.Add(at+".before["+strconv.Itoa(k)+"]", id, "an activity, a delivery or a milestone such as "+strconv.Quote(MilestoneReady.In("classroom")))
				continue
			}
			b.wait(n, to, RuleOther, max(b.nodes[n].Dry, 0))
		}
		if len(o.Before) == 0 && !b.afterPunch(o) {
			for _, p := range punch {
				b.wait(n, p, RulePunch, max(b.nodes[n].Dry, 0))
			}
		}
	}
}

// afterPunch reports whether an other waits for the punch list or later work.
func (b *builder) afterPunch(o *Other) bool {
	for _, l := range o.Activity.After {
		if from, ok := b.ids[l.ID]; ok {
			if p, _ := placeOf(b.nodes[from].stage); p.after > 0 {
				return true
			}
		}
	}
	return false
}

// Limits of the air in which trim is installed and painted.
const (
	coldSite, warmSite   = 60 * measure.DegreeF, 90 * measure.DegreeF // AWI 200, as an installer cites it
	drySite, dampSite    = 30 * measure.Percent, 55 * measure.Percent // the same
	coldPaint, warmPaint = 55 * measure.DegreeF, 80 * measure.DegreeF // Leahy, Painting Trim the Right Way, Fine Homebuilding
	dampPaint            = 85 * measure.Percent                       // the same: paint fails above
)

// site reports findings if the air of the site is unsuitable for installing or painting
// trim.
func (b *builder) site() {
	c := b.opt.Site
	if c == (finish.Climate{}) {
		return
	}
	add := func(reason string) { b.finds = append(b.finds, Finding{Code: FindingSite, Reason: reason}) }
	here := c.Temperature.String() + " and " + c.Humidity.String() + " relative humidity"
	if c.Temperature < coldSite || c.Temperature > warmSite || c.Humidity < drySite || c.Humidity > dampSite {
		add("millwork is put up at " + coldSite.String() + " to " + warmSite.String() + " and " + drySite.String() + " to " + dampSite.String() +
			" (AWI 200, as an installer cites it); here it is " + here)
	}
	if c.Temperature < coldPaint || c.Temperature > warmPaint || c.Humidity > dampPaint {
		add("trim is painted at " + coldPaint.String() + " to " + warmPaint.String() + " and at most " + dampPaint.String() +
			" (Leahy, Fine Homebuilding); here it is " + here + ", and the sheet of the paint decides")
	}
}
