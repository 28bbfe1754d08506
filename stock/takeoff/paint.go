package takeoff

import (
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// Paint is the paint on old trim. Old paint may contain lead: before any of it is sanded,
// scraped or cut, have it tested, and leave the work to certified people if the law requires
// it.
type Paint struct {
	Coats int `json:"coats,omitempty"` // from 0 to 100

	// Coat is the dry thickness of one coat; zero means 1.75/1000 in, between the 1.5 and 2 to
	// which 4/1000 in of wall paint dries (American Painting Contractor). In JSON a zero is an
	// error.
	Coat measure.Length `json:"coat,omitzero" zero:"a thickness such as \"0.002in\", or nothing for 0.00175in"`
}

// UnmarshalJSON reads an object by the names of the fields. A zero coat is a *measure.FieldError.
func (p *Paint) UnmarshalJSON(data []byte) error {
	type plain Paint
	return fault.Unmarshal(data, (*plain)(p))
}

const usualCoat = 7 * measure.Inch / 4000

// Film returns the thickness of all coats: the growth of trim on each painted face. A groove
// narrows by twice as much. If the paint is invalid it is zero; see Take.
func (p Paint) Film() measure.Length {
	if p.validate() != nil {
		return 0
	}
	if p.Coat == 0 {
		p.Coat = usualCoat
	}
	return measure.Length(p.Coats) * p.Coat
}

// over returns the section of a profile with the paint on its face and on its upper edge.
func (p Paint) over(q stock.Profile) (thickness, height measure.Length) {
	return q.Thickness + p.Film(), q.Width + p.Film()
}

func (p Paint) validate() error {
	var bad faults
	if p.Coats < 0 || p.Coats > 100 {
		bad.Add("coats", strconv.Itoa(p.Coats), "from 0 to 100")
	}
	bad.length("coat", p.Coat, 0, measure.Inch)
	return bad.Err()
}
