package estimate

import (
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
)

// maxActivities is more than can be scheduled.
const maxActivities = 100_000

// Activities returns the steps of a [finish.List] as [schedule.Build] takes them, a coat each,
// with the labor that [Labor] gives. What takes no time is left out.
//
// The steps of a job follow each other, and none goes on over what is not dry; a sealer waits
// until all under it has cured. No job begins before the one before it, and trim is fastened in
// the order of the jobs: casing first, then the base that dies into it. Glue waits with
// the trim that it is for. All jobs share one air, and the dusty work comes first: nobody
// primes before all jobs are sanded for their first coat, nor paints or seals before
// all are sanded for their paint or sealer. Only a coat with which a job begins, or that goes on
// before the trim is hung, does not wait.
func Activities(steps []finish.StepResult, rates []Rate) ([]schedule.Activity, error) {
	labor, _, err := Labor(steps, rates)
	if err != nil {
		return nil, err
	}
	var jobs []*job
	known := map[string]*job{}
	total := int64(0)
	for i, s := range steps {
		if labor[i] == 0 && s.Dry == (finish.Drying{}) {
			continue
		}
		coats := max(s.Coats, 1)
		var ok bool
		if total, ok = natural.Add(total, coats); !ok || total > maxActivities {
			return nil, tooLarge("the schedule, of more than " + strconv.Itoa(maxActivities) + " coats,")
		}
		j := known[s.Job]
		if j == nil {
			j = new(job)
			known[s.Job] = j
			jobs = append(jobs, j)
		}
		for c := range coats {
			j.tasks = append(j.tasks, s.Task)
			j.todo = append(j.todo, coat(s, i, c, coats, labor[i]))
		}
	}
	var all []schedule.Activity
	for i, j := range jobs {
		j.follow()
		j.fasten(jobs[:i])
		for _, o := range jobs {
			j.waitForDust(o)
		}
		all = append(all, j.todo...)
	}
	return all, nil
}

// coat is one coat of a step, with its share of the labor.
func coat(s finish.StepResult, step int, c, coats int64, labor measure.Duration) schedule.Activity {
	part := func(n int64) measure.Duration { // a carrier: exact to 128 bits
		p, _, _ := measure.Length(labor).MulDiv(n, coats, measure.RoundDown)
		return measure.Duration(p)
	}
	a := schedule.Activity{ID: strconv.Itoa(step+1) + "." + strconv.FormatInt(c+1, 10), Name: s.Step, Job: s.Job,
		Labor: part(c+1) - part(c), Dry: s.Dry.Recoat, Cure: s.Dry.Cure}
	if c > 0 {
		a.Name += ", coat " + strconv.FormatInt(c+1, 10)
	}
	a.Dusty, a.Wet = s.Task == finish.TaskSand, isCoat(s.Task)
	return a
}

func fastens(t finish.Task) bool    { return t == finish.TaskInstall || t == finish.TaskSet }
func glues(t finish.Task) bool      { return t == finish.TaskGlue || t == finish.TaskGlueJoints }
func isCoat(t finish.Task) bool     { return t == finish.TaskPrime || isLastCoat(t) }
func isLastCoat(t finish.Task) bool { return t == finish.TaskPaint || t == finish.TaskSeal }

// job is the coats of one job and what they are.
type job struct {
	todo  []schedule.Activity
	tasks []finish.Task
}

// hung returns how many coats go by until the trim is on the wall.
func (j *job) hung() int {
	for i := len(j.tasks); i > 0; i-- {
		if fastens(j.tasks[i-1]) {
			return i
		}
	}
	return 0
}

// follow makes the coats wait for each other.
func (j *job) follow() {
	for i := 1; i < len(j.todo); i++ {
		before := &j.todo[i-1]
		j.wait(i, schedule.Link{ID: before.ID, Lag: before.Dry})
		if j.tasks[i] != finish.TaskSeal || j.tasks[i-1] == finish.TaskSeal {
			continue
		}
		for k := range i {
			j.wait(i, schedule.Link{ID: j.todo[k].ID, Lag: max(j.todo[k].Cure, j.todo[k].Dry)})
		}
	}
}

// fasten has the job begin after the one before it, and its trim go up after theirs.
func (j *job) fasten(before []*job) {
	if n := len(before); n > 0 {
		j.wait(0, schedule.Link{ID: before[n-1].todo[0].ID, Type: schedule.LinkStartStart})
	}
	up := j.hung()
	for i := range up {
		if !fastens(j.tasks[i]) && !glues(j.tasks[i]) {
			continue
		}
		for _, o := range before {
			if k := o.hung(); k > 0 {
				j.wait(i, schedule.Link{ID: o.todo[k-1].ID})
			}
		}
	}
}

// waitForDust has coats on the wall wait until another job is sanded for such coats.
func (j *job) waitForDust(o *job) {
	lastSanding := func(before func(finish.Task) bool) string {
		id := ""
		for i, t := range o.tasks {
			if before(t) {
				break
			}
			if t == finish.TaskSand {
				id = o.todo[i].ID
			}
		}
		return id
	}
	first, last := lastSanding(isCoat), lastSanding(isLastCoat)
	for i := max(j.hung(), 1); i < len(j.todo) && j != o; i++ {
		switch t := j.tasks[i]; {
		case t == finish.TaskPrime && first != "":
			j.wait(i, schedule.Link{ID: first})
		case isLastCoat(t) && last != "":
			j.wait(i, schedule.Link{ID: last})
		}
	}
}

func (j *job) wait(i int, l schedule.Link) { j.todo[i].After = append(j.todo[i].After, l) }
