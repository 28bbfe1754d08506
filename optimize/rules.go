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

// Rules are what a shop asks of a plan beyond that every piece is cut and fits.
// The zero value asks for nothing. Each rule may be used alone or with others.
type Rules struct {
	// MaxPieces is the greatest number of pieces that one stick may be cut into, a stick with
	// defects counted stretch by stretch, one that is cut in the yard as a whole; zero sets no
	// limit, and in JSON is an error.
	MaxPieces int `json:"max_pieces,omitempty" zero:"1 or more, or nothing for no limit"`

	// MinHold is the shortest part the saw holds safely. At each cut, one of the two parts
	// must be at least this long. Cut from the shortest to the longest, that is so exactly
	// if the longest piece of the pattern or its offcut is at least MinHold, or if the
	// stick is not cut at all: one piece has the stick's Length, and both its ends are
	// square. A bevel is a cut also at the stick's own end, with or without
	// Nest, and so is what TrimStart and TrimEnd take off. Of a stick with defects the longest
	// piece or the offcut of each clear stretch must be that long; of one that is cut in the
	// yard those of each part, but the yard's saw needs no MinHold, and a part that is one piece
	// with square ends is not cut again. Zero asks for nothing.
	MinHold measure.Length `json:"min_hold,omitzero"`

	// Nest lets neighbors whose ends are parallel share one cut: see [Pattern] for
	// what a stick then holds. A bevel then takes its true kerf, which is more than a
	// square cut takes, so that a plan may also cost more than without. It is rounded up to
	// 1/64 in, so that a kerf a little wider may take no more at any bevel and yet, since the
	// stick's end saves one whole kerf, let a stick hold more. Whatever is
	// cut then keeps a length of zero or more at each of its edges, and of more than zero
	// at one: where the cuts at its two ends lean away from each other, or in different
	// planes, their Setbacks together are at most its length. A piece or a whole run that
	// does not is refused; no run is spliced into parts that do not.
	Nest bool `json:"nest,omitempty"`

	// MaxTransport is the longest stick that can be carried home; zero sets no limit, and in
	// JSON is an error.
	// A longer one that is bought (not Rack) is cut once in the yard, with the same
	// kerf, into two parts that can, for YardCut each. The cut may lie within what
	// TrimStart or TrimEnd takes off, and where the stick is too long by less than a kerf
	// it takes off just that. One that is bought but not
	// needed, to fill a bundle, stays uncut and costs no YardCut. For Groups the two
	// parts are two sticks. A stick that no single cut makes short enough is not used.
	MaxTransport measure.Length `json:"max_transport,omitzero" zero:"a length such as \"10ft\", or nothing for no limit"`
	YardCut      int64          `json:"yard_cut,omitempty"` // in the currency's minor unit, zero or more; it makes money count as a price does

	// Groups are pieces that belong together.
	Groups []Group `json:"groups,omitempty"`

	// Charges are what a supplier asks once, whatever is bought.
	Charges []Charge `json:"charges,omitempty"`

	// Spare is how many whole sticks to have beyond those that are cut, so that each
	// can replace whatever is spoiled: of a usable length of at least the longest of
	// Problem.Pieces, without defects, and short enough to be carried. What Bundle and
	// Minimum make one buy too many counts, and so do Rack sticks.
	Spare int `json:"spare,omitempty"`

	// OffcutValues gives the value of an offcut by length, in increasing order: an offcut
	// is worth the Value of the last step that is not longer than it, and nothing
	// below the first. The values count if Goals has [GoalOffcutValue].
	OffcutValues []OffcutValue `json:"offcut_values,omitempty"`

	// Goals is the ladder of what to strive for: the first goal counts, the second
	// decides among the plans that are best by the first, and so on. Empty means
	// GoalCost, then GoalSticks, GoalSplices and GoalLongestOffcut. The first is always GoalCost.
	// Each later goal is given a few times the work that the first took, those of an empty
	// list a share of it: Plan.Goals says what is proven.
	Goals []Goal `json:"goals,omitempty"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero MaxPieces or MaxTransport
// is a [*measure.FieldError], and so is a name that a field had before version 1.0.0: a
// rule that is passed over would make a plan that breaks it.
func (r *Rules) UnmarshalJSON(data []byte) error {
	if err := formerName(data); err != nil {
		return err
	}
	type plain Rules
	return fault.Unmarshal(data, (*plain)(r))
}

// formerName reports the first name that a field had once.
func formerName(data []byte) error {
	var o map[string]json.RawMessage
	if json.Unmarshal(data, &o) != nil {
		return nil // whoever reads it says why
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

// Group is pieces that belong together. Where they have quantities, all have the
// same: so many sets, each of one of every piece.
type Group struct {
	Kind   GroupKind `json:"kind"`
	Pieces []int     `json:"pieces"` // indices into Problem.Pieces, at least two, each in one group only

	// Started says, of GroupOneLot, that some of the group is cut already, from sticks of Lot as
	// stock.Stick names it: the rest comes from there, too. It may be one piece, and its
	// quantities may differ. Without Started, Lot is empty.
	Started bool   `json:"started,omitempty"`
	Lot     string `json:"lot,omitempty"`
}

// GroupKind is how pieces belong together.
type GroupKind uint8

const (
	// GroupOneStick: each set comes from one stick, for grain or veins that match. On a
	// stick with defects, from one clear stretch of it.
	GroupOneStick GroupKind = iota
	// GroupInSequence: each set comes from one stick, side by side in the order of the
	// group, so that the figure runs on around a corner. None of them is turned.
	GroupInSequence
	// GroupOneLot: all sets come from sticks of one lot.
	GroupOneLot
)

var groupNames = names{"GroupKind", "a kind of group", []string{"one stick", "in sequence", "one lot"}}

// String returns the kind in words.
func (k GroupKind) String() string { return groupNames.text(uint8(k)) }

// MarshalText implements encoding.TextMarshaler.
func (k GroupKind) MarshalText() ([]byte, error) { return groupNames.marshal(uint8(k)) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (k *GroupKind) UnmarshalText(b []byte) error {
	v, err := groupNames.parse(b)
	if err == nil {
		*k = GroupKind(v)
	}
	return err
}

// Charge is what a supplier asks once if anything is bought there: delivery, an
// order's handling. A Rack stick that names the supplier counts as bought there, too: leave its
// Supplier empty where it is owned.
type Charge struct {
	Supplier string `json:"supplier"` // as in stock.Stick.Supplier; not empty, each once
	Amount   int64  `json:"amount"`   // in the currency's minor unit, zero or more
}

// OffcutValue is one step of what offcuts are worth.
type OffcutValue struct {
	Length measure.Length `json:"length"` // more than zero
	Value  int64          `json:"value"`  // more than zero, in the currency's minor unit
}

// Goal is one thing to strive for.
type Goal uint8

const (
	// GoalCost: the least Plan.Cost.
	GoalCost Goal = iota
	// GoalSticks: as few sticks cut as possible.
	GoalSticks
	// GoalOffcutValue: offcuts of the greatest worth in total, by Rules.OffcutValues, less what
	// the Rack sticks that are cut would be worth by it: one without defects by its whole
	// Length, the ends that cannot be used included. Of a stick with defects each clear
	// stretch is worth something by itself, before and after: one that yields no piece, too,
	// and ends that cannot be used do not count.
	GoalOffcutValue
	// GoalLongestOffcut: the longest single offcut. A clear stretch of a stick with defects that
	// yields no piece is one, too; the search does not seek to leave one idle, and where there
	// are such sticks the goal mostly stays unproven.
	GoalLongestOffcut
	// GoalPatterns: as few different ways of cutting as possible. Two are one way where
	// usable length, the pieces' lengths and how they lie are the same. The search for it
	// is a rule of thumb: it joins patterns that their average can replace. The bound is
	// true, but follows from lengths and quantities alone, so that many plans stay unproven
	// that have none better. Later goals never take more patterns than it reached.
	GoalPatterns
	// GoalCuts: as few cuts as possible: a stick takes one less than it yields
	// pieces, and one more where an offcut is left. With Nest, among plans whose pieces lie,
	// each turned as it is, in the order that leaves the longest offcut.
	GoalCuts
	// GoalSplices: as few splices as possible, in all of Problem.Runs together.
	GoalSplices
)

var goalNames = names{"Goal", "a goal", []string{"least cost", "fewest sticks", "most worth", "longest offcut", "fewest patterns", "fewest cuts", "fewest splices"}}

// String returns the goal in words.
func (g Goal) String() string { return goalNames.text(uint8(g)) }

// MarshalText implements encoding.TextMarshaler.
func (g Goal) MarshalText() ([]byte, error) { return goalNames.marshal(uint8(g)) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (g *Goal) UnmarshalText(b []byte) error {
	v, err := goalNames.parse(b)
	if err == nil {
		*g = Goal(v)
	}
	return err
}

// GoalResult is what a plan reaches of one goal, in the unit of that goal: cost for
// GoalCost, a count for GoalSticks, GoalPatterns, GoalCuts and GoalSplices, minor
// units for GoalOffcutValue, ticks of measure.Length for GoalLongestOffcut.
type GoalResult struct {
	Goal   Goal  `json:"goal"`
	Value  int64 `json:"value"`
	Bound  int64 `json:"bound"`  // no plan as good in the goals before does better
	Proven bool  `json:"proven"` // Value == Bound, and every goal before is proven
}

// Purchase is what to buy of one stick.
type Purchase struct {
	Stick int   `json:"stick"` // index into Problem.Sticks
	Count int   `json:"count"` // how many to buy or to take from the rack, cut or not
	Cost  int64 `json:"cost"`  // for all of them, breaks and yard cuts included
}

// A Turn says how a piece lies on a stick. The zero value is as given: Left is toward the
// stick's start, the face is up. As text it is "as given", "turned end for end", "rolled
// over" or "turned and rolled".
type Turn struct {
	// EndForEnd: turned half around with the face as it was: Left comes to the right and
	// the inner edge to where the outer one was. Without Rolled the piece's Symmetry is
	// SymmetryEnds or SymmetryAll.
	EndForEnd bool

	// Rolled: the back is up. Alone, the piece is rolled over along its length and the two
	// edges have changed places; with EndForEnd, Left comes to the right and the edges stay.
	// The Symmetry is SymmetryAll.
	Rolled bool
}

var turnNames = names{"Turn", "a turn", []string{"as given", "turned end for end", "rolled over", "turned and rolled"}}

// number orders turns as turnNames has them.
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

// MarshalText implements encoding.TextMarshaler. It never fails.
func (t Turn) MarshalText() ([]byte, error) { return turnNames.marshal(t.number()) }

// UnmarshalText implements encoding.TextUnmarshaler. Text that is no turn is a
// [*measure.FieldError].
func (t *Turn) UnmarshalText(b []byte) error {
	v, err := turnNames.parse(b)
	if err == nil {
		*t = Turn{EndForEnd: v&1 > 0, Rolled: v&2 > 0}
	}
	return err
}

// SplicedRun is where one of Problem.Runs is spliced.
type SplicedRun struct {
	Run int              `json:"run"` // index into Problem.Runs
	At  []measure.Length `json:"at"`  // from the left long point of the run, ascending; empty: in one piece

	// Pieces are the indices of its pieces as [Pattern.Pieces] has them, from left
	// to right.
	Pieces []int `json:"pieces"`
}
