package run

import (
	"context"
	"errors"
	"runtime/metrics"
	"time"
)

var errCPU = errors.New("processor time used up")

// watcher samples heap and processor time every few milliseconds while an instance is solved.
type watcher struct {
	end, done chan struct{}
	cancel    context.CancelCauseFunc
	peak      uint64
}

const lookEvery = 5 * time.Millisecond

func watch(ctx context.Context, limit time.Duration) (context.Context, *watcher) {
	w := &watcher{end: make(chan struct{}), done: make(chan struct{})}
	ctx, w.cancel = context.WithCancelCause(ctx)
	start := cpuTime()
	go func() {
		defer close(w.done)
		t := time.NewTicker(lookEvery)
		defer t.Stop()
		for {
			w.peak = max(w.peak, heapBytes())
			if limit > 0 && cpuTime()-start > limit {
				w.cancel(errCPU)
			}
			select {
			case <-t.C:
			case <-w.end:
				w.peak = max(w.peak, heapBytes())
				return
			}
		}
	}()
	return ctx, w
}

// stop ends the watch and returns the greatest heap seen.
func (w *watcher) stop() uint64 {
	close(w.end)
	<-w.done
	w.cancel(nil)
	return w.peak
}

// heapBytes returns the size of live objects and garbage not yet swept.
func heapBytes() uint64 {
	s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(s)
	if s[0].Value.Kind() != metrics.KindUint64 {
		return 0
	}
	return s[0].Value.Uint64()
}
