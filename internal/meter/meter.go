// Package meter counts the steps of a search, so that a limit on effort means
// the same on every machine, and polls the caller's context.
//
// One step is about one elementary operation of an inner loop.
package meter

import (
	"context"
	"runtime"
	"time"
)

// pollEvery is the number of steps between two polls of the context: about a tenth of a
// millisecond, and a few milliseconds in a browser.
const pollEvery = 20_000

// oneThread reports whether goroutines and timers run only if the running goroutine
// yields.
const oneThread = runtime.GOARCH == "wasm"

// Ended returns ctx.Err(), or context.DeadlineExceeded if the deadline has passed by
// the clock but the timer has not fired: it cannot fire while a search holds the only
// thread.
func Ended(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if at, ok := ctx.Deadline(); ok && !time.Now().Before(at) {
		return context.DeadlineExceeded
	}
	return nil
}

// Share returns a context that ends after the fraction part/of of the remaining time of
// ctx; without a deadline it returns ctx itself. Call the returned function when the share
// is no longer needed.
func Share(ctx context.Context, part, of int64) (context.Context, context.CancelFunc) {
	at, ok := ctx.Deadline()
	if !ok {
		return ctx, func() {}
	}
	now := time.Now()
	left := at.Sub(now)
	return context.WithDeadline(ctx, now.Add(left/time.Duration(of)*time.Duration(part)))
}

// Meter is a budget of steps. A child from Sub also spends from its parent. The
// zero value has no limit and no context.
type Meter struct {
	parent *Meter
	ctx    context.Context
	limit  int64 // 0 = none
	used   int64
	unseen int64 // steps since the last poll of the context, including those of Watch
	grace  int64 // steps left after the end of the context
	last   bool  // the context ended, and the grace is running
	over   bool  // the limit was reached
	gone   bool  // the context ended
	tally  Tally // of the meter without a parent

	tick  func() bool // of the meter without a parent, see Tick; nil for none
	each  int64
	next  int64 // when the tick is due
	ended bool  // the tick, or End, ended the work
}

// New returns a meter that runs out after limit steps (never, when limit is
// not positive) or when ctx ends, see Ended.
func New(ctx context.Context, limit int64) *Meter {
	return &Meter{ctx: ctx, limit: max(limit, 0)}
}

// Sub returns a meter for one part of the work: it runs out after limit steps
// or when m does, and its steps also count in m.
func (m *Meter) Sub(limit int64) *Meter { return &Meter{parent: m, limit: max(limit, 1)} }

// Tick has m, which must have no parent, call f at the first [Meter.Pause] after its steps
// have passed a multiple of every. If f returns false the work ends.
func (m *Meter) Tick(every int64, f func() bool) {
	m.tick, m.each, m.next = f, every, (m.used/every+1)*every
}

// Pause runs a due tick. A search calls it between relaxations, nodes and heuristics.
// Spend never runs ticks, since it is called in the middle of computations. A tick is
// due after a number of steps, so ticks occur at the same places on every machine.
func (m *Meter) Pause() {
	for m.parent != nil {
		m = m.parent
	}
	if m.tick == nil || m.used < m.next || !m.Left() {
		return
	}
	m.next = (m.used/m.each + 1) * m.each
	if !m.tick() {
		m.End()
	}
}

// End ends the work as the end of the context does.
func (m *Meter) End() {
	for m.parent != nil {
		m = m.parent
	}
	m.ended, m.gone = true, true
}

// Ended reports whether the caller ended the work: by End or by a tick.
func (m *Meter) Ended() bool {
	for m.parent != nil {
		m = m.parent
	}
	return m.ended
}

// Spend records n steps and reports whether work may continue.
func (m *Meter) Spend(n int64) bool {
	m.used += n
	if m.limit > 0 && m.used >= m.limit {
		m.over = true
	}
	if m.parent != nil {
		if !m.parent.Spend(n) {
			return false
		}
		return !m.over
	}
	m.look(n)
	return !m.over && !m.gone
}

// Watch polls the context as if n more steps had passed, and reports whether work may
// continue. It does not count the steps: it is for work that must notice the end of the
// context before its steps are recorded.
func (m *Meter) Watch(n int64) bool {
	root := m
	for root.parent != nil {
		root = root.parent
	}
	root.look(n)
	return m.Left()
}

// look polls the context if it is time.
func (m *Meter) look(n int64) {
	if m.ctx == nil {
		return
	}
	if m.unseen += n; m.unseen < pollEvery {
		return
	}
	if m.last {
		m.grace -= m.unseen
		m.gone = m.gone || m.grace <= 0
	} else {
		if oneThread {
			runtime.Gosched() // let a goroutine cancel the context
		}
		if m.last = Ended(m.ctx) != nil; m.last && m.grace == 0 {
			m.gone = true
		}
	}
	m.unseen = 0
}

// First returns a meter for indispensable work, such as a first plan: its only limit is
// the end of the context, after which it continues for grace steps, and its steps count
// in no other meter.
func (m *Meter) First(grace int64) *Meter {
	for m.parent != nil {
		m = m.parent
	}
	return &Meter{ctx: m.ctx, grace: grace}
}

// Left reports whether work may continue, without spending steps.
func (m *Meter) Left() bool {
	return !m.over && !m.gone && (m.parent == nil || m.parent.Left())
}

// Used returns the steps spent so far.
func (m *Meter) Used() int64 { return m.used }

// Gone reports whether the context, or End, ended the work.
func (m *Meter) Gone() bool {
	if m.parent != nil {
		return m.parent.Gone()
	}
	return m.gone
}
