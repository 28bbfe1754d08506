package optimize

import "math/big"

// PieceValues returns what each of Problem.Pieces is worth by the proof, in the unit of the
// plan's cost, such as cents, and whether the proof has such values: it does if its kind is
// [ProofMaterial] or [ProofDual] and it rests on them alone. Parts of runs are not among them.
//
// The values are prices at which it would pay to sell pieces rather than sticks: no
// stick yields pieces worth more than it costs, unless it is limited. Solve works that out
// exactly. Summed over all pieces, less what limited sticks yield beyond their cost, they make
// up the bound before it is rounded up. So they say where the money goes. A piece that fits
// into what is left over anyhow is worth nothing, and of two pieces the shorter may be worth
// more for its length.
//
// They do not say what a piece more costs, since sticks are whole; package whatif does. What they
// prove is the other side: in a plan that is proven, one piece fewer saves less than its
// value and one unit of the proof together, and no more than its value if the bound did not have
// to be rounded up.
func (pl *Plan) PieceValues() ([]*big.Rat, bool) {
	if pl == nil {
		return nil, false
	}
	l, unit, ok := pl.Proof.values()
	if !ok {
		return nil, false
	}
	out := make([]*big.Rat, len(l.Values))
	for i, v := range l.Values {
		if v < 0 {
			return nil, false
		}
		out[i] = new(big.Rat).SetFrac64(v, l.Scale)
		out[i].Mul(out[i], new(big.Rat).SetInt64(unit))
	}
	return out, true
}
