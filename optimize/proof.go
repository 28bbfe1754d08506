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

// A Proof is the evidence for a plan's Bound, in a form that can be verified with integers
// and without the solver: by [Check], or by a program of one's own that reads what is
// described here. It is opaque and cannot be changed; two proofs can be compared with ==.
// The zero value is a proof of kind [ProofNone].
//
// # JSON
//
// As JSON a proof is {"version": 1, "kind": "dual", "data": "..."}. The data is the bytes
// of the proof in base64 (RFC 4648, section 4); it is left out if there are none. What a
// released version means never changes: another way to write proofs gets another number.
// An unknown version, and bytes that are not as described below, are a
// [measure.FieldError].
//
// # What a proof says
//
// Sticks of equal usable length and equal cost form a class; sticks that are sold out are
// left aside. Classes are numbered in the order in which Problem.Sticks first shows them. A
// class can be used at most as often as the limits of its sticks add up to, and never more
// often than there are pieces. A leaf is a box in the space of how often each class is
// used, Lo[c] to Hi[c] times. The boxes of all leaves together hold every plan.
//
// Unit divides the cost of every stick, which is its price, or its length if nothing has a
// price; so every plan's cost is a multiple of it. A leaf has Values, one for each of
// Problem.Pieces, zero or more, and a Scale, zero or more.
//
// Let K(c) be the greatest total value of pieces that one stick of class c holds, each
// piece at most as often as it is wanted. A plan that uses class c n(c) times,
// Lo[c] <= n(c) <= Hi[c], costs at least
//
//	(sum of Values*quantity + sum over c of n(c)*(Scale*cost(c)/Unit - K(c))) * Unit / Scale
//
// since no stick yields more value than K. The least of that over the box is what the leaf
// shows, rounded up to a multiple of Unit, and zero if it is less. With Scale 0, a positive
// sum shows that the box holds no plan. Scale*cost(c)/Unit and K(c) are less than 1<<62 for
// each class: [Check] works sums out exactly or refuses them. LeafBound is what the leaves
// claim to show: none shows less. Plan.Bound is LeafBound, or greater if the kind is
// [ProofSearch].
//
// What follows about searches and forced sticks is about the kinds [ProofEnumeration] and [ProofPacking].
// There a leaf may have a search, which shows LeafBound; then what the leaf shows by itself does not matter.
//
// If a leaf has Sums set, what it shows below LeafBound is rounded up further: to the least
// sum of what sticks cost whose counts lie in the box, or to LeafBound if that is less. No
// plan in the box costs anything between. (If from the least cost in the box to LeafBound
// there are more than 2,097,152 multiples of the greatest common divisor of the costs of
// the classes that the box leaves open, each multiple counts as such a sum.)
//
// # With rules
//
// In a problem with rules, sticks form a class if everything but Label, Nominal, Profile,
// Material and Limit is the same; a stick with Bundle or Minimum of more than one, Breaks
// or Defects is a class of its own. The use of a class is the number of its sticks that are
// cut or kept as spares.
//
// In the sum of a leaf each run adds the cheapest of its ways: its parts by their values
// (Parts has them by length; a part of another length has none), its splices by their
// price. The spares add Spare each. The cost of n sticks of a class is what they cost with
// all that Bundle, Minimum and Breaks do to it, a supplier's charge added once. Of each of
// Rules.Charges a leaf may say whether anything is bought there (Used): 1 yes, -1 no, 0
// either. Sums include what yard cuts, splices and charges cost.
//
// K is then the most that a pattern of the stick holds, as the rules allow patterns: by Grade, MaxPieces, MinHold,
// MaxTransport, the groups that stay together and, with Nest, the order and turns that save the most; less
// its yard cut. [Check] takes the two parts of a stick that is cut in the yard as one, without MinHold; of
// a stick with defects it takes each clear stretch by itself, as if no other had any of the pieces. It counts pieces
// up to a MaxPieces of 64, and it tells apart at most 8 shapes of ends that nest and at most 400 states of a pattern
// with the same number of pieces. (A state is of which shapes there are more ends at one side than at the other,
// which of them are connected by pieces, and whether some piece is as long as MinHold.) Beyond that it takes
// something above K, so that what it shows may be less.
//
// The pieces of groups of the kind [GroupOneLot] that are not Started have values for each lot, too, which
// follow the values of all pieces: group by group and piece by piece as Rules.Groups has them, for each lot
// in the order in which Problem.Sticks first shows it, sold out sticks left aside. On a stick of a lot such
// a piece is worth its own value and that for the lot together. In the sum each group adds the least, over all lots, of
// its pieces' values for that lot times their quantity; the pieces' own values count as those of all others. A
// proof may leave out the values for lots: all are zero then. A piece of a group that is Started counts on
// sticks of its lot alone.
//
// # Goals after the cost
//
// A goal after the cost may have a proof of its bound, [GoalResult].Proof, of kind [ProofDual] with one leaf or
// [ProofTree] with several. Classes, boxes and Unit are those of a proof with rules, and LeafBound is the goal's
// Bound. Let the goal be number g of Rules.Goals, counted from zero. In a row the values above, those for lots
// included, are followed by g weights, zero or more, of the goals before it; Scale is the weight of the goal itself,
// and Value(h) is what the plan reaches of goal h. A leaf shows that no plan in its box that is as good as this plan in every
// goal before has a better result than Bound. Each such plan would make this sum zero or less, and it is more:
//
//   - what is above the sum of a leaf, where the weight of GoalCost takes the place of Scale, and a splice costs the
//     weight of GoalSplices, too;
//   - K is taken over patterns with one piece or more, and may be below zero. From what a pattern holds the
//     weight of GoalSticks is taken, and that of GoalCuts for each of its cuts. Added are the weight of GoalOffcutValue times what its
//     offcuts are worth, less what the stick was worth if it is on the rack, and the weight of
//     GoalLongestOffcut for each stretch that leaves an offcut of Value(h) or more, or, in the proof for that goal, of more
//     than Bound. Stretches of a stick with defects that yield no piece are such offcuts. A spare is
//     worth Spare and nothing else counts for it;
//   - for each goal h before: less its weight times Value(h), for GoalCost times Value(h)/Unit rounded down; for GoalOffcutValue
//     that is added instead, for GoalLongestOffcut the weight alone; GoalPatterns has no part in it;
//   - for the goal itself: less Scale*(Bound-1); for GoalOffcutValue Scale*(Bound+1) is added instead, for
//     GoalLongestOffcut Scale.
//
// If a leaf has Sums set it may show the same by costs: the sum and the weight of GoalCost times Value(0)/Unit
// rounded down, divided by that weight, rounded up and multiplied by Unit, is what such plans cost at least; zero if that is less or the weight is
// zero. It shows that there is none if in the box no sum of what sticks cost, as for the cost, lies between that and Value(0), both included.
//
// GoalCost and GoalPatterns have no such proof: for the one there is Plan.Proof, for the
// other what lengths and quantities alone show, which Check works out by itself. It also needs no proof for the bound of
// GoalLongestOffcut that the shortest piece leaves of a stick.
//
// # Searches
//
// Only in a problem without rules. The lengths of pieces, each once and from the least on, are items;
// item i is wanted d(i) times, all pieces of its length together, and takes up its length and a kerf. A stick of class
// c holds its usable length and a kerf. A pattern is a class, whose Hi in the leaf's box is not zero, and items that one
// stick of it holds, of each at most as many as are wanted, so that no further item fits of which it does
// not hold all that are wanted. A pattern's cost is its stick's, in Units.
//
// Let top be the most Units that a plan can cost in the leaf's box and yet less than LeafBound: the greatest number
// below LeafBound/Unit, or, if the leaf has Sums set, the greatest sum below it of what sticks cost whose
// counts lie in the box (every multiple of the common divisor counts where there are too many, as above). Where there is
// none, the box is done. A search shows that no plan that costs top or less, with the fewest sticks of all plans of
// the least cost, lies in the box.
//
// A search has filters, one at least. A filter has a Scale above zero and a value for each item, zero or
// more. With these as values of a leaf over the same box, let N be what stands before the division in the formula
// above. If N > Scale*top, the box is done. Else a pattern p of class c passes the filter if
//
//	the values of its items, together, are at least max(K(c), F(c)) - (Scale*top - N)
//
// where F(c) is Scale*cost(c)/Unit if Lo[c] is zero, and zero if not. The list is all patterns that pass all filters. A plan
// as above needs no others: pieces may be added to its sticks until they are patterns, and the reduced
// costs of all its sticks together are at most Scale*top - N. It uses pattern p at most
//
//	U(p) = the lesser of Hi[c] and the greatest of d(i)/a(i), rounded up, over the items i of which p holds a(i) > 0
//
// times, since one stick more would be of no use.
//
// The rest of a search is a tree over the number of times x(p) that each pattern of the list is used. Its state
// is the range lo[c] to hi[c] of how often each class is used, at first Lo[c] to Hi[c]; the rows on the way
// from the root; and the list. There are three kinds of nodes:
//
//   - A branch has a row and a number k. The row is a class, or none, and items with counts: patterns count in it that are
//     of the class (of any, with none) and hold at least so many of each of the items. Below it are two nodes, in
//     the first of which the patterns of the row are used k times at most, together, and in the second k+1
//     times at least. A row with a class and no items does not count as one: it sets hi[c] to the lesser of hi[c] and k in the
//     first, and lo[c] to the greater of lo[c] and k+1 in the second.
//   - A fixing has a vector and takes patterns off the list. Below it is one node.
//   - A leaf of the tree has a vector and closes it.
//
// A vector has a Scale S, zero or more; u(i), zero or more, for each item; z(c) for each class; y(r) for each row
// on the way, zero or more in its second node, zero or less in its first; and w(t), zero or more, for some
// cuts. A cut is some items; h(t) is half of all that is wanted of them together, rounded up, and a pattern
// counts in it half the number that it holds of them, rounded up. The reduced cost of a pattern p of class c is
//
//	R(p) = S*cost(c)/Unit - z(c) - sum of u(i)*a(i) - sum of y(r) over the rows in which p counts
//	       - sum of w(t)*(what p counts in cut t)
//
// and what the vector shows is
//
//	B = sum of u(i)*d(i) + sum of z(c)*lo[c] over z(c) > 0 + sum of z(c)*hi[c] over z(c) < 0
//	    + sum of y(r)*k(r), with k(r)+1 in the place of k(r) in second nodes
//	    + sum of w(t)*h(t)
//	    + sum of R(p)*min(U(p), hi[c]) over the patterns p of the list, of class c, whose R(p) is below zero
//
// A leaf of the tree holds if B > S*top. (With S = 0 that is: if the rows cannot be met.) A fixing, whose S is above zero,
// takes off the list, for all that is below it, the patterns whose R(p) is more than S*top - B. The search holds if all
// leaves of the tree do.
//
// In a pattern S*cost(c)/Unit, u, w, z and y together stay below 1<<62: the greatest u and the sum of all w times the
// most pieces of a pattern, plus S times the greatest cost in Units, plus the sum of all z and y without their signs.
//
// # Forced sticks
//
// Only in a problem without rules, with one class of sticks of a cost above zero. Let n be the most sticks that
// cost less than LeafBound together, and slack their length and kerf, n times what one holds, less what all pieces take up.
// It is zero or more. A forced stick is two or three items whose sizes, kerfs included, are together
// what one stick holds; each piece is taken off what is wanted with its stick, first of those that come first in
// Problem.Pieces. Of three, a, b and c, no pieces that are still wanted, one each of a, b and c aside, come together to what
// a leaves of a stick or to less than that by slack at most (no pieces at all come to zero). So if there is a plan
// of n sticks there is one with this stick in it: in the stick of a is b or c, or too much would be lost; what else is there
// is no longer than the other and can change places with it.
//
// All that is said above of leaves and searches is then about what is left: d(i) and quantities are less by what is
// taken off, LeafBound less by what the forced sticks cost, and the class can be used less often by their
// number, and no more often than there are pieces left.
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
// where braces repeat what they enclose, as often as the count before says, or once for
// each class, charge or value.
//
// Each number of a list and each value of a row is written as what it is more than the one
// before, the first as it is. A row has a value for each piece and any that are said above to follow
// those, which count as pieces here, and then one for each length of its list. Lists are counted from 1, and 0 is none. The first row has the values
// in the order of Problem.Pieces and of what follows; any other row has them in the order of the
// first row's values from the least on, equal ones in that order.
//
// A leaf's head is a count: twice the number of its row, counted from 0, and one more if
// Sums is set. Its box, and its Used, are those of the leaf before but for the changes. In
// a change a count below the number of classes is a class; one from there on is a charge.
//
// After the leaves the kinds [ProofEnumeration] and [ProofPacking] go on, and no other:
//
//	more   = items count { forced } count { search }   items: how many there are, a count
//	forced = a b c                                     three counts: items, the third one more, 0 for none
//	search = skip size body                            counts: leaves since the last search, bytes of the body
//	body   = count { cut } count { filter } node
//	cut    = count { skip }                            items since the last of the cut
//	filter = Scale { u }                               numbers, for each item
//	node   = 0 vector | 1 vector node | 2 row k node node
//	row    = class count { item least }                counts: the class and one, 0 for any; item; a number
//	vector = Scale { u } { z } { y } count { cut w }   numbers; a count for each cut, and a number
//
// A skip counts what is left out since the last one, or from the start: 0 is the next. Each u is
// written as what it is more than the one before, the first as it is. k is a number. A node of kind 0 is a leaf of
// the tree, 1 a fixing, 2 a branch; y stands for each row on the way that counts as one, from the root
// down. Trees are at most 8,192 nodes deep.
//
// A [CheckError] names what is wrong in the bytes by these words: proof.leaf_bound,
// proof.leaves[2].lo[0].
//
// # Limits
//
// Reading a proof takes at most 64 times its bytes of memory. [Check] looks at no more than
// 2,097,152 pairs of Lo and Hi (a charge counts as one) of all leaves together, and at no
// more than 67,108,864 pairs and values, leaf by leaf. Of more leaves it does not know
// whether they hold every plan, and nothing is shown then. Its effort for what leaves show
// is limited, too: about a second. A list may have 131,072 patterns, with 1,048,576 items in them, each
// item counted once a pattern; more are not looked through, and neither are forced sticks of more than 4,194,304 ticks.
type Proof struct {
	kind ProofKind
	data string // bytes that proof.Open reads
}

// Kind returns what kind of evidence it is.
func (p Proof) Kind() ProofKind { return p.kind }

// Size returns how many bytes the proof takes; as text in JSON it is a third longer. A proof
// without leaves takes none.
func (p Proof) Size() int { return len(p.data) }

// Equal reports whether two proofs are the same, as == does. It is there for packages
// that compare plans field by field.
func (p Proof) Equal(q Proof) bool { return p == q }

// proofVersion is the form that proofs are written in.
const proofVersion = "1"

// MarshalJSON writes the proof as described at [Proof].
func (p Proof) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		Version json.RawMessage `json:"version"`
		Kind    ProofKind       `json:"kind"`
		Data    string          `json:"data,omitempty"`
	}{json.RawMessage(proofVersion), p.kind, base64.StdEncoding.EncodeToString([]byte(p.data))})
}

// UnmarshalJSON reads what MarshalJSON writes. A version that it does not know, and bytes
// that are no proof, are a [measure.FieldError]. Whether the proof shows anything is not
// looked at; that is what [Check] does.
func (p *Proof) UnmarshalJSON(text []byte) error {
	if string(text) == "null" {
		return nil
	}
	// First what another version has too.
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

// bytesOf reads the bytes of a proof from a text in base64, and looks whether they are one.
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

// unquoted returns a text in JSON without its quotes, and anything else as it is.
func unquoted(text json.RawMessage) string {
	var s string
	if json.Unmarshal(text, &s) == nil {
		return s
	}
	return string(text)
}

// What a proof is made of: a box in full, and parts of searches.
type (
	leaf        = certificate.Leaf
	vector      = certificate.Vector
	row         = certificate.Row
	holds       = certificate.Hold
	weight      = certificate.Weight
	foundSearch = certificate.OpenSearch
	cursor      = certificate.Cursor
)

// Kinds of nodes of a search.
const (
	leafNode   = certificate.LeafNode
	fixNode    = certificate.FixNode
	branchNode = certificate.BranchNode
)

// exhibit is a proof that is looked at, leaf by leaf: one that was read, or one in the making.
type exhibit struct {
	kind                     ProofKind
	unit, leafBound          int64
	classes, pieces, charges int // that it speaks of
	leaves                   int
	all                      iter.Seq2[int, *leaf] // a leaf holds until the next
	beyond                   *certificate.OpenSearching
}

// open reads the bytes. The error is the cause of steps that came to their end, or a
// CheckError, which no proof has that was made here or read from JSON.
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

// values returns the one leaf whose values are prices of pieces, per unit of cost; not ok
// where the proof has no such leaf: see Plan.PieceValues. The leaf's box is not to be looked at.
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

// unsealed is a proof in the making.
type unsealed struct {
	kind ProofKind
	certificate.Evidence
	found *certifiable // what may show more; nil: nothing
}

// exhibit shows the proof as it is now.
func (u *unsealed) exhibit() *exhibit {
	x := &exhibit{kind: u.kind, unit: u.Unit, leafBound: u.LeafBound, leaves: len(u.Leaves), all: u.All()}
	if len(u.Leaves) > 0 {
		l := &u.Leaves[0]
		x.classes, x.pieces, x.charges = len(l.Lo), len(l.Values), len(l.Used)
	}
	if u.Beyond != nil {
		// Read back from bytes, which is how a search is gone through.
		data, err := u.Encode()
		if err == nil {
			if s, err := certificate.Open(string(data), nil); err == nil {
				x.beyond = s.Beyond
			}
		}
	}
	return x
}

// seal makes a proof of the proof. One without leaves shows nothing and takes no bytes.
func (u *unsealed) seal() (Proof, error) {
	if len(u.Leaves) == 0 && u.LeafBound == 0 {
		return Proof{kind: u.kind}, nil
	}
	data, err := u.Encode()
	return Proof{u.kind, string(data)}, err
}

// ProofKind names a kind of evidence.
type ProofKind uint8

const (
	// ProofNone: nothing but that no cost is below zero.
	ProofNone ProofKind = iota
	// ProofMaterial: one leaf whose values are in proportion to the lengths
	// with kerf. The sticks must be long enough in total. For K, what a stick holds, [Check]
	// takes what its length is worth at that rate, rounded down, or all pieces that fit it, whichever is less.
	ProofMaterial
	// ProofDual: one leaf over all counts, its values from a linear program.
	ProofDual
	// ProofTree: several leaves.
	ProofTree
	// ProofSearch: the bound is greater than what the leaves show. The solver
	// tried the cases between; that part cannot be checked without searching
	// again.
	ProofSearch
	// ProofOmitted: the plan had a proof, which was left out; see
	// [Plan.WithoutProof]. Nothing of the bound can be checked.
	ProofOmitted
	// ProofEnumeration: leaves, of which some have a search over all the patterns that a cheaper
	// plan could use. [Check] lists the patterns itself.
	ProofEnumeration
	// ProofPacking: sticks that are in some plan of one stick less than the bound says, if there is any, and leaves, of
	// which some may have a search, that show that there is none for what is left.
	ProofPacking
)

var proofNames = names{"ProofKind", "a kind of proof", []string{"none", "material", "dual", "tree", "exhausted search", "omitted", "enumeration", "packing"}}

// String returns the kind in words.
func (k ProofKind) String() string { return proofNames.text(uint8(k)) }

// MarshalText implements encoding.TextMarshaler.
func (k ProofKind) MarshalText() ([]byte, error) { return proofNames.marshal(uint8(k)) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (k *ProofKind) UnmarshalText(b []byte) error {
	v, err := proofNames.parse(b)
	if err == nil {
		*k = ProofKind(v)
	}
	return err
}
