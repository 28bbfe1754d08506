package cutsheet_test

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// wide is a plan of n patterns with different offcuts, of n runs with a splice at different prices, and
// long labels.
func wide(n, text int) (optimize.Problem, *optimize.Plan) {
	var p optimize.Problem
	plan := &optimize.Plan{}
	for i := range n {
		l := measure.Length(i) * measure.Inch / 16
		p.Sticks = append(p.Sticks, stock.Stick{Label: strings.Repeat("s 7' ", text/5), Length: 20*measure.Foot + l, Price: 7, Bundle: 1})
		run := stock.Run{Label: strings.Repeat("r 2 mm ", text/7), Length: 10 * measure.Foot, Splice: stock.SpliceRule{At: []measure.Length{5 * measure.Foot}, Price: int64(i + 1)}}
		p.Runs = append(p.Runs, run)
		parts, err := run.Pieces(run.Splice.At)
		if err != nil {
			panic(err)
		}
		plan.Parts = append(plan.Parts, parts...)
		plan.Spliced = append(plan.Spliced, optimize.SplicedRun{Run: i, At: run.Splice.At, Pieces: []int{2 * i, 2*i + 1}})
		plan.Patterns = append(plan.Patterns, optimize.Pattern{Stick: i, Count: 1, Pieces: []int{2 * i, 2*i + 1}, Offcut: 10*measure.Foot + l})
		plan.Buy = append(plan.Buy, optimize.Purchase{Stick: i, Count: 1, Cost: 7})
		plan.Cost += 7 + int64(i+1)
	}
	return p, plan
}

// The time for a sheet of many patterns, runs and offcuts is proportional to them: comparing each with
// every other would run into the time limit of the whole test.
func TestWideSheets(t *testing.T) {
	for _, size := range [][2]int{{40_000, 0}, {1, 1 << 20}} {
		p, plan := wide(size[0], size[1])
		s, err := cutsheet.New(context.Background(), p, plan, nil)
		if err != nil {
			t.Fatal(err)
		}
		if size[0] > 1 && testing.Short() {
			continue
		}
		for _, write := range []func(io.Writer) error{s.WriteText, s.WriteSVG, s.WriteHTML, s.WriteCSV, s.WriteJSON} {
			if err := write(io.Discard); err != nil {
				t.Error(err)
			}
		}
	}
}

// ending is a context that ends at the nth look at it.
type ending struct {
	context.Context
	left int
}

func (c *ending) Err() error {
	if c.left--; c.left > 0 {
		return nil
	}
	return context.DeadlineExceeded
}

func TestNewHearsTheContext(t *testing.T) {
	p, plan := wide(50_000, 0)
	all := &ending{context.Background(), 1 << 30}
	if _, err := cutsheet.New(all, p, plan, nil); err != nil {
		t.Fatal(err)
	}
	looks := 1<<30 - all.left
	if looks < 50 {
		t.Errorf("%d looks at the context", looks)
	}
	for _, n := range []int{1, 2, looks / 2, looks - 1, looks} {
		if s, err := cutsheet.New(&ending{context.Background(), n}, p, plan, nil); s != nil || err != context.DeadlineExceeded {
			t.Errorf("ended at look %d of %d: %v", n, looks, err)
		}
	}
	told := errors.New("the shop closes")
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(told)
	if s, err := cutsheet.New(ctx, p, plan, nil); s != nil || err != told {
		t.Errorf("%v", err)
	}
	var never context.Context
	p, plan = wide(1, 0)
	if _, err := cutsheet.New(never, p, plan, nil); err != nil {
		t.Error(err)
	}
}
