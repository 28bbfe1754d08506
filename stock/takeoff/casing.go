package takeoff

import (
	"errors"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
	"example.com/longpoint/stock/joint"
)

// takeCasing takes off the casing of every opening of a room, this side only.
//
// A door or a cased opening gets a head and two legs, a window a frame of four. The
// short points follow the jambs with the reveal: head opening + 2·reveal, legs
// height + reveal (less the floor gap). Each mitered end adds width/tan 45°, the width.
// For the legs left is the lower end.
func takeCasing(path string, r *Room, s Scheme, opt Options, list *List) error {
	if s.Casing == nil {
		return nil
	}
	p := *s.Casing
	p.Use = stock.Casing
	miter, err := joint.Of(p, stock.End{Kind: stock.FlatMiter})
	if err != nil {
		return err
	}
	for wi, w := range r.Walls {
		for oi, o := range w.Openings {
			if o.Kind == PlainOpening || o.Existing != 0 {
				continue
			}
			if o.height() <= 0 {
				return &stock.FieldError{
					Field: path + "." + indexed("walls", wi) + "." + indexed("openings", oi) + ".height",
					Value: o.Height.String(), Want: "more than zero for a window that is cased",
				}
			}
			name := r.Name + " " + w.Name + " " + w.openingName(oi) + " casing"
			c := casing{p: p, miter: miter, name: name, room: r.Name, wall: w.Name, list: list}
			across := []stock.Allowance{{Name: "opening", Length: o.Width}}
			if rv := o.reveal(); rv != 0 {
				across = append(across, stock.Allowance{Name: "reveal at left", Length: rv}, stock.Allowance{Name: "reveal at right", Length: rv})
			}
			up := []stock.Allowance{{Name: "height", Length: o.height()}}
			if rv := o.reveal(); rv != 0 {
				up = append(up, stock.Allowance{Name: "reveal at top", Length: rv})
			}
			list.Joints.FlatMiters += 2
			if o.Kind == Window {
				list.Joints.FlatMiters += 2
				if rv := o.reveal(); rv != 0 {
					up = append(up, stock.Allowance{Name: "reveal at bottom", Length: rv})
				}
				err = errors.Join(c.add("leg left", up, true), c.add("leg right", up, true), c.add("head", across, true), c.add("foot", across, true))
			} else {
				if opt.FloorGap >= o.height() {
					return &stock.FieldError{Field: "floor_gap", Value: opt.FloorGap.String(), Want: "less than the height of " + name}
				}
				if opt.FloorGap != 0 {
					up = append(up, stock.Allowance{Name: "floor gap", Length: -opt.FloorGap})
				}
				err = errors.Join(c.add("leg left", up, false), c.add("leg right", up, false), c.add("head", across, true))
			}
			if err != nil {
				return err
			}
		}
	}
	return nil
}

// casing adds the pieces around one opening to the list.
type casing struct {
	p          stock.Profile
	miter      joint.Cut
	name       string
	room, wall string
	list       *List
}

// add adds a piece whose short-point length is the sum of short, mitered at the right
// (upper) end and, where both is set, at the left (lower) end too.
func (c casing) add(part string, short []stock.Allowance, both bool) error {
	as := append([]stock.Allowance(nil), short...)
	ends := []string{"upper end"}
	left := stock.End{}
	if both {
		ends, left = []string{"one end", "other end"}, c.miter.End
	}
	for _, e := range ends {
		as = append(as, stock.Allowance{Name: "miter at " + e, Length: c.miter.Allowance})
	}
	var length measure.Length
	for _, a := range as {
		length += a.Length // bounded by validation far below overflow
	}
	label := c.name + " " + part
	if longest := c.p.Longest(); longest > 0 && length > longest {
		return &RunError{Run: label, Length: length, Err: &stock.FieldError{
			Field: "casing.lengths", Value: longest.String(),
			Want: "a usable stick that is long enough, because casing is not spliced",
		}}
	}
	c.list.Runs = append(c.list.Runs, stock.Run{
		Label: label, Profile: c.p.Name, Use: stock.Casing, Room: c.room, Wall: c.wall,
		Net: length, Length: length, Left: left, Right: c.miter.End, Allowances: as,
	})
	c.list.Pieces = append(c.list.Pieces, stock.Piece{
		Label: label, Length: length, Profile: c.p.Name, Run: label, Part: 1, Parts: 1,
		Left: left, Right: c.miter.End, Allowances: as,
	})
	return nil
}
