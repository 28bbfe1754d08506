// Package share divides the work and the time that options and a context allow among
// several searches.
package share

import (
	"context"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/optimize"
)

// Work returns the limit that Solve sets for options and a context; zero means none.
func Work(ctx context.Context, o *optimize.Options) int64 {
	if o != nil && o.Work != 0 {
		return max(o.Work, 0)
	}
	if ctx != nil {
		if _, ok := ctx.Deadline(); ok {
			return 0
		}
	}
	return optimize.DefaultWork
}

// Of returns an equal share for the k-th of n searches, from 0: of all the work, or of the time
// that is left.
func Of(ctx context.Context, o *optimize.Options, k, n int) (context.Context, *optimize.Options, context.CancelFunc) {
	if Work(ctx, o) > 0 {
		return Part(ctx, o, 1, int64(n))
	}
	return Part(ctx, o, 1, int64(max(n-k, 1)))
}

// Part returns the context and the options for one of several searches: the given fraction of
// the work, or of the time that is left if that alone sets a limit. The returned function must
// be called after the search.
func Part(ctx context.Context, o *optimize.Options, part, of int64) (context.Context, *optimize.Options, context.CancelFunc) {
	if ctx == nil {
		ctx = context.Background()
	}
	if w := Work(ctx, o); w > 0 {
		return ctx, &optimize.Options{Work: max(w/of*part, 1)}, func() {}
	}
	ctx, done := meter.Share(ctx, part, of)
	return ctx, &optimize.Options{Work: -1}, done
}
