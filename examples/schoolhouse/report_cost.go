package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock/takeoff"
)

func reportFinishing(p *page, w *work) {
	p.heading("Finishing list")
	list := w.chosen.done
	rows := [][]string{{"", "need", "on hand", "over", "cost"}}
	for _, b := range list.Purchases {
		over := b.Left
		if n, counted := b.Need.Pieces(); counted { // nobody has a third of a nail over
			have, _ := b.Bought.Pieces()
			used, _ := b.Used.Pieces()
			over = finish.Count(have + used - n)
		}
		rows = append(rows, []string{b.Product, p.amountText(b.Need), p.amountText(b.Used), p.amountText(over), p.money(b.Cost)})
		for _, l := range b.Lines {
			rows = append(rows, []string{fmt.Sprintf("%d x %s at %s", l.Count, l.Package, p.money(l.Price))})
		}
	}
	rows = append(rows, []string{"total", "", "", "", p.money(list.Cost)})
	p.table("", "lrrrr", rows)
	p.blank()
	p.para("", "", "Whole packages, the cheapest mix of sizes. Needs have their waste in them.")
	p.blank()
	p.line("Hours of work, by task")
	rows = nil
	at := map[finish.Task]int{}
	var hours []measure.Duration
	for k, s := range list.Steps {
		labor := w.chosen.labor[k]
		if labor == 0 { // brads: their time is in that of the nails
			continue
		}
		i, ok := at[s.Task]
		if !ok {
			i = len(hours)
			at[s.Task] = i
			hours = append(hours, 0)
			rows = append(rows, []string{s.Task.String(), ""})
		}
		hours[i] += labor
	}
	for i, h := range hours {
		rows[i][1] = p.hourText(h)
	}
	p.table("  ", "lr", append(rows, []string{"total", p.hourText(w.chosen.hours)}))
}

func reportTimes(p *page, w *work) {
	if w.times == nil {
		return
	}
	p.heading("When")
	var people int64
	for _, c := range w.job.Site.Crews {
		people += max(1, c.Size)
	}
	p.para("", "", fmt.Sprintf("With %s of %s together. A coat waits until what is under it is dry, by the usual times; cold and damp rooms take longer, and what the can says goes before this list.",
		count(max(1, int64(len(w.job.Site.Crews))), "crew", "crews"), count(max(1, people), "person", "people")))
	p.blank()
	const clock = "Mon _2 Jan 15:04"
	// What takes minutes only, such as a step on the parts of the heads, stands in one line a step.
	small := map[string]bool{}
	for _, m := range w.job.Trim {
		small[m.Profile.Name] = true
	}
	rows := [][]string{{"from", "to", "", "step"}}
	type line struct {
		row int
		end time.Time
	}
	shared := map[string]*line{} // where such a step stands, and when it ends
	for _, s := range w.times.Slots {
		step, job := s.Name, s.Job
		if small[job] {
			job = "other trim"
			if l := shared[step]; l != nil {
				if s.End.After(l.end) {
					l.end, rows[l.row][1] = s.End, s.End.Format(clock)
				}
				continue
			}
			shared[step] = &line{len(rows), s.End}
		}
		rows = append(rows, []string{s.Start.Format(clock), s.End.Format(clock), job, step})
	}
	p.table("", "llll", rows)
	p.blank()
	p.line("Done on %s; full cure on %s.", w.times.Done.Format("Mon 2 Jan 15:04"), w.times.Cured.Format("Mon 2 Jan 15:04"))
}

func reportCost(p *page, w *work) {
	p.heading("What each base costs installed")
	p.para("", "", "The same walls and the same terms. Consumables and labor are what the base adds to casing and crown; packages are bought whole for all together.")
	p.blank()
	for left := w.compared.Quotes; len(left) > 0; {
		n := len(left)
		for n > 1 && quoteTable(&page{country: p.country}, w, left[:n]) > pageWidth {
			n--
		}
		quoteTable(p, w, left[:n])
		left = left[n:]
		p.blank()
	}
	for _, f := range w.compared.Quotes[0].Findings { // of the terms, which all share
		p.para("", "", fmt.Sprintf("Probably a mistake: %s is %s: %s.", f.Field, f.Value, f.Reason))
		p.blank()
	}
	why := "the least installed"
	if w.job.Choose != "" {
		why = "as the job asks"
	}
	p.para("", "", fmt.Sprintf("This report is for %s: %s.", w.chosen.cut.Profile.Name, why))
}

// quoteTable writes quotes side by side and returns how wide that is. They have
// the same lines but for the extras of a material.
func quoteTable(p *page, w *work, quotes []estimate.Quote) int {
	var labels []string
	amounts := map[string][]string{}
	for k, q := range quotes {
		next := 0
		for _, l := range q.Lines {
			at := slices.Index(labels, l.Label)
			if at < 0 {
				at = next
				labels = slices.Insert(labels, at, l.Label)
				amounts[l.Label] = make([]string, len(quotes))
			}
			next = at + 1
			amounts[l.Label][k] = p.money(l.Amount)
		}
	}
	head, total, net, foot, place := []string{""}, []string{"total"}, []string{"installed"}, []string{"per " + perUnit(quotes)}, []string{"rank"}
	for _, q := range quotes {
		head = append(head, q.Label)
		total = append(total, p.money(q.Total))
		net = append(net, p.tape(q.Net))
		foot = append(foot, p.money(q.UnitPrice))
		rank := slices.IndexFunc(w.compared.Order, func(i int) bool { return w.compared.Quotes[i].Label == q.Label })
		place = append(place, fmt.Sprint(1+rank))
	}
	rows := [][]string{head}
	for _, l := range labels {
		rows = append(rows, append([]string{l}, amounts[l]...))
	}
	align := "l"
	for range quotes {
		align += "r"
	}
	return p.table("", align, append(rows, total, net, foot, place))
}

func (p *page) hourText(t measure.Duration) string {
	text := fmt.Sprintf("%.2f h", t.Hours())
	if p.country.DecimalComma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text
}

// perUnit names what unit prices are per.
func perUnit(quotes []estimate.Quote) string {
	if len(quotes) > 0 && quotes[0].Unit == measure.Meter {
		return "meter"
	}
	return "foot"
}

// amountText writes an amount with the precision that a shopper has a use for.
func (p *page) amountText(a finish.Amount) string {
	if a.IsZero() {
		return ""
	}
	if n, ok := a.Pieces(); ok {
		return fmt.Sprint(n)
	}
	if l, ok := a.Length(); ok {
		if p.country.Metric {
			return l.Round(measure.Meter, measure.RoundUp).Format(measure.Style{Unit: measure.Meter, Graduation: measure.Meter})
		}
		return p.about(l.Round(measure.Foot, measure.RoundUp))
	}
	if v, ok := a.Volume(); ok && p.country.Metric {
		return p.country.FormatVolume(v)
	} else if ok && v >= measure.Gallon {
		return fmt.Sprintf("%.2f gal", float64(v)/float64(measure.Gallon))
	} else if ok {
		return fmt.Sprintf("%.2f fl oz", float64(v)/float64(measure.FluidOunce))
	}
	if w, ok := a.Weight(); ok && p.country.Metric {
		return p.country.FormatWeight(w)
	} else if ok {
		return fmt.Sprintf("%.2f lb", float64(w)/float64(measure.Pound))
	}
	return a.String()
}

func reportCautions(p *page, w *work) {
	p.heading("Cautions: read before the work begins")
	say := func(cs []finish.Caution) {
		for _, c := range cs {
			p.para("- ", "  ", fmt.Sprintf("%s: %s (%s)", c.Trigger, c.Text, c.Source))
		}
	}
	last := max(0, len(w.cautions)-1) // the last word is on all of them
	say(w.cautions[:last])
	type kind struct {
		room string
		code takeoff.FindingCode
	}
	count := map[kind]int{}
	for _, f := range w.findings {
		count[kind{f.Room, f.Code}]++
	}
	for _, f := range w.findings { // the first of a kind speaks for the others of its room
		k := kind{f.Room, f.Code}
		if n := count[k]; f.Severity == takeoff.SeverityCaution && n > 0 {
			text := f.Reason
			if n > 1 {
				text += fmt.Sprintf("; %d more like it", n-1)
			}
			p.para("- ", "  ", fmt.Sprintf("%s: %s", f.Room, text))
			count[k] = 0
		}
	}
	say(w.cautions[last:])
}
