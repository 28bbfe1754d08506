package finish

import "example.com/longpoint/internal/kind"

// Practice is the method of removing painted trim, which determines whether the
// renovation rule allows it and how much lead in the air is assumed until it is measured.
type Practice uint8

// The practices, in increasing order of the dust that they release into the air.
const (
	PracticeHand       Practice = iota // pried, broken, scraped, sanded by hand
	PracticeShrouded                   // power tools with a shroud and a HEPA vacuum
	PracticeHeat                       // a heat gun below 1,100 °F
	PracticeHotGun                     // a heat gun at 1,100 °F or more
	PracticeUnshrouded                 // power sanding, grinding or planing without shroud and HEPA vacuum
	PracticeFlame                      // open flame or torch
)

var practiceNames = [...]string{"by hand", "shrouded power tool", "heat gun", "heat gun at 1,100 F or more", "unshrouded power tool", "open flame"}

// String returns the practice in words, such as "open flame".
func (p Practice) String() string { return kind.Text("Practice", practiceNames[:], p) }

// MarshalText writes the practice in words, such as "heat gun".
func (p Practice) MarshalText() ([]byte, error) {
	return kind.Marshal("Practice", "a practice", practiceNames[:], p)
}

// UnmarshalText reads a practice in words.
func (p *Practice) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a practice", practiceNames[:], b, p)
}

// Forbidden reports whether the renovation rule forbids the practice (40 CFR
// 745.85(a)(3), from memory). Work by it is never minor repair, whatever its area. An
// unknown practice counts as forbidden.
func (p Practice) Forbidden() bool { return p >= PracticeHotGun }

// exposure returns the assumed lead in the air during a practice (29 CFR
// 1926.62(d)(2), from memory).
func (p Practice) exposure() string {
	switch p {
	case PracticeHand, PracticeShrouded, PracticeHeat, PracticeHotGun:
		return "above 50 and up to 500 ug/m3"
	case PracticeFlame:
		return "above 2,500 ug/m3"
	}
	return "above 500 and up to 2,500 ug/m3"
}

// LeadTest is the state of knowledge about lead in the paint of a part.
type LeadTest uint8

const (
	// LeadUntested counts as leaded. Use it also if only the owner says that the
	// paint has no lead, or if the tester has no certificate.
	LeadUntested LeadTest = iota

	// LeadFree means that a certified inspector or risk assessor, or a certified
	// renovator with a recognized kit, found less than 1.0 mg/cm2 and less than 0.5 % of
	// lead by weight on the part itself and stated so in writing (40 CFR 745.82(a), from
	// memory). The renovation rule does not cover the part. The protection of workers has
	// no such limit.
	LeadFree

	// LeadFound means that lead was found. The rule treats it like LeadUntested.
	LeadFound
)

var leadTestNames = [...]string{"untested", "free of lead", "leaded"}

// String returns "untested", "free of lead" or "leaded".
func (t LeadTest) String() string { return kind.Text("LeadTest", leadTestNames[:], t) }

// MarshalText writes "untested", "free of lead" or "leaded".
func (t LeadTest) MarshalText() ([]byte, error) {
	return kind.Marshal("LeadTest", "a result", leadTestNames[:], t)
}

// UnmarshalText reads "untested", "free of lead" or "leaded".
func (t *LeadTest) UnmarshalText(b []byte) error {
	return kind.Unmarshal("a result", leadTestNames[:], b, t)
}
