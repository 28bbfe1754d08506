package optimize

// plain reports whether the problem has only prices, lengths and limits, so that the solver for
// such problems can take it.
func (p *Problem) plain() bool {
	r := &p.Rules
	if len(p.Runs) > 0 || r.MaxPieces != 0 || r.MinHold != 0 || r.Nest || r.MaxTransport != 0 || r.YardCut != 0 ||
		len(r.Groups) > 0 || len(r.Charges) > 0 || r.Spare != 0 || len(r.OffcutValues) > 0 || len(r.Goals) > 0 {
		return false
	}
	for i := range p.Sticks {
		s := &p.Sticks[i]
		if s.Grade < 0 || len(s.Defects) > 0 || s.Bundle > 1 || s.Minimum > 1 || len(s.Breaks) > 0 {
			return false
		}
	}
	for i := range p.Pieces {
		if p.Pieces[i].Grade != 0 {
			return false
		}
	}
	return true
}
