package labor

import (
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/natural"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Factor is the factor by which a difficulty makes work longer. With Above or Under it
// applies automatically if both hold; without them, only if a [Condition] names it. Among
// factors with the same name, the largest that applies is used. No factor applies to set-up
// and clean-up.
type Factor struct {
	Name  string         `json:"name"`            // name used by a Condition; required
	By    measure.Ratio  `json:"by"`              // such as 130 %; more than 0, at most 1000 %
	Tasks []finish.Task  `json:"tasks,omitempty"` // tasks to which it applies; none means all
	Roles []stock.Role   `json:"roles,omitempty"` // of trim; none is any
	Above measure.Length `json:"above,omitempty"` // work at least this high above the floor, see [Lines]; >= 0
	Under measure.Area   `json:"under,omitempty"` // rooms with less floor area; >= 0

	Source    string `json:"source,omitempty"`    // publication, or "common practice, no source"
	Date      string `json:"date,omitempty"`      // when it was true, such as "2020s"
	Condition string `json:"condition,omitempty"` // the conditions in which it was observed
}

func (f *Factor) validate() error {
	var bad fault.List
	if f.Name == "" {
		bad.Add("name", "", "a name")
	}
	if f.By <= 0 || f.By > 10*whole {
		bad.Add("by", f.By, "more than 0%, at most 1000%")
	}
	for i, t := range f.Tasks {
		if !known(t) {
			bad.Add(fault.At("tasks", i), uint8(t), "a known task")
		}
	}
	checkRoles(&bad, f.Roles)
	if f.Above < 0 {
		bad.Add("above", f.Above.About(), "zero or more")
	}
	if f.Under < 0 {
		bad.Add("under", f.Under, "zero or more")
	}
	return bad.Err()
}

// given reports whether the factor applies only by a condition.
func (f *Factor) given() bool { return f.Above == 0 && f.Under == 0 }

// concerns reports whether the factor can apply to the work of a line.
func (f *Factor) concerns(task finish.Task, role stock.Role) bool {
	return (len(f.Tasks) == 0 || slices.Contains(f.Tasks, task)) && (len(f.Roles) == 0 || slices.Contains(f.Roles, role))
}

// A Condition applies a [Factor] to a room with old plaster, a profile of hardwood and the
// like.
type Condition struct {
	Factor  string `json:"factor"`            // its name
	Room    string `json:"room,omitempty"`    // "" = every room
	Profile string `json:"profile,omitempty"` // "" = every profile
}

// FactorUse is a factor applied to a line.
type FactorUse struct {
	Factor int           `json:"factor"` // index in Rates.Factors
	Name   string        `json:"name"`   // its name
	By     measure.Ratio `json:"by"`     // factor on the time
}

// factorsOf returns the factors of a line in the order of the table, and their product,
// rounded to the nearest part per million, half up, and limited to the cap.
func (c *counter) factorsOf(line *Line, w *jobOf) (used []FactorUse, product measure.Ratio, capped bool) {
	for i := range c.rates.Factors {
		f := &c.rates.Factors[i]
		if !f.concerns(line.Task, line.Role) || !c.applies(f, line, w) {
			continue
		}
		u := FactorUse{i, f.Name, f.By}
		if k := slices.IndexFunc(used, func(o FactorUse) bool { return o.Name == f.Name }); k < 0 {
			used = append(used, u)
		} else if f.By > used[k].By {
			used[k] = u
		}
	}
	product = whole
	for _, u := range used {
		p, ok := natural.Quotient(natural.HalfUp, []int64{int64(product), int64(u.By)}, []int64{int64(whole)})
		if !ok {
			return used, c.rates.Cap, true
		}
		product = measure.Ratio(p)
	}
	if product > c.rates.Cap {
		return used, c.rates.Cap, true
	}
	return used, product, false
}

func (c *counter) applies(f *Factor, line *Line, w *jobOf) bool {
	for _, k := range c.conditions {
		if k.Factor == f.Name && (k.Room == "" || k.Room == line.Room) && (k.Profile == "" || k.Profile == line.Profile) {
			return true
		}
	}
	if f.given() {
		return false
	}
	return w.height >= f.Above && (f.Under == 0 || w.floorKnown && w.floor < f.Under)
}
