package schedule

import (
	"slices"
	"strconv"

	"example.com/longpoint/internal/fault"
)

// Crew is a group of people who work on one activity at a time and share its labor.
type Crew struct {
	Name   string   `json:"name,omitempty"`                                      // for people; "" = its number
	People int64    `json:"people,omitempty" zero:"1 or more, or nothing for 1"` // people; 0 = 1, to 1000
	Skills []string `json:"skills,omitempty"`                                    // nil = all skills
}

// UnmarshalJSON reads a crew; a zero for its size is a *[measure.FieldError].
func (c *Crew) UnmarshalJSON(data []byte) error {
	type plain Crew
	return fault.Unmarshal(data, (*plain)(c))
}

func (c *Crew) people() int64 { return max(c.People, 1) }

// team is a set of interchangeable crews.
type team struct {
	people int64
	skills map[string]bool // nil: all
	crews  []int           // indices
}

// does reports whether the crews can do an activity.
func (t *team) does(a *Activity) bool { return t.people >= a.People && t.knows(a.Skill) }

func (t *team) knows(skill string) bool { return skill == "" || t.skills == nil || t.skills[skill] }

// teamsOf groups crews by size and skills, in the order of the first of each.
func teamsOf(crews []Crew) []team {
	var teams []team
	known := map[string]int{}
	for i := range crews {
		c := &crews[i]
		skills := slices.Compact(slices.Sorted(slices.Values(c.Skills)))
		key := strconv.AppendInt(nil, c.people(), 10)
		for _, s := range skills {
			key = strconv.AppendQuote(key, s)
		}
		k, ok := known[string(key)]
		if !ok {
			k = len(teams)
			known[string(key)] = k
			t := team{people: c.people()}
			for _, s := range skills {
				if t.skills == nil {
					t.skills = make(map[string]bool, len(skills))
				}
				t.skills[s] = true
			}
			teams = append(teams, t)
		}
		teams[k].crews = append(teams[k].crews, i)
	}
	return teams
}

// checkTeams reports activities that no crew can do, with the reason.
func checkTeams(activities []Activity, teams []team) error {
	var bad fault.List
	for i := range activities {
		a := &activities[i]
		if a.Labor == 0 || slices.ContainsFunc(teams, func(t team) bool { return t.does(a) }) {
			continue
		}
		at := "activities[" + strconv.Itoa(i) + "]"
		most, able := int64(0), int64(0)
		for _, t := range teams {
			most = max(most, t.people)
			if t.knows(a.Skill) {
				able = max(able, t.people)
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
