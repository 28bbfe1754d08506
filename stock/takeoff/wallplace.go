package takeoff

import (
	"cmp"
	"math"
	"slices"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A WallPlace is the position of a wall, with unmeasured values filled in as Take does: the
// input for a picture of the room.
type WallPlace struct {
	// East and South are the position of its left end relative to that of the first wall, and
	// Heading the direction to its right end, clockwise from east. East is the direction of
	// Traverse.Reference or, in a room that is not closed, that of the first wall of each
	// chain. Length is that of the wall at the floor, along the arc for a curved one; Chord is
	// straight from end to end.
	East    measure.Length `json:"east"`
	South   measure.Length `json:"south"`
	Heading measure.Angle  `json:"heading"`
	Length  measure.Length `json:"length"`
	Chord   measure.Length `json:"chord"`

	// Apart is set if the wall does not join the wall before: a new chain begins at zero.
	Apart bool `json:"apart,omitempty"`

	// HeightLeft and HeightRight are the heights from floor to ceiling at the two ends, zero if
	// unknown.
	HeightLeft  measure.Length `json:"height_left,omitzero"`
	HeightRight measure.Length `json:"height_right,omitzero"`

	// Studs are the middles of the studs, ascending, at most 1000 of them. StudsAssumed is set
	// if the layout is assumed.
	Studs        []measure.Length `json:"studs,omitempty"`
	StudsAssumed bool             `json:"studs_assumed,omitempty"`

	// Openings are those of the wall from left to right, with Height, TopWidth, RightHeight and
	// Reveal filled in.
	Openings []Opening `json:"openings,omitempty"`
}

// mostStuds limits WallPlace.Studs: those of 1,300 ft at 16 in.
const mostStuds = 1000

// Places returns the position of each wall, as measured: a room that does not close ends off
// its start by East and South of its Traverse.
//
// The error joins a *measure.FieldError for each field that Take would reject.
func (r Room) Places() ([]WallPlace, error) {
	if err := cmp.Or(r.size(), r.validate(Scheme{})); err != nil {
		return nil, err
	}
	chords := r.chords()
	walk := chords.walk()
	hs := chords.headings(walk.Turn)
	turned := measure.Angle(0) // of the heading that is called east
	if walk.Closed {
		turned = hs[chords.reference(hs)]
	}
	arcs := along([]Room{r})[0]
	out := make([]WallPlace, len(r.Walls))
	var east, south measure.Length
	const full = 2 * halfTurn
	for i := range r.Walls {
		p := &out[i]
		if i > 0 && !r.Walls[i-1].Corner.joined() {
			p.Apart, turned, east, south = true, hs[i], 0, 0
		}
		p.East, p.South, p.Heading = east, south, (hs[i]-turned+full)%full
		p.Length, p.Chord = arcs.Walls[i].Length, chords.Walls[i].Length
		dx, dy := direction(p.Heading)
		east += measure.Length(math.RoundToEven(float64(dx * float64(p.Chord))))
		south += measure.Length(math.RoundToEven(float64(dy * float64(p.Chord))))
		p.HeightLeft, p.HeightRight = arcs.heights(i)
		studs := r.Walls[i].Studs
		if studs.isZero() {
			studs = r.Studs
		}
		p.StudsAssumed = studs.isZero()
		p.Studs = studs.middles(0, min(p.Length, measure.Length(mostStuds)*studs.spacing()))
		p.Studs = slices.Clone(p.Studs[:min(len(p.Studs), mostStuds)])
		for _, k := range r.Walls[i].fromLeft() {
			o := r.Walls[i].Openings[k]
			o.Name = r.Walls[i].openingName(k)
			o.Height, o.TopWidth, o.RightHeight, o.Reveal = o.height(), o.topWidth(), o.rightHeight(), o.reveal()
			p.Openings = append(p.Openings, o)
		}
	}
	return out, nil
}

// Profiles returns all profiles of the scheme, each with its Role: of the trim around rooms,
// then around openings, then of paneling and assemblies. Flexible ones and those of casing
// styles come last.
func (s Scheme) Profiles() []stock.Profile {
	var out []stock.Profile
	for _, f := range append(s.named(), s.ofStyles()...) {
		if f.p == nil {
			continue
		}
		p := *f.p
		p.Role = f.role
		out = append(out, p)
	}
	return append(out, s.Flexible...)
}
