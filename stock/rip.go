package stock

import (
	"fmt"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A Rip describes how strips are ripped from a blank: battens from a board or a sheet, a
// lower base from a higher one, strips for a base from field tile or slab.
//
// Ripping can injure: follow the manual of the saw, keep guard and riving knife on, and use
// a push stick and a featherboard. Narrow plastic melts and grabs. Cut tile and stone wet
// and do not breathe the dust.
type Rip struct {
	Width measure.Length `json:"width"` // of the blank, across the cuts
	Strip measure.Length `json:"strip"` // width of a strip
	Kerf  measure.Length `json:"kerf,omitzero"`

	// FinishedEdges is the number of the blank's long edges that are finished - molded,
	// bullnosed, or as they left the factory: 0 for a slab that is sawn all around, 1 for
	// molded base or a bullnose tile, 2 for a board or a field tile. KeepEdge is set if
	// each strip must have one of them, on top. Strips without one have to be polished or
	// bullnosed.
	FinishedEdges int  `json:"finished_edges,omitempty"`
	KeepEdge      bool `json:"keep_edge,omitempty"`

	// Trim is taken off each unfinished edge first, and includes its kerf.
	Trim measure.Length `json:"trim,omitzero"`

	// MinStrip is the narrowest strip that may be ripped between fence and blade; zero means 1
	// in (common practice, no source; follow the manual of the saw), and in JSON is an
	// error.
	MinStrip measure.Length `json:"min_strip,omitzero" zero:"a width such as \"3/4in\", or nothing for 1in"`
}

// UnmarshalJSON reads an object with the names of the fields. A MinStrip of zero, which
// would mean 1 in, is a [*measure.FieldError].
func (r *Rip) UnmarshalJSON(data []byte) error {
	type plain Rip
	return fault.Unmarshal(data, (*plain)(r))
}

// A RipResult is the yield of one blank.
type RipResult struct {
	Strips   int            `json:"strips"`        // strips of full width
	Finished int            `json:"finished"`      // strips with a finished edge
	Cuts     int            `json:"cuts"`          // rip cuts, without those that trim the edges
	Rest     measure.Length `json:"rest,omitzero"` // remaining width, without a kerf
	// Narrow is set if the rest is narrower than MinStrip: rip with the strip between fence
	// and blade, so that the rest falls off on the outside.
	Narrow bool `json:"narrow,omitempty"`
}

// maxStrips bounds the strips of one blank.
const maxStrips = 1_000_000

// Blank returns the yield of one blank. n strips need n − 1 cuts between them and one more if
// there is a remainder; a remainder no wider than the kerf becomes dust.
//
// The error is a [*measure.FieldError] for every field out of range, joined, or for a strip
// that is too narrow to be ripped safely or too wide for the blank.
func (r Rip) Blank() (RipResult, error) {
	safe := measure.Inch
	if 0 < r.MinStrip && r.MinStrip <= maxSection {
		safe = r.MinStrip
	}
	var bad fault.List
	length := func(field string, l, least measure.Length, want string) {
		if l < least || l > maxSection {
			bad.Add(field, l.About(), want+", at most 1000 ft")
		}
	}
	length("width", r.Width, 1, "more than zero")
	if r.Strip < safe {
		bad.Add("strip", r.Strip.About(), fmt.Sprintf("at least %v, the narrowest that is safe to rip", safe.About()))
	}
	length("kerf", r.Kerf, 0, "zero or more")
	if r.FinishedEdges < 0 || r.FinishedEdges > 2 {
		bad.Add("finished_edges", strconv.Itoa(r.FinishedEdges), "0, 1 or 2")
	}
	length("trim", r.Trim, 0, "zero or more")
	length("min_strip", r.MinStrip, 0, "zero or more")
	if err := bad.Err(); err != nil {
		return RipResult{}, err
	}
	finished := r.FinishedEdges
	width := r.Width - measure.Length(2-finished)*r.Trim
	switch {
	case r.Strip > width:
		bad.Add("strip", r.Strip.About(), fmt.Sprintf("at most %v, what is left of the blank", max(0, width).About()))
	case (width+r.Kerf)/(r.Strip+r.Kerf) > maxStrips:
		bad.Add("strip", r.Strip.About(), "wider: a blank gives at most a million strips")
	}
	if err := bad.Err(); err != nil {
		return RipResult{}, err
	}
	n := int((width + r.Kerf) / (r.Strip + r.Kerf))
	// Only the two strips at the edges have a finished edge, and a single strip has the
	// better one.
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

// Blanks returns the number of blanks that yield the given number of strips. The error is
// that of Blank, or a [*measure.FieldError] for a negative number (strips) and for blanks
// that yield no strip with a finished edge (finished_edges).
func (r Rip) Blanks(strips int) (int, error) {
	b, err := r.Blank()
	switch {
	case err != nil:
		return 0, err
	case strips < 0:
		return 0, fault.Field("strips", strips, "zero or more")
	case b.Strips == 0:
		return 0, fault.Field("finished_edges", 0, "1 or 2, because each strip has to keep a finished edge")
	}
	n := strips / b.Strips
	if strips%b.Strips != 0 {
		n++
	}
	return n, nil
}
