package optimize

import (
	"cmp"
	"context"
	"runtime"
)

// ending returns a function that returns why a context has ended, nil if it has not.
//
// A deadline is also compared with the clock. If a check has the only thread, no timer fires and the context
// does not end, but a new context with the same deadline has ended at once.
func ending(ctx context.Context) func() error {
	if ctx == nil {
		return nil
	}
	return func() error {
		if runtime.GOARCH == "wasm" {
			runtime.Gosched() // so that another goroutine can cancel
		}
		if err := ctx.Err(); err != nil {
			return cmp.Or(context.Cause(ctx), err)
		}
		at, limited := ctx.Deadline()
		if !limited {
			return nil
		}
		now, stop := context.WithDeadline(context.Background(), at)
		defer stop()
		return now.Err()
	}
}
