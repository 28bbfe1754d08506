package optimize

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Rules are the shop's requirements beyond cutting every piece so that it fits. The zero value
// has none. Rules may be combined.
type Rules struct {
	// MaxPieces is the greatest number of pieces cut from one stick. In a stick with defects it
	// applies to each clear stretch, in a stick cut in the yard to the whole stick. Zero sets
	// no limit; in JSON it is an error.
	MaxPieces int `json:"max_pieces,omitempty" zero:"1 or more, or nothing for no limit"`

	// MinHold is the shortest part that the saw holds safely. At each cut, at least one of the
	// two parts must be this long. If pieces are cut from the shortest to the longest, that
	// means that the longest piece of the pattern or its offcut is at least MinHold, or that
	// the stick is not cut at all: one piece has the stick's Length, and both its ends are
	// square. A bevel is a cut even at the stick's own end, with or without Nest, and so is a
	// cut that removes TrimStart or TrimEnd. In a stick with defects the rule applies to each
	// clear stretch. In a stick cut in the yard it applies to each part, but not to the yard's
	// own cut; a part that is one piece with square ends is not cut again. Zero means no rule.
	MinHold measure.Length `json:"min_hold,omitzero"`

	// Nest lets neighbors with parallel ends share one cut: see [Pattern] for the capacity of a
	// stick then. A bevel takes its true kerf, which is wider than that of a square cut, so a plan
	// may also cost more than without Nest. The kerf is rounded up to 1/64 in. So a slightly wider
	// saw kerf may take no more at any bevel and, since the stick's end saves one whole kerf, a
	// stick may even hold more. Every piece keeps a length of at least zero at each of its edges
	// and more than zero at one: if the cuts at its two ends lean away from each other, or in
	// different planes, the sum of their Setbacks is at most its length. A piece or a whole run
	// that violates this is an error; no run is spliced into parts that do.
	Nest bool `json:"nest,omitempty"`

	// MaxTransport is the longest stick that can be transported; zero sets no limit, and in JSON
	// is an error. A longer stick that is bought (not Rack) is cut once in the yard, with the same
	// kerf, into two parts that can be transported, at the price YardCut. The cut may lie within
	// TrimStart or TrimEnd; if the stick is too long by less than a kerf, the cut removes just the
	// excess. A stick bought only to fill a bundle stays uncut and costs no YardCut. For Groups
	// the two parts are two sticks. A stick that one cut cannot make short enough is not used.
	// Solve returns an error if the pieces on one stick can lie before and after the cut in too
	// many ways, which takes more than twenty pieces whose lengths have no common step such as
	// 1/64 in.
	MaxTransport measure.Length `json:"max_transport,omitzero" zero:"a length such as \"10ft\", or nothing for no limit"`
	YardCut      int64          `json:"yard_cut,omitempty"` // in the currency's minor unit, zero or more; like a price, it makes money the objective

	// Groups are pieces that belong together.
	Groups []Group `json:"groups,omitempty"`

	// Charges are amounts that suppliers charge once per order.
	Charges []Charge `json:"charges,omitempty"`

	// Spare is the number of whole sticks to have beyond those that are cut, so that each can
	// replace a spoiled one. A spare stick has a usable length of at least the longest of
	// Problem.Pieces, has no defects, and is short enough to be transported. Surplus sticks due
	// to Bundle and Minimum count, and so do Rack sticks; Solve takes no more of either than it
	// must, unless fewer would cost more.
	Spare int `json:"spare,omitempty"`

	// OffcutValues gives the value of an offcut by length, in increasing order: an offcut has
	// the Value of the last step that is not longer than it, and zero below the first. The
	// values count if Goals has [GoalOffcutValue].
	OffcutValues []OffcutValue `json:"offcut_values,omitempty"`

	// Goals lists the goals in order of importance: each goal decides among the plans that are
	// best by all goals before it. Empty means GoalCost, then GoalSticks, GoalSplices and
	// GoalLongestOffcut. The first is always GoalCost. Each later goal gets a few times the work
	// that the first took; with an empty list, it gets a share of that work. Plan.Goals reports
	// what is proven.
	Goals []Goal `json:"goals,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero MaxPieces or MaxTransport is
// a [*measure.FieldError]. So is a name that a field had before version 1.0.0, since a plan
// that ignores a rule would break it.
func (r *Rules) UnmarshalJSON(data []byte) error {
	if err := formerName(data); err != nil {
		return err
	}
	type plain Rules
	return fault.Unmarshal(data, (*plain)(r))
}

// formerName reports the first former name of a field.
func formerName(data []byte) error {
	var o map[string]json.RawMessage
	if json.Unmarshal(data, &o) != nil {
		return nil // the caller reports the error
	}
	for _, n := range [...]struct{ was, is string }{
		{"most_pieces", "max_pieces"}, {"hold", "min_hold"}, {"transport", "max_transport"}, {"worth", "offcut_values"},
	} {
		if name, raw, ok := named(o, n.was); ok {
			return fieldError(name, unquoted(raw), "its present name, "+n.is)
		}
	}
	var groups []map[string]json.RawMessage
	if _, list, ok := named(o, "groups"); !ok || json.Unmarshal(list, &groups) != nil {
		return nil
	}
	for i := range groups {
		if name, raw, ok := named(groups[i], "begun"); ok {
			field := fmt.Sprintf("groups[%d].%s", i, name)
			return fieldError(field, unquoted(raw), "its present name, started")
		}
	}
	return nil
}

// named finds a member of an object as package json does: by its name or, if there is none,
// by one that differs in case alone.
func named(o map[string]json.RawMessage, name string) (string, json.RawMessage, bool) {
	if raw, ok := o[name]; ok {
		return name, raw, true
	}
	for _, other := range slices.Sorted(maps.Keys(o)) {
		if strings.EqualFold(other, name) {
			return other, o[other], true
		}
	}
	return "", nil, false
}

// Group is a set of pieces that belong together. All its pieces have the same quantity, the
// number of sets; each set has one of every piece.
type Group struct {
	Kind   GroupKind `json:"kind"`
	Pieces []int     `json:"pieces"` // indices into Problem.Pieces, at least two, each in one group only

	// Started applies to GroupOneLot. It means that part of the group is already cut from sticks
	// of Lot (see stock.Stick.Lot), so the rest must come from that lot too. A started group may
	// be one piece, and its quantities may differ. Without Started, Lot is empty.
	Started bool   `json:"started,omitempty"`
	Lot     string `json:"lot,omitempty"`
}

// GroupKind is the way in which the pieces of a group belong together.
type GroupKind uint8

const (
	// GroupOneStick means that each set comes from one stick, to match grain or veins. On a stick
	// with defects, it comes from one clear stretch.
	GroupOneStick GroupKind = iota
	// GroupInSequence means that each set comes from one stick, side by side in the order of the
	// group, so that the figure continues around a corner. None of its pieces is turned.
	GroupInSequence
	// GroupOneLot means that all sets come from sticks of one lot.
	GroupOneLot
)

var groupNames = names{"GroupKind", "a kind of group", []string{"one stick", "in sequence", "one lot"}}

// String returns the kind in words.
func (k GroupKind) String() string { return groupNames.text(uint8(k)) }

// MarshalText returns the words of String; an unknown value is a [*measure.FieldError].
func (k GroupKind) MarshalText() ([]byte, error) { return groupNames.marshal(uint8(k)) }

// UnmarshalText reads the words of String; any other text is a [*measure.FieldError].
func (k *GroupKind) UnmarshalText(b []byte) error {
	v, err := groupNames.parse(b)
	if err == nil {
		*k = GroupKind(v)
	}
	return err
}

// Charge is an amount that a supplier charges once if anything is bought there, such as for
// delivery or handling. A Rack stick that names the supplier counts as bought there; if you own
// it, leave its Supplier empty.
type Charge struct {
	Supplier string `json:"supplier"` // as in stock.Stick.Supplier; required and unique
	Amount   int64  `json:"amount"`   // in the currency's minor unit, zero or more
}

// OffcutValue is one step of the value of an offcut.
type OffcutValue struct {
	Length measure.Length `json:"length"` // more than zero
	Value  int64          `json:"value"`  // more than zero, in the currency's minor unit
}

// Goal is a quantity to minimize or maximize.
type Goal uint8

const (
	// GoalCost is the least Plan.Cost.
	GoalCost Goal = iota
	// GoalSticks is the fewest sticks cut.
	GoalSticks
	// GoalOffcutValue is the greatest total value of the offcuts by Rules.OffcutValues, less the
	// value of the Rack sticks that are cut. A Rack stick without defects has the value of its
	// whole Length, unusable ends included. In a stick with defects each clear stretch has its own
	// value, both before and after cutting, even if it yields no piece, and unusable ends do not
	// count.
	GoalOffcutValue
	// GoalLongestOffcut is the longest single offcut. In a stick with defects a clear stretch that
	// yields no piece is an offcut too, but the search does not try to leave one unused. With such
	// sticks the goal usually remains unproven.
	GoalLongestOffcut
	// GoalPatterns is the fewest different patterns. Two patterns are the same if their usable
	// length, the lengths of the pieces and the way they lie are the same. The search is a
	// heuristic: it joins patterns that their average can replace. The bound is valid, but uses
	// only lengths and quantities, so many optimal plans remain unproven. Later goals never
	// increase the number of patterns.
	GoalPatterns
	// GoalCuts is the fewest cuts. A stick takes one cut fewer than it yields pieces, and one more
	// if it leaves an offcut. With Nest, only plans are considered whose pieces, as turned, lie in
	// the order that leaves the longest offcut.
	GoalCuts
	// GoalSplices is the fewest splices in all of Problem.Runs.
	GoalSplices
)

var goalNames = names{"Goal", "a goal", []string{"least cost", "fewest sticks", "most worth", "longest offcut", "fewest patterns", "fewest cuts", "fewest splices"}}

// String returns the goal in words.
func (g Goal) String() string { return goalNames.text(uint8(g)) }

// MarshalText returns the words of String; an unknown value is a [*measure.FieldError].
func (g Goal) MarshalText() ([]byte, error) { return goalNames.marshal(uint8(g)) }

// UnmarshalText reads the words of String; any other text is a [*measure.FieldError].
func (g *Goal) UnmarshalText(b []byte) error {
	v, err := goalNames.parse(b)
	if err == nil {
		*g = Goal(v)
	}
	return err
}

// GoalResult is the result of a plan for one goal, in the unit of the goal: cost for GoalCost,
// a count for GoalSticks, GoalPatterns, GoalCuts and GoalSplices, minor units for
// GoalOffcutValue, ticks of measure.Length for GoalLongestOffcut.
type GoalResult struct {
	Goal   Goal  `json:"goal"`
	Value  int64 `json:"value"`
	Bound  int64 `json:"bound"`  // no plan that is as good in all earlier goals does better
	Proven bool  `json:"proven"` // Value == Bound, and every earlier goal is proven

	// Proof is the evidence for Bound, as described at [Proof]: of kind [ProofDual] or
	// [ProofTree], or [ProofNone] if there is none. The evidence for the cost is Plan.Proof.
	// Trivial bounds, which are listed there, and the bound of GoalPatterns need none.
	Proof Proof `json:"proof,omitzero"`
}

// Purchase is the number of one stick to buy.
type Purchase struct {
	Stick int   `json:"stick"` // index into Problem.Sticks
	Count int   `json:"count"` // number to buy or take from the rack, cut or not
	Cost  int64 `json:"cost"`  // for all of them, in the unit of Plan.Cost, with breaks and yard cuts
}

// A Turn says how a piece lies on a stick. The zero value is as given: Left is toward the
// stick's start, and the face is up. As text it is "as given", "turned end for end", "rolled
// over" or "turned and rolled".
type Turn struct {
	// EndForEnd means turned half around, with the same face up. Left becomes the right end, and
	// the inner and outer edges change places. Without Rolled the piece's Symmetry is SymmetryEnds
	// or SymmetryAll.
	EndForEnd bool

	// Rolled means that the back is up. Alone, the piece is rolled over along its length, and the
	// two edges change places; with EndForEnd, Left becomes the right end and the edges stay. The
	// Symmetry is SymmetryAll.
	Rolled bool
}

var turnNames = names{"Turn", "a turn", []string{"as given", "turned end for end", "rolled over", "turned and rolled"}}

// number returns the index of t in turnNames.
func (t Turn) number() uint8 {
	var n uint8
	if t.EndForEnd {
		n = 1
	}
	if t.Rolled {
		n += 2
	}
	return n
}

// String returns the turn in words.
func (t Turn) String() string { return turnNames.text(t.number()) }

// MarshalText returns the words of String. It never fails.
func (t Turn) MarshalText() ([]byte, error) { return turnNames.marshal(t.number()) }

// UnmarshalText reads the words of String; any other text is a [*measure.FieldError].
func (t *Turn) UnmarshalText(b []byte) error {
	v, err := turnNames.parse(b)
	if err == nil {
		*t = Turn{EndForEnd: v&1 > 0, Rolled: v&2 > 0}
	}
	return err
}

// SplicedRun lists the splices of one of Problem.Runs.
type SplicedRun struct {
	Run int              `json:"run"` // index into Problem.Runs
	At  []measure.Length `json:"at"`  // from the left long point of the run, ascending; empty if in one piece

	// Pieces are the indices of its pieces as in [Pattern.Pieces], from left to right.
	Pieces []int `json:"pieces"`
}
