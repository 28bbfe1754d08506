package takeoff

import (
	"fmt"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// cut turns the lines of the course into runs and pieces and counts their joints.
func (t *taker) cut() error {
	for wall, s := range t.spans {
		first := len(t.list.Pieces)
		var live []int
		for k := s.first; k < s.last; k++ {
			if !t.lines[k].gone {
				live = append(live, k)
			}
		}
		for i, k := range live {
			label := t.label(wall)
			if len(live) > 1 {
				label = numbered(label+" run", i+1, len(live))
			}
			if err := t.cutLine(label, k); err != nil {
				return err
			}
		}
		label, n := t.label(wall), len(t.list.Pieces)-first
		for i := range n {
			t.list.Pieces[first+i].Label = numbered(label, i+1, n)
		}
		if err := t.cutReturns(wall, live); err != nil {
			return err
		}
	}
	return nil
}

func (t *taker) cutLine(label string, k int) error {
	l, p := &t.lines[k], t.course.profile
	run := stock.Run{
		Label: label, Profile: p.Name, Use: p.Use, Wall: t.room.Walls[l.wall].Name, Room: t.room.Name,
		Start: l.from, Net: l.to - l.from,
		Length: l.length, Left: l.left.end, Right: l.right.end, Allowances: l.as,
	}
	for _, m := range []meeting{l.left, l.right} {
		if m.own && m.count != nil {
			*m.count++
		}
	}
	longest := p.Longest()
	if longest == 0 || l.length <= longest {
		t.list.Runs = append(t.list.Runs, run)
		t.list.Pieces = append(t.list.Pieces, stock.Piece{
			Length: l.length, Profile: p.Name, Run: run.Label, Part: 1, Parts: 1,
			Left: run.Left, Right: run.Right, Allowances: l.as,
		})
		return nil
	}

	var overlap measure.Length
	if !p.Plain {
		var err error
		if overlap, err = joint.Overlap(p.Thickness, t.opt.Bevel); err != nil {
			return t.fault(l, err)
		}
	}
	run.Splice = t.spliceRule(l, overlap)
	at, ok := splice(run.Splice, l.length, longest)
	if !ok {
		return &SpliceError{
			Run: run.Label, Length: l.length, Longest: longest,
			Clear: t.opt.Clear, MinPart: t.opt.MinPart, Overlap: overlap, Studs: len(run.Splice.At),
		}
	}
	run.Splices = at
	t.list.Runs = append(t.list.Runs, run)
	t.list.Pieces = append(t.list.Pieces, t.parts(run)...)
	if p.Plain {
		t.list.Joints.Butts += len(at)
	} else {
		t.list.Joints.Scarfs += len(at)
	}
	return nil
}

// parts returns the pieces of a spliced run from left to right. The left part of a
// scarf laps over the right one.
func (t *taker) parts(run stock.Run) []stock.Piece {
	over := stock.End{Kind: stock.ScarfOver, Angle: t.opt.Bevel, Setback: run.Splice.Overlap}
	under := stock.End{Kind: stock.ScarfUnder, Angle: t.opt.Bevel, Setback: run.Splice.Overlap}
	if t.course.profile.Plain {
		over, under = stock.End{}, stock.End{}
	}
	early, late := run.Splice.Overlap/2, run.Splice.Overlap-run.Splice.Overlap/2
	var ps []stock.Piece
	n := len(run.Splices)
	for i := range n + 1 {
		from, to := measure.Length(0), run.Length
		p := stock.Piece{
			Profile: run.Profile, Run: run.Label, Part: i + 1, Parts: n + 1,
			Left: run.Left, Right: run.Right,
		}
		var laps []stock.Allowance
		if i > 0 {
			from, p.Left = run.Splices[i-1], under
			laps = append(laps, stock.Allowance{Name: "half the scarf at left", Length: late})
		}
		if i < n {
			to, p.Right = run.Splices[i], over
			laps = append(laps, stock.Allowance{Name: "half the scarf at right", Length: early})
		}
		p.Allowances = []stock.Allowance{{
			Name:   fmt.Sprintf("%s from %v to %v", run.Label, from, to),
			Length: to - from,
		}}
		p.Length = to - from
		for _, a := range laps {
			if a.Length != 0 {
				p.Allowances = append(p.Allowances, a)
				p.Length += a.Length
			}
		}
		ps = append(ps, p)
	}
	return ps
}

// cutReturns adds the little pieces that close the returned ends of a wall. Each is
// as long at its face as the trim is thick, and has no length at its back.
func (t *taker) cutReturns(wall int, live []int) error {
	p := t.course.profile
	first := len(t.list.Pieces)
	label := t.label(wall) + " return"
	for _, k := range live {
		for side, end := range []stock.End{t.lines[k].left.end, t.lines[k].right.end} {
			if end.Kind != stock.Return {
				continue
			}
			piece := stock.Piece{
				Length: end.Setback, Profile: p.Name, Left: end, Right: stock.End{},
				Allowances: []stock.Allowance{{Name: "projection of " + p.Name, Length: end.Setback}},
			}
			if side == 0 { // it stands to the left of the run, its miter at its right
				piece.Left, piece.Right = piece.Right, piece.Left
			}
			t.list.Pieces = append(t.list.Pieces, piece)
		}
	}
	n := len(t.list.Pieces) - first
	for i := range n {
		t.list.Pieces[first+i].Label = numbered(label, i+1, n)
	}
	if n > 0 {
		t.note(Finding{
			Kind: ShortReturn, Severity: Caution, Room: t.room.Name, Wall: t.room.Walls[wall].Name,
			Length: p.Projection(),
			Reason: fmt.Sprintf("%s is too short to hold at the saw: cut it off the end of a longer piece, let the blade stop, then take it away", label),
		})
	}
	return nil
}
