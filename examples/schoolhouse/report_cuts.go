package main

import (
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

func reportCuts(p *page, v *view) {
	p.heading("Cut list, stick by stick")
	p.para("", "", fmt.Sprintf("Kerf %v. Cut in this order, from the good end of the stick. Copes are cut as inside miters first, long point at the back; then the profile is coped. The left end is on the left when the piece is on the wall. Other work on a piece is listed with it: such a piece fits only its own place.", p.about(v.e.Job.Kerf)))
	doubtful := make(map[string]bool) // rooms to be measured again
	for _, h := range v.e.Hold() {
		doubtful[h.Room] = true
	}
	if len(doubtful) > 0 {
		p.blank()
		p.para("", "", "A stick marked ON HOLD has a piece for a room that is to be measured again: do not cut it before.")
	}
	for _, c := range v.e.Plans {
		p.blank()
		p.line("%s", c.Profile)
		n := 0
		for _, pat := range c.Plan.Patterns {
			s := c.Problem.Sticks[pat.Stick]
			which := fmt.Sprintf("stick %d", n+1)
			if n += pat.Count; pat.Count > 1 {
				which = fmt.Sprintf("sticks %s to %d, %d alike", which[len("stick "):], n, pat.Count)
			}
			if s.Rack {
				which += ", off the rack"
			}
			which += ": " + p.tape(s.Length)
			if rooms := roomsOf(c.Problem, pat, doubtful); len(rooms) > 0 {
				which += ", ON HOLD for " + strings.Join(rooms, ", ")
			}
			p.para("  ", "    ", which)
			var rows [][]string
			for _, i := range pat.Pieces {
				piece := c.Problem.Pieces[i]
				ends := p.endsText(piece.Left, piece.Right)
				for _, note := range piece.Notes {
					ends += "; " + note
				}
				rows = append(rows, []string{p.tape(piece.Length), piece.Label, ends})
			}
			switch left := p.atLeast(pat.Offcut); {
			case pat.Offcut > 0 && v.e.Job.Rack.Keeps(stock.Offcut{Profile: c.Profile, Length: pat.Offcut}):
				rows = append(rows, []string{p.about(left), "for the rack", ""})
			case left > 0:
				rows = append(rows, []string{p.about(left), "scrap", ""})
			}
			p.table("    ", "rll", rows)
		}
	}
	reportRack(p, v)
}

// roomsOf returns those of the given rooms for which a stick has a piece, in the order of its cuts.
func roomsOf(p optimize.Problem, pat optimize.Pattern, of map[string]bool) (rooms []string) {
	for _, i := range pat.Pieces {
		if room := p.Pieces[i].Room; of[room] && !slices.Contains(rooms, room) {
			rooms = append(rooms, room)
		}
	}
	return rooms
}

func reportRack(p *page, v *view) {
	p.blank()
	var rows [][]string
	var scrap measure.Length
	for _, c := range v.e.Plans {
		scrap += c.Summary.Waste
		for _, o := range c.Summary.Kept {
			rows = append(rows, []string{fmt.Sprint(max(o.Count, 1), " x"), p.about(p.atLeast(o.Length)), c.Profile})
		}
	}
	if rows == nil {
		p.line("Nothing is left for the rack.")
	} else {
		p.line("Left for the rack")
		p.table("  ", "rrl", rows)
	}
	p.line("Scrap: %s in all.", p.tape(scrap))
}
