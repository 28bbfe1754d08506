package optimize

import (
	"fmt"
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// runs records how runs are spliced.
func (s *starter) runs(spliced []SplicedRun) {
	in, p := s.in, s.in.problem
	last := -1
	for k := range spliced {
		sp := &spliced[k]
		field := func(name string) string { return fmt.Sprintf("spliced[%d].%s", k, name) }
		if sp.Run <= last || sp.Run >= len(p.Runs) {
			s.fault(field("run"), sp.Run, fmt.Sprintf("ascending indices below %d", len(p.Runs)))
			continue
		}
		last = sp.Run
		pieces, way, ok := s.way(sp, field)
		if !ok {
			continue
		}
		first := len(p.Pieces) + len(s.plan.Parts)
		for j, i := range sp.Pieces {
			if len(sp.Pieces) != len(pieces) || i != first+j {
				s.fault(field("pieces"), fmt.Sprint(sp.Pieces), fmt.Sprintf("%d numbers from %d on, those of its parts, or none", len(pieces), first))
				break
			}
		}
		s.out.Assemblies[sp.Run] = way
		s.plan.Parts = append(s.plan.Parts, pieces...)
		s.plan.Spliced = append(s.plan.Spliced, *sp)
		for _, a := range way {
			s.partOf = append(s.partOf, in.model.Runs[sp.Run].Arcs[a].Item)
		}
	}
}

// way finds the way along a run that splices it at the given positions.
func (s *starter) way(sp *SplicedRun, field func(string) string) ([]stock.Piece, []int, bool) {
	in, run := s.in, &s.in.problem.Runs[sp.Run]
	if most := run.Splice.MaxSplices; most > 0 && len(sp.At) > most {
		s.fault(field("at"), fmt.Sprintf("%d splices", len(sp.At)), fmt.Sprintf("at most %d", most))
		return nil, nil, false
	}
	for j, x := range sp.At {
		if _, may := slices.BinarySearch(run.Splice.At, x); !may {
			s.fault(field(fmt.Sprintf("at[%d]", j)), x.About(), "one of the positions in splice.at")
			return nil, nil, false
		}
	}
	pieces, err := run.Pieces(sp.At)
	if err != nil {
		for bad := range measure.FieldErrors(err) {
			s.fault(field(bad.Field), bad.Value, bad.Want)
		}
		return nil, nil, false
	}
	at := append(append([]measure.Length{0}, sp.At...), run.Length)
	node := func(k int) int { n, _ := slices.BinarySearch(in.parts[sp.Run], at[k]); return n }
	var way []int
	for k := range len(at) - 1 {
		a := slices.IndexFunc(in.model.Runs[sp.Run].Arcs, func(a rules.Arc) bool { return a.From == node(k) && a.To == node(k+1) })
		if a < 0 {
			s.fault(field("at"), fmt.Sprintf("a part of %v", pieces[k].Length.About()), "parts that some stick holds")
			return nil, nil, false
		}
		way = append(way, a)
	}
	return pieces, way, true
}
