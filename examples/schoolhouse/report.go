package main

import "example.com/longpoint/measure"

// report says everything in the order in which the work is done; what may hurt comes
// before all of it.
func report(w *work) string {
	p := new(page)
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

// tape writes a length as someone reads it off a tape, to the nearest
// sixteenth. Lengths that follow from an angle are on no tape's graduation; the
// plan was made with the exact ones.
func tape(l measure.Length) string {
	return l.Format(measure.Style{Graduation: measure.Inch / 16, MarkInexact: true})
}
