package drawing

import (
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/takeoff"
)

// sections finds the profile of a run.
type sections struct {
	exact map[sectionKey]stock.Profile
	named map[string]stock.Profile
}

type sectionKey struct {
	name string
	role stock.Role
}

func sectionsOf(s takeoff.Scheme, r takeoff.Room, l *takeoff.List) sections {
	out := sections{map[sectionKey]stock.Profile{}, map[string]stock.Profile{}}
	add := func(p stock.Profile) {
		if p.Width == 0 && p.Thickness == 0 { // only a name: another source may have the profile
			return
		}
		if k := (sectionKey{p.Name, p.Role}); out.exact[k].Name == "" {
			out.exact[k] = p
		}
		if _, ok := out.named[p.Name]; !ok {
			out.named[p.Name] = p
		}
	}
	for _, p := range s.Profiles() {
		add(p)
	}
	for _, w := range r.Walls {
		for _, t := range w.Stretches {
			p := t.Profile
			p.Role = t.Role
			add(p)
		}
	}
	if l != nil {
		for _, t := range l.Strips {
			add(t.Profile)
		}
	}
	return out
}

// of returns the profile of a run, with the run's role, or a profile one inch wide if it is
// unknown.
func (s sections) of(r *stock.Run) stock.Profile {
	p, ok := s.exact[sectionKey{r.Profile, r.Role}]
	if !ok {
		p, ok = s.named[r.Profile]
	}
	if !ok {
		p = stock.Profile{Name: r.Profile, Thickness: measure.Inch, Width: measure.Inch}
	}
	p.Role = r.Role
	return p
}

// seen returns the width of a run as one faces the wall.
func (s sections) seen(r *stock.Run) measure.Length {
	p := s.of(r)
	switch {
	case r.Role == stock.RoleStool || r.Role == stock.RoleExtension: // seen from their edges
		return p.Thickness
	case r.Ripped > 0:
		return r.Ripped
	}
	return p.Drop()
}
