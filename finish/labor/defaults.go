package labor

import (
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

const (
	commonPractice = "common practice, no source"
	era            = "2020s"
	carpenterAtSaw = "one finish carpenter, pneumatic nailer, saw in or near the room, ceilings of 8 ft, drywall, paint grade"
	painterByBrush = "one painter, by brush, ceilings of 8 ft, trim 3 in to 5 in wide, interior enamel"
	setterWet      = "one tile setter, wet saw near the room, flat walls"
)

// DefaultRates returns rates, factors and skills to start from, as fresh lists. There is no
// public handbook of hours for trim: all are common practice without a source, chosen so
// that a usual room takes the usual time, as the tests of this package show. Replace them
// with your own as soon as you have timed a job.
//
// The time of install includes brads, which are driven along with the nails. Caulk, tape
// and backer rod count each edge separately. A step of prime or paint with the label "spray
// on racks" uses the rate of spraying.
func DefaultRates() Rates { return Rates{}.filled() }

// table builds the rates.
type table []Rate

// of adds rates for trim of the roles, wider than over.
func (t *table) of(task finish.Task, condition string, over measure.Length, roles []stock.Role, times ...pace) {
	for _, x := range times {
		*t = append(*t, Rate{
			Task: task, Event: x.event, Roles: slices.Clone(roles), Over: over, Per: x.per, Time: x.time,
			Source: commonPractice, Date: era, Condition: condition,
		})
	}
}

// pace is the time of an event.
type pace struct {
	event Event
	per   finish.Amount // zero for one
	time  measure.Duration
}

func each(e Event, seconds int64) pace {
	return pace{event: e, time: measure.Duration(seconds) * second}
}

// perHour returns the pace of a number of feet per hour.
func perHour(feet int64) pace {
	return pace{EventLength, finish.AmountOf(measure.Length(feet) * measure.Foot), hour}
}

func defaultTable() []Rate {
	t := make(table, 0, 128)
	t.putUp()
	t.paneling()
	t.finishing()
	t.course()
	t.around()
	t.flatBoards()
	return t
}

// putUp adds the rates of install for trim along walls and around openings.
func (t *table) putUp() {
	const in = measure.Inch
	add := func(over measure.Length, roles []stock.Role, times ...pace) {
		t.of(finish.TaskInstall, carpenterAtSaw, over, roles, times...)
	}
	add(0, nil, each(EventLength, 60), each(EventJoint, 600), each(EventPiece, 300), each(EventCope, 360), each(EventInsideMiter, 360), each(EventOutsideMiter, 360),
		each(EventFlatMiter, 180), each(EventRakeMiter, 480), each(EventScarf, 360), each(EventReturn, 600), each(EventButt, 90),
		each(EventStop, 90), each(EventScribedEnd, 360), each(EventScribe, 90), each(EventCourseJoint, 120), each(EventBend, 1200), each(EventNotch, 360))
	add(0, []stock.Role{stock.RoleBase}, each(EventPiece, 360), each(EventCope, 390))
	add(5*in, []stock.Role{stock.RoleBase}, each(EventLength, 108), each(EventPiece, 480), each(EventCope, 480), each(EventOutsideMiter, 480), each(EventScarf, 480))
	add(0, []stock.Role{stock.RoleShoe}, each(EventLength, 30), each(EventPiece, 150), each(EventCope, 180), each(EventInsideMiter, 180),
		each(EventOutsideMiter, 180), each(EventReturn, 300), each(EventScarf, 180), each(EventStop, 60))
	add(0, []stock.Role{stock.RoleCap}, each(EventLength, 36), each(EventPiece, 180), each(EventCope, 300))
	add(0, []stock.Role{stock.RolePictureRail}, each(EventLength, 66))
	add(0, []stock.Role{stock.RoleCasing}, each(EventLength, 24), each(EventPiece, 180), each(EventSide, 600))
	add(0, []stock.Role{stock.RoleBackband}, each(EventLength, 21), each(EventPiece, 150))
	add(0, []stock.Role{stock.RoleStool}, each(EventPiece, 1500))
	add(0, []stock.Role{stock.RoleApron}, each(EventLength, 30), each(EventPiece, 360))
	add(0, []stock.Role{stock.RoleCrown}, each(EventLength, 120), each(EventPiece, 720), each(EventCope, 900), each(EventInsideMiter, 720),
		each(EventOutsideMiter, 720), each(EventScarf, 480), each(EventReturn, 720), each(EventStop, 180))
	add(0, []stock.Role{stock.RoleBed}, each(EventLength, 90), each(EventPiece, 480), each(EventCope, 720), each(EventInsideMiter, 600), each(EventOutsideMiter, 600))
	add(0, []stock.Role{stock.RoleFrieze, stock.RoleSoffit, stock.RoleBand}, each(EventLength, 48))
	add(0, []stock.Role{stock.RoleBacking, stock.RoleFillet}, each(EventLength, 27), each(EventPiece, 150))
	add(0, []stock.Role{stock.RoleExtension}, each(EventLength, 48), each(EventPiece, 480))
	add(0, []stock.Role{stock.RoleSkirt}, each(EventPiece, 3600), each(EventStep, 240), each(EventMiteredStep, 960))
}

// paneling adds the rates of install for paneling.
func (t *table) paneling() {
	add := func(roles []stock.Role, times ...pace) { t.of(finish.TaskInstall, carpenterAtSaw, 0, roles, times...) }
	add([]stock.Role{stock.RolePanelMold}, each(EventLength, 18), each(EventPiece, 150), each(EventFlatMiter, 120))
	add([]stock.Role{stock.RoleStile, stock.RoleRail}, each(EventLength, 48))
	add([]stock.Role{stock.RoleBatten}, each(EventLength, 30), each(EventPiece, 180))
	add([]stock.Role{stock.RolePanel}, each(EventLength, 24), each(EventPiece, 144), each(EventPanel, 600), each(EventArea, 240))
}

// finishing adds the rates of the tasks after nailing.
func (t *table) finishing() {
	const wide = 5 * measure.Inch
	add := func(task finish.Task, over measure.Length, times ...pace) {
		t.of(task, painterByBrush, over, nil, times...)
	}
	count := func(n int64) pace { return pace{EventCount, finish.Count(n), hour} }
	t.of(finish.TaskGlue, carpenterAtSaw, 0, nil, perHour(120))
	t.of(finish.TaskGlueJoints, carpenterAtSaw, 0, nil, count(60))
	add(finish.TaskFill, 0, count(200))
	add(finish.TaskSand, 0, perHour(150))
	add(finish.TaskSand, wide, perHour(110))
	add(finish.TaskCaulk, 0, perHour(180), each(EventJoint, 30))
	add(finish.TaskMask, 0, perHour(300))
	add(finish.TaskPrime, 0, perHour(80))
	add(finish.TaskPrime, wide, perHour(60))
	add(finish.TaskPaint, 0, perHour(65))
	add(finish.TaskPaint, wide, perHour(50))
	add(finish.TaskClean, 0, perHour(200))
	for _, task := range [...]finish.Task{finish.TaskPrime, finish.TaskPaint} {
		*t = append(*t, Rate{
			Task: task, Event: EventLength, Step: "spray on racks", Per: finish.AmountOf(250 * measure.Foot), Time: hour,
			Source: commonPractice, Date: era, Condition: "one painter, airless sprayer, sticks on racks before they are cut",
		})
	}
}

// flatBoards adds the rates of flat boards above a run of trim or a door, which a wide brush
// coats sooner than a molding of the same face: no profile to brush out, and no edge of its
// own along the wall.
func (t *table) flatBoards() {
	const wide = 8 * measure.Inch
	roles := []stock.Role{stock.RoleFrieze, stock.RoleSoffit, stock.RoleBand}
	add := func(task finish.Task, over measure.Length, feet int64) {
		t.of(task, painterByBrush, over, roles, perHour(feet))
	}
	add(finish.TaskSand, 0, 150)
	add(finish.TaskSand, wide, 110)
	add(finish.TaskPrime, 0, 90)
	add(finish.TaskPrime, wide, 70)
	add(finish.TaskPaint, 0, 75)
	add(finish.TaskPaint, wide, 60)
}

// course adds the rates of stone and tile.
func (t *table) course() {
	add := func(task finish.Task, times ...pace) { t.of(task, setterWet, 0, nil, times...) }
	add(finish.TaskSet, perHour(10), each(EventJoint, 300))
	add(finish.TaskGrout, perHour(40))
	add(finish.TaskBackerRod, perHour(120))
	add(finish.TaskSeal, perHour(120))
}

// around adds the rates of set-up and clean-up in each room.
func (t *table) around() {
	const overhead = 9*measure.Foot + 6*measure.Inch
	t.of(finish.TaskInstall, carpenterAtSaw, 0, nil, each(EventSetUp, 20*60), each(EventTestCorner, 3*60), each(EventCleanUp, 12*60))
	t.of(finish.TaskSet, setterWet, 0, nil, each(EventSetUp, 20*60), each(EventCleanUp, 20*60))
	t.of(finish.TaskPaint, painterByBrush, 0, nil, each(EventSetUp, 10*60), each(EventCleanUp, 10*60))
	for _, x := range [...]struct {
		task    finish.Task
		minutes measure.Duration
	}{{finish.TaskInstall, 45}, {finish.TaskPaint, 30}} {
		*t = append(*t, Rate{
			Task: x.task, Event: EventStaging, Above: overhead, Time: x.minutes * minute,
			Source: commonPractice, Date: era, Condition: "ceilings of 10 ft and more: planks or a rolling scaffold",
		})
	}
}

func defaultFactors() []Factor {
	const in, ft = measure.Inch, measure.Foot
	fitting := func() []finish.Task { return []finish.Task{finish.TaskInstall, finish.TaskSet} }
	fs := []Factor{
		{Name: "overhead", By: 120 * measure.Percent, Above: 9*ft + 6*in, Condition: "at ceilings of 10 ft, from planks"},
		{Name: "overhead", By: 140 * measure.Percent, Above: 11*ft + 6*in, Condition: "at ceilings of 12 ft, from a scaffold"},
		{Name: "small room", By: 140 * measure.Percent, Tasks: fitting(), Under: 60 * measure.SquareFoot, Condition: "closets and the like: no room to swing a stick"},
		{Name: "old plaster", By: 135 * measure.Percent, Tasks: fitting(), Condition: "walls out of flat and corners out of square"},
		{Name: "hardwood", By: 150 * measure.Percent, Tasks: []finish.Task{finish.TaskInstall}, Condition: "stain grade: predrilled, no filler in joints"},
		{Name: "occupied", By: 120 * measure.Percent, Condition: "people live or work there: furniture, hours, dust"},
		{Name: "second person", By: 120 * measure.Percent, Tasks: fitting(), Condition: "two hold long stock: each of them 60 % of the time of one"},
	}
	for i := range fs {
		fs[i].Source, fs[i].Date = commonPractice, era
	}
	return fs
}

func defaultSkills() []Skill {
	return []Skill{
		{Name: "carpenter", Tasks: []finish.Task{finish.TaskInstall, finish.TaskBrad, finish.TaskGlue, finish.TaskGlueJoints}},
		{Name: "painter", Tasks: []finish.Task{finish.TaskFill, finish.TaskSand, finish.TaskCaulk, finish.TaskMask, finish.TaskPrime, finish.TaskPaint}},
		{Name: "tile setter", Tasks: []finish.Task{finish.TaskSet, finish.TaskGrout, finish.TaskBackerRod, finish.TaskSeal}},
		{Name: "tile setter", Course: true, Tasks: []finish.Task{finish.TaskCaulk, finish.TaskClean}},
		{Name: "carpenter", People: 2, Tasks: []finish.Task{finish.TaskInstall}, Roles: []stock.Role{stock.RoleCrown}, Longer: 8 * measure.Foot},
	}
}
