package labor_test

import (
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// anyRoom draws a room with walls at any angles, doors and windows.
func anyRoom(t *rapid.T, name string) takeoff.Room {
	r := takeoff.Room{Name: name, Height: measure.Length(rapid.SampledFrom([]int{0, 96, 120, 144}).Draw(t, "height")) * in}
	for i := range rapid.IntRange(1, 6).Draw(t, "walls") {
		w := takeoff.Wall{Name: fmt.Sprint(i), Length: measure.Length(rapid.IntRange(16*24, 16*400).Draw(t, "length")) * in / 16}
		w.Corner.Kind = takeoff.CornerKind(rapid.IntRange(0, 4).Draw(t, "corner"))
		w.Corner.Angle = measure.Angle(rapid.SampledFrom([]int{0, 0, 0, 88, 135}).Draw(t, "angle")) * measure.Degree
		if w.Length > 70*in && rapid.Bool().Draw(t, "opening") {
			w.Openings = []takeoff.Opening{{Kind: takeoff.OpeningKind(rapid.IntRange(0, 3).Draw(t, "kind")), At: 14 * in, Width: 30 * in, Height: 40 * in, Sill: 30 * in}}
		}
		r.Walls = append(r.Walls, w)
	}
	return r
}

func anyScheme(t *rapid.T) takeoff.Scheme {
	s := takeoff.Scheme{
		Base: board("base", stock.RoleBase, in/2, 5*in), Casing: board("casing", stock.RoleCasing, 3*in/4, 5*in/2),
		Crown: board("crown", stock.RoleCrown, 9*in/16, 4*in), ChairRail: board("rail", stock.RoleChairRail, in/2, 2*in),
	}
	s.Base.Inside = stock.InsideJoint(rapid.IntRange(0, 2).Draw(t, "inside"))
	s.Crown.Lengths[0] = measure.Length(rapid.SampledFrom([]int{12, 16, 40}).Draw(t, "sticks")) * ft
	if rapid.Bool().Draw(t, "shoe") {
		s.Shoe = board("shoe", stock.RoleShoe, in/2, 3*in/4)
	}
	return s
}

// anyJob draws rooms that can be taken off, and their finishing by room.
func anyJob(t *rapid.T) (*takeoff.List, []takeoff.Room, []finish.StepResult, *labor.Options) {
	s := anyScheme(t)
	var rooms []takeoff.Room
	for i := range rapid.IntRange(0, 4).Draw(t, "rooms") {
		rooms = append(rooms, anyRoom(t, fmt.Sprint("room ", i)))
	}
	list, err := takeoff.Take(rooms, s, nil)
	if err != nil {
		t.Skip(err)
	}
	o := &labor.Options{Profiles: profilesOf(s)}
	return list, rooms, stepsOf(t, list.RoomTotals, o.Profiles), o
}

func stepsOf(t interface{ Fatal(...any) }, totals []takeoff.ProfileTotals, profiles []stock.Profile) []finish.StepResult {
	var work []finish.Work
	for _, total := range totals {
		k := slices.IndexFunc(profiles, func(p stock.Profile) bool { return p.Name == total.Profile })
		system := finish.PaintedTrim()
		if total.Role == stock.RoleCasing {
			system = finish.PaintedCasing()
		}
		work = append(work, finish.Work{Job: estimate.FinishJob(total, profiles[k]), System: system})
	}
	done, err := finish.NewList(work, shelf())
	if err != nil {
		t.Fatal(err)
	}
	return done.Steps
}

func mustLines(t interface{ Fatal(...any) }, list *takeoff.List, rooms []takeoff.Room, steps []finish.StepResult, r labor.Rates, o *labor.Options) []labor.Line {
	lines, err := labor.Lines(list, rooms, steps, r, o)
	if err != nil {
		t.Fatal(err)
	}
	return lines
}

// The duration of an event in the brute force: as many nanoseconds per tick of length as the rate
// states, so that every part is exact.
var slow = map[labor.Event]measure.Duration{
	labor.EventLength: 7 * 24_384_000, labor.EventPiece: 11, labor.EventCope: 101, labor.EventInsideMiter: 2 * 1009, labor.EventOutsideMiter: 2 * 10007,
	labor.EventFlatMiter: 2 * 100003, labor.EventScarf: 1000003, labor.EventReturn: 10000019, labor.EventButt: 2 * 100000007, labor.EventStop: 100000007,
	labor.EventScribedEnd: 1000000007, labor.EventSide: 31,
}

// The installation labor follows from the runs and the ends of their pieces, counted without any
// totals: two mitered ends meet, square ends that meet no fitted end are half a butt or a stop.
func TestInstallIsWhatRunsAndEndsSay(t *testing.T) {
	r := labor.Rates{Round: 1, Factors: []labor.Factor{}}
	for e, d := range slow {
		r.Table = append(r.Table, labor.Rate{Event: e, Time: d})
	}
	rapid.Check(t, func(t *rapid.T) {
		list, rooms, _, _ := anyJob(t)
		want := map[string]measure.Duration{}
		of := map[string]string{}
		for _, run := range list.Runs {
			key := run.Profile + ", " + run.Room
			of[run.Label] = key
			want[key] += measure.Duration(run.Net) * 7
			if run.Role == stock.RoleCasing && run.Slope == -90*measure.Degree {
				want[key] += slow[labor.EventSide]
			}
		}
		half := map[stock.EndKind]measure.Duration{
			stock.EndInsideMiter: slow[labor.EventInsideMiter] / 2, stock.EndOutsideMiter: slow[labor.EventOutsideMiter] / 2, stock.EndFlatMiter: slow[labor.EventFlatMiter] / 2,
			// Under a cope, or a butt in a corner, is another square end.
			stock.EndCope: slow[labor.EventCope] - slow[labor.EventStop], stock.EndButt: slow[labor.EventButt] - slow[labor.EventStop],
			stock.EndSquare: slow[labor.EventStop], stock.EndReturn: slow[labor.EventReturn], stock.EndScribe: slow[labor.EventScribedEnd],
			stock.EndScarfOver: slow[labor.EventScarf],
		}
		for _, p := range list.Pieces {
			key, ok := of[p.Run]
			if !ok {
				continue // it closes a return
			}
			want[key] += slow[labor.EventPiece]
			if p.Profile == "casing" { // its square ends stand on the floor
				half := half[stock.EndFlatMiter]
				for _, e := range []stock.End{p.Left, p.Right} {
					if e.Kind == stock.EndFlatMiter {
						want[key] += half
					}
				}
				continue
			}
			want[key] += half[p.Left.Kind] + half[p.Right.Kind]
		}
		got := map[string]measure.Duration{}
		for _, l := range mustLines(t, list, rooms, nil, r, nil) {
			if l.Role == stock.RoleCasing {
				for _, p := range l.Parts {
					if p.Event == labor.EventButt {
						l.Labor -= p.Time
					}
				}
			}
			got[l.Job] += l.Labor
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("got %v, want %v", got, want)
		}
	})
}

// A line's labor is the sum of its parts, each the rate times its quantity and the line's factor, and
// the factor is the product of the factors used, up to the cap.
func TestLinesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, rooms, steps, o := anyJob(t)
		r := labor.DefaultRates()
		r.Cap = measure.Ratio(rapid.IntRange(100, 400).Draw(t, "cap")) * measure.Percent
		r.Round = measure.Duration(rapid.SampledFrom([]int64{1, 1e9, 60e9}).Draw(t, "round"))
		for _, f := range r.Factors {
			if len(rooms) > 0 && rapid.Bool().Draw(t, f.Name) {
				k := labor.Condition{Factor: f.Name}
				if len(list.RoomTotals) > 0 && rapid.Bool().Draw(t, "in one room") {
					k.Room = list.RoomTotals[0].Room
				}
				o.Conditions = append(o.Conditions, k)
			}
		}
		lines := mustLines(t, list, rooms, steps, r, o)
		var sum measure.Duration
		for _, l := range lines {
			product := big(1)
			names := map[string]bool{}
			for _, f := range l.Factors {
				product = product * big(f.By) / big(100*measure.Percent)
				if names[f.Name] || r.Factors[f.Factor].By != f.By || r.Factors[f.Factor].Name != f.Name {
					t.Fatalf("%+v", l.Factors)
				}
				names[f.Name] = true
			}
			want := min(product, big(r.Cap)/big(100*measure.Percent))
			if got := big(l.Factor) / big(100*measure.Percent); math.Abs(got-want) > 1e-5 || l.Capped != (l.Factor == r.Cap && product > want+1e-9) {
				t.Fatalf("%+v", l)
			}
			if l.Kind != labor.KindWork && (l.Factor != 100*measure.Percent || l.Factors != nil) {
				t.Fatalf("a factor on %+v", l)
			}
			var parts measure.Duration
			for _, p := range l.Parts {
				rate := r.Table[p.Rate]
				plain, err := rate.For(p.Quantity)
				if err != nil || rate.Event != p.Event || rate.Task != l.Task || p.Time%r.Round != 0 {
					t.Fatalf("%+v: %v", p, err)
				}
				exact := big(plain) * big(l.Factor) / big(100*measure.Percent)
				if d := big(p.Time) - exact; d < -3 || d > big(r.Round)+3 {
					t.Fatalf("%+v: %v of work, by %v", p, plain, l.Factor)
				}
				parts += p.Time
			}
			if parts != l.Labor || l.People < 1 {
				t.Fatalf("%v of parts, %+v", parts, l)
			}
			sum += l.Labor
		}
		if total, err := labor.Total(lines); err != nil || total != sum {
			t.Fatalf("%v, %v, want %v", total, err, sum)
		}
	})
}

func big[T ~int64 | ~int](x T) float64 { return float64(x) }

// Every room, profile and step has one line, every room and task is set up once, before its work, and whatever
// the steps have is there.
func TestEveryStepHasALine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, rooms, steps, o := anyJob(t)
		lines := mustLines(t, list, rooms, steps, labor.Rates{}, o)
		type once struct {
			kind            labor.Kind
			room, job, step string
			task            finish.Task
		}
		seen := map[once]int{}
		for i, l := range lines {
			k := once{l.Kind, l.Room, l.Job, l.Step, l.Task}
			if _, twice := seen[k]; twice {
				t.Fatalf("two lines of %+v", k)
			}
			seen[k] = i
		}
		work := 0
		for _, s := range steps {
			k := slices.IndexFunc(list.RoomTotals, func(p takeoff.ProfileTotals) bool { return p.Profile+", "+p.Room == s.Job })
			i, ok := seen[once{labor.KindWork, list.RoomTotals[k].Room, s.Job, s.Step, s.Task}]
			if !ok || lines[i].Coats != s.Coats || lines[i].Dry != s.Dry {
				t.Fatalf("%+v has no line", s)
			}
			work++
			if before, ok := seen[once{labor.KindSetUp, list.RoomTotals[k].Room, "", "set-up", s.Task}]; ok != (s.Task == finish.TaskInstall || s.Task == finish.TaskPaint) || ok && before > i {
				t.Fatalf("%+v is set up at %d, done at %d", s, before, i)
			}
			if after, ok := seen[once{labor.KindCleanUp, list.RoomTotals[k].Room, "", "clean-up", s.Task}]; ok && after < i {
				t.Fatalf("%+v is cleaned up after at %d, done at %d", s, after, i)
			}
		}
		for _, l := range lines {
			if l.Kind == labor.KindWork {
				work--
			}
		}
		if work != 0 {
			t.Fatalf("%d steps too many", work)
		}
	})
}

// Permuting the rooms permutes the lines.
func TestPermutedRooms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScheme(t)
		var rooms []takeoff.Room
		for i := range rapid.IntRange(1, 4).Draw(t, "rooms") {
			rooms = append(rooms, anyRoom(t, fmt.Sprint("room ", i)))
		}
		of := func(rooms []takeoff.Room) []labor.Line {
			list, err := takeoff.Take(rooms, s, nil)
			if err != nil {
				t.Skip(err)
			}
			o := &labor.Options{Profiles: profilesOf(s), Conditions: []labor.Condition{{Factor: "old plaster", Room: list.RoomTotals[0].Room}}}
			o.Conditions[0].Room = ""
			return mustLines(t, list, rooms, stepsOf(t, list.RoomTotals, o.Profiles), labor.Rates{}, o)
		}
		lines := of(rooms)
		var want []labor.Line
		other := rapid.Permutation(rooms).Draw(t, "other order")
		for _, r := range other {
			for _, l := range lines {
				if l.Room == r.Name {
					want = append(want, l)
				}
			}
		}
		if got := of(other); !reflect.DeepEqual(got, want) {
			t.Fatalf("got %+v\nwant %+v", got, want)
		}
	})
}

// More of anything never takes less.
func TestMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, rooms, steps, o := anyJob(t)
		if len(list.RoomTotals) == 0 {
			return
		}
		was, err := labor.Total(mustLines(t, list, rooms, steps, labor.Rates{}, o))
		if err != nil {
			t.Fatal(err)
		}
		more := *list
		more.RoomTotals = slices.Clone(list.RoomTotals)
		x := reflect.ValueOf(&more.RoomTotals[rapid.IntRange(0, len(list.RoomTotals)-1).Draw(t, "which")]).Elem()
		n := rapid.Int64Range(0, 1000).Draw(t, "more")
		switch field := rapid.SampledFrom([]string{"Net", "Pieces", "Scribed", "Joints"}).Draw(t, "field"); field {
		case "Joints":
			j := x.FieldByName(field)
			k := rapid.IntRange(0, j.NumField()-1).Draw(t, "joint")
			j.Field(k).SetInt(j.Field(k).Int() + n)
			if j.Type().Field(k).Name == "Returns" { // with their little pieces
				x.FieldByName("Pieces").SetInt(x.FieldByName("Pieces").Int() + n)
			}
		case "Pieces":
			x.FieldByName(field).SetInt(x.FieldByName(field).Int() + n)
		default:
			x.FieldByName(field).SetInt(x.FieldByName(field).Int() + n*int64(in))
		}
		steps = slices.Clone(steps)
		s := &steps[rapid.IntRange(0, len(steps)-1).Draw(t, "step")]
		s.Length, s.Joints, s.Count = s.Length+measure.Length(n)*in, s.Joints+n, s.Count+n
		if now, err := labor.Total(mustLines(t, &more, rooms, steps, labor.Rates{}, o)); err != nil || now < was {
			t.Fatalf("%v for more work, %v for less, %v", now, was, err)
		}
	})
}

// A factor of 1 changes no time.
func TestFactorOfOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, rooms, steps, o := anyJob(t)
		r := labor.DefaultRates()
		was := mustLines(t, list, rooms, steps, r, o)
		r.Factors = append(r.Factors, labor.Factor{Name: "as usual", By: 100 * measure.Percent})
		o.Conditions = []labor.Condition{{Factor: "as usual"}}
		now := mustLines(t, list, rooms, steps, r, o)
		for i := range was {
			if was[i].Labor != now[i].Labor || was[i].Factor != now[i].Factor || !reflect.DeepEqual(was[i].Parts, now[i].Parts) {
				t.Fatalf("was %+v, is %+v", was[i], now[i])
			}
		}
	})
}

// A job on all rooms takes the sum of its rooms, if nothing depends on the room.
func TestAllRoomsAtOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list, rooms, _, o := anyJob(t)
		r := labor.Rates{Round: 1, Factors: []labor.Factor{}}
		for _, x := range labor.DefaultRates().Table {
			if x.Above == 0 && x.Event != labor.EventLength { // which is rounded to a nanosecond in each room
				r.Table = append(r.Table, x)
			}
		}
		install := func(totals []takeoff.ProfileTotals) (steps []finish.StepResult) {
			for _, s := range stepsOf(t, totals, o.Profiles) {
				if s.Task == finish.TaskInstall {
					steps = append(steps, s)
				}
			}
			return steps
		}
		apart, err1 := labor.Total(mustLines(t, list, rooms, install(list.RoomTotals), r, o))
		whole := mustLines(t, list, rooms, install(list.Totals), r, o)
		at, err2 := labor.Total(whole)
		if err1 != nil || err2 != nil || apart != at {
			t.Fatalf("%v room by room, %v at once, %v, %v", apart, at, err1, err2)
		}
		for _, l := range whole {
			if (l.Kind == labor.KindWork) != (l.Room == "") {
				t.Fatalf("%+v", l)
			}
		}
	})
}

// Nothing to do takes no time, but the room is set up for it.
func TestNothingToDo(t *testing.T) {
	list := &takeoff.List{RoomTotals: []takeoff.ProfileTotals{{Profile: "base", Room: "corridor"}}}
	lines := mustLines(t, list, nil, []finish.StepResult{{Job: "base, corridor", Step: "install"}, {Job: "base, corridor", Step: "paint", Task: finish.TaskPaint}}, labor.Rates{}, nil)
	for _, l := range lines {
		if (l.Labor == 0) != (l.Kind == labor.KindWork) {
			t.Errorf("%+v", l)
		}
	}
	if len(lines) != 6 {
		t.Errorf("%d lines", len(lines))
	}
	for _, steps := range [][]finish.StepResult{nil, {}} {
		for _, list := range []*takeoff.List{nil, {}} {
			if lines := mustLines(t, list, nil, steps, labor.Rates{}, nil); len(lines) != 0 {
				t.Errorf("%+v", lines)
			}
		}
	}
}

// No steps means installing all trim, stone in its bed.
func TestStepsOfNil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScheme(t)
		if rapid.Bool().Draw(t, "stone") {
			s.Base.Material = "limestone"
		}
		rooms := []takeoff.Room{anyRoom(t, "room")}
		list, err := takeoff.Take(rooms, s, nil)
		if err != nil {
			t.Skip(err)
		}
		var steps []finish.StepResult
		for _, total := range list.RoomTotals {
			x := finish.StepResult{Job: total.Profile + ", " + total.Room, Step: "install", Coats: 1, Joints: int64(total.Corners + total.Splices)}
			if total.Course {
				x.Task, x.Step = finish.TaskSet, "set"
			}
			steps = append(steps, x)
		}
		o := &labor.Options{Profiles: profilesOf(s)}
		if got, want := mustLines(t, list, rooms, nil, labor.Rates{}, o), mustLines(t, list, rooms, steps, labor.Rates{}, o); len(steps) > 0 && !reflect.DeepEqual(got, want) {
			t.Fatalf("got %+v\nwant %+v", got, want)
		}
	})
}

// Without a takeoff, each step is counted as it is, in a separate line.
func TestStepsAlone(t *testing.T) {
	steps := []finish.StepResult{{Job: "oak base", Step: "install", Length: 100 * ft, Joints: 10, Coats: 1}, {Job: "oak base", Step: "varnish", Task: finish.TaskPaint, Length: 200 * ft, Coats: 2}}
	lines := mustLines(t, nil, nil, steps, labor.Rates{}, &labor.Options{Conditions: []labor.Condition{{Factor: "hardwood", Profile: "oak base"}}})
	if len(lines) != 2 || lines[0].Labor != (100+10*10)*minute*3/2 || lines[1].Labor != 200*hour/65+second-200*hour/65%second || lines[1].Coats != 2 || lines[0].Profile != "oak base" || lines[0].Room != "" {
		t.Errorf("%+v", lines)
	}
}

// The rate that counts is the most particular one, found by trying all.
func TestFind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		few, one := rapid.IntRange(0, 2), rapid.IntRange(0, 1)
		var r labor.Rates
		r.Table = []labor.Rate{}
		for range rapid.IntRange(0, 8).Draw(t, "rates") {
			x := labor.Rate{Task: finish.Task(one.Draw(t, "task")), Event: labor.Event(one.Draw(t, "event")), Over: measure.Length(few.Draw(t, "over")), Above: measure.Length(few.Draw(t, "above"))}
			if n := few.Draw(t, "role"); n > 0 {
				x.Roles = []stock.Role{stock.Role(n)}
			}
			x.Step = rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "step")
			r.Table = append(r.Table, x)
		}
		task, e := finish.Task(one.Draw(t, "task")), labor.Event(one.Draw(t, "event"))
		of := labor.Trim{Role: stock.Role(few.Draw(t, "role")), Width: measure.Length(few.Draw(t, "width")), Height: measure.Length(few.Draw(t, "height")), Step: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "step")}
		score := func(x labor.Rate) (s int) {
			if x.Task != task || x.Event != e || x.Step != "" && x.Step != of.Step || x.Over > 0 && of.Width <= x.Over || of.Height < x.Above || len(x.Roles) > 0 && x.Roles[0] != of.Role {
				return -1
			}
			if x.Step != "" {
				s += 100
			}
			return s + 20*len(x.Roles) + 4*int(x.Over) + int(x.Above)
		}
		best := -1
		for i, x := range r.Table {
			if s := score(x); s >= 0 && (best < 0 || s > score(r.Table[best])) {
				best = i
			}
		}
		if got := r.Find(task, e, of); got != best {
			t.Fatalf("rate %d, want %d", got, best)
		}
		if r.Validate() != nil {
			return
		}
		// Lines finds the same.
		list := &takeoff.List{
			RoomTotals: []takeoff.ProfileTotals{{Profile: "trim", Room: "room", Role: of.Role, Net: ft}},
			Runs:       []stock.Run{{Profile: "trim", Room: "room", Bottom: of.Height}},
		}
		steps := []finish.StepResult{{Job: "trim, room", Task: task, Step: of.Step, Length: ft, Area: measure.SquareFoot}}
		o := &labor.Options{Profiles: []stock.Profile{{Name: "trim", Width: of.Width}}}
		for _, p := range mustLines(t, list, nil, steps, r, o)[0].Parts {
			if p.Event == e && p.Rate != best {
				t.Fatalf("rate %d, want %d", p.Rate, best)
			}
		}
	})
}

// Whatever the input, the output is lines or the errors of the library.
func TestAnyInput(t *testing.T) {
	wild := rapid.OneOf(rapid.Int64(), rapid.Int64Range(-2, 30), rapid.SampledFrom([]int64{math.MinInt64, math.MaxInt64, 1 << 62, 0, 1}))
	rapid.Check(t, func(t *rapid.T) {
		n := func() int64 { return wild.Draw(t, "n") }
		small := func() uint8 { return uint8(rapid.IntRange(0, 30).Draw(t, "small")) }
		name := func() string {
			return rapid.SampledFrom([]string{"", "base", "room", "base, room", "底", "hardwood"}).Draw(t, "name")
		}
		count := func() int { return int(n()) }
		list := &takeoff.List{}
		for range rapid.IntRange(0, 3).Draw(t, "totals") {
			p := takeoff.ProfileTotals{Profile: name(), Room: name(), Role: stock.Role(small()), Net: measure.Length(n()), Pieces: count(), Corners: count(), Splices: count(), Course: n() > 0}
			p.Joints = takeoff.Joints{Copes: count(), Returns: count(), Stops: count()}
			list.RoomTotals = append(list.RoomTotals, p)
			list.Runs = append(list.Runs, stock.Run{Profile: name(), Room: name(), Label: name(), Role: stock.Role(small()), Length: measure.Length(n()), Bottom: measure.Length(n()), Splices: []measure.Length{measure.Length(n())}})
			list.Panels = append(list.Panels, takeoff.Panel{Room: name(), Material: name(), Width: measure.Length(n()), Height: measure.Length(n())})
			list.Notches = append(list.Notches, takeoff.Notch{Run: name()})
			list.Curves = append(list.Curves, takeoff.CurvedTrim{Runs: []string{name()}})
		}
		list.Totals = slices.Clone(list.RoomTotals)
		rooms := []takeoff.Room{{Name: name(), Height: measure.Length(n()), Walls: []takeoff.Wall{{Length: measure.Length(n()), HeightLeft: measure.Length(n()), Stair: &takeoff.Stair{Skirts: count()}}}}}
		rooms[0].Walls[0].Stair.Flight.Risers = count()
		var steps []finish.StepResult
		for range rapid.IntRange(0, 3).Draw(t, "steps") {
			steps = append(steps, finish.StepResult{Job: name(), Step: name(), Task: finish.Task(small()), Length: measure.Length(n()), Area: measure.Area(n()), Count: n(), Joints: n()})
		}
		r := labor.Rates{Cap: measure.Ratio(n()), Round: measure.Duration(n())}
		if rapid.Bool().Draw(t, "usual") {
			r = labor.DefaultRates()
		}
		for range rapid.IntRange(0, 2).Draw(t, "rates") {
			r.Table = append(r.Table, labor.Rate{Task: finish.Task(small()), Event: labor.Event(small()), Roles: []stock.Role{stock.Role(small())}, Over: measure.Length(n()), Above: measure.Length(n()), Per: finish.Count(n()), Time: measure.Duration(n())})
			r.Factors = append(r.Factors, labor.Factor{Name: name(), By: measure.Ratio(n()), Above: measure.Length(n()), Under: measure.Area(n()), Tasks: []finish.Task{finish.Task(small())}})
			r.Skills = append(r.Skills, labor.Skill{Longer: measure.Length(n()), People: n(), Roles: []stock.Role{stock.Role(small())}})
		}
		o := &labor.Options{Conditions: []labor.Condition{{Factor: name(), Room: name(), Profile: name()}}, MiteredSkirts: []string{name()}, Profiles: []stock.Profile{{Name: name(), Width: measure.Length(n())}}}
		if rapid.Bool().Draw(t, "plain") {
			o = nil
		}
		lines, err := labor.Lines(list, rooms, steps, r, o)
		var field *measure.FieldError
		var over *measure.RangeError
		if err != nil && !errors.As(err, &field) && !errors.As(err, &over) || err != nil && lines != nil {
			t.Fatalf("%T %v", err, err)
		}
		work := 0
		for _, l := range lines {
			if l.Labor < 0 || l.Factor <= 0 {
				t.Fatalf("%+v", l)
			}
			if l.Kind == labor.KindWork && l.Step != "panels" {
				work++
			}
		}
		if err == nil && steps != nil && work != len(steps) {
			t.Fatalf("%d lines of %d steps", work, len(steps))
		}
		if err == nil {
			if err := labor.WriteText(io.Discard, lines, r, measure.Locale{Metric: true}); err != nil && !errors.As(err, &over) {
				t.Fatal(err)
			}
		}
		crew := labor.Crew{People: n(), Delay: measure.Ratio(n()), Availability: measure.Ratio(n()), Productive: measure.Ratio(n())}
		if took, err := crew.Time(measure.Duration(n())); err == nil && (took.Labor < 0 || took.Working < 0 || took.Days < 0) {
			t.Fatalf("%+v", took)
		}
	})
}
