package stock

import (
	"slices"

	"example.com/longpoint/measure"
)

// supply is what a change can take off a rack, found without going through all of it for
// each thing that is used.
type supply struct {
	offcuts []Offcut       // nothing of them is left where gone says so
	gone    []bool         // per offcut
	like    map[like][]int // indices into offcuts, ascending; those that are gone leave from the front
}

// like is a way to look for an offcut. What it does not ask for is empty.
type like struct {
	length                       measure.Length
	byID, byMaterial, byLabel    bool // otherwise any
	unnamed                      bool // only what has no ID
	id, profile, material, label string
}

// newSupply lists what of the offcuts might be used.
func newSupply(offcuts, uses []Offcut) *supply {
	s := &supply{offcuts: slices.Clone(offcuts), gone: make([]bool, len(offcuts)), like: map[like][]int{}}
	wanted := make(map[measure.Length]bool, len(uses))
	for _, u := range uses {
		wanted[u.Length] = true
	}
	for i, o := range offcuts {
		if o.Count < 0 || !wanted[o.Length] {
			continue
		}
		both := []bool{false, true}
		for _, label := range both {
			byID := like{length: o.Length, byID: true, id: o.ID, byLabel: label}
			byProfile := like{length: o.Length, profile: o.Profile, byLabel: label}
			if label {
				byID.label, byProfile.label = o.Label, o.Label
			}
			s.add(byID, i)
			for _, material := range both {
				k := byProfile
				if k.byMaterial = material; material {
					k.material = o.Material
				}
				s.add(k, i)
				if o.ID == "" {
					k.unnamed = true
					s.add(k, i)
				}
			}
		}
	}
	return s
}

func (s *supply) add(k like, i int) { s.like[k] = append(s.like[k], i) }

// take removes what is used and returns how many were there, at most as many as wanted.
func (s *supply) take(u Offcut) (taken int) {
	want := max(1, u.Count)
	any := like{length: u.Length, byID: true, id: u.ID}
	if u.ID == "" {
		any = like{length: u.Length, profile: u.Profile, byMaterial: u.Material != "", material: u.Material}
	}
	// First those that are most like it.
	same := any
	same.byLabel, same.label = true, u.Label
	ways := []like{same, any}
	if u.ID == "" {
		sameUnnamed, anyUnnamed := same, any
		sameUnnamed.unnamed, anyUnnamed.unnamed = true, true
		ways = []like{sameUnnamed, same, anyUnnamed, any}
	}
	for _, k := range ways {
		list := s.like[k]
		for taken < want && len(list) > 0 {
			i := list[0]
			if s.gone[i] {
				list = list[1:]
				continue
			}
			have := max(1, s.offcuts[i].Count)
			n := min(have, want-taken)
			taken += n
			s.offcuts[i].Count = have - n
			s.gone[i] = n == have
		}
		s.like[k] = list
	}
	return taken
}

// left returns what was not taken.
func (s *supply) left() []Offcut {
	left := s.offcuts[:0:0]
	for i, o := range s.offcuts {
		if !s.gone[i] {
			left = append(left, o)
		}
	}
	return left
}
