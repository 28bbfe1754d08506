// Package begin solves problems from a start plan made for another problem.
package begin

import (
	"context"
	"fmt"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// maxTries is the greatest number of times that patterns named by an error are removed, up to a
// hundred at a time.
const maxTries = 3

// Solve is optimize.Solve with a start plan instead of Options.Start. Parts of the plan that do
// not fit the problem are dropped.
func Solve(ctx context.Context, p optimize.Problem, o *optimize.Options, from *optimize.Plan) (*optimize.Plan, error) {
	var with optimize.Options
	if o != nil {
		with = *o
	}
	with.Start = from
	plan, err := optimize.Solve(ctx, p, &with)
	for tries := 0; with.Start != nil && fault.Any(err); tries++ {
		if with.Start = soundPart(with.Start, err); tries == maxTries {
			with.Start = nil
		}
		plan, err = optimize.Solve(ctx, p, &with)
	}
	return plan, err
}

// soundPart returns a start without the patterns that an error names, nil if none are left or
// none are named.
func soundPart(start *optimize.Plan, err error) *optimize.Plan {
	bad := map[int]bool{}
	for e := range measure.FieldErrors(err) {
		k := 0
		if n, _ := fmt.Sscanf(e.Field, "start.patterns[%d]", &k); n == 0 {
			return nil
		}
		bad[k] = true
	}
	part := *start
	part.Patterns = nil
	for k := range start.Patterns {
		if !bad[k] {
			part.Patterns = append(part.Patterns, start.Patterns[k])
		}
	}
	if n := len(part.Patterns); n == 0 || n == len(start.Patterns) {
		return nil
	}
	return &part
}
