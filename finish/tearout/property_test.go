package tearout_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/big"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/tearout"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

func drawJob(t *rapid.T) tearout.Job {
	job := tearout.Job{
		Building: finish.Building{
			Year: rapid.SampledFrom([]int{0, 1926, 1990}).Draw(t, "year"), Occupancy: finish.Occupancy(rapid.IntRange(0, 3).Draw(t, "occupancy")),
			Unpaid: rapid.IntRange(0, 5).Draw(t, "unpaid") == 0,
		},
		LeadSafe:  rapid.Bool().Draw(t, "lead safe"),
		Clearance: rapid.Bool().Draw(t, "clearance"),
		Rack:      stock.Rack{Keep: measure.Length(rapid.Int64Range(0, 48).Draw(t, "keep")) * in},
	}
	names := []string{"classroom", "cloakroom", "corridor"}[:rapid.IntRange(1, 3).Draw(t, "rooms")]
	for _, n := range names {
		job.Rooms = append(job.Rooms, tearout.Room{
			Name: n, Length: measure.Length(rapid.Int64Range(1, 40).Draw(t, "length")) * ft, Width: measure.Length(rapid.Int64Range(1, 40).Draw(t, "width")) * ft,
			Doors: rapid.Int64Range(0, 3).Draw(t, "doors"), Ducts: rapid.Int64Range(0, 3).Draw(t, "ducts"), Sills: rapid.Int64Range(0, 3).Draw(t, "sills"),
		})
	}
	for range rapid.IntRange(0, 5).Draw(t, "parts") {
		job.Parts = append(job.Parts, drawPart(t, names))
	}
	return job
}

func drawPart(t *rapid.T, rooms []string) tearout.Part {
	return tearout.Part{
		Room: rapid.SampledFrom(rooms).Draw(t, "room"), Profile: rapid.SampledFrom([]string{"base", "casing"}).Draw(t, "profile"),
		Material: rapid.SampledFrom([]string{"", "pine", "red oak"}).Draw(t, "material"),
		Length:   measure.Length(rapid.Int64Range(1, 400).Draw(t, "inches")) * in / 2, Count: rapid.Int64Range(0, 5).Draw(t, "count"),
		Thickness: measure.Length(rapid.Int64Range(1, 16).Draw(t, "thickness")) * in / 16, Width: measure.Length(rapid.Int64Range(1, 120).Draw(t, "width")) * in / 16,
		Girth: measure.Length(rapid.Int64Range(0, 120).Draw(t, "girth")) * in / 16, Bare: rapid.IntRange(0, 4).Draw(t, "bare") == 0,
		Method: tearout.Method(rapid.IntRange(0, 2).Draw(t, "method")), Scored: rapid.Int64Range(0, 2).Draw(t, "scored"),
		Window: rapid.IntRange(0, 9).Draw(t, "window") == 0, Practice: finish.Practice(rapid.IntRange(0, 2).Draw(t, "practice")),
		Test: finish.LeadTest(rapid.IntRange(0, 2).Draw(t, "test")), Day: rapid.Int64Range(0, 60).Draw(t, "day"),
	}
}

// Whatever is removed is debris or on the rack; rooms add up to the job; steps wait for earlier steps;
// containment is taken down again.
func TestPlanAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		p, err := tearout.New(job)
		if err != nil {
			t.Fatal(err)
		}
		// In cubic ticks of length, exactly.
		off := new(big.Int)
		cubic := func(n int64, l, w, th measure.Length) *big.Int {
			v := big.NewInt(n)
			for _, x := range []measure.Length{l, w, th} {
				v.Mul(v, big.NewInt(int64(x)))
			}
			return v
		}
		pieces := map[string]int64{}
		for _, x := range job.Parts {
			off.Add(off, cubic(max(x.Count, 1), x.Length, x.Width, x.Thickness))
			if x.Method == tearout.MethodSalvage {
				pieces[x.Profile+"|"+x.Material] += max(x.Count, 1)
			}
		}
		var sum tearout.Debris
		var saved measure.Volume
		var labor measure.Duration
		for _, r := range p.Rooms {
			sum.Solid += r.Debris.Solid
			sum.Loose += r.Debris.Loose
			sum.Weight += r.Debris.Weight
			sum.Bags += r.Debris.Bags
			saved += r.Saved
			labor += r.Labor
		}
		if sum != p.Debris || labor != p.Labor {
			t.Fatalf("rooms add up to %+v and %v, the job is %+v and %v", sum, labor, p.Debris, p.Labor)
		}
		all, _ := new(big.Float).SetInt(off).Float64()
		if got := (sum.Solid + saved).CubicInches() * math.Pow(float64(in), 3); math.Abs(got-all) > all*1e-9+1 {
			t.Fatalf("debris and rack have %v, the removed trim %v", got, all)
		}
		onRack := map[string]int64{}
		for _, o := range p.Salvage {
			onRack[o.Profile+"|"+o.Material] += int64(o.Count)
			if o.Length < job.Rack.Keep || o.Length <= 0 {
				t.Fatalf("%v is not worth keeping", o.Length)
			}
		}
		for k, n := range onRack {
			if n > pieces[k]*3/4 {
				t.Fatalf("%d of %d pieces of %s are saved", n, pieces[k], k)
			}
		}
		at := map[string]int{}
		total := measure.Duration(0)
		for i, s := range p.Steps {
			if _, twice := at[s.ID]; twice {
				t.Fatalf("two steps %q", s.ID)
			}
			for _, id := range s.After {
				if k, ok := at[id]; !ok || k >= i {
					t.Fatalf("%s waits for %s", s.ID, id)
				}
			}
			at[s.ID] = i
			total += s.Labor
			if s.Labor%1_000_000_000 != 0 || s.Labor < 0 {
				t.Fatalf("%s: %v", s.ID, s.Labor)
			}
		}
		if total < labor {
			t.Fatalf("steps take %v, rooms %v", total, labor)
		}
		for _, r := range p.Rooms {
			_, held := at["contain, "+r.Room]
			_, down := at["take down, "+r.Room]
			if held != r.Contained || down != r.Contained || r.Covered && !r.Contained {
				t.Fatalf("%+v: held %v, taken down %v", r, held, down)
			}
		}
	})
}

// The gate is monotone, and so is the effort of containment: another part, another piece or more girth
// never makes a room minor or the painted surface, the plastic, the labor or the debris of a job less.
// (Saved parts may be less debris: nothing is salvaged here.)
func TestMoreIsNeverLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		names := make([]string, len(job.Rooms))
		for i, r := range job.Rooms {
			names[i] = r.Name
		}
		for i := range job.Parts {
			job.Parts[i].Method %= 2
			job.Parts[i].Girth += in / 16
		}
		more := job
		more.Parts = slices.Clone(job.Parts)
		if k := rapid.IntRange(0, len(job.Parts)).Draw(t, "which"); k == len(job.Parts) {
			x := drawPart(t, names)
			x.Method %= 2
			more.Parts = append(more.Parts, x)
		} else if rapid.Bool().Draw(t, "girth") {
			more.Parts[k].Girth += measure.Length(rapid.Int64Range(0, 40).Draw(t, "more")) * in
		} else {
			more.Parts[k].Count = max(1, more.Parts[k].Count) + rapid.Int64Range(0, 20).Draw(t, "more")
		}
		a, err := tearout.New(job)
		if err != nil {
			t.Fatal(err)
		}
		b, err := tearout.New(more)
		if err != nil {
			t.Fatal(err)
		}
		for _, room := range a.Gate.Covered {
			if !b.Gate.Covers(room) {
				t.Fatalf("%s is covered with less trim removed, but not with more", room)
			}
		}
		for i := range a.Gate.Rooms {
			k := slices.IndexFunc(b.Gate.Rooms, func(r finish.LeadRoom) bool { return r.Room == a.Gate.Rooms[i].Room })
			if b.Gate.Rooms[k].Removed < a.Gate.Rooms[i].Removed {
				t.Fatalf("less painted surface for more trim: %+v, %+v", a.Gate.Rooms[i], b.Gate.Rooms[k])
			}
		}
		for i, r := range a.Rooms {
			if m := b.Rooms[i]; m.Sheet < r.Sheet || m.Cloths < r.Cloths || m.Debris.Weight < r.Debris.Weight || m.Debris.Bags < r.Debris.Bags ||
				m.Labor < r.Labor && m.Contained == r.Contained {
				t.Fatalf("less of more:\n%+v\n%+v", r, m)
			}
		}
	})
}

// The same job gives the same plan, and the job is not modified. JSON reads back the same.
func TestPlanIsData(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		before, err := json.Marshal(job)
		if err != nil {
			t.Fatal(err)
		}
		p, err := tearout.New(job)
		if err != nil {
			t.Fatal(err)
		}
		var read tearout.Job
		if err := measure.UnmarshalStrict(before, &read); err != nil {
			t.Fatalf("%v\n%s", err, before)
		}
		again, err := tearout.New(read)
		if err != nil || !reflect.DeepEqual(p, again) {
			t.Fatalf("a different plan for the same job: %v", err)
		}
		if after, _ := json.Marshal(job); string(after) != string(before) {
			t.Fatal("the job was changed")
		}
		data, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		var back tearout.Plan
		if err := measure.UnmarshalStrict(data, &back); err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		if out, _ := json.Marshal(back); string(out) != string(data) {
			t.Fatalf("written\n%s\nread\n%s", data, out)
		}
	})
}

var anyInt = rapid.OneOf(
	rapid.SampledFrom([]int64{0, 1, -1, 2, math.MaxInt64, math.MinInt64, math.MaxInt64 - 1, math.MaxInt32, 1 << 44}),
	rapid.Int64(), rapid.Int64Range(0, 1<<32))

// Numbers of any size and sign, kinds that do not exist: a sound plan or a typed error.
func TestAnyInput(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := func() int64 {
			if rapid.IntRange(0, 3).Draw(t, "sane") > 0 {
				return rapid.Int64Range(1, 1000).Draw(t, "n")
			}
			return anyInt.Draw(t, "any")
		}
		l := func() measure.Length { return measure.Length(n()) }
		k := func(names int) uint8 {
			if rapid.IntRange(0, 20).Draw(t, "known") == 0 {
				return 99
			}
			return uint8(rapid.IntRange(0, names-1).Draw(t, "kind"))
		}
		name := func() string { return rapid.SampledFrom([]string{"", "r", "r", "r", "教室"}).Draw(t, "name") }
		job := tearout.Job{
			Building: finish.Building{Year: int(int32(n())), Occupancy: finish.Occupancy(k(4)), Assisted: n()%2 == 0},
			Rooms:    []tearout.Room{{Name: name(), Length: l(), Width: l(), Doors: n(), Ducts: n(), Sills: n(), Suspects: []tearout.Suspect{{Kind: tearout.SuspectKind(k(4))}}}},
			LeadSafe: n()%2 == 0,
		}
		for range rapid.IntRange(0, 3).Draw(t, "parts") {
			job.Parts = append(job.Parts, tearout.Part{Room: name(), Profile: name(), Length: l(), Count: n(), Thickness: l(), Width: l(), Section: measure.Area(n()),
				Girth: l(), Method: tearout.Method(k(3)), Scored: n(), Practice: finish.Practice(k(6)), Test: finish.LeadTest(k(3)), Day: n()})
		}
		if n()%2 == 0 {
			job.Rules = tearout.Rules{
				Lead:        finish.LeadRule{Before: int(int32(n())), RoomLimit: measure.Area(n()), OutsideLimit: measure.Area(n()), AssistedLimit: measure.Area(n()), Days: n()},
				Containment: tearout.Containment{Reach: l(), Cloth: measure.Area(n()), Door: measure.Area(n()), Duct: measure.Area(n()), Taped: l(), Laps: finish.Waste{Share: measure.Ratio(n())}, Signs: n()},
				Rates:       []tearout.Rate{{Task: tearout.Task(k(14)), Time: measure.Duration(n()), Per: l(), Wait: measure.Duration(n())}},
				Woods:       []tearout.Wood{{Name: name(), Gravity: measure.Ratio(n()), Moisture: measure.Ratio(n())}},
				Disposal:    tearout.Disposal{Loose: measure.Weight(n()), Bag: measure.Volume(n()), Box: measure.Volume(n()), Lining: n()},
				Salvage:     tearout.Salvage{Yield: measure.Ratio(n()), End: l()},
			}
		}
		p, err := tearout.New(job)
		if (p == nil) != (err != nil) {
			t.Fatalf("%v and %v", p, err)
		}
		var f *measure.FieldError
		var o *measure.RangeError
		if err != nil && !errors.As(err, &f) && !errors.As(err, &o) || err != nil && strings.Contains(err.Error(), "%!") {
			t.Fatalf("%T %v", err, err)
		}
		if p != nil && (p.Labor < 0 || p.Debris.Solid < 0 || p.Debris.Weight < 0 || p.Boxes < 0 || p.Debris.Bags < 0) {
			t.Fatalf("%+v", p)
		}
		_, _, err = job.Rules.Containment.Sheet(job.Rooms[0], job.Parts)
		if err != nil && !errors.As(err, &o) && !errors.As(err, &f) {
			t.Fatalf("%T %v", err, err)
		}
		if _, err := tearout.DoorCasing(tearout.Part{Width: l()}, l(), l(), "a", "b"); err != nil && !errors.As(err, &o) {
			t.Fatalf("%T %v", err, err)
		}
	})
}

// Each fault is named by its place, all at once.
func TestFaultsAreNamed(t *testing.T) {
	_, err := tearout.New(tearout.Job{
		Building: finish.Building{Year: -1},
		Rooms:    []tearout.Room{{Name: "r", Doors: -1, Suspects: []tearout.Suspect{{}, {Kind: 4}}}, {Name: "r"}, {}},
		Parts: []tearout.Part{
			{Room: "attic", Length: -1, Count: -2, Material: "walnut", Method: 9, Scored: -1, Practice: 99, Test: 99},
			{Room: "r", Length: ft, Width: in, Thickness: in, Method: tearout.MethodSalvage},
			{Room: "r", Length: ft, Section: measure.SquareInch},
		},
		Rules: tearout.Rules{
			Rates:       []tearout.Rate{{Task: tearout.TaskPry}, {Task: tearout.TaskBag, Per: 1}, {Task: tearout.TaskClean}, {Task: tearout.TaskClean}, {Task: 99}, {Task: tearout.TaskTest, Wait: -1, Time: -1}},
			Woods:       []tearout.Wood{{Name: "pine", Gravity: 1, Moisture: -1}, {Name: "pine"}, {}},
			Containment: tearout.Containment{Reach: -1, Laps: finish.Waste{Share: -1}},
			Disposal:    tearout.Disposal{Bag: -1},
			Salvage:     tearout.Salvage{Yield: 2_000_000, End: -1},
		},
		Rack: stock.Rack{Keep: -1},
	})
	for _, want := range []string{
		"building.year", "rooms[0].doors", "rooms[0].suspects[1].kind", "rooms[1].name", "rooms[2].name", "parts[0].room", "parts[0].length", "parts[0].thickness", "parts[0].count", "parts[0].material",
		"parts[0].method", "parts[0].scored", "parts[0].practice", "parts[0].test", "parts[1].profile", "parts[2].girth", "rules.rates[0].per", "rules.rates[1].per", "rules.rates[3].task",
		"rules.rates[4].task", "rules.rates[5].wait", "rules.rates[5].time", "rules.woods[0].moisture", "rules.woods[1].name", "rules.woods[1].gravity", "rules.woods[2].name",
		"rules.containment.reach", "rules.containment.cloth", "rules.containment.laps.share", "rules.disposal.loose", "rules.disposal.bag", "rules.salvage.yield", "rules.salvage.end", "rack.keep",
	} {
		if err == nil || !strings.Contains(err.Error(), want+" ") && !strings.Contains(err.Error(), want+":") && !strings.Contains(err.Error(), want+" =") {
			t.Errorf("%s is not named", want)
		}
	}
	if t.Failed() {
		t.Log(err)
	}
	// The data that the rule needs, and the practices that it forbids, in a covered room.
	torch := tearout.Part{Room: "r", Length: 100 * ft, Width: in, Thickness: in, Practice: finish.PracticeFlame}
	job := tearout.Job{Building: old, Rooms: []tearout.Room{{Name: "r", Width: ft}}, Parts: []tearout.Part{torch}}
	_, err = tearout.New(job)
	for _, want := range []string{"rooms[0].length", "parts[0].practice"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %s is not named", err, want)
		}
	}
	job.Building.Year = 1990
	if _, err := tearout.New(job); err != nil {
		t.Errorf("a house from 1990: %v", err)
	}
	job.Building.Year, job.Rules.Lead.Before = 0, -1
	if _, err := tearout.New(job); err == nil || !strings.Contains(err.Error(), "rules.lead.before") {
		t.Errorf("a rule without a year: %v", err)
	}
	// In JSON a zero that would stand for something else is an error.
	for field, text := range map[string]string{"count": "0", "section": `"0 sq ft"`, "girth": `"0 in"`} {
		var p tearout.Part
		if err := measure.UnmarshalStrict([]byte(`{"room":"r","length":"1 ft","thickness":"1 in","width":"1 in","`+field+`":`+text+`}`), &p); err == nil || !strings.Contains(err.Error(), field) {
			t.Errorf("%s of zero: %v", field, err)
		}
	}
}
