package sequence

import (
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// node is an activity under construction.
type node struct {
	schedule.Activity
	stage    Stage
	work     int // index into the works, or -1
	coat     int64
	delivery int    // index into the deliveries plus 1, or 0
	with     []int  // indices of works done together with it
	gone     bool   // it is done together with another
	unit     int    // index into the units, or -1
	kind     string // its kind, the same in all rooms; "" = not a step of a room
}

// link is an edge between nodes.
type link struct {
	from, to int
	typ      schedule.LinkType
	lag      measure.Duration
	working  bool
	rule     RuleCode
	reason   string // "" = that of the rule
}

// builder builds an Order. Each of its methods adds the edges of one rule.
type builder struct {
	opt    Options
	job    Job
	nodes  []node
	links  []link
	at     map[[2]int]int // index of the link between two nodes
	ids    map[string]int // index of the node
	rooms  []string       // in the order of the works
	early  []string       // rooms with wet work before late trim is installed
	late   []string       // and after it
	units  []unit
	loose  map[Stage][]int // nodes of works without trim
	finds  []Finding
	ready  []int // node of each room, or -1
	bad    fault.List
	wanted map[string]bool // IDs to which others refer
}

// Network puts the work of a job into the trade's order. The activities are in topological
// order: each follows those for which it waits. Network adds the dusting before each room
// is painted, the punch list and the final cleaning if no work has their stage. A nil o means
// the zero Options.
//
// The error joins a [*measure.FieldError] for each invalid field, and for work that cannot
// be done in any order, such as caulk on bare wood.
func Network(job Job, o *Options) (*Order, error) {
	b := &builder{opt: o.or(), job: job, at: map[[2]int]int{}, ids: map[string]int{}, loose: map[Stage][]int{}, wanted: map[string]bool{}}
	b.job.Work = slices.Clone(job.Work)
	if err := b.check(); err != nil {
		return nil, err
	}
	b.complete()
	b.lay()
	b.inStage()
	b.preliminaries()
	b.chain()
	b.meet()
	b.deliver()
	b.floors()
	b.paint()
	b.end()
	b.milestones()
	b.others()
	if err := b.bad.Err(); err != nil {
		return nil, err
	}
	if c := b.cycle(); c != nil {
		return nil, b.waitsForItself(c)
	}
	b.gather()
	b.pace()
	b.site()
	return b.order(), nil
}

// check reports the faults of each part of the job by itself.
func (b *builder) check() error {
	b.opt.check(&b.bad)
	for i := range b.job.Work {
		w, at := &b.job.Work[i], "work["+strconv.Itoa(i)+"]"
		b.bad.Under(at, w.Validate())
	}
	total := int64(len(b.job.Deliveries) + len(b.job.Others))
	for i := range b.job.Work {
		total += min(b.job.Work[i].coats(), maxActivities)
		if total > maxActivities {
			b.bad.Add("work["+strconv.Itoa(i)+"]", "one more", "at most "+strconv.Itoa(maxActivities)+" activities")
			break
		}
	}
	b.ownIDs()
	for i := range b.job.Deliveries {
		b.bad.Under("deliveries["+strconv.Itoa(i)+"]", b.job.Deliveries[i].Validate())
	}
	for i := range b.job.Others {
		o, at := &b.job.Others[i], "others["+strconv.Itoa(i)+"]"
		if o.Activity.ID == "" {
			b.bad.Add(at+".activity.id", "", "a name that no other activity has")
		}
		for _, l := range o.Activity.After {
			b.wanted[l.ID] = true
		}
		for _, id := range o.Before {
			b.wanted[id] = true
		}
	}
	return b.bad.Err()
}

// maxActivities is the maximum number of activities of a job, which is that of
// schedule.Build.
const maxActivities = 100_000

// ownIDs reports duplicate IDs of works, deliveries or others.
func (b *builder) ownIDs() {
	seen := map[string]bool{}
	own := func(field, id string) {
		if id != "" && seen[id] {
			b.bad.Add(field, id, "an ID that nothing else has")
		}
		seen[id] = true
	}
	for i := range b.job.Work {
		own("work["+strconv.Itoa(i)+"].id", b.job.Work[i].ID)
	}
	for i := range b.job.Deliveries {
		own("deliveries["+strconv.Itoa(i)+"].id", b.job.Deliveries[i].ID)
	}
	for i := range b.job.Others {
		own("others["+strconv.Itoa(i)+"].activity.id", b.job.Others[i].Activity.ID)
	}
}

// complete adds the works that every job has, if they are missing.
func (b *builder) complete() {
	has := func(s Stage, room string) bool {
		return slices.ContainsFunc(b.job.Work, func(w Work) bool { return w.stage() == s && w.Room == room })
	}
	add := func(s Stage, room, step string, labor measure.Duration) {
		b.job.Work = append(b.job.Work, Work{Stage: s, Step: step, Trim: Trim{Room: room}, Labor: labor})
	}
	for i := range b.job.Work {
		w := &b.job.Work[i]
		if p, _ := placeOf(w.stage()); !p.wet || w.stage() == StageFloorCoat || w.stage() == StageBackPrime {
			continue
		}
		rooms := &b.early
		if b.isLate(w) {
			rooms = &b.late
		}
		if !slices.Contains(*rooms, w.Room) {
			*rooms = append(*rooms, w.Room)
		}
	}
	for _, r := range b.early {
		if !has(StageDust, r) {
			add(StageDust, r, "vacuum and dust", b.opt.Dusting)
		}
	}
	for _, r := range b.late {
		n, want := 0, 1
		for i := range b.job.Work {
			if b.job.Work[i].stage() == StageDust && b.job.Work[i].Room == r {
				n++
			}
		}
		if slices.Contains(b.early, r) {
			want = 2
		}
		if n < want {
			add(StageDust, r, "vacuum and dust after the shoe", b.opt.Dusting)
		}
	}
	for _, s := range [...]Stage{StagePunch, StageFinalClean} {
		if len(b.job.Work) == 0 || slices.ContainsFunc(b.job.Work, func(w Work) bool { return w.stage() == s }) {
			continue
		}
		if s == StagePunch {
			add(s, "", "punch list", b.opt.Punch)
		} else {
			add(s, "", "final cleaning", b.opt.FinalClean)
		}
	}
}

// isLate reports whether trim is installed after its room was painted: shoe on a floor that
// is laid then.
func (b *builder) isLate(w *Work) bool {
	has := func(s Stage, profile string) bool {
		return slices.ContainsFunc(b.job.Work, func(x Work) bool {
			return x.stage() == s && x.Profile == profile && (x.Room == "" || x.Room == w.Room)
		})
	}
	return b.opt.Floor == FloorAfterPaint && w.Profile != "" && w.Role == stock.RoleShoe && has(StageFloor, "") && has(StageInstall, w.Profile)
}

// add adds a node with its own ID.
func (b *builder) add(n node) int {
	id := n.ID
	for k := 2; ; k++ {
		if _, taken := b.ids[n.ID]; !taken {
			break
		}
		n.ID = id + " (" + strconv.Itoa(k) + ")"
	}
	b.ids[n.ID] = len(b.nodes)
	b.nodes = append(b.nodes, n)
	return len(b.nodes) - 1
}

// wait makes to wait for the end of from. If the link exists, it keeps the first reason
// and the longer lag.
func (b *builder) wait(from, to int, rule RuleCode, lag measure.Duration) {
	b.link(link{from: from, to: to, rule: rule, lag: lag})
}

func (b *builder) link(l link) {
	if l.from == l.to || l.from < 0 || l.to < 0 {
		return
	}
	key := [2]int{l.from, l.to}
	if k, ok := b.at[key]; ok && l.typ == schedule.LinkFinishStart && b.links[k].typ == l.typ && !l.working && !b.links[k].working {
		if old := &b.links[k]; l.lag > old.lag {
			old.lag, old.rule, old.reason = l.lag, l.rule, l.reason
		}
		return
	}
	b.at[key] = len(b.links)
	b.links = append(b.links, l)
}

// waitAll makes each of to wait until each of from is dry.
func (b *builder) waitAll(from, to []int, rule RuleCode) {
	for _, f := range from {
		for _, t := range to {
			b.wait(f, t, rule, b.nodes[f].Dry)
		}
	}
}

// order returns the Order.
func (b *builder) order() *Order {
	sorted, _ := b.sort(b.links)
	o := &Order{Job: b.job, Findings: b.finds}
	waits := make([][]link, len(b.nodes))
	for _, l := range b.links {
		waits[l.to] = append(waits[l.to], l)
	}
	for _, i := range sorted {
		n := &b.nodes[i]
		if n.gone {
			continue
		}
		a := n.Activity
		a.After = nil
		for _, l := range waits[i] {
			r := ruleOf(l.rule)
			from := b.nodes[l.from].ID
			a.After = append(a.After, schedule.Link{ID: from, Type: l.typ, Lag: l.lag, Working: l.working})
			e := Edge{From: from, To: n.ID, Type: l.typ, Lag: l.lag, Working: l.working, Rule: l.rule, Firm: r.Firm, Reason: r.Text, Source: r.Source}
			if l.reason != "" {
				e.Reason = l.reason
			}
			o.Edges = append(o.Edges, e)
		}
		o.Activities = append(o.Activities, a)
		o.Steps = append(o.Steps, Step{Stage: n.stage, Work: n.work, Coat: n.coat, With: n.with, Delivery: n.delivery - 1})
	}
	return o
}

// sort returns the nodes in topological order, otherwise in their given order, and the
// number of nodes that no order can contain.
func (b *builder) sort(links []link) (sorted []int, left int) {
	waits := make([]int, len(b.nodes))
	next := make([][]int, len(b.nodes))
	for _, l := range links {
		waits[l.to]++
		next[l.from] = append(next[l.from], l.to)
	}
	var free queue
	for i := range b.nodes {
		if waits[i] == 0 {
			free.push(i)
		}
	}
	for len(free) > 0 {
		i := free.pop()
		sorted = append(sorted, i)
		for _, j := range next[i] {
			if waits[j]--; waits[j] == 0 {
				free.push(j)
			}
		}
	}
	return sorted, len(b.nodes) - len(sorted)
}

// cycle returns a cycle of nodes, each waiting for the next and the last for the first, or
// nil.
func (b *builder) cycle() []int { return b.cycleOf(b.links) }

// cycleOf is cycle for the given links.
func (b *builder) cycleOf(links []link) []int {
	sorted, left := b.sort(links)
	if left == 0 {
		return nil
	}
	before := make([]int, len(b.nodes)) // the predecessors of each node that no order contains
	for i := range before {
		before[i] = -1
	}
	placed := make([]bool, len(b.nodes))
	for _, n := range sorted {
		placed[n] = true
	}
	at := -1
	for _, l := range links {
		if !placed[l.from] && !placed[l.to] {
			before[l.to], at = l.from, l.to
		}
	}
	seen := make([]int, len(b.nodes)) // where a node stands on the way, from 1
	var way []int
	for at >= 0 && seen[at] == 0 {
		way = append(way, at)
		seen[at] = len(way)
		at = before[at]
	}
	if at < 0 {
		return way
	}
	return way[seen[at]-1:]
}

// waitsForItself returns an error that names the nodes of a cycle, without its middle
// if it is long.
func (b *builder) waitsForItself(cycle []int) error {
	const most = 6
	var names []string
	for _, n := range cycle {
		if len(names) == most {
			names = append(names, "...")
			break
		}
		names = append(names, b.nodes[n].ID)
	}
	return fault.Field("work", b.nodes[cycle[0]].ID, "no work that waits for itself: "+strings.Join(append(names, b.nodes[cycle[0]].ID), " waits for "))
}

// queue is a min-heap of indices.
type queue []int

func (q *queue) push(v int) {
	*q = append(*q, v)
	s := *q
	for i := len(s) - 1; i > 0; {
		up := (i - 1) / 2
		if s[up] <= s[i] {
			return
		}
		s[up], s[i] = s[i], s[up]
		i = up
	}
}

func (q *queue) pop() int {
	s := *q
	least := s[0]
	last := len(s) - 1
	s[0] = s[last]
	s = s[:last]
	for i := 0; ; {
		k := 2*i + 1
		if k >= last {
			break
		}
		if k+1 < last && s[k+1] < s[k] {
			k++
		}
		if s[i] <= s[k] {
			break
		}
		s[i], s[k] = s[k], s[i]
		i = k
	}
	*q = s
	return least
}
