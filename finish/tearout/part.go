package tearout

import (
	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Method is the method of removing old trim.
type Method uint8

const (
	// MethodBreak breaks it off. It ruins the part, which is demolition and never minor
	// repair under the lead rule. It is the zero value, so that an unstated method
	// counts as the worst case.
	MethodBreak Method = iota

	// MethodPry removes it whole, for disposal.
	MethodPry

	// MethodSalvage removes it whole, for reuse: its nails are pulled through the back,
	// which leaves the face intact.
	MethodSalvage
)

var methodNames = [...]string{"break", "pry", "salvage"}

// String returns "break", "pry" or "salvage".
func (m Method) String() string { return kind.Text("Method", methodNames[:], m) }

// MarshalText writes "break", "pry" or "salvage".
func (m Method) MarshalText() ([]byte, error) {
	return kind.Marshal("Method", "a method", methodNames[:], m)
}

// UnmarshalText reads "break", "pry" or "salvage".
func (m *Method) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a method", methodNames[:], b, m)
}

// Part is old trim of one kind and length to remove from one room. Trim in two rooms,
// such as the two faces of a door's casing, is two parts.
type Part struct {
	Label    string         `json:"label,omitempty"`    // for people
	Room     string         `json:"room"`               // name of one of the job's rooms
	Profile  string         `json:"profile,omitempty"`  // name in the rack; required to salvage
	Material string         `json:"material,omitempty"` // name of one of the woods of the rules; "" = the first, which is pine
	Length   measure.Length `json:"length"`             // of each piece; > 0
	Count    int64          `json:"count,omitempty" zero:"1 or more, or nothing for 1"`

	Thickness measure.Length `json:"thickness"` // of the section; > 0 unless Section is given
	Width     measure.Length `json:"width"`     // of the section, the height of base; > 0 unless Section is given

	// Section is the cross section of the wood; zero is Thickness times Width, which is more
	// than molded trim has.
	Section measure.Area `json:"section,omitempty" zero:"more than zero, or nothing for thickness times width"`

	// Girth is the painted width around the part; zero is the Width and both edges, Width +
	// 2 Thickness. On base, usually only the face and the top are painted.
	Girth measure.Length `json:"girth,omitempty" zero:"more than zero, or nothing for the face and both edges (bare: not painted)"`

	Bare bool `json:"bare,omitempty"` // never had paint, varnish or another coating

	Method Method `json:"method,omitempty"` // method of removal; zero breaks it
	Scored int64  `json:"scored,omitempty"` // edges along which caulk or paint is cut first; 0 = none
	Window bool   `json:"window,omitempty"` // of a window that is replaced
	High   bool   `json:"high,omitempty"`   // removed from a ladder or a scaffold, like crown

	Practice finish.Practice `json:"practice,omitempty"` // tools or technique
	Test     finish.LeadTest `json:"test,omitempty"`     // of its paint for lead; zero counts as leaded

	// Day is the day of removal, counted from any day that is the same for all parts: parts
	// removed from a room within 30 days count together. If all are zero, everything counts
	// together.
	Day int64 `json:"day,omitempty"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero that would stand
// for a default is a [*measure.FieldError].
func (p *Part) UnmarshalJSON(data []byte) error {
	type plain Part
	return fault.Unmarshal(data, (*plain)(p))
}

// Room is a room with trim to remove. Its size matters for containment.
type Room struct {
	Name   string         `json:"name"`             // required and unique
	Length measure.Length `json:"length,omitempty"` // of the floor, or of the rectangle around it; > 0 if dust is contained
	Width  measure.Length `json:"width,omitempty"`  // of the floor; > 0 if dust is contained

	Doors int64 `json:"doors,omitempty"` // doors and openings to cover; >= 0
	Ducts int64 `json:"ducts,omitempty"` // registers and grilles to cover; >= 0
	Sills int64 `json:"sills,omitempty"` // window sills, each of which is wiped for the verification; >= 0

	Suspects []Suspect `json:"suspects,omitempty"` // materials that may contain asbestos
}

// SuspectKind is an old material that may hold asbestos.
type SuspectKind uint8

const (
	SuspectMastic    SuspectKind = iota // black or tan mastic behind base or under a floor
	SuspectFloorTile                    // resilient floor tile, often 9 in square
	SuspectPlaster                      // plaster and patching compound
	SuspectPipeWrap                     // insulation on pipes and ducts
)

var suspectNames = [...]string{"mastic", "floor tile", "plaster", "pipe wrap"}

// String returns the material in words, such as "mastic".
func (k SuspectKind) String() string { return kind.Text("SuspectKind", suspectNames[:], k) }

// MarshalText writes the material in words, such as "plaster".
func (k SuspectKind) MarshalText() ([]byte, error) {
	return kind.Marshal("SuspectKind", "a material", suspectNames[:], k)
}

// UnmarshalText reads a material in words.
func (k *SuspectKind) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a material", suspectNames[:], b, k)
}

// Suspect is an old material that the work disturbs. Until it is Free, a step that waits
// for the test precedes all work in its room.
type Suspect struct {
	Kind SuspectKind `json:"kind"`
	Free bool        `json:"free,omitempty"` // an accredited laboratory found no asbestos in it
}

func (p Part) count() int64 { return max(p.Count, 1) }

// girth returns the painted width, with its default.
func (p Part) girth() measure.Length {
	if p.Girth == 0 {
		return p.Width + 2*p.Thickness
	}
	return p.Girth
}

// longest exceeds the trim of any building, and is small enough to keep a room's sums in
// range.
const longest = 1 << 20 * measure.Foot

func (p Part) check() error {
	var f fault.List
	for _, x := range [...]struct {
		name string
		l    measure.Length
	}{{"length", p.Length}, {"thickness", p.Thickness}, {"width", p.Width}, {"girth", p.Girth}} {
		switch {
		case x.l < 0:
			f.Add(x.name, x.l.About(), "zero or more")
		case x.l > longest:
			f.Add(x.name, x.l.About(), "at most "+longest.About())
		}
	}
	if p.Length == 0 {
		f.Add("length", p.Length.About(), "more than zero")
	}
	switch {
	case p.Section < 0:
		f.Add("section", p.Section, "zero (for thickness times width) or more")
	case p.Section == 0 && p.Thickness == 0:
		f.Add("thickness", p.Thickness.About(), "more than zero, or a section")
	case p.Section == 0 && p.Width == 0:
		f.Add("width", p.Width.About(), "more than zero, or a section")
	case !p.Bare && p.Girth == 0 && p.Width == 0:
		f.Add("girth", p.Girth.About(), "more than zero, or a width")
	}
	if p.Count < 0 {
		f.Add("count", p.Count, "zero (for one) or more")
	}
	if p.Scored < 0 {
		f.Add("scored", p.Scored, "zero or more")
	}
	if int(p.Method) >= len(methodNames) {
		f.Add("method", uint8(p.Method), "a known method")
	}
	if p.Method == MethodSalvage && p.Profile == "" {
		f.Add("profile", p.Profile, "the name that the rack knows it by, because it is salvaged")
	}
	return f.Err()
}

func (r Room) check() error {
	var f fault.List
	if r.Name == "" {
		f.Add("name", r.Name, "a name")
	}
	for _, x := range [...]struct {
		name string
		l    measure.Length
	}{{"length", r.Length}, {"width", r.Width}} {
		switch {
		case x.l < 0:
			f.Add(x.name, x.l.About(), "zero or more")
		case x.l > longest:
			f.Add(x.name, x.l.About(), "at most "+longest.About())
		}
	}
	for _, x := range [...]struct {
		name string
		n    int64
	}{{"doors", r.Doors}, {"ducts", r.Ducts}, {"sills", r.Sills}} {
		if x.n < 0 {
			f.Add(x.name, x.n, "zero or more")
		}
	}
	for i, s := range r.Suspects {
		if int(s.Kind) >= len(suspectNames) {
			f.Add("suspects["+itoa(int64(i))+"].kind", uint8(s.Kind), "a known material")
		}
	}
	return f.Err()
}
