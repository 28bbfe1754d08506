package scribe

import (
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// SashDepths are the distances from the face of the wall to the sash of a window, or to the
// stop that its stool meets: at each jamb, and again at the end of the horn, since walls
// bow. All are more than zero.
type SashDepths struct {
	LeftJamb  measure.Length `json:"left_jamb"`
	LeftHorn  measure.Length `json:"left_horn,omitzero" zero:"a depth, or nothing if it is as at the jamb"` // zero means the same as at the jamb
	RightJamb measure.Length `json:"right_jamb"`
	RightHorn measure.Length `json:"right_horn,omitzero" zero:"a depth, or nothing if it is as at the jamb"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero depth at a horn is
// a [*measure.FieldError].
func (d *SashDepths) UnmarshalJSON(data []byte) error {
	type plain SashDepths
	return fault.Unmarshal(data, (*plain)(d))
}

// A Stool is the inner sill of a window, notched around the jambs so that its horns lie on
// the wall.
type Stool struct {
	Width measure.Length `json:"width"` // clear between the jambs
	Horn  measure.Length `json:"horn"`  // from the jamb's face to the end of the stool: reveal, casing and overhang
	Sash  SashDepths     `json:"sash"`
	Nose  measure.Length `json:"nose"` // projection beyond the wall

	// Clear is the gap left at the sash; zero means 1/16 in (common practice, no
	// source), and in JSON is an error.
	Clear measure.Length `json:"clear,omitzero" zero:"a gap such as \"1/8in\", or nothing for 1/16in"`
}

// UnmarshalJSON reads an object with the names of the fields. A zero Clear is a
// [*measure.FieldError].
func (s *Stool) UnmarshalJSON(data []byte) error {
	type plain Stool
	return fault.Unmarshal(data, (*plain)(s))
}

// A StoolCut describes the notches at both ends of a stool that let its horns lie on the
// wall.
type StoolCut struct {
	Length measure.Length `json:"length"` // from horn to horn
	Width  measure.Length `json:"width"`  // required width of the stock: the deepest notch and the nose
	Along  measure.Length `json:"along"`  // of a notch: the horn

	// The depths of the two notches at the jamb and at the end of the horn. If they differ,
	// the notch is cut along the slanted line.
	LeftJamb  measure.Length `json:"left_jamb"`
	LeftHorn  measure.Length `json:"left_horn"`
	RightJamb measure.Length `json:"right_jamb"`
	RightHorn measure.Length `json:"right_horn"`
}

// Notch returns the cuts. The error joins a [*measure.FieldError] for each field out of
// range, and for each depth that is not more than Clear.
func (s Stool) Notch() (StoolCut, error) {
	var bad fault.List
	if s.Width <= 0 || s.Width > maxAlong {
		bad.Add("width", s.Width.About(), "more than zero, at most a mile")
	}
	across(&bad, "horn", s.Horn, 0)
	across(&bad, "nose", s.Nose, 0)
	across(&bad, "clear", s.Clear, 0)
	clear := s.Clear
	if clear == 0 {
		clear = measure.Inch / 16
	}
	depth := func(field string, l, same measure.Length) measure.Length {
		if l == 0 {
			l = same
		}
		if (l <= clear || l > maxAcross) && clear > 0 {
			bad.Add(field, l.About(), "more than "+clear.About()+", at most 1000 ft")
		}
		return l - clear
	}
	c := StoolCut{Length: s.Width + 2*s.Horn, Along: s.Horn}
	c.LeftJamb = depth("sash.left_jamb", s.Sash.LeftJamb, 0)
	c.LeftHorn = depth("sash.left_horn", s.Sash.LeftHorn, s.Sash.LeftJamb)
	c.RightJamb = depth("sash.right_jamb", s.Sash.RightJamb, 0)
	c.RightHorn = depth("sash.right_horn", s.Sash.RightHorn, s.Sash.RightJamb)
	if err := bad.Err(); err != nil {
		return StoolCut{}, err
	}
	c.Width = max(c.LeftJamb, c.LeftHorn, c.RightJamb, c.RightHorn) + s.Nose
	return c, nil
}
