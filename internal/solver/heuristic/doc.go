// Package heuristic looks for plans, and never proves anything. It knows problems with
// rules; a plain problem is one of them (rules.Of).
//
// Quick plans never look back (quick.go: first fit decreasing and its kin, with fill.go,
// downsize.go, assemble.go). A part of a plan from outside is filled up (complete.go).
package heuristic
