package labor

import (
	"slices"

	"example.com/longpoint/finish"
	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// A Skill names the skill for a task. If several apply to a line, the last one is used, so
// that exceptions follow the general entries.
type Skill struct {
	Tasks  []finish.Task  `json:"tasks,omitempty"`  // none is all
	Roles  []stock.Role   `json:"roles,omitempty"`  // of trim; none is any
	Course bool           `json:"course,omitempty"` // stone and tile only
	Longer measure.Length `json:"longer,omitempty"` // if a part is longer; 0 = any, >= 0
	Name   string         `json:"name"`             // of the skill, such as "carpenter"; "" = anyone
	People int64          `json:"people,omitempty"` // least number at once; 0 = 1
}

func (s *Skill) validate() error {
	var f fault.List
	for i, t := range s.Tasks {
		if !known(t) {
			f.Add(fault.At("tasks", i), uint8(t), "a known task")
		}
	}
	checkRoles(&f, s.Roles)
	if s.Longer < 0 {
		f.Add("longer", s.Longer.About(), "zero or more")
	}
	if s.People < 0 {
		f.Add("people", s.People, "zero or more")
	}
	return f.Err()
}

// who returns the skill and the number of people for a line.
func (c *counter) who(line *Line, w *jobOf) (string, int64) {
	for i := len(c.rates.Skills) - 1; i >= 0; i-- {
		s := &c.rates.Skills[i]
		if (len(s.Tasks) == 0 || slices.Contains(s.Tasks, line.Task)) && (len(s.Roles) == 0 || slices.Contains(s.Roles, line.Role)) &&
			(!s.Course || w.course) && (s.Longer == 0 || w.longest > s.Longer) {
			return s.Name, max(1, s.People)
		}
	}
	return "", 1
}
