package optimize

import "math/big"

// PieceValues returns the dual value of each of Problem.Pieces, in the unit of the plan's cost,
// such as cents, and reports whether the proof has such values. It does if its kind is
// [ProofMaterial] or [ProofDual] and the bound rests on these values alone, not on values that
// differ from lot to lot. Parts of runs are not included.
//
// Dual values are prices of pieces at which no stick yields more value than it costs, unless
// its supply is limited. Solve computes them exactly. Their sum over all pieces, less the
// excess value of limited sticks, is the bound before it is rounded up. They show where the
// money goes. A piece that fits into offcuts has the value zero, and the shorter of two pieces
// may have the higher value per foot.
//
// A dual value is not the cost of one more piece, since sticks are whole; package whatif
// computes that. It is a limit on the saving: if a plan is proven, one piece fewer saves less
// than its value plus one unit of the proof, and no more than its value if the bound was not
// rounded up.
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
