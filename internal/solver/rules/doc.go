// Package rules states cutting stock problems with rules, in integers: constraints on patterns,
// prices that are not proportional to the count, and pieces that can be obtained in several
// ways. It evaluates patterns and says which are allowed (shape.go, yard.go), computes the cost
// of sticks (purchase.go), and evaluates plans (evaluate.go, exact.go). It does not search for
// plans.
package rules
