package schedule

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/internal/kind"
	"example.com/longpoint/measure"
)

// Activity is work done without interruption by one crew. A coat is a separate activity.
type Activity struct {
	ID   string `json:"id"`             // name for links; required and unique
	Name string `json:"name,omitempty"` // the work, for people; "" = ID
	Job  string `json:"job,omitempty"`  // the trim on which it is done, for people
	Room string `json:"room,omitempty"` // where, for people

	Labor  measure.Duration `json:"labor,omitempty"`                                     // person-hours, shared by the people of the crew; >= 0
	People int64            `json:"people,omitempty" zero:"1 or more, or nothing for 1"` // least crew size, such as 2 for crown; 0 = 1
	Skill  string           `json:"skill,omitempty"`                                     // that a crew must have for it; "" = any crew does

	After     []Link    `json:"after,omitempty"`     // the activities for which it waits
	NotBefore time.Time `json:"not_before,omitzero"` // when its material is on site; zero = from the start

	// Dry is the clock time after its end until work over it may continue. Only dusty work
	// in the zone of a wet coat waits for it automatically: work over the coat needs a link
	// with that lag.
	Dry  measure.Duration `json:"dry,omitempty"`
	Cure measure.Duration `json:"cure,omitempty"` // clock time after its end until it may be used; 0 = Dry, else >= Dry

	Zone  string `json:"zone,omitempty"`  // the air in which it is done; activities that name the same zone, even "", share it
	Dusty bool   `json:"dusty,omitempty"` // raises dust, as sanding does
	Wet   bool   `json:"wet,omitempty"`   // no dusty work in its zone from its start until Dry is over
}

// UnmarshalJSON reads an activity; a zero for the number of people is a *[measure.FieldError].
func (a *Activity) UnmarshalJSON(data []byte) error {
	type plain Activity
	return fault.Unmarshal(data, (*plain)(a))
}

// LinkType tells which ends of two activities a link connects. The zero LinkType is the
// usual one.
type LinkType uint8

const (
	LinkFinishStart  LinkType = iota // it starts once the other has finished
	LinkStartStart                   // it starts once the other has started
	LinkFinishFinish                 // it finishes once the other has finished
	LinkStartFinish                  // it finishes once the other has started
)

var linkNames = []string{"finish-start", "start-start", "finish-finish", "start-finish"}

// String returns the name, such as "finish-start".
func (t LinkType) String() string { return kind.Text("LinkType", linkNames, t) }

// MarshalText writes the name.
func (t LinkType) MarshalText() ([]byte, error) {
	return kind.Marshal("LinkType", "a type of link", linkNames, t)
}

// UnmarshalText reads a name; any other text is a *[measure.FieldError].
func (t *LinkType) UnmarshalText(text []byte) error {
	return kind.Unmarshal("a type of link", linkNames, text, t)
}

// Link makes an activity wait for another.
type Link struct {
	ID      string           `json:"id"`                // of the activity for which it waits
	Type    LinkType         `json:"type,omitempty"`    // finish to start if omitted
	Lag     measure.Duration `json:"lag,omitempty"`     // time between the two; less than 0 is a lead
	Working bool             `json:"working,omitempty"` // Lag is working time; else clock time, which also passes at night, as for drying
}

// check reports the faults of an activity by itself.
func (a *Activity) check(bad *fault.List, at string) {
	switch {
	case a.ID == "":
		bad.Add(at+".id", a.ID, "a name")
	case a.Labor < 0:
		bad.Add(at+".labor", a.Labor, "zero or more")
	case a.People < 0 || a.People > maxCrews:
		bad.Add(at+".people", a.People, "0 to "+strconv.Itoa(maxCrews))
	case a.Dry < 0:
		bad.Add(at+".dry", a.Dry, "zero or more")
	case a.Cure != 0 && a.Cure < a.Dry:
		bad.Add(at+".cure", a.Cure, "zero or at least as long as dry ("+a.Dry.String()+")")
	case a.Dusty && a.Wet:
		bad.Add(at+".dusty", a.Dusty, "false for wet work")
	}
}

// network is a list of activities with valid links.
type network struct {
	all   []Activity
	waits [][]int // for each link of an activity, the index of its predecessor
	order []int   // indices in topological order
}

// networkOf checks activities. It reports all faults, but only one cycle.
func networkOf(activities []Activity) (*network, error) {
	var bad fault.List
	index := make(map[string]int, len(activities))
	for i := range activities {
		a, at := &activities[i], "activities["+strconv.Itoa(i)+"]"
		a.check(&bad, at)
		if _, twice := index[a.ID]; twice && a.ID != "" {
			bad.Add(at+".id", a.ID, "a name that no other has")
		} else {
			index[a.ID] = i
		}
	}
	n := &network{all: activities, waits: make([][]int, len(activities))}
	for i, a := range activities {
		for k, l := range a.After {
			at := "activities[" + strconv.Itoa(i) + "].after[" + strconv.Itoa(k) + "]"
			if int(l.Type) >= len(linkNames) {
				bad.Add(at+".type", l.Type, kind.OneOf("a type of link", linkNames))
			}
			j, ok := index[l.ID]
			switch {
			case !ok || l.ID == "":
				bad.Add(at+".id", l.ID, "the ID of an activity")
			case i == j:
				bad.Add(at+".id", l.ID, "the ID of another activity")
			}
			n.waits[i] = append(n.waits[i], j)
		}
	}
	if len(bad) > 0 {
		return nil, bad.Err()
	}
	return n, n.sort()
}

// sort puts the activities in topological order, as close to the given order as
// possible; a cycle is an error that names it.
func (n *network) sort() error {
	const unseen, open, done = 0, 1, 2
	mark := make([]uint8, len(n.all))
	type place struct{ activity, link int }
	for root := range n.all {
		if mark[root] != unseen {
			continue
		}
		stack := []place{{root, 0}}
		mark[root] = open
		for len(stack) > 0 {
			top := &stack[len(stack)-1]
			i := top.activity
			if top.link == len(n.waits[i]) {
				mark[i] = done
				n.order = append(n.order, i)
				stack = stack[:len(stack)-1]
				continue
			}
			j := n.waits[i][top.link]
			top.link++
			switch mark[j] {
			case unseen:
				mark[j] = open
				stack = append(stack, place{j, 0})
			case open:
				from := slices.IndexFunc(stack, func(p place) bool { return p.activity == j })
				var names []string
				for _, p := range stack[from:] {
					names = append(names, n.all[p.activity].ID)
				}
				return fault.Field("activities["+strconv.Itoa(i)+"].after["+strconv.Itoa(top.link-1)+"].id", n.all[j].ID,
					"no cycle; this link closes one: "+cycle(append(names, n.all[j].ID)))
			}
		}
	}
	return nil
}

// cycle describes a cycle, without its middle if it is long.
func cycle(names []string) string {
	const most = 12
	for i, s := range names {
		if len(s) > 40 {
			names[i] = strings.ToValidUTF8(s[:40], "") + "..."
		}
	}
	if len(names) > most {
		names = slices.Concat(names[:most/2], []string{"..."}, names[len(names)-most/2:])
	}
	return strings.Join(names, " waits for ")
}

// share returns the time of labor shared by people, rounded up.
func share(labor measure.Duration, people int64) measure.Duration {
	people = max(people, 1)
	d := int64(labor) / people
	if int64(labor)%people > 0 {
		d++
	}
	return measure.Duration(d)
}
