// Package meter counts the steps of a search, so that a limit on effort means
// the same on every machine, and watches the caller's context on the side.
//
// One step is about one elementary operation of an inner loop.
package meter

import (
	"context"
	"runtime"
	"time"
)

// pollEvery is how many steps pass between two looks at the context: about a tenth
// of a millisecond, and some milliseconds in a browser.
const pollEvery = 20_000

// oneThread is where goroutines and timers run only when another lets them.
const oneThread = runtime.GOARCH == "wasm"

// Ended returns ctx.Err(), or context.DeadlineExceeded where the deadline has passed by
// the clock and the context does not know yet: its timer cannot fire while a search has
// the only thread.
func Ended(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if at, ok := ctx.Deadline(); ok && !time.Now().Before(at) {
		return context.DeadlineExceeded
	}
	return nil
}

// Share returns a context that ends when part of the time that is left to a context, in so
// many parts, has passed; where the context has no deadline it is the context itself. The
// function that comes with it is to be called when the share is no longer needed.
func Share(ctx context.Context, part, of int64) (context.Context, context.CancelFunc) {
	at, ok := ctx.Deadline()
	if !ok {
		return ctx, func() {}
	}
	now := time.Now()
	left := at.Sub(now)
	return context.WithDeadline(ctx, now.Add(left/time.Duration(of)*time.Duration(part)))
}

// Meter is a budget of steps. A child made by Sub spends from its parent too.
// The zero value has no limit and no context.
type Meter struct {
	parent *Meter
	ctx    context.Context
	limit  int64 // 0 = none
	used   int64
	unseen int64 // steps since the last look at the context, and what Watch was told
	grace  int64 // how many are left once the context ended
	last   bool  // it ended, and the grace runs
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
// or when m does, and what it spends m spends.
func (m *Meter) Sub(limit int64) *Meter { return &Meter{parent: m, limit: max(limit, 1)} }

// Tick has m, which must have no parent, call f at the first [Meter.Pause] after its steps
// have passed a multiple of every. If f returns false the work ends.
func (m *Meter) Tick(every int64, f func() bool) {
	m.tick, m.each, m.next = f, every, (m.used/every+1)*every
}

// Pause is where a search lets its caller in: between relaxations, nodes and heuristics.
// Spend never does, since it is called in the midst of everything. When a tick is due
// depends on steps alone, so ticks come at the same places on every machine.
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

// Spend records n steps and reports whether work may go on.
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

// Watch looks at the context where n more steps' worth of time has passed, and reports
// whether work may go on. The steps are not counted: for what must be heard before it is
// paid for.
func (m *Meter) Watch(n int64) bool {
	root := m
	for root.parent != nil {
		root = root.parent
	}
	root.look(n)
	return m.Left()
}

// look looks at the context if it is time.
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
			runtime.Gosched() // to whoever would cancel
		}
		if m.last = Ended(m.ctx) != nil; m.last && m.grace == 0 {
			m.gone = true
		}
	}
	m.unseen = 0
}

// First returns a meter for what there must be at all, such as a first plan: it has no
// limit but the end of the context, goes on for that many steps from there, and what it
// spends nobody else does.
func (m *Meter) First(grace int64) *Meter {
	for m.parent != nil {
		m = m.parent
	}
	return &Meter{ctx: m.ctx, grace: grace}
}

// Left reports whether work may go on, without spending any.
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
