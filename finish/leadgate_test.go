package finish_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// Sources: 40 CFR 745.82, 745.83 and 745.85 (from memory), EPA frequent questions
// 23002-18379: demolition, window replacement and forbidden practices are never minor;
// all of a room within 30 days is one job; whole painted surface; an owner's word is no
// test; unpaid work of an owner is outside, a landlord's is not.
func TestLeadGate(t *testing.T) {
	base := func(feet int64) finish.RemovedTrim { // 1 sq ft for each 2 ft
		return finish.RemovedTrim{Room: "classroom", Length: measure.Length(feet) * ft, Girth: 6 * in}
	}
	with := func(r finish.RemovedTrim, change func(*finish.RemovedTrim)) finish.RemovedTrim {
		change(&r)
		return r
	}
	old := finish.Building{Year: 1924, Occupancy: finish.OccupancyChildren}
	for name, c := range map[string]struct {
		b       finish.Building
		removed []finish.RemovedTrim
		want    finish.LeadVerdict
	}{
		"nothing":           {old, nil, finish.VerdictNothing},
		"at the limit":      {old, []finish.RemovedTrim{base(12)}, finish.VerdictMinorRepair},
		"a hair over":       {old, []finish.RemovedTrim{base(12), with(base(0), func(r *finish.RemovedTrim) { r.Area = 1 })}, finish.VerdictCovered},
		"year unknown":      {finish.Building{}, []finish.RemovedTrim{base(13)}, finish.VerdictCovered},
		"1977":              {finish.Building{Year: 1977}, []finish.RemovedTrim{base(13)}, finish.VerdictCovered},
		"1978":              {finish.Building{Year: 1978}, []finish.RemovedTrim{base(13)}, finish.VerdictLater},
		"workshop":          {finish.Building{Year: 1924, Occupancy: finish.OccupancyOther}, []finish.RemovedTrim{base(13)}, finish.VerdictOtherUse},
		"owner, unpaid":     {finish.Building{Year: 1924, Unpaid: true}, []finish.RemovedTrim{base(13)}, finish.VerdictUnpaid},
		"tested":            {old, []finish.RemovedTrim{with(base(90), func(r *finish.RemovedTrim) { r.Test = finish.LeadFree; r.Demolished = true })}, finish.VerdictTestedFree},
		"tested in part":    {old, []finish.RemovedTrim{base(12), with(base(90), func(r *finish.RemovedTrim) { r.Test = finish.LeadFree })}, finish.VerdictMinorRepair},
		"lead found":        {old, []finish.RemovedTrim{with(base(12), func(r *finish.RemovedTrim) { r.Test = finish.LeadFound })}, finish.VerdictMinorRepair},
		"broken off":        {old, []finish.RemovedTrim{with(base(1), func(r *finish.RemovedTrim) { r.Demolished = true })}, finish.VerdictCovered},
		"window":            {old, []finish.RemovedTrim{with(base(1), func(r *finish.RemovedTrim) { r.Window = true })}, finish.VerdictCovered},
		"torch":             {old, []finish.RemovedTrim{with(base(1), func(r *finish.RemovedTrim) { r.Practice = finish.PracticeFlame })}, finish.VerdictCovered},
		"bare belt sander":  {old, []finish.RemovedTrim{with(base(1), func(r *finish.RemovedTrim) { r.Practice = finish.PracticeUnshrouded })}, finish.VerdictCovered},
		"heat gun, 1,100 F": {old, []finish.RemovedTrim{with(base(1), func(r *finish.RemovedTrim) { r.Practice = finish.PracticeHotGun })}, finish.VerdictCovered},
		"heat gun":          {old, []finish.RemovedTrim{with(base(1), func(r *finish.RemovedTrim) { r.Practice = finish.PracticeHeat })}, finish.VerdictMinorRepair},
		"shrouded":          {old, []finish.RemovedTrim{with(base(1), func(r *finish.RemovedTrim) { r.Practice = finish.PracticeShrouded })}, finish.VerdictMinorRepair},
		"30 days apart":     {old, []finish.RemovedTrim{base(7), with(base(7), func(r *finish.RemovedTrim) { r.Day = 30 })}, finish.VerdictCovered},
		"31 days apart":     {old, []finish.RemovedTrim{base(7), with(base(7), func(r *finish.RemovedTrim) { r.Day = 31 })}, finish.VerdictMinorRepair},
		"earlier work":      {old, []finish.RemovedTrim{base(7), with(base(7), func(r *finish.RemovedTrim) { r.Day = -20 })}, finish.VerdictCovered},
		"two rooms":         {old, []finish.RemovedTrim{base(7), with(base(7), func(r *finish.RemovedTrim) { r.Room = "corridor" })}, finish.VerdictMinorRepair},
		"assisted":          {finish.Building{Year: 1924, Assisted: true}, []finish.RemovedTrim{base(5)}, finish.VerdictCovered},
	} {
		g, err := finish.USLeadRule().Gate(c.b, c.removed)
		if err != nil || g.Verdict != c.want {
			t.Errorf("%s: %v, %v; want %v", name, g.Verdict, err, c.want)
		}
		if covered := c.want == finish.VerdictCovered; g.Covers("classroom") != covered || (len(g.Covered) > 0) != covered {
			t.Errorf("%s: covered %v", name, g.Covered)
		}
	}
}

// drawRemoved draws a part at random.
func drawRemoved(t *rapid.T) finish.RemovedTrim {
	return finish.RemovedTrim{
		Room:       rapid.SampledFrom([]string{"classroom", "cloakroom"}).Draw(t, "room"),
		Length:     measure.Length(rapid.Int64Range(0, 20).Draw(t, "feet")) * ft,
		Girth:      measure.Length(rapid.Int64Range(0, 12).Draw(t, "inches")) * in,
		Demolished: rapid.IntRange(0, 9).Draw(t, "demolished") == 0,
		Window:     rapid.IntRange(0, 9).Draw(t, "window") == 0,
		Practice:   finish.Practice(rapid.IntRange(0, 5).Draw(t, "practice")),
		Test:       finish.LeadTest(rapid.IntRange(0, 2).Draw(t, "test")),
		Day:        rapid.Int64Range(-40, 40).Draw(t, "day"),
	}
}

// More that is removed never makes work minor, and the surface within 30 days is that of
// the definition: the most of any days from one part's on.
func TestLeadGateIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := finish.Building{
			Year: rapid.SampledFrom([]int{0, 1926, 1978}).Draw(t, "year"), Occupancy: finish.Occupancy(rapid.IntRange(0, 2).Draw(t, "occupancy")),
			Assisted: rapid.Bool().Draw(t, "assisted"), Unpaid: rapid.IntRange(0, 5).Draw(t, "unpaid") == 0,
		}
		var removed []finish.RemovedTrim
		for range rapid.IntRange(0, 5).Draw(t, "parts") {
			removed = append(removed, drawRemoved(t))
		}
		less, err := finish.USLeadRule().Gate(b, removed)
		if err != nil {
			t.Fatal(err)
		}
		for _, room := range less.Rooms {
			most := measure.Area(0)
			for _, from := range removed {
				sum := measure.Area(0)
				for _, p := range removed {
					if p.Room == room.Room && p.Test != finish.LeadFree && p.Day >= from.Day && p.Day <= from.Day+30 {
						a, _ := p.Length.Area(p.Girth, measure.RoundUp)
						sum += a
					}
				}
				most = max(most, sum)
			}
			if room.Removed != most {
				t.Fatalf("%s: %v within 30 days, want %v", room.Room, room.Removed, most)
			}
		}
		more, err := finish.USLeadRule().Gate(b, append(removed, drawRemoved(t)))
		if err != nil {
			t.Fatal(err)
		}
		for _, room := range less.Covered {
			if !more.Covers(room) {
				t.Fatalf("%s is covered with less trim removed, but not with more", room)
			}
		}
		for i := range less.Rooms {
			if more.Rooms[i].Removed < less.Rooms[i].Removed {
				t.Fatalf("less surface of more trim: %+v, %+v", less.Rooms[i], more.Rooms[i])
			}
		}
	})
}

// Work that is not covered still gets a caution that gives the reason, and texts that defer to the law
// say that states may be stricter.
func TestLeadCautionsSayWhy(t *testing.T) {
	for name, c := range map[string]struct {
		b    finish.Building
		part finish.RemovedTrim
		want string
	}{
		"unpaid":  {finish.Building{Unpaid: true}, finish.RemovedTrim{}, "landlord"},
		"tested":  {finish.Building{}, finish.RemovedTrim{Test: finish.LeadFree}, "keep the report"},
		"flame":   {finish.Building{}, finish.RemovedTrim{Practice: finish.PracticeFlame}, "above 2,500 ug/m3"},
		"planed":  {finish.Building{}, finish.RemovedTrim{Practice: finish.PracticeUnshrouded}, "above 500 and up to 2,500 ug/m3"},
		"hot gun": {finish.Building{}, finish.RemovedTrim{Practice: finish.PracticeHotGun}, "1,100 F or more"},
	} {
		c.part.Room, c.part.Length, c.part.Girth = "classroom", ft, in
		got, err := finish.USLeadRule().Cautions(c.b, []finish.RemovedTrim{c.part}, measure.Locale{})
		if text := fmt.Sprint(got); err != nil || !strings.Contains(text, c.want) || !strings.Contains(text, "tates may be stricter") {
			t.Errorf("%s: %s, %v; want %q", name, text, err, c.want)
		}
	}
}

// Values of no kind, and sums beyond the range, are errors that name the field.
func TestLeadGateRefuses(t *testing.T) {
	for want, c := range map[string]struct {
		rule finish.LeadRule
		part finish.RemovedTrim
	}{
		"rule.days":           {finish.LeadRule{Before: 1978, Days: -1}, finish.RemovedTrim{Room: "r"}},
		"removed[0].practice": {finish.USLeadRule(), finish.RemovedTrim{Room: "r", Practice: 6}},
		"removed[0].test":     {finish.USLeadRule(), finish.RemovedTrim{Room: "r", Test: 3}},
		"removed[0].girth":    {finish.USLeadRule(), finish.RemovedTrim{Room: "r", Girth: -1}},
	} {
		var f *measure.FieldError
		if _, err := c.rule.Gate(finish.Building{}, []finish.RemovedTrim{c.part}); !errors.As(err, &f) || f.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
	var o *measure.RangeError
	huge := finish.RemovedTrim{Room: "r", Area: 1<<63 - 1}
	if _, err := finish.USLeadRule().Gate(finish.Building{}, []finish.RemovedTrim{huge, huge}); !errors.As(err, &o) {
		t.Errorf("too much surface: %v", err)
	}
	forever := finish.USLeadRule()
	forever.Days = 0
	if g, err := forever.Gate(finish.Building{}, []finish.RemovedTrim{{Room: "r", Area: 4 * measure.SquareFoot}, {Room: "r", Area: 4 * measure.SquareFoot, Day: 1000}}); err != nil || g.Verdict != finish.VerdictCovered {
		t.Errorf("a rule without days counts everything together: %v, %v", g.Verdict, err)
	}
	far := []finish.RemovedTrim{{Room: "r", Area: 4 * measure.SquareFoot, Day: -1 << 63}, {Room: "r", Area: 4 * measure.SquareFoot, Day: 1<<63 - 1}}
	if g, err := finish.USLeadRule().Gate(finish.Building{}, far); err != nil || g.Verdict != finish.VerdictMinorRepair {
		t.Errorf("days as far apart as can be: %v, %v", g.Verdict, err)
	}
}

// Everything that has a name is read back by it.
func TestLeadNames(t *testing.T) {
	for i := range 6 {
		in := finish.RemovedTrim{Room: "r", Practice: finish.Practice(i), Test: finish.LeadTest(i % 3)}
		data, err := json.Marshal(in)
		var out finish.RemovedTrim
		if err == nil {
			err = measure.UnmarshalStrict(data, &out)
		}
		if err != nil || out != in {
			t.Errorf("%s: %+v, %v", data, out, err)
		}
	}
	for i := range 7 {
		in := finish.LeadGate{Verdict: finish.LeadVerdict(i)}
		data, err := json.Marshal(in)
		var out finish.LeadGate
		if err == nil {
			err = measure.UnmarshalStrict(data, &out)
		}
		if err != nil || out.Verdict != in.Verdict {
			t.Errorf("%s: %+v, %v", data, out, err)
		}
	}
}
