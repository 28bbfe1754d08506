package plain

import (
	"context"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
)

// Solve is Run with its own meter.
func Solve(ctx context.Context, p *model.Problem, o search.Options) search.Result {
	mt := meter.New(ctx, o.Work)
	res, _ := Run(ctx, p, mt, search.NewWatch(mt, o.Report), o)
	return res
}
