// Progress plans one trim for the whole schoolhouse, a list that takes a few seconds, and
// shows the progress on one line of the terminal. It ends the search when the gap is small
// enough, and begins the next one from the plan that it has.
package main

import (
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

//go:embed list.txt
var list string

var sticks = []stock.Stick{
	{Label: "7 ft", Length: 7 * measure.Foot, Price: 1043},
	{Label: "8 ft", Length: 8 * measure.Foot, Price: 1187},
	{Label: "10 ft", Length: 10 * measure.Foot, Price: 1489, Limit: 12},
	{Label: "12 ft", Length: 12 * measure.Foot, Price: 1774},
	{Label: "14 ft", Length: 14 * measure.Foot, Price: 2093, Limit: 10},
	{Label: "16 ft", Length: 16 * measure.Foot, Price: 2371},
}

// job is the input of the program.
type job struct {
	work int64   // greatest number of steps
	open float64 // gap in percent of the cost at which the search ends
	file string  // with the plan to begin from, and then the new one; empty for none
}

func main() {
	var j job
	flag.Int64Var(&j.work, "work", optimize.DefaultWork, "end after this many `STEPS`")
	flag.Float64Var(&j.open, "open", 0, "end when the gap is at most this many `PERCENT` of the cost")
	flag.StringVar(&j.file, "plan", "", "begin from the plan in `FILE`, if it exists, and replace it by the new one")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: progress [flags]\n\nThe list is in list.txt and the prices are in the program: change them there. An interrupt ends the search with the best plan so far.")
		flag.PrintDefaults()
	}
	if flag.Parse(); flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	screen := io.Discard
	if s, err := os.Stderr.Stat(); err == nil && s.Mode()&os.ModeCharDevice != 0 {
		screen = os.Stderr // a terminal, not a file
	}
	if err := j.run(ctx, os.Stdout, screen); err != nil {
		fmt.Fprintln(os.Stderr, "progress:", err)
		os.Exit(1)
	}
}

func (j job) run(ctx context.Context, w, screen io.Writer) error {
	pieces, err := stock.ParsePieces(list, measure.Parser{Unit: measure.Inch})
	if err != nil {
		return err
	}
	p := optimize.Problem{Sticks: sticks, Pieces: pieces, Kerf: measure.MustParse(`1/8"`)}
	o := &optimize.Options{Work: j.work}
	if o.Start, err = j.load(); err != nil {
		return err
	}
	if o.Start != nil {
		fmt.Fprintf(w, "Begun from a plan of %s.\n", dollars(o.Start.Cost))
	}
	o.Progress = func(now optimize.Progress) bool {
		fmt.Fprintf(screen, "\r%-78s", line(now))
		return !now.Found || percent(now.Cost, now.Bound) > j.open || now.Cost == now.Bound
	}
	plan, err := optimize.Solve(ctx, p, o)
	fmt.Fprintf(screen, "\r%-78s\r", "")
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "%d sticks for %s. ", plan.Sticks(), dollars(plan.Cost))
	why := map[optimize.Stop]string{
		optimize.StopCaller: "as close as was asked for", optimize.StopWork: "as far as the steps went",
		optimize.StopCanceled: "interrupted", optimize.StopExhausted: "nothing is left to try",
	}
	if plan.Stop == optimize.StopProven {
		fmt.Fprintln(w, "Proven: nothing is cheaper.")
	} else {
		fmt.Fprintf(w, "Nothing is cheaper by more than %s: %s.\n", dollars(plan.Cost-plan.Bound), why[plan.Stop])
	}
	return j.save(plan)
}

// line formats the progress of a search.
func line(now optimize.Progress) string {
	if !now.Found {
		return fmt.Sprintf("no plan yet, %d million steps (%s)", now.Work/1e6, now.Stage)
	}
	return fmt.Sprintf("%s, at best %s, %.3f%% open, %d million steps (%s)",
		dollars(now.Cost), dollars(now.Bound), percent(now.Cost, now.Bound), now.Work/1e6, now.Stage)
}

func dollars(cents int64) string { return fmt.Sprintf("$%d.%02d", cents/100, cents%100) }

func percent(cost, bound int64) float64 { return 100 * float64(cost-bound) / float64(max(cost, 1)) }

func (j job) load() (*optimize.Plan, error) {
	if j.file == "" {
		return nil, nil
	}
	text, err := os.ReadFile(j.file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	plan := new(optimize.Plan)
	if err := measure.UnmarshalStrict(text, plan); err != nil {
		return nil, fmt.Errorf("%s: %w", j.file, err)
	}
	return plan, nil
}

func (j job) save(plan *optimize.Plan) error {
	if j.file == "" {
		return nil
	}
	text, err := json.Marshal(plan.WithoutProof())
	if err != nil {
		return err
	}
	return os.WriteFile(j.file, append(text, '\n'), 0o666)
}
