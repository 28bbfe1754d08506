package main

import (
	"context"
	"errors"

	"example.com/longpoint/optimize"
)

// The time of a job is unknown in advance, so its first turn is short, in a separate lane, and
// completes most jobs. The others go to the other lane for the rest of their work. So a small
// job never waits for the whole of a large one, only for first turns, and a large one that gets
// no turn in time, or no place in the queue, has the plan of its first turn as the answer.

// lane lets some solves run concurrently and some more wait, first come first served.
type lane struct {
	places chan struct{} // holds one for each that runs or waits
	turns  chan struct{} // holds one for each that runs
}

func newLane(running, waiting int) *lane {
	return &lane{places: make(chan struct{}, running+waiting), turns: make(chan struct{}, running)}
}

var (
	errFull    = errors.New("too many jobs wait")
	errClosing = errors.New("the server is closing")
)

// enter waits for a turn. The error is errFull, errClosing, or that of ctx.
func (l *lane) enter(ctx context.Context, closing <-chan struct{}) error {
	// A free turn is no reason to begin after the end.
	select {
	case <-closing:
		return errClosing
	default:
	}
	select {
	case l.places <- struct{}{}:
	default:
		return errFull
	}
	select {
	case l.turns <- struct{}{}:
		return nil
	case <-closing:
		<-l.places
		return errClosing
	case <-ctx.Done():
		<-l.places
		return context.Cause(ctx)
	}
}

func (l *lane) leave() {
	<-l.turns
	<-l.places
}

// waiting returns the number of jobs that wait for a turn.
func (l *lane) waiting() int { return max(0, len(l.places)-len(l.turns)) }

// job is a problem on its way through the lanes. If tell is not nil, it receives the progress
// of the search, and ends it by returning false. The sheet is made within a turn, since that
// takes time too.
type job struct {
	optimize.Problem
	tell     func(optimize.Progress) bool
	sheet    func(*optimize.Plan) ([]byte, *failure)
	exchange *exchange // whose turns and steps are counted
}

// turn searches, starting from a plan if there is one.
func (s *service) turn(ctx context.Context, j *job, work int64, start *optimize.Plan) (*optimize.Plan, error) {
	plan, err := s.solve(ctx, j.Problem, &optimize.Options{Work: work, Start: start, Progress: j.tell})
	j.exchange.turns++
	if plan != nil {
		j.exchange.work += plan.Work
	}
	return plan, err
}

// settle solves a job in one turn or two.
func (s *service) settle(ctx context.Context, j *job) ([]byte, *failure) {
	first, body, f := s.firstTurn(ctx, j)
	if body != nil || f != nil {
		return body, f
	}
	if err := s.long.enter(ctx, s.closing.Done()); err != nil {
		if first == nil {
			return nil, s.noTurn(err)
		}
		return j.sheet(first)
	}
	defer s.long.leave()
	second, err := s.turn(ctx, j, s.work, first)
	if err != nil && first == nil {
		return nil, s.noPlan(err)
	}
	return j.sheet(better(first, second))
}

// firstTurn returns a response if the first turn completes the job, and otherwise its plan, if
// any.
func (s *service) firstTurn(ctx context.Context, j *job) (*optimize.Plan, []byte, *failure) {
	if err := s.short.enter(ctx, s.closing.Done()); err != nil {
		return nil, nil, s.noTurn(err)
	}
	defer s.short.leave()
	steps, last := s.first, false
	if s.work > 0 && s.work <= steps {
		steps, last = s.work, true
	}
	plan, err := s.turn(ctx, j, steps, nil)
	var limit *optimize.LimitError
	switch {
	case last:
	case err == nil && plan.Stop == optimize.StopWork:
		return plan, nil, nil
	case errors.As(err, &limit) && limit.Stop == optimize.StopWork:
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, s.noPlan(err)
	}
	body, f := j.sheet(plan)
	return plan, body, f
}

// better chooses between the plans of two turns, either of which may be nil. The second turn
// starts from the plan of the first but proves it anew, and may have ended before it came as
// far.
func better(first, second *optimize.Plan) *optimize.Plan {
	switch {
	case first == nil:
		return second
	case second == nil:
		return first
	case len(first.Goals) == 0 && first.Cost != second.Cost:
		if first.Cost < second.Cost {
			return first
		}
	case second.Work < first.Work:
		return first
	}
	return second
}
