package estimate

import (
	"iter"
	"reflect"
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// place is the place of a profile in a scheme: exactly one of the two is set. Path is by JSON
// names, from the scheme.
type place struct {
	path  string
	ref   **stock.Profile
	value *stock.Profile
}

// profile returns the profile there, nil for none.
func (p place) profile() *stock.Profile {
	if p.ref != nil {
		return *p.ref
	}
	return p.value
}

// set puts q there, keeping the Role of a member of an assembly.
func (p place) set(q stock.Profile) {
	if p.ref != nil {
		*p.ref = &q
		return
	}
	if role := p.value.Role; role != stock.RoleBase {
		q.Role = role
	}
	*p.value = q
}

// places lists the places of profiles in a scheme, in a fixed order. They point into s.
func places(s *takeoff.Scheme) iter.Seq[place] {
	return func(yield func(place) bool) {
		ref := func(path string, p **stock.Profile) bool { return *p == nil || yield(place{path: path, ref: p}) }
		value := func(path string, p *stock.Profile) bool { return yield(place{path: path, value: p}) }
		ok := ref("base", &s.Base) && ref("shoe", &s.Shoe) && ref("chair_rail", &s.ChairRail) && ref("picture_rail", &s.PictureRail) &&
			ref("casing", &s.Casing) && ref("crown", &s.Crown) && ref("skirt", &s.Skirt) && ref("stool", &s.Stool) && ref("apron", &s.Apron) &&
			ref("plinth", &s.Plinth) && ref("backband", &s.Backband) && ref("block", &s.Block) &&
			(s.Extension == nil || value("extension.board", &s.Extension.Board))
		for i := range s.Flexible {
			ok = ok && value("flexible["+strconv.Itoa(i)+"]", &s.Flexible[i])
		}
		for i := range s.CasingStyles {
			ok = ok && placesOfStyle("casing_styles["+strconv.Itoa(i)+"].", &s.CasingStyles[i], ref)
		}
		if w := s.Wainscot; w != nil {
			ok = ok && ref("wainscot.profile", &w.Profile) && ref("wainscot.rail", &w.Rail) && ref("wainscot.bottom_rail", &w.BottomRail) &&
				ref("wainscot.corner_stile", &w.CornerStile) && ref("wainscot.cap", &w.Cap)
		}
		for i := range s.Assemblies {
			for k := range s.Assemblies[i].Members {
				m := &s.Assemblies[i].Members[k]
				at := "assemblies[" + strconv.Itoa(i) + "].members[" + strconv.Itoa(k) + "]."
				ok = ok && value(at+"profile", &m.Profile) && (m.Backing == nil || value(at+"backing.profile", &m.Backing.Profile))
			}
		}
	}
}

func placesOfStyle(at string, s *takeoff.CasingStyle, ref func(string, **stock.Profile) bool) bool {
	ok := ref(at+"casing", &s.Casing) && ref(at+"block", &s.Block) && ref(at+"mullion", &s.Mullion) && ref(at+"stool", &s.Stool) &&
		ref(at+"apron", &s.Apron) && ref(at+"plinth", &s.Plinth) && ref(at+"backband", &s.Backband)
	for k := range s.Head {
		ok = ok && ref(at+"head["+strconv.Itoa(k)+"].profile", &s.Head[k].Profile)
	}
	return ok
}

// copied returns a copy of a scheme whose profiles can be set without changing s.
func copied(s takeoff.Scheme) takeoff.Scheme {
	s.Flexible = slices.Clone(s.Flexible)
	s.CasingStyles = slices.Clone(s.CasingStyles)
	for i := range s.CasingStyles {
		s.CasingStyles[i].Head = slices.Clone(s.CasingStyles[i].Head)
	}
	if s.Extension != nil {
		e := *s.Extension
		s.Extension = &e
	}
	if s.Wainscot != nil {
		w := *s.Wainscot
		s.Wainscot = &w
	}
	s.Assemblies = slices.Clone(s.Assemblies)
	for i := range s.Assemblies {
		ms := slices.Clone(s.Assemblies[i].Members)
		for k := range ms {
			if ms[k].Backing != nil {
				b := *ms[k].Backing
				ms[k].Backing = &b
			}
		}
		s.Assemblies[i].Members = ms
	}
	return s
}

// Scheme returns the trim of the job as taken off: a profile of which Job.Trim has only the
// name is that of its material. Pictures of rooms need it.
func (e *Estimate) Scheme() takeoff.Scheme {
	e = e.complete()
	w := work{job: e.Job, known: e.Job.checkMaterials(new(fault.List))}
	return w.scheme(nil)
}

// named reports whether only the name, and perhaps the role, of p is given.
func named(p *stock.Profile) bool {
	return p.Name != "" && reflect.DeepEqual(*p, stock.Profile{Name: p.Name, Role: p.Role})
}
