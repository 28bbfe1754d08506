package takeoff

import (
	"fmt"
	"slices"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// CasingJoint is the joint between the legs of a casing and its head.
type CasingJoint uint8

const (
	CasingMiter CasingJoint = iota // legs and head are mitered
	CasingButt                     // the legs end square at the reveal, and the head lies across them
	CasingBlock                    // legs and head end square at a block in each corner
)

var casingJointNames = [...]string{CasingMiter: "miter", CasingButt: "butt", CasingBlock: "block"}

// String returns "miter", "butt" or "block".
func (j CasingJoint) String() string { return kind.Text("CasingJoint", casingJointNames[:], j) }

// MarshalText writes the name; an unknown joint is a *measure.FieldError.
func (j CasingJoint) MarshalText() ([]byte, error) {
	return kind.Marshal("CasingJoint", "a joint of a casing", casingJointNames[:], j)
}

// UnmarshalText reads the name; any other text is a *measure.FieldError.
func (j *CasingJoint) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a joint of a casing", casingJointNames[:], text, j)
}

// A CasingStyle is the trim around an opening as data: the joint of legs and head, the members
// over the head, the blocks below the legs. With o the opening between the jambs, h its height
// (a window's from the stool), r the reveal, c the width of the casing and D = o + 2r + 2c:
//
//	joint                     leg                        head
//	miter                     short point h + r          short point o + 2r, long point D
//	butt                      h + r                      D + 2·overhang
//	block, B wide             h + r - (B - c)/2          o + 2r - (B - c), over all D + (B - c)
//	plinth below the leg      less the plinth's height   the same
//	backband, b wide, lap k   long point + (b - k)       long point + 2·(b - k)
//
// The zero value with a name is the mitered casing of a scheme without styles.
type CasingStyle struct {
	// Name is the name by which an Opening's Style selects it; required and unique. Kinds are
	// the kinds of openings that get it by default; none means all.
	Name  string        `json:"name"`
	Kinds []OpeningKind `json:"kinds,omitempty"`

	// Joint is the joint of legs and head. The bottom of a window without a stool is mitered to
	// the legs, carries butted ones, or lies between blocks as the head does.
	Joint CasingJoint `json:"joint,omitzero"`

	// Head lists the members over the opening, from below: with CasingButt on the legs, where
	// none means the casing itself, and with CasingMiter on the mitered head. With CasingBlock
	// there is none.
	Head []HeadMember `json:"head,omitempty"`

	// Block is the corner block of CasingBlock, centered on the casing, and at least as wide;
	// 1/4 in wider and 1/8 in thicker is usual ("Building Construction and Superintendence",
	// section 168). BlockHeight is its height, at least its width; zero means its width.
	Block       *stock.Profile `json:"block,omitempty"`
	BlockHeight measure.Length `json:"block_height,omitzero" zero:"the height of the block, or nothing for its width"`

	// Mullion is the casing between joined openings, ripped to the width between their reveals;
	// nil means the casing.
	Mullion *stock.Profile `json:"mullion,omitempty"`

	// Casing, Stool, Apron, Plinth and Backband replace those of the Scheme; nil means the
	// Scheme's. BackbandLap and PlinthHeight go with the Backband and the Plinth of the style,
	// as in the Scheme. The backband goes around the head too, unless the Head has its own
	// members on butted legs or there are corner blocks. Without lists parts of the Scheme that
	// the style omits: stool, apron, plinth, backband.
	Casing       *stock.Profile `json:"casing,omitempty"`
	Stool        *stock.Profile `json:"stool,omitempty"`
	Apron        *stock.Profile `json:"apron,omitempty"`
	Plinth       *stock.Profile `json:"plinth,omitempty"`
	PlinthHeight measure.Length `json:"plinth_height,omitzero" zero:"the height of the plinth, or nothing for the usual one"`
	Backband     *stock.Profile `json:"backband,omitempty"`
	BackbandLap  measure.Length `json:"backband_lap,omitzero"`
	Without      []stock.Role   `json:"without,omitempty"`

	// FlatEdge is the width of the flat along the outer edge of the casing, on which the lip of
	// a rabbeted backband must lie; zero means not measured. It is used only by findings.
	FlatEdge measure.Length `json:"flat_edge,omitzero"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero that would mean
// something else is a *measure.FieldError.
func (c *CasingStyle) UnmarshalJSON(data []byte) error {
	type plain CasingStyle
	return fault.Unmarshal(data, (*plain)(c))
}

// A HeadMember is a board or a molding of the head, such as the fillet, the frieze, the crown
// and the cap of an entablature. Its Profile is as it stands on the wall: Thickness is its
// projection into the room, Width its height, even for a cap that is a board lying flat. Each
// member lies on the one before it, its back on the wall. Its length is the overall width of
// the casing and its backband, plus its Overhang at either end.
type HeadMember struct {
	// Profile is the section; nil means the casing. Its Role is casing, fillet, frieze, band,
	// cap, crown or bed molding.
	Profile *stock.Profile `json:"profile,omitempty"`

	// Overhang is its extent at either side beyond the outer edge of the legs, with their
	// backband.
	Overhang measure.Length `json:"overhang,omitzero"`

	// Return returns both ends to the wall; otherwise they are square.
	Return bool `json:"return,omitempty"`

	// Around plants the member on the face of the last earlier one that is not planted, with
	// their upper edges flush, mitered around its ends and returned to the wall, like all crown
	// and bed molding. Its back is as long as that member, its face longer by its own
	// projection at either end; the returns are as long at the back as that member is thick.
	Around bool `json:"around,omitempty"`
}

// around reports whether the member is planted on the one before it.
func (m HeadMember) around() bool { return m.Around || m.Profile != nil && m.Profile.Role.Sprung() }

// Limits of one call.
const (
	maxStyles = 100 // of a scheme
	maxHead   = 20  // members of one head
)

// pick returns the index of an opening's style, -1 for none.
func (s Scheme) pick(o Opening) int {
	if o.Kind == OpeningPlain || o.ExistingWidth != 0 {
		return -1
	}
	return slices.IndexFunc(s.CasingStyles, func(c CasingStyle) bool {
		if o.Style != "" {
			return c.Name == o.Style
		}
		return len(c.Kinds) == 0 || slices.Contains(c.Kinds, o.Kind)
	})
}

// at returns the scheme at an opening: with the profiles of its style, and only that style.
func (s Scheme) at(o Opening) Scheme {
	i := s.pick(o)
	if i < 0 {
		s.CasingStyles = nil
		return s
	}
	return s.styled(i)
}

// styled returns the scheme at openings of a style.
func (s Scheme) styled(i int) Scheme {
	c := s.CasingStyles[i]
	s.CasingStyles = s.CasingStyles[i : i+1 : i+1]
	for _, r := range c.Without {
		switch r {
		case stock.RoleStool:
			s.Stool = nil
		case stock.RoleApron:
			s.Apron = nil
		case stock.RolePlinth:
			s.Plinth = nil
		case stock.RoleBackband:
			s.Backband, s.BackbandLap = nil, 0
		}
	}
	for _, f := range []struct{ to, from **stock.Profile }{
		{&s.Casing, &c.Casing}, {&s.Stool, &c.Stool}, {&s.Apron, &c.Apron}, {&s.Plinth, &c.Plinth}, {&s.Backband, &c.Backband},
	} {
		if *f.from != nil {
			*f.to = *f.from
		}
	}
	if c.Plinth != nil {
		s.PlinthHeight = c.PlinthHeight
	}
	if c.Backband != nil {
		s.BackbandLap = c.BackbandLap
	}
	return s
}

// style returns the style of a scheme at an opening.
func (s Scheme) style() CasingStyle {
	if len(s.CasingStyles) == 0 {
		return CasingStyle{}
	}
	return s.CasingStyles[0]
}

// named returns the profiles of the style by their JSON names, nil if there is none.
func (c CasingStyle) named() []namedProfile {
	fs := []namedProfile{
		{"casing", c.Casing, stock.RoleCasing}, {"stool", c.Stool, stock.RoleStool}, {"apron", c.Apron, stock.RoleApron},
		{"plinth", c.Plinth, stock.RolePlinth}, {"backband", c.Backband, stock.RoleBackband}, {"block", c.Block, stock.RoleBlock},
		{"mullion", c.Mullion, stock.RoleCasing},
	}
	for i, m := range c.Head {
		if m.Profile != nil {
			fs = append(fs, namedProfile{indexed("head", i) + ".profile", m.Profile, m.Profile.Role})
		}
	}
	return fs
}

// ofStyles returns the profiles of all styles by their JSON names.
func (s Scheme) ofStyles() []namedProfile {
	var fs []namedProfile
	for i, c := range s.CasingStyles {
		for _, f := range c.named() {
			f.field = indexed("casing_styles", i) + "." + f.field
			fs = append(fs, f)
		}
	}
	return fs
}

// validateStyles adds the faults of the styles.
func (s Scheme) validateStyles(bad *faults) {
	if bad.count("casing_styles", len(s.CasingStyles), maxStyles, "styles"); len(s.CasingStyles) > maxStyles {
		return
	}
	seen := map[string]bool{}
	for i, c := range s.CasingStyles {
		at := indexed("casing_styles", i)
		switch {
		case c.Name == "":
			bad.Add(at+".name", "", "a name")
		case seen[c.Name]:
			bad.Add(at+".name", c.Name, "a name that no other style has")
		}
		bad.named(at+".name", c.Name)
		seen[c.Name] = true
		bad.Under(at, c.validate(s.styled(i)))
	}
}

// validate returns the faults of the style within its scheme, joined.
func (c CasingStyle) validate(s Scheme) error {
	var bad faults
	for i, k := range c.Kinds {
		if int(k) >= len(openingNames) {
			bad.Add(indexed("kinds", i), k.String(), "a known kind of opening")
		}
	}
	if int(c.Joint) >= len(casingJointNames) {
		bad.Add("joint", c.Joint.String(), kind.OneOf("a joint of a casing", casingJointNames[:]))
	}
	c.validateHead(s, &bad)
	if c.Joint == CasingBlock && c.Block == nil {
		bad.Add("block", "nothing", "a profile, because the corners have blocks")
	}
	if c.Joint != CasingBlock && c.Block != nil {
		bad.Add("block", c.Block.Name, fmt.Sprintf("nothing, because the corners have no blocks (joint %q)", c.Joint))
	}
	for _, f := range c.named() {
		if f.p != nil {
			bad.Under(f.field, f.p.Validate())
		}
	}
	if s.Casing == nil {
		bad.Add("casing", "nothing", "a profile, because the scheme has none")
	}
	if c.Block != nil && s.Casing != nil && s.Casing.Width > 0 && c.Block.Width > 0 && c.Block.Width < s.Casing.Width {
		bad.Add("block.width", c.Block.Width.About(), fmt.Sprintf("at least %v, the width of the casing", s.Casing.Width.About()))
	}
	switch {
	case c.BlockHeight == 0:
	case c.Block == nil:
		bad.Add("block_height", c.BlockHeight.About(), "nothing, because there is no block")
	case c.Block.Width > 0 && c.Block.Width <= maxHeight:
		bad.length("block_height", c.BlockHeight, c.Block.Width, maxHeight)
	}
	if bad.length("plinth_height", c.PlinthHeight, 0, maxHeight); c.PlinthHeight > 0 && c.Plinth == nil {
		bad.Add("plinth_height", c.PlinthHeight.About(), "nothing, because the style has no plinth")
	}
	if c.BackbandLap != 0 && c.Backband == nil {
		bad.Add("backband_lap", c.BackbandLap.About(), "nothing, because the style has no backband")
	} else if c.Backband != nil {
		s.validateLap(&bad)
	}
	bad.length("flat_edge", c.FlatEdge, 0, maxHeight)
	for i, r := range c.Without {
		switch r {
		case stock.RoleStool, stock.RoleApron, stock.RolePlinth, stock.RoleBackband:
		default:
			bad.Add(indexed("without", i), r.String(), "stool, apron, plinth or backband")
		}
	}
	return bad.Err()
}

// validateHead rejects members that cannot lie on the legs or on each other.
func (c CasingStyle) validateHead(s Scheme, bad *faults) {
	if bad.count("head", len(c.Head), maxHead, "members"); len(c.Head) > maxHead {
		return
	}
	if c.Joint == CasingBlock && len(c.Head) > 0 {
		bad.Add("head", fmt.Sprintf("%d members", len(c.Head)), "nothing, because the head runs between corner blocks")
	}
	var on *stock.Profile // the member on which one can be planted
	for i, m := range c.Head {
		at := indexed("head", i)
		p := m.Profile
		if p == nil {
			if p = s.Casing; p == nil {
				continue // already reported for the style
			}
		} else {
			switch p.Role {
			case stock.RoleCasing, stock.RoleFillet, stock.RoleFrieze, stock.RoleBand, stock.RoleCap, stock.RoleCrown, stock.RoleBed:
			default:
				bad.Add(at+".profile.role", p.Role.String(), "casing, fillet, frieze, band, cap, crown or bed molding")
				continue
			}
		}
		bad.length(at+".overhang", m.Overhang, 0, maxHeight)
		if !m.around() {
			on = p
			continue
		}
		if m.Overhang > 0 {
			bad.Add(at+".overhang", m.Overhang.About(), "nothing, because it goes around the member before it")
		}
		if m.Return {
			bad.Add(at+".return", "true", "nothing, because a member that goes around is returned anyway")
		}
		switch {
		case on == nil:
			bad.Add(at, p.Name, "a member before it that it goes around, such as a frieze")
		case p.Width > 0 && on.Width > 0 && p.Drop() > on.Drop():
			bad.Add(at+".profile.width", p.Width.About(), fmt.Sprintf("no higher than %s, on which it is planted: %v", on.Name, on.Drop().About()))
		}
	}
}

// validateChoice rejects openings with a style that the scheme lacks.
func (s Scheme) validateChoice(rooms []Room, bad *faults) {
	for i := range rooms {
		for k, w := range rooms[i].Walls {
			for j, o := range w.Openings {
				if o.Style != "" && !slices.ContainsFunc(s.CasingStyles, func(c CasingStyle) bool { return c.Name == o.Style }) {
					at := indexed("rooms", i) + "." + indexed("walls", k) + "." + indexed("openings", j)
					bad.Add(at+".style", o.Style, "the name of a casing style of the scheme")
				}
			}
		}
	}
}
