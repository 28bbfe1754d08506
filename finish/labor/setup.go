package labor

import (
	"slices"

	"example.com/longpoint/finish"
)

// inOrder returns the lines room by room, with set-up and clean-up around those of each task.
func (c *counter) inOrder() ([]Line, error) {
	lines, done := make([]Line, 0, len(c.lines)+4*len(c.rooms)), make([]bool, len(c.lines))
	for i := range c.rooms {
		r := &c.rooms[i]
		var tasks []finish.Task
		for _, d := range r.done {
			if t := c.lines[d.line].Task; !slices.Contains(tasks, t) {
				tasks = append(tasks, t)
			}
		}
		var after []Line
		for _, t := range tasks {
			before, cleanUp, err := c.around(r, t)
			if err != nil {
				return nil, err
			}
			if len(before.Parts) > 0 {
				lines = append(lines, before)
			}
			if len(cleanUp.Parts) > 0 {
				after = append(after, cleanUp)
			}
		}
		for _, d := range r.done {
			if l := &c.lines[d.line]; l.Room == r.name {
				lines, done[d.line] = append(lines, *l), true
			}
		}
		lines = append(lines, after...)
	}
	for i := range c.lines {
		if !done[i] { // in all rooms
			lines = append(lines, c.lines[i])
		}
	}
	return lines, nil
}

// around returns the set-up of a task in a room, and the clean-up after it.
func (c *counter) around(r *roomOf, task finish.Task) (before, after Line, err error) {
	before = Line{Kind: KindSetUp, Room: r.name, Task: task, Step: EventSetUp.String(), Factor: whole, People: 1}
	after = Line{Kind: KindCleanUp, Room: r.name, Task: task, Step: EventCleanUp.String(), Factor: whole, People: 1}
	var used []count
	for i, d := range r.done {
		l, w := &c.lines[d.line], d.job
		if l.Task != task {
			continue
		}
		if before.Skill == "" {
			before.Skill, after.Skill = l.Skill, l.Skill
		}
		t := Trim{Role: l.Role, Width: w.width, Height: w.height, Step: l.Step}
		for e := EventSetUp; e <= EventCleanUp; e++ {
			if e == EventTestCorner && (!w.corners() || c.tried(r.done[:i], task, w)) {
				continue
			}
			k := c.index.find(task, e, &t)
			if k < 0 {
				continue
			}
			at := slices.IndexFunc(used, func(u count) bool { return u.rate == k })
			if at < 0 {
				at = len(used)
				used = append(used, count{rate: k})
			}
			if e == EventTestCorner {
				used[at].n++
			} else {
				used[at].n = 1
			}
		}
	}
	slices.SortStableFunc(used, func(a, b count) int { return a.rate - b.rate })
	for _, u := range used {
		line := &before
		if c.rates.Table[u.rate].Event == EventCleanUp {
			line = &after
		}
		if err := c.partAt(line, u.rate, u.n); err != nil {
			return Line{}, Line{}, err
		}
	}
	return before, after, nil
}

// count is the number of times that a rate applies in a room.
type count struct {
	rate int
	n    int64
}

// corners reports whether trim has corners that are first tried on scrap.
func (w *jobOf) corners() bool {
	for _, e := range [...]Event{EventCope, EventInsideMiter, EventOutsideMiter, EventFlatMiter, EventRakeMiter} {
		if w.n[e] > 0 {
			return true
		}
	}
	return false
}

// tried reports whether one of the earlier lines is the same task on the same trim.
func (c *counter) tried(done []doneOf, task finish.Task, w *jobOf) bool {
	return slices.ContainsFunc(done, func(d doneOf) bool { return c.lines[d.line].Task == task && d.job == w })
}
