// Bench runs the solver on benchmark classes, prints a table by class and compares every result
// with the published ones. README.md beside it explains the columns.
//
//	go run . -class hard28 -limit 60s -csv a.csv
//	go run . -compare a.csv b.csv
//
// It exits with 1 if a result is wrong and with 2 if it cannot run.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/pprof"
	"slices"
	"strings"
	"time"

	"example.com/longpoint/internal/bench/instance"
	"example.com/longpoint/internal/bench/report"
	"example.com/longpoint/internal/bench/run"
)

// dataVariable names the directory of classes that are not part of the module, unless -data
// does.
const dataVariable = "LONGPOINT_BENCH"

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code, err := bench(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	if err != nil && !errors.Is(err, flag.ErrHelp) {
		fmt.Fprintln(os.Stderr, "bench:", err)
	}
	os.Exit(code)
}

const usage = `usage: bench [flags] [FILE...]
       bench -compare A.csv B.csv

Runs the classes named by -class, or the classes in the files alone: .txt and
.txt.gz in the text format, .json trim jobs.

`

type options struct {
	class, data, csv, via, profile string
	every                          int
	limits                         run.Limits
	verbose, compare, list         bool
}

func bench(ctx context.Context, args []string, stdout, stderr io.Writer) (code int, err error) {
	const cannotRun = 2
	var o options
	f := flag.NewFlagSet("bench", flag.ContinueOnError)
	f.SetOutput(stderr)
	f.StringVar(&o.class, "class", "all", "`classes` to run, by comma; all")
	f.StringVar(&o.data, "data", os.Getenv(dataVariable), "`directory` with more classes; one of the same name replaces a built-in one (default $"+dataVariable+")")
	f.IntVar(&o.every, "every", 1, "run each `n`th instance of a class only")
	f.DurationVar(&o.limits.CPU, "limit", 60*time.Second, "processor `time` per instance; 0 is no limit")
	f.DurationVar(&o.limits.Wall, "wall", 0, "wall `time` per instance; 0 is no limit")
	f.Int64Var(&o.limits.Work, "work", 0, "`steps` per instance; 0 is no limit")
	f.StringVar(&o.via, "via", "engine", "`what` to call: engine, or optimize for the public interface and its checker")
	f.StringVar(&o.csv, "csv", "", "write a row per instance to the `file`")
	f.StringVar(&o.profile, "cpuprofile", "", "write a CPU profile of the whole run to the `file`")
	f.BoolVar(&o.verbose, "v", false, "print each instance as it ends")
	f.BoolVar(&o.list, "list", false, "list the classes and end")
	f.BoolVar(&o.compare, "compare", false, "compare two CSV files")
	f.Usage = func() { fmt.Fprint(stderr, usage); f.PrintDefaults() }
	if err := f.Parse(args); err != nil {
		return cannotRun, err
	}
	if o.compare {
		if f.NArg() != 2 {
			return cannotRun, errors.New("-compare wants two CSV files")
		}
		if err := compare(stdout, f.Arg(0), f.Arg(1)); err != nil {
			return cannotRun, err
		}
		return 0, nil
	}
	solve, ok := map[string]run.Solver{"engine": run.Engine, "optimize": run.Public}[o.via]
	if !ok {
		return cannotRun, fmt.Errorf("-via %s: want engine or optimize", o.via)
	}
	if o.every < 1 {
		return cannotRun, fmt.Errorf("-every %d: want 1 or more", o.every)
	}
	classes, err := choose(o.class, o.data, f.Args())
	if err != nil {
		return cannotRun, err
	}
	if o.list {
		for _, c := range classes {
			fmt.Fprintf(stdout, "%s %d\n", c.Name, len(c.Instances))
		}
		return 0, nil
	}
	records, err := runAll(ctx, classes, solve, o, stdout)
	if err != nil {
		return cannotRun, err
	}
	if err := report.Summary(stdout, records); err != nil {
		return cannotRun, err
	}
	if n := report.Wrong(records); n > 0 {
		return 1, fmt.Errorf("%d wrong answers", n)
	}
	return 0, nil
}

// choose returns the classes in files, or the named ones.
func choose(names, dir string, files []string) ([]instance.Class, error) {
	var classes []instance.Class
	if len(files) > 0 {
		for _, name := range files {
			c, err := instance.File(name)
			if err != nil {
				return nil, err
			}
			if k := slices.IndexFunc(classes, func(o instance.Class) bool { return o.Name == c.Name }); k >= 0 {
				classes[k].Instances = append(classes[k].Instances, c.Instances...)
			} else {
				classes = append(classes, c)
			}
		}
	} else {
		var err error
		if classes, err = instance.BuiltIn(); err != nil {
			return nil, err
		}
		if dir != "" {
			extra, err := instance.Dir(os.DirFS(dir))
			if err != nil {
				return nil, fmt.Errorf("-data %s: %w", dir, err)
			}
			classes = instance.Merge(classes, extra)
		}
	}
	if names == "all" {
		return classes, nil
	}
	var out []instance.Class
	for name := range strings.SplitSeq(names, ",") {
		k := slices.IndexFunc(classes, func(c instance.Class) bool { return c.Name == name })
		if k < 0 {
			var have []string
			for _, c := range classes {
				have = append(have, c.Name)
			}
			return nil, fmt.Errorf("no class %q, only %s", name, strings.Join(have, ", "))
		}
		out = append(out, classes[k])
	}
	return out, nil
}

func runAll(ctx context.Context, classes []instance.Class, solve run.Solver, o options, stdout io.Writer) (records []run.Record, err error) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1)) // published times are those of one core
	closing := func(c io.Closer) {
		if cerr := c.Close(); err == nil {
			err = cerr
		}
	}
	if o.profile != "" {
		p, err := os.Create(o.profile)
		if err != nil {
			return nil, err
		}
		defer closing(p)
		if err := pprof.StartCPUProfile(p); err != nil {
			return nil, err
		}
		defer pprof.StopCPUProfile()
	}
	var rows *report.Writer
	if o.csv != "" {
		c, err := os.Create(o.csv)
		if err != nil {
			return nil, err
		}
		defer closing(c)
		if rows, err = report.NewWriter(c); err != nil {
			return nil, err
		}
	}
	for _, c := range classes {
		for _, in := range c.Every(o.every).Instances {
			rec := run.Instance(ctx, in, solve, o.limits)
			if ctx.Err() != nil {
				return records, nil // interrupted: the results so far
			}
			records = append(records, rec)
			if o.verbose {
				fmt.Fprintln(stdout, report.Line(rec))
			}
			if rows != nil {
				if err := rows.Write(rec); err != nil {
					return nil, err
				}
			}
		}
	}
	return records, nil
}

func compare(w io.Writer, a, b string) error {
	var runs [2][]run.Record
	for i, name := range []string{a, b} {
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		runs[i], err = report.Read(f)
		f.Close()
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return report.Compare(w, runs[0], runs[1])
}
