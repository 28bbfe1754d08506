package paper

import (
	"cmp"
	"io"
	"slices"
	"strconv"
)

// WriteText writes the sheets as UTF-8, in lines of at most width cells of a terminal; 0
// means 80, and less than 32 or more than 1000 is a *[measure.FieldError]. A form feed
// precedes each sheet except the first.
func (s *DaySheets) WriteText(w io.Writer, width int) error {
	if s == nil {
		s = new(DaySheets)
	}
	if err := s.Validate(); err != nil {
		return err
	}
	t, err := newTextPen(width)
	if err != nil {
		return err
	}
	s.write(t)
	return t.to(w)
}

// WriteHTML writes the sheets as one page of HTML like that of [Proposal.WriteHTML]. In
// print, each sheet begins on a new page, and if it takes several pages, all of them show
// the day and the crew. The boxes can be ticked on paper or on a screen.
func (s *DaySheets) WriteHTML(w io.Writer) error {
	if s == nil {
		s = new(DaySheets)
	}
	if err := s.Validate(); err != nil {
		return err
	}
	title := cmp.Or(s.Title, usualDayTitle)
	h := newPagePen(title, title)
	s.write(h)
	return h.to(w)
}

func (s *DaySheets) write(to pen) {
	to.title(cmp.Or(s.Title, usualDayTitle), s.Site)
	for i := range s.Days {
		s.day(to, &s.Days[i], i == 0)
	}
}

func (s *DaySheets) day(to pen, d *DaySheet, first bool) {
	crew := crewWords(d)
	to.day(s.Dates.long(d.Date), crew, first)
	to.care(append(slices.Clone(d.Cautions), Caution{About: "Always", Text: usualCrewCaution}))
	s.drying(to, d)
	d.bring(to)
	s.work(to, d, joined(s.Dates.short(d.Date), crew))
	if len(d.Notes) > 0 {
		to.section("Notes", len(d.Notes) <= wholeRows)
		for _, n := range d.Notes {
			to.para(n, false)
		}
		to.end()
	}
	to.end()
}

// crewWords describes the crew.
func crewWords(d *DaySheet) string {
	switch {
	case d.People == 1:
		return joined(d.Crew, "1 person")
	case d.People > 1:
		return joined(d.Crew, strconv.FormatInt(d.People, 10)+" people")
	}
	return d.Crew
}

func (d *DaySheet) bring(to pen) {
	n := len(d.Bring.Sticks) + len(d.Bring.Packages) + len(d.Bring.Tools)
	if n == 0 {
		return
	}
	to.section("Bring", n <= 2*wholeRows)
	var all []list
	for _, l := range []list{{"Sticks", d.Bring.Sticks}, {"Packages", d.Bring.Packages}, {"Tools", d.Bring.Tools}} {
		if len(l.items) > 0 {
			all = append(all, l)
		}
	}
	to.lists(all, true)
	to.end()
}

// work writes the steps. A caution that precedes an earlier step, or the day, is named
// again, but not repeated in full.
func (s *DaySheets) work(to pen, d *DaySheet, caption string) {
	t := table{caption: caption, columns: []column{{"Done", columnTick, false}, {"When", columnShort, false}, {"Work", columnText, false}}}
	told := map[Caution]bool{}
	for _, c := range d.Cautions {
		told[c] = true
	}
	for i := range d.Rooms {
		room := &d.Rooms[i]
		g := group{heading: room.Room}
		for k := range room.Steps {
			st := &room.Steps[k]
			when := ""
			switch {
			case st.From.IsZero():
			case s.Minutes:
				when = clock(st.From) + "-" + clock(st.To)
			default:
				when = partOfDay(st.From, st.To)
			}
			r := row{cells: []cell{{box: "done: " + room.Room + ", " + st.Name}, {text: when}, {text: st.Name, strong: true, lines: st.Notes, ticks: st.Do}}}
			for _, c := range st.Cautions {
				if told[c] && c.About != "" {
					c = Caution{About: c.About, Text: "As above."}
				}
				told[c] = true
				r.before = append(r.before, c)
			}
			g.rows = append(g.rows, r)
		}
		t.groups = append(t.groups, g)
	}
	if len(t.groups) == 0 {
		return
	}
	t.withoutEmpty()
	to.section("Work", false)
	to.table(&t)
	to.end()
}

func (s *DaySheets) drying(to pen, d *DaySheet) {
	if len(d.Drying) == 0 {
		return
	}
	t := table{columns: []column{{"Room", columnText, false}, {"What", columnText, false}, {"Until", columnShort, true}}}
	var g group
	for _, w := range d.Drying {
		g.rows = append(g.rows, row{cells: words(w.Room, w.Label, s.Dates.until(d.Date, w.Until))})
	}
	t.groups = []group{g}
	t.withoutEmpty()
	to.section("Do not touch", len(g.rows) <= wholeRows)
	to.table(&t)
	to.end()
}
