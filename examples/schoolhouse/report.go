package main

import "example.com/longpoint/measure"

// report says everything in the order in which the work is done; what may hurt comes
// before all of it.
func report(w *work) string {
	p := &page{country: w.job.Locale}
	p.line("%s", w.job.Name)
	p.blank()
	reportCautions(p, w)
	reportMeasurements(p, w)
	reportTakeoff(p, w)
	reportBuy(p, w)
	reportCuts(p, w)
	reportRack(p, w)
	reportFinishing(p, w)
	reportTimes(p, w)
	reportCost(p, w)
	return p.b.String()
}

// tape writes a length as someone reads it off a tape, to the nearest sixteenth or
// millimeter. Lengths that follow from an angle are on no tape's graduation; the
// plan was made with the exact ones.
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

// atLeast is an offcut as one can count on it: what the tape shows, rounded down.
func (p *page) atLeast(l measure.Length) measure.Length {
	return l.Round(p.country.LengthStyle().Graduation, measure.RoundDown)
}

func (p *page) about(l measure.Length) string { return p.country.About(l) }

func (p *page) money(minor int64) string { return p.country.FormatMoney(minor) }
