package schedule

import (
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
)

// Crew is people who work on one thing at a time and share its labor.
type Crew struct {
	Name   string   `json:"name,omitempty"`                                         // for people; "" = its number
	Size   int64    `json:"size,omitempty" zero:"1 or more, or leave it out for 1"` // people; 0 = 1, to 1000
	Skills []string `json:"skills,omitempty"`                                       // nil = all there are
}

// UnmarshalJSON reads a crew; a zero for its size is a *[measure.FieldError].
func (c *Crew) UnmarshalJSON(data []byte) error {
	type plain Crew
	return fault.Unmarshal(data, (*plain)(c))
}

// does reports whether the crew can do an activity.
func (c *Crew) does(a *Activity) bool {
	return c.people() >= a.People && c.knows(a.Skill)
}

func (c *Crew) knows(skill string) bool {
	return skill == "" || len(c.Skills) == 0 || slices.Contains(c.Skills, skill)
}

func (c *Crew) people() int64 { return max(c.Size, 1) }

// alike reports whether it makes no difference which of two crews does a thing.
func (c *Crew) alike(o *Crew) bool {
	if c.people() != o.people() || (len(c.Skills) == 0) != (len(o.Skills) == 0) {
		return false
	}
	known := func(by *Crew) func(string) bool { return func(s string) bool { return !slices.Contains(by.Skills, s) } }
	return !slices.ContainsFunc(c.Skills, known(o)) && !slices.ContainsFunc(o.Skills, known(c))
}

// checkCrews reports activities that no crew can do, and says why.
func checkCrews(activities []Activity, crews []Crew) error {
	var bad fault.List
	for i := range activities {
		a := &activities[i]
		if a.Labor == 0 || slices.ContainsFunc(crews, func(c Crew) bool { return c.does(a) }) {
			continue
		}
		at := "activities[" + strconv.Itoa(i) + "]"
		most, able := int64(0), int64(0)
		for _, c := range crews {
			most = max(most, c.people())
			if c.knows(a.Skill) {
				able = max(able, c.people())
			}
		}
		switch {
		case able == 0:
			bad.Add(at+".skill", a.Skill, "a skill that one of the crews has")
		case most < a.People:
			bad.Add(at+".people", a.People, "no more than the largest crew has ("+strconv.FormatInt(most, 10)+")")
		default:
			bad.Add(at+".people", a.People, "no more than the largest crew with that skill has ("+strconv.FormatInt(able, 10)+")")
		}
	}
	return bad.Err()
}
