package finish_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// The rule of 40 CFR 745.82 and 745.83 and 29 CFR 1926.62, stated again: a line for each room that is
// more than minor repair in a covered building; the protection of workers whenever something is removed
// from old paint.
func TestLeadScope(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := finish.Building{
			Year:      rapid.SampledFrom([]int{0, 1926, 1977, 1978, 2020}).Draw(t, "year"),
			Occupancy: finish.Occupancy(rapid.IntRange(0, 3).Draw(t, "occupancy")),
			Assisted:  rapid.Bool().Draw(t, "assisted"),
		}
		if b.Occupancy == finish.OccupancyOther {
			b.Assisted = false
		}
		var removed []finish.RemovedTrim
		area, never := map[string]measure.Area{}, map[string]int{}
		for range rapid.IntRange(0, 6).Draw(t, "parts") {
			r := finish.RemovedTrim{
				Room:       rapid.SampledFrom([]string{"classroom", "entry"}).Draw(t, "room"),
				Area:       measure.Area(rapid.Int64Range(0, 4).Draw(t, "area")) * measure.SquareFoot,
				Demolished: rapid.IntRange(0, 5).Draw(t, "demolished") == 0,
				Window:     rapid.IntRange(0, 5).Draw(t, "window") == 0,
			}
			removed = append(removed, r)
			area[r.Room] += r.Area
			if r.Demolished {
				never[r.Room] |= 1
			}
			if r.Window {
				never[r.Room] |= 2
			}
		}
		got, err := finish.USLeadRule().Cautions(b, removed, measure.Locale{})
		if err != nil {
			t.Fatal(err)
		}
		if len(removed) == 0 {
			if len(got) > 0 {
				t.Fatalf("cautions for %+v: %v", b, got)
			}
			return
		}
		if b.Year >= 1978 {
			if len(got) != 1 || !strings.Contains(got[0].Source, "29 CFR 1926.62") || strings.Contains(got[0].Text, "ft2") {
				t.Fatalf("cautions for %+v: %v, want the protection of workers", b, got)
			}
			return
		}
		covered := b.Occupancy != finish.OccupancyOther
		limit := 6 * measure.SquareFoot
		if b.Assisted {
			limit = 2 * measure.SquareFoot
		}
		workers := 0
		for _, c := range got {
			if strings.Contains(c.Source, "29 CFR 1926.62") {
				workers++
				if strings.Contains(c.Text, "ft2") || !strings.Contains(c.Text, "no minimum area") {
					t.Fatalf("workers are protected only from some area on: %s", c.Text)
				}
			}
		}
		if workers != 1 {
			t.Fatalf("%d cautions protect workers, want one: %v", workers, got)
		}
		for room, a := range area {
			lines := map[string]int{}
			for _, c := range got {
				if s, ok := strings.CutPrefix(c.Trigger, room+": "); ok {
					switch {
					case strings.Contains(s, "limit"):
						lines["limit"]++
					case strings.Contains(s, "demolished") && strings.Contains(c.Text, "at any area"):
						lines["demolished"]++
					case strings.Contains(s, "window") && strings.Contains(c.Text, "at any area"):
						lines["window"]++
					}
				}
			}
			is := func(b bool) int {
				if b {
					return 1
				}
				return 0
			}
			if lines["limit"] != is(covered && a > limit) || lines["demolished"] != is(covered && never[room]&1 != 0) || lines["window"] != is(covered && never[room]&2 != 0) {
				t.Fatalf("%s of %+v, %d sq in, never minor %d: %v", room, b, a/measure.SquareInch, never[room], lines)
			}
		}
	})
}

// The requirements of the rules are stated in full: a limit or a duty that the text omits is one that
// somebody breaks.
func TestLeadTextsLeaveNothingOut(t *testing.T) {
	var all strings.Builder
	for _, c := range must[[]finish.Caution](t)(finish.Cautions(measure.Locale{}, finish.HazardLeadPaint, finish.HazardOilyRags, finish.HazardSilica)) {
		all.WriteString(c.Text + "\n")
	}
	for _, want := range []string{
		"at 1,100 F or more",      // 745.85(a)(3) permits below
		"20 sq ft outside",        // 745.83
		"practice forbidden",      // 745.83: minor repair uses none
		"a tenth of the surface",  // 24 CFR 35.1350(d)
		"covered container",       // 1926.252(e)
		"outdoors beyond four",    // 1926.1153, Table 1
		"ground-fault protection", // 1926.404(b)(1)
	} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("no caution says %q", want)
		}
	}
}

// Work that drives nails has the caution for nailers.
func TestNailersAreWarnedOf(t *testing.T) {
	for _, task := range []finish.Task{finish.TaskInstall, finish.TaskBrad} {
		l := must[*finish.List](t)(finish.NewList([]finish.Work{{Job: finish.Job{Label: "base", Length: ft, Height: in}, System: finish.System{Steps: []finish.Step{{Task: task}}}}}, shelf(t)))
		found := false
		for _, c := range l.Cautions {
			found = found || c.Topic == finish.HazardNailers && strings.Contains(c.Text, "full sequential trigger")
		}
		if !found {
			t.Errorf("%v: no caution about nailers", task)
		}
	}
}

// Figures of a rule are data: with another year and another limit its cautions follow,
// and say those figures. A rule without a year covers nothing by mistake: it is refused.
func TestLeadRuleIsData(t *testing.T) {
	rule := finish.USLeadRule()
	if rule.Source == "" || rule.AssistedSource == "" || rule.Date == "" {
		t.Errorf("figure without a source or a date: %+v", rule)
	}
	rule.Before, rule.RoomLimit = 1992, measure.SquareFoot
	removed := []finish.RemovedTrim{{Room: "classroom", Area: 2 * measure.SquareFoot}}
	for year, want := range map[int]int{1991: 4, 1992: 1} {
		got, err := rule.Cautions(finish.Building{Year: year}, removed, measure.Locale{})
		if err != nil || len(got) != want {
			t.Errorf("year %d: %d cautions, %v; want %d", year, len(got), err, want)
		}
		if text := fmt.Sprint(got); strings.Contains(text, "1978") || strings.Contains(text, "6 sq ft") {
			t.Errorf("year %d: figures of a different rule: %s", year, text)
		}
	}
	if rooms, err := rule.Rooms(removed); err != nil || !rooms[0].Over || rooms[0].OverAssisted {
		t.Errorf("%+v, %v", rooms, err)
	}
	var f *measure.FieldError
	if _, err := (finish.LeadRule{}).Cautions(finish.Building{}, removed, measure.Locale{}); !errors.As(err, &f) || f.Field != "rule.before" {
		t.Errorf("a rule without a year: %v", err)
	}
}
