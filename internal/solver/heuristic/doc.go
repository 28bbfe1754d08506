// Package heuristic looks for plans, and never proves anything. It knows problems with
// rules; a plain problem is one of them (rules.Of).
//
// Quick plans never look back (quick.go: first fit decreasing and its kin, with fill.go,
// downsize.go, assemble.go). A part of a plan from outside is filled up (complete.go). A dive fixes
// columns of a relaxation one after another, in one master (dive.go, shares.go). Neighborhoods are
// a few sticks of a plan that are planned anew (neighborhood.go). What is left for others to plan,
// the last pieces of a dive or a neighborhood, goes to a func of the caller, since that takes a
// solver. When a tree tries which is a table (schedule.go).
package heuristic
