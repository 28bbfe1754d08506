// Package heuristic looks for plans and proves nothing. It works on problems with rules; a plain problem is
// converted first (rules.Of).
//
// Quick plans never look back (quick.go: first fit decreasing and its kin, with fill.go, downsize.go,
// assemble.go). A start from the caller is completed (complete.go). A dive fixes columns of a relaxation one
// after another, in one master (dive.go, shares.go). Neighborhoods are a few sticks of a plan that are
// planned again (neighborhood.go). A function of the caller plans the last pieces of a dive and the pieces of
// a neighborhood, since that takes a solver. A table says when a tree tries each heuristic (schedule.go).
package heuristic
