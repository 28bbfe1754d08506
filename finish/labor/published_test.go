package labor_test

import (
	"testing"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/labor"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// byHand are four rates: a piece 4 min, a cope 6, an end that dies into casing 1, and 0.6 min a foot. Nothing is rounded.
func byHand() labor.Rates {
	rate := func(e labor.Event, seconds int64) labor.Rate {
		return labor.Rate{Event: e, Time: measure.Duration(seconds) * second}
	}
	return labor.Rates{Round: 1, Table: []labor.Rate{
		rate(labor.EventLength, 36), rate(labor.EventPiece, 240), rate(labor.EventCope, 360), rate(labor.EventStop, 60), rate(labor.EventSetUp, 1800),
	}}
}

// The room of 12 ft by 14 ft with a door of 3-0, casing 2 1/4 in, reveal 3/16 in: 48.594 ft of base, 5 pieces, 4 copes, 2
// butts come to 75.156 min, 1.2526 h, 2.578 h per 100 ft, and 1.7526 h with half an hour of set-up. The same feet in four closets come to
// 173.156 min, 5.939 h per 100 ft (derived).
func TestEventsByHand(t *testing.T) {
	room := classroom(8 * ft)
	s := takeoff.Scheme{Base: board("base", stock.RoleBase, 9*in/16, 13*in/4), Casing: board("casing", stock.RoleCasing, 11*in/16, 9*in/4)}
	list := take(t, s, room)
	of := list.RoomTotals[0]
	if of.Net != 48*ft+19*ft/32 || of.Pieces != 5 || of.Joints != (takeoff.Joints{Copes: 4, Stops: 2}) {
		t.Fatalf("%+v", of)
	}
	steps := []finish.StepResult{{Job: "base, classroom", Step: "install"}}
	lines, err := labor.Lines(list, []takeoff.Room{room}, steps, byHand(), nil)
	if err != nil {
		t.Fatal(err)
	}
	base := workOf(t, lines, func(*labor.Line) bool { return true })
	if want := 4509375 * second / 1000; base != want { // 75.15625 min
		t.Errorf("%v, want %v", base, want)
	}
	total, err := labor.Total(lines)
	if err != nil || total != base+30*minute {
		t.Errorf("%v with set-up, %v", total, err)
	}

	closets := &takeoff.List{}
	steps = nil
	for _, name := range []string{"A", "B", "C", "D"} {
		closets.RoomTotals = append(closets.RoomTotals, takeoff.ProfileTotals{
			Profile: "base", Room: name, Net: of.Net / 4, Pieces: 4, Joints: takeoff.Joints{Copes: 3, Stops: 2},
		})
		steps = append(steps, finish.StepResult{Job: "base, " + name, Step: "install"})
	}
	if lines, err = labor.Lines(closets, nil, steps, byHand(), nil); err != nil {
		t.Fatal(err)
	}
	small := workOf(t, lines, func(*labor.Line) bool { return true })
	if want := 10389375 * second / 1000; small != want { // 173.15625 min
		t.Errorf("%v, want %v", small, want)
	}
	// To the last digit that was published.
	for _, x := range []struct {
		what        string
		got, digits int64
		want        int64
	}{
		{"room, ten-thousandths of an hour", int64(base), 10_000, 12526},
		{"room with set-up", int64(total), 10_000, 17526},
		{"room, thousandths of an hour per 100 ft", int64(base) * 100 / 48594 * 1000, 1000, 2578},
		{"closets, thousandths of an hour per 100 ft", int64(small) * 100 / 48594 * 1000, 1000, 5939},
	} {
		if got := (x.got*x.digits/int64(hour/10) + 5) / 10; got != x.want {
			t.Errorf("%s: %d, want %d", x.what, got, x.want)
		}
	}
}

// NAVEDTRA 14045 (Builder Advanced, 1997), chapter 2: 16,000 sq ft of drywall at 33 man-hours per 1,000 are 66.0 man-days;
// revised to 70, a crew of 12 with availability 0.75 and 7.5 productive hours takes 8.296 days, 9 in whole ones.
func TestDrywallManDays(t *testing.T) {
	r := labor.Rate{Event: labor.EventArea, Per: finish.AmountOf(1000 * measure.SquareFoot), Time: 33 * hour}
	d, err := r.For(finish.AmountOf(16000 * measure.SquareFoot))
	if err != nil || d != 66*8*hour {
		t.Fatalf("%v, %v", d, err)
	}
	crew := labor.Crew{People: 12, Availability: 75 * measure.Percent, Productive: 9375 * measure.Percent / 100}
	took, err := crew.Time(70 * 8 * hour)
	if err != nil || took.Days != 9 {
		t.Fatalf("%+v, %v", took, err)
	}
	if got := (int64(took.Working)*1000/int64(hour) + 4) / 8; got != 8296 { // thousandths of a day
		t.Errorf("%v is %d thousandths of a day", took.Working, got)
	}
	// A delay factor from a production efficiency of 63 % is 1.063, and revises 66.0 to 70.19.
	delay, err := labor.DelayFactor(63 * measure.Percent)
	if err != nil || delay != 1063492*measure.PartPerMillion {
		t.Fatalf("%v, %v", delay, err)
	}
	took, err = labor.Crew{Delay: delay}.Time(d)
	if got := (int64(took.Labor)*100/int64(hour) + 4) / 8; err != nil || got != 7019 { // hundredths of a man-day
		t.Errorf("%v is %d hundredths of a man-day, %v", took.Labor, got, err)
	}
	// Eight ratings whose mean is that.
	ratings := []measure.Ratio{60, 70, 50, 80, 55, 65, 60, 64}
	for i := range ratings {
		ratings[i] *= measure.Percent
	}
	if d, err := labor.DelayFactor(ratings...); err != nil || d != delay {
		t.Errorf("%v, %v", d, err)
	}
	// A day of 9 hours is 1.125 (NAVEDTRA 14233).
	if took, err := (labor.Crew{Productive: 1125 * measure.Percent / 10}).Time(9 * hour); err != nil || took.Working != 8*hour || took.Days != 1 {
		t.Errorf("%+v, %v", took, err)
	}
}

// Griffith (Carpentry, 1916): 150 sq ft an hour for the first coat, 90 for the second; 50 sq ft take 0.333 h and 0.556 h.
func TestCoatsByTheSquareFoot(t *testing.T) {
	for _, x := range []struct {
		perHour measure.Area
		want    measure.Duration
	}{{150, 20 * minute}, {90, 33*minute + 20*second}} {
		r := labor.Rate{Task: finish.TaskPaint, Event: labor.EventArea, Per: finish.AmountOf(x.perHour * measure.SquareFoot), Time: hour}
		if d, err := r.For(finish.AmountOf(50 * measure.SquareFoot)); err != nil || d.Hours()-x.want.Hours() > 1e-9 || d < x.want {
			t.Errorf("%v, %v, want %v", d, err, x.want)
		}
	}
}

// A preliminary estimate should come within 15 % (NAVEDTRA 14045).
func TestPreliminary(t *testing.T) {
	for _, x := range []struct {
		preliminary measure.Duration
		off         measure.Ratio
		within      bool
	}{
		{115 * hour, 15 * measure.Percent, true}, {85 * hour, 15 * measure.Percent, true}, {116 * hour, 16 * measure.Percent, false}, {100 * hour, 0, true},
	} {
		off, err := labor.Deviation(x.preliminary, 100*hour)
		if err != nil || off != x.off || (off <= labor.PreliminaryLimit) != x.within {
			t.Errorf("%v: %v, %v", x.preliminary, off, err)
		}
	}
	// Feet alone are no preliminary estimate for closets: they miss a factor of 2.3.
	if off, err := labor.Deviation(4509375*second, 10389375*second); err != nil || off <= labor.PreliminaryLimit {
		t.Errorf("%v, %v", off, err)
	}
}
