package sequence

import (
	"math"
	"slices"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
)

// gathered lists the stages in which all trim of a room is worked on together: a crew does
// not caulk the casing on one day and the base beside it on another.
var gathered = []Stage{StageFill, StageSand, StagePrime, StageCaulk, StageMask, StageCoat, StageWipe}

// gatherKey identifies the works that are one step in a room.
type gatherKey struct {
	room, name  string
	stage       Stage
	coat        int64
	skill, zone string
	dry         measure.Duration
	again       int // how many such steps the profile has before this one
}

// gather merges common steps on the trim of a room into one activity, unless
// Options.EachProfile is set. If that would make work wait for itself, as when shoe is
// installed after the base was painted, those steps stay separate.
func (b *builder) gather() {
	if b.opt.EachProfile {
		return
	}
	groups := map[gatherKey][]int{}
	var order []gatherKey
	type step struct {
		gatherKey
		unit int
	}
	seen := map[step]int{}
	for i := range b.nodes {
		n := &b.nodes[i]
		if n.gone || n.work < 0 || n.unit < 0 || b.wanted[n.ID] || !slices.Contains(gathered, n.stage) {
			continue
		}
		k := gatherKey{n.Room, n.Name, n.stage, n.coat, n.Skill, n.Zone, n.Dry, 0}
		before := step{k, n.unit}
		k.again = seen[before]
		seen[before]++
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], i)
	}
	into := make([]int, len(b.nodes)) // the node of which each becomes a part
	for i := range into {
		into[i] = i
	}
	for _, k := range order {
		if sum := b.laborOf(groups[k]); sum < 0 {
			continue
		}
		for _, i := range groups[k] {
			into[i] = groups[k][0]
		}
	}
	links := b.linksInto(into)
	for c := b.cycleOf(links); c != nil; c = b.cycleOf(links) {
		apart := false
		for i := range into {
			if into[i] != i && slices.Contains(c, into[i]) {
				into[i], apart = i, true
			}
		}
		if !apart {
			return // a cycle without any of them there is not
		}
		links = b.linksInto(into)
	}
	b.links = links
	clear(b.at)
	for k, l := range links {
		b.at[[2]int{l.from, l.to}] = k
	}
	for _, k := range order {
		b.join(groups[k], into)
	}
}

// laborOf returns the total labor of nodes, or -1 if it is out of range.
func (b *builder) laborOf(nodes []int) measure.Duration {
	var sum measure.Duration
	for _, i := range nodes {
		if b.nodes[i].Labor > math.MaxInt64-sum {
			return -1
		}
		sum += b.nodes[i].Labor
	}
	return sum
}

// join merges nodes into the first of each group.
func (b *builder) join(nodes, into []int) {
	first := &b.nodes[nodes[0]]
	name := first.Room + ": " + first.Name
	var parts []int
	for _, i := range nodes[1:] {
		n := &b.nodes[i]
		if into[i] != nodes[0] {
			continue
		}
		parts = append(parts, i)
		first.Labor += n.Labor
		first.People, first.Cure = max(first.People, n.People), max(first.Cure, n.Cure)
		first.with = append(append(first.with, n.work), n.with...)
		b.ids[n.ID] = nodes[0]
		n.gone, n.work, n.kind = true, -1, ""
	}
	if len(parts) == 0 {
		return
	}
	first.Job = ""
	first.kind = "\x00together\x00" + string(first.stage) + "\x00" + first.Name
	if _, taken := b.ids[name]; !taken {
		first.ID = name
		b.ids[name] = nodes[0]
	}
}

// linksInto returns the links between merged nodes; among several between the same two, it
// keeps the one with the longest lag, and its reason.
func (b *builder) linksInto(into []int) []link {
	type key struct {
		from, to int
		typ      schedule.LinkType
		working  bool
	}
	at := make(map[key]int, len(b.links))
	out := make([]link, 0, len(b.links))
	for _, l := range b.links {
		l.from, l.to = into[l.from], into[l.to]
		if l.from == l.to {
			continue
		}
		k := key{l.from, l.to, l.typ, l.working}
		if i, ok := at[k]; ok {
			if l.lag > out[i].lag {
				out[i] = l
			}
			continue
		}
		at[k] = len(out)
		out = append(out, l)
	}
	return out
}
