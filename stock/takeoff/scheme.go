package takeoff

import (
	"cmp"
	"fmt"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/scribe"
)

// A Scheme is the trim that is run in the rooms. A nil profile is not run. The Role of a
// profile follows from its place here. Trim for only some of the rooms, such as tile base in
// one and oak base in the other, is an [Assembly] of one member, whose profile has its Role. In
// JSON a zero with a default is an error.
type Scheme struct {
	Base        *stock.Profile `json:"base,omitempty"`
	Shoe        *stock.Profile `json:"shoe,omitempty"`
	ChairRail   *stock.Profile `json:"chair_rail,omitempty"`
	PictureRail *stock.Profile `json:"picture_rail,omitempty"`
	Casing      *stock.Profile `json:"casing,omitempty"`
	Crown       *stock.Profile `json:"crown,omitempty"`

	// Skirt is the board beside the steps of each Stair, its lower edge on their inner corners.
	Skirt *stock.Profile `json:"skirt,omitempty"`

	// Extension brings the jambs of openings with Depths out to the wall. Its pieces are cut
	// from the strips in List.Strips.
	Extension *ExtensionStock `json:"extension,omitempty"`

	// Stool and Apron are the inner sill of a cased window and the trim below it; the casing
	// then stands on the stool, with none below. Plinth is a block at the foot of each leg of a
	// door's casing, its inner edge flush with that of the leg. Backband goes around the outer
	// edge of every casing, butted to it or, rabbeted, over it by BackbandLap.
	Stool    *stock.Profile `json:"stool,omitempty"`
	Apron    *stock.Profile `json:"apron,omitempty"`
	Plinth   *stock.Profile `json:"plinth,omitempty"`
	Backband *stock.Profile `json:"backband,omitempty"`

	// BackbandLap is the overlap of a rabbeted backband on the casing: less than the width of
	// the backband and at most that of the casing. Zero means that it is butted to the edge.
	BackbandLap measure.Length `json:"backband_lap,omitzero"`

	// ThickEnd is the way in which base and rails end at a thinner casing or plinth:
	// MeetSquare, MeetChamfer or MeetReturn. Block stands between two trims if a Stretch says
	// so; it is cut to the height of the taller one plus a reveal.
	ThickEnd Meet           `json:"thick_end,omitzero"`
	Block    *stock.Profile `json:"block,omitempty"`

	// Flexible are the profiles that bend around curved walls, by Role: each replaces the rigid
	// profile of the same section; see Curve. Without one the rigid profile is bent, which Take
	// reports as a FindingRigidTrim.
	Flexible []stock.Profile `json:"flexible,omitempty"`

	// PlinthHeight is the height of a plinth; zero means 1 in more than the base, or 6 in
	// without one (common practice, no source).
	PlinthHeight measure.Length `json:"plinth_height,omitzero" zero:"a height, or nothing for 1in more than the base"`

	// CasingStyles are alternatives to mitered casing. An opening gets the one that it names,
	// or else the first for its kind.
	CasingStyles []CasingStyle `json:"casing_styles,omitempty"`

	// Wainscot is paneling on the walls; nil if there is none.
	Wainscot *Wainscot `json:"wainscot,omitempty"`

	// ChairRailAt and PictureRailAt are the heights of the lower edges above the floor. The
	// first must be at least the top of the base, the second the top of the trim below; zero
	// means 32 in and 84 in (common practice, no source).
	ChairRailAt   measure.Length `json:"chair_rail_at,omitzero" zero:"a height, or nothing for 32in"`
	PictureRailAt measure.Length `json:"picture_rail_at,omitzero" zero:"a height, or nothing for 84in"`

	// Assemblies are built up of several members. Each profile above is an assembly of one
	// member, Base and Shoe together one of two.
	Assemblies []Assembly `json:"assemblies,omitempty"`
}

// Options are the habits of the carpenter. A nil *Options means the zero value. In JSON a zero
// with a default is an error.
type Options struct {
	// Bevel is the scarf's bevel from square; zero means 45° ("Splicing Molding",
	// This Old House). 30° is published too ("Splicing Baseboards", Fine Homebuilding).
	Bevel measure.Angle `json:"bevel,omitzero" zero:"more than 0deg, or nothing for 45deg"`

	// Clear is the distance between a splice and the ends of its run; zero means 24 in. MinPart
	// is the shortest part of a spliced run; zero means 16 in, one stud bay. Trim that is
	// spliced square, such as stone, comes in strips and needs no stud: for a ButtSpliced
	// profile zero means no clearance, and half the longest strip. All of it is common practice
	// without a source. Neither applies to strips with a StripJoint, which are laid out as a
	// Tiling.
	Clear   measure.Length `json:"clear,omitzero" zero:"a length (1/128in for next to none), or nothing for 24in"`
	MinPart measure.Length `json:"min_part,omitzero" zero:"a length (1/128in for next to none), or nothing for 16in"`

	// Scribe is the extra length of an end that will be scribed; zero means 1/4 in.
	Scribe measure.Length `json:"scribe,omitzero" zero:"a length (1/128in for next to none), or nothing for 1/4in"`

	// FloorGap is the gap under the legs of door casing for flooring that follows; zero means
	// none.
	FloorGap measure.Length `json:"floor_gap,omitzero"`

	// Horn is the extent of a stool beyond the casing at either side; zero means 3/4 in (common
	// practice, no source). ReturnApron returns the ends of the apron to the wall; otherwise
	// they are square.
	Horn        measure.Length `json:"horn,omitzero" zero:"a length (1/128in for next to none), or nothing for 3/4in"`
	ReturnApron bool           `json:"return_apron,omitempty"`

	// Chamfer is the angle to the face at which trim is chamfered down to thinner trim; zero
	// means 45°. MeetReveal is the projection of a block beyond the trim at it, and the
	// distance of returned trim from a casing; zero means 1/8 in. Both are common practice, no
	// source.
	Chamfer    measure.Angle  `json:"chamfer,omitzero" zero:"more than 0deg, or nothing for 45deg"`
	MeetReveal measure.Length `json:"meet_reveal,omitzero" zero:"a length (1/128in for next to none), or nothing for 1/8in"`

	// Sight is the width of a stretch without splices on the wall opposite the entry's door,
	// which people face as they come in; zero for none. It is known only for rooms with square
	// corners; elsewhere use Wall.KeepClear. LapFromEntry laps each scarf so that the part
	// nearer to the entry lies over the other; otherwise the left one does.
	Sight        measure.Length `json:"sight,omitzero"`
	LapFromEntry bool           `json:"lap_from_entry,omitempty"`

	// Fit is the change of the cut length from the measured length, so that pieces fit now and
	// later, by the material of the profile in Catalog. Nil cuts to the measured length. A nil
	// Catalog is stock.GenericCatalog. Casing is not changed. The material also identifies
	// stone and tile: they are butted in inside corners and spliced square even if the profile
	// says otherwise.
	Fit     *stock.Fit     `json:"fit,omitempty"`
	Catalog *stock.Catalog `json:"catalog,omitempty"`

	// MovementJoint is the least width of a joint where stone or tile with a StripJoint changes
	// plane or meets another material, filled with sealant; zero means 1/8 in (Floor Trends on
	// EJ171: as wide as the grout joint but at least that).
	MovementJoint measure.Length `json:"movement_joint,omitzero" zero:"a length (1/128in for next to none), or nothing for 1/8in"`

	// Floor is the way in which base meets a floor that is out of level, and Ceiling the way in
	// which crown meets such a ceiling, on walls with readings. By default, base is scribed so
	// that its top is level, and crown follows the ceiling. Trim that follows is cut to the
	// length of the wall.
	Floor   scribe.FloorFit   `json:"floor,omitzero"`
	Ceiling scribe.CeilingFit `json:"ceiling,omitzero"`

	// StraightCut is the greatest gap between one straight cut along the foot of base and the
	// floor; zero means 1/16 in (common practice, no source), and ExactCut means none.
	// MinBase is the minimum height of scribed base; zero means three quarters of its height
	// (common practice, no source).
	StraightCut measure.Length `json:"straight_cut,omitzero" zero:"\"exact_cut\": true for none, or nothing for 1/16in"`
	ExactCut    bool           `json:"exact_cut,omitempty"`
	MinBase     measure.Length `json:"min_base,omitzero" zero:"a height, or nothing for three quarters of the base"`

	// Locale is the format of findings, names of allowances and notes of pieces. It changes no
	// numbers except those in notes, which are to the nearest 1/32 in or 1/2 mm.
	Locale measure.Locale `json:"locale,omitzero"`
}

// plinthHeight returns the height of a plinth with its default filled in.
func (s Scheme) plinthHeight() measure.Length {
	switch {
	case s.PlinthHeight != 0:
		return s.PlinthHeight
	}
	top := measure.Length(0) // of the trim on the floor, as in foot
	if s.Base != nil {
		top = s.Base.Width
	}
	for _, a := range s.Assemblies {
		for k := range a.Members {
			if m := &a.Members[k]; !a.FromCeiling && a.At == 0 && m.Profile.Role != stock.RoleShoe {
				top = max(top, m.At+m.Profile.Drop())
			}
		}
	}
	if top > 0 {
		return top + measure.Inch
	}
	return 6 * measure.Inch
}

const (
	usualChairRail   = 32 * measure.Inch
	usualPictureRail = 84 * measure.Inch
)

// named returns the profiles of the scheme by their JSON names, nil if there is none.
func (s Scheme) named() []namedProfile {
	return append(s.Extension.named(), append([]namedProfile{
		{"base", s.Base, stock.RoleBase}, {"shoe", s.Shoe, stock.RoleShoe}, {"chair_rail", s.ChairRail, stock.RoleChairRail},
		{"picture_rail", s.PictureRail, stock.RolePictureRail}, {"casing", s.Casing, stock.RoleCasing}, {"crown", s.Crown, stock.RoleCrown},
		{"skirt", s.Skirt, stock.RoleSkirt},
		{"stool", s.Stool, stock.RoleStool}, {"apron", s.Apron, stock.RoleApron}, {"plinth", s.Plinth, stock.RolePlinth},
		{"backband", s.Backband, stock.RoleBackband}, {"block", s.Block, stock.RoleBlock},
	}, append(s.Wainscot.named(), s.members()...)...)...)
}

type namedProfile struct {
	field string
	p     *stock.Profile
	role  stock.Role
}

// validate returns every fault of the scheme, joined.
func (s Scheme) validate() error {
	var bad faults
	for _, f := range s.named() {
		if f.p != nil {
			bad.Under(f.field, f.p.Validate())
		}
	}
	s.validateLap(&bad)
	s.validateFlexible(&bad)
	s.validateMeet(&bad)
	bad.Under("extension", s.Extension.validate())
	bad.length("plinth_height", s.PlinthHeight, 0, maxHeight)
	s.validateRails(&bad)
	s.validateStyles(&bad)
	s.validateAssemblies(&bad)
	bad.Under("wainscot", s.validateWainscot())
	return bad.Err()
}

func (s Scheme) validateLap(bad *faults) {
	switch {
	case s.BackbandLap == 0:
	case s.Backband == nil || s.Casing == nil:
		bad.Add("backband_lap", s.BackbandLap.About(), "nothing, because no backband goes around a casing")
	case s.Backband.Width > 0 && s.Casing.Width > 0:
		bad.length("backband_lap", s.BackbandLap, 0, min(s.Backband.Width-1, s.Casing.Width))
	}
}

// validateRails rejects invalid heights of rails, and rails that overlap the trim below them.
func (s Scheme) validateRails(bad *faults) {
	var top measure.Length
	below := "the floor"
	stack := func(p *stock.Profile, at measure.Length) { // an invalid width is already a fault
		if w := p.Width; w > 0 && w <= maxHeight && at >= 0 && at <= maxHeight {
			top, below = at+w, p.Name
		}
	}
	if s.Base != nil {
		stack(s.Base, 0)
		below = "the base " + s.Base.Name
	}
	for _, rail := range []struct {
		field     string
		p         *stock.Profile
		at, usual measure.Length
	}{{"chair_rail_at", s.ChairRail, s.ChairRailAt, usualChairRail}, {"picture_rail_at", s.PictureRail, s.PictureRailAt, usualPictureRail}} {
		bad.length(rail.field, rail.at, 0, maxHeight)
		if rail.p == nil {
			continue
		}
		at := cmp.Or(rail.at, rail.usual)
		if at >= 0 && at < top {
			bad.Add(rail.field, at.About(), fmt.Sprintf("at least %v, where %s ends", top.About(), below))
		}
		stack(rail.p, at)
	}
}

// validateMaterials rejects unknown materials if there is a fit.
func (s Scheme) validateMaterials(o Options, bad *faults) {
	if o.Fit == nil {
		return
	}
	for _, f := range s.named() {
		if f.p == nil || f.p.Material == "" || !runs(f.role) {
			continue // casing and its parts are not changed
		}
		if _, known := o.Catalog.Material(f.p.Material); !known {
			bad.Add(f.field+".material", f.p.Material, "a material of the catalog")
		}
	}
}

// validateFeet rejects plinths, or a gap at the floor, that leave nothing of a leg.
func (s Scheme) validateFeet(rooms []Room, o Options, bad *faults) {
	low := make([]measure.Length, 1+len(s.CasingStyles)) // the lowest leg without a style, and of each
	for i := range rooms {
		for _, w := range rooms[i].Walls {
			for _, op := range w.Openings {
				k := 1 + s.pick(op)
				if h := min(op.height(), op.rightHeight()); op.cased(s.at(op)) && op.Kind != OpeningWindow && h > 0 && (low[k] == 0 || h < low[k]) {
					low[k] = h
				}
			}
		}
	}
	gap := false // already reported
	for k, low := range low {
		at, path := s, "plinth_height"
		if k > 0 {
			at = s.styled(k - 1)
			if s.CasingStyles[k-1].Plinth != nil {
				path = indexed("casing_styles", k-1) + ".plinth_height"
			}
		}
		switch {
		case low == 0 || at.PlinthHeight < 0 || o.FloorGap < 0:
		case at.Plinth == nil && o.FloorGap >= low:
			if !gap {
				bad.Add("floor_gap", o.FloorGap.About(), fmt.Sprintf("less than %v, the height of the lowest opening", low.About()))
			}
			gap = true
		case at.Plinth != nil && (at.plinthHeight() >= low || o.FloorGap >= at.plinthHeight()):
			bad.Add(path, at.plinthHeight().About(), fmt.Sprintf("less than %v, the height of the lowest opening, and more than the floor gap", low.About()))
		}
	}
}

// filled returns the options with all defaults filled in, or all faults joined.
func (o *Options) filled() (Options, error) {
	var v Options
	if o != nil {
		v = *o
	}
	var bad faults
	if v.Bevel < 0 || v.Bevel >= 90*measure.Degree {
		bad.Add("bevel", v.Bevel.String(), "more than 0° and less than 90°, or zero for 45°")
	}
	v.validateMeet(&bad)
	bad.length("clear", v.Clear, 0, maxHeight)
	bad.length("min_part", v.MinPart, 0, maxHeight)
	bad.length("scribe", v.Scribe, 0, maxHeight)
	bad.length("floor_gap", v.FloorGap, 0, maxHeight)
	bad.length("horn", v.Horn, 0, maxHeight)
	bad.length("sight", v.Sight, 0, maxHeight)
	if v.Fit != nil {
		bad.Under("fit", v.Fit.Validate())
	}
	if v.Catalog != nil {
		bad.Under("catalog", v.Catalog.Validate())
	} else {
		generic := stock.GenericCatalog()
		v.Catalog = &generic
	}
	bad.length("movement_joint", v.MovementJoint, 0, maxHeight)
	v.fillFloor(&bad)
	bad.Under("locale", v.Locale.Validate())
	setDefault(&v.Bevel, 45*measure.Degree)
	setDefault(&v.Scribe, measure.Inch/4)
	setDefault(&v.Horn, 3*measure.Inch/4)
	setDefault(&v.MovementJoint, measure.Inch/8)
	return v, bad.Err()
}

func setDefault[T comparable](v *T, usual T) {
	var zero T
	if *v == zero {
		*v = usual
	}
}

// UnmarshalJSON reads an object by the names of the fields. A zero with a default is a
// *measure.FieldError.
func (s *Scheme) UnmarshalJSON(data []byte) error {
	type plain Scheme
	return fault.Unmarshal(data, (*plain)(s))
}

// UnmarshalJSON reads an object by the names of the fields. A zero with a default is a
// *measure.FieldError.
func (o *Options) UnmarshalJSON(data []byte) error {
	type plain Options
	return fault.Unmarshal(data, (*plain)(o))
}
