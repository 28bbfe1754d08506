package estimate_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
)

// The actual hours of a job update the rates, on request: a cope that was estimated at 6
// minutes and a foot at 0.6 took half as long again.
func ExampleUpdateRates() {
	rates := labor.Rates{Table: []labor.Rate{
		{Task: finish.TaskInstall, Event: labor.EventCope, Time: 6 * minute, Source: "common practice, no source"},
		{Task: finish.TaskInstall, Event: labor.EventLength, Time: 36 * minute / 60, Jobs: 3, Source: "own jobs"},
	}}
	line := labor.Line{Room: "classroom", Profile: "base", Step: "install", Labor: 84 * minute, Parts: []labor.Part{
		{Event: labor.EventCope, Quantity: finish.Count(4), Rate: 0, Time: 24 * minute},
		{Event: labor.EventLength, Quantity: finish.AmountOf(100 * measure.Foot), Rate: 1, Time: 60 * minute},
	}}
	log := estimate.JobLog{Date: "May 2026", Entries: []estimate.LogEntry{
		{Label: "labor", Kind: estimate.CostLabor, Room: "classroom", Profile: "base", Step: "install", Labor: 126 * minute},
	}}
	u, err := estimate.UpdateRates(rates, []labor.Line{line}, log)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range u.Changes {
		fmt.Println(u.Rates.Table[c.Rate].Event, c.Was, "is now", c.Now, "from", c.Jobs, "jobs:", u.Rates.Table[c.Rate].Source)
	}
	// Output:
	// cope 6m is now 7m30s from 1 jobs: own jobs, averaged with: common practice, no source
	// length 36s is now 40.5s from 4 jobs: own jobs
}

// The same job repeated brings a rate to the job's actual hours, and no job moves it by more than its
// share.
func TestRatesComeToWhatJobsTake(t *testing.T) {
	rates := labor.Rates{Table: []labor.Rate{{Task: finish.TaskInstall, Event: labor.EventPiece, Time: 10 * minute}}}
	for n := range 200 {
		before := rates.Table[0].Time
		lines := []labor.Line{{Room: "corridor", Profile: "base", Step: "install", Labor: 6 * before, Parts: []labor.Part{{Event: labor.EventPiece, Time: 6 * before}}}}
		u := must[*estimate.RateUpdate](t)(estimate.UpdateRates(rates, lines, estimate.JobLog{Entries: []estimate.LogEntry{
			{Label: "morning", Kind: estimate.CostLabor, Room: "corridor", Profile: "base", Step: "install", Labor: hour},
			{Label: "afternoon", Kind: estimate.CostLabor, Room: "corridor", Profile: "base", Step: "install", Labor: hour},
		}}))
		after := u.Rates.Table[0]
		if after.Jobs != int64(n)+1 || after.Time < before || after.Time > 20*minute || rates.Table[0].Time != before {
			t.Fatalf("%d: %v after %v, %d jobs", n, after.Time, before, after.Jobs)
		}
		rates = u.Rates
	}
	if off := 20*minute - rates.Table[0].Time; off > minute/10 {
		t.Errorf("%v, want about 20m", rates.Table[0].Time)
	}
}

// Hours three times the estimate are taken over and found; lines without hours teach
// nothing.
func TestOddHoursAreFound(t *testing.T) {
	rates := labor.Rates{Table: []labor.Rate{{Task: finish.TaskInstall, Event: labor.EventPiece, Time: 10 * minute}, {Task: finish.TaskPaint, Event: labor.EventLength, Time: minute}}}
	lines := []labor.Line{{Step: "install", Labor: hour, Parts: []labor.Part{{Time: hour}}}, {Step: "paint", Labor: hour, Parts: []labor.Part{{Rate: 1, Time: hour}}}}
	log := func(hours measure.Duration) estimate.JobLog {
		return estimate.JobLog{Entries: []estimate.LogEntry{{Label: "labor", Kind: estimate.CostLabor, Step: "install", Labor: hours}}}
	}
	for hours, odd := range map[measure.Duration]int{hour: 0, 3 * hour: 1, 3*hour - 1: 0, hour / 3: 1, hour/3 + minute: 0} {
		u := must[*estimate.RateUpdate](t)(estimate.UpdateRates(rates, lines, log(hours)))
		if len(u.Changes) != 1 || len(u.Findings) != odd || odd > 0 && u.Findings[0].Code != estimate.FindingLoggedHours || u.Rates.Table[1].Jobs != 0 {
			t.Errorf("%v: %+v", hours, u)
		}
	}
	if u := must[*estimate.RateUpdate](t)(estimate.UpdateRates(labor.Rates{}, nil, estimate.JobLog{})); len(u.Changes) != 0 || len(u.Rates.Table) == 0 {
		t.Errorf("%+v", u)
	}
}

func TestUpdateRatesOfAnything(t *testing.T) {
	rates := labor.Rates{Table: []labor.Rate{{Task: finish.TaskInstall, Event: labor.EventPiece, Time: minute, Jobs: -1}}}
	_, err := estimate.UpdateRates(rates, []labor.Line{{Labor: -1, Parts: []labor.Part{{Rate: 1}, {Rate: -1, Time: -1}}}}, estimate.JobLog{Entries: []estimate.LogEntry{{Amount: -1}}})
	fields(t, err, "rates.table[0].jobs", "log.entries[0].label", "log.entries[0].amount", "lines[0].labor", "lines[0].parts[0].rate", "lines[0].parts[1].rate", "lines[0].parts[1].time")
	r := rand.New(rand.NewPCG(61, 67))
	for range 2000 {
		n := func() int64 { return []int64{0, 1, 60e9, math.MaxInt64, r.Int64()}[r.IntN(5)] }
		rates.Table[0].Time, rates.Table[0].Jobs = measure.Duration(n()), n()
		_, err := estimate.UpdateRates(rates, []labor.Line{{Labor: measure.Duration(n()), Parts: []labor.Part{{Time: measure.Duration(n())}}}, {Labor: measure.Duration(n())}},
			estimate.JobLog{Entries: []estimate.LogEntry{{Label: "a", Kind: estimate.CostLabor, Labor: measure.Duration(n())}, {Label: "a", Kind: estimate.CostLabor, Labor: measure.Duration(n())}}})
		if err != nil && !errors.As(err, new(*measure.RangeError)) {
			t.Fatal(err)
		}
	}
}
