// Profiles plans a whole house at once. Each profile is a separate problem, and since calls
// may run concurrently each gets a goroutine. The first that fails ends the others.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"sync"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// trim is a profile with the lengths on sale and the pieces to cut from it.
type trim struct {
	name   string
	sticks []stock.Stick
	pieces string
}

var house = []trim{
	{"base", []stock.Stick{{Length: 8 * measure.Foot, Price: 1248}, {Length: 12 * measure.Foot, Price: 1908}, {Length: 16 * measure.Foot, Price: 2608}}, `
		2 @ 12' 1-3/8" classroom N
		3 @ 7' 4-3/4" classroom E
		11' 2" corridor S
		4 @ 41-1/2" cloakroom
		2 @ 6' 8-1/4" teacher's room`},
	{"casing", []stock.Stick{{Length: 7 * measure.Foot, Price: 882}, {Length: 14 * measure.Foot, Price: 1820}}, `
		10 @ 81-1/4" door legs
		5 @ 36-1/2" door heads
		12 @ 64-3/4" window legs
		12 @ 34" window heads`},
	{"picture rail", []stock.Stick{{Length: 10 * measure.Foot, Price: 1190}, {Length: 16 * measure.Foot, Price: 1990}}, `
		2 @ 12' 1-3/8" classroom N
		4 @ 9' 7" classroom W
		3 @ 5' 11" teacher's room`},
}

func main() {
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: profiles\n\nThe lists and the prices are in the program: change them there.")
	}
	if flag.Parse(); flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(context.Background(), os.Stdout, house); err != nil {
		fmt.Fprintln(os.Stderr, "profiles:", err)
		os.Exit(1)
	}
}

// plan solves the problem of one profile.
func plan(ctx context.Context, t trim) (*optimize.Plan, error) {
	pieces, err := stock.ParsePieces(t.pieces, measure.Parser{Unit: measure.Inch})
	if err != nil {
		return nil, err
	}
	return optimize.Solve(ctx, optimize.Problem{Sticks: t.sticks, Pieces: pieces, Kerf: measure.MustParse(`1/8"`)}, nil)
}

// all calls plan for every profile, as many concurrently as there are processors. The plans
// come in the order of the profiles, whichever finishes first.
func all(ctx context.Context, trims []trim) ([]*optimize.Plan, error) {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	plans := make([]*optimize.Plan, len(trims))
	turn := make(chan struct{}, runtime.GOMAXPROCS(0))
	var wg sync.WaitGroup
	for i, t := range trims {
		wg.Go(func() {
			turn <- struct{}{}
			defer func() { <-turn }()
			p, err := plan(ctx, t)
			if err == nil && p.Stop == optimize.StopCanceled {
				err = context.Cause(ctx) // interrupted: a plan, but not that of a complete search
			}
			if err != nil {
				cancel(fmt.Errorf("%s: %w", t.name, err)) // the first error counts; it ended the others
				return
			}
			plans[i] = p
		})
	}
	wg.Wait()
	return plans, context.Cause(ctx)
}

func run(ctx context.Context, w io.Writer, trims []trim) error {
	plans, err := all(ctx, trims)
	if err != nil {
		return err
	}
	var total int64
	for i, p := range plans {
		proven := "proven"
		if !p.Proven {
			proven = fmt.Sprintf("at least %d", p.Bound)
		}
		fmt.Fprintf(w, "%-14s %2d sticks  %6d cents, %s\n", trims[i].name, p.Sticks(), p.Cost, proven)
		total += p.Cost
	}
	fmt.Fprintf(w, "%-14s %20d cents\n", "total", total)
	return nil
}
