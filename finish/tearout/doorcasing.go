package tearout

import "example.com/longpoint/measure"

// DoorCasing returns the parts of the casing around a door or an opening: two legs and a head
// in each of the rooms, one room for each face. The parts are copies of p with their
// own Room, Length and Count; width and height are those of the opening between the
// inner edges of the casing, and the corners are mitered. A length out of range is a
// [*measure.RangeError].
func DoorCasing(p Part, width, height measure.Length, rooms ...string) ([]Part, error) {
	leg, err := height.Add(p.Width)
	if err != nil {
		return nil, err
	}
	both, err := p.Width.Add(p.Width)
	if err != nil {
		return nil, err
	}
	head, err := width.Add(both)
	if err != nil {
		return nil, err
	}
	var parts []Part
	for _, room := range rooms {
		legs, top := p, p
		legs.Room, legs.Length, legs.Count = room, leg, 2
		top.Room, top.Length, top.Count = room, head, 1
		if p.Label != "" {
			legs.Label, top.Label = p.Label+", legs", p.Label+", head"
		}
		parts = append(parts, legs, top)
	}
	return parts, nil
}
