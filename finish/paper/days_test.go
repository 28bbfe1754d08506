package paper_test

import (
	"fmt"
	"io"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish/paper"
)

// oneStep is a sheet of one step on December 7.
func oneStep(from, to time.Time) *paper.DaySheets {
	return &paper.DaySheets{Days: []paper.DaySheet{{Date: date(2026, 12, 7), Rooms: []paper.Work{{Room: "R", Steps: []paper.Step{{Name: "Fit", From: from, To: to}}}}}}}
}

func asText(t *testing.T, p paperOf) string {
	t.Helper()
	return text(t, func(w io.Writer) error { return p.WriteText(w, 0) })
}

// Times are parts of the day for people; half an hour or less of another part is not mentioned.
func TestPartsOfTheDay(t *testing.T) {
	for _, c := range []struct {
		from, to time.Time
		want     string
	}{
		{at(7, 8, 0), at(7, 12, 0), "morning"},
		{at(7, 8, 0), at(7, 8, 0), "morning"},
		{at(7, 8, 0), at(7, 12, 30), "morning"},
		{at(7, 8, 0), at(7, 12, 31), "all day"},
		{at(7, 11, 30), at(7, 16, 0), "afternoon"},
		{at(7, 11, 29), at(7, 16, 0), "all day"},
		{at(7, 12, 0), at(7, 16, 0), "afternoon"},
		{at(7, 12, 0), at(7, 12, 0), "afternoon"},
		{at(7, 11, 40), at(7, 12, 20), "morning"},
		{at(7, 11, 50), at(7, 12, 20), "afternoon"},
		{at(7, 8, 0), at(7, 18, 20), "all day"},
		{at(7, 13, 0), at(7, 20, 0), "afternoon and evening"},
		{at(7, 17, 40), at(7, 22, 0), "evening"},
		{at(7, 18, 0), at(8, 0, 0), "evening"},
		{at(7, 0, 0), at(8, 0, 0), "all day and evening"},
		{at(7, 8, 0), at(7, 19, 0), "all day and evening"},
		{time.Time{}, time.Time{}, ""},
	} {
		got := asText(t, oneStep(c.from, c.to))
		want := "    [ ]  Fit\n"
		if c.want != "" {
			want = "    [ ]  " + c.want + "  Fit\n"
		}
		if !strings.Contains(got, want) {
			t.Errorf("from %v to %v: want %q in\n%s", c.from, c.to, want, got)
		}
		if c.want == "" {
			continue
		}
		s := oneStep(c.from, c.to)
		s.Minutes = true
		if got, want := asText(t, s), "  "+c.from.Format("15:04")+"-"+c.to.Format("15:04")+"  Fit\n"; !strings.Contains(got, want) {
			t.Errorf("want %q in\n%s", want, got)
		}
	}
}

// A step on a day when clocks are put back may end, by the clock, before it begins.
func TestClocksPutBack(t *testing.T) {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Skip("no data on zones: ", err)
	}
	from := time.Date(2026, 11, 1, 1, 50, 0, 0, zone)
	s := oneStep(from, from.Add(20*time.Minute)) // 1:10 on the clock
	s.Days[0].Date = date(2026, 11, 1)
	if got := asText(t, s); !strings.Contains(got, "[ ]  morning  Fit") {
		t.Error(got)
	}
}

// A wait is rounded up to the next quarter of an hour, by the day of the week for six days.
func TestDoNotTouchUntil(t *testing.T) {
	for _, c := range []struct {
		until time.Time
		style paper.DateStyle
		want  string
	}{
		{at(7, 14, 0), 0, "Mon 14:00"},
		{at(8, 10, 0), 0, "Tue 10:00"},
		{at(8, 10, 0).Add(1), 0, "Tue 10:15"},
		{at(8, 10, 14), 0, "Tue 10:15"},
		{at(8, 10, 15), 0, "Tue 10:15"},
		{at(8, 23, 46), 0, "Wed 00:00"},
		{at(13, 10, 0), 0, "Sun 10:00"},
		{at(14, 10, 0), 0, "Mon 2026-12-14, 10:00"},
		{at(13, 23, 59), 0, "Mon 2026-12-14, 00:00"},
		{at(6, 10, 0), 0, "Sun 2026-12-06, 10:00"},
		{at(14, 10, 0), paper.DateWords, "Mon, December 14, 2026, 10:00"},
		{at(14, 10, 0), paper.DateDayFirst, "Mon 14 December 2026, 10:00"},
		{time.Date(2026, 12, 8, 10, 0, 0, 0, time.FixedZone("", 5*3600+1800)), 0, "Tue 10:00"},
	} {
		s := &paper.DaySheets{Dates: c.style, Days: []paper.DaySheet{{Date: date(2026, 12, 7), Drying: []paper.Drying{{Label: "coat", Until: c.until}}}}}
		if got := asText(t, s); !strings.Contains(got, "  coat  "+c.want+"\n") {
			t.Errorf("%v: want %q in\n%s", c.until, c.want, got)
		}
	}
}

// Whatever the moment, the printed clock time is not before it, and less than a quarter of an hour
// later.
func TestWaitIsLongEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	clock := regexp.MustCompile(`coat +\w{3} (\d{4}-\d{2}-\d{2}), (\d{2}:\d{2})\n`)
	for range 500 {
		until := time.Date(2026, 1, 1, 0, 0, 0, int(r.Int64N(1e9)), time.UTC).Add(time.Duration(r.Int64N(int64(300 * 24 * time.Hour))))
		s := &paper.DaySheets{Days: []paper.DaySheet{{Date: date(2025, 1, 1), Drying: []paper.Drying{{Label: "coat", Until: until}}}}}
		m := clock.FindStringSubmatch(asText(t, s))
		if m == nil {
			t.Fatal(asText(t, s))
		}
		told, err := time.Parse("2006-01-02 15:04", m[1]+" "+m[2])
		if err != nil {
			t.Fatal(err)
		}
		if late := told.Sub(until); late < 0 || late >= 15*time.Minute {
			t.Errorf("%v is told as %v", until, told)
		}
	}
}

// Each caution comes before the step that it concerns, and all cautions of a day before everything
// else.
func TestCautionsStandFirst(t *testing.T) {
	s := week()
	for name, got := range map[string]string{"text": strings.Join(strings.Fields(asText(t, s)), " "), "page": strings.Join(strings.Fields(text(t, s.WriteHTML)), " ")} {
		after := 0
		for _, want := range []string{"December 7, 2026", "Nobody breaks off old base", "Sticks", "Take off the old base", "Never cross arms", "Full sequential trigger", "Case the doors",
			"December 8, 2026", "Never cross arms", "Fit the base", "As above", "Fit the base", "December 9, 2026", "Do not touch", "Until", "Thu 06:30", "Extract at the tool", "Sand", "Ventilate", "First coat"} {
			i := strings.Index(got[after:], want)
			if i < 0 {
				t.Fatalf("%s: %q is not after the previous text", name, want)
			}
			after += i + len(want)
		}
	}
	// A caution without a name is written out each time.
	step := paper.Step{Name: "Fit", Cautions: []paper.Caution{{Text: "Mind the stairs."}}}
	s = &paper.DaySheets{Days: []paper.DaySheet{{Date: date(2026, 12, 7), Rooms: []paper.Work{{Room: "R", Steps: []paper.Step{step, step}}}}}}
	if n := strings.Count(asText(t, s), "Mind the stairs."); n != 2 {
		t.Errorf("it stands %d times", n)
	}
}

// A document is written from its data and changes nothing of it.
func TestWritingChangesNothing(t *testing.T) {
	p, s := schoolhouse(), week()
	for range 2 {
		for _, d := range []paperOf{p, s} {
			asText(t, d)
			text(t, d.WriteHTML)
		}
	}
	if fmt.Sprint(p) != fmt.Sprint(schoolhouse()) || text(t, s.WriteJSON) != text(t, week().WriteJSON) {
		t.Error("it did")
	}
}

// Very long documents take no more than their length.
func TestManyRows(t *testing.T) {
	n := 100_000
	if testing.Short() {
		n = 2_000
	}
	p := schoolhouse()
	p.Scope = nil
	day := paper.DaySheet{Date: date(2026, 12, 7)}
	for i := range n {
		name := fmt.Sprint("number ", i)
		if i%100 == 0 {
			p.Scope = append(p.Scope, paper.Scope{Room: name})
			day.Rooms = append(day.Rooms, paper.Work{Room: name})
		}
		last := len(p.Scope) - 1
		p.Scope[last].Items = append(p.Scope[last].Items, paper.Item{Label: name})
		day.Rooms[last].Steps = append(day.Rooms[last].Steps, paper.Step{Name: name, Do: []string{"do"}})
		p.Included = append(p.Included, name)
		day.Bring.Sticks = append(day.Bring.Sticks, name)
	}
	for _, d := range []paperOf{p, &paper.DaySheets{Days: []paper.DaySheet{day}}} {
		for _, got := range []string{asText(t, d), text(t, d.WriteHTML)} {
			if m := strings.Count(got, fmt.Sprint("number ", n-1)); m < 2 || len(got) > 600*n {
				t.Errorf("the last text occurs %d times in %d bytes", m, len(got))
			}
		}
	}
}
