package main

import (
	"errors"

	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

// view is the subject of a report: one way to do the job, and the others.
type view struct {
	planned *estimate.Estimate // the job as planned, with its variants
	e       *estimate.Estimate // the chosen way
	label   string             // its label
	why     string             // the reason for the choice
}

// asPlanned is the label of the job itself among its variants.
const asPlanned = "as planned"

// choose returns the variant with a label, or the cheapest.
func choose(planned *estimate.Estimate, label string) (*view, error) {
	v := &view{planned: planned, e: planned, label: asPlanned, why: "the least for the whole job"}
	if label == asPlanned {
		v.why = "as asked for"
		return v, nil
	}
	for _, o := range planned.Variants {
		if o.Label == label {
			v.e, v.label, v.why = o.Estimate, o.Label, "as asked for"
			return v, nil
		}
		if label == "" && o.Estimate.Quote.Total < v.e.Quote.Total {
			v.e, v.label = o.Estimate, o.Label
		}
	}
	if label != "" {
		return nil, &measure.FieldError{Field: "-way", Value: label, Want: "the label of a variant, or " + asPlanned}
	}
	return v, nil
}

// cannotBeDone reports whether a fault concerns no value in the file: other sticks may do.
func cannotBeDone(bad *measure.FieldError) bool { return errors.As(bad, new(*takeoff.SpliceError)) }

// report writes everything in the order in which it is needed; the cautions come first.
func report(v *view, width int) string {
	p := &page{country: v.e.Job.Locale, width: width}
	p.line("%s", v.e.Job.Name)
	p.blank()
	reportCautions(p, v)
	reportDoubts(p, v)
	reportDecision(p, v)
	reportOrder(p, v)
	reportTakeoff(p, v)
	reportCuts(p, v)
	reportInstall(p, v)
	reportFinishing(p, v)
	reportTimes(p, v)
	reportCost(p, v)
	return p.b.String()
}

// tape formats a length as read off a tape, to the nearest sixteenth or millimeter. Lengths
// that follow from an angle are on no graduation; the plan uses the exact ones.
func (p *page) tape(l measure.Length) string {
	s := p.country.LengthStyle()
	s.MarkInexact = true
	return l.Format(s)
}

// nearest names the graduation of tape.
func (p *page) nearest() string {
	if !p.country.Metric {
		return "1/16 in"
	}
	return p.country.FormatLength(p.country.LengthStyle().Graduation)
}

// atLeast returns a reliable length of an offcut: the reading of the tape, rounded down.
func (p *page) atLeast(l measure.Length) measure.Length {
	return l.Round(p.country.LengthStyle().Graduation, measure.RoundDown)
}

func (p *page) about(l measure.Length) string { return p.country.About(l) }

func (p *page) money(minor int64) string { return p.country.FormatMoney(minor) }
