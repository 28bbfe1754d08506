package optimize

import (
	"cmp"
	"context"
	"runtime"
)

// ending returns a function that says why a context ended, nil while it has not.
//
// A deadline counts by the clock, too: where no timer fires while a check has the only
// thread, the context does not know yet, but one that is made with the same deadline is
// over from the start.
func ending(ctx context.Context) func() error {
	if ctx == nil {
		return nil
	}
	return func() error {
		if runtime.GOARCH == "wasm" {
			runtime.Gosched() // to whoever would cancel
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
