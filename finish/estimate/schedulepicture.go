package estimate

import (
	"cmp"
	"io"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/svg"
)

// mostDays is the greatest length of a schedule, a little more than ten years.
const mostDays = 3700

// SchedulePicture draws a schedule: a row for each kind of work of a crew, with its number of
// times, and the days and hours of work along the top. Nights and days off are drawn narrow and
// shaded, drying is hatched, each crew has a number, and critical work has a thick outline.
//
// The errors are a [*measure.FieldError] for a nil schedule, for a calendar without working
// hours on its days, for a slot that ends before it starts or lies outside ten years from the
// first (schedule.slots[3].end), and for each invalid option, joined, and that of w.
func SchedulePicture(w io.Writer, s *schedule.Schedule, cal schedule.Calendar, o *PictureOptions) error {
	var bad fault.List
	opts, err := o.filled()
	bad.Under("", err)
	if s == nil {
		bad.Add("schedule", "nil", "a schedule")
	} else {
		checkSlots(&bad, s)
	}
	if err := bad.Err(); err != nil {
		return err
	}
	d := scheduleDrawing{s: s, cal: cal, o: &opts}
	d.draw()
	_, err = d.p.WriteTo(w)
	return err
}

// checkSlots reports slots that cannot be drawn.
func checkSlots(bad *fault.List, s *schedule.Schedule) {
	if len(s.Slots) == 0 {
		return
	}
	first := s.Slots[0].Start
	for i := range s.Slots {
		if t := s.Slots[i].Start; t.Before(first) {
			first = t
		}
	}
	last := first.AddDate(0, 0, mostDays)
	for i := range s.Slots {
		slot := &s.Slots[i]
		at := "schedule." + fault.At("slots", i)
		if slot.End.Before(slot.Start) || slot.End.After(last) {
			bad.Add(at+".end", slot.End.Format(time.RFC3339), "a time from its start on, within ten years of the first")
		}
		if slot.Dry.After(last) {
			bad.Add(at+".dry", slot.Dry.Format(time.RFC3339), "a time within ten years of the first start")
		}
	}
}

type scheduleDrawing struct {
	s     *schedule.Schedule
	cal   schedule.Calendar
	o     *PictureOptions
	p     *svg.Picture
	names svg.Unit // width of the names beside the bars; zero if they are above

	days []workday
	loc  *time.Location
	at   []mark // times and their positions, ascending
}

// workday is a day of the picture; a day off is open for no time.
type workday struct {
	open, end time.Time
	works     bool
}

// mark is a time and its position.
type mark struct {
	t time.Time
	x svg.Unit
}

const mostRows = 300 // greatest number drawn

func (d *scheduleDrawing) draw() {
	var y svg.Unit
	d.p, y = svg.Titled(d.o.Width, "The schedule", d.words())
	if len(d.s.Slots) == 0 {
		d.p.Paragraph(y, "Nothing is to be done.", svg.Normal, false)
		return
	}
	d.loc = d.cal.Start.Location()
	y = d.p.Paragraph(y, d.summary(), svg.Normal, false) + 2*svg.One
	y = d.p.Legend(y, []svg.Entry{
		{Style: svg.Style{Fill: svg.Wood, Stroke: svg.Ink}, Text: "work, with its crew"},
		{Style: svg.Style{Fill: svg.Wood, Stroke: svg.Ink, Width: 200}, Text: "critical: a delay here delays the end"},
		{Style: svg.Style{Fill: svg.Paper, Stroke: svg.Quiet}, Hatch: svg.HatchRising, Text: "drying"},
		{Style: svg.Style{Fill: svg.Shade}, Text: "nights and days off"},
	}) + 8*svg.One
	if d.p.Width() >= wideLabels {
		d.names = 232 * svg.One
	}
	d.layOut()
	head := y
	y = d.top(y)
	rows := d.rows()
	more := len(rows) - mostRows
	rows = rows[:min(len(rows), mostRows)]
	y = d.write(y, rows) + 2*svg.One
	d.shade(head+svg.HeightOf(svg.Small), y+barHigh)
	end, lines := d.moments(y)
	for i := range rows {
		d.bars(&rows[i])
	}
	y = end + 6*svg.One
	for i, line := range lines {
		if i == mostRows {
			y = d.p.Paragraph(y, "and "+strconv.Itoa(len(lines)-i)+" more days like these", svg.Small, false)
			break
		}
		y = d.p.Paragraph(y, line, svg.Small, false)
	}
	if more > 0 {
		d.p.Paragraph(y+2*svg.One, "and "+strconv.Itoa(more)+" more kinds of work", svg.Small, false)
	}
}

// order returns the slots by crew, those without a crew last, then by start.
func (d *scheduleDrawing) order() []*schedule.Slot {
	out := make([]*schedule.Slot, len(d.s.Slots))
	for i := range d.s.Slots {
		out[i] = &d.s.Slots[i]
	}
	slices.SortStableFunc(out, func(a, b *schedule.Slot) int {
		return cmp.Or(cmp.Compare(uint64(a.Crew)-1, uint64(b.Crew)-1), a.Start.Compare(b.Start)) // 0 comes last
	})
	return out
}

// layOut finds the days and the position of each time: working hours to scale, nights narrow.
func (d *scheduleDrawing) layOut() {
	first, last := d.s.Slots[0].Start, d.s.Slots[0].End
	for i := range d.s.Slots {
		s := &d.s.Slots[i]
		if s.Start.Before(first) {
			first = s.Start
		}
		for _, t := range [...]time.Time{s.End, s.Dry} {
			if t.After(last) {
				last = t
			}
		}
	}
	first, last = first.In(d.loc), last.In(d.loc)
	y, m, day := first.Date()
	works := 0
	for n := 0; n <= mostDays+1; n++ {
		noon := time.Date(y, m, day+n, 12, 0, 0, 0, d.loc)
		w := workday{}
		if w.open, w.end, w.works = d.cal.Hours(schedule.DateOf(noon)); !w.works {
			w.open, w.end = noon, noon
		} else {
			works++
		}
		d.days = append(d.days, w)
		if !w.end.Before(last) {
			break
		}
	}
	left, right := d.p.Left()+d.names, d.p.Right()
	gaps := svg.Unit(len(d.days) + 1)
	gap := min(5*svg.One, (right-left)/(4*gaps))
	hours := time.Duration(0)
	for _, w := range d.days {
		hours += w.end.Sub(w.open)
	}
	x, passed := left, time.Duration(0)
	d.at = append(d.at, mark{time.Date(y, m, day, 0, 0, 0, 0, d.loc), x})
	for i, w := range d.days {
		x = left + gap*svg.Unit(i+1) + portion(int64(passed), int64(hours), right-left-gap*gaps)
		d.at = append(d.at, mark{w.open, x})
		passed += w.end.Sub(w.open)
		x = left + gap*svg.Unit(i+1) + portion(int64(passed), int64(hours), right-left-gap*gaps)
		d.at = append(d.at, mark{w.end, x})
	}
	end := d.days[len(d.days)-1].end
	if last.After(end) {
		end = last
	}
	d.at = append(d.at, mark{end.Add(time.Hour), right})
}

// x returns the position of a time.
func (d *scheduleDrawing) x(t time.Time) svg.Unit {
	i := sort.Search(len(d.at), func(i int) bool { return d.at[i].t.After(t) })
	switch {
	case i == 0:
		return d.at[0].x
	case i == len(d.at):
		return d.at[i-1].x
	}
	a, b := d.at[i-1], d.at[i]
	return a.x + portion(int64(t.Sub(a.t)), int64(b.t.Sub(a.t)), b.x-a.x)
}

// hourly is the width of a day from which hours are written.
const hourly = 46 * svg.One

// top writes the days and, if there is room, the hours.
func (d *scheduleDrawing) top(y svg.Unit) svg.Unit {
	h := svg.HeightOf(svg.Small)
	week := -1
	for i, w := range d.days {
		if !w.works {
			continue
		}
		a, b := d.at[2*i+1].x, d.at[2*i+2].x
		t := w.open.In(d.loc)
		_, n := t.ISOWeek()
		text := svg.Text{At: svg.Point{X: a, Y: y + h/2}, S: t.Format("Mon 2 Jan"), Anchor: svg.Start}
		if n != week || b-a > svg.WidthOf(text.S, svg.Small) {
			if !d.p.Label(text) {
				text.S = t.Format("2 Jan")
				d.p.Label(text)
			}
		}
		week = n
		switch {
		case b-a >= hourly:
			for hour := t.Truncate(time.Hour); hour.Before(w.end); hour = hour.Add(2 * time.Hour) {
				if !hour.Before(w.open) {
					d.p.Label(svg.Text{At: svg.Point{X: d.x(hour), Y: y + h + h/2}, S: strconv.Itoa(hour.In(d.loc).Hour())})
				}
			}
		default:
			d.p.Label(svg.Text{At: svg.Point{X: (a + b) / 2, Y: y + h + h/2}, S: t.Format("2")})
		}
	}
	return y + 2*h + 3*svg.One
}

const barHigh = 13 * svg.One

// moment reports whether an activity takes neither time nor people, such as a delivery, of
// which only the day is shown.
func moment(s *schedule.Slot) bool {
	return s.Crew <= 0 && s.End.Equal(s.Start) && !s.Dry.After(s.End)
}

// moments draws all of them in one lane, and lists them below by day.
func (d *scheduleDrawing) moments(y svg.Unit) (end svg.Unit, lines []string) {
	var row []svg.Point
	var day string
	var names []string
	for _, s := range d.order() {
		if !moment(s) {
			continue
		}
		row = append(row, svg.Point{X: min(d.x(s.Start), d.p.Right()-3*svg.One), Y: y + barHigh/2})
		name := short(s.Name)
		switch {
		case s.Job != "" && s.Name == "delivery":
			name += " of " + short(s.Job)
		case s.Job != "":
			name = short(s.Job) + ": " + name
		}
		if on := s.Start.In(d.loc).Format("Mon 2 Jan"); on != day {
			lines = appendDay(lines, day, names)
			day, names = on, nil
		}
		names = append(names, name)
	}
	lines = appendDay(lines, day, names)
	if row == nil {
		return y, nil
	}
	if d.names > 0 {
		d.p.Put(svg.Text{At: svg.Point{X: d.p.Left(), Y: y + barHigh/2}, S: "deliveries and ends, see below", Anchor: svg.Start})
	}
	for i, q := range row {
		if i > 0 && q == row[i-1] {
			continue
		}
		const half = 4 * svg.One
		d.p.Polygon([]svg.Point{q.Add(0, -half), q.Add(half, 0), q.Add(0, half), q.Add(-half, 0)}, svg.Style{Fill: svg.Ink})
	}
	return y + barHigh + 2*svg.One, lines
}

// appendDay lists the events of a day, each once: an event of all rooms is not also listed
// before.
func appendDay(lines []string, day string, names []string) []string {
	if len(names) == 0 {
		return lines
	}
	said := make(map[string]bool)
	for _, n := range names {
		if of, all := strings.CutSuffix(n, " done in all rooms"); all {
			said[of] = true
		}
	}
	text := day + ":"
	for _, n := range names {
		if said[n] || len(text) > 2000 {
			continue
		}
		said[n] = true
		text += " " + n + ","
	}
	return append(lines, strings.TrimSuffix(text, ","))
}

// row is the work of one kind of one crew, in any number of rooms.
type row struct {
	slots []*schedule.Slot
	y     svg.Unit
}

// rows groups the work of a crew by kind, in the order in which each kind begins.
func (d *scheduleDrawing) rows() []row {
	type kind struct {
		crew      int64
		name, job string
	}
	at := make(map[kind]int)
	var rows []row
	for _, s := range d.order() {
		if moment(s) {
			continue
		}
		of := kind{s.Crew, s.Name, s.Job}
		n, known := at[of]
		if !known {
			n = len(rows)
			at[of] = n
			rows = append(rows, row{})
		}
		rows[n].slots = append(rows[n].slots, s)
	}
	return rows
}

// name describes the work of a row, and the number of rooms.
func (r *row) name() string {
	s := r.slots[0]
	text := short(s.Name)
	if s.Job != "" {
		text = short(s.Job) + ": " + text
	}
	switch n := len(r.slots); {
	case n > 1:
		return text + " (" + strconv.Itoa(n) + ")"
	case s.Room != "":
		return text + ", " + short(s.Room)
	}
	return text
}

// write writes the names of rows below each other, sets the position of each, and returns where
// the last ends.
func (d *scheduleDrawing) write(y svg.Unit, rows []row) svg.Unit {
	crew := int64(-1)
	for i := range rows {
		r := &rows[i]
		if s := r.slots[0]; s.Crew != crew {
			crew = s.Crew
			y = d.p.Paragraph(y+3*svg.One, d.crew(s), svg.Small, true) + 2*svg.One
		}
		if d.names > 0 {
			d.p.Put(svg.Text{At: svg.Point{X: d.p.Left(), Y: y + barHigh/2}, S: svg.Clip(r.name(), svg.Small, d.names-6*svg.One), Anchor: svg.Start})
		} else {
			d.p.Put(svg.Text{At: svg.Point{X: d.p.Left(), Y: y + svg.HeightOf(svg.Small)/2}, S: svg.Clip(r.name(), svg.Small, d.p.Right()-d.p.Left()), Anchor: svg.Start, Plate: true})
			y += svg.HeightOf(svg.Small)
		}
		r.y = y
		y += barHigh + 2*svg.One
	}
	return y
}

// crew names the crew of a slot.
func (d *scheduleDrawing) crew(s *schedule.Slot) string {
	if s.Crew <= 0 {
		return "Without a crew"
	}
	number := strconv.FormatInt(s.Crew, 10)
	if s.CrewName == "" || s.CrewName == number {
		return "Crew " + number
	}
	return "Crew " + number + ": " + svg.Clip(s.CrewName, svg.Small, 60*svg.Small)
}

// shade draws the nights and days off from y down to end.
func (d *scheduleDrawing) shade(y, end svg.Unit) {
	var hours []svg.Point
	for i := 0; i+1 < len(d.at); i += 2 { // from the end of a day to the beginning of the next
		from, to := d.at[i].x, d.at[i+1].x
		for i+3 < len(d.at) && d.at[i+2].x == d.at[i+1].x { // days off, one after the other
			i += 2
			to = d.at[i+1].x
		}
		if to > from {
			d.p.Rect(svg.Box{X: from, Y: y, W: to - from, H: end - y}, svg.Style{Fill: svg.Shade})
		}
	}
	for i, w := range d.days {
		if w.works && d.at[2*i+2].x-d.at[2*i+1].x >= hourly {
			for hour := w.open.Truncate(time.Hour).Add(2 * time.Hour); hour.Before(w.end); hour = hour.Add(2 * time.Hour) {
				hours = append(hours, svg.Point{X: d.x(hour), Y: y + svg.HeightOf(svg.Small)}, svg.Point{X: d.x(hour), Y: end})
			}
		}
	}
	d.p.Lines(hours, gridStyle)
}

// mostBars is the greatest number of bars of a row that are drawn individually, however narrow.
const mostBars = 300

// bars draws the work of a row, over its drying.
func (d *scheduleDrawing) bars(r *row) {
	for i, s := range r.slots {
		if i >= 10*mostBars {
			break
		}
		if b := d.x(s.End); s.Dry.After(s.End) {
			dry := svg.Box{X: b, Y: r.y + 3*svg.One, W: d.x(s.Dry) - b, H: barHigh - 6*svg.One}
			d.p.Rect(dry, svg.Style{Fill: svg.Paper, Stroke: svg.Quiet, Width: 50})
			d.p.Hatch(dry.Corners(), svg.HatchRising, fineHatch)
		}
	}
	drawn := svg.Unit(-1)
	for _, s := range r.slots {
		a, b := d.x(s.Start), d.x(s.End)
		box := svg.Box{X: a, Y: r.y, W: max(b-a, svg.One), H: barHigh}
		box.X = min(box.X, d.p.Right()-box.W)
		if len(r.slots) > mostBars && box.X+box.W < drawn+svg.One/2 { // too close to distinguish
			continue
		}
		drawn = box.X + box.W
		style := svg.Style{Fill: svg.Wood, Stroke: svg.Ink}
		if s.Critical {
			style.Width = 200
		}
		d.p.Group(d.said(s))
		d.p.Rect(box, style)
		d.p.End()
		if n := strconv.FormatInt(s.Crew, 10); s.Crew > 0 && svg.WidthOf(n, svg.Small)+2*svg.One < box.W {
			d.p.Label(svg.Text{At: svg.Point{X: box.X + box.W/2, Y: r.y + barHigh/2}, S: n, Bold: true})
		}
	}
}

// short truncates a text to the room in a picture.
func short(s string) string { return svg.Clip(s, svg.Small, 60*svg.Small) }

// said describes a slot: the work, the room, the time and the crew.
func (d *scheduleDrawing) said(s *schedule.Slot) string {
	text := short(s.Name)
	for _, more := range [...]string{s.Job, s.Room} {
		if more != "" {
			text += ", " + short(more)
		}
	}
	return text + ": " + s.HalfDays() + ", " + d.crew(s)
}

// summary says when the work ends.
func (d *scheduleDrawing) summary() string {
	text := "Done " + d.s.Done.In(d.loc).Format("Mon 2 Jan 2006, 15:04")
	if d.s.Proven {
		return text + ": no schedule is done earlier."
	}
	if d.s.Bound.Before(d.s.Done) && !d.s.Bound.IsZero() {
		return text + ": no schedule is done before " + d.s.Bound.In(d.loc).Format("Mon 2 Jan 2006, 15:04") + "."
	}
	return text + "."
}

func (d *scheduleDrawing) words() string {
	if len(d.s.Slots) == 0 {
		return "Nothing is to be done."
	}
	d.loc = d.cal.Start.Location()
	text := d.summary() + " "
	for i, s := range d.order() {
		if i == 60 {
			return text + "And " + strconv.Itoa(len(d.s.Slots)-i) + " more."
		}
		text += d.said(s) + ". "
	}
	return text
}
