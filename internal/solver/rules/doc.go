// Package rules states cutting stock problems with the freedoms and the duties of a shop, in integers: patterns
// that must keep to rules, prices that are not in proportion to the count, and pieces that may be had in more
// than one way. It says what a pattern comes to and whether one is allowed (shape.go, yard.go), what sticks cost
// (purchase.go) and what a plan is and is worth (evaluate.go, exact.go). How plans are found is no business of it.
package rules
