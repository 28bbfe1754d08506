package meter_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"example.com/longpoint/internal/meter"
	"pgregory.net/rapid"
)

func TestZeroValueHasNoLimit(t *testing.T) {
	var m meter.Meter
	for range 100 {
		if !m.Spend(1<<50) || !m.Left() {
			t.Fatal("the zero Meter ran out")
		}
	}
	if m.Used() != 100<<50 || m.Gone() {
		t.Errorf("Used() = %d, Gone() = %t", m.Used(), m.Gone())
	}
}

func TestLimit(t *testing.T) {
	for _, limit := range []int64{0, -1, -1 << 60} {
		if m := meter.New(context.Background(), limit); !m.Spend(1<<60) || !m.Left() {
			t.Errorf("limit %d: ran out, want no limit", limit)
		}
	}
	m := meter.New(context.Background(), 10)
	if !m.Left() {
		t.Error("a new meter has nothing left")
	}
	if !m.Spend(9) || !m.Left() {
		t.Error("ran out at 9 of 10")
	}
	if m.Spend(1) || m.Left() {
		t.Error("continues at 10 of 10")
	}
	if m.Spend(0) || m.Left() {
		t.Error("came back")
	}
	if m.Gone() {
		t.Error("Gone() without an end of the context")
	}
	if m.Used() != 10 {
		t.Errorf("Used() = %d, want 10", m.Used())
	}
}

func TestSubSpendsFromParent(t *testing.T) {
	m := meter.New(context.Background(), 100)
	a := m.Sub(30)
	if a.Spend(30) {
		t.Error("child continues at its limit")
	}
	if !m.Left() || m.Used() != 30 || a.Used() != 30 {
		t.Errorf("parent: Left() = %t, Used() = %d, want true, 30", m.Left(), m.Used())
	}
	b := m.Sub(1000)
	c := b.Sub(1000)
	if !c.Spend(69) {
		t.Error("grandchild stopped before any limit")
	}
	if c.Spend(1) || c.Left() || b.Left() || m.Left() {
		t.Error("the parent's limit does not stop its children")
	}
	if b.Used() != 70 || m.Used() != 100 {
		t.Errorf("Used() = %d and %d, want 70 and 100", b.Used(), m.Used())
	}
	if d := m.Sub(5); d.Left() || d.Spend(1) {
		t.Error("child of an exhausted parent continues")
	}
}

// A part of the work always gets a budget: a budget of zero would mean no limit.
func TestSubWithoutBudget(t *testing.T) {
	var m meter.Meter
	for _, limit := range []int64{0, -5} {
		if s := m.Sub(limit); s.Spend(1) {
			t.Errorf("Sub(%d) has no limit", limit)
		}
	}
	if !m.Left() {
		t.Error("the parent ran out")
	}
}

// All meters of a search have one tally, which no limit hears of.
func TestTally(t *testing.T) {
	m := meter.New(context.Background(), 1)
	sub := m.Sub(5)
	m.Tally().Boxes++
	sub.Sub(1).Tally().Lists += 300
	sub.Tally().Packs += 4000
	sub.Tally().Columns++
	m.Tally().Pivots++
	want := meter.Tally{Boxes: 1, Lists: 300, Packs: 4000, Columns: 1, Pivots: 1}
	if *m.Tally() != want || *sub.Tally() != want || m.Tally().Nodes() != 4301 {
		t.Errorf("got %+v and %+v, want %+v", *m.Tally(), *sub.Tally(), want)
	}
	if m.Used() != 0 || !m.Left() || !sub.Left() {
		t.Error("counting takes steps")
	}
	var zero meter.Meter
	zero.Sub(1).Tally().Boxes++
	if zero.Tally().Boxes != 1 {
		t.Error("the zero Meter does not count")
	}
}

// pollEvery is the promise of the package: steps between two looks at the
// context.
const pollEvery = 20_000

func TestContextEnd(t *testing.T) {
	for _, step := range []int64{1, 7, 1000, 19_999, 20_000, 1 << 40} {
		ctx, cancel := context.WithCancel(context.Background())
		m := meter.New(ctx, 0)
		child := m.Sub(1 << 60).Sub(1 << 60)
		if !child.Spend(step) {
			t.Fatalf("step %d: stopped before the end", step)
		}
		cancel()
		since := int64(0)
		for child.Spend(step) {
			if since += step; since > pollEvery {
				t.Fatalf("step %d: not noticed after %d steps", step, since)
			}
		}
		if !m.Gone() || !child.Gone() || m.Left() || child.Left() {
			t.Errorf("step %d: Gone() = %t, Left() = %t after the end", step, m.Gone(), m.Left())
		}
	}
}

func TestDeadline(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Nanosecond)
	defer cancel()
	<-ctx.Done()
	if m := meter.New(ctx, 0); m.Spend(pollEvery) || !m.Gone() {
		t.Error("a deadline that has passed is not noticed")
	}
}

// silent is a context whose deadline has passed but whose timer has not fired, as in WebAssembly, where
// nothing else runs while the engine does.
type silent struct {
	context.Context
	at time.Time
}

func (c silent) Deadline() (time.Time, bool) { return c.at, true }

func TestDeadlineWithoutTimer(t *testing.T) {
	past := silent{context.Background(), time.Unix(0, 0)}
	if err := meter.Ended(past); err != context.DeadlineExceeded {
		t.Errorf("a deadline that has passed: %v", err)
	}
	if m := meter.New(past, 0); m.Spend(pollEvery) || !m.Gone() || m.Left() {
		t.Error("a deadline that has passed is not noticed")
	}
	ahead := silent{context.Background(), time.Date(2200, 1, 1, 0, 0, 0, 0, time.UTC)}
	if err := meter.Ended(ahead); err != nil {
		t.Errorf("a future deadline: %v", err)
	}
	if m := meter.New(ahead, 0); !m.Spend(pollEvery) || m.Gone() {
		t.Error("a future deadline ends the work")
	}

	// The context's own error comes first.
	over, cancel := context.WithCancel(past.Context)
	cancel()
	if err := meter.Ended(silent{over, past.at}); err != context.Canceled {
		t.Errorf("canceled, with a deadline that has passed: %v", err)
	}
	if err := meter.Ended(context.Background()); err != nil {
		t.Errorf("no end: %v", err)
	}
}

// With a single thread and no preemption, a meter lets other goroutines run when it checks, so that
// their cancellation takes effect.
func TestCancelByAnotherOnOneThread(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	go cancel()
	m := meter.New(ctx, 1<<38) // ends on other machines, too, whenever the other comes to it
	for m.Spend(1000) {
	}
	if !m.Gone() {
		t.Error("a cancellation by another goroutine is not noticed")
	}
}

// A tree of meters against plain counters.
func TestTree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		type node struct {
			m           *meter.Meter
			parent      int
			limit, used int64
		}
		limit := rapid.Int64Range(0, 50).Draw(t, "limit")
		nodes := []node{{meter.New(context.Background(), limit), -1, limit, 0}}
		left := func(k int) bool {
			for ; k >= 0; k = nodes[k].parent {
				if nodes[k].limit > 0 && nodes[k].used >= nodes[k].limit {
					return false
				}
			}
			return true
		}
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			k := rapid.IntRange(0, len(nodes)-1).Draw(t, "node")
			if rapid.IntRange(0, 2).Draw(t, "what") == 0 {
				l := rapid.Int64Range(1, 20).Draw(t, "limit of the part")
				nodes = append(nodes, node{nodes[k].m.Sub(l), k, l, 0})
				continue
			}
			n := rapid.Int64Range(0, 6).Draw(t, "n")
			for i := k; i >= 0; i = nodes[i].parent {
				nodes[i].used += n
			}
			if got, want := nodes[k].m.Spend(n), left(k); got != want {
				t.Fatalf("Spend(%d) = %t, want %t", n, got, want)
			}
			for i := range nodes {
				if got, want := nodes[i].m.Left(), left(i); got != want {
					t.Fatalf("meter %d: Left() = %t, want %t", i, got, want)
				}
				if nodes[i].m.Used() != nodes[i].used {
					t.Fatalf("meter %d: Used() = %d, want %d", i, nodes[i].m.Used(), nodes[i].used)
				}
			}
		}
	})
}

func BenchmarkSpend(b *testing.B) {
	m := meter.New(context.Background(), 1<<60)
	s := m.Sub(1 << 60)
	b.ReportAllocs()
	for b.Loop() {
		s.Spend(1)
	}
}

// TestTick calls the caller when a search pauses, and at no other time.
func TestTick(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		every := rapid.Int64Range(1, 50_000).Draw(t, "every")
		m := meter.New(context.Background(), 0)
		var at []int64
		end := rapid.IntRange(-1, 5).Draw(t, "end")
		m.Tick(every, func() bool {
			at = append(at, m.Used())
			return len(at)-1 != end
		})
		sub := m.Sub(1 << 40)
		var want []int64
		next := every
		for range rapid.IntRange(0, 30).Draw(t, "parts") {
			n := rapid.Int64Range(0, 2*every).Draw(t, "steps")
			before := len(at)
			more := sub.Spend(n)
			if len(at) != before {
				t.Fatal("a tick within Spend")
			}
			ended := end >= 0 && len(want) > end
			if more == ended || sub.Left() == ended || m.Gone() != ended || m.Ended() != ended {
				t.Fatalf("ended %v: Spend %v, Left %v, Gone %v, Ended %v", ended, more, sub.Left(), m.Gone(), m.Ended())
			}
			if !rapid.Bool().Draw(t, "pause") {
				continue
			}
			sub.Pause()
			if m.Used() >= next && !ended {
				want = append(want, m.Used())
				next = (m.Used()/every + 1) * every
			}
			if !slices.Equal(at, want) {
				t.Fatalf("ticks at %d, want %d", at, want)
			}
		}
	})
	var m meter.Meter
	m.Pause() // nobody waits
	m.Spend(1 << 40)
	m.Pause()
	if m.Ended() || m.Gone() {
		t.Error("ended by nobody")
	}
}
