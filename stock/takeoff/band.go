package takeoff

import (
	"example.com/longpoint/measure"
)

// band is the part of a wall that the trim of an opening covers between two heights above the
// floor: the distance beyond the jambs, and into the room.
type band struct {
	lo, hi measure.Length
	out    measure.Length
	depth  measure.Length
	part   string // "casing", "plinth", "block", "head", "stool"; empty for the opening itself
}

// bands returns the parts of the wall that the trim of an opening covers. The trim below a
// window whose sill was not measured is assumed to begin at low.
func (o Opening) bands(s Scheme, opt Options, low measure.Length) []band {
	m := o.margin(s)
	foot, high := o.footing(s)
	_, depth := o.casing(s)
	b := band{hi: o.apex(), out: m, depth: depth}
	if m > 0 {
		b.part = "casing"
	}
	known := true
	if o.Kind == OpeningWindow {
		if known = o.Sill != 0 && o.Height != 0; known {
			b.hi += o.Sill
		}
		if b.lo = low; o.Sill != 0 {
			b.lo = o.Sill - o.below(s)
		}
	}
	if !known {
		b.hi = maxHeight
		bs := []band{b}
		return append(bs, o.stoolBand(s, opt)...)
	}
	jamb := b.hi // the head jamb above the floor
	style := s.style()
	var more []band
	switch {
	case !o.cased(s):
		b.hi += m
	case style.Joint == CasingBlock: // legs and head end at the blocks
		p, high := style.Block, style.blockHeight()
		out := o.reveal() - (p.Width-s.Casing.Width)/2
		b.hi += out
		more = append(more, band{b.hi, b.hi + high, out + p.Width + o.widens(), p.Thickness, "block"},
			band{b.hi, jamb + m, out + o.widens(), depth, "casing"})
		if o.Kind == OpeningWindow && !o.hasStool(s) {
			low := b.lo
			b.lo = o.Sill - out
			more = append(more, band{b.lo - high, b.lo, out + p.Width, p.Thickness, "block"}, band{low, b.lo, out, depth, "casing"})
		}
	case style.Joint == CasingButt && len(style.Head) > 0:
		b.hi += o.reveal()
	default:
		b.hi += m
	}
	if o.cased(s) && len(style.Head) > 0 {
		for _, h := range o.head(s) {
			more = append(more, band{jamb + h.lo, jamb + h.hi, m + h.beyond + o.widens(), h.depth(), "head"})
		}
	}
	b.lo = max(b.lo, high) // the casing stands on the plinths, which may be narrower
	bs := []band{b}
	if foot > 0 {
		bs = append(bs, band{0, high, foot, s.Plinth.Thickness, "plinth"})
	}
	return append(append(bs, o.stoolBand(s, opt)...), more...)
}

// below returns the extent of a window's trim below its sill.
func (o Opening) below(s Scheme) measure.Length {
	if !o.hasStool(s) {
		return o.margin(s)
	}
	below := s.Stool.Thickness
	if s.Apron != nil {
		below += s.Apron.Width
	}
	return below
}

// stoolBand returns the stool of a window whose sill was measured.
func (o Opening) stoolBand(s Scheme, opt Options) []band {
	if !o.hasStool(s) || o.Sill == 0 {
		return nil
	}
	return []band{{o.Sill - s.Stool.Thickness, o.Sill, o.margin(s) + opt.Horn, s.Stool.Width, "stool"}}
}

// called names a band of an opening.
func (b band) called(opening string) string {
	if b.part == "" {
		return opening
	}
	return opening + " " + b.part
}
