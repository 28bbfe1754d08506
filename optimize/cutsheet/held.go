package cutsheet

import (
	"fmt"
	"strings"

	"example.com/longpoint/internal/fault"
)

// A Hold names a room whose pieces wait, and the reason, such as a wall that must be measured
// again. The sheet marks these pieces, and their sticks come after the others, in a separate
// block, since another measurement may change their cuts.
//
// The findings of package takeoff give a list of them:
//
//	for _, f := range list.Findings {
//		if f.Severity == takeoff.SeverityDoubt && f.Room != "" {
//			options.Hold = append(options.Hold, cutsheet.Hold{Room: f.Room, Reason: f.Reason})
//		}
//	}
type Hold struct {
	Room   string `json:"room"`             // as stock.Piece.Room
	Reason string `json:"reason,omitempty"` // a sentence for people
}

// checkHold adds the faults of the rooms that wait.
func checkHold(f *fault.List, hold []Hold) {
	for i := range hold {
		at := fmt.Sprintf("options.hold[%d]", i)
		if hold[i].Room == "" {
			f.Add(at+".room", "", "the name of a room")
		}
		f.Under(at, checkText("room", hold[i].Room))
		f.Under(at, checkText("reason", hold[i].Reason))
	}
}

// waiting is a room that waits, with all its reasons.
type waiting struct {
	room    string
	reasons []string
	more    int64 // reasons
	pieces  int64
}

// mostReasons is the greatest number of reasons printed for a room.
const mostReasons = 8

// whyWaits returns the reasons why a room waits, or nothing.
func (s *Sheet) whyWaits(w *waiting) string {
	text := strings.Join(w.reasons, "; ")
	if w.more > 0 {
		text += "; and " + s.plural(w.more, "reason") + " more"
	}
	return text
}

// wait finds the rooms that wait, in the order of Options.Hold, and their sticks.
func (s *Sheet) wait() {
	at, said := make(map[string]int), make(map[Hold]bool)
	for _, h := range s.options.Hold {
		k, known := at[h.Room]
		if !known {
			k = len(s.waits)
			at[h.Room] = k
			s.waits = append(s.waits, waiting{room: h.Room})
		}
		w := &s.waits[k]
		switch r := strings.TrimSpace(h.Reason); {
		case r == "" || said[Hold{h.Room, r}]:
		case len(w.reasons) < mostReasons:
			w.reasons = append(w.reasons, r)
		default:
			w.more++
		}
		said[Hold{h.Room, strings.TrimSpace(h.Reason)}] = true
	}
	if len(at) == 0 {
		return
	}
	for k := range s.patterns {
		p := &s.patterns[k]
		for i := range p.cuts {
			c := &p.cuts[i]
			room, _ := s.place(c.piece)
			if n, holds := at[room]; holds && room != "" {
				c.wait, p.wait = true, true
				s.waits[n].pieces += p.total(c)
			}
		}
	}
}

// inOrder returns the patterns in the order of a sheet: those that can be cut, then those that
// wait.
func (s *Sheet) inOrder() (now, later []*pattern) {
	for k := range s.patterns {
		if p := &s.patterns[k]; p.wait {
			later = append(later, p)
		} else {
			now = append(now, p)
		}
	}
	return now, later
}

// waitWords returns the note for a cut whose room waits, or nothing.
func (s *Sheet) waitWords(c *cut) string {
	if !c.wait {
		return ""
	}
	room, _ := s.place(c.piece)
	return "wait: " + room + " is on hold"
}

// why returns the reason why a cut waits, or nothing.
func (s *Sheet) why(c *cut) string {
	if !c.wait {
		return ""
	}
	room, _ := s.place(c.piece)
	for k := range s.waits {
		if w := &s.waits[k]; w.room == room && len(w.reasons) > 0 {
			return s.whyWaits(w)
		}
	}
	return s.waitWords(c)
}

const (
	held        = "on hold" // of a stick
	waitHeading = "On hold"
	waitNote    = "Do not cut these sticks yet. Each has a piece for a room on hold; if its length changes, these sticks are planned again."
)

// waitLines returns a line for each room that waits, with the number of its pieces and the
// reasons; rooms without pieces are omitted.
func (s *Sheet) waitLines() []string {
	var lines []string
	for k := range s.waits {
		w := &s.waits[k]
		if w.pieces == 0 {
			continue
		}
		text := w.room + ", " + s.plural(w.pieces, "piece")
		if why := s.whyWaits(w); why != "" {
			text += ": " + why
		}
		lines = append(lines, text)
	}
	return lines
}
