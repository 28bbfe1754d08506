package report

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"example.com/longpoint/internal/bench/run"
)

// byClass splits records by class, classes in order of first appearance.
func byClass(records []run.Record) [][]run.Record {
	var out [][]run.Record
	at := map[string]int{}
	for _, r := range records {
		k, ok := at[r.Class]
		if !ok {
			k = len(out)
			at[r.Class] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], r)
	}
	return out
}

// Summary prints a table with a row per class, then by name the open and the wrong instances.
func Summary(w io.Writer, records []run.Record) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "class\tinstances\tproven\tshown\twrong\tmean\tmedian\tworst\tmean steps\tworst steps\tnodes\tcolumns\tpivots\theap\t")
	for _, class := range byClass(records) {
		var proven, shown, wrong int
		var cpu, work, nodes, cols, pivots []float64
		var heap uint64
		for _, r := range class {
			if r.Proven {
				proven++
				if r.Infeasible || r.Shown == r.Cost {
					shown++
				}
			}
			if r.Wrong != "" {
				wrong++
			}
			cpu = append(cpu, float64(r.CPU))
			work = append(work, float64(r.Work))
			heap = max(heap, r.Heap)
			if r.Counted() {
				nodes = append(nodes, float64(r.Tally.Nodes()))
				cols = append(cols, float64(r.Tally.Columns))
				pivots = append(pivots, float64(r.Tally.Pivots))
			}
		}
		fmt.Fprintf(t, "%s\t%d\t%d\t%d\t%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%.1f MB\t\n",
			class[0].Class, len(class), proven, shown, wrong,
			seconds(mean(cpu)), seconds(median(cpu)), seconds(slices.Max(cpu)),
			steps(mean(work)), steps(slices.Max(work)),
			counts(nodes), counts(cols), counts(pivots), float64(heap)/1e6)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, class := range byClass(records) {
		if s := stages(class); s != "" {
			if _, err := fmt.Fprintf(w, "closed: %s: %s\n", class[0].Class, s); err != nil {
				return err
			}
		}
	}
	for _, r := range records {
		if !r.Proven && r.Wrong == "" {
			if _, err := fmt.Fprintf(w, "open: %s\n", Line(r)); err != nil {
				return err
			}
		}
	}
	for _, r := range records {
		if r.Wrong != "" {
			if _, err := fmt.Fprintf(w, "WRONG: %s\n", Line(r)); err != nil {
				return err
			}
		}
	}
	return nil
}

// stages lists the number of records that each stage of the solver closed, the largest first.
func stages(records []run.Record) string {
	var names []string
	n := map[string]int{}
	for i := range records {
		if r := &records[i]; r.Counted() && r.Stage != run.Open {
			if n[r.Stage]++; n[r.Stage] == 1 {
				names = append(names, r.Stage)
			}
		}
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Or(cmp.Compare(n[b], n[a]), cmp.Compare(a, b))
	})
	for i, s := range names {
		names[i] = fmt.Sprintf("%s %d", s, n[s])
	}
	return strings.Join(names, ", ")
}

// counts returns the mean of counts.
func counts(x []float64) string {
	if len(x) == 0 {
		return "-"
	}
	return steps(mean(x))
}

// Wrong counts the wrong records.
func Wrong(records []run.Record) int {
	n := 0
	for _, r := range records {
		if r.Wrong != "" {
			n++
		}
	}
	return n
}

// Line formats one record on one line.
func Line(r run.Record) string {
	s := fmt.Sprintf("%s/%s", r.Class, r.Name)
	switch {
	case r.Infeasible:
		s += " no plan exists"
	case !r.Plan:
		s += fmt.Sprintf(" no plan, bound %d", r.Bound)
	case r.Cost == r.Bound:
		s += fmt.Sprintf(" cost %d", r.Cost)
	default:
		s += fmt.Sprintf(" cost %d bound %d (%.4f%%)", r.Cost, r.Bound, 100*float64(r.Cost-r.Bound)/float64(max(r.Cost, 1)))
	}
	switch {
	case r.Upper == math.MaxInt64:
	case r.Lower == r.Upper:
		s += fmt.Sprintf(", published %d", r.Upper)
	default:
		s += fmt.Sprintf(", published %d to %d", r.Lower, r.Upper)
	}
	s += fmt.Sprintf(", %s, %s, %s steps", r.Stop, seconds(float64(r.CPU)), steps(float64(r.Work)))
	if r.Counted() {
		s += fmt.Sprintf(" (%s, nodes %s, columns %s)", r.Stage, steps(float64(r.Tally.Nodes())), steps(float64(r.Tally.Columns)))
	}
	if r.Wrong != "" {
		s += ": " + r.Wrong
	}
	return s
}

func seconds(ns float64) string {
	switch d := time.Duration(ns); {
	case d < time.Millisecond:
		return fmt.Sprintf("%.0f µs", ns/1e3)
	case d < time.Second:
		return fmt.Sprintf("%.1f ms", ns/1e6)
	default:
		return fmt.Sprintf("%.2f s", ns/1e9)
	}
}

func steps(n float64) string {
	switch {
	case n < 1e4:
		return fmt.Sprintf("%.0f", n)
	case n < 1e7:
		return fmt.Sprintf("%.0fk", n/1e3)
	default:
		return fmt.Sprintf("%.0fM", n/1e6)
	}
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func median(x []float64) float64 {
	s := slices.Sorted(slices.Values(x))
	n := len(s)
	return (s[(n-1)/2] + s[n/2]) / 2
}
