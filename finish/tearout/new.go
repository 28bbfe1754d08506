package tearout

import (
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Job describes the old trim to remove from a building before new trim is installed.
type Job struct {
	Building finish.Building `json:"building,omitzero"` // facts for the lead rule; unknown ones count as covered
	Rooms    []Room          `json:"rooms"`             // in the order of work
	Parts    []Part          `json:"parts"`
	Rules    Rules           `json:"rules,omitzero"` // zero = the usual ones
	Rack     stock.Rack      `json:"rack,omitzero"`  // its rules tell which saved pieces are worth keeping

	// LeadSafe adds containment, cleaning and verification in each room with painted
	// trim, even if the lead rule does not require them.
	LeadSafe bool `json:"lead_safe,omitempty"`

	// Clearance replaces the cloths with dust samples measured by a laboratory. It is
	// always done if housing has federal assistance and the rule covers the room (24 CFR
	// 35.1340, from memory).
	Clearance bool `json:"clearance,omitempty"`

	Locale measure.Locale `json:"locale,omitzero"` // how cautions and reasoning are written; it changes no amount
}

// Debris is the material to dispose of. Bags and boxes are two ways to count the same
// material.
type Debris struct {
	Solid  measure.Volume `json:"solid"`  // of the wood itself
	Loose  measure.Volume `json:"loose"`  // as it lies in a bag or a box
	Weight measure.Weight `json:"weight"` // with the moisture of the wood
	Bags   int64          `json:"bags"`   // filled room by room, with those for the plastic
}

// RoomResult is the result of a plan for a room.
type RoomResult struct {
	Room      string           `json:"room"`      // its name
	Covered   bool             `json:"covered"`   // the lead rule covers the work in it
	Contained bool             `json:"contained"` // the dust is contained
	Sheet     measure.Area     `json:"sheet"`     // plastic on the floor, net
	Cloths    int64            `json:"cloths"`    // wet cloths of the verification
	Debris    Debris           `json:"debris"`    // without the saved pieces
	Saved     measure.Volume   `json:"saved"`     // solid wood that goes to the rack
	Labor     measure.Duration `json:"labor"`     // of its steps
}

// A Plan describes the steps of a tear-out and their requirements.
type Plan struct {
	Gate     finish.LeadGate  `json:"gate"`              // the lead rule's verdict, determined first
	Rooms    []RoomResult     `json:"rooms"`             // in the order of the job's rooms
	Steps    []Step           `json:"steps"`             // in the order of work
	Needs    []finish.Need    `json:"needs,omitempty"`   // plastic sheeting, sheeting tape, heavy-duty bags, warning signs, wet cloths: for finish.Buy
	Debris   Debris           `json:"debris"`            // the sum over all rooms
	Boxes    int64            `json:"boxes"`             // boxes that all debris fills
	Salvage  []stock.Offcut   `json:"salvage,omitempty"` // the Leaves of a stock.RackChange
	Rates    []Rate           `json:"rates"`             // rates to which Step.Rate is an index
	Cautions []finish.Caution `json:"cautions"`          // of all steps, each once, in the order of work
	Labor    measure.Duration `json:"labor"`             // of all steps
}

// New plans a tear-out. It tests the job against the lead rule first: Plan.Gate is the
// verdict, and in each room that the rule covers, or in each room with painted trim if the
// job is LeadSafe, dust is contained, cleaned up and verified. A forbidden practice is an
// error if the rule covers the room. A room without trim to remove has no steps.
//
// The error is a [*measure.FieldError] for each invalid value, joined, at most 100, or
// a [*measure.RangeError].
func New(job Job) (*Plan, error) {
	job.Rules = job.Rules.usual()
	if err := job.check(); err != nil {
		return nil, err
	}
	removed := job.removed("")
	gate, err := job.Rules.Lead.Gate(job.Building, removed)
	if err != nil {
		return nil, err
	}
	if err := job.checkGate(gate); err != nil {
		return nil, err
	}
	p := planner{job: job, plan: &Plan{Gate: gate, Rates: job.Rules.Rates}, saved: make([]int64, len(job.Parts))}
	if err := p.salvage(); err != nil {
		return nil, err
	}
	if len(gate.Covered) > 0 {
		p.step(Step{Task: TaskNotify, Hold: true, Skill: SkillRenovator, Cautions: leadOffice(job.Rules.Lead)}, 0)
	}
	for i := range job.Rooms {
		if err := p.room(i); err != nil {
			return nil, err
		}
	}
	p.total()
	if err := p.tally.err(); err != nil {
		return nil, err
	}
	return p.plan, nil
}

// check reports the faults of a job whose rules are complete.
func (j Job) check() error {
	var f fault.List
	if _, err := j.Rules.Lead.Gate(j.Building, nil); err != nil {
		if e, ok := err.(*measure.FieldError); ok && len(e.Field) > 5 && e.Field[:5] == "rule." {
			f.Add("rules.lead."+e.Field[5:], e.Value, e.Want)
		} else {
			f.Under("building", err)
		}
	}
	rooms := make(map[string]bool, len(j.Rooms))
	for i, r := range j.Rooms {
		at := "rooms[" + itoa(int64(i)) + "]"
		f.Under(at, r.check())
		if rooms[r.Name] {
			f.Add(at+".name", r.Name, "a name that no other room has")
		}
		rooms[r.Name] = r.Name != ""
	}
	for i, p := range j.Parts {
		at := "parts[" + itoa(int64(i)) + "]"
		f.Under(at, p.check())
		if !rooms[p.Room] {
			f.Add(at+".room", p.Room, "the name of one of the rooms")
		}
		if j.wood(p) < 0 {
			f.Add(at+".material", p.Material, "the name of one of the woods of the rules")
		}
		if _, err := p.Practice.MarshalText(); err != nil {
			f.Under(at+".practice", err)
		}
		if _, err := p.Test.MarshalText(); err != nil {
			f.Under(at+".test", err)
		}
	}
	f.Under("rules", j.Rules.check())
	f.Under("rack", j.Rack.Validate())
	f.Under("locale", j.Locale.Validate())
	return f.Err()
}

// checkGate reports forbidden practices, and facts missing for the rooms that the rule
// covers.
func (j Job) checkGate(gate finish.LeadGate) error {
	var f fault.List
	for i, p := range j.Parts {
		if !p.Bare && p.Test != finish.LeadFree && p.Practice.Forbidden() && gate.Covers(p.Room) {
			f.Add("parts["+itoa(int64(i))+"].practice", p.Practice, "a practice that the lead rule allows, such as "+finish.PracticeHand.String())
		}
	}
	for i, r := range j.Rooms {
		if !j.contained(gate, r.Name) {
			continue
		}
		at := "rooms[" + itoa(int64(i)) + "]"
		const want = "more than zero: the plastic and the cloths depend on it"
		if r.Length == 0 {
			f.Add(at+".length", r.Length.About(), want)
		}
		if r.Width == 0 {
			f.Add(at+".width", r.Width.About(), want)
		}
	}
	return f.Err()
}

// contained reports whether dust is contained in a room.
func (j Job) contained(gate finish.LeadGate, room string) bool {
	return gate.Covers(room) || j.LeadSafe && slices.ContainsFunc(j.Parts, func(p Part) bool { return p.Room == room && !p.Bare })
}

// wood returns the index of the wood of a part, or -1.
func (j Job) wood(p Part) int {
	if p.Material == "" {
		return min(0, len(j.Rules.Woods)-1)
	}
	return slices.IndexFunc(j.Rules.Woods, func(w Wood) bool { return w.Name == p.Material })
}

// removed returns the facts that the lead rule needs about the parts of a room, or
// about all parts.
func (j Job) removed(room string) []finish.RemovedTrim {
	var all []finish.RemovedTrim
	for _, p := range j.Parts {
		if p.Bare || room != "" && p.Room != room {
			continue
		}
		all = append(all, p.removed())
	}
	return all
}

// removed returns the part as the lead rule counts it: its whole painted surface. A product
// out of range becomes the greatest length, which the rule rejects.
func (p Part) removed() finish.RemovedTrim {
	length, err := p.Length.Mul(p.count())
	if err != nil {
		length = 1<<63 - 1
	}
	return finish.RemovedTrim{
		Label: p.Label, Room: p.Room, Length: length, Girth: p.girth(), Day: p.Day,
		Demolished: p.Method == MethodBreak, Window: p.Window, Practice: p.Practice, Test: p.Test,
	}
}
