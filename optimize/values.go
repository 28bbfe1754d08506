package optimize

// PieceValue is what a piece is worth by a plan's proof: Num/Den, in lowest terms, in the
// unit of the plan's cost, such as cents.
type PieceValue struct {
	Piece int   `json:"piece"` // index in Problem.Pieces
	Num   int64 `json:"num"`
	Den   int64 `json:"den"`
}

// PieceValues returns what each piece is worth by the proof, and whether the proof has
// such values: it does where it is of kind [ProofMaterial] or [ProofDual], one leaf that
// speaks of every plan, and does not need [Leaf.Sums]. Parts of runs are not among them; see [Leaf.Parts].
//
// The values are prices at which it would pay to sell pieces rather than sticks: no
// stick yields pieces worth more than it costs, unless it is limited. Solve works that out
// exactly, and leaves without prices use Leaf.Sums, so that they have no values here. Summed over all
// pieces, less what limited sticks yield beyond their cost, they make up the bound before it
// is rounded up. So they say where the money goes. A piece that fits into what is left over
// anyhow is worth nothing, and of two pieces the shorter may be worth more for its length.
//
// They do not say what a piece more costs, since sticks are whole; package whatif does. What they
// prove is the other side: in a plan that is proven, one piece fewer saves less than its
// value and one Proof.Unit together, and no more than its value where the bound did not have
// to be rounded up.
func (pl *Plan) PieceValues() ([]PieceValue, bool) {
	if pl == nil {
		return nil, false
	}
	l, unit, ok := pl.Proof.values()
	if !ok {
		return nil, false
	}
	out := make([]PieceValue, len(l.Values))
	for i, v := range l.Values {
		if v < 0 {
			return nil, false
		}
		a := gcd(v, l.Scale)
		b := gcd(unit, l.Scale/a)
		num, ok := mul(v/a, unit/b).int64()
		if !ok {
			return nil, false
		}
		out[i] = PieceValue{i, num, l.Scale / a / b}
	}
	return out, true
}
