package sequence

import (
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Floor is the time at which the finish floor is laid.
type Floor uint8

const (
	FloorBeforeBase Floor = iota // wood, tile
	FloorAfterBase               // base stands on blocks as thick as the floor
	FloorAfterPaint              // carpet: base is installed high enough for it
)

var floorNames = [...]string{"before base", "after base", "after paint"}

// String returns the choice in words.
func (f Floor) String() string { return kind.Text("Floor", floorNames[:], f) }

// MarshalText writes the choice, such as "before base".
func (f Floor) MarshalText() ([]byte, error) {
	return kind.Marshal("Floor", "a choice", floorNames[:], f)
}

// UnmarshalText reads a choice; any other text is a [*measure.FieldError].
func (f *Floor) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a choice", floorNames[:], text, f)
}

// Pace is the way in which the work proceeds through the rooms.
type Pace uint8

const (
	PaceAllAtOnce  Pace = iota // each step in all rooms, then the next
	PaceRoomByRoom             // each trade finishes its work in a room before it goes on to the next
	PaceSideBySide             // as crews become free: rooms do not wait for each other
)

var paceNames = [...]string{"all at once", "room by room", "side by side"}

// String returns the choice in words.
func (p Pace) String() string { return kind.Text("Pace", paceNames[:], p) }

// MarshalText writes the choice, such as "room by room".
func (p Pace) MarshalText() ([]byte, error) { return kind.Marshal("Pace", "a choice", paceNames[:], p) }

// UnmarshalText reads a choice; any other text is a [*measure.FieldError].
func (p *Pace) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a choice", paceNames[:], text, p)
}

// Options holds the choices of the person who runs the job. The zero value is the usual
// order.
type Options struct {
	CrownAfterBase  bool  `json:"crown_after_base,omitempty"`  // crown is installed after base, not before it
	Floor           Floor `json:"floor,omitzero"`              // when the finish floor is laid, if that is one of the works
	WallsAfterTrim  bool  `json:"walls_after_trim,omitempty"`  // walls get their last coat after the trim, not before it
	CaulkAfterWalls bool  `json:"caulk_after_walls,omitempty"` // trim is caulked after the last coat on the walls, not before it
	AnyCoatFirst    bool  `json:"any_coat_first,omitempty"`    // not top down: crown, casing, base
	Pace            Pace  `json:"pace,omitzero"`               // all at once, or room by room
	OneAir          bool  `json:"one_air,omitempty"`           // dust spreads through the whole house and the racks; otherwise each room and the racks have separate air

	// Prefinish applies primer and all coats but the last on racks, before trim is
	// installed: otherwise every finishing step is done in place. Spots on preprimed trim
	// are primed in place.
	Prefinish bool `json:"prefinish,omitempty"`

	// EachProfile makes every step of every profile a separate activity. Otherwise each
	// step common to the trim of a room - filling, sanding, priming, caulking, masking,
	// coating and wiping - is one activity: Step.With lists the works done together with
	// it.
	EachProfile bool `json:"each_profile,omitempty"`

	// Site is the air in which trim settles, with which Delivery.Moisture is compared.
	Site finish.Climate `json:"site,omitzero"`

	// LongPiece is the length from which crown takes two people; 0 = 10 ft (common
	// practice, no source). It is used if Trim.Longest is known.
	LongPiece measure.Length `json:"long_piece,omitempty"`

	Skills      []StageSkill  `json:"skills,omitempty"`      // nil = DefaultSkills
	Acclimation []Acclimation `json:"acclimation,omitempty"` // nil = DefaultAcclimation

	// The labor of the works that Network adds if no work has their stage: vacuuming each
	// room before it is painted, the punch list, the final cleaning of the job.
	Dusting    measure.Duration `json:"dusting,omitempty"`
	Punch      measure.Duration `json:"punch,omitempty"`
	FinalClean measure.Duration `json:"final_clean,omitempty"`
}

// longCrown is the length from which crown takes two people.
const longCrown = 10 * measure.Foot

// or returns the options with their defaults; o may be nil.
func (o *Options) or() Options {
	var c Options
	if o != nil {
		c = *o
	}
	if c.LongPiece == 0 {
		c.LongPiece = longCrown
	}
	if c.Skills == nil {
		c.Skills = DefaultSkills()
	}
	if c.Acclimation == nil {
		c.Acclimation = DefaultAcclimation()
	}
	return c
}

func (o Options) check(bad *fault.List) {
	if int(o.Floor) >= len(floorNames) {
		bad.Add("options.floor", o.Floor, kind.OneOf("a choice", floorNames[:]))
	}
	if int(o.Pace) >= len(paceNames) {
		bad.Add("options.pace", o.Pace, kind.OneOf("a choice", paceNames[:]))
	}
	if o.CaulkAfterWalls && o.WallsAfterTrim {
		bad.Add("options.caulk_after_walls", true, "false if walls are painted after the trim: caulk goes under its paint")
	}
	if o.LongPiece < 0 {
		bad.Add("options.long_piece", o.LongPiece.About(), "zero or more")
	}
	if o.Site.Humidity < 0 || o.Site.Humidity > 100*measure.Percent {
		bad.Add("options.site.humidity", o.Site.Humidity, "0% to 100%")
	}
	for i, s := range o.Skills {
		if _, ok := placeOf(s.Stage); !ok {
			bad.Add("options.skills["+strconv.Itoa(i)+"].stage", s.Stage, "a stage of a job")
		}
	}
	for i, a := range o.Acclimation {
		if a.Lag < 0 {
			bad.Add("options.acclimation["+strconv.Itoa(i)+"].lag", a.Lag, "zero or more")
		}
	}
	for _, d := range [...]struct {
		field string
		labor measure.Duration
	}{{"dusting", o.Dusting}, {"punch", o.Punch}, {"final_clean", o.FinalClean}} {
		if d.labor < 0 {
			bad.Add("options."+d.field, d.labor, "zero or more")
		}
	}
}

// Job is the work of a job.
type Job struct {
	Work       []Work     `json:"work"`                 // with rooms in the order of work
	Deliveries []Delivery `json:"deliveries,omitempty"` // trim without one is assumed to be on site and settled
	Others     []Other    `json:"others,omitempty"`     // activities of any kind
}

// Other is an activity that has no stage: an inspection, a visit, work of other trades.
type Other struct {
	Activity schedule.Activity `json:"activity"`         // its After may name milestones, activities of works, deliveries and others
	Before   []string          `json:"before,omitempty"` // names of successors, of the same kinds
}
