package optimize

import (
	"errors"

	"example.com/longpoint/internal/solver/model"
	"example.com/longpoint/internal/solver/search"
	"example.com/longpoint/measure"
)

var errColumns = errors.New("solver's patterns do not match the problem")

// decode converts the solver's result to a plan without its proof.
//
// Equal pieces are handed out in the order of their index, equal sticks stick by stick. A
// pattern of the solver's is split only if one of these runs out, so the number of patterns is
// never more than the sum of the solver's patterns, the sticks and twice the pieces, however
// large the counts.
func (in *instance) decode(r *search.Result) (*Plan, error) {
	d := decoder{in: in, plan: &Plan{ByLength: in.byLength, Work: r.Work}}
	if err := d.runs(r.Assemblies); err != nil {
		return nil, err
	}
	d.deal()
	if !in.sound(r.Patterns) {
		return nil, errColumns
	}
	if err := d.cut(r.Patterns); err != nil {
		return nil, err
	}
	for i := range d.things {
		if len(d.things[i].ids) > 0 {
			return nil, errColumns
		}
	}
	d.order()
	if err := d.buy(); err != nil {
		return nil, err
	}
	d.plan.Cost = r.Cost * in.costUnit
	return d.plan, nil
}

// sound reports whether all bins, items and orientations of the solver's patterns exist, in
// order.
func (in *instance) sound(patterns []model.PatternCount) bool {
	for k := range patterns {
		pat := &patterns[k]
		if pat.Bin < 0 || pat.Bin >= len(in.model.Bins) || pat.Count <= 0 || len(pat.Uses) == 0 {
			return false
		}
		for _, u := range pat.Uses {
			if u.Item < 0 || u.Item >= len(in.items) || u.Orient < 0 || u.Orient >= len(in.model.Items[u.Item].Orientations) || u.N <= 0 || u.N > maxPieces {
				return false
			}
		}
	}
	return true
}

type decoder struct {
	in     *instance
	plan   *Plan
	parts  [][]int
	lots   [][]int // per item: pieces that a lot's way assigns to it
	things []dealer
	sticks []dealer
	bought []int64 // per class: sticks used, including spares
	used   []int64 // per stick
	cutOf  []int64 // per stick: those that are cut
}

// runs creates the parts of the runs.
func (d *decoder) runs(ways [][]int) error {
	in, p := d.in, d.in.problem
	d.parts = make([][]int, len(in.items))
	d.lots = make([][]int, len(in.items))
	if len(ways) != len(in.model.Runs) {
		return errColumns
	}
	for r := range p.Runs {
		run := &p.Runs[r]
		at := in.parts[r]
		s := SplicedRun{Run: r, At: []measure.Length{}}
		for k, a := range ways[r] {
			if k > 0 {
				s.At = append(s.At, at[in.model.Runs[r].Arcs[a].From])
			}
		}
		pieces, err := run.Pieces(s.At)
		if err != nil {
			return err
		}
		if len(pieces) != len(ways[r]) {
			return errColumns
		}
		for k, a := range ways[r] {
			id := len(p.Pieces) + len(d.plan.Parts)
			d.plan.Parts = append(d.plan.Parts, pieces[k])
			s.Pieces = append(s.Pieces, id)
			i := in.model.Runs[r].Arcs[a].Item
			d.parts[i] = append(d.parts[i], id)
		}
		d.plan.Spliced = append(d.plan.Spliced, s)
	}
	for k := range in.lots {
		run := &in.model.Runs[in.runs+k]
		g := p.Rules.Groups[in.lots[k].group].Pieces
		for n, a := range ways[in.runs+k] {
			if n >= len(g) {
				return errColumns
			}
			d.lots[run.Arcs[a].Item] = append(d.lots[run.Arcs[a].Item], g[n])
		}
	}
	return nil
}
