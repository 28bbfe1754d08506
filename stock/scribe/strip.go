package scribe

import (
	"fmt"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A TaperedRip describes how strips that are wider at one end are ripped from a blank of
// the same length. They lie side by side, every second one turned end for end, so that
// tapered edges adjoin tapered edges and straight edges adjoin straight edges. Each keeps
// its face up and its ends square to its straight edge. No other way of ripping along the
// blank yields more: at least half of the n wide ends are at one end of the blank.
type TaperedRip struct {
	Rip    stock.Rip      `json:"rip"`    // Strip is the width of the wide end
	Narrow measure.Length `json:"narrow"` // width of the narrow end, at most that of the wide one
	Length measure.Length `json:"length"` // of the strips
}

// Blank returns the yield of one blank. Rest is the least width of the remainder, and a
// tapered cut takes kerf/cos(taper) of the width, rounded up to a tick. If the two ends are
// equal, the result is that of [stock.Rip.Blank].
//
// The error is that of Rip.Blank, under rip, joined with a [*measure.FieldError] for a
// narrow end that is not positive or wider than the wide one, and a length that is not
// positive or more than a mile.
func (r TaperedRip) Blank() (stock.RipResult, error) {
	var bad fault.List
	plain, err := r.Rip.Blank()
	bad.Under("rip", err)
	wide, kerf := r.Rip.Strip, r.Rip.Kerf
	if r.Narrow <= 0 || r.Narrow > wide {
		bad.Add("narrow", r.Narrow.About(), fmt.Sprintf("more than zero, at most %v", wide.About()))
	}
	if r.Length <= 0 || r.Length > maxAlong {
		bad.Add("length", r.Length.About(), "more than zero, at most a mile")
	}
	if err := bad.Err(); err != nil {
		return stock.RipResult{}, err
	}
	if r.Narrow == wide {
		return plain, nil
	}
	finished := r.Rip.FinishedEdges
	width := r.Rip.Width - measure.Length(2-finished)*r.Rip.Trim
	slant := kerf
	if kerf > 0 {
		rise := float64(wide-r.Narrow) / float64(r.Length)
		slant = measure.Length(math.Ceil(float64(kerf) * math.Sqrt(1+float64(rise*rise))))
	}
	pair := wide + slant + r.Narrow
	n := 2 * ((width + kerf) / (pair + kerf))
	if left := width - n/2*(pair+kerf); left >= wide {
		n++
	}
	if n > maxStrips {
		bad.Add("rip.strip", wide.About(), "wider: a blank gives at most a million strips")
		return stock.RipResult{}, bad.Err()
	}
	if r.Rip.KeepEdge { // the straight edges at the two edges of the blank
		n = min(n, measure.Length(finished))
	}
	out := stock.RipResult{Strips: int(n), Finished: min(int(n), finished)}
	if n == 0 {
		out.Rest = width
		return out, nil
	}
	out.Cuts = int(n) - 1
	used := n/2*(pair+kerf) - kerf // at the end where the last strip is wide
	if n%2 == 1 {
		used += kerf + wide
		kerf = slant // at least a wedge falls off
		out.Cuts++
	} else if width > used {
		out.Cuts++
	}
	out.Rest = max(0, width-used-kerf)
	safe := r.Rip.MinStrip
	if safe == 0 {
		safe = measure.Inch
	}
	out.Narrow = out.Rest > 0 && out.Rest < safe
	return out, nil
}

const maxStrips = 1_000_000
