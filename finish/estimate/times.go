package estimate

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/finish/sequence"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// rates returns the labor rates of the job.
func (j Job) rates() labor.Rates {
	if j.Rates != nil {
		return *j.Rates
	}
	return labor.DefaultRates()
}

// tearOff plans the tear-out before new trim goes on.
func (w *work) tearOff() error {
	if w.job.TearOut == nil {
		return nil
	}
	var err error
	if w.tearOut, err = tearout.New(w.job.tearOut()); err != nil {
		return fault.Under("tear_out", err)
	}
	var bad fault.List
	for _, n := range w.tearOut.Needs {
		b, err := w.cheapest(n)
		if err != nil {
			bad.Under("", err)
			continue
		}
		w.sheeting = append(w.sheeting, *b)
	}
	return bad.Err()
}

// cheapest buys a need of a tear-out from the cheapest product on the shelf.
func (w *work) cheapest(n finish.Need) (*finish.Purchase, error) {
	var best *finish.Purchase
	for i, p := range w.job.Shelf.Products {
		if p.Material != n.Material {
			continue
		}
		b, err := finish.Buy(n.Gross, p)
		if err != nil {
			return nil, fault.Under(fault.At("shelf.products", i), err)
		}
		if best == nil || b.Cost < best.Cost {
			best = b
		}
	}
	if best == nil {
		return nil, fault.Field("shelf.products", "without "+strconv.Quote(n.Material), "a product of that material, for which the tear-out asks")
	}
	return best, nil
}

// hours computes the labor of a scenario.
func (w *work) hours(s *scenario) error {
	o := w.job.Labor
	o.Profiles = nil
	for _, m := range w.job.Materials {
		o.Profiles = append(o.Profiles, w.known[m.Profile.Name])
	}
	for _, x := range s.list.Strips {
		o.Profiles = append(o.Profiles, x.Profile)
	}
	var err error
	if s.lines, err = labor.Lines(s.list, w.rooms, s.finish.Steps, w.rates, &o); err != nil {
		return moved(err, map[string]string{"options": "labor"})
	}
	return nil
}

// works converts lines of labor to works for the order of work. Setting up for a task and
// cleaning up after it belong to the first and the last work of the task in the room.
func (w *work) works(s *scenario) ([]sequence.Work, error) {
	var out []sequence.Work
	s.alone = nil
	for _, t := range tearOutSteps(w.tearOut) {
		out = append(out, tearOutWork(t))
	}
	more := func(k int, d measure.Duration) error {
		sum, ok := natural.Add(int64(out[k].Labor), int64(d))
		if !ok {
			return tooLarge("the labor")
		}
		out[k].Labor = measure.Duration(sum)
		return nil
	}
	type place struct {
		room string
		task finish.Task
	}
	first, last := map[place]int{}, map[place]int{}
	for _, l := range s.lines {
		if l.Kind != labor.KindWork {
			continue
		}
		p := place{l.Room, l.Task}
		if _, ok := first[p]; !ok {
			first[p] = len(out)
		}
		last[p] = len(out)
		people := l.People
		if most := w.job.hands(l.Skill); people > most { // alone: slower, with a helper or a prop
			people = most
			s.alone = append(s.alone, l)
		}
		out = append(out, sequence.Work{
			Task: l.Task, Step: l.Step, Trim: w.trimOf(s, l), Labor: l.Labor, Coats: l.Coats, Dry: l.Dry, Skill: l.Skill, People: people,
		})
	}
	for _, l := range s.lines {
		k, ok := first[place{l.Room, l.Task}]
		switch {
		case l.Kind == labor.KindWork || !ok:
			continue
		case l.Kind == labor.KindCleanUp:
			k = last[place{l.Room, l.Task}]
		}
		if err := more(k, l.Labor); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// trimOf returns the trim of a line for the order of work.
func (w *work) trimOf(s *scenario, l labor.Line) sequence.Trim {
	t := sequence.Trim{Job: l.Job, Room: l.Room, Profile: l.Profile, Role: l.Role}
	if m := w.materialOf(s, l.Profile); m >= 0 {
		t.Preprimed = w.job.Materials[m].Preprimed
	}
	for _, i := range s.runsOf(l.Room, l.Profile) {
		r := &s.list.Runs[i]
		if t.Assembly == "" {
			t.Assembly, t.Order = r.Assembly, r.Order
		}
		t.Longest = max(t.Longest, r.Length)
	}
	if t.Assembly == "" {
		t.Assembly, t.Order = headOf(s, l)
	}
	return t
}

// runsOf returns the indices of the runs of a profile in a room.
func (s *scenario) runsOf(room, profile string) []int {
	if s.runs == nil {
		s.runs = make(map[[2]string][]int)
		for i := range s.list.Runs {
			key := [2]string{s.list.Runs[i].Room, s.list.Runs[i].Profile}
			s.runs[key] = append(s.runs[key], i)
		}
	}
	return s.runs[[2]string{room, profile}]
}

// headOf returns the position of a profile in the built-up trim around the openings of a room,
// in the order of installation: the legs of the casing first, then what lies on them, from the
// bottom up. It is zero for a room without built-up heads, and for a profile that is not part
// of them.
func headOf(s *scenario, l labor.Line) (assembly string, order int) {
	isHead := func(name string) int { // the position of a profile that is run there, from 1
		for _, style := range s.trim.CasingStyles {
			for i := range style.Head {
				if p := style.Head[i].Profile; p != nil && p.Name == name &&
					slices.ContainsFunc(s.list.Runs, func(r stock.Run) bool { return r.Room == l.Room && r.Profile == name && r.Assembly == "" }) {
					return i + 1
				}
			}
		}
		return 0
	}
	const name = "head of the casing"
	if k := isHead(l.Profile); k > 0 {
		return name, 1 + k
	}
	if l.Role != stock.RoleCasing {
		return "", 0
	}
	for _, t := range s.list.RoomTotals {
		if t.Room == l.Room && isHead(t.Profile) > 0 {
			return name, 1
		}
	}
	return "", 0
}

// tearOutWork is a step of a tear-out in the order of the whole job.
func tearOutWork(t tearout.Step) sequence.Work {
	stage := sequence.StageTearOut
	if t.Room == "" && t.Hold {
		stage = sequence.StageDecision
	}
	return sequence.Work{
		ID: "tear-out: " + t.ID, Stage: stage, Step: t.Task.String(), Trim: sequence.Trim{Room: t.Room}, Labor: t.Labor, Skill: t.Skill,
		Dry: finish.Drying{Recoat: t.Wait},
	}
}

func tearOutSteps(p *tearout.Plan) []tearout.Step {
	if p == nil {
		return nil
	}
	return p.Steps
}

// lay puts the work of a scenario in order, and schedules it if the job has a calendar.
func (w *work) lay(ctx context.Context, s *scenario, e *Estimate) error {
	works, err := w.works(s)
	if err != nil {
		return err
	}
	s.works = len(works)
	job := sequence.Job{Work: works, Deliveries: w.deliveries(e), Others: w.job.Others}
	if e.Sequence, err = sequence.Network(job, &w.job.Sequence); err != nil {
		return w.faultsOfOrder(err, works)
	}
	if w.job.Calendar == nil {
		return nil
	}
	if err := w.checkCrews(e.Sequence); err != nil {
		return err
	}
	e.Schedule, err = schedule.Build(ctx, e.Sequence.Activities, *w.job.Calendar, &schedule.Options{Work: w.options.ScheduleWork})
	if err != nil && ctx != nil && meter.Ended(ctx) != nil { // it had ended before: the first schedule found will do
		e.Schedule, err = schedule.Build(context.Background(), e.Sequence.Activities, *w.job.Calendar, &schedule.Options{Work: 1})
	}
	if err != nil {
		return w.faultsOfSchedule(err, e.Sequence)
	}
	return nil
}

// checkOrder puts the work of a scenario in order before anything is planned, to find faults:
// work that no order allows, work without a crew.
func (w *work) checkOrder(s *scenario) error {
	works, err := w.works(s)
	if err != nil {
		return err
	}
	order, err := sequence.Network(sequence.Job{Work: works, Others: w.job.Others}, &w.job.Sequence)
	if err != nil {
		return w.faultsOfOrder(err, works)
	}
	return w.checkCrews(order)
}

// checkCrews reports skills that no crew has.
func (w *work) checkCrews(order *sequence.Order) error {
	if w.job.Calendar == nil {
		return nil
	}
	var bad fault.List
	known := map[string]bool{}
	for _, a := range order.Activities {
		if a.Labor == 0 || known[a.Skill] {
			continue
		}
		known[a.Skill] = true
		if crews := w.job.Calendar.Crews; len(crews) > 0 && !slices.ContainsFunc(crews, func(c schedule.Crew) bool { return knows(c, a.Skill) }) {
			bad.Add("calendar.crews", "without "+strconv.Quote(a.Skill), "a crew with that skill, or without skills for one that can do everything; "+strconv.Quote(a.ID)+" takes it")
		}
	}
	return bad.Err()
}

// knows reports whether a crew has a skill.
func knows(c schedule.Crew, skill string) bool {
	return skill == "" || len(c.Skills) == 0 || slices.Contains(c.Skills, skill)
}

// hands returns the greatest number of people of one crew with a skill; there is no limit
// without a calendar.
func (j Job) hands(skill string) int64 {
	if j.Calendar == nil {
		return math.MaxInt64
	}
	most := int64(0)
	for _, c := range j.Calendar.Crews {
		if knows(c, skill) {
			most = max(most, c.People, 1)
		}
	}
	return max(most, 1)
}

// faultsOfSchedule translates the paths of faults of activities to those of the job: if no crew
// is large or skilled enough for one, crews are at fault.
func (w *work) faultsOfSchedule(err error, o *sequence.Order) error {
	var out fault.List
	for bad := range measure.FieldErrors(err) {
		var i int
		var field string
		if _, scan := fmt.Sscanf(bad.Field, "activities[%d].%s", &i, &field); scan != nil || i < 0 || i >= len(o.Activities) {
			out.Under("", bad)
			continue
		}
		a := &o.Activities[i]
		if k := slices.IndexFunc(w.job.Others, func(x sequence.Other) bool { return x.Activity.ID == a.ID }); k >= 0 {
			b := *bad
			b.Field = fault.At("others", k) + ".activity." + field
			out.Under("", &b)
			continue
		}
		want := "a crew of " + strconv.FormatInt(max(a.People, 1), 10)
		if a.Skill != "" {
			want += ", skilled as " + a.Skill + ","
		}
		out.Add("calendar.crews", "without one", want+" for "+a.ID)
	}
	if out == nil {
		return err
	}
	return once(out)
}

// faultsOfOrder translates the paths of faults of an order of work to those of the job: work
// that cannot be done in any order is the fault of its system.
func (w *work) faultsOfOrder(err error, works []sequence.Work) error {
	var out fault.List
	for bad := range measure.FieldErrors(err) {
		var i int
		if _, scan := fmt.Sscanf(bad.Field, "work[%d]", &i); scan == nil && i >= 0 && i < len(works) {
			m := slices.IndexFunc(w.job.Materials, func(m Material) bool { return m.Profile.Name == works[i].Profile })
			b := *bad
			b.Field = "tear_out"
			if m >= 0 {
				b.Field = fault.At("materials", m) + ".system"
			}
			out.Under("", &b)
			continue
		}
		out.Under("", moved(bad, map[string]string{"options": "sequence"}))
	}
	if out == nil {
		return err
	}
	return out.Err()
}

// moved replaces the paths of field errors, by the first name in them.
func moved(err error, to map[string]string) error {
	var out fault.List
	for bad := range measure.FieldErrors(err) {
		first, rest, _ := strings.Cut(bad.Field, ".")
		if name, ok := to[first]; ok {
			b := *bad
			b.Field = name + "." + rest
			bad = &b
		}
		out.Under("", bad)
	}
	if out == nil {
		return err
	}
	return out.Err()
}

// orderedAt returns the moment at which the trim is ordered: when the calendar's working day
// opens on OrderOn, or at its start; zero if neither is given.
func (w *work) orderedAt() time.Time {
	var cal schedule.Calendar
	if w.job.Calendar != nil {
		cal = *w.job.Calendar
	}
	d := w.job.OrderOn
	if d == (schedule.Date{}) {
		return cal.Start
	}
	open := time.Duration(cal.Open)
	if cal.Open == 0 && cal.Close == 0 {
		open = 8 * time.Hour
	}
	return time.Date(d.Year, d.Month, d.Day, 0, int(open/time.Minute), 0, 0, cal.Start.Location())
}

// deliveries returns the orders of trim as deliveries that the work waits for.
func (w *work) deliveries(e *Estimate) []sequence.Delivery {
	var out []sequence.Delivery
	day := w.orderedAt()
	for _, o := range e.Orders {
		if day.IsZero() { // no date was requested
			o.LeadDays = 0
		}
		var done []string
		for _, l := range o.Lines {
			if slices.Contains(done, l.Profile) {
				continue
			}
			done = append(done, l.Profile)
			out = append(out, sequence.Delivery{
				ID: deliveryID(l.Profile, o.Supplier), Profile: l.Profile, Day: day, LeadDays: o.LeadDays, Class: w.classOf(l.Profile),
			})
		}
	}
	return out
}

// classOf returns the class of a profile.
func (w *work) classOf(profile string) stock.Class {
	catalog := stock.GenericCatalog()
	if w.job.Habits.Catalog != nil {
		catalog = *w.job.Habits.Catalog
	}
	m, _ := catalog.Material(w.known[profile].Material)
	return m.Class
}

// worksOf returns the works of an activity of the schedule, several if they are done together;
// nil for milestones, deliveries and others.
func (e *Estimate) worksOf(activity int) []*sequence.Work {
	if activity < 0 || activity >= len(e.Sequence.Steps) {
		return nil
	}
	step := e.Sequence.Steps[activity]
	var out []*sequence.Work
	for _, k := range append(slices.Clone(step.With), step.Work) {
		if k >= 0 && k < len(e.Sequence.Job.Work) {
			out = append(out, &e.Sequence.Job.Work[k])
		}
	}
	return out
}

// tearOutStep returns the step of the tear-out that a work is.
func (e *Estimate) tearOutStep(w *sequence.Work) (tearout.Step, bool) {
	for _, t := range tearOutSteps(e.TearOut) {
		if w.ID == "tear-out: "+t.ID {
			return t, true
		}
	}
	return tearout.Step{}, false
}

// cautionsOf returns the cautions of a work.
func (e *Estimate) cautionsOf(w *sequence.Work) []finish.Caution {
	if t, ok := e.tearOutStep(w); ok {
		return t.Cautions
	}
	for i := range e.Finish.Steps {
		if s := &e.Finish.Steps[i]; s.Job == w.Job && s.Step == w.Step && s.Task == w.Task {
			all, _ := s.Cautions(e.Job.Locale) // only of known hazards
			return all
		}
	}
	return nil
}
