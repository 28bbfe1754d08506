package main

import (
	"context"
	"errors"
	"slices"
	"testing"
	"testing/synctest"
	"time"

	"pgregory.net/rapid"
)

// A lane lets as many in as it has turns, then those that wait in the order in which
// they came; it refuses whoever finds it full, and lets go of whoever leaves.
func TestLane(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		running, waiting := rapid.IntRange(1, 3).Draw(rt, "running"), rapid.IntRange(1, 4).Draw(rt, "waiting")
		actions := rapid.SliceOfN(rapid.IntRange(0, 3), 1, 30).Draw(rt, "actions")
		picks := rapid.SliceOfN(rapid.IntRange(0, 99), 30, 30).Draw(rt, "picks")
		synctest.Test(t, func(*testing.T) {
			l := newLane(running, waiting)
			closing := make(chan struct{})
			type job struct {
				leave context.CancelFunc
				err   chan error
			}
			var in, queue []*job // as they should be
			// said returns a job's answer, if there is one.
			said := func(j *job) (error, bool) {
				select {
				case err := <-j.err:
					return err, true
				default:
					return nil, false
				}
			}
			advance := func() {
				synctest.Wait()
				for len(in) < running && len(queue) > 0 {
					if err, ok := said(queue[0]); !ok || err != nil {
						rt.Errorf("the first in the queue should have a turn: got %t, %v", ok, err)
					}
					in, queue = append(in, queue[0]), queue[1:]
				}
				for _, j := range queue {
					if err, ok := said(j); ok {
						rt.Errorf("a job that should wait got %v", err)
					}
				}
			}
			for i, a := range actions {
				switch {
				case a <= 1: // one comes
					ctx, leave := context.WithCancel(context.Background())
					j := &job{leave, make(chan error, 1)}
					go func() { j.err <- l.enter(ctx, closing) }()
					synctest.Wait()
					if len(in)+len(queue) == running+waiting {
						if err, ok := said(j); !ok || !errors.Is(err, errFull) {
							rt.Errorf("the full lane returns %v", err)
						}
						leave()
						continue
					}
					queue = append(queue, j)
				case a == 2 && len(in) > 0: // one is done
					k := picks[i] % len(in)
					in[k].leave()
					in = slices.Delete(in, k, k+1)
					l.leave()
				case a == 3 && len(queue) > 0: // one gives up
					k := picks[i] % len(queue)
					queue[k].leave()
					synctest.Wait()
					if err, ok := said(queue[k]); !ok || !errors.Is(err, context.Canceled) {
						rt.Errorf("a client that left got %t, %v", ok, err)
					}
					queue = slices.Delete(queue, k, k+1)
				}
				advance()
			}
			close(closing)
			synctest.Wait()
			for _, j := range queue {
				if err, ok := said(j); !ok || !errors.Is(err, errClosing) {
					rt.Errorf("at the end, a waiting job got %t, %v", ok, err)
				}
				j.leave()
			}
			if err := l.enter(context.Background(), closing); !errors.Is(err, errClosing) {
				rt.Errorf("a closed lane returns %v", err)
			}
			for _, j := range in {
				j.leave()
				l.leave()
			}
			if len(l.places)+len(l.turns) != 0 {
				rt.Errorf("%d places and %d turns were not returned", len(l.places), len(l.turns))
			}
		})
	})
}

// A job whose deadline passes in the queue gets an error.
func TestLaneDeadline(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := newLane(1, 1)
		if err := l.enter(t.Context(), nil); err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(t.Context(), time.Hour)
		defer cancel()
		if err := l.enter(ctx, nil); !errors.Is(err, context.DeadlineExceeded) || len(l.places) != 1 {
			t.Errorf("it returns %v, and %d places are taken", err, len(l.places))
		}
	})
}
