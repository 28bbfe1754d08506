// Package report prints benchmark runs: a table by class, CSV with a row per
// instance, and two such files side by side.
package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"time"

	"example.com/longpoint/internal/bench/run"
)

// column is one column of the CSV format, written and read by the same entry.
type column struct {
	name string
	get  func(r *run.Record) string
	set  func(r *run.Record, s string) error

	// late means that files of older runs lack the column, and that it is empty if the solver
	// does not report it.
	late bool
}

var columns = []column{
	text("class", func(r *run.Record) *string { return &r.Class }),
	text("name", func(r *run.Record) *string { return &r.Name }),
	integer("pieces", func(r *run.Record) *int64 { return &r.Pieces }),
	integer("sizes", func(r *run.Record) *int64 { return &r.Sizes }),
	integer("longest", func(r *run.Record) *int64 { return &r.Longest }),
	integer("lower", func(r *run.Record) *int64 { return &r.Lower }),
	integer("upper", func(r *run.Record) *int64 { return &r.Upper }),
	integer("cost", func(r *run.Record) *int64 { return &r.Cost }),
	integer("bound", func(r *run.Record) *int64 { return &r.Bound }),
	integer("shown", func(r *run.Record) *int64 { return &r.Shown }),
	flag("plan", func(r *run.Record) *bool { return &r.Plan }),
	flag("infeasible", func(r *run.Record) *bool { return &r.Infeasible }),
	flag("proven", func(r *run.Record) *bool { return &r.Proven }),
	text("stop", func(r *run.Record) *string { return &r.Stop }),
	integer("work", func(r *run.Record) *int64 { return &r.Work }),
	integer("leaves", func(r *run.Record) *int { return &r.Leaves }),
	integer("patterns", func(r *run.Record) *int { return &r.Patterns }),
	integer("cpu_ns", func(r *run.Record) *time.Duration { return &r.CPU }),
	integer("wall_ns", func(r *run.Record) *time.Duration { return &r.Wall }),
	integer("heap_bytes", func(r *run.Record) *uint64 { return &r.Heap }),
	text("wrong", func(r *run.Record) *string { return &r.Wrong }),
	late(text("stage", func(r *run.Record) *string { return &r.Stage })),
	late(integer("boxes", func(r *run.Record) *int64 { return &r.Tally.Boxes })),
	late(integer("list_nodes", func(r *run.Record) *int64 { return &r.Tally.Lists })),
	late(integer("pack_nodes", func(r *run.Record) *int64 { return &r.Tally.Packs })),
	late(integer("columns", func(r *run.Record) *int64 { return &r.Tally.Columns })),
	late(integer("pivots", func(r *run.Record) *int64 { return &r.Tally.Pivots })),
}

func text(name string, of func(*run.Record) *string) column {
	return column{
		name: name,
		get:  func(r *run.Record) string { return *of(r) },
		set:  func(r *run.Record, s string) error { *of(r) = s; return nil },
	}
}

func flag(name string, of func(*run.Record) *bool) column {
	return column{
		name: name,
		get:  func(r *run.Record) string { return strconv.FormatBool(*of(r)) },
		set:  func(r *run.Record, s string) (err error) { *of(r), err = strconv.ParseBool(s); return err },
	}
}

func integer[T int | int64 | uint64 | time.Duration](name string, of func(*run.Record) *T) column {
	return column{
		name: name,
		get:  func(r *run.Record) string { return strconv.FormatInt(int64(*of(r)), 10) },
		set: func(r *run.Record, s string) error {
			v, err := strconv.ParseInt(s, 10, 64)
			*of(r) = T(v)
			return err
		},
	}
}

// late makes a column empty if nothing was counted.
func late(c column) column {
	get, set := c.get, c.set
	c.late = true
	c.get = func(r *run.Record) string {
		if !r.Counted() {
			return ""
		}
		return get(r)
	}
	c.set = func(r *run.Record, s string) error {
		if s == "" {
			return nil
		}
		return set(r, s)
	}
	return c
}

func header() []string {
	out := make([]string, len(columns))
	for i, c := range columns {
		out[i] = c.name
	}
	return out
}

// Writer writes records as CSV, each immediately.
type Writer struct{ w *csv.Writer }

// NewWriter writes the header.
func NewWriter(w io.Writer) (*Writer, error) {
	out := &Writer{csv.NewWriter(w)}
	return out, out.row(header())
}

// Write writes one record.
func (w *Writer) Write(r run.Record) error {
	row := make([]string, len(columns))
	for i, c := range columns {
		row[i] = c.get(&r)
	}
	return w.row(row)
}

func (w *Writer) row(row []string) error {
	if err := w.w.Write(row); err != nil {
		return err
	}
	w.w.Flush()
	return w.w.Error()
}

// Read reads the output of Writer, including that of an older run: missing columns count as not
// reported.
func Read(r io.Reader) ([]run.Record, error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("no first row with the names of columns")
	}
	at := make([]int, len(columns)) // in a row; -1 where a late one is missing
	for i, c := range columns {
		if at[i] = slices.Index(rows[0], c.name); at[i] < 0 && !c.late {
			return nil, fmt.Errorf("no column %q in the first row %q", c.name, rows[0])
		}
	}
	for _, name := range rows[0] {
		if !slices.Contains(header(), name) && name != "pair_nodes" { // which older runs counted
			return nil, fmt.Errorf("unknown column %q, only %q", name, header())
		}
	}
	var out []run.Record
	for n, row := range rows[1:] {
		var rec run.Record
		for i, c := range columns {
			if at[i] < 0 {
				continue
			}
			if err := c.set(&rec, row[at[i]]); err != nil {
				return nil, fmt.Errorf("row %d, %s: %w", n+2, c.name, err)
			}
		}
		out = append(out, rec)
	}
	return out, nil
}
