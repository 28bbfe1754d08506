package labor

import (
	"example.com/longpoint/finish"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// An Event is a countable unit of work that takes time: a foot of trim, a piece, a joint, a
// side of an opening.
type Event uint8

// Events up to EventJoint are counted for every task, with the counts of the finishing
// list. Those up to EventPanel are counted only for trim that is installed or set. The rest
// are set-up and clean-up, to which no factor applies, counted once per room.
const (
	EventLength       Event = iota // of trim, from the takeoff if it is installed; of edges for caulk and tape, of all coats
	EventArea                      // of the surface, of all coats; of panels and sheets
	EventCount                     // of nails, holes, glued or grouted joints
	EventJoint                     // a joint or corner that takes extra work, in every coat; for installed trim only without a takeoff
	EventPiece                     // cut, carried and fastened; without the small pieces that close returns
	EventCope                      // an end coped over another
	EventInsideMiter               // both ends of an inside corner
	EventOutsideMiter              // both ends of an outside corner
	EventFlatMiter                 // across the face, as for casing
	EventRakeMiter                 // between two slopes
	EventScarf                     // a splice on a slant
	EventReturn                    // an end returned to the wall, with its small piece
	EventButt                      // a square joint between two pieces
	EventStop                      // an end that dies into another surface
	EventScribedEnd                // an end fitted to a surface that is not straight
	EventScribe                    // length along which an edge is fitted to a floor or a wall
	EventCourseJoint               // an upright joint between strips of stone or tile
	EventSide                      // a side of a door or a window that is cased
	EventBend                      // a stretch around a curve
	EventNotch                     // around a register or an outlet
	EventStep                      // a step of a stair along a skirt, with the riser running past it
	EventMiteredStep               // a step of a stair whose risers are mitered to the skirt
	EventPanel                     // a panel or a sheet
	EventSetUp                     // bringing tools and saw in, covering, once for a task and a room
	EventStaging                   // ladders, planks or a scaffold for work overhead, once for a task and a room
	EventTestCorner                // trying the saw setting on scrap, once for a profile with corners and a room
	EventCleanUp                   // clearing away, once for a task and a room
	events            = iota
)

var eventNames = [...]string{
	EventLength: "length", EventArea: "area", EventCount: "count", EventJoint: "joint", EventPiece: "piece", EventCope: "cope",
	EventInsideMiter: "inside miter", EventOutsideMiter: "outside miter", EventFlatMiter: "flat miter", EventRakeMiter: "rake miter",
	EventScarf: "scarf", EventReturn: "return", EventButt: "butt", EventStop: "stop", EventScribedEnd: "scribed end", EventScribe: "scribe",
	EventCourseJoint: "course joint", EventSide: "side", EventBend: "bend", EventNotch: "notch", EventStep: "step",
	EventMiteredStep: "mitered step", EventPanel: "panel", EventSetUp: "set-up", EventStaging: "staging",
	EventTestCorner: "test corner", EventCleanUp: "clean-up",
}

// String returns the event's name, such as "outside miter".
func (e Event) String() string { return kind.Text("Event", eventNames[:], e) }

// MarshalText writes the name; an unknown event is a *[measure.FieldError].
func (e Event) MarshalText() ([]byte, error) {
	return kind.Marshal("Event", "an event", eventNames[:], e)
}

// UnmarshalText reads the name; any other text is a *[measure.FieldError].
func (e *Event) UnmarshalText(text []byte) error {
	return kind.Unmarshal("an event", eventNames[:], text, e)
}

// Unit returns the unit of the event: a foot, a square foot or one.
func (e Event) Unit() finish.Amount {
	switch e {
	case EventLength, EventScribe:
		return finish.AmountOf(measure.Foot)
	case EventArea:
		return finish.AmountOf(measure.SquareFoot)
	}
	return finish.Count(1)
}

// fitting reports whether the event is counted only for trim that is installed or set.
func (e Event) fitting() bool { return EventJoint < e && e < EventSetUp }

// hangs reports whether a task installs trim.
func hangs(t finish.Task) bool { return t == finish.TaskInstall || t == finish.TaskSet }
