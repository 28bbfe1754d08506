package optimize

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"iter"

	"example.com/longpoint/internal/solver/certificate"
	"example.com/longpoint/measure"
)

// A Proof is the evidence for a plan's Bound, in a form that can be verified with integers and
// without the solver: by [Check], or by another program that implements the description here.
// It is opaque and immutable; two proofs can be compared with ==. The zero value is a proof of
// kind [ProofNone].
//
// # JSON
//
// As JSON a proof is {"version": 1, "kind": "dual", "data": "..."}. The data is the bytes of
// the proof in base64 (RFC 4648, section 4); it is omitted if there are none. The meaning of a
// released version never changes: another format gets another number. An unknown version, and
// bytes that differ from the description below, are a [*measure.FieldError].
//
// # What a proof says
//
// Sticks of equal usable length and equal cost form a class; sold-out sticks are ignored. Classes
// are numbered in the order of their first sticks in Problem.Sticks. A class can be used at most
// as many times as its sticks' limits add up to, and never more times than there are pieces. A
// leaf is a box in the space of the uses of the classes, Lo[c] to Hi[c] times. The boxes of all
// leaves together cover every plan.
//
// Unit divides the cost of every stick, which is its price, or its length if nothing has a
// price; so every plan's cost is a multiple of it. A leaf has Values, the dual values, one for
// each of Problem.Pieces, zero or more, and a Scale, zero or more.
//
// Let K(c) be the greatest total value of the pieces that one stick of class c can hold, with no
// more of any piece than its quantity. A plan that uses class c n(c) times, Lo[c] <= n(c) <=
// Hi[c], costs at least
//
//	(sum of Values*quantity + sum over c of n(c)*(Scale*cost(c)/Unit - K(c))) * Unit / Scale
//
// since no stick yields more value than K. The leaf shows the minimum over the box, rounded up to
// a multiple of Unit, or zero if that is negative. With Scale 0, a positive sum shows that the box
// contains no plan. Scale*cost(c)/Unit and K(c) are less than 1<<62 for each class: [Check]
// computes sums exactly or rejects them. LeafBound is the bound that the leaves claim: no leaf
// shows less. Plan.Bound is LeafBound, or greater if the kind is [ProofSearch].
//
// The kinds [ProofEnumeration] and [ProofPacking] also have searches, and the latter has forced
// sticks; both are described below. A leaf of these kinds may have a search, which shows
// LeafBound; then the leaf itself may show less.
//
// If a leaf has Sums set and shows less than LeafBound, the bound is rounded up further: to the
// least total cost of sticks whose counts lie in the box, or to LeafBound if that is less. No plan
// in the box has a cost in between. (If there are more than 2,097,152 multiples of the greatest
// common divisor of the costs of the classes that the box leaves open, from the least cost in the
// box to LeafBound, each multiple counts as such a total.)
//
// # With rules
//
// A problem has rules if it has Runs, if any field of Rules is not zero, if a piece has a Grade
// other than zero, or if a stick has a Grade below zero, Defects, Breaks, or a Bundle or Minimum
// of more than one.
//
// Sticks then form a class if they have the same Length, TrimStart, TrimEnd, Price, Supplier, Lot,
// Grade and Rack; a stick with Bundle or Minimum of more than one, Breaks or Defects is the only
// one of its class. The use of a class is the number of its sticks that are cut or kept as spares.
// No class is used more times than the number of pieces, plus Spare, plus the greatest number of
// parts of the runs; a run has at most one part more than the lesser of its number of positions
// and MaxSplices. A stick with Bundle or Minimum is used at most as many times as it can be
// bought, and a stick that no single cut makes short enough to be carried is not used. Unit
// divides the prices, with Breaks, of all sticks that can be used, and all of Rules.Charges. The
// prices of splices and of yard cuts are divided by Unit and rounded down instead.
//
// In the sum of a leaf each run adds its cheapest way. Its ways are all choices of positions that
// its Splice allows, with no part longer than the longest clear stretch of a stick. The parts
// count by their values (Parts has them by length; a part of another length has none), the splices
// by their price. The spares add Spare each. The cost of n sticks of a class is the least price of
// n or more of them by Bundle, Minimum and Breaks, a supplier's charge added once. For each of
// Rules.Charges a leaf may say (Used) whether anything is bought there: 1 for yes, -1 for no, 0
// for either. Totals for Sums include any number of yard cuts, of splices of each run, and the
// charges. If a box allows more than 1,024 counts of a stick with Bundle, Minimum or Breaks beyond
// the least, nothing is rounded up to a total.
//
// K(c) is then the greatest value of a pattern of the stick, zero if it holds none, less the cost
// of its yard cut, under the rules for patterns: Grade, MaxPieces, MinHold, MaxTransport, groups
// that stay together and, with Nest, the order and turns that save the most. If the stick can be
// kept as a spare, K(c) is at least Spare. [Check] treats the two parts of a stick that is cut in
// the yard as one, without MinHold and with no piece longer than MaxTransport. It treats each
// clear stretch of a stick with defects by itself, as if no other stretch held any pieces. It
// counts pieces up to a MaxPieces of 64, and distinguishes at most 8 shapes of nesting ends and at
// most 400 states of a pattern with the same number of pieces. (A state records which shapes have
// more ends on one side than on the other, which of them are connected by pieces, and whether some
// piece is as long as MinHold.) Beyond these limits it uses an upper bound on K, and the leaf may
// show less.
//
// Pieces in groups of the kind [GroupOneLot] that are not Started also have a value for each
// lot. These values follow those of all pieces: group by group and piece by piece in the order
// of Rules.Groups, and for each piece lot by lot in the order of the first stick of each lot in
// Problem.Sticks, without sold out sticks. On a stick of a lot, such a piece is worth the sum
// of its own value and its value for the lot. The sum of a leaf has another term for each
// group: the minimum over all lots of its pieces' values for that lot times their quantity. The
// pieces' own values count as those of other pieces. A proof may omit the values for lots: then
// all are zero. A piece of a group that is Started counts only on sticks of its lot.
//
// # Goals after the cost
//
// A goal after the cost may have a proof of its bound, [GoalResult].Proof, of kind [ProofDual]
// with one leaf or [ProofTree] with several. Classes, boxes and Unit are those of a proof with
// rules, and LeafBound is the goal's Bound. Let the goal be number g of Rules.Goals, counted from
// zero. In a row the values above, including those for lots, are followed by g weights, zero or
// more, of the goals before it. Scale is the weight of the goal itself, and Value(h) is the plan's
// value of goal h. A leaf shows that no plan in its box that is as good as this plan in every
// earlier goal is better than Bound. For every such plan this sum would be zero or less, but it is
// more than zero:
//
//   - the sum of a leaf as above, with the weight of GoalCost in place of Scale, where a splice
//     also costs the weight of GoalSplices;
//   - there K is the greatest value of a pattern with at least one piece, and may be below
//     zero. The value of a pattern is reduced by the weight of GoalSticks, and by that of
//     GoalCuts for each of its cuts. It is increased by the weight of GoalOffcutValue times the
//     worth of its offcuts less the worth of the stick if it is on the rack, and by the weight
//     of GoalLongestOffcut for each stretch that leaves an offcut of Value(h) or more or, in
//     the proof for that goal, of more than Bound. Stretches of a stick with defects that yield
//     no piece are such offcuts. A spare is worth Spare, and nothing else counts for it;
//   - for each earlier goal h, minus its weight times Value(h); for GoalCost, minus its weight
//     times the quotient Value(h)/Unit, rounded down; for GoalOffcutValue, plus its weight
//     times Value(h); for GoalLongestOffcut, plus its weight; for GoalPatterns, nothing;
//   - for the goal itself, minus Scale*(Bound-1); for GoalOffcutValue, plus Scale*(Bound+1);
//     for GoalLongestOffcut, plus Scale.
//
// If a leaf has Sums set, it may show the same from costs. Add the weight of GoalCost times the
// quotient Value(0)/Unit, rounded down, to the sum; divide by that weight, round up and multiply
// by Unit. Such plans cost at least the result, or zero if that is less or the weight is zero. The
// leaf shows that there are none if no total cost of sticks in the box, as for the cost, lies
// between that and Value(0), inclusive.
//
// GoalCost and GoalPatterns have no such proof: the proof of the cost is Plan.Proof, and Check
// itself computes the bound of GoalPatterns from lengths and quantities. Trivial bounds need no
// proof. These are 1 for GoalSticks, zero for GoalCuts, for GoalSplices the number of runs longer
// than every clear stretch, for GoalOffcutValue zero if every clear stretch is shorter than the
// first of OffcutValues, and for GoalLongestOffcut the length of the longest clear stretch or, if
// that is less, the greatest length that one piece leaves of a stick, with a kerf between them.
// (If ends nest, half the setbacks of that piece's ends count as saved. If a stick has several
// clear stretches, one may remain whole.)
//
// # Searches
//
// This section covers problems without rules; the next one lists the differences with rules. The
// distinct lengths of pieces, in increasing order, are items. Item i has demand d(i), the quantity
// of all pieces of its length, and its size is its length plus a kerf. A stick of class c holds
// its usable length plus a kerf. A pattern is a class whose Hi in the leaf's box is not zero, with
// items that one of its sticks holds, item i at most d(i) times. It is maximal: no further item
// fits, except items of which the pattern already holds the whole demand. A pattern's cost is its
// stick's, in Units.
//
// Let top be the greatest cost below LeafBound, in Units, that a plan in the leaf's box can have:
// the greatest whole number below LeafBound/Unit or, if the leaf has Sums set, the greatest total
// cost below it of sticks whose counts lie in the box. (Every multiple of the common divisor
// counts if there are too many, as above.) If there is none, the box is done. A search shows that
// the box contains no plan that costs top or less and has the fewest sticks of all plans of the
// least cost.
//
// A search has one or more filters. A filter has a Scale above zero and a value for each item,
// zero or more. With these as the values of a leaf over the same box, let N be the minimum over
// the box of the sum in parentheses in the formula above. If N > Scale*top, the box is done.
// Otherwise a pattern p of class c passes the filter if
//
//	the total value of its items is at least max(K(c), F(c)) - (Scale*top - N)
//
// where F(c) is Scale*cost(c)/Unit if Lo[c] is zero, and zero otherwise. The list consists of all
// patterns that pass all filters. A plan as above needs no other patterns: pieces can be added to
// its sticks until these are patterns, and the reduced costs of all sticks add up to at most
// Scale*top - N. Such a plan uses pattern p at most
//
//	U(p) = the lesser of Hi[c] and the greatest of d(i)/a(i), rounded up, over the items i of which p holds a(i) > 0
//
// times, since more sticks would be useless.
//
// The rest of a search is a tree over x(p), the number of times that each pattern of the list
// is used. Its state consists of the range lo[c] to hi[c] of the uses of each class, initially
// Lo[c] to Hi[c]; the rows on the path from the root; and the list. There are three kinds of
// nodes:
//
//   - A branch has a row and a number k. The row has a class or none, and items with counts. A
//     pattern counts in it if it is of the class (of any class, if the row has none) and holds at
//     least these counts of the items. The branch has two children: in the first the patterns of
//     the row are used at most k times in total, in the second at least k+1 times. A row with a
//     class and no items does not count as a row: it sets hi[c] to the lesser of hi[c] and k in
//     the first child, and lo[c] to the greater of lo[c] and k+1 in the second.
//   - A fixing has a vector and removes patterns from the list. It has one child.
//   - A leaf of the tree has a vector and closes it.
//
// A vector has a Scale S, zero or more; u(i), zero or more, for each item; z(c) for each class;
// y(r) for each row on the path, zero or more in its second child, zero or less in its first;
// and w(t), zero or more, for some cuts. A cut is a set of items; h(t) is half of their total
// demand, rounded up, and a pattern counts in it with half the number of its items that belong
// to the cut, rounded up. The reduced cost of a pattern p of class c is
//
//	R(p) = S*cost(c)/Unit - z(c) - sum of u(i)*a(i) - sum of y(r) over the rows in which p counts
//	       - sum of w(t)*(count of p in cut t)
//
// and the vector shows
//
//	B = sum of u(i)*d(i) + sum of z(c)*lo[c] over z(c) > 0 + sum of z(c)*hi[c] over z(c) < 0
//	    + sum of y(r)*k(r), with k(r)+1 in place of k(r) in second children
//	    + sum of w(t)*h(t)
//	    + sum of R(p)*min(U(p), hi[c]) over the patterns p of the list, of class c, whose R(p) is below zero
//
// A leaf of the tree holds if B > S*top. (With S = 0, the rows then cannot be satisfied.) A
// fixing, whose S is above zero, removes from the list, for the subtree below it, the patterns
// with R(p) > S*top - B. The search holds if all leaves of the tree do.
//
// The values of a vector are limited: the sum of the greatest u and all w, times the greatest
// number of pieces in a pattern, plus S times the greatest cost in Units, plus the absolute
// values of all z and y, is less than 1<<62.
//
// # Searches with rules
//
// In a problem with rules, the list has patterns and ways, and a plan uses exactly one way of each
// run. The runs are those of Problem.Runs and, after them, the groups of the kind [GroupOneLot]
// that are not Started, in the order of Rules.Groups.
//
// Items are numbered in the order in which they first occur here:
//
//   - the pieces in the order of Problem.Pieces, without those in groups that stay together; a
//     piece of a GroupOneLot that is not Started has one item for each lot;
//   - the groups that stay together in the order of Rules.Groups, each as one item with all its
//     pieces;
//   - the parts of runs, run by run, by the node at their end and, for each, from the nearest node
//     before it on, even if they are longer than any stick;
//   - the spare, if Rules.Spare is not zero;
//   - for each class with several clear stretches, one item for each of them.
//
// (The nodes of a run are its start, its positions in order and its end, counted from 0.) Pieces
// and parts are the same item if they have the same Grade, the same lot if they must come from one,
// and the same length; with MinHold also only if both or neither are square at both ends (all parts
// of a length count as square if one is). With Nest, the ways in which they may lie must be the
// same instead of the length, and with MinHold also whether the length is MinHold or more. A way in
// which a piece may lie is given by the length with the kerf at its right end less half the
// setbacks of the ends that nest, and by the shapes of these ends, without repeats, in the order
// unturned, end for end, rolled, both.
//
// Demand d(i) is the quantity of all pieces or groups of the item, without those of a GroupOneLot
// that is not Started; Spare for the spare; zero for parts and for stretches. The most m(i) is
// d(i), plus the quantities of the item's pieces of a GroupOneLot, plus for each length of parts
// (and, with Nest, for each pair of ends) and each run the greatest number of its parts of that
// length that do not overlap.
//
// A pattern belongs to a clear stretch of a class that the box may use. It has at least one item
// that is cut, and item i at most m(i) times, and the stretch yields it under the rules that K
// takes into account (with MaxPieces, however great). It is maximal: the stretch yields no pattern
// with one item more. If the class has several stretches, the pattern also has the stretch's item,
// -1 times. The spare alone is a pattern of each class without defects and yard cut whose clear
// stretch is no shorter than the longest piece of Problem.Pieces. The cost of a pattern is
// YardCut/Unit, rounded down, if its stick is cut in the yard, and zero otherwise: the cost of the
// sticks is counted separately.
//
// A way of a run has the items of its parts and passes the nodes at their ends; no part is longer
// than the longest clear stretch of a stick. Its cost is Price/Unit, rounded down, for each
// splice. A way of a group of pieces is a lot; it has the items of its pieces for that lot, costs
// nothing, and passes the number of the lot. The a(i) of ways are below zero, since patterns must
// yield these items, too.
//
// A filter has a value of zero for stretches. N is computed as for a leaf, with the filter's value
// for each item and with the cheapest way of each run. Let T(c) be the term of class c in N, and
// T1(c) the same with at least one stick. A pattern passes if
//
//	the total value of its items, less Scale times its cost, is at least K + T1(c) - T(c) - (Scale*top - N)
//
// where K is that of its stretch alone. A way passes if the sum of Scale times its cost and the
// values of its items exceeds that of the cheapest way of the run by at most Scale*top - N.
//
// The ranges lo[c] to hi[c] begin as those of the box, and as 0 to 0 for a class of a supplier
// that the box does not use. U(p) has m(i) in place of d(i). Rows count patterns only; a pattern
// holds the item of a stretch if it lies there. There is one more kind of node:
//
//   - A choice has a run and a number. In its first child the ways of the run that pass that
//     number are removed, in its second all others of the run.
//
// In a vector z(c) is the value of a stick, and zero for a class with several stretches: the
// value of its stick is the sum of the u of its stretches. Cuts have no stretches. For a pattern
//
//	R(p) = S*cost + z(c) - sum of u(i)*a(i) - sum of y(r) over the rows in which p counts
//	       - sum of w(t)*(count of p in cut t)
//
// and for a way it is S*cost with the same sums over u and w, less the least such number among the
// remaining ways of the run. In B, the terms with z are replaced by these:
//
//   - for each class the least of S*cost(n)/Unit, cost(n) as in a leaf, less n times the value of a
//     stick, for n from lo[c] to hi[c]; with charges as in a leaf, where lo[c] takes the place of Lo[c];
//   - for each run, the least number just mentioned. If no way remains, B is above S*top.
//
// In the limit of the values, S is multiplied by the greatest cost of a pattern or way, and the
// greatest number of pieces is that of items in a pattern or way, with repeats, or that of the
// stretches of a stick.
//
// # Forced sticks
//
// Forced sticks occur only in problems without rules that have a single class of sticks, with a
// cost above zero. Let n be the greatest number of sticks that together cost less than LeafBound.
// Let slack be n times the capacity of a stick less the total size of all pieces, kerfs included;
// it is zero or more. A forced stick is two or three items whose sizes add up to the capacity of a
// stick. Its pieces are subtracted from the quantities, first from the pieces that come first in
// Problem.Pieces. If there are three, a, b and c, let rest be the size that a leaves of a stick:
// no set of the other pieces still needed has a total size from rest less slack to rest. (The
// empty set, with size zero, counts.) Then, if there is a plan of n sticks, there is one with the
// forced stick: the stick that holds a also holds b or c, since otherwise too much would be
// wasted, and the remaining pieces on it are together no longer than the other of the two and can
// change places with it.
//
// The leaves and searches then apply to the rest: d(i) and the quantities are reduced by these
// pieces, LeafBound by the cost of the forced sticks, and the limit of the class by their
// number; it is also at most the number of remaining pieces.
//
// # The bytes
//
// A count is an unsigned number, 7 bits a byte, the lowest first, with the high bit set in
// all bytes but the last. A number is a count whose lowest bit, if set, says that all other
// bits are to be inverted, to 64 bits: the counts 0, 1, 2, 3 are the numbers 0, -1, 1, -2.
// (These are the varints of encoding/binary.) No bytes at all are a proof without leaves,
// with Unit and LeafBound 0. Otherwise
//
//	proof  = Unit LeafBound                            two numbers
//	         classes pieces charges                    three counts: how many there are
//	         count { list } count { row } count { leaf }
//	list   = count { number }                          lengths of parts of runs, in ticks
//	row    = Scale Spare list { number }               two numbers, a count, values
//	leaf   = head { Lo Hi } { Used }                   the first leaf: all classes, all charges
//	       | head count { change }                     any other
//	change = class Lo Hi | charge Used                 a count, and numbers
//
// where the contents of braces are repeated as many times as the preceding count says, or once for
// each class, charge or value.
//
// Each number of a list and each value of a row is written as the difference from the one before,
// the first as it is. A row has a value for each piece, then any values that follow these as
// described above (they count as pieces here), and then one for each length of its list. Lists are
// counted from 1, and 0 means none. The first row has the values in the order of Problem.Pieces
// and of those that follow; any other row has them in increasing order of the first row's values,
// equal ones in that order.
//
// A leaf's head is a count: twice the number of its row, counted from 0, plus one if Sums is
// set. Its box and its Used are those of the leaf before except for the changes. In a change, a
// count below the number of classes is a class; any other is a charge.
//
// After the leaves, only the kinds [ProofEnumeration] and [ProofPacking] continue:
//
//	more   = items count { forced } count { search }   items: how many there are, a count
//	forced = a b c                                     three counts: items, the third one more, 0 for none
//	search = skip size body                            counts: leaves since the last search, bytes of the body
//	body   = count { cut } count { filter } node
//	cut    = count { skip }                            items since the last of the cut
//	filter = Scale { u }                               numbers, for each item
//	node   = 0 vector | 1 vector node | 2 row k node node | 3 run number node node
//	row    = class count { item least }                counts: the class and one, 0 for any; item; a number
//	vector = Scale { u } { z } { y } count { cut w }   numbers; a count for each cut, and a number
//
// A skip is the number of items or leaves left out since the last one, or from the start: 0 is
// the next. Each u is written as the difference from the one before, the first as it is. k is a
// number. A node of kind 0 is a leaf of the tree, 1 a fixing, 2 a branch, 3 a choice, which has
// two counts; y has one number for each row on the path that counts as a row, from the root
// down. Trees are at most 8,192 nodes deep.
//
// A [*CheckError] names a fault in the bytes by these words: proof.leaf_bound,
// proof.leaves[2].lo[0].
//
// # Limits
//
// Reading a proof takes memory of at most 64 times its size. [Check] examines at most 2,097,152
// pairs of Lo and Hi (a charge counts as one) of all leaves together, and at most 67,108,864 pairs
// and values, leaf by leaf. With more leaves it cannot tell whether they cover every plan, and the
// proof shows nothing. Its effort for the leaves is also limited, to about a second. It examines a
// list of at most 131,072 patterns with 1,048,576 items in them, each item counted once per
// pattern (ways count as patterns), and no list in which ends nest in more than 8 shapes. It
// examines forced sticks only if a stick holds at most 4,194,304 times the greatest common divisor
// of its capacity and the sizes of the pieces.
type Proof struct {
	kind ProofKind
	data string // bytes that proof.Open reads
}

// Kind returns the kind of evidence.
func (p Proof) Kind() ProofKind { return p.kind }

// Size returns the number of bytes of the proof; as base64 in JSON it is a third longer. The size
// of a proof without leaves is zero.
func (p Proof) Size() int { return len(p.data) }

// Equal reports whether two proofs are equal, as == does. It exists for packages that compare
// plans field by field.
func (p Proof) Equal(q Proof) bool { return p == q }

// proofVersion is the version of the format in which proofs are written.
const proofVersion = "1"

// MarshalJSON writes the proof as described at [Proof].
func (p Proof) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Version json.RawMessage `json:"version"`
		Kind    ProofKind       `json:"kind"`
		Data    string          `json:"data,omitempty"`
	}{json.RawMessage(proofVersion), p.kind, base64.StdEncoding.EncodeToString([]byte(p.data))})
}

// UnmarshalJSON reads what MarshalJSON writes. An unknown version, and bytes that are not a
// proof, are a [*measure.FieldError]. It does not verify what the proof shows; [Check] does.
func (p *Proof) UnmarshalJSON(text []byte) error {
	if string(text) == "null" {
		return nil
	}
	// First read what every version has.
	var head struct {
		Version json.RawMessage `json:"version"`
	}
	if err := json.Unmarshal(text, &head); err != nil {
		return err
	}
	if v := string(head.Version); v != proofVersion {
		return &measure.FieldError{Field: "version", Value: v, Want: proofVersion + ": proofs of other versions are not known here"}
	}
	var body struct {
		Kind json.RawMessage `json:"kind"`
		Data json.RawMessage `json:"data"`
	}
	if err := json.Unmarshal(text, &body); err != nil {
		return err
	}
	var q Proof
	if body.Kind != nil {
		if err := json.Unmarshal(body.Kind, &q.kind); err != nil {
			return &measure.FieldError{Field: "kind", Value: unquoted(body.Kind), Want: proofNames.want()}
		}
	}
	if body.Data != nil {
		data, err := bytesOf(body.Data)
		if err != nil {
			return &measure.FieldError{Field: "data", Value: unquoted(body.Data), Want: "the bytes of a proof in base64", Err: err}
		}
		q.data = data
	}
	*p = q
	return nil
}

// bytesOf decodes the bytes of a proof from base64, and checks their format.
func bytesOf(text json.RawMessage) (string, error) {
	var s string
	if err := json.Unmarshal(text, &s); err != nil {
		return "", errors.New("no text")
	}
	data, err := base64.StdEncoding.Strict().DecodeString(s)
	if err == nil {
		_, err = certificate.Open(string(data), nil)
	}
	return string(data), err
}

// unquoted returns a JSON string without its quotes, and any other value unchanged.
func unquoted(text json.RawMessage) string {
	var s string
	if json.Unmarshal(text, &s) == nil {
		return s
	}
	return string(text)
}

// The parts of a proof: complete boxes, and parts of searches.
type (
	leaf        = certificate.Leaf
	vector      = certificate.Vector
	row         = certificate.Row
	holds       = certificate.Hold
	passing     = certificate.Way
	weight      = certificate.Weight
	foundSearch = certificate.OpenSearch
	cursor      = certificate.Cursor
)

// Kinds of nodes of a search.
const (
	leafNode   = certificate.LeafNode
	fixNode    = certificate.FixNode
	branchNode = certificate.BranchNode
	wayNode    = certificate.WayNode
)

// exhibit is a proof that is read leaf by leaf: an existing one, or one being built.
type exhibit struct {
	kind                     ProofKind
	unit, leafBound          int64
	classes, pieces, charges int // the numbers that the proof covers
	leaves                   int
	all                      iter.Seq2[int, *leaf] // a leaf holds until the next
	beyond                   *certificate.OpenSearching
}

// open reads the bytes. The error is the cause if the steps ran out, or a CheckError, which does
// not occur for proofs made by Solve or read from JSON.
func (p Proof) open(steps *effort) (*exhibit, error) {
	s, err := certificate.Open(p.data, steps.awaited)
	switch {
	case errors.Is(err, certificate.ErrStopped):
		return nil, steps.cause
	case err != nil:
		return nil, wrong("proof", fmt.Sprintf("%d bytes", len(p.data)), err)
	}
	return &exhibit{p.kind, s.Unit, s.LeafBound, s.Classes, s.Pieces, s.Charges, s.Leaves, s.All(), s.Beyond}, nil
}

// values returns the single leaf whose values are dual values of the pieces, per unit of cost; ok
// is false if the proof has no such leaf: see Plan.PieceValues. The leaf's box must not be used.
func (p Proof) values() (l leaf, unit int64, ok bool) {
	if p.kind != ProofMaterial && p.kind != ProofDual {
		return leaf{}, 0, false
	}
	x, err := p.open(nil)
	if err != nil || x.leaves != 1 || x.unit < 1 {
		return leaf{}, 0, false
	}
	for _, at := range x.all {
		l = *at
	}
	return l, x.unit, l.Scale >= 1 && !l.Sums
}

// unsealed is a proof being built.
type unsealed struct {
	kind ProofKind
	certificate.Evidence
	found *certifiable // searches that may show more; nil: none

	// One leaf of all plans, and what it shows, if the leaves are too many to verify; nil: none.
	root      []leaf
	rootBound int64
}

// exhibit returns the current state of the proof.
func (u *unsealed) exhibit() *exhibit {
	x := &exhibit{kind: u.kind, unit: u.Unit, leafBound: u.LeafBound, leaves: len(u.Leaves), all: u.All()}
	if len(u.Leaves) > 0 {
		l := &u.Leaves[0]
		x.classes, x.pieces, x.charges = len(l.Lo), len(l.Values), len(l.Used)
	}
	if u.Beyond != nil {
		// Decode it, since a search is traversed in its encoded form.
		data, err := u.Encode()
		if err == nil {
			if s, err := certificate.Open(string(data), nil); err == nil {
				x.beyond = s.Beyond
			}
		}
	}
	return x
}

// seal makes a Proof. One without leaves shows nothing and has no bytes.
func (u *unsealed) seal() (Proof, error) {
	if len(u.Leaves) == 0 && u.LeafBound == 0 {
		return Proof{kind: u.kind}, nil
	}
	data, err := u.Encode()
	return Proof{u.kind, string(data)}, err
}

// ProofKind is the kind of evidence of a proof.
type ProofKind uint8

const (
	// ProofNone shows only that no cost is negative.
	ProofNone ProofKind = iota
	// ProofMaterial has one leaf, whose values are proportional to the lengths with kerf: the
	// total length of the sticks must suffice. For K, [Check] takes the value of a stick's length
	// at that rate, rounded down, or of all pieces that fit it, whichever is less.
	ProofMaterial
	// ProofDual has one leaf for all counts, with dual values of a linear program.
	ProofDual
	// ProofTree has several leaves.
	ProofTree
	// ProofSearch means that the bound exceeds what the leaves show. The solver tried the cases in
	// between; that part cannot be checked without searching again.
	ProofSearch
	// ProofOmitted means that the proof of the plan was omitted; see [Plan.WithoutProof]. No part
	// of the bound can be checked.
	ProofOmitted
	// ProofEnumeration has leaves, some of them with a search over all patterns and ways of runs
	// that a cheaper plan could use. [Check] lists these itself.
	ProofEnumeration
	// ProofPacking has forced sticks, which are in some plan with one stick less than the bound if
	// there is such a plan at all, and leaves, some possibly with a search, that show that no such
	// plan exists for the rest.
	ProofPacking
)

var proofNames = names{"ProofKind", "a kind of proof", []string{"none", "material", "dual", "tree", "exhausted search", "omitted", "enumeration", "packing"}}

// String returns the kind in words.
func (k ProofKind) String() string { return proofNames.text(uint8(k)) }

// MarshalText returns the words of String; an unknown value is a [*measure.FieldError].
func (k ProofKind) MarshalText() ([]byte, error) { return proofNames.marshal(uint8(k)) }

// UnmarshalText reads the words of String; any other text is a [*measure.FieldError].
func (k *ProofKind) UnmarshalText(b []byte) error {
	v, err := proofNames.parse(b)
	if err == nil {
		*k = ProofKind(v)
	}
	return err
}
