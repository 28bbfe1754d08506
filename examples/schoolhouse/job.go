package main

import (
	"fmt"
	"maps"
	"slices"
	"strconv"

	"example.com/longpoint/finish"
	"example.com/longpoint/finish/estimate"
	"example.com/longpoint/finish/schedule"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// job is what a job file holds: what was measured, what can be had and at what
// price. Prices are whole cents.
type job struct {
	Name   string          `json:"name"`
	Locale measure.Locale  `json:"locale,omitzero"` // how all of it is written
	Rooms  []takeoff.Room  `json:"rooms"`
	Habits takeoff.Options `json:"habits"`
	Kerf   measure.Length  `json:"kerf"`

	Base   []material `json:"base"`   // the candidates to compare
	Choose string     `json:"choose"` // the profile of one of them; nothing: the cheapest installed
	Casing *material  `json:"casing"`
	Crown  *material  `json:"crown"`
	Rack   stock.Rack `json:"rack"`

	// Styles are ways to case openings; a profile of theirs of which only the name is given is
	// that of the casing or of one of Trim.
	Styles []takeoff.CasingStyle `json:"casing_styles"`
	Trim   []material            `json:"trim"` // what else styles, assemblies and the wainscot are made of

	// Assemblies are built up of several members, whose profiles are those of the crown or of
	// one of Trim, by name. Crown of which one is made is run nowhere else.
	Assemblies []takeoff.Assembly `json:"assemblies"`

	Wainscot *takeoff.Wainscot `json:"wainscot"` // its profiles are looked up as those of the styles

	Systems []finish.System      `json:"systems"`         // how a material is finished, by label
	Shelf   finish.Shelf         `json:"shelf"`           // products
	Rates   []estimate.Rate      `json:"rates,omitempty"` // of labor; left out, the library's
	Terms   estimate.Terms       `json:"terms"`
	Site    *schedule.Calendar   `json:"site"`    // when it is finished and by how many; nil: nobody asks
	Year    int                  `json:"year"`    // when the building was finished; 0: unknown
	Used    finish.Occupancy     `json:"used"`    // as what; unknown: the rule on lead counts it as covered
	Removed []finish.RemovedTrim `json:"removed"` // painted trim that comes off first
}

// material is a trim with the lengths that the supplier has today.
type material struct {
	Profile stock.Profile `json:"profile"`
	Sticks  []stock.Stick `json:"sticks"`

	System    string          `json:"system"`    // label of the system that finishes it
	Preprimed bool            `json:"preprimed"` // comes with its first coat
	Hazards   []finish.Hazard `json:"hazards"`   // of working it
	Costs     []estimate.Cost `json:"costs"`     // delivery and the like

	path   string // where it stands in the file
	system int    // index into job.Systems
}

// materials returns all of them in the order of the file.
func (j *job) materials() []*material {
	var out []*material
	for i := range j.Base {
		out = append(out, &j.Base[i])
	}
	return append(out, j.others()...)
}

// others returns the materials but for the bases.
func (j *job) others() []*material {
	var out []*material
	if j.Casing != nil {
		out = append(out, j.Casing)
	}
	for i := range j.Trim {
		out = append(out, &j.Trim[i])
	}
	if j.Crown != nil {
		out = append(out, j.Crown)
	}
	return out
}

// lookUp gives the wainscot and the styles the profiles that they name.
func (j *job) lookUp() error {
	if w := j.Wainscot; w != nil {
		named := map[string]**stock.Profile{
			"profile": &w.Profile, "rail": &w.Rail, "bottom_rail": &w.BottomRail, "corner_stile": &w.CornerStile, "cap": &w.Cap,
		}
		if err := j.lookUpIn("wainscot", named); err != nil {
			return err
		}
	}
	for i := range j.Styles {
		s := &j.Styles[i]
		named := map[string]**stock.Profile{
			"casing": &s.Casing, "block": &s.Block, "mullion": &s.Mullion, "stool": &s.Stool, "apron": &s.Apron, "plinth": &s.Plinth, "backband": &s.Backband,
		}
		for k := range s.Head {
			named[fmt.Sprintf("head[%d].profile", k)] = &s.Head[k].Profile
		}
		if err := j.lookUpIn(fmt.Sprintf("casing_styles[%d]", i), named); err != nil {
			return err
		}
	}
	for i, a := range j.Assemblies {
		for k := range a.Members {
			if m := &a.Members[k]; j.member(m.Profile.Name) == nil {
				return &fieldError{fmt.Sprintf("assemblies[%d].members[%d].profile.name", i, k), strconv.Quote(m.Profile.Name), "want the name of the crown or of one of trim"}
			}
		}
	}
	return nil
}

// lookUpIn does so for one of them, at a path of the file.
func (j *job) lookUpIn(path string, named map[string]**stock.Profile) error {
	for _, field := range slices.Sorted(maps.Keys(named)) {
		p := named[field]
		if *p == nil || (*p).Thickness != 0 || (*p).Width != 0 {
			continue
		}
		k := slices.IndexFunc(j.others(), func(m *material) bool { return m.Profile.Name == (*p).Name })
		if k < 0 {
			return &fieldError{path + "." + field + ".name", strconv.Quote((*p).Name), "want the name of the casing or of one of trim"}
		}
		*p = &j.others()[k].Profile
	}
	return nil
}

// member returns the material that a member of an assembly is of, nil for none.
func (j *job) member(name string) *material {
	for _, m := range j.others() {
		if m != j.Casing && m.Profile.Name == name {
			return m
		}
	}
	return nil
}

// builtUp returns the assemblies with the profiles that they name, as the sticks have them, and
// whether the crown is one of their members.
func (j *job) builtUp() (as []takeoff.Assembly, crown bool) {
	for _, a := range j.Assemblies {
		a.Members = slices.Clone(a.Members)
		for k := range a.Members {
			p := &a.Members[k].Profile
			role, m := p.Role, j.member(p.Name)
			*p = m.Profile
			if crown = crown || m == j.Crown; role != stock.RoleBase {
				p.Role = role
			}
		}
		as = append(as, a)
	}
	return as, crown
}

// readJob reads a job file and checks what no package checks later. What is
// wrong is a *fieldError.
func readJob(data []byte) (*job, error) {
	j := new(job)
	if err := measure.UnmarshalStrict(data, j); err != nil {
		return nil, j.finishError(err, nil)
	}
	j.Habits.Locale, j.Shelf.Locale, j.Terms.Locale = j.Locale, j.Locale, j.Locale // one setting
	for i := range j.Base {
		j.Base[i].path = fmt.Sprintf("base[%d]", i)
	}
	if j.Casing != nil {
		j.Casing.path = "casing"
	}
	for i := range j.Trim {
		j.Trim[i].path = fmt.Sprintf("trim[%d]", i)
	}
	if j.Crown != nil {
		j.Crown.path = "crown"
	}
	if err := j.lookUp(); err != nil {
		return nil, err
	}
	return j, j.check()
}

func (j *job) check() error {
	switch {
	case len(j.Rooms) == 0:
		return &fieldError{"rooms", "empty", "want at least one room"}
	case len(j.Base) == 0:
		return &fieldError{"base", "empty", "want at least one material"}
	case j.Kerf < 0:
		return &fieldError{"kerf", j.Kerf.About(), "want zero or more"}
	}
	profiles := map[string]bool{}
	for _, m := range j.materials() {
		if err := m.check(j); err != nil {
			return err
		}
		m.system = slices.IndexFunc(j.Systems, func(s finish.System) bool { return s.Label == m.System })
		if m.system < 0 {
			return &fieldError{m.path + ".system", strconv.Quote(m.System), "want the label of one of the systems"}
		}
		if profiles[m.Profile.Name] {
			return &fieldError{m.path + ".profile.name", strconv.Quote(m.Profile.Name), "want a name that no other profile has"}
		}
		profiles[m.Profile.Name] = true
	}
	if j.Choose != "" && !slices.ContainsFunc(j.Base, func(m material) bool { return m.Profile.Name == j.Choose }) {
		return &fieldError{"choose", strconv.Quote(j.Choose), "want the name of the profile of one of the bases"}
	}
	if j.Rack.Keep < 0 {
		return &fieldError{"rack.keep", j.Rack.Keep.About(), "want zero or more"}
	}
	for i, o := range j.Rack.Offcuts {
		at := fmt.Sprintf("rack.offcuts[%d]", i)
		switch {
		case !profiles[o.Profile]:
			return &fieldError{at + ".profile", strconv.Quote(o.Profile), "want the name of a profile of this job"}
		case o.Length <= 0:
			return &fieldError{at + ".length", o.Length.About(), "want more than zero"}
		case o.Count < 0:
			return &fieldError{at + ".count", strconv.Itoa(o.Count), "want zero (one of them) or more"}
		}
	}
	return nil
}

// check looks at the sticks and takes over what they say about the profile: a
// run is spliced only where no stick is long enough.
func (m *material) check(j *job) error {
	if m.Profile.Name == "" {
		return &fieldError{m.path + ".profile.name", `""`, "want a name"}
	}
	if len(m.Sticks) == 0 {
		return &fieldError{m.path + ".sticks", "empty", "want at least one length"}
	}
	if len(m.Profile.Lengths) > 0 {
		return &fieldError{m.path + ".profile.lengths", "given", "leave it out; the sticks say which lengths there are"}
	}
	for i := range m.Sticks {
		s := &m.Sticks[i]
		at := fmt.Sprintf("%s.sticks[%d]", m.path, i)
		switch {
		case s.Length <= 0:
			return &fieldError{at + ".length", s.Length.About(), "want more than zero"}
		case s.Price <= 0:
			return &fieldError{at + ".price", strconv.FormatInt(s.Price, 10), "want the price of a stick in cents; what is free lies on the rack"}
		case s.Limit < stock.SoldOut:
			return &fieldError{at + ".limit", strconv.Itoa(s.Limit), `want 1 or more, or "sold out"`}
		case s.TrimStart != 0 || s.TrimEnd != 0:
			return &fieldError{at, "trimmed by itself", "give the profile's end_trim, which holds for every stick"}
		}
		if s.Label == "" {
			s.Label = j.Locale.About(s.Length)
		}
		s.Profile = m.Profile.Name
		s.TrimStart, s.TrimEnd = m.Profile.EndTrim, m.Profile.EndTrim
		m.Profile.Lengths = append(m.Profile.Lengths, s.Length)
	}
	return nil
}
