package sequence

import (
	"slices"

	"example.com/longpoint/finish/schedule"
)

// pace adds what the order of rooms asks. Where that would make work wait for itself, as a
// floor that is laid in all rooms at once does where each room is to be finished by itself, the
// rooms are left without an order.
func (b *builder) pace() {
	if len(b.rooms) < 2 || b.opt.Pace == PaceSideBySide {
		return
	}
	nodes, links := len(b.nodes), len(b.links)
	if b.opt.Pace == PaceRoomByRoom {
		b.roomByRoom()
	} else {
		b.allAtOnce()
	}
	if b.cycle() == nil {
		return
	}
	for _, n := range b.nodes[nodes:] {
		delete(b.ids, n.ID)
	}
	b.nodes, b.links = b.nodes[:nodes], b.links[:links]
	b.finds = append(b.finds, Finding{Code: FindingPace, Reason: "the rooms cannot be worked " + b.opt.Pace.String() + ": some work for all rooms lies between; they are worked side by side"})
}

// gate adds a node between all of before and all of after.
func (b *builder) gate(id string, before, after []int) {
	at := b.add(node{work: -1, unit: -1, Activity: schedule.Activity{ID: id, Name: id, Zone: b.zone("", false)}})
	for _, n := range before {
		b.wait(n, at, RulePace, 0)
	}
	for _, n := range after {
		b.wait(at, n, RulePace, 0)
	}
}

// roomByRoom lets each trade begin in a room when it is done with the room before.
func (b *builder) roomByRoom() {
	var skills []string
	of := map[[2]string][]int{}
	for n := range b.nodes {
		x := &b.nodes[n]
		if x.work < 0 || x.Room == "" {
			continue
		}
		if p, _ := placeOf(x.stage); p.after > 0 || x.stage == StageDust {
			continue
		}
		if !slices.Contains(skills, x.Skill) {
			skills = append(skills, x.Skill)
		}
		key := [2]string{x.Skill, x.Room}
		of[key] = append(of[key], n)
	}
	for _, s := range skills {
		var before []int
		was := ""
		for _, r := range b.rooms {
			now := of[[2]string{s, r}]
			if len(now) == 0 {
				continue
			}
			if len(before) > 0 {
				name := s
				if name == "" {
					name = "other work"
				}
				b.gate(name+" done: "+was, before, now)
			}
			before, was = now, r
		}
	}
}

// allAtOnce does each step in all rooms before what follows it in any of them.
func (b *builder) allAtOnce() {
	var kinds []string
	of := map[string][]int{}
	for n := range b.nodes {
		if k := b.nodes[n].kind; k != "" {
			if of[k] == nil {
				kinds = append(kinds, k)
			}
			of[k] = append(of[k], n)
		}
	}
	follows := map[string][]string{} // kinds that follow a kind somewhere
	for _, l := range b.links {
		from, to := b.nodes[l.from].kind, b.nodes[l.to].kind
		if from != "" && to != "" && from != to && !slices.Contains(follows[from], to) {
			follows[from] = append(follows[from], to)
		}
	}
	for _, k := range kinds {
		if len(of[k]) < 2 || len(follows[k]) == 0 {
			continue
		}
		first := &b.nodes[of[k][0]]
		if first.work < 0 {
			continue // what follows a milestone follows what is before it
		}
		name := first.Name + " done in all rooms"
		if first.Job != "" {
			name = first.Job + ": " + name
		}
		var after []int
		for _, f := range follows[k] {
			after = append(after, of[f]...)
		}
		b.gate(name, of[k], after)
	}
}
