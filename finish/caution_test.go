package finish_test

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/longpoint/finish"
	"example.com/longpoint/measure"
)

// allHazards are asked for in no order in which they are printed.
var allHazards = []finish.Hazard{
	finish.HazardGeneral, finish.HazardFalls, finish.HazardScaffold, finish.HazardLadders, finish.HazardScrap, finish.HazardAsbestos, finish.HazardHiddenServices,
	finish.HazardLeadPaint, finish.HazardNoise, finish.HazardHotPlastic, finish.HazardOilyRags, finish.HazardSolvents, finish.HazardRespirators, finish.HazardSilica,
	finish.HazardFiberboard, finish.HazardWoodDust, finish.HazardPower, finish.HazardAir, finish.HazardNailers, finish.HazardSmallPieces, finish.HazardTableSaw, finish.HazardSaws,
}

// A limit written for metric readers is as strict as the rule's: an upper limit and the height
// from which something is due are rounded down, the least that is due is rounded up.
func TestMetricLimitsAreAsStrict(t *testing.T) {
	us := must[[]finish.Caution](t)(finish.Cautions(measure.Locale{}, allHazards...))
	metric := must[[]finish.Caution](t)(finish.Cautions(measure.Locale{Metric: true}, allHazards...))
	if len(us) != len(metric) {
		t.Fatalf("%d cautions and %d", len(us), len(metric))
	}
	number := regexp.MustCompile(`\d+(/\d+|\.\d+)? (in|ft|mm|cm|m)\b`)
	atLeast := map[string]bool{"6 in": true, "12 in": true, "3 ft": true, "18 in": true}
	checked := 0
	for i := range us {
		for _, text := range [][2]string{{us[i].Text, metric[i].Text}, {us[i].Trigger, metric[i].Trigger}} {
			if strings.ContainsAny(text[0]+text[1], "{}|") {
				t.Errorf("left over: %v", text)
			}
			if strings.Contains(text[1], " psi") || regexp.MustCompile(`\d (in|ft)\b`).MatchString(text[1]) {
				t.Errorf("inches, feet or psi in %q", text[1])
			}
			a, b := number.FindAllString(text[0], -1), number.FindAllString(text[1], -1)
			if us[i].Topic == finish.HazardLeadPaint || us[i].Topic == finish.HazardAsbestos || len(a) == 0 {
				continue // areas and °F, tested elsewhere; the usual tile is no limit
			}
			if len(a) != len(b) {
				t.Errorf("%q\n%q", text[0], text[1])
				continue
			}
			for k := range a {
				d := measure.MustParse(b[k]) - measure.MustParse(a[k])
				if atLeast[a[k]] && (d < 0 || d > 10*measure.Millimeter) || !atLeast[a[k]] && (d > 0 || d < -50*measure.Millimeter) {
					t.Errorf("%s is written as %s", a[k], b[k])
				}
				checked++
			}
		}
	}
	if checked < 10 {
		t.Errorf("only %d measures found", checked)
	}
}

// painted is a list of the classroom's base and casing, painted.
func painted(t *testing.T) *finish.List {
	return must[*finish.List](t)(finish.NewList([]finish.Work{
		{Job: finish.Job{Label: "casing", Length: 34 * ft, Height: 9 * in / 4}, System: finish.PaintedCasing()},
		{Job: finish.Job{Label: "base", Length: 40 * ft, Height: 5 * in, Hazards: []finish.Hazard{finish.HazardFiberboard}}, System: finish.PaintedTrim()},
		{Job: finish.Job{Label: "crown", Length: 40 * ft, Height: 3 * in, Hazards: []finish.Hazard{finish.HazardLadders, finish.HazardFiberboard}}, System: finish.PaintedTrim()},
	}, shelf(t)))
}

// Each caution of a list stands before the first step that it is about, and once.
func TestCautionsStandBeforeTheirStep(t *testing.T) {
	list := painted(t)
	before := must[[][]finish.Caution](t)(finish.CautionsBefore(measure.Locale{}, list.Steps))
	if len(before) != len(list.Steps) {
		t.Fatalf("%d steps, %d lists", len(list.Steps), len(before))
	}
	said := map[finish.Caution]int{}
	for i, s := range list.Steps {
		for _, c := range must[[]finish.Caution](t)(s.Cautions(measure.Locale{})) {
			if c.Topic == finish.HazardGeneral {
				continue
			}
			if !slices.Contains(s.Hazards, c.Topic) {
				t.Errorf("%s %s: %v is not a hazard of the step", s.Job, s.Step, c.Topic)
			}
			if at, ok := said[c]; ok == slices.Contains(before[i], c) {
				t.Errorf("%s %s: %q was given before step %d, and again here: %v", s.Job, s.Step, c.Text, at, !ok)
			} else if !ok {
				said[c] = i
			}
		}
		if n := len(before[i]); n > 0 && before[i][n-1].Topic != finish.HazardGeneral {
			t.Errorf("%s %s: the last is %v", s.Job, s.Step, before[i][n-1].Topic)
		}
	}
	for _, c := range list.Cautions {
		if _, ok := said[c]; !ok && c.Topic != finish.HazardGeneral {
			t.Errorf("before no step: %+v", c)
		}
	}
	at := func(h finish.Hazard) string {
		for i, all := range before {
			if slices.ContainsFunc(all, func(c finish.Caution) bool { return c.Topic == h }) {
				return list.Steps[i].Job + " " + list.Steps[i].Step
			}
		}
		return ""
	}
	for h, want := range map[finish.Hazard]string{
		finish.HazardNailers: "casing install", finish.HazardAir: "casing install", finish.HazardRespirators: "casing sand the filler", finish.HazardOilyRags: "casing prime",
		finish.HazardSolvents: "casing prime", finish.HazardFiberboard: "base glue joints", finish.HazardLadders: "crown glue joints", finish.HazardTableSaw: "",
	} {
		if got := at(h); got != want {
			t.Errorf("%v: before %q, want %q", h, got, want)
		}
	}
}

// The hazards of a product stand with the steps that it is bought for, and with no other.
func TestProductsWarnWhereTheyAreUsed(t *testing.T) {
	s := shelf(t)
	for i := range s.Products {
		if s.Products[i].Material == "filler" {
			s.Products[i].Hazards = []finish.Hazard{finish.HazardSolvents}
		}
	}
	list := must[*finish.List](t)(finish.NewList([]finish.Work{{Job: finish.Job{Label: "base", Length: 40 * ft, Height: 5 * in}, System: finish.PaintedTrim()}}, s))
	for _, r := range list.Steps {
		if r.Task == finish.TaskFill != slices.Contains(r.Hazards, finish.HazardSolvents) && r.Task != finish.TaskPrime && r.Task != finish.TaskPaint && r.Task != finish.TaskCaulk {
			t.Errorf("%s: %v", r.Step, r.Hazards)
		}
	}
}

// Any hazards in any steps: each is said exactly once, and no list is without its last word.
func TestCautionsBeforeAnySteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var steps []finish.StepResult
		for range rapid.IntRange(0, 6).Draw(t, "steps") {
			steps = append(steps, finish.StepResult{Hazards: rapid.SliceOfN(rapid.SampledFrom(allHazards), 0, 5).Draw(t, "hazards")})
		}
		before, err := finish.CautionsBefore(measure.Locale{}, steps)
		if err != nil || len(before) != len(steps) {
			t.Fatalf("%d lists for %d steps, %v", len(before), len(steps), err)
		}
		first := map[finish.Hazard]int{}
		for i := len(steps) - 1; i >= 0; i-- {
			for _, h := range steps[i].Hazards {
				first[h] = i
			}
		}
		for i, all := range before {
			for k, c := range all {
				if general := c.Topic == finish.HazardGeneral; general != (k == len(all)-1) || !general && first[c.Topic] != i {
					t.Fatalf("step %d: %v is number %d of %d, first due before step %d", i, c.Topic, k, len(all), first[c.Topic])
				}
			}
		}
		for h, i := range first {
			if h != finish.HazardGeneral && !slices.ContainsFunc(before[i], func(c finish.Caution) bool { return c.Topic == h }) {
				t.Fatalf("%v is not said before step %d", h, i)
			}
		}
	})
	var f *measure.FieldError
	if _, err := finish.CautionsBefore(measure.Locale{}, []finish.StepResult{{}, {Hazards: []finish.Hazard{"saws", "dragons"}}}); !errors.As(err, &f) || f.Field != "steps[1].hazards[1]" {
		t.Errorf("dragons: %v", err)
	}
}
