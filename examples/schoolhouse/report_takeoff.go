package main

import (
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
	"example.com/longpoint/stock/takeoff"
)

func reportTakeoff(p *page, v *view) {
	list := v.e.Takeoff
	p.heading("Takeoff")
	p.para("", "", "Lengths are from long point to long point, to the nearest "+p.nearest()+" (+ a hair over the mark, - a hair under); walls from left to right, as seen from inside the room. The number beside an end is the reading of the miter scale; miters, copes and scarfs without one are cut at 45. The lower edge is fitted to the floor by a rip, by one taper from the left end to the right, or by scribing from mark to mark, each at a distance from the left end.")
	for _, r := range v.e.Job.Rooms {
		p.blank()
		p.line("%s", strings.ToUpper(r.Name))
		var rows [][]string
		around := map[string]int{} // trim around openings and panels, by kind
		var order []string
		wide := len("casing")
		for _, run := range list.Runs {
			if run.Room != r.Name {
				continue
			}
			if part := aroundOpening(run); part != "" {
				key := part + ": " + p.tape(run.Length) + ", " + p.endsText(run.Left, run.Right)
				if around[key]++; around[key] == 1 {
					order = append(order, key)
					wide = max(wide, len(part))
				}
				continue
			}
			cut := p.tape(run.Length)
			if n := len(run.Splices); n > 0 {
				cut += fmt.Sprintf(" in %d", n+1)
			}
			rows = append(rows, []string{run.Wall, named(run), p.tape(run.Net), cut, p.endsText(run.Left, run.Right) + p.scribeText(run.Scribe)})
		}
		rows = slices.Insert(rows, 0, []string{"wall", "", "covers", "cut", "ends, left | right"})
		p.table("  ", "llrrl", rows)
		for _, key := range order {
			part, text, _ := strings.Cut(key, ": ")
			first := fmt.Sprintf("  %-*s  %3d x ", wide, part, around[key])
			p.para(first, strings.Repeat(" ", len(first)), text)
		}
	}
	p.blank()
	var rows [][]string
	for _, t := range list.Totals {
		rows = append(rows, []string{t.Role.String(), t.Profile, fmt.Sprint(t.Pieces), p.tape(t.Net)})
	}
	p.table("", "llrr", slices.Insert(rows, 0, []string{"total", "profile", "pieces", "installed length"}))
	p.blank()
	p.para("Joints to fit: ", "  ", jointText(list.Joints))
	reportOneLength(p, list)
}

// aroundOpening names a part of the trim around an opening, or of paneling; it is empty for
// trim along a wall.
func aroundOpening(run stock.Run) string {
	if name, ok := strings.CutSuffix(run.Label, " head"); ok && run.Role != stock.RoleCasing && strings.HasSuffix(name, run.Role.String()) {
		return run.Role.String() + " head"
	}
	switch run.Role {
	case stock.RoleCasing, stock.RoleStool, stock.RoleApron, stock.RolePlinth, stock.RoleBackband, stock.RoleBlock,
		stock.RolePanelMold, stock.RoleStile, stock.RoleRail, stock.RoleBatten, stock.RolePanel:
		return run.Role.String()
	}
	return ""
}

// named returns the name of a run on its wall, as in the cut list: "base A".
func named(run stock.Run) string {
	if name, ok := strings.CutPrefix(run.Label, run.Room+" "+run.Wall+" "); ok {
		return name
	}
	return run.Role.String()
}

// scribeText describes the depth to remove from the lower edge of a run, at each mark from left
// to right.
func (p *page) scribeText(marks []stock.ScribeMark) string {
	var depths, at []string
	for _, m := range marks {
		depths = append(depths, p.tape(m.Depth))
		at = append(at, p.tape(m.Depth)+" at "+p.tape(m.At))
	}
	switch {
	case len(depths) == 0:
		return ""
	case len(depths) > 2:
		return "; scribe " + strings.Join(at, ", ")
	case depths[0] == depths[1]:
		return "; rip " + depths[0] + " off"
	}
	return "; taper " + depths[0] + " to " + depths[1]
}

// reportOneLength explains the length of one piece, the one with the longest explanation.
func reportOneLength(p *page, list *takeoff.List) {
	var most stock.Piece
	for _, piece := range list.Pieces {
		if len(piece.Allowances) > len(most.Allowances) {
			most = piece
		}
	}
	if most.Label == "" {
		return
	}
	p.blank()
	p.line("How a length adds up: %s", most.Label)
	var rows [][]string
	for _, a := range most.Allowances {
		rows = append(rows, []string{p.tape(a.Length), a.Name})
	}
	p.table("  ", "rl", append(rows, []string{p.tape(most.Length), "to cut, from long point to long point"}))
}

func jointText(j takeoff.Joints) string {
	var out []string
	for _, k := range []struct {
		n    int
		name string
	}{
		{j.Copes, "copes"}, {j.InsideMiters, "inside miters"}, {j.OutsideMiters, "outside miters"},
		{j.FlatMiters, "flat miters"}, {j.RakeMiters, "rake miters"}, {j.Scarfs, "scarfs"}, {j.Returns, "returns"},
		{j.Butts, "butts"}, {j.Stops, "ends that die into casing, cabinet or wall"}, {j.Scribes, "scribes"},
	} {
		if k.n > 0 {
			out = append(out, fmt.Sprintf("%d %s", k.n, k.name))
		}
	}
	if out == nil {
		return "none."
	}
	return strings.Join(out, ", ") + "."
}

// endsText names the two cuts of a piece, left and right.
func (p *page) endsText(left, right stock.End) string {
	l, r := p.endText(left), p.endText(right)
	if l == r {
		return l + " both ends"
	}
	return l + " | " + r
}

// endText names a cut and, unless it is 45, the reading of the saw's miter scale, in degrees
// from the square cut. The angle of the corner would be another number.
func (p *page) endText(e stock.End) string {
	// The miter does not depend on the profile.
	cut, err := joint.NewCut(stock.Profile{Thickness: measure.Inch, Width: measure.Inch}, e)
	turn := cut.Standing.Miter
	if e.Kind == stock.EndFlatMiter || e.Kind.Raked() {
		turn = cut.Flat.Miter
	}
	text := e.Kind.String()
	if err == nil && turn != 0 && turn != 45*measure.Degree {
		text += " " + strings.TrimSuffix(p.country.FormatAngle(turn.Round(measure.Degree/10, measure.RoundHalfEven)), "°")
	}
	if long := e.LongPoint(); long != stock.SectionAll && e.Kind.Raked() { // either edge may be the longer one
		text += ", long at the " + string(long)
	}
	return text
}
