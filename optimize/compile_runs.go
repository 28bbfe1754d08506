package optimize

import (
	"fmt"
	"slices"

	"example.com/longpoint/internal/solver/rules"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// maxArcs limits the possible parts of all runs of a problem.
const maxArcs = 60_000

// addRuns makes a run of the solver for each run: its nodes are the ends and the positions, its
// arcs the parts between them that some stick can hold.
func (in *instance) addRuns() error {
	p := in.problem
	longest := measure.Length(0)
	for s := range p.Sticks {
		if p.Sticks[s].Limit != stock.SoldOut {
			longest = max(longest, usable(&p.Sticks[s]))
		}
	}
	arcs := 0
	for r := range p.Runs {
		run := &p.Runs[r]
		rule := &run.Splice
		at := append(append([]measure.Length{0}, rule.At...), run.Length)
		tooMany := func() error {
			return fieldError(fmt.Sprintf("runs[%d].splice.at", r), len(rule.At),
				"fewer positions: a coarser grid, or studs only")
		}
		out := rules.Run{Nodes: len(at)}
		if rule.MaxSplices > 0 && rule.MaxSplices < len(rule.At) {
			out.Most = rule.MaxSplices + 1
		}
		if (out.Most+1)*len(at) > maxLayers {
			return tooMany()
		}
		lap := max(rule.Overlap, -rule.Overlap)
		for i := range at {
			// From the first that is not too short.
			first, _ := slices.BinarySearch(at[i+1:], at[i]+rule.MinPart-lap)
			for j := i + 1 + first; j < len(at); j++ {
				if at[j]-at[i]-lap > longest {
					break
				}
				if err := in.took(8); err != nil {
					return err
				}
				pc, ok := in.part(run, at, i, j)
				if !ok || pc.Length > longest {
					continue
				}
				if arcs++; arcs > maxArcs {
					return tooMany()
				}
				k := in.itemOf(&pc, -1)
				in.items[k].part, in.items[k].length = true, pc.Length
				a := rules.Arc{From: i, To: j, Item: k, N: 1}
				if j < len(at)-1 {
					a.Cost, a.Splices = rule.Price, 1
				}
				out.Arcs = append(out.Arcs, a)
			}
		}
		in.parts = append(in.parts, at)
		in.model.Runs = append(in.model.Runs, out)
	}
	in.runs = len(in.model.Runs)
	return nil
}

// part returns the piece of a run between two of its nodes, and reports whether the rule allows
// it.
func (in *instance) part(run *stock.Run, at []measure.Length, i, j int) (stock.Piece, bool) {
	rule := &run.Splice
	pc := stock.Piece{Left: run.Left, Right: run.Right, Length: at[j] - at[i]}
	over := stock.End{Kind: stock.EndScarfOver, Angle: rule.Bevel, Setback: rule.Overlap}
	under := stock.End{Kind: stock.EndScarfUnder, Angle: rule.Bevel, Setback: rule.Overlap}
	if rule.Bevel == 0 {
		over, under = stock.End{}, stock.End{}
	}
	if rule.RightOver {
		over, under = under, over
	}
	early := rule.Overlap / 2
	if i > 0 {
		pc.Left = under
		pc.Length += rule.Overlap - early
	}
	if j < len(at)-1 {
		pc.Right = over
		pc.Length += early
	}
	if i == 0 && j == len(at)-1 {
		return pc, true
	}
	return pc, pc.Length >= max(1, rule.MinPart) && (!in.problem.Rules.Nest || cuttable(pc.Left, pc.Right, pc.Length))
}
