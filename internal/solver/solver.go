// Package solver is the entry point of the solver, for problems with and without rules. README.md
// beside this file explains how it works and defines its terms, and the tests here compare the
// numbers of that text with the code.
package solver

import (
	"context"

	"example.com/longpoint/internal/meter"
	"example.com/longpoint/internal/solver/branchprice"
	"example.com/longpoint/internal/solver/plain"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// Solve finds the plan that is best by the first goal and proves it where it can; among those the
// best by the second, and so on. A problem that is equivalent to a plain one is solved as such, which
// is faster: by package plain if it has one kind of stick.
func Solve(ctx context.Context, p *rules.Problem, o search.Options) search.Result {
	q := p.Plain()
	if q == nil || len(q.Bins) > 1 {
		return branchprice.Solve(ctx, p, o)
	}
	mt := meter.New(ctx, o.Work)
	w := search.NewWatch(mt, o.Report)
	res, root := plain.Run(ctx, q, mt, w, o)
	if res.Patterns != nil {
		branchprice.Pursue(p, mt, w, &res, root, o)
	}
	return res
}
