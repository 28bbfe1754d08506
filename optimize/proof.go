package optimize

import "example.com/longpoint/measure"

// Proof is the evidence for a plan's Bound, in a form that can be checked
// with integers and without the solver.
//
// Sticks of equal usable length and equal cost form a class; classes are
// numbered in the order in which Problem.Sticks first shows them. A class can
// be used at most as often as the limits of its sticks add up to, and never
// more often than there are pieces. A leaf is a box in the space of how often
// each class is used, and the leaves' boxes together hold every plan.
//
// In a problem with rules, sticks form a class where everything but Label, Nominal,
// Profile, Material and Limit is the same; a stick with Bundle or Minimum of more than
// one, Breaks or Defects is a class of its own. The use of a class is the number of its sticks that are cut or kept
// as spares. In the sum of a leaf (see [Leaf]) each run adds the cheapest of its
// ways, parts by their values and splices by their price; the spares add theirs;
// and the cost of n sticks of a class is what they cost with all that Bundle,
// Minimum and Breaks do to it, a supplier's charge added once. K is then the most
// that a stick holds with the rules, less its yard cut, and [Check] takes the most
// that it holds by length and Grade, or something above: what it shows may be less.
type Proof struct {
	Kind ProofKind `json:"kind"`

	// Unit divides the cost of every stick (its price, or its length where the
	// objective is LeastLength): every plan's cost is a multiple of it.
	Unit int64 `json:"unit"`

	Leaves []Leaf `json:"leaves,omitempty"`

	// LeafBound is what the leaves show by themselves, a multiple of Unit. Where
	// Bound is greater, the rest comes from an exhausted search: Kind is ProofSearch then,
	// and no other.
	LeafBound int64 `json:"leaf_bound"`
}

// Leaf is one box with the values of pieces that show what a plan in it must
// cost at least.
//
// Let K(c) be the greatest total value of pieces that one stick of class c
// holds, each piece at most as often as it is wanted. A plan that uses class c
// n(c) times, Lo[c] <= n(c) <= Hi[c], costs at least
//
//	(sum of Values*quantity + sum over c of n(c)*(Scale*cost(c)/Unit - K(c))) * Unit / Scale
//
// since no stick yields more value than K. The least of that over the box is
// what the leaf shows, rounded up to a multiple of Unit. With Scale 0, a
// positive sum shows that the box holds no plan. Values by which a stick may hold 1<<62 or
// more show nothing: [Check] works sums out exactly or refuses them.
//
// With Sums it is rounded up further, as far as to the next sum of what the sticks cost
// whose counts lie in the box: no plan in it costs anything between. (Where from the
// least cost in the box on to Proof.LeafBound there are more than 2,097,152 multiples of
// the greatest common divisor of the costs of the classes that the box leaves open, each
// multiple counts as such a sum.) In a problem with rules also what yard cuts, splices and
// charges cost is part of the sums.
type Leaf struct {
	Lo     []int64 `json:"lo"`     // per class: the least count in the box
	Hi     []int64 `json:"hi"`     // per class: the greatest, at most what the limits allow
	Values []int64 `json:"values"` // per index in Problem.Pieces; zero or more
	Scale  int64   `json:"scale"`  // zero or more
	Sums   bool    `json:"sums,omitempty"`

	// The rest is for problems with rules; see Proof.

	// Parts are the values of the parts that runs can be cut into, by their lengths,
	// ascending; a part of another length has none.
	Parts []PartValue `json:"parts,omitempty"`

	Spare int64 `json:"spare,omitempty"` // the value of a spare stick

	// Used says, per index in Rules.Charges, whether anything is bought there: 1
	// yes, -1 no, 0 either.
	Used []int `json:"used,omitempty"`
}

// PartValue is the value of a part of a run.
type PartValue struct {
	Length measure.Length `json:"length"`
	Value  int64          `json:"value"` // zero or more
}

// ProofKind names a kind of evidence.
type ProofKind uint8

const (
	// ProofNone: nothing but that no cost is below zero.
	ProofNone ProofKind = iota
	// ProofMaterial: one leaf whose values are in proportion to the lengths
	// with kerf. The sticks must be long enough in total.
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
)

var proofNames = names{"none", "material", "dual", "tree", "exhausted search", "omitted"}

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
