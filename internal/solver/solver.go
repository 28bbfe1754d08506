// Package solver is the entry point of the solver, for problems with and without rules. README.md
// beside this file explains how it works and defines its terms, and the tests here compare the
// numbers of that text with the code.
package solver

import (
	"context"

	"example.com/longpoint/internal/solver/branchprice"
	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/internal/solver/search"
)

// Solve finds the plan that is best by the first goal and proves it where it can; among those the
// best by the second, and so on. A problem that is equivalent to one without rules is solved as such, which
// is faster.
func Solve(ctx context.Context, p *rules.Problem, o search.Options) search.Result {
	return branchprice.Solve(ctx, p, o)
}
