package takeoff

import (
	"cmp"
	"slices"

	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// A Severity is the importance of a finding.
type Severity uint8

const (
	SeverityNote    Severity = iota // worth knowing
	SeverityAdvice                  // can be built, but look at it first
	SeverityDoubt                   // a measurement is probably wrong: measure again before buying
	SeverityCaution                 // a risk of injury
)

var severityNames = [...]string{SeverityNote: "note", SeverityAdvice: "advice", SeverityDoubt: "doubt", SeverityCaution: "caution"}

// String returns "note", "advice", "doubt" or "caution".
func (s Severity) String() string {
	return kind.Text("Severity", severityNames[:], s)
}

// MarshalText writes the name; an unknown value is a *measure.FieldError.
func (s Severity) MarshalText() ([]byte, error) {
	return kind.Marshal("Severity", "a severity", severityNames[:], s)
}

// UnmarshalText reads the name; any other text is a *measure.FieldError.
func (s *Severity) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a severity", severityNames[:], text, s)
}

// A FindingCode is the subject of a finding. Later versions may add codes: go by the
// Severity and the Reason of a finding with an unknown one.
type FindingCode string

const (
	FindingClosure    FindingCode = "closure"        // how well the walls of a closed room close; Length is the error
	FindingAngleSum   FindingCode = "angle sum"      // the corners do not turn once around; Angle is the difference
	FindingOpposite   FindingCode = "opposite walls" // two opposite walls differ; Length is the difference
	FindingMissedInch FindingCode = "missed inch"    // a reading is off by one inch
	FindingMissedFoot FindingCode = "missed foot"    // a reading is off by one foot

	// The same slips of a metric tape, which is held at the 100 mm mark.
	FindingMissedDecimeter FindingCode = "missed decimeter" // a reading is off by 100 mm
	FindingMissedMeter     FindingCode = "missed meter"     // a reading is off by one meter

	FindingTopBottom     FindingCode = "top and bottom" // a wall differs at floor and ceiling; Length is the difference
	FindingCasingFit     FindingCode = "casing fit"     // a casing does not fit beside a corner or another; Length is the excess width
	FindingOpeningFit    FindingCode = "opening fit"    // an opening is higher than the room; Length is the excess
	FindingSliver        FindingCode = "sliver"         // a piece of wall is too narrow for its trim, or (a Doubt) a passage for the trim on both sides or a wall for the miter of a sharp corner; Length is its width
	FindingThickBase     FindingCode = "thick base"     // base projects beyond the casing into which it dies; Length is the excess
	FindingShortReturn   FindingCode = "short return"   // a return, or a segment around a curve, is too short to hold; Length is its length, or that of the shortest segment
	FindingHighCrown     FindingCode = "high crown"     // the crown reaches below the top of an opening's casing
	FindingSpliceSeen    FindingCode = "splice seen"    // a splice is in a stretch to be kept clear
	FindingCeilingAngle  FindingCode = "ceiling angle"  // the spring of crown is probably the angle to the ceiling; Angle is the probable spring
	FindingOutOfLevel    FindingCode = "out of level"   // a wall is higher at one end; Length is the difference
	FindingOutOfSquare   FindingCode = "out of square"  // a room, or an opening top and bottom or left and right; Length is the difference, Angle the corner farthest off, if known
	FindingCornerReading FindingCode = "corner reading" // readings of floor or ceiling on two walls differ in their corner; Length is the difference
	FindingHeightReading FindingCode = "height reading" // readings of floor and ceiling do not add up to the height of a wall; Length is the difference
	FindingFloorLevel    FindingCode = "floor level"    // the floor is out of level; Length is the deviation
	FindingBaseHeight    FindingCode = "base height"    // base is not sold high enough to be scribed; Length is the missing height
	FindingShoeGap       FindingCode = "shoe gap"       // shoe does not cover the gap below base that is set level; Length is the gap
	FindingCeilingLevel  FindingCode = "ceiling level"  // the ceiling is out of level; Length is the deviation
	FindingUnevenLegs    FindingCode = "uneven legs"    // the floor is lower at one jamb of a door; Length is the difference
	FindingProudJamb     FindingCode = "proud jamb"     // a jamb projects beyond the wall; Length is the excess
	FindingJambDepth     FindingCode = "jamb depth"     // the depth of the wall varies around an opening; Length is the difference
	FindingJambTwist     FindingCode = "jamb twist"     // the wall around an opening is not in one plane; Length is the twist
	FindingJambBow       FindingCode = "jamb bow"       // the wall is bowed beside an opening; Length is the bow
	FindingThinRip       FindingCode = "thin rip"       // a jamb extension is too narrow; Length is its width
	FindingStoolWidth    FindingCode = "stool width"    // a stool is too narrow for its window; Length is the missing width
	FindingPaintLine     FindingCode = "paint line"     // base does not cover the old paint; Length is the height that shows
	FindingWetSwelling   FindingCode = "wet swelling"   // a material that swells in a wet room; Length is the swelling in thickness, if known
	FindingProportion    FindingCode = "proportion"     // trim is out of proportion to the other trim; Length is the difference
	FindingDevice        FindingCode = "device"         // paneling was divided or moved so that a plate is clear, or (an Advice) a plate lies on it; Length is the width of the field, the move or the overlap
	FindingNarrowPanel   FindingCode = "narrow panel"   // fields of paneling are less than half as wide as those beside them; Length is their width
	FindingCornerStile   FindingCode = "corner stile"   // the width to which stiles in a corner are ripped; Length is that of the left one, Angle the bevel of their edges; or (a Doubt) their stock is too narrow and Length is the missing width
	FindingRailStool     FindingCode = "rail at stool"  // a rail or cap is neither at the height of a stool nor 2 in away; Length is the distance
	FindingUnpaneled     FindingCode = "unpaneled"      // a curved wall, one along a stair, or the area below a window whose sill was not measured, gets no paneling
	FindingPanelFloat    FindingCode = "panel float"    // solid panels have too little room to swell; Length is the necessary room, if known
	FindingWoodRules     FindingCode = "wood rules"     // stone or tile is specified like wood
	FindingTransport     FindingCode = "transport"      // a stick is longer than its transport allows; Length is the excess
	FindingOpenJoints    FindingCode = "open joints"    // joints will open or press as the trim moves; Length is the movement of the longest run
	FindingDiagonalFit   FindingCode = "diagonal fit"   // a diagonal does not agree with the walls; Length is the difference
	FindingSwappedDigits FindingCode = "swapped digits" // two digits of a reading are exchanged; Length is the error this causes
	FindingWrongSide     FindingCode = "wrong side"     // a fraction is read to the wrong side of an inch mark; Length is the error this causes
	FindingWrongFraction FindingCode = "wrong fraction" // eighths are counted as sixteenths or the reverse; Length is the error this causes
	FindingWeakCheck     FindingCode = "weak check"     // a missed inch, or 100 mm, in Suspects would not be found; Length is the least error that would be
	FindingTrimFit       FindingCode = "trim fit"       // the room is too low for base, a rail or crown; Length is the excess
	FindingRailFit       FindingCode = "rail fit"       // the trim of an opening ends within the height of a picture rail; Length is the overlap
	FindingWideBlock     FindingCode = "wide block"     // a corner block is wider than the casing, which makes legs and head shorter; Length is the difference
	FindingWideLap       FindingCode = "wide lap"       // the lip of a rabbeted backband is wider than the flat on which it lies; Length is the excess
	FindingThinHead      FindingCode = "thin head"      // a member of a head, a block or a cap covers the one below it only partly; Length is the width that shows
	FindingCurveFit      FindingCode = "curve fit"      // a curved wall and its arc differ in length; Length is the difference
	FindingCurvedHead    FindingCode = "curved head"    // a straight head of casing on a curved wall; Length is the gap at its middle or its ends
	FindingMidWall       FindingCode = "mid-wall"       // new trim continues other trim in mid-wall; Length is their greatest difference
	FindingTightCurve    FindingCode = "tight curve"    // flexible molding around less than its least radius; Length is that, if known
	FindingRigidTrim     FindingCode = "rigid trim"     // trim that should bend in one piece has a profile that is not in Scheme.Flexible; Length is the radius
	FindingLooseEdge     FindingCode = "loose edge"     // an edge of crown or bed molding has no support; Length is its distance from the support, if known
	FindingThinBacking   FindingCode = "thin backing"   // backing cannot be ripped from its stock in one piece; Length is the missing thickness
	FindingStairFit      FindingCode = "stair fit"      // trim does not suit a stair, or the stair does not suit its wall; Length is the excess, or the length of wall that belongs to the upper floor, Angle a cut that is too steep
	FindingRake          FindingCode = "rake"           // crown cannot turn from level to a rake with one profile; Length is the mismatch of its edges, Angle the slope
	FindingRoofPitch     FindingCode = "roof pitch"     // a pitch and the heights of its wall do not agree; Length is the difference, Angle the slope by the heights
)

// findingOrder is the order of the findings of a room.
var findingOrder = []FindingCode{
	FindingClosure, FindingAngleSum, FindingOpposite, FindingMissedInch,
	FindingMissedFoot, FindingMissedDecimeter, FindingMissedMeter, FindingTopBottom,
	FindingCasingFit, FindingOpeningFit, FindingSliver, FindingThickBase,
	FindingShortReturn, FindingHighCrown, FindingSpliceSeen, FindingCeilingAngle,
	FindingOutOfLevel, FindingOutOfSquare,
	FindingCornerReading, FindingHeightReading, FindingFloorLevel, FindingBaseHeight, FindingShoeGap, FindingCeilingLevel, FindingUnevenLegs,
	FindingProudJamb, FindingJambDepth, FindingJambTwist, FindingJambBow, FindingThinRip, FindingStoolWidth,
	FindingPaintLine, FindingWetSwelling,
	FindingProportion,
	FindingDevice, FindingNarrowPanel, FindingCornerStile, FindingRailStool, FindingUnpaneled, FindingPanelFloat,
	FindingWoodRules, FindingTransport, FindingOpenJoints,
	FindingDiagonalFit, FindingSwappedDigits, FindingWrongSide, FindingWrongFraction,
	FindingWeakCheck, FindingTrimFit, FindingRailFit, FindingWideBlock,
	FindingWideLap, FindingThinHead, FindingCurveFit, FindingCurvedHead,
	FindingMidWall, FindingTightCurve, FindingRigidTrim, FindingLooseEdge, FindingThinBacking,
	FindingStairFit, FindingRake, FindingRoofPitch,
}

// byCode compares two findings of one room by their codes.
func byCode(a, b Finding) int {
	return cmp.Compare(slices.Index(findingOrder, a.Code), slices.Index(findingOrder, b.Code))
}

// A Finding reports a measurement or a choice of trim that is possible but worth a look. It is
// not an error.
type Finding struct {
	Code     FindingCode `json:"code"`           // its subject
	Severity Severity    `json:"severity"`       // its importance
	Room     string      `json:"room,omitempty"` // may be empty
	Wall     string      `json:"wall,omitempty"` // may be empty
	Reason   string      `json:"reason"`         // one sentence for people

	Length measure.Length `json:"length,omitzero"` // see FindingCode
	Angle  measure.Angle  `json:"angle,omitzero"`

	// Instead is the reading of Wall without the slip; zero if several walls explain the
	// finding.
	Instead measure.Length `json:"instead,omitzero"`

	// East and South are the closing error of a FindingClosure, as in Traverse: the end of the
	// last wall relative to the start of the first.
	East  measure.Length `json:"east,omitzero"`
	South measure.Length `json:"south,omitzero"`

	// Suspects are the walls and diagonals whose length would explain the finding, most
	// likely first. Wall is the first if it alone is the most likely.
	Suspects []string `json:"suspects,omitempty"`
}

func (t *taker) note(f Finding) { t.list.Findings = append(t.list.Findings, f) }
