package stock

import (
	"slices"

	"example.com/longpoint/measure"
)

// supply indexes the offcuts that a change can take off a rack, so that each use need
// not scan the whole rack.
type supply struct {
	offcuts []Offcut       // an offcut is used up if gone is set
	gone    []bool         // per offcut
	like    map[like][]int // indices into offcuts, ascending; used ones are removed from the front
}

// like is a search key for an offcut. Fields that do not matter are empty.
type like struct {
	length                       measure.Length
	byID, byMaterial, byLabel    bool // otherwise any
	unnamed                      bool // only offcuts without an ID
	id, profile, material, label string
}

// newSupply indexes the offcuts that might be used.
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

// take removes the used offcuts and returns how many there were, at most the number
// wanted.
func (s *supply) take(u Offcut) (taken int) {
	want := max(1, u.Count)
	any := like{length: u.Length, byID: true, id: u.ID}
	if u.ID == "" {
		any = like{length: u.Length, profile: u.Profile, byMaterial: u.Material != "", material: u.Material}
	}
	// Take the offcuts with the closest match first.
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

// left returns the offcuts that were not taken.
func (s *supply) left() []Offcut {
	left := s.offcuts[:0:0]
	for i, o := range s.offcuts {
		if !s.gone[i] {
			left = append(left, o)
		}
	}
	return left
}
