package tearout_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
)

func ids(p *tearout.Plan) (all []string) {
	for _, s := range p.Steps {
		all = append(all, s.ID)
	}
	return all
}

// A covered job: notice first, then in each room containment before anything is touched, and no
// containment is taken down before the room has passed.
func TestStepsAreInTheOrderOfWork(t *testing.T) {
	room := classroom()
	room.Suspects = []tearout.Suspect{{Kind: tearout.SuspectMastic}}
	base := tearout.Part{Room: "classroom", Profile: "old base", Length: 12 * ft, Count: 2, Width: 5 * in, Thickness: in, Method: tearout.MethodSalvage, Scored: 1}
	shoe := tearout.Part{Room: "classroom", Length: 12 * ft, Count: 2, Width: in, Thickness: in / 2}
	bare := tearout.Part{Room: "attic", Length: 12 * ft, Width: in, Thickness: in / 2, Bare: true}
	job := tearout.Job{Building: old, Rooms: []tearout.Room{room, {Name: "corridor"}, {Name: "attic"}}, Parts: []tearout.Part{base, shoe, bare}}
	p := plan(t, job)
	want := []string{
		"hand over the pamphlet",
		"wait for the test, classroom", "contain, classroom", "score, classroom", "break off, classroom", "pry off, classroom",
		"pull nails, classroom", "bag, classroom", "clean, classroom", "inspect, classroom", "verify, classroom", "take down, classroom",
		"break off, attic", "bag, attic", "vacuum, attic",
	}
	if got := ids(p); !slices.Equal(got, want) {
		t.Fatalf("steps %q\nwant  %q", got, want)
	}
	for i, s := range p.Steps {
		after := want[max(i-1, 0):max(i, 0)]
		if s.ID == "break off, attic" {
			after = want[:1]
		}
		if !slices.Equal(s.After, after) {
			t.Errorf("%s waits for %q, want %q", s.ID, s.After, after)
		}
		if s.Text == "" || s.Source == "" {
			t.Errorf("%s has no text or no source", s.ID)
		}
		if covered := s.Room == "classroom" && s.Task != tearout.TaskTest || s.Task == tearout.TaskNotify; (s.Skill == tearout.SkillRenovator) != covered {
			t.Errorf("%s: skill %q", s.ID, s.Skill)
		}
		if hold := s.Task == tearout.TaskNotify || s.Task == tearout.TaskTest; s.Hold != hold {
			t.Errorf("%s: hold %v", s.ID, s.Hold)
		}
		if s.Task == tearout.TaskTest && (s.Wait == 0 || s.Labor != 0) {
			t.Errorf("laboratory test: %v of labor, then %v", s.Labor, s.Wait)
		}
	}
	if r := p.Rooms[1]; r != (tearout.RoomResult{Room: "corridor"}) {
		t.Errorf("a room without trim to remove: %+v", r)
	}
	job.Rooms[0].Suspects[0].Free = true
	if slices.Contains(ids(plan(t, job)), "wait for the test, classroom") {
		t.Error("waits for a test that is already done")
	}
	job.Clearance = true
	if got := ids(plan(t, job)); !slices.Contains(got, "clear, classroom") || slices.Contains(got, "verify, classroom") {
		t.Errorf("clearance by a laboratory: %q", got)
	}
}

// If the rule does not require it, dust is contained only if the job says so, and then only if there is
// paint.
func TestLeadSafeByChoice(t *testing.T) {
	room := classroom()
	part := tearout.Part{Room: "classroom", Length: 12 * ft, Width: 5 * in, Thickness: in}
	job := tearout.Job{Building: finish.Building{Year: 1926, Occupancy: finish.OccupancyOther}, Rooms: []tearout.Room{room}, Parts: []tearout.Part{part}}
	if p := plan(t, job); p.Rooms[0].Contained || p.Gate.Verdict != finish.VerdictOtherUse || len(p.Needs) > 0 {
		t.Errorf("a workshop: %+v, %v", p.Rooms[0], p.Needs)
	}
	job.LeadSafe = true
	p := plan(t, job)
	if !p.Rooms[0].Contained || p.Rooms[0].Covered || slices.Contains(ids(p), "hand over the pamphlet") {
		t.Errorf("contained by choice: %+v, %q", p.Rooms[0], ids(p))
	}
	job.Parts[0].Bare = true
	if p := plan(t, job); p.Rooms[0].Contained {
		t.Error("contains the dust of wood that was never painted")
	}
}

// Assisted housing that the rule covers is cleared by a laboratory (24 CFR 35.1340, from memory).
func TestAssistedHousingIsCleared(t *testing.T) {
	job := tearout.Job{Building: finish.Building{Year: 1926, Assisted: true}, Rooms: []tearout.Room{classroom()}, Parts: []tearout.Part{
		{Room: "classroom", Length: 12 * ft, Width: 5 * in, Thickness: in, Method: tearout.MethodPry},
	}}
	if got := ids(plan(t, job)); !slices.Contains(got, "clear, classroom") {
		t.Errorf("%q", got)
	}
}

// A caution must come before the injury: it is with the step that it concerns, and every list of
// cautions ends with the one that defers to the law.
func TestCautionsStandBeforeTheirWork(t *testing.T) {
	room := classroom()
	room.Suspects = []tearout.Suspect{{Kind: tearout.SuspectPlaster, Free: true}, {Kind: tearout.SuspectMastic}}
	part := tearout.Part{Room: "classroom", Profile: "old base", Length: 12 * ft, Width: 5 * in, Thickness: in, Method: tearout.MethodSalvage, Scored: 1}
	p := plan(t, tearout.Job{Building: old, Rooms: []tearout.Room{room}, Parts: []tearout.Part{part}})
	want := map[tearout.Task][]string{
		tearout.TaskNotify:  {"certified firm", "States may be stricter"},
		tearout.TaskTest:    {"accredited laboratory", "states may be stricter"},
		tearout.TaskContain: {"Over the limit", "lead-safe practice"},
		tearout.TaskScore:   {"power sanding", "respirators"},
		tearout.TaskPry:     {"accredited laboratory", "Plaster and mortar hold silica", "Pull nails", "wiring"},
		tearout.TaskDenail:  {"Saved trim keeps its old paint", "eye protection"},
		tearout.TaskBag:     {"walkways", "household waste"},
		tearout.TaskClean:   {"respirators"},
	}
	for _, s := range p.Steps {
		text := ""
		for _, c := range s.Cautions {
			if c.Trigger == "" || c.Text == "" || c.Source == "" || c.Topic == "" {
				t.Errorf("%s: %+v", s.ID, c)
			}
			text += c.Text + "\n"
			if !slices.Contains(p.Cautions, c) {
				t.Errorf("%s: a caution that the plan does not list: %s", s.ID, c.Text)
			}
		}
		for _, w := range want[s.Task] {
			if !strings.Contains(text, w) {
				t.Errorf("%s: no caution contains %q:\n%s", s.ID, w, text)
			}
		}
		delete(want, s.Task)
		general := 0
		for _, c := range s.Cautions {
			if c.Topic == finish.HazardGeneral {
				general++
			}
			opens := s.Task == tearout.TaskBreak || s.Task == tearout.TaskPry
			if !opens && (c.Topic == finish.HazardSilica || c.Topic == finish.HazardAsbestos && s.Task != tearout.TaskTest) {
				t.Errorf("%s does not involve %v", s.ID, c.Topic)
			}
		}
		if len(s.Cautions) > 0 && general != 1 {
			t.Errorf("%s defers to local codes %d times", s.ID, general)
		}
		if n := len(s.Cautions); n > 0 && s.Cautions[n-1].Topic != finish.HazardGeneral {
			t.Errorf("%s: the last caution is %v", s.ID, s.Cautions[n-1].Topic)
		}
	}
	if len(want) > 0 {
		t.Errorf("no step for %v", want)
	}
	for i, c := range p.Cautions {
		if slices.Contains(p.Cautions[:i], c) {
			t.Errorf("twice: %s", c.Text)
		}
	}
	if p.Cautions[len(p.Cautions)-1].Topic != finish.HazardGeneral {
		t.Error("the last caution of the plan does not defer to local codes")
	}
}

// In a house from 1981 or later nothing is presumed; the suspects of the job still get cautions.
func TestAsbestosIsPresumedBefore1981(t *testing.T) {
	for _, c := range []struct {
		year     int
		suspects []tearout.Suspect
		want     bool
	}{{0, nil, true}, {1980, nil, true}, {1981, nil, false}, {1981, []tearout.Suspect{{Kind: tearout.SuspectFloorTile}}, true}, {1981, []tearout.Suspect{{Kind: tearout.SuspectPipeWrap, Free: true}}, true}} {
		room := classroom()
		room.Suspects = c.suspects
		p := plan(t, tearout.Job{Building: finish.Building{Year: c.year}, Rooms: []tearout.Room{room}, Parts: []tearout.Part{{Room: "classroom", Length: ft, Width: in, Thickness: in, Bare: true}}})
		got := slices.ContainsFunc(p.Cautions, func(c finish.Caution) bool { return c.Topic == finish.HazardAsbestos })
		if got != c.want {
			t.Errorf("%d, %v: warned %v, want %v", c.year, c.suspects, got, c.want)
		}
	}
}

// Both faces of a door's casing lie in two rooms, each with its own 6 square feet.
func TestDoorStandsInTwoRooms(t *testing.T) {
	casing := tearout.Part{Label: "casing", Width: 9 * in / 4, Thickness: 11 * in / 16, Girth: 9 * in / 4, Method: tearout.MethodPry}
	parts, err := tearout.DoorCasing(casing, 36*in, 80*in, "classroom", "corridor")
	if err != nil || len(parts) != 4 {
		t.Fatalf("%+v, %v", parts, err)
	}
	corridor := classroom()
	corridor.Name = "corridor"
	p := plan(t, tearout.Job{Building: old, Rooms: []tearout.Room{classroom(), corridor}, Parts: parts})
	// Two legs of 82 1/4 in and a head of 40 1/2: 205 in by 2 1/4.
	for _, r := range p.Gate.Rooms {
		if want := measure.Area(205*9) * measure.SquareInch / 4; r.Removed != want {
			t.Errorf("%s: %v, want %v", r.Room, r.Removed, want)
		}
	}
	if p.Gate.Verdict != finish.VerdictMinorRepair {
		t.Errorf("one door: %v", p.Gate.Verdict)
	}
	more, _ := tearout.DoorCasing(casing, 36*in, 80*in, "corridor")
	p = plan(t, tearout.Job{Building: old, Rooms: []tearout.Room{classroom(), corridor}, Parts: append(parts, more...)})
	if p.Gate.Covers("classroom") || !p.Gate.Covers("corridor") {
		t.Errorf("two doors into the corridor, one into the classroom: covered %v", p.Gate.Covered)
	}
}

// Purchases add up over the rooms: floor, doors and ducts; edges; bags; signs; cloths.
func TestNeeds(t *testing.T) {
	p := plan(t, tearout.Job{Building: old, Rooms: []tearout.Room{classroom()}, Parts: []tearout.Part{
		{Room: "classroom", Length: 30 * ft, Count: 2, Width: 5 * in, Thickness: in / 2}, {Room: "classroom", Length: 20 * ft, Count: 2, Width: 5 * in, Thickness: in / 2},
	}})
	want := map[string]finish.Amount{
		"plastic sheeting": finish.AmountOf((456 + 2*32 + 2*4) * measure.SquareFoot),
		"sheeting tape":    finish.AmountOf((100 + 2*(18+8) + 2*24) * ft),
		"heavy-duty bags":  finish.Count(1 + 1), // 42.5 lb of pine are 3.8 cubic feet loose; and the plastic
		"warning signs":    finish.Count(2),
		"wet cloths":       finish.Count(12 + 4),
	}
	for _, n := range p.Needs {
		if n.Net != want[n.Material] {
			t.Errorf("%s: %v, want %v", n.Material, n.Net, want[n.Material])
		}
		if gross, err := n.Waste.Apply(n.Net); err != nil || n.Gross != gross || len(n.Reasoning) == 0 {
			t.Errorf("%+v, %v", n, err)
		}
		delete(want, n.Material)
	}
	if len(want) > 0 {
		t.Errorf("nothing to buy of %v", want)
	}
}

// Removal from a ladder has the caution for ladders, and dust that for respirators.
func TestHighTrimIsTakenOffFromALadder(t *testing.T) {
	crown := tearout.Part{Room: "classroom", Length: 12 * ft, Width: 3 * in, Thickness: in, Bare: true, High: true}
	for _, high := range []bool{true, false} {
		crown.High, crown.Bare = high, high
		p := plan(t, tearout.Job{Building: finish.Building{Year: 1990}, Rooms: []tearout.Room{classroom()}, Parts: []tearout.Part{crown}})
		has := func(h finish.Hazard) bool {
			return slices.ContainsFunc(p.Steps[0].Cautions, func(c finish.Caution) bool { return c.Topic == h })
		}
		if has(finish.HazardLadders) != high || has(finish.HazardScaffold) != high || has(finish.HazardRespirators) == high {
			t.Errorf("high and bare %v: ladders %v, scaffold %v, respirators %v", high, has(finish.HazardLadders), has(finish.HazardScaffold), has(finish.HazardRespirators))
		}
	}
}

// An omitted field has the value in its comment.
func TestWhatIsLeftOut(t *testing.T) {
	base := tearout.Part{Room: "r", Length: 12 * ft, Width: 5 * in, Thickness: in / 2, Method: tearout.MethodPry}
	job := tearout.Job{Building: old, Rooms: []tearout.Room{{Name: "r", Length: 10 * ft, Width: 10 * ft}}, Parts: []tearout.Part{base}}
	p := plan(t, job)
	if got := p.Gate.Rooms[0].Removed; got != 6*measure.SquareFoot { // face and both edges, 6 in
		t.Errorf("painted surface %v, want 6 sq ft", got)
	}
	if slices.ContainsFunc(p.Cautions, func(c finish.Caution) bool { return c.Topic == finish.HazardSilica }) {
		t.Error("a caution about plaster in a room without plaster")
	}
	job.Parts[0].Count = 1
	if one := plan(t, job); one.Labor != p.Labor || one.Debris != p.Debris {
		t.Errorf("a count of 1 differs from a count of 0: %v, %v", one.Labor, p.Labor)
	}
	job.Parts[0].Count, job.Parts[0].Scored = 2, 1
	once := plan(t, job)
	job.Parts[0].Scored = 2
	twice := plan(t, job)
	score := func(p *tearout.Plan) measure.Duration {
		return p.Steps[slices.IndexFunc(p.Steps, func(s tearout.Step) bool { return s.Task == tearout.TaskScore })].Labor
	}
	if d := score(twice) - 2*score(once); d > 0 || d < -1_000_000_000 {
		t.Errorf("two edges scored in %v, one in %v", score(twice), score(once))
	}
	for _, n := range once.Needs {
		if n.Material == "warning signs" && n.Net != finish.Count(1) {
			t.Errorf("a room without doors has %v", n.Net)
		}
	}
	// A task without a rate takes no time, and the plan says so.
	job.Rules.Rates = []tearout.Rate{}
	for _, s := range plan(t, job).Steps {
		if s.Labor != 0 || s.Rate != -1 || s.Wait != 0 {
			t.Errorf("%s: %v at rate %d", s.ID, s.Labor, s.Rate)
		}
	}
	// Zeros that mean zero, and limits that are reached.
	job.Rules = tearout.Rules{
		Containment: tearout.Containment{Reach: 1 << 20 * ft, Cloth: measure.SquareFoot},
		Woods:       []tearout.Wood{{Name: "balsa", Gravity: 1000 * measure.Percent, Moisture: 1000 * measure.Percent}},
		Disposal:    tearout.Disposal{Loose: measure.Pound, Bag: measure.Gallon, Box: measure.CubicFoot},
		Salvage:     tearout.Salvage{Yield: 100 * measure.Percent},
	}
	job.Parts[0].Method, job.Parts[0].Profile, job.Parts[0].Length = tearout.MethodSalvage, "base", 1<<20*ft
	p = plan(t, job)
	if len(p.Salvage) != 1 || p.Salvage[0].Length != 1<<20*ft || p.Salvage[0].Count != 2 || p.Debris.Weight != 0 {
		t.Errorf("all trim is saved: %+v, %v", p.Salvage, p.Debris.Weight)
	}
	if p.Rooms[0].Sheet != 100*measure.SquareFoot || len(p.Needs) != 3 {
		t.Errorf("%v of plastic, %+v", p.Rooms[0].Sheet, p.Needs)
	}
	job.Rules.Woods[0].Moisture = 0
	plan(t, job)
	job.Rules.Containment.Reach, job.Rules.Disposal.Bag = 0, 0
	_, err := tearout.New(job)
	if err == nil || !strings.Contains(err.Error(), "containment.reach") || !strings.Contains(err.Error(), "disposal.bag") {
		t.Errorf("neither reach nor bag: %v", err)
	}
}
