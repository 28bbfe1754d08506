package report

import (
	"fmt"
	"io"
	"math"
	"text/tabwriter"

	"example.com/longpoint/internal/bench/run"
)

// shortest replaces shorter times in a ratio: below it there is only noise.
const shortest = 20e3 // ns

// Compare prints two runs side by side: per class the number that both solved, the geometric
// means of the ratios of time, steps, nodes and columns of the second run to the first on the
// instances that both proved, and by name the gains and losses.
func Compare(w io.Writer, a, b []run.Record) error {
	type key struct{ class, name string }
	second := map[key]run.Record{}
	for _, r := range b {
		second[key{r.Class, r.Name}] = r
	}
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "class\tboth ran\tproven A\tproven B\tmean A\tmean B\ttime B/A\tsteps B/A\tnodes B/A\tcolumns B/A\t")
	var notes []string
	note := func(format string, args ...any) { notes = append(notes, fmt.Sprintf(format, args...)) }
	matched := 0
	for _, class := range byClass(a) {
		var both comparison
		for _, x := range class {
			k := key{x.Class, x.Name}
			y, ok := second[k]
			if !ok {
				note("only in A: %s/%s", x.Class, x.Name)
				continue
			}
			delete(second, k)
			both.add(x, y)
			noteChange(note, x, y)
		}
		if both.n == 0 {
			continue
		}
		matched += both.n
		both.print(t, class[0].Class)
	}
	for _, r := range b {
		if _, left := second[key{r.Class, r.Name}]; left {
			note("only in B: %s/%s", r.Class, r.Name)
		}
	}
	for k, records := range [][]run.Record{a, b} {
		n := 0
		for i := range records {
			if !records[i].Counted() {
				n++
			}
		}
		if n > 0 {
			note("no nodes or columns in %c: %d of %d instances", 'A'+k, n, len(records))
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

// comparison sums up the instances of a class that two runs have in common.
type comparison struct {
	n, provenA, provenB      int
	timeA, timeB             float64
	ratio, work, nodes, cols ratios
}

func (c *comparison) add(x, y run.Record) {
	c.n++
	c.timeA += float64(x.CPU)
	c.timeB += float64(y.CPU)
	if x.Proven {
		c.provenA++
	}
	if y.Proven {
		c.provenB++
	}
	if x.Proven && y.Proven {
		c.ratio.add(float64(x.CPU), float64(y.CPU), shortest)
		c.work.add(float64(x.Work), float64(y.Work), 1)
		if x.Counted() && y.Counted() {
			c.nodes.add(float64(x.Tally.Nodes()), float64(y.Tally.Nodes()), 1)
			c.cols.add(float64(x.Tally.Columns), float64(y.Tally.Columns), 1)
		}
	}
}

func (c *comparison) print(w io.Writer, class string) {
	n := float64(c.n)
	fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%s\t%s\t%v\t%v\t%v\t%v\t\n", class, c.n, c.provenA, c.provenB,
		seconds(c.timeA/n), seconds(c.timeB/n), c.ratio, c.work, c.nodes, c.cols)
}

// ratios holds the logarithms of ratios of a second run to a first.
type ratios struct {
	sum float64
	n   int
}

// add clamps values below least to least.
func (r *ratios) add(a, b, least float64) {
	r.sum += math.Log(max(b, least) / max(a, least))
	r.n++
}

// String returns the geometric mean.
func (r ratios) String() string {
	if r.n == 0 {
		return "-"
	}
	return fmt.Sprintf("%.3f", math.Exp(r.sum/float64(r.n)))
}

// noteChange reports improvements and regressions of the second run.
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
