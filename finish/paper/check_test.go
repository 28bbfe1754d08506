package paper_test

import (
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish/paper"
)

func TestProposalFaults(t *testing.T) {
	bad := "a\xffb"
	for _, c := range []struct {
		want string
		do   func(p *paper.Proposal)
	}{
		{"", func(*paper.Proposal) {}},
		{"title", func(p *paper.Proposal) { p.Title = bad }},
		{"number", func(p *paper.Proposal) { p.Number = bad }},
		{"until", func(p *paper.Proposal) { p.Until = date(2026, 11, 15) }},
		{"date", func(p *paper.Proposal) { p.Date = date(2026, 2, 30) }},
		{"until", func(p *paper.Proposal) { p.Until = date(2026, 13, 1) }},
		{"contractor.name client.lines[0]", func(p *paper.Proposal) { p.Contractor.Name, p.Client.Lines = bad, []string{" "} }},
		{"scope[1].room scope[1].items[0].label scope[1].items[0].length scope[1].items[0].grade scope[1].items[0].finish scope[1].items[0].work[1]", func(p *paper.Proposal) {
			p.Scope[1] = paper.Scope{Items: []paper.Item{{Length: -1, Grade: bad, Finish: bad, Work: []string{"x", ""}}}}
		}},
		{"included[0] excluded[1] notes[0] site[0]", func(p *paper.Proposal) {
			p.Included, p.Excluded, p.Notes, p.Site = []string{""}, []string{"x", bad}, []string{"\t"}, []string{""}
		}},
		{"price", func(p *paper.Proposal) { p.Price = -1 }},
		{"parts", func(p *paper.Proposal) { p.Parts[0].Amount++ }},
		{"parts[0].amount", func(p *paper.Proposal) { p.Parts[0].Amount = -1 }},
		{"parts", func(p *paper.Proposal) { p.Parts[0].Amount, p.Parts[1].Amount = math.MaxInt64, math.MaxInt64 }},
		{"payments", func(p *paper.Proposal) { p.Payments[2].Amount-- }},
		{"payments", func(p *paper.Proposal) { p.Taxes = nil }},
		{"payments", func(p *paper.Proposal) { p.Taxes[0].Amount++ }},
		{"payments[1].label payments[1].due payments[1].amount", func(p *paper.Proposal) { p.Payments[1] = paper.Payment{Due: date(2026, 0, 1), Amount: -5} }},
		{"payments[0].due", func(p *paper.Proposal) { p.Payments[0].Due = date(2026, 11, 15) }},
		{"", func(p *paper.Proposal) {
			p.Payments[0].Due, p.Date, p.Until = date(2026, 11, 15), date(0, 0, 0), date(0, 0, 0)
		}},
		{"taxes[0].label taxes[0].amount", func(p *paper.Proposal) { p.Taxes[0] = paper.Tax{Amount: -1} }},
		{"taxes", func(p *paper.Proposal) { p.Taxes[0].Amount = math.MaxInt64 }},
		{"allowances", func(p *paper.Proposal) { p.Allowances[0].Amount = p.Price }},
		{"allowances[1].label allowances[1].amount", func(p *paper.Proposal) { p.Allowances[1] = paper.Allowance{Amount: -1} }},
		{"alternates[0].label alternates[0].change", func(p *paper.Proposal) { p.Alternates[0] = paper.Alternate{Change: -p.Price - 1} }},
		{"", func(p *paper.Proposal) { p.Alternates[0].Change = -p.Price }},
		{"alternates[2].change", func(p *paper.Proposal) { p.Alternates[2].Change = math.MaxInt64 }},
		{"alternates[2].change", func(p *paper.Proposal) { p.Alternates[2].Change = math.MinInt64 }},
		{"change_rule", func(p *paper.Proposal) { p.ChangeRule = bad }},
		{"done", func(p *paper.Proposal) { p.Done = date(2026, 12, 6) }},
		{"lead[0].about lead[0].text cautions[0].text cautions[0].source", func(p *paper.Proposal) {
			p.Lead, p.Cautions = []paper.Caution{{About: bad}}, []paper.Caution{{Text: bad, Source: bad}}
		}},
		{"locale.currency.minor dates", func(p *paper.Proposal) { p.Locale.Currency.Minor, p.Dates = 7, 9 }},
	} {
		p := schoolhouse()
		c.do(p)
		same(t, c.want, p.Validate())
		nothingWritten(t, p, c.want != "")
	}
}

// same compares the fields at fault, in any order.
func same(t *testing.T, want string, err error) {
	t.Helper()
	got := fields(err)
	left := strings.Fields(want)
	for _, f := range got {
		found := false
		for i, w := range left {
			if w == f {
				left = append(left[:i], left[i+1:]...)
				found = true
				break
			}
		}
		if !found {
			t.Errorf("%s is at fault, want %q: %v", f, want, err)
		}
	}
	if len(left) > 0 {
		t.Errorf("%q are not at fault: %v", left, err)
	}
}

// nothingWritten verifies that nothing is written of a document with a fault.
func nothingWritten(t *testing.T, p paperOf, faulty bool) {
	t.Helper()
	for i, write := range []func(io.Writer) error{func(w io.Writer) error { return p.WriteText(w, 0) }, p.WriteHTML, p.WriteJSON} {
		var b strings.Builder
		if err := write(&b); (err != nil) != faulty || (b.Len() == 0) != faulty {
			t.Errorf("%d: %d bytes and %v", i, b.Len(), err)
		}
	}
}

func TestDaySheetFaults(t *testing.T) {
	bad := "a\xffb"
	step := func(s *paper.DaySheets) *paper.Step { return &s.Days[0].Rooms[0].Steps[0] }
	for _, c := range []struct {
		want string
		do   func(s *paper.DaySheets)
	}{
		{"", func(*paper.DaySheets) {}},
		{"title site[0] dates", func(s *paper.DaySheets) { s.Title, s.Site[0], s.Dates = bad, "", 3 }},
		{"days[0].date", func(s *paper.DaySheets) { s.Days[0].Date = date(0, 0, 0) }},
		{"days[0].date", func(s *paper.DaySheets) { s.Days[0].Date = date(2026, 11, 31) }},
		{"days[0].crew days[0].people", func(s *paper.DaySheets) { s.Days[0].Crew, s.Days[0].People = bad, -1 }},
		{"days[0].bring.sticks[0] days[0].bring.packages[1] days[0].bring.tools[0]", func(s *paper.DaySheets) {
			s.Days[0].Bring = paper.Load{Sticks: []string{""}, Packages: []string{"x", ""}, Tools: []string{bad}}
		}},
		{"days[0].rooms[0].room", func(s *paper.DaySheets) { s.Days[0].Rooms[0].Room = "" }},
		{"days[0].rooms[0].steps[0].name days[0].rooms[0].steps[0].do[0] days[0].rooms[0].steps[0].notes[0]", func(s *paper.DaySheets) { *step(s) = paper.Step{Do: []string{""}, Notes: []string{""}} }},
		{"days[0].rooms[0].steps[0].from", func(s *paper.DaySheets) { step(s).From = at(6, 23, 0) }},
		{"days[0].rooms[0].steps[0].from", func(s *paper.DaySheets) { step(s).From = time.Time{} }},
		{"days[0].rooms[0].steps[0].to", func(s *paper.DaySheets) { step(s).To = time.Time{} }},
		{"days[0].rooms[0].steps[0].to", func(s *paper.DaySheets) { step(s).To = at(7, 7, 59) }},
		{"days[0].rooms[0].steps[0].to", func(s *paper.DaySheets) { step(s).To = at(8, 0, 1) }},
		{"", func(s *paper.DaySheets) { step(s).To = at(8, 0, 0) }},
		{"days[0].rooms[0].steps[0].to", func(s *paper.DaySheets) { step(s).To = at(9, 0, 0) }},
		{"days[0].rooms[0].steps[0].from days[0].rooms[0].steps[0].to", func(s *paper.DaySheets) {
			step(s).From, step(s).To = time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(-1, 1, 1, 0, 0, 0, 0, time.UTC)
		}},
		{"days[0].cautions[0].text days[0].rooms[0].steps[0].cautions[0].text", func(s *paper.DaySheets) {
			s.Days[0].Cautions, step(s).Cautions = []paper.Caution{{}}, []paper.Caution{{}}
		}},
		{"days[2].drying[0].label days[2].drying[0].until", func(s *paper.DaySheets) { s.Days[2].Drying[0] = paper.Drying{} }},
		{"days[2].notes[0]", func(s *paper.DaySheets) { s.Days[2].Notes = []string{"  "} }},
	} {
		s := week()
		c.do(s)
		same(t, c.want, s.Validate())
		nothingWritten(t, s, c.want != "")
	}
}

// However many faults there are, a hundred are reported.
func TestFaultsAreBounded(t *testing.T) {
	p := &paper.Proposal{Included: make([]string, 1000)}
	s := &paper.DaySheets{Days: make([]paper.DaySheet, 1000)}
	for _, err := range []error{p.Validate(), s.Validate()} {
		if n := len(fields(err)); n != 100 {
			t.Errorf("%d faults", n)
		}
	}
}

// A schedule of payments is taken exactly if it adds up to the price and its taxes, for any
// amounts: one cent more or less is not.
func TestPaymentsAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		p := &paper.Proposal{Price: r.Int64N(1 << r.IntN(60))}
		total := p.Price
		for range r.IntN(3) {
			tax := r.Int64N(1 << r.IntN(50))
			p.Taxes = append(p.Taxes, paper.Tax{Label: "tax", Amount: tax})
			total += tax
		}
		left := total
		for range r.IntN(5) {
			a := r.Int64N(left + 1)
			p.Payments = append(p.Payments, paper.Payment{Label: "then", Amount: a})
			left -= a
		}
		p.Payments = append(p.Payments, paper.Payment{Label: "at last", Amount: left})
		if got, ok := p.Total(); got != total || !ok {
			t.Fatalf("the total is %d, want %d", got, total)
		}
		if err := p.Validate(); err != nil {
			t.Fatal(err)
		}
		p.Payments[r.IntN(len(p.Payments))].Amount++
		same(t, "payments", p.Validate())
	}
}

func TestTotal(t *testing.T) {
	for _, c := range []struct {
		price int64
		taxes []int64
		want  int64
		ok    bool
	}{
		{0, nil, 0, true}, {5, []int64{1, 2}, 8, true}, {-1, nil, 0, false}, {1, []int64{-1}, 0, false}, {math.MaxInt64, []int64{0}, math.MaxInt64, true}, {math.MaxInt64, []int64{1}, 0, false},
	} {
		p := paper.Proposal{Price: c.price}
		for _, a := range c.taxes {
			p.Taxes = append(p.Taxes, paper.Tax{Label: "tax", Amount: a})
		}
		if got, ok := p.Total(); got != c.want || ok != c.ok {
			t.Errorf("%+v: %d, %v", c, got, ok)
		}
	}
}

func TestTextWidths(t *testing.T) {
	for width, ok := range map[int]bool{-1: false, 0: true, 1: false, 31: false, 32: true, 1000: true, 1001: false, math.MaxInt: false, math.MinInt: false} {
		for _, p := range []paperOf{schoolhouse(), week()} {
			var b strings.Builder
			err := p.WriteText(&b, width)
			if got := strings.Join(fields(err), " "); (err == nil) != ok || !ok && got != "width" {
				t.Errorf("width %d: %v", width, err)
			}
		}
	}
}
