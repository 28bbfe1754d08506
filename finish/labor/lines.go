package labor

import (
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// A Kind tells whether a line is work, set-up or clean-up.
type Kind uint8

const (
	KindWork    Kind = iota // a step on a profile
	KindSetUp               // before the first work of a task in a room: tools, staging, test corners
	KindCleanUp             // after the last
)

var kindNames = [...]string{KindWork: "work", KindSetUp: "set-up", KindCleanUp: "clean-up"}

// String returns "work", "set-up" or "clean-up".
func (k Kind) String() string { return kind.Text("Kind", kindNames[:], k) }

// MarshalText writes the name; an unknown kind is a *[measure.FieldError].
func (k Kind) MarshalText() ([]byte, error) {
	return kind.Marshal("Kind", "a kind of line", kindNames[:], k)
}

// UnmarshalText reads the name; any other text is a *[measure.FieldError].
func (k *Kind) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a kind of line", kindNames[:], text, k)
}

// A Line is the labor of one step on one profile in one room, or of setting up for a task in a
// room, or of cleaning up after it.
type Line struct {
	Kind    Kind        `json:"kind,omitzero"`     // work, set-up or clean-up
	Room    string      `json:"room,omitempty"`    // "" for a job in all rooms
	Profile string      `json:"profile,omitempty"` // "" for set-up and clean-up; of panels their material
	Role    stock.Role  `json:"role,omitzero"`     // of the profile
	Task    finish.Task `json:"task"`              // the task; for set-up and clean-up, the task that they serve
	Step    string      `json:"step"`              // label of the step, "panels", "set-up" or "clean-up"
	Job     string      `json:"job,omitempty"`     // label of its finishing job

	Coats int64         `json:"coats,omitempty"` // coats of the step
	Dry   finish.Drying `json:"dry,omitzero"`    // drying times of the step

	Skill  string `json:"skill,omitempty"` // who does it; "" = anyone
	People int64  `json:"people"`          // least number at once, who share Labor; 1 or more

	Parts   []Part        `json:"parts,omitempty"`   // none if no event of it has a rate
	Factors []FactorUse   `json:"factors,omitempty"` // in the order of Rates.Factors
	Factor  measure.Ratio `json:"factor"`            // factor on every part: the product of Factors, at most Rates.Cap
	Capped  bool          `json:"capped,omitempty"`  // the product of Factors exceeds the cap

	Labor measure.Duration `json:"labor"` // labor hours: the sum of Parts, exactly
}

// A Part is the time of one event on a line.
type Part struct {
	Event    Event            `json:"event"`
	Quantity finish.Amount    `json:"quantity"` // quantity of the event
	Rate     int              `json:"rate"`     // index in Rates.Table
	Time     measure.Duration `json:"time"`     // with the factor of the line, rounded up to Rates.Round
}

// Options holds the properties of the job, besides rates, that affect labor. The zero
// value is a plain job.
type Options struct {
	// Profiles are the profiles of the scheme. The width of any other profile is unknown,
	// and rates for wide trim do not apply to it.
	Profiles   []stock.Profile `json:"profiles,omitempty"`
	Conditions []Condition     `json:"conditions,omitempty"` // at most 1000

	// MiteredSkirts lists the rooms in which risers are mitered to the skirts of their
	// stairs (EventMiteredStep); in other rooms they run past (EventStep).
	MiteredSkirts []string `json:"mitered_skirts,omitempty"`
}

// Lines returns the labor of a job in the order of the rooms of the takeoff: for each room
// the set-up of each task, the work of the steps in their order, and the clean-up. The sum
// of the lines is the labor of the job, see [Total].
//
// The steps are those of a finishing list with the job labels of estimate.FinishJob:
// "PROFILE, ROOM" for a job on one of List.RoomTotals, "PROFILE" for one on all rooms, from
// List.Totals. The lines of the latter come last and have no room; rates and factors for a
// height or a room do not apply to them. Nil steps mean the installation of everything in
// the list. Trim that is installed or set is counted from the takeoff, see [Event], and
// other work from the step. Panels of paneling, which are not a finishing job, have an
// installation line for each room and material.
//
// The height of work is the height of the ceiling for work within 18 in of it and for crown
// at an unknown height; otherwise it is the lower edge of the highest run. Heights and
// floors are those of the rooms, which are looked up by name; if the room is missing or was
// not measured, rates and factors for a height or a floor do not apply.
//
// If list is nil, all counts are from the steps, with a line for each that has its job as
// its profile and no room. A nil o means the zero Options.
//
// The error joins all faults, at most 100: a *[measure.FieldError] for each invalid field
// of rates, options, steps and list, or a *[measure.RangeError].
func Lines(list *takeoff.List, rooms []takeoff.Room, steps []finish.StepResult, r Rates, o *Options) ([]Line, error) {
	if o == nil {
		o = &Options{}
	}
	var bad fault.List
	bad.Under("rates", r.Validate())
	r = r.filled()
	bad.Under("options", o.validate(&r, list))
	for i := range steps {
		if err := checkStep(&steps[i]); err != nil {
			bad.Under(fault.At("steps", i), err)
		}
	}
	if err := bad.Err(); err != nil {
		return nil, err
	}
	c := counter{rates: r, index: newIndex(r.Table), conditions: o.Conditions, widths: make(map[string]measure.Length, len(o.Profiles))}
	for i := range o.Profiles {
		c.widths[o.Profiles[i].Name] = o.Profiles[i].Width
	}
	if list == nil {
		list = &takeoff.List{}
		if steps == nil {
			return nil, nil
		}
		c.stepsAlone = true
	}
	if err := c.count(list, rooms, o.MiteredSkirts); err != nil {
		return nil, err
	}
	if steps == nil {
		steps = c.install()
	}
	c.lines = make([]Line, 0, len(steps)+len(c.rooms))
	if err := c.panels(list); err != nil {
		return nil, err
	}
	if err := c.work(steps); err != nil {
		return nil, err
	}
	return c.inOrder()
}

// validate returns the options that are invalid with the rates and the list.
func (o *Options) validate(r *Rates, list *takeoff.List) error {
	var f fault.List
	atMost(&f, "conditions", len(o.Conditions))
	atMost(&f, "mitered_skirts", len(o.MiteredSkirts))
	if len(f) > 0 {
		return f.Err()
	}
	for i := range o.Profiles {
		if p := &o.Profiles[i]; p.Width < 0 {
			f.Add(fault.At("profiles", i)+".width", p.Width.About(), "zero or more")
		}
	}
	for i, k := range o.Conditions {
		at := fault.At("conditions", i)
		if !slices.ContainsFunc(r.Factors, func(x Factor) bool { return x.Name == k.Factor }) {
			f.Add(at+".factor", k.Factor, "the name of a factor")
		}
		if list == nil {
			continue
		}
		in := func(ok func(t *takeoff.ProfileTotals) bool) bool {
			for n := range list.RoomTotals {
				if ok(&list.RoomTotals[n]) {
					return true
				}
			}
			return false
		}
		if k.Room != "" && !in(func(t *takeoff.ProfileTotals) bool { return t.Room == k.Room }) &&
			!slices.ContainsFunc(list.Panels, func(p takeoff.Panel) bool { return p.Room == k.Room }) {
			f.Add(at+".room", k.Room, "a room with trim")
		}
		if k.Profile != "" && !in(func(t *takeoff.ProfileTotals) bool { return t.Profile == k.Profile }) &&
			!slices.ContainsFunc(o.Profiles, func(p stock.Profile) bool { return p.Name == k.Profile }) {
			f.Add(at+".profile", k.Profile, "a profile of the takeoff or of profiles")
		}
	}
	return f.Err()
}

// checkStep reports a step that no list of package finish can have.
func checkStep(s *finish.StepResult) error {
	var f fault.List
	if !known(s.Task) {
		f.Add("task", uint8(s.Task), "a known task")
	}
	if s.Length < 0 {
		f.Add("length", s.Length.About(), "zero or more")
	}
	if s.Area < 0 {
		f.Add("area", s.Area, "zero or more")
	}
	if s.Count < 0 {
		f.Add("count", s.Count, "zero or more")
	}
	if s.Joints < 0 {
		f.Add("joints", s.Joints, "zero or more")
	}
	return f.Err()
}

// install returns the steps that install everything.
func (c *counter) install() []finish.StepResult {
	steps := make([]finish.StepResult, 0, len(c.jobs))
	for i := range c.jobs {
		w := &c.jobs[i]
		s := finish.StepResult{Job: label(w), Task: finish.TaskInstall, Coats: 1, Joints: w.joints}
		if w.course {
			s.Task = finish.TaskSet
		}
		s.Step = s.Task.String()
		steps = append(steps, s)
	}
	return steps
}

// label returns the label of the job, as in estimate.FinishJob.
func label(w *jobOf) string {
	if w.room == "" {
		return w.profile
	}
	return w.profile + ", " + w.room
}

// work makes a line of each step.
func (c *counter) work(steps []finish.StepResult) error {
	byLabel := make(map[string]*jobOf, len(c.jobs)+len(c.whole))
	for _, jobs := range [...][]jobOf{c.whole, c.jobs} {
		for i := range jobs {
			byLabel[label(&jobs[i])] = &jobs[i]
		}
	}
	var bad fault.List
	for i := range steps {
		s := &steps[i]
		w := byLabel[s.Job]
		if c.stepsAlone {
			w = &jobOf{profile: s.Job}
		}
		if w == nil {
			bad.Add(fault.At("steps", i)+".job", s.Job, `a profile of the takeoff, or "PROFILE, ROOM"`)
			continue
		}
		line := Line{Room: w.room, Profile: w.profile, Role: w.role, Task: s.Task, Step: s.Step, Job: s.Job, Coats: s.Coats, Dry: s.Dry}
		n := [EventSetUp]int64{EventLength: int64(s.Length), EventArea: int64(s.Area), EventCount: s.Count, EventJoint: s.Joints}
		if hangs(s.Task) {
			n = w.n
			n[EventArea], n[EventCount], n[EventJoint] = int64(s.Area), s.Count, s.Joints
			switch {
			case c.stepsAlone:
				n[EventLength] = int64(s.Length)
			case s.Task == finish.TaskInstall:
				n[EventJoint] = 0 // the takeoff has the kind of each
			}
		}
		if err := c.add(line, w, &n); err != nil {
			return fault.Under(fault.At("steps", i), err)
		}
	}
	return bad.Err()
}

// add adds a line of work.
func (c *counter) add(line Line, w *jobOf, n *[EventSetUp]int64) error {
	t := Trim{Role: line.Role, Width: w.width, Height: w.height, Step: line.Step}
	line.Factors, line.Factor, line.Capped = c.factorsOf(&line, w)
	last := EventSetUp
	if !hangs(line.Task) {
		last = EventPiece
	}
	for e := range last {
		if n[e] == 0 {
			continue
		}
		if err := c.part(&line, e, n[e], &t); err != nil {
			return err
		}
	}
	line.Skill, line.People = c.who(&line, w)
	for _, r := range w.rooms {
		here := w
		if k, ok := c.at[key{w.profile, c.rooms[r].name}]; ok && w.room != c.rooms[r].name {
			here = &c.jobs[k]
		}
		c.rooms[r].done = append(c.rooms[r].done, doneOf{len(c.lines), here})
	}
	c.lines = append(c.lines, line)
	return nil
}

// part adds the time of an event, if it has a rate.
func (c *counter) part(line *Line, e Event, n int64, t *Trim) error {
	k := c.index.find(line.Task, e, t)
	if k < 0 {
		return nil
	}
	return c.partAt(line, k, n)
}

// partAt adds the time of n of a rate's event.
func (c *counter) partAt(line *Line, k int, n int64) error {
	rate := &c.rates.Table[k]
	p := Part{Event: rate.Event, Rate: k}
	var ok bool
	if p.Quantity, ok = amount(rate.Event, n); !ok {
		return tooLarge("the number of " + rate.Event.String())
	}
	var err error
	if p.Time, err = rate.time(p.Quantity, line.Factor, c.rates.Round); err != nil {
		return err
	}
	sum, ok := natural.Add(int64(line.Labor), int64(p.Time))
	if !ok {
		return tooLarge("the labor of a line")
	}
	line.Labor = measure.Duration(sum)
	if line.Parts == nil && line.Kind == KindWork && hangs(line.Task) {
		line.Parts = make([]Part, 0, 8)
	}
	line.Parts = append(line.Parts, p)
	return nil
}

// amount returns n units of an event; ok is false if a count is out of range.
func amount(e Event, n int64) (finish.Amount, bool) {
	switch e {
	case EventLength, EventScribe:
		return finish.AmountOf(measure.Length(n)), true
	case EventArea:
		return finish.AmountOf(measure.Area(n)), true
	}
	a := finish.Count(n)
	back, _ := a.Pieces()
	return a, back == n
}

// panels adds a line for the panels of each room and material.
func (c *counter) panels(list *takeoff.List) error {
	at := map[key]int{}
	var all []jobOf
	for i := range list.Panels {
		p := &list.Panels[i]
		k, ok := at[key{p.Material, p.Room}]
		if !ok {
			k = len(all)
			at[key{p.Material, p.Room}] = k
			room := c.room(p.Room)
			all = append(all, jobOf{
				profile: p.Material, room: p.Room, role: stock.RolePanel, rooms: []int{room},
				floor: c.rooms[room].floor, floorKnown: c.rooms[room].floorKnown,
			})
		}
		w := &all[k]
		a, ok := surface(p.Width, p.Height)
		sum, fits := natural.Add(w.n[EventArea], int64(a))
		if !ok || !fits {
			return fault.Field(fault.At("list.panels", i), p.Width.About()+" by "+p.Height.About(), "an area of zero or more that can be represented")
		}
		w.n[EventArea], w.height = sum, max(w.height, p.Bottom)
		w.n[EventPanel]++
	}
	for i := range all {
		w := &all[i]
		line := Line{Room: w.room, Profile: w.profile, Role: w.role, Task: finish.TaskInstall, Step: "panels", Coats: 1}
		if err := c.add(line, w, &w.n); err != nil {
			return err
		}
	}
	return nil
}

// Total returns the total labor of lines. The error is a *[measure.RangeError].
func Total(lines []Line) (measure.Duration, error) {
	var sum int64
	for i := range lines {
		var ok bool
		if sum, ok = natural.Add(sum, int64(lines[i].Labor)); !ok {
			return 0, tooLarge("the labor")
		}
	}
	return measure.Duration(sum), nil
}
