package takeoff

import (
	"fmt"
	"math"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// Backing is the nailing for crown or a bed molding between the studs: a strip in the angle
// behind it, ripped to its spring angle, or blocks of such a strip. There is none around a
// curve that the molding bends around in one piece.
type Backing struct {
	Profile stock.Profile `json:"profile"` // the stock from which it is ripped

	// Clearance is the gap between the backing and the back of the molding, square to it; zero
	// means 1/4 in ("Crown-Molding Fundamentals", Fine Homebuilding), and in JSON is an error.
	Clearance measure.Length `json:"clearance,omitzero" zero:"more than 0in, or nothing for 1/4in"`

	// HoldBack is its distance from corners and ends, so that the joints of the molding can be
	// adjusted; zero means 4 in (common practice, no source), and in JSON is an error.
	HoldBack measure.Length `json:"hold_back,omitzero" zero:"more than 0in, or nothing for 4in"`

	// BlockLength is the length of a block; zero means an unbroken strip. Spacing is the
	// greatest distance between the middles of blocks; zero means 32 in, and in JSON is an
	// error: blocks are set every 24 to 32 in (Litchfield, Renovation).
	BlockLength measure.Length `json:"block_length,omitzero"`
	Spacing     measure.Length `json:"spacing,omitzero" zero:"more than 0in, or nothing for 32in"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero that would mean
// something else is a *measure.FieldError.
func (b *Backing) UnmarshalJSON(data []byte) error {
	type plain Backing
	return fault.Unmarshal(data, (*plain)(b))
}

// filled returns the backing with its defaults filled in.
func (b Backing) filled() Backing {
	setDefault(&b.Clearance, measure.Inch/4)
	setDefault(&b.HoldBack, 4*measure.Inch)
	setDefault(&b.Spacing, 32*measure.Inch)
	return b
}

// validate adds the faults of the backing of a molding, except those of its profile.
func (b *Backing) validate(of stock.Profile, at string, bad *faults) {
	if !of.Role.Sprung() {
		bad.Add(at, of.Role.String(), "nothing, because only sprung trim has room behind it: a strip behind flat trim is a separate member")
		return
	}
	bad.length(at+".clearance", b.Clearance, 0, maxHeight)
	bad.length(at+".hold_back", b.HoldBack, 0, maxHeight)
	bad.length(at+".block_length", b.BlockLength, 0, maxHeight)
	switch f := b.filled(); {
	case b.Spacing != 0 && b.BlockLength == 0:
		bad.Add(at+".spacing", b.Spacing.About(), "nothing, because the backing is a strip, not blocks")
	case b.BlockLength > 0 && f.Spacing <= b.BlockLength:
		bad.Add(at+".spacing", f.Spacing.About(), fmt.Sprintf("more than a block, %v", b.BlockLength.About()))
	case b.Spacing != 0:
		bad.length(at+".spacing", b.Spacing, measure.Inch, maxHeight)
	}
	if of.Validate() != nil || b.Clearance < 0 || b.Clearance > maxHeight {
		return
	}
	if _, _, err := b.legs(of); err != nil {
		bad.Add(at+".clearance", b.filled().Clearance.About(), "less, so that something is left of the backing")
	}
}

// legs returns the extents of the backing of a molding along the wall and along the surface
// above.
func (b *Backing) legs(of stock.Profile) (wall, ceiling measure.Length, err error) {
	return joint.Backing(of.Width, of.SpringAngle(), b.filled().Clearance)
}

// cutBacking takes off the backing of the course, along each of its lines.
func (t *taker) cutBacking() {
	if t.course.backing == nil {
		return
	}
	b := t.course.backing.filled()
	wall, _, err := b.legs(t.course.profile)
	if err != nil {
		return // a fault of the scheme
	}
	p := b.Profile
	p.Role, p.ButtSpliced = stock.RoleBacking, true
	for i, s := range t.spans {
		if t.bending(i) != nil {
			continue // a strip does not bend
		}
		label := t.called[t.course.backed][i] + " " + p.Role.String()
		var runs []stock.Run
		for k := s.first; k < s.last; k++ {
			l := &t.lines[k]
			free := t.onSlope(i, l.to-l.from) - 2*b.HoldBack
			if l.gone || l.uncut || free <= 0 {
				continue
			}
			run := stock.Run{
				Profile: p.Name, Role: p.Role, Room: t.room.Name, Wall: t.room.Walls[i].Name,
				Assembly: t.course.assembly, Order: t.course.order - 1, Standoff: t.course.standoff,
			}
			if _, top, known := t.course.edges(t.room, i); known {
				run.Bottom = max(0, top-wall)
			}
			if b.BlockLength == 0 || free <= b.BlockLength {
				run.Start, run.Length = t.section(i).off(l.from+t.level(i, b.HoldBack), s.length), free
				runs = append(runs, t.inclined(i, run, wall))
				continue
			}
			gaps := (free-b.BlockLength-1)/b.Spacing + 1 // between the middles of the first and the last
			for g := range gaps + 1 {
				run.Start, _, _ = (free - b.BlockLength).MulDiv(int64(g), int64(gaps), measure.RoundHalfEven) // at most free
				run.Start = t.section(i).off(l.from+t.level(i, run.Start+b.HoldBack), s.length)
				run.Length = b.BlockLength
				runs = append(runs, t.inclined(i, run, wall))
			}
		}
		for k, run := range runs {
			if run.Label = label; len(runs) > 1 {
				run.Label += " " + letters(k)
			}
			run.Net = run.Length
			run.Allowances = []stock.Allowance{{Name: "backing", Length: run.Length}}
			run.Splice = stock.SpliceRule{Anywhere: true}
			t.cutStrip(i, p, run)
		}
	}
}

// cutStrip takes one strip or block into the list.
func (t *taker) cutStrip(wall int, p stock.Profile, run stock.Run) {
	fault := func(err error) {
		t.bad = append(t.bad, wallFault{wall: wall, opening: -1, err: uncut(run.Label, run.Length, err)})
	}
	if longest := p.Longest(); longest > 0 && run.Length > longest {
		at, ok := run.Splice.Place(run.Length, longest)
		if !ok {
			fault(&SpliceError{Run: run.Label, Length: run.Length, Longest: longest})
			return
		}
		run.Splices = at
	}
	pieces, err := run.Pieces(run.Splices)
	if err != nil {
		fault(err)
		return
	}
	t.list.add(p, false, run, pieces, Joints{}, 0)
}

// thinBacking finds stock from which a strip of backing cannot be ripped: with its two legs at
// the edges of the stock, or its long side on the face.
func thinBacking(w words, courses []course) []Finding {
	var fs []Finding
	for _, c := range courses {
		if c.backing == nil {
			continue
		}
		wall, ceiling, err := c.backing.legs(c.profile)
		if err != nil {
			continue
		}
		p := c.backing.Profile
		sin, cos := math.Sincos(c.profile.SpringAngle().Radians())
		long, high := asLength(float64(wall)/cos), asLength(float64(wall)*sin)
		needs := func(thick, wide measure.Length) measure.Length {
			return max(thick-min(p.Thickness, p.Width), wide-max(p.Thickness, p.Width))
		}
		if lacks := min(needs(min(wall, ceiling), max(wall, ceiling)), needs(high, long)); lacks > 0 {
			fs = append(fs, Finding{
				Code: FindingThinBacking, Severity: SeverityAdvice, Length: lacks,
				Reason: fmt.Sprintf("backing of %s, %s on the wall by %s above, does not come out of %s of %v by %v; glue the stock up, or use blocks that are built of it",
					c.profile.Name, w.about(wall), w.about(ceiling), p.Name, w.About(p.Thickness), w.About(p.Width)),
			})
		}
	}
	return fs
}
