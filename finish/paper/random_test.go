package paper_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/finish/paper"
	"example.com/longpoint/measure"
	"pgregory.net/rapid"
)

// maker makes up documents.
type maker struct{ *rapid.T }

func (m maker) n(most int) int { return rapid.IntRange(0, most).Draw(m.T, "n") }

func (m maker) text() string {
	return rapid.SampledFrom([]string{"base", `casing, 3-1/2"`, "a longer text of several words, which has to be broken", "שלום", "窓枠"}).Draw(m.T, "text")
}

func (m maker) maybe() string {
	if rapid.Bool().Draw(m.T, "none") {
		return ""
	}
	return m.text()
}

func (m maker) texts() []string { return some(m, 3, m.text) }

func some[T any](m maker, most int, one func() T) (all []T) {
	for range m.n(most) {
		all = append(all, one())
	}
	return all
}

func (m maker) amount() int64 { return rapid.Int64Range(0, 1e9).Draw(m.T, "amount") }

func (m maker) caution() paper.Caution {
	return paper.Caution{About: m.maybe(), Text: m.text(), Source: m.maybe()}
}

func (m maker) proposal() *paper.Proposal {
	p := &paper.Proposal{
		Title: m.maybe(), Number: m.maybe(), Client: paper.Party{Name: m.maybe(), Lines: m.texts()}, Site: m.texts(),
		Scope: some(m, 3, func() paper.Scope {
			return paper.Scope{Room: m.text(), Items: some(m, 3, func() paper.Item {
				return paper.Item{Label: m.text(), Length: measure.Length(m.n(3)) * measure.Foot, Grade: m.maybe(), Finish: m.maybe(), Work: m.texts()}
			})}
		}),
		Included: m.texts(), Excluded: m.texts(), Notes: m.texts(), Price: m.amount(),
		Alternates: some(m, 2, func() paper.Alternate { return paper.Alternate{Label: m.text(), Change: m.amount()} }),
		Taxes:      some(m, 2, func() paper.Tax { return paper.Tax{Label: m.text(), Amount: m.amount()} }),
		Lead:       some(m, 2, m.caution), Cautions: some(m, 2, m.caution), Dates: paper.DateStyle(m.n(2)),
	}
	if left, ok := p.Total(); ok {
		for range m.n(2) {
			a := rapid.Int64Range(0, left).Draw(m.T, "payment")
			p.Payments, left = append(p.Payments, paper.Payment{Label: m.text(), Amount: a}), left-a
		}
		if p.Payments != nil {
			p.Payments = append(p.Payments, paper.Payment{Label: m.text(), Due: date(2026, 12, 1), Amount: left})
		}
	}
	return p
}

func (m maker) sheets() *paper.DaySheets {
	return &paper.DaySheets{Title: m.maybe(), Site: m.texts(), Minutes: rapid.Bool().Draw(m.T, "minutes"), Dates: paper.DateStyle(m.n(2)), Days: some(m, 3, func() paper.DaySheet {
		return paper.DaySheet{
			Date: date(2026, 12, 7), Crew: m.maybe(), People: int64(m.n(2)), Cautions: some(m, 2, m.caution), Notes: m.texts(),
			Bring: paper.Load{Sticks: m.texts(), Packages: m.texts(), Tools: m.texts()},
			Rooms: some(m, 3, func() paper.Work {
				return paper.Work{Room: m.text(), Steps: some(m, 3, func() paper.Step {
					st := paper.Step{Name: m.text(), Cautions: some(m, 2, m.caution), Do: m.texts(), Notes: m.texts()}
					if from := m.n(24 * 60); rapid.Bool().Draw(m.T, "timed") && from < 24*60 {
						st.From = at(7, 0, from)
						st.To = st.From.Add(time.Duration(m.n(24*60-from)) * time.Minute)
					}
					return st
				})}
			}),
			Drying: some(m, 2, func() paper.Drying {
				return paper.Drying{Room: m.maybe(), Label: m.text(), Until: at(m.n(30), m.n(23), m.n(59))}
			}),
		}
	})}
}

// Whichever parts of a document are present, the page is well-formed, the text fits, and
// the JSON reads back the same.
func TestAnyDocument(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		m := maker{rt}
		p, s := m.proposal(), m.sheets()
		for _, d := range []paperOf{p, s} {
			if err := d.Validate(); err != nil {
				rt.Fatal(err)
			}
			accessible(t, "any", text(t, d.WriteHTML))
			fits(t, d, rapid.IntRange(32, 100).Draw(rt, "width"))
		}
		again, err := paper.ReadProposal(strings.NewReader(text(t, p.WriteJSON)))
		if err != nil || !reflect.DeepEqual(again, p) {
			rt.Errorf("%v: %+v", err, again)
		}
		days, err := paper.ReadDaySheets(strings.NewReader(text(t, s.WriteJSON)))
		if err != nil || text(t, days.WriteJSON) != text(t, s.WriteJSON) {
			rt.Errorf("%v: %+v", err, days)
		}
	})
}
