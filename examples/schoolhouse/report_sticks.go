package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/measure"
)

func reportBuy(p *page, w *work) {
	p.heading("Sticks to buy")
	var total int64
	for i, c := range w.cuttings() {
		if i > 0 {
			p.blank()
		}
		p.line("%s", c.Profile.Name)
		used := make([]int64, len(c.problem.Sticks))
		for _, pat := range c.plan.Patterns {
			used[pat.Stick] += int64(pat.Count)
		}
		var rows [][]string
		for k, s := range c.problem.Sticks {
			var notes []string
			if s.Label != p.about(s.Length) {
				notes = append(notes, s.Label)
			}
			if s.Rack {
				notes = append(notes, "off the rack")
			} else if s.Limit > 0 {
				notes = append(notes, fmt.Sprintf("%d in stock", s.Limit))
			}
			if used[k] == 0 && (s.Rack || s.Limit <= 0) {
				continue // nothing to say of it
			}
			rows = append(rows, []string{fmt.Sprint(used[k], " x"), p.tape(s.Length), p.money(s.Price), p.money(used[k] * s.Price), strings.Join(notes, ", ")})
		}
		rows = append(rows, []string{"", "total", "", p.money(c.plan.Cost), p.proofText(c)})
		p.table("  ", "rrrrl", rows)
		total += c.plan.Cost
	}
	p.blank()
	p.line("All sticks: %s", p.money(total))
}

// proofText says how good a plan is, and no more than was shown.
func (p *page) proofText(c *cutting) string {
	if c.plan.Proven {
		return "proven: no plan costs less"
	}
	return fmt.Sprintf("stopped (%v); none costs less than %s", c.plan.Stop, p.money(c.plan.Bound))
}

func reportCuts(p *page, w *work) {
	p.heading("Cut list, stick by stick")
	p.para("", "", fmt.Sprintf("Kerf %v. Cut in this order, from the good end of the stick. Copes are cut as inside miters first, long point at the back; then the profile is sawn. The left end is to the left as the piece hangs on the wall. How much comes off a lower edge that is cut to the floor stands in the takeoff.", p.about(w.job.Kerf)))
	scribed := map[string]bool{}
	for _, r := range w.chosen.list.Runs {
		scribed[r.Label] = len(r.Scribe) > 0
	}
	for _, c := range w.cuttings() {
		p.blank()
		p.line("%s", c.Profile.Name)
		n := 0
		for _, pat := range c.plan.Patterns {
			s := c.problem.Sticks[pat.Stick]
			which := fmt.Sprintf("stick %d", n+1)
			if n += pat.Count; pat.Count > 1 {
				which = fmt.Sprintf("sticks %s to %d, %d alike", which[len("stick "):], n, pat.Count)
			}
			if s.Rack {
				which += ", off the rack"
			}
			p.line("  %s: %s", which, p.tape(s.Length))
			var rows [][]string
			for _, i := range pat.Pieces {
				piece := c.problem.Pieces[i]
				ends := p.endsText(piece.Left, piece.Right)
				if scribed[piece.Run] {
					ends += "; cut to the floor"
				}
				rows = append(rows, []string{p.tape(piece.Length), piece.Label, ends})
			}
			switch left := p.atLeast(pat.Offcut); {
			case w.job.keeps(pat.Offcut):
				rows = append(rows, []string{p.about(left), "for the rack", ""})
			case left > 0:
				rows = append(rows, []string{p.about(left), "scrap", ""})
			}
			p.table("    ", "rll", rows)
		}
	}
}

func reportRack(p *page, w *work) {
	p.heading("Left for the rack")
	var scrap measure.Length
	var rows [][]string
	for _, c := range w.cuttings() {
		left := map[measure.Length]int{}
		for _, pat := range c.plan.Patterns {
			if w.job.keeps(pat.Offcut) {
				left[pat.Offcut] += pat.Count
			} else {
				scrap += pat.Offcut * measure.Length(pat.Count)
			}
		}
		for k, s := range c.problem.Sticks {
			if !s.Rack {
				continue
			}
			n := s.Limit
			for _, pat := range c.plan.Patterns {
				if pat.Stick == k {
					n -= pat.Count
				}
			}
			if n > 0 {
				left[s.Length] += n
			}
		}
		var lengths []measure.Length
		for l := range left {
			lengths = append(lengths, l)
		}
		slices.SortFunc(lengths, func(a, b measure.Length) int { return cmp.Compare(b, a) })
		for _, l := range lengths {
			rows = append(rows, []string{fmt.Sprint(left[l], " x"), p.about(p.atLeast(l)), c.Profile.Name})
		}
	}
	if rows == nil {
		p.line("Nothing.")
	} else {
		p.table("", "rrl", rows)
	}
	p.blank()
	p.line("Shorter than %v, and so scrap: %s in all.", p.about(w.job.Rack.Keep), p.tape(scrap))
}

// keeps reports whether an offcut is worth a place on the rack.
func (j *job) keeps(offcut measure.Length) bool { return offcut > 0 && offcut >= j.Rack.Keep }
