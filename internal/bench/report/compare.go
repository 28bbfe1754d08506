package report

import (
	"fmt"
	"io"
	"math"
	"text/tabwriter"

	"example.com/longpoint/internal/bench/run"
)

// shortest is what a shorter time counts as in a ratio: below it there is
// nothing but noise.
const shortest = 20e3 // ns

// Compare prints two runs side by side: per class how many both solved, the
// geometric means of the second run's time and steps over the first's on the
// instances that both proved, and by name what was gained and lost.
func Compare(w io.Writer, a, b []run.Record) error {
	type key struct{ class, name string }
	second := map[key]run.Record{}
	for _, r := range b {
		second[key{r.Class, r.Name}] = r
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "class\tboth ran\tproven A\tproven B\tmean A\tmean B\ttime B/A\tsteps B/A\t")
	var notes []string
	note := func(format string, args ...any) { notes = append(notes, fmt.Sprintf(format, args...)) }
	matched := 0
	for _, class := range byClass(a) {
		var n, provenA, provenB, both int
		var timeA, timeB, ratio, work float64
		for _, x := range class {
			k := key{x.Class, x.Name}
			y, ok := second[k]
			if !ok {
				note("only in A: %s/%s", x.Class, x.Name)
				continue
			}
			delete(second, k)
			n++
			timeA += float64(x.CPU)
			timeB += float64(y.CPU)
			if x.Proven {
				provenA++
			}
			if y.Proven {
				provenB++
			}
			if x.Proven && y.Proven {
				both++
				ratio += math.Log(max(float64(y.CPU), shortest) / max(float64(x.CPU), shortest))
				work += math.Log(max(float64(y.Work), 1) / max(float64(x.Work), 1))
			}
			noteChange(note, x, y)
		}
		if n == 0 {
			continue
		}
		matched += n
		times, steps := "-", "-"
		if both > 0 {
			times = fmt.Sprintf("%.3f", math.Exp(ratio/float64(both)))
			steps = fmt.Sprintf("%.3f", math.Exp(work/float64(both)))
		}
		fmt.Fprintf(t, "%s\t%d\t%d\t%d\t%s\t%s\t%s\t%s\t\n", class[0].Class, n, provenA, provenB,
			seconds(timeA/float64(n)), seconds(timeB/float64(n)), times, steps)
	}
	for _, r := range b {
		if _, left := second[key{r.Class, r.Name}]; left {
			note("only in B: %s/%s", r.Class, r.Name)
		}
	}
	if matched == 0 {
		return fmt.Errorf("the two runs have no instance in common")
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, s := range notes {
		if _, err := fmt.Fprintln(w, s); err != nil {
			return err
		}
	}
	return nil
}

// noteChange notes what the second run does better or worse than the first.
func noteChange(note func(string, ...any), x, y run.Record) {
	switch {
	case x.Proven && y.Proven && x.Infeasible != y.Infeasible:
		note("CONTRADICTION: %s/%s: a plan in one run, none in the other", x.Class, x.Name)
	case x.Proven && y.Proven && x.Cost != y.Cost:
		note("CONTRADICTION: %s/%s: proven at %d and at %d", x.Class, x.Name, x.Cost, y.Cost)
	case !x.Proven && y.Proven:
		note("gained: %s", Line(y))
	case x.Proven && !y.Proven:
		note("lost: %s", Line(y))
	case !x.Proven && x.Plan && y.Plan && x.Cost != y.Cost:
		note("cost %+d: %s", y.Cost-x.Cost, Line(y))
	}
	if !x.Proven && !y.Proven && x.Bound != y.Bound {
		note("bound %+d: %s", y.Bound-x.Bound, Line(y))
	}
}
