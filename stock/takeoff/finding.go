package takeoff

import "example.com/longpoint/measure"

// Severity says how much a finding matters.
type Severity uint8

const (
	Note    Severity = iota // worth knowing
	Advice                  // can be built, but look at it first
	Doubt                   // a measurement is probably wrong: measure again before buying
	Caution                 // somebody may be hurt
)

var severityNames = [...]string{Note: "note", Advice: "advice", Doubt: "doubt", Caution: "caution"}

// String returns "note", "advice", "doubt" or "caution".
func (s Severity) String() string {
	return nameOr("Severity", severityNames[:], uint8(s))
}

// MarshalText writes the name; an unknown value is a *stock.FieldError.
func (s Severity) MarshalText() ([]byte, error) {
	return marshalName("severity", severityNames[:], uint8(s))
}

// UnmarshalText reads the name; any other text is a *stock.FieldError.
func (s *Severity) UnmarshalText(text []byte) error {
	x, err := unmarshalName("severity", severityNames[:], text)
	if err == nil {
		*s = Severity(x)
	}
	return err
}

// FindingKind is what a finding is about.
type FindingKind uint8

const (
	Closure       FindingKind = iota // how well the walls of a closed room close; Length is the error
	AngleSum                         // the corners do not turn once around; Angle is the difference
	Opposite                         // two opposite walls differ; Length is the difference
	MissedInch                       // a reading is off by one inch
	MissedFoot                       // a reading is off by one foot
	TopBottom                        // a wall differs at floor and ceiling; Length is the difference
	CasingFit                        // a casing does not fit beside a corner or another; Length is what lacks
	OpeningFit                       // an opening is higher than the room; Length is what lacks
	Sliver                           // a piece of wall is too narrow for its trim, or (a Doubt) a passage for what is on both sides or a wall for the miter of a sharp corner; Length is its width
	ThickBase                        // base stands out beyond the casing it dies into; Length is by how much
	ShortReturn                      // a return is too short to hold; Length is its length
	HighCrown                        // the crown reaches below the top of an opening's casing
	SpliceSeen                       // a splice has to be where it should not
	CeilingAngle                     // the spring of crown is probably the angle to the ceiling; Angle is what it should be
	OutOfLevel                       // a wall is higher at one end; Length is the difference
	OutOfSquare                      // a room, or an opening top and bottom or left and right; Length is the difference, Angle the corner farthest off, if known
	PaintLine                        // base does not cover the old paint; Length is what shows
	WetSwelling                      // a material that swells in a wet room; Length is what its thickness may gain, if known
	Proportion                       // trim is out of proportion to the other trim; Length is the difference
	WoodRules                        // stone or tile is to be treated like wood
	Vehicle                          // a stick is longer than what it is carried in; Length is by how much
	OpenJoints                       // joints will open or press as the trim moves; Length is how much the longest run moves
	DiagonalFit                      // a diagonal is not what the walls make it; Length is the difference
	SwappedDigits                    // two digits of a reading are exchanged; Length is what that makes
	WrongSide                        // a fraction is read to the wrong side of an inch mark; Length is what that makes
	WrongFraction                    // eighths are counted as sixteenths or the reverse; Length is what that makes
	WeakCheck                        // a missed inch in Suspects would not be found; Length is the least error that would
	TrimFit                          // base, a rail or crown is higher than the room has place for; Length is what lacks
)

var findingNames = [...]string{
	Closure: "closure", AngleSum: "angle sum", Opposite: "opposite walls", MissedInch: "missed inch",
	MissedFoot: "missed foot", TopBottom: "top and bottom", CasingFit: "casing fit", OpeningFit: "opening fit",
	Sliver: "sliver", ThickBase: "thick base", ShortReturn: "short return", HighCrown: "high crown",
	SpliceSeen: "splice seen", CeilingAngle: "ceiling angle", OutOfLevel: "out of level", OutOfSquare: "out of square",
	PaintLine: "paint line", WetSwelling: "wet swelling", Proportion: "proportion", WoodRules: "wood rules",
	Vehicle: "vehicle", OpenJoints: "open joints", DiagonalFit: "diagonal fit",
	SwappedDigits: "swapped digits", WrongSide: "wrong side", WrongFraction: "wrong fraction", WeakCheck: "weak check", TrimFit: "trim fit",
}

// String returns the kind's name, such as "missed inch".
func (k FindingKind) String() string {
	return nameOr("FindingKind", findingNames[:], uint8(k))
}

// MarshalText writes the name; an unknown value is a *stock.FieldError.
func (k FindingKind) MarshalText() ([]byte, error) {
	return marshalName("finding", findingNames[:], uint8(k))
}

// UnmarshalText reads the name; any other text is a *stock.FieldError.
func (k *FindingKind) UnmarshalText(text []byte) error {
	x, err := unmarshalName("finding", findingNames[:], text)
	if err == nil {
		*k = FindingKind(x)
	}
	return err
}

// Finding is something that a measurement or a choice says about itself: possible,
// but worth a look. It is not an error.
type Finding struct {
	Kind     FindingKind `json:"kind"`           // what was found
	Severity Severity    `json:"severity"`       // how much it matters
	Room     string      `json:"room,omitempty"` // where; may be empty
	Wall     string      `json:"wall,omitempty"` // where; may be empty
	Reason   string      `json:"reason"`         // one sentence for a person

	Length measure.Length `json:"length,omitzero"` // see FindingKind
	Angle  measure.Angle  `json:"angle,omitzero"`

	// Instead is what the reading of Wall would be without the slip; zero where several
	// walls explain the finding.
	Instead measure.Length `json:"instead,omitzero"`

	// East and South are the closing error of a Closure, as in Traverse: where the last
	// wall ends, seen from where the first began.
	East  measure.Length `json:"east,omitzero"`
	South measure.Length `json:"south,omitzero"`

	// Suspects are the walls and diagonals whose length would explain the finding, most
	// likely first. Wall is the first where it alone is the most likely.
	Suspects []string `json:"suspects,omitempty"`
}

func (t *taker) note(f Finding) { t.list.Findings = append(t.list.Findings, f) }
