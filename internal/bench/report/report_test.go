package report_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.com/longpoint/internal/bench/report"
	"example.com/longpoint/internal/bench/run"
	"example.com/longpoint/internal/meter"
)

func record(name string, cost, bound int64, cpu time.Duration) run.Record {
	return run.Record{
		Class: "c", Name: name, Pieces: 9, Sizes: 3, Longest: 100, Lower: 4, Upper: 5,
		Claim: run.Claim{Cost: cost, Bound: bound, Shown: bound, Plan: true, Proven: cost == bound,
			Stop: "proven", Work: int64(cpu), Leaves: 2, Patterns: 1,
			Stage: "root", Tally: meter.Tally{Boxes: 3, Lists: 4, Packs: 8, Columns: int64(cpu / 1e6), Pivots: 7}},
		CPU: cpu, Wall: 2 * cpu, Heap: 1 << 20,
	}
}

func TestCSV(t *testing.T) {
	want := []run.Record{record("a", 5, 5, time.Second), record(`b,"x"`, 5, 4, time.Hour)}
	want[1].Wrong = "all,\nof it"
	want = append(want, uncounted(want[0]))
	var b bytes.Buffer
	w, err := report.NewWriter(&b)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range want {
		if err := w.Write(r); err != nil {
			t.Fatal(err)
		}
	}
	text := b.String()
	got, err := report.Read(&b)
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %v\nwant %+v", got, err, want)
	}
	// A file of a run before there was anything counted.
	var old strings.Builder
	for line := range strings.Lines(strings.Replace(text, "\"all,\nof it\"", "all", 1)) {
		f := strings.Split(line, ",")
		old.WriteString(strings.Join(f[:len(f)-6], ",") + "\n")
	}
	want[1].Wrong = "all"
	want[0], want[1] = uncounted(want[0]), uncounted(want[1])
	if got, err := report.Read(strings.NewReader(old.String())); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("old file: got %+v, %v\nwant %+v", got, err, want)
	}
	for _, bad := range []string{"", "a,b\n", strings.Replace(text, "name", "nam", 1), strings.Replace(text, "pivots", "pivot", 1),
		strings.Replace(text, ",7\n", ",x\n", 1), strings.Replace(text, "true", "7", 1), strings.Replace(text, ",9,", ",x,", 1)} {
		if _, err := report.Read(strings.NewReader(bad)); err == nil {
			t.Errorf("%q: no error", bad)
		}
	}
}

// uncounted is the record of a solver that reports no statistics.
func uncounted(r run.Record) run.Record {
	r.Stage, r.Tally = "", meter.Tally{}
	return r
}

func TestSummary(t *testing.T) {
	wrong := record("w", 3, 3, time.Second)
	wrong.Wrong = "cost 3 is below the published bound 4"
	wrong.Stage = "quick"
	records := []run.Record{record("a", 5, 5, time.Second), record("o", 5, 4, 5*time.Second), wrong}
	records[1].Stage = run.Open
	none := uncounted(record("n", 5, 5, time.Second))
	none.Class = "d"
	records = append(records, none)
	var b strings.Builder
	if err := report.Summary(&b, records); err != nil {
		t.Fatal(err)
	}
	if n := report.Wrong(records); n != 1 {
		t.Errorf("%d wrong, want 1", n)
	}
	want := `  class  instances  proven  shown  wrong    mean  median   worst  mean steps  worst steps  nodes  columns  pivots    heap
      c          3       2      2      1  2.33 s  1.00 s  5.00 s       2333M        5000M     15     2333       7  1.0 MB
      d          1       1      1      0  1.00 s  1.00 s  1.00 s       1000M        1000M      -        -       -  1.0 MB
closed: c: quick 1, root 1
open: c/o cost 5 bound 4 (20.0000%), published 4 to 5, proven, 5.00 s, 5000M steps (open, nodes 15, columns 5000)
WRONG: c/w cost 3, published 4 to 5, proven, 1.00 s, 1000M steps (quick, nodes 15, columns 1000): cost 3 is below the published bound 4
`
	if got := b.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestCompare(t *testing.T) {
	a := []run.Record{record("same", 5, 5, time.Second), record("faster", 5, 5, 4*time.Second), record("lost", 5, 5, time.Second),
		record("gained", 5, 4, time.Second), record("moved", 6, 4, time.Second), record("gone", 5, 5, time.Second)}
	b := []run.Record{record("same", 5, 5, time.Second), record("faster", 5, 5, time.Second), record("lost", 5, 4, time.Second),
		record("gained", 5, 5, time.Second), record("moved", 5, 3, time.Second), record("new", 5, 5, time.Second)}
	var out strings.Builder
	if err := report.Compare(&out, a, b); err != nil {
		t.Fatal(err)
	}
	// Two proven by both: ratios 1 and 1/4, geometric mean 1/2.
	want := `  class  both ran  proven A  proven B  mean A  mean B  time B/A  steps B/A  nodes B/A  columns B/A
      c         5         3         3  1.60 s  1.00 s     0.500      0.500      1.000        0.500
lost: c/lost cost 5 bound 4 (20.0000%), published 4 to 5, proven, 1.00 s, 1000M steps (root, nodes 15, columns 1000)
gained: c/gained cost 5, published 4 to 5, proven, 1.00 s, 1000M steps (root, nodes 15, columns 1000)
cost -1: c/moved cost 5 bound 3 (40.0000%), published 4 to 5, proven, 1.00 s, 1000M steps (root, nodes 15, columns 1000)
bound -1: c/moved cost 5 bound 3 (40.0000%), published 4 to 5, proven, 1.00 s, 1000M steps (root, nodes 15, columns 1000)
only in A: c/gone
only in B: c/new
`
	if got := out.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for i := range a {
		a[i] = uncounted(a[i])
	}
	out.Reset()
	if err := report.Compare(&out, a, b); err != nil {
		t.Fatal(err)
	}
	for _, s := range []string{"     0.500      0.500          -            -\n", "no nodes or columns in A: 6 of 6 instances\n"} {
		if !strings.Contains(out.String(), s) {
			t.Errorf("no %q in\n%s", s, out.String())
		}
	}
	b[0] = record("same", 4, 4, time.Second)
	out.Reset()
	if err := report.Compare(&out, a, b); err != nil || !strings.Contains(out.String(), "CONTRADICTION: c/same: proven at 5 and at 4") {
		t.Errorf("%v\n%s", err, out.String())
	}
	if err := report.Compare(&out, a, nil); err == nil {
		t.Error("no error without common instances")
	}
}
