package sequence

import (
	"slices"
	"strconv"

	"example.com/longpoint/finish/schedule"
)

// pace adds the links for the order of rooms.
func (b *builder) pace() {
	nodes, links := len(b.nodes), len(b.links)
	switch {
	case len(b.rooms) < 2 || b.opt.Pace == PaceSideBySide:
	case b.opt.Pace == PaceRoomByRoom:
		b.roomByRoom()
	default:
		b.allAtOnce()
	}
	if len(b.nodes) > nodes && b.cycle() != nil { // which neither should make; work without an order of rooms is better than none
		b.nodes, b.links = b.nodes[:nodes], b.links[:links]
		b.finds = append(b.finds, Finding{Code: FindingPace, Reason: "the rooms could not be put in an order, and are worked side by side"})
	}
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

// roomByRoom lets each trade begin in a room when it is done with the previous one. Work
// that waits for work in all rooms at once, such as shoe for a floor, goes through the
// rooms once more.
func (b *builder) roomByRoom() {
	type group struct {
		level int
		skill string
	}
	level := b.levels()
	var groups []group
	of := map[group]map[string][]int{}
	for n := range b.nodes {
		x := &b.nodes[n]
		if p, _ := placeOf(x.stage); x.work < 0 || x.Room == "" || p.after > 0 || x.stage == StageDust {
			continue
		}
		g := group{level[n], x.Skill}
		if of[g] == nil {
			groups = append(groups, g)
			of[g] = map[string][]int{}
		}
		of[g][x.Room] = append(of[g][x.Room], n)
	}
	for _, g := range groups {
		name := g.skill
		if name == "" {
			name = "other work"
		}
		var before []int
		was := ""
		for _, r := range b.rooms {
			now := of[g][r]
			if len(now) == 0 {
				continue
			}
			if len(before) > 0 {
				b.gate(name+" done: "+was, before, now)
			}
			before, was = now, r
		}
	}
}

// levels returns for each node the number of successive works for all rooms at once, each
// after work in a room, that precede it. Every path from one room to another passes through
// such a work.
func (b *builder) levels() []int {
	behind := make([]bool, len(b.nodes)) // something in a room
	level := make([]int, len(b.nodes))
	waits := make([][]int, len(b.nodes))
	for _, l := range b.links {
		waits[l.to] = append(waits[l.to], l.from)
	}
	sorted, _ := b.sort(b.links)
	inRoom := func(n int) bool { return b.nodes[n].kind != "" }
	for _, n := range sorted {
		for _, f := range waits[n] {
			l := level[f]
			if !inRoom(f) && behind[f] {
				l++
			}
			level[n] = max(level[n], l)
			behind[n] = behind[n] || behind[f] || inRoom(f)
		}
	}
	return level
}

// allAtOnce does each step in all rooms before the next step in any of them. Steps that
// have different orders in different rooms proceed in parallel.
func (b *builder) allAtOnce() {
	var names []string
	at := map[string]int{}
	kind := make([]int, len(b.nodes)) // the index of the kind of work
	var of [][]int                    // the nodes in which it is
	for n := range b.nodes {
		name := b.nodes[n].kind
		if name == "" {
			name = "\x00\x00\x00" + strconv.Itoa(n)
		}
		k, ok := at[name]
		if !ok {
			k = len(names)
			at[name] = k
			names, of = append(names, name), append(of, nil)
		}
		kind[n] = k
		of[k] = append(of[k], n)
	}
	next := make([][]int, len(names))
	seen := map[[2]int]bool{}
	for _, l := range b.links {
		two := [2]int{kind[l.from], kind[l.to]}
		if two[0] != two[1] && !seen[two] {
			seen[two] = true
			next[two[0]] = append(next[two[0]], two[1])
		}
	}
	tied := components(next)
	mixed := false
	for k := range names {
		first := &b.nodes[of[k][0]]
		oneRoom := !slices.ContainsFunc(of[k], func(n int) bool { return b.nodes[n].Room != first.Room })
		if oneRoom || first.work < 0 {
			continue // the successor of a milestone also follows its predecessors
		}
		var after []int
		for _, f := range next[k] {
			if tied[f] == tied[k] {
				mixed = true
				continue
			}
			after = append(after, of[f]...)
		}
		name := first.Name + " done in all rooms"
		switch {
		case first.stage == StageInstall:
			name = first.Job + " up in all rooms"
		case first.Job != "":
			name = first.Job + ": " + name
		}
		if len(after) > 0 {
			b.gate(name, of[k], after)
		}
	}
	if mixed {
		b.finds = append(b.finds, Finding{Code: FindingPace, Reason: "steps that follow each other in one room this way and in another that way are not done in all rooms at once"})
	}
}

// components returns for each vertex the number of its strongly connected component (Tarjan,
// Depth-first search and linear graph algorithms, 1972).
func components(next [][]int) []int {
	const unseen = -1
	number, low, of := make([]int, len(next)), make([]int, len(next)), make([]int, len(next))
	for v := range next {
		number[v], of[v] = unseen, unseen
	}
	var stack, path, step []int
	count, found := 0, 0
	for root := range next {
		if number[root] != unseen {
			continue
		}
		path, step = append(path, root), append(step, 0)
		for len(path) > 0 {
			top := len(path) - 1
			v := path[top]
			if step[top] == 0 && number[v] == unseen {
				number[v], low[v] = count, count
				count++
				stack = append(stack, v)
			}
			if step[top] < len(next[v]) {
				w := next[v][step[top]]
				step[top]++
				if number[w] == unseen {
					path, step = append(path, w), append(step, 0)
				} else if of[w] == unseen {
					low[v] = min(low[v], number[w])
				}
				continue
			}
			if low[v] == number[v] {
				for {
					w := stack[len(stack)-1]
					stack = stack[:len(stack)-1]
					of[w] = found
					if w == v {
						break
					}
				}
				found++
			}
			path, step = path[:top], step[:top]
			if top > 0 {
				low[path[top-1]] = min(low[path[top-1]], low[v])
			}
		}
	}
	return of
}
