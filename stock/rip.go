package stock

import (
	"fmt"
	"strconv"

	"example.com/longpoint/measure"
)

// Rip is how strips are ripped from a blank: base from a board, a lower base from a
// higher one, strips for a base from field tile or slab.
//
// Ripping injures: follow the manual of the saw, keep guard and riving knife on, use a push
// stick and a featherboard, and mind that narrow plastic melts and grabs. Cut tile and
// stone wet and breathe none of the dust.
type Rip struct {
	Width measure.Length `json:"width"` // of the blank, across the cuts
	Strip measure.Length `json:"strip"` // height of a strip
	Kerf  measure.Length `json:"kerf,omitzero"`

	// FinishedEdges is how many of the blank's long edges are finished - molded,
	// bullnosed, or as they left the factory: 0 for a slab that is sawn all around, 1 for
	// molded base or a bullnose tile, 2 for a board or a field tile. KeepEdge is set if
	// each strip must have one of them, on top. Strips without one have to be polished or
	// bullnosed.
	FinishedEdges int  `json:"finished_edges,omitempty"`
	KeepEdge      bool `json:"keep_edge,omitempty"`

	// Trim is taken off each edge that is not finished first, and counts its kerf.
	Trim measure.Length `json:"trim,omitzero"`

	// Safe is the narrowest strip that is ripped between fence and blade; zero means
	// 1 in (common practice, no source; follow the manual of the saw).
	Safe measure.Length `json:"safe,omitzero"`
}

// RipResult is what one blank gives.
type RipResult struct {
	Strips   int            // strips of full height
	Finished int            // of them, those with a finished edge
	Cuts     int            // rips, without those that trim the edges
	Rest     measure.Length // what is left of the width, without a kerf
	// Narrow is set where the rest is narrower than is safe: rip with the strip between
	// fence and blade, and let the rest fall off outside.
	Narrow bool
}

// maxStrips bounds the strips of one blank.
const maxStrips = 1_000_000

// Blank works out one blank. n strips need n − 1 cuts between them and one more where
// something is left; a rest no wider than the kerf becomes dust.
//
// The error is a *measure.FieldError for a width, a strip, a kerf or a trim out of range, and
// for a strip that is too narrow to be ripped safely or too wide for the blank.
func (r Rip) Blank() (RipResult, error) {
	bad := func(field string, l measure.Length, want string) (RipResult, error) {
		return RipResult{}, &measure.FieldError{Field: field, Value: l.About(), Want: want}
	}
	safe := r.Safe
	if safe == 0 {
		safe = measure.Inch
	}
	switch {
	case r.Width <= 0 || r.Width > maxSection:
		return bad("width", r.Width, "more than zero, at most 1000 ft")
	case r.Kerf < 0 || r.Kerf > maxSection:
		return bad("kerf", r.Kerf, "zero or more, at most 1000 ft")
	case r.Trim < 0 || r.Trim > maxSection:
		return bad("trim", r.Trim, "zero or more, at most 1000 ft")
	case safe < 0 || safe > maxSection:
		return bad("safe", r.Safe, "zero or more, at most 1000 ft")
	case r.FinishedEdges < 0 || r.FinishedEdges > 2:
		return RipResult{}, &measure.FieldError{Field: "finished_edges", Value: strconv.Itoa(r.FinishedEdges), Want: "0, 1 or 2"}
	case r.Strip < safe:
		return bad("strip", r.Strip, fmt.Sprintf("at least %v, the narrowest that is safe to rip", safe.About()))
	}
	finished := r.FinishedEdges
	width := r.Width - measure.Length(2-finished)*r.Trim
	if r.Strip > width {
		return bad("strip", r.Strip, fmt.Sprintf("at most %v, what is left of the blank", max(0, width).About()))
	}
	if (width+r.Kerf)/(r.Strip+r.Kerf) > maxStrips {
		return bad("strip", r.Strip, "wider: a blank gives at most a million strips")
	}
	n := int((width + r.Kerf) / (r.Strip + r.Kerf))
	// Only the two strips at the edges have one, and a single strip has the better.
	if r.KeepEdge {
		n = min(n, finished)
	}
	out := RipResult{Strips: n, Finished: min(n, finished)}
	if n == 0 {
		out.Rest = width
		return out, nil
	}
	out.Cuts = n - 1
	if rest := width - measure.Length(n)*r.Strip - measure.Length(n-1)*r.Kerf; rest > 0 {
		out.Cuts++
		out.Rest = max(0, rest-r.Kerf)
	}
	out.Narrow = out.Rest > 0 && out.Rest < safe
	return out, nil
}

// Blanks returns how many blanks give the number of strips; the error is that of
// Blank, or a *measure.FieldError for a negative number or where a blank gives none.
func (r Rip) Blanks(strips int) (int, error) {
	b, err := r.Blank()
	switch {
	case err != nil:
		return 0, err
	case strips < 0:
		return 0, &measure.FieldError{Field: "strips", Value: strconv.Itoa(strips), Want: "zero or more"}
	case b.Strips == 0:
		return 0, &measure.FieldError{Field: "finished_edges", Value: "0", Want: "1 or 2, because each strip has to keep a finished edge"}
	}
	n := strips / b.Strips
	if strips%b.Strips != 0 {
		n++
	}
	return n, nil
}
