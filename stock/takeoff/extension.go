package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
)

// An ExtensionStock is the board from which jamb extensions are ripped, and their installation:
// if an Opening has Depths, has jambs and gets new casing, from this scheme or by others, a
// frame brings the jambs out to the wall. Casing then goes around the frame as if it were the
// jamb.
type ExtensionStock struct {
	Board stock.Profile `json:"board"` // Width and Thickness as sold

	// Kerf is the width of each rip cut.
	Kerf measure.Length `json:"kerf,omitzero"`

	// Setback is the width of the jamb's edge that the extension leaves free; zero means 3/16
	// in ("Production Jamb Extensions", Journal of Light Construction). Flush means none; in
	// JSON a zero is an error.
	Setback measure.Length `json:"setback,omitzero" zero:"\"flush\": true for none, or nothing for 3/16in"`
	Flush   bool           `json:"flush,omitempty"`

	// Proud is its projection beyond the wall; zero is flush.
	Proud measure.Length `json:"proud,omitzero"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero setback is a
// *measure.FieldError.
func (e *ExtensionStock) UnmarshalJSON(data []byte) error {
	type plain ExtensionStock
	return fault.Unmarshal(data, (*plain)(e))
}

// A StripStock is the strips of one width that are ripped from a board: Pieces and Runs name
// Profile.Name, which comes in the lengths of the board, Rip.Strip wide. Plan their pieces on
// sticks of that profile; Rip.Blanks returns the number of boards for the sticks of one length.
// A tapered strip is ripped parallel first; see scribe.TaperedRip for many strips of one taper.
type StripStock struct {
	Profile  stock.Profile `json:"profile"`
	Board    string        `json:"board"` // name of the profile from which it is ripped
	Rip      stock.Rip     `json:"rip"`
	PerBoard int           `json:"per_board"` // number of strips from one board, over its whole length
}

// Limits of jamb extensions.
const (
	beatDown    = measure.Inch / 8     // plaster or drywall that projects no farther is beaten down or planed (door trim, This Old House)
	depthRange  = measure.Inch / 8     // depths around one opening; common practice, no source
	cornerOff   = measure.Inch / 32    // out of plane or off a straight line, as for a proud extension; common practice, no source
	leastRip    = 3 * measure.Inch / 8 // narrower strips split when they are nailed; common practice, no source
	alikeStrips = measure.Inch / 4     // strips that differ less are ripped alike and planed
	maxLayers   = 10                   // of an extension
	maxProud    = 1000 * measure.Foot  // far above any real value
)

// mark returns the graduation to which strips are ripped: 1/32 in, or 1 mm if the board is sold
// in millimeters.
func (e *ExtensionStock) mark() measure.Length {
	if e.Board.Width%(measure.Inch/128) != 0 && e.Board.Width%measure.Millimeter == 0 {
		return measure.Millimeter
	}
	return measure.Inch / 32
}

// named returns the board by its name in the scheme, if there is one.
func (e *ExtensionStock) named() []namedProfile {
	if e == nil {
		return nil
	}
	return []namedProfile{{"extension.board", &e.Board, stock.RoleExtension}}
}

func (e *ExtensionStock) validate() error {
	var bad faults
	if e == nil {
		return nil
	}
	bad.length("kerf", e.Kerf, 0, maxProud)
	if bad.length("setback", e.Setback, 0, maxProud); e.Flush && e.Setback != 0 {
		bad.Add("setback", e.Setback.About(), "nothing, because the extension is flush")
	}
	bad.length("proud", e.Proud, 0, maxProud)
	return bad.Err()
}

// validateDepths rejects invalid depths.
func (o Opening) validateDepths(s Scheme, bad *faults) {
	if o.Sash != nil {
		_, err := scribe.Stool{Width: 1, Sash: *o.Sash}.Notch()
		bad.Under("", err)
	}
	if o.Depths == nil {
		return
	}
	bad.Under("depths", o.Depths.Validate())
	if o.Kind == OpeningWindow && o.Height == 0 && s.Extension != nil && o.ExistingWidth == 0 {
		bad.Add("height", o.Height.About(), "more than zero for a window whose jambs are extended")
	}
}

// extends reports whether the opening gets an extension: it has jambs, new casing and a
// straight head, and the wall projects beyond the jambs everywhere, and somewhere by more than
// is beaten down.
func (o Opening) extends(s Scheme) bool {
	if s.Extension == nil || o.Depths == nil || o.Kind == OpeningPlain || o.ExistingWidth != 0 || o.ArchRise != 0 {
		return false
	}
	least, greatest := o.Depths.Range()
	return least > 0 && greatest > beatDown
}

// extension returns the extension around the opening.
func (o Opening) extension(s Scheme, opt Options) scribe.Extension {
	e := s.Extension
	x := scribe.Extension{
		Depths: *o.Depths, Width: o.Width, TopWidth: o.TopWidth, Height: o.height(), RightHeight: o.RightHeight,
		Thickness: e.Board.Thickness, Setback: e.Setback, Flush: e.Flush, Proud: e.Proud,
		FourSided: o.Kind == OpeningWindow && !o.hasStool(s.at(o)),
	}
	if o.Kind != OpeningWindow && opt.FloorGap != 0 {
		x.Height, x.RightHeight = o.height()-opt.FloorGap, o.rightHeight()-opt.FloorGap
	}
	// The fewest layers that reach the wall, all but the last of one width.
	_, deep := o.Depths.Range()
	deep += e.Proud
	n := (deep + e.Board.Width - 1) / e.Board.Width
	if n < 2 || n > maxLayers {
		return x
	}
	mark := 4 * e.mark()
	layer := scribe.Layer{Width: min(e.Board.Width, ((deep+n-1)/n+mark-1).Round(mark, measure.RoundDown)), Setback: e.Setback, Flush: e.Flush}
	for range n - 1 {
		x.Layers = append(x.Layers, layer)
	}
	return x
}

// extended returns the rooms for the casing: an extended opening is that between the
// extensions. Rooms without any are unchanged.
func extended(rooms []Room, s Scheme, o Options) []Room {
	if s.Extension == nil {
		return rooms
	}
	var out []Room
	for i, r := range rooms {
		for j, w := range r.Walls {
			for k, op := range w.Openings {
				if !op.extends(s) {
					continue
				}
				if out == nil {
					out = slices.Clone(rooms)
				}
				if &out[i].Walls[0] == &r.Walls[0] {
					out[i].Walls = slices.Clone(r.Walls)
				}
				if &out[i].Walls[j].Openings[0] == &w.Openings[0] {
					out[i].Walls[j].Openings = slices.Clone(w.Openings)
				}
				out[i].Walls[j].Openings[k] = op.inside(op.extension(s, o))
			}
		}
	}
	if out == nil {
		return rooms
	}
	return out
}

// inside returns the opening inside an extension.
func (o Opening) inside(x scribe.Extension) Opening {
	in := x.Inset()
	o.At -= in
	o.Width += 2 * in
	if o.TopWidth != 0 {
		o.TopWidth += 2 * in
	}
	up := in
	if x.FourSided {
		if o.Sill != 0 {
			o.Sill = max(1, o.Sill-in)
		}
		up += in
	}
	if o.RightHeight != 0 {
		o.RightHeight += up
	}
	o.Height = o.height() + up
	return o
}

// newStrips returns the widths to which the extensions of all openings are ripped, the widest
// first. Blanks that differ little are ripped alike.
func newStrips(rooms []Room, s Scheme, o Options) []StripStock {
	if s.Extension == nil {
		return nil
	}
	var blanks []measure.Length
	for _, r := range rooms {
		for _, w := range r.Walls {
			for _, op := range w.Openings {
				if !op.extends(s) {
					continue
				}
				parts, _ := op.extension(s, o).Parts() // reported where they are taken off
				for _, p := range parts {
					blanks = append(blanks, p.Blank)
				}
			}
		}
	}
	slices.SortFunc(blanks, func(a, b measure.Length) int { return cmp.Compare(b, a) })
	e := s.Extension
	var all []StripStock
	for _, b := range blanks {
		if n := len(all); n > 0 && all[n-1].Rip.Strip-b < alikeStrips || b > e.Board.Width {
			continue
		}
		width := min(e.Board.Width, b.Round(e.mark(), measure.RoundUp))
		p := e.Board
		p.Name = fmt.Sprintf("%s ripped to %v", p.Name, width.About(e.Board.Width))
		p.Width, p.Role, p.Face = width, stock.RoleExtension, 0
		strip := StripStock{Profile: p, Board: e.Board.Name, Rip: stock.Rip{
			Width: e.Board.Width, Strip: width, Kerf: e.Kerf, FinishedEdges: 2, MinStrip: min(measure.Inch, width),
		}}
		if yield, err := strip.Rip.Blank(); err == nil {
			strip.PerBoard = yield.Strips
		}
		all = append(all, strip)
	}
	return all
}

// stripOf returns the strips for a blank: the narrowest that are wide enough, or nil.
func stripOf(all []StripStock, blank measure.Length) *StripStock {
	var best *StripStock
	for i := range all {
		if all[i].Rip.Strip >= blank {
			best = &all[i]
		}
	}
	return best
}

// takeExtensions takes off the extensions of a room, as measured.
func takeExtensions(r *Room, called [][]string, s Scheme, opt Options, list *List) (wrong []wallFault) {
	for wi, w := range r.Walls {
		for oi, o := range w.Openings {
			if !o.extends(s) {
				continue
			}
			label := called[wi][oi] + " jamb extension"
			x := o.extension(s, opt)
			parts, err := x.Parts()
			if err != nil {
				wrong = append(wrong, wallFault{wi, oi, uncut(label, o.Width, err)})
				continue
			}
			for _, p := range parts {
				if err := list.extend(opt.words(), r.Name, w.Name, label, o, x, p); err != nil {
					wrong = append(wrong, wallFault{wi, oi, err})
					break
				}
			}
		}
	}
	return wrong
}

// extend adds one board of an extension.
func (l *List) extend(w words, room, wall, label string, o Opening, x scribe.Extension, p scribe.ExtensionPart) *measure.FieldError {
	name := map[scribe.Side]string{scribe.SideLeft: "leg left", scribe.SideRight: "leg right", scribe.SideHead: "head", scribe.SideSill: "sill"}[p.Side]
	label = numbered(label+" "+name, p.Layer+1, len(x.Layers)+1)
	strip := stripOf(l.Strips, p.Blank)
	if strip == nil {
		return &measure.FieldError{
			Field: "depths", Value: fmt.Sprintf("%s, %v wide", label, p.Blank.About()),
			Want: "at most the width of the board for extensions, or a wider board",
		}
	}
	if longest := strip.Profile.Longest(); longest > 0 && p.Length > longest {
		return uncut(label, p.Length, &SpliceError{Run: label, Length: p.Length, Longest: longest})
	}
	in := x.Inset() / measure.Length(len(x.Layers)+1) * measure.Length(p.Layer+1) // all setbacks are the same
	run := stock.Run{
		Label: label, Profile: strip.Profile.Name, Role: stock.RoleExtension, Room: room, Wall: wall,
		Net: p.Length, Length: p.Length, Bottom: max(0, o.Sill), Start: o.At - in - x.Thickness,
	}
	o.placeExtension(&run, x, p, in)
	run.Allowances = append(run.Allowances, jointsOfExtension(x, p, in)...)
	run.Scribe = tapered(p, strip.Rip.Strip)
	pieces := []stock.Piece{{
		Label: label, Length: p.Length, Profile: strip.Profile.Name, Run: label, Part: 1, Parts: 1, Allowances: run.Allowances,
	}}
	w.noted(&run, pieces, nil, nil)
	l.add(strip.Profile, false, run, pieces, Joints{}, 0)
	if p.Side == scribe.SideHead { // a frame counts its joints once, at the head
		n := 2
		if x.FourSided {
			n = 4
		}
		l.count(l.totals(run.Room, strip.Profile, false), Joints{Butts: n})
	}
	return nil
}

// placeExtension sets where a part of an extension is on the wall, and the allowances that are
// measured; in is the setback from the opening.
func (o Opening) placeExtension(run *stock.Run, x scribe.Extension, p scribe.ExtensionPart, in measure.Length) {
	below := measure.Length(0)
	if x.FourSided {
		below = in
	}
	legs := func(height, cut measure.Length) []stock.Allowance {
		as := []stock.Allowance{{Name: "height", Length: height}}
		if cut != height {
			run.Bottom += height - cut
			as = append(as, stock.Allowance{Name: "floor gap", Length: cut - height})
		}
		return as
	}
	switch p.Side {
	case scribe.SideHead:
		run.Bottom += o.height() + in
		run.Allowances = []stock.Allowance{{Name: "opening", Length: o.topWidth()}}
		run.Start -= (o.topWidth() - o.Width) / 2
	case scribe.SideSill:
		run.Bottom -= in + x.Thickness
		run.Allowances = []stock.Allowance{{Name: "opening", Length: o.Width}}
	case scribe.SideLeft:
		run.Slope = rightAngle
		run.Bottom -= below
		run.Allowances = legs(o.height(), x.Height)
	case scribe.SideRight:
		run.Slope, run.Start = rightAngle, o.At+o.Width+in
		if run.Bottom -= below; o.Kind != OpeningWindow {
			run.Bottom -= o.rightHeight() - o.height() // both legs end at the head
		}
		run.Allowances = legs(o.rightHeight(), cmp.Or(x.RightHeight, x.Height))
	}
}

// jointsOfExtension returns the extra length of a part at its ends: the setbacks, and the legs
// that the head and the sill cover.
func jointsOfExtension(x scribe.Extension, p scribe.ExtensionPart, in measure.Length) (as []stock.Allowance) {
	ends := []string{"left", "right"}
	if p.Side <= scribe.SideRight {
		if ends = []string{"top", "bottom"}; !x.FourSided {
			ends = ends[:1]
		}
	}
	for _, e := range ends {
		if in != 0 {
			as = append(as, stock.Allowance{Name: "setback at " + e, Length: in})
		}
	}
	if p.Side >= scribe.SideHead {
		for _, e := range ends {
			as = append(as, stock.Allowance{Name: "leg at " + e, Length: x.Thickness})
		}
	}
	return as
}

// tapered returns the line to scribe on a strip for a part that is not of its width throughout.
func tapered(p scribe.ExtensionPart, strip measure.Length) []stock.ScribeMark {
	if p.Left == strip && p.Right == strip && p.Bow == 0 {
		return nil
	}
	off := func(width measure.Length) measure.Length { return strip - width }
	marks := []stock.ScribeMark{{At: 0, Depth: off(p.Left)}}
	if p.Bow != 0 {
		mean, _, _ := (p.Left + p.Right).MulDiv(1, 2, measure.RoundHalfEven)
		marks = append(marks, stock.ScribeMark{At: p.Length / 2, Depth: off(mean + p.Bow)})
	}
	return append(marks, stock.ScribeMark{At: p.Length, Depth: off(p.Right)})
}

// depths returns findings about the depths of a room's jambs.
func depths(r *Room, s Scheme, opt Options) []Finding {
	w := opt.words()
	var fs []Finding
	for _, wall := range r.Walls {
		for i, o := range wall.Openings {
			if o.Depths == nil || o.Kind == OpeningPlain {
				continue
			}
			name := wall.openingName(i)
			add := func(code FindingCode, severity Severity, l measure.Length, reason string, args ...any) {
				fs = append(fs, Finding{Code: code, Severity: severity, Room: r.Name, Wall: wall.Name, Length: l, Reason: name + ": " + fmt.Sprintf(reason, args...)})
			}
			least, greatest := o.Depths.Range()
			if least < 0 {
				add(FindingProudJamb, SeverityDoubt, -least, "the jamb stands %v proud of the wall; plane it flush, or bring the wall out: there is nothing to extend", w.About(-least))
			} else if greatest > 0 && greatest <= beatDown {
				add(FindingThinRip, SeverityAdvice, greatest, "the wall stands only %v beyond the jamb; beat down or plane the plaster rather than rip an extension", w.About(greatest))
			}
			if d := greatest - least; d > depthRange {
				add(FindingJambDepth, SeverityAdvice, d, "the wall is from %v to %v beyond the jamb, %v apart; measure again, or true the wall before the casing shows it", w.About(least), w.About(greatest), w.About(d))
			}
			if o.ArchRise != 0 && s.Extension != nil && greatest > beatDown {
				add(FindingJambDepth, SeverityAdvice, greatest, "the wall is up to %v beyond the jamb; the extension of an arched jamb is bent, and is not in the list", w.About(greatest))
			}
			if twist, miss := o.Depths.Twist(); miss > cornerOff {
				add(FindingJambTwist, SeverityAdvice, max(twist, -twist), "the corners of the wall are twisted by %v: casing in one plane is %s off each of them", w.About(max(twist, -twist)), w.about(miss))
			}
			if !o.extends(s) {
				continue
			}
			parts, err := o.extension(s, opt).Parts()
			if err != nil {
				continue
			}
			for _, p := range parts {
				side := p.Side.String()
				if p.Side <= scribe.SideRight {
					side += " side"
				}
				if p.Bow > cornerOff || p.Bow < -cornerOff {
					way := "out"
					if p.Bow < 0 {
						way = "in"
					}
					add(FindingJambBow, SeverityAdvice, max(p.Bow, -p.Bow), "the wall is bowed %s by %s along its %s; scribe the extension to it", way, w.about(max(p.Bow, -p.Bow)), side)
				}
				if thin := min(p.Left, p.Right); thin < leastRip {
					add(FindingThinRip, SeverityAdvice, thin, "the extension at its %s is %s wide at its narrow end; under %s it splits when it is nailed: glue it", side, w.about(thin), w.or("3/8 in", "10 mm"))
				}
			}
		}
	}
	return fs
}
