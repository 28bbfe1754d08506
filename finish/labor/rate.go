package labor

import (
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Rate is the time of an event for one person, in labor hours.
//
// Roles, Over, Above and Step select the work to which it applies. If several rates apply
// to the same work, a rate that names the step takes precedence, then one that names the
// role, then the one for the widest trim, then the one for the highest work.
type Rate struct {
	Task  finish.Task      `json:"task"`            // the task
	Event Event            `json:"event"`           // the event counted; events up to EventJoint are for every task; for the others see [Event]
	Roles []stock.Role     `json:"roles,omitempty"` // of trim; none is any
	Over  measure.Length   `json:"over,omitempty"`  // trim whose profile is wider than this; 0 = any, >= 0
	Above measure.Length   `json:"above,omitempty"` // work at least this high above the floor, see [Lines]; 0 = any, >= 0
	Step  string           `json:"step,omitempty"`  // label of the step; "" = any
	Per   finish.Amount    `json:"per,omitzero"`    // quantity of the event; zero = one [Event.Unit], >= 0
	Time  measure.Duration `json:"time"`            // for Per; >= 0

	Source    string `json:"source,omitempty"`    // publication, or "common practice, no source"
	Date      string `json:"date,omitempty"`      // when it was true, such as "2020s"
	Condition string `json:"condition,omitempty"` // crew, tools, height of the ceiling
	Jobs      int64  `json:"jobs,omitempty"`      // number of own timed jobs on which it is based; >= 0, 0 for a rate from a table
}

// per returns Per with its default filled in.
func (r *Rate) per() finish.Amount {
	if r.Per.IsZero() {
		return r.Event.Unit()
	}
	return r.Per
}

func (r *Rate) validate() error {
	var f fault.List
	if !known(r.Task) {
		f.Add("task", uint8(r.Task), "a known task")
	}
	switch {
	case int(r.Event) >= events:
		f.Add("event", uint8(r.Event), "a known event")
		return f.Err()
	case known(r.Task) && r.Event.fitting() && !hangs(r.Task):
		f.Add("event", r.Event, "length, area, count or joint: other events are counted for the tasks install and set alone")
	}
	checkRoles(&f, r.Roles)
	for _, x := range [...]struct {
		name string
		l    measure.Length
	}{{"over", r.Over}, {"above", r.Above}} {
		if x.l < 0 {
			f.Add(x.name, x.l.About(), "zero or more")
		}
	}
	if _, _, same := units(r.per(), r.Event.Unit()); !same {
		f.Add("per", r.Per, "as much as "+r.Event.Unit().String()+", the unit of the event")
	} else if r.Per.Sign() < 0 {
		f.Add("per", r.Per, "zero or more")
	}
	if n, counted := r.Per.Pieces(); counted && finish.Count(n) != r.Per {
		f.Add("per", r.Per, "a whole number")
	}
	if r.Time < 0 {
		f.Add("time", r.Time, "zero or more")
	}
	if r.Jobs < 0 {
		f.Add("jobs", r.Jobs, "zero or more")
	}
	return f.Err()
}

// known reports whether a value of a small set has its own name: others are written like
// Task(99).
func known[K fmt.Stringer](v K) bool { return !strings.HasSuffix(v.String(), ")") }

func checkRoles(f *fault.List, roles []stock.Role) {
	for i, role := range roles {
		if !known(role) {
			f.Add(fault.At("roles", i), uint8(role), "a known role")
		}
	}
}

// For returns the time of a quantity by the rate alone, without factors, rounded up to a
// nanosecond. A quantity of another kind or below zero is a *[measure.FieldError], as is an
// invalid rate; a time out of range is a *[measure.RangeError].
func (r Rate) For(quantity finish.Amount) (measure.Duration, error) {
	if err := r.validate(); err != nil {
		return 0, err
	}
	if _, _, same := units(quantity, r.Event.Unit()); !same || quantity.Sign() < 0 {
		return 0, fault.Field("quantity", quantity, "zero or more, as much as "+r.Event.Unit().String())
	}
	if n, counted := quantity.Pieces(); counted && finish.Count(n) != quantity {
		return 0, fault.Field("quantity", quantity, "a whole number")
	}
	return r.time(quantity, whole, 1)
}

// time returns the time of a quantity with factors, rounded up to a multiple of round.
func (r *Rate) time(quantity finish.Amount, factor measure.Ratio, round measure.Duration) (measure.Duration, error) {
	n, per, _ := units(quantity, r.per())
	q, ok := natural.Quotient(natural.Up, []int64{n, int64(r.Time), int64(factor)}, []int64{per, int64(whole), int64(round)})
	if ok {
		q, ok = natural.Mul(q, int64(round))
	}
	if !ok {
		return 0, tooLarge("the time of " + r.Task.String() + ", " + r.Event.String())
	}
	return measure.Duration(q), nil
}

// Rates holds all figures from which labor is computed. The zero value means
// [DefaultRates], and each nil list for the corresponding list there.
type Rates struct {
	Table   []Rate   `json:"table"`             // at most 1000; no two for the same work
	Factors []Factor `json:"factors,omitempty"` // at most 1000
	Skills  []Skill  `json:"skills,omitempty"`  // at most 1000

	// Cap is the limit on the product of factors: difficulties overlap, and their product
	// exceeds the time of any job. Zero is 200 %, common practice, no source; at least 100
	// %.
	Cap measure.Ratio `json:"cap,omitempty"`

	// Round is the unit to which the time of each part is rounded up; zero is a second.
	// >= 0
	Round measure.Duration `json:"round,omitempty"`
}

// most bounds the lists of [Rates] and [Options], which are searched for each line.
const most = 1000

// filled returns the rates with defaults for nil or zero fields.
func (r Rates) filled() Rates {
	if r.Table == nil {
		r.Table = defaultTable()
	}
	if r.Factors == nil {
		r.Factors = defaultFactors()
	}
	if r.Skills == nil {
		r.Skills = defaultSkills()
	}
	if r.Cap == 0 {
		r.Cap = 2 * whole
	}
	if r.Round == 0 {
		r.Round = second
	}
	return r
}

// sameWork identifies the work for which there may be only one rate.
type sameWork struct {
	task        finish.Task
	event       Event
	role        int // -1 for any
	over, above measure.Length
	step        string
}

// Validate returns nil if the rates are valid, or every fault as joined
// *[measure.FieldError] values, at most 100.
func (r Rates) Validate() error {
	r = r.filled()
	var f fault.List
	atMost(&f, "table", len(r.Table))
	atMost(&f, "factors", len(r.Factors))
	atMost(&f, "skills", len(r.Skills))
	if len(f) > 0 {
		return f.Err()
	}
	first := make(map[sameWork]int, len(r.Table))
	for i := range r.Table {
		rate := &r.Table[i]
		if err := rate.validate(); err != nil {
			f.Under(fault.At("table", i), err)
			continue
		}
		k := sameWork{rate.Task, rate.Event, -1, rate.Over, rate.Above, rate.Step}
		roles := rate.Roles
		for n := range max(1, len(roles)) {
			if len(roles) > 0 {
				k.role = int(roles[n])
			}
			if j, twice := first[k]; twice {
				f.Add(fault.At("table", i), rate.Task.String()+", "+rate.Event.String(), "other work than that of "+fault.At("table", j))
				break
			}
			first[k] = i
		}
	}
	for i := range r.Factors {
		f.Under(fault.At("factors", i), r.Factors[i].validate())
	}
	for i := range r.Skills {
		f.Under(fault.At("skills", i), r.Skills[i].validate())
	}
	if r.Cap < whole {
		f.Add("cap", r.Cap, "at least 100%, or zero for 200%")
	}
	if r.Round < 0 {
		f.Add("round", r.Round, "zero or more")
	}
	return f.Err()
}

func atMost(f *fault.List, field string, n int) {
	if n > most {
		f.Add(field, n, fmt.Sprintf("at most %d", most))
	}
}

// Trim holds the properties of trim, besides task and event, by which a rate is looked
// up. The zero value is base of unknown width at an unknown height.
type Trim struct {
	Role   stock.Role     `json:"role,omitzero"`
	Width  measure.Length `json:"width,omitzero"`  // of its profile; zero if it is not known
	Height measure.Length `json:"height,omitzero"` // of the work, above the floor; zero if it is not known
	Step   string         `json:"step,omitempty"`  // label of the step
}

// Find returns the index in Table of the rate that applies, or -1 if there is none, in
// which case the event takes no time. A nil Table is that of [DefaultRates].
func (r Rates) Find(task finish.Task, e Event, t Trim) int {
	if r.Table == nil {
		r.Table = defaultTable()
	}
	best := -1
	for i := range r.Table {
		if x := &r.Table[i]; x.Event == e && x.Task == task && x.suits(&t) && (best < 0 || x.closer(&r.Table[best])) {
			best = i
		}
	}
	return best
}

// suits reports whether the rate applies to the trim, ignoring task and event.
func (r *Rate) suits(t *Trim) bool {
	return (r.Step == "" || r.Step == t.Step) && (r.Over == 0 || t.Width > r.Over) && t.Height >= r.Above &&
		(len(r.Roles) == 0 || slices.Contains(r.Roles, t.Role))
}

// index holds the rates of each task and event, in the order of the table.
type index struct {
	table []Rate
	of    [][]int // by task, then by event
}

func newIndex(table []Rate) index {
	tasks := 0
	for i := range table {
		tasks = max(tasks, int(table[i].Task)+1)
	}
	x := index{table, make([][]int, tasks*events)}
	for i := range table {
		k := int(table[i].Task)*events + int(table[i].Event)
		x.of[k] = append(x.of[k], i)
	}
	return x
}

// find is a faster Rates.Find.
func (x *index) find(task finish.Task, e Event, t *Trim) int {
	k, best := int(task)*events+int(e), -1
	if k >= len(x.of) {
		return -1
	}
	for _, i := range x.of[k] {
		if r := &x.table[i]; r.suits(t) && (best < 0 || r.closer(&x.table[best])) {
			best = i
		}
	}
	return best
}

// closer reports whether r is more specific than o, of two rates that apply to the same
// work.
func (r *Rate) closer(o *Rate) bool {
	if a, b := r.Step != "", o.Step != ""; a != b {
		return a
	}
	if a, b := len(r.Roles) > 0, len(o.Roles) > 0; a != b {
		return a
	}
	if r.Over != o.Over {
		return r.Over > o.Over
	}
	return r.Above > o.Above
}
