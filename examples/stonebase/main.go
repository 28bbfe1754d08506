// Stonebase compares the cost of a base of stone with that of a painted one when both are
// installed: in one room to the cent, and in rooms of any size.
package main

import (
	"bytes"
	"cmp"
	_ "embed"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/measure"
)

//go:embed job.json
var data []byte

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: stonebase\n\nThe room, the bases and the terms are in job.json beside the program.")
	}
	if flag.Parse(); flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "stonebase:", err)
		os.Exit(1)
	}
}

func run(w io.Writer) error {
	var j job
	if err := measure.UnmarshalStrict(data, &j); err != nil {
		return err
	}
	var bids []bid
	for i := range j.Bases {
		b, err := j.bid(&j.Bases[i])
		if err != nil {
			return fmt.Errorf("%s: %w", j.Bases[i].Profile.Name, err)
		}
		bids = append(bids, b)
	}
	painted, stone := bids[0], bids[1]
	var out bytes.Buffer
	if err := care(&out, &j, bids); err != nil {
		return err
	}
	if err := inTheRoom(&out, &j, painted, stone); err != nil {
		return err
	}
	if err := inAnyRoom(&out, &j, painted, stone); err != nil {
		return err
	}
	_, err := w.Write(out.Bytes())
	return err
}

func inTheRoom(out *bytes.Buffer, j *job, painted, stone bid) error {
	fmt.Fprintf(out, "Base in the %s, installed and finished\n\n", j.Room.Name)
	for _, b := range []bid{painted, stone} {
		fmt.Fprintf(out, "%s: %s in %d pieces from %d sticks (%s)\n", b.base.Profile.Name, b.candidate.Net.About(), len(b.problem.Pieces), b.plan.Sticks(), b.joints())
	}
	side, err := estimate.Compare([]estimate.Alternative{painted.candidate, stone.candidate}, j.Terms)
	if err != nil {
		return err
	}
	p, s := side.Quotes[0], side.Quotes[1]
	fmt.Fprintf(out, "\n%-26s%14s%14s\n", "", p.Label, s.Label)
	row := func(label string, a, b int64) { fmt.Fprintf(out, "%-26s%14s%14s\n", label, dollars(a), dollars(b)) }
	for _, label := range labels(p.Lines, s.Lines) {
		row(label, amount(p.Lines, label), amount(s.Lines, label))
	}
	row("total", p.Total, s.Total)
	row("per foot", p.UnitPrice, s.UnitPrice)
	for _, f := range p.Findings { // of the common terms
		fmt.Fprintf(out, "\nProbably a mistake: %s is %s: %s.\n", f.Field, f.Value, f.Reason)
	}
	fmt.Fprintf(out, "\nCheaper here: %s.\n", side.Quotes[side.Order[0]].Label)
	if err := level(out, j, stone, painted); err != nil {
		return err
	}
	return level(out, j, painted, stone)
}

// level prints the stick price at which a bid would cost as much as another.
func level(out *bytes.Buffer, j *job, b, other bid) error {
	most, ok, err := estimate.BreakEvenPrice(b.candidate, other.candidate, j.Terms)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s: the sticks cost %s; ", b.candidate.Label, dollars(b.candidate.StickCost))
	if !ok {
		fmt.Fprintf(out, "even free they would cost more installed.\n")
		return nil
	}
	fmt.Fprintf(out, "at %s it would cost the same as %s.\n", dollars(most), other.candidate.Label)
	return nil
}

// inAnyRoom generalizes from the room: every length is offered at the pace, the waste and the
// use of supplies of this room.
func inAnyRoom(out *bytes.Buffer, j *job, painted, stone bid) error {
	a, err := painted.offer()
	if err != nil {
		return err
	}
	b, err := stone.offer()
	if err != nil {
		return err
	}
	spans, err := estimate.BreakEven(a, b, j.Terms, estimate.LengthRange{From: measure.Foot, To: 120 * measure.Foot, Step: measure.Foot})
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "\nWhich is cheaper in a room of another size, foot by foot\n\n")
	for _, s := range spans {
		fmt.Fprintf(out, "%6s to %5s   %s\n", s.From.About(), s.To.About(), cmp.Or(s.Cheaper, "either"))
	}
	return nil
}

// care writes the cautions for the work on either base and on the old one, each once, and the
// general one last.
func care(out *bytes.Buffer, j *job, bids []bid) error {
	lead, err := finish.USLeadRule().Cautions(finish.Building{Year: j.Year}, j.Removed, measure.Locale{})
	if err != nil {
		return err
	}
	hazards := []finish.Hazard{finish.HazardSaws}
	for _, b := range bids {
		for _, c := range b.done.Cautions {
			hazards = append(hazards, c.Topic)
		}
	}
	all, err := finish.Cautions(measure.Locale{}, hazards...)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "Before the work begins\n\n")
	for _, c := range lead {
		if c.Topic != finish.HazardGeneral {
			para(out, c)
		}
	}
	for _, c := range all {
		para(out, c)
	}
	out.WriteByte('\n')
	return nil
}

// labels merges the lines of two quotes, which differ in their extras, each in its place in its
// quote.
func labels(a, b []estimate.QuoteLine) []string {
	var out []string
	for _, lines := range [][]estimate.QuoteLine{a, b} {
		next := 0
		for _, l := range lines {
			at := slices.Index(out, l.Label)
			if at < 0 {
				at = next
				out = slices.Insert(out, at, l.Label)
			}
			next = at + 1
		}
	}
	return out
}

func amount(lines []estimate.QuoteLine, label string) int64 {
	for _, l := range lines {
		if l.Label == label {
			return l.Amount
		}
	}
	return 0
}

// para writes a caution in lines of at most 80 columns.
func para(out *bytes.Buffer, c finish.Caution) {
	const width = 80
	at := 0
	for _, word := range strings.Fields(string(c.Topic) + " (" + c.Trigger + "): " + c.Text) {
		switch {
		case at == 0:
			at, _ = out.WriteString("- ")
		case at+1+len(word) > width:
			out.WriteString("\n  ")
			at = 2
		default:
			out.WriteByte(' ')
			at++
		}
		out.WriteString(word)
		at += len(word)
	}
	out.WriteByte('\n')
}

func dollars(cents int64) string {
	return fmt.Sprintf("$%d.%02d", cents/100, cents%100)
}
