package cutsheet

import (
	"strconv"
	"strings"

	"example.com/longpoint/internal/typeset"
)

// A strip is the bar of a page: each stick fills the width of the page, with its lengths in it.
// The shapes stretch with the page; the words keep their size and are shown if there is room
// for them on paper and on a wide screen, on a narrow one, or on both.

const (
	stripWide   unit = 68000 // least width of a bar on a wide page, in hundredths of a pixel
	stripNarrow unit = 28000 // the same on a telephone
	stripType   unit = 1200  // font size of its words
)

// caption is the text in a part of a strip.
type caption struct {
	at    unit // the middle, in hundredths of a percent of the width
	lead  string
	text  string
	class string // the widths at which it is shown
	plate bool   // it is on hatching
}

// strip draws the bar of a pattern.
func (h *page) strip(p *pattern) {
	st := &h.problem.Sticks[p.Stick]
	ln := h.shapes(p, 0, scale(max(1, st.Length)))
	h.Spans = false // the element does not exist in a drawing
	h.Open("svg", "class", "bar", "role", "img", "aria-label", h.heading(p)+". "+h.inWords(p))
	h.Open("svg", "class", "shapes", "viewBox", num(barLeft)+" 0 "+num(barLength)+" "+num(barHeight), "preserveAspectRatio", "none")
	h.drawShapes(pen{&h.Markup, true}, &ln)
	h.Close()
	for _, c := range h.captions(p, &ln) {
		h.Open("svg", "class", c.class, "x", num(c.at)+"%", "y", "50%")
		if c.plate { // a plain ground, on hatching
			w := captionWidth(c.text) * 100 / stripType
			h.Void("rect", "class", "plate", "x", num(-w/2-20)+"em", "y", "-.6em", "width", num(w+40)+"em", "height", "1.2em")
		}
		h.Open("text")
		if c.lead != "" {
			h.Leaf("tspan", c.lead, "class", "no")
		}
		h.Chars(typeset.Unmarked(c.text))
		h.Close()
		h.Close()
	}
	h.Close()
	h.Spans = true
	h.Line()
}

// captions returns the texts of a strip.
func (s *Sheet) captions(p *pattern, ln *lane) []caption {
	var all []caption
	put := func(b box, plate bool, lead string, texts ...string) {
		middle := b.x + b.w/2 - barLeft
		room := func(whole unit) unit { return b.w*(whole/100)/(barLength/100) - 600 }
		fits := func(whole unit) (string, string, bool) {
			for _, t := range texts {
				if l := lead + "\u2002"; lead != "" && captionWidth(l)+captionWidth(t) <= room(whole) {
					return l, t, true
				}
				if lead == "" && captionWidth(t) <= room(whole) {
					return "", t, true
				}
			}
			return lead, "", lead != "" && captionWidth(lead) <= room(whole)
		}
		at := middle * 100 / (barLength / 100)
		wideLead, wide, onWide := fits(stripWide)
		narrowLead, narrow, onNarrow := fits(stripNarrow)
		if onWide && onNarrow && wide == narrow {
			all = append(all, caption{at, wideLead, wide, "both", plate})
			return
		}
		if onWide {
			all = append(all, caption{at, wideLead, wide, "wide", plate})
		}
		if onNarrow {
			all = append(all, caption{at, narrowLead, narrow, "slim", plate})
		}
	}
	for i := range ln.parts {
		if pt := &ln.parts[i]; pt.number > 0 && pt.n == 1 {
			b := pt.box
			b.x, b.w = b.x+pt.left, b.w-pt.left-pt.right
			if b.w > 0 {
				put(b, false, strconv.Itoa(pt.number), s.length(s.piece(pt.piece).Length))
			}
		}
	}
	k := 0
	for n := range p.bays {
		if length := width(p.bays[n].offcut); length > 0 {
			put(ln.offcuts[k], true, "", s.length(length)+" "+s.rest(length), s.length(length))
			k++
		}
	}
	return all
}

// captionWidth is an upper bound on the width of a text in a strip, in the bold of the usual
// sans serif fonts: by classes of characters, from the widths of DejaVu Sans Bold, which is
// wider than the others.
func captionWidth(s string) unit {
	var sum unit
	for i, r := range s {
		switch {
		case typeset.IsMark(s[i]):
		case r == '\'' || r == '′' || r == ' ' || r == '.' || r == ',' || r == '/':
			sum += 40
		case r == '"' || r == '″' || r == '-':
			sum += 55
		case strings.ContainsRune("mwMW×%@", r):
			sum += 108
		case r < 0x250:
			sum += 72
		default:
			sum += 100 * unit(typeset.RuneCells(r))
		}
	}
	return sum * stripType / 100
}
