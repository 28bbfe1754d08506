package takeoff

import (
	"fmt"
	"strconv"
	"strings"
)

// openingName returns the name of opening i of the wall: its own, or its kind, with a number if
// the wall has several of that kind.
func (w Wall) openingName(i int) string {
	o := w.Openings[i]
	if o.Name != "" {
		return o.Name
	}
	rank, count := 0, 0
	for j, p := range w.Openings {
		if p.Kind == o.Kind && p.Name == "" {
			count++
			if j <= i {
				rank++
			}
		}
	}
	kind := o.Kind.String()
	if o.Kind == OpeningPlain {
		kind = "opening with drywall return"
	}
	if count == 1 {
		return kind
	}
	return kind + " " + strconv.Itoa(rank)
}

// readings are the ways to form a label from the names of room, wall and opening, the usual one
// first. The last is unambiguous for any names.
var readings = []func(names []string) string{
	func(names []string) string { return strings.Join(names, " ") },
	func(names []string) string { return strings.Join(names, ", ") },
	func(names []string) string {
		quoted := make([]string, len(names))
		for i, n := range names {
			quoted[i] = strconv.Quote(n)
		}
		return strings.Join(quoted, " ")
	},
}

// calls returns the label of each place: its names one after the other, but if two would have
// the same label, such as wall "left" of room "hall N" and wall "N left" of room "hall", the
// next reading of both. No two places have the same names.
func calls(places [][]string) []string {
	level, called := make([]int, len(places)), make([]string, len(places))
	for i, names := range places {
		called[i] = readings[0](names)
	}
	for again := true; again; {
		again = false
		count := map[string]int{}
		for _, c := range called {
			count[c]++
		}
		for i, names := range places {
			if count[called[i]] > 1 && level[i] < len(readings)-1 {
				level[i]++
				called[i] = readings[level[i]](names)
				again = true
			}
		}
	}
	return called
}

// labels are the labels of the walls of all rooms and their openings. Pieces for a wall and for
// an opening differ in the kind of trim at the end of the label, and no kind of trim is the end
// of another.
type labels struct {
	walls    [][]string   // by room and wall
	members  [][][]string // by calling, room and wall
	openings [][][]string // by room, wall and opening
}

// newLabels also forms labels with the names of members of assemblies, if their kind of trim
// does not distinguish them from all others.
func newLabels(rooms []Room, callings ...[]string) labels {
	var walls, openings [][]string
	for k := -1; k < len(callings); k++ {
		for _, r := range rooms {
			for _, w := range r.Walls {
				names := []string{r.Name, w.Name}
				if k >= 0 {
					names = append(names, callings[k]...)
				}
				walls = append(walls, names)
			}
		}
	}
	for _, r := range rooms {
		for _, w := range r.Walls {
			for i := range w.Openings {
				openings = append(openings, []string{r.Name, w.Name, w.openingName(i)})
			}
		}
	}
	wall, opening := calls(walls), calls(openings)
	var l labels
	for _, r := range rooms {
		l.walls = append(l.walls, wall[:len(r.Walls)])
		wall = wall[len(r.Walls):]
		var ofRoom [][]string
		for _, w := range r.Walls {
			ofRoom = append(ofRoom, opening[:len(w.Openings)])
			opening = opening[len(w.Openings):]
		}
		l.openings = append(l.openings, ofRoom)
	}
	for range callings {
		var of [][]string
		for _, r := range rooms {
			of = append(of, wall[:len(r.Walls)])
			wall = wall[len(r.Walls):]
		}
		l.members = append(l.members, of)
	}
	return l
}

// of returns the labels of the walls of a room, by course.called.
func (l labels) of(room int) [][]string {
	called := [][]string{l.walls[room]}
	for _, of := range l.members {
		called = append(called, of[room])
	}
	return called
}

// numbered returns the label itself if it is the only one, else the label followed by "k of n".
func numbered(label string, k, n int) string {
	if n == 1 {
		return label
	}
	return fmt.Sprintf("%s %d of %d", label, k, n)
}

// letters names run i of several on a wall: A, B, ..., Z, AA, AB. A number would be confused
// with that of a part after it.
func letters(i int) string {
	s := string(rune('A' + i%26))
	if i < 26 {
		return s
	}
	return letters(i/26-1) + s
}

// indexed returns the path of one element, such as "walls[2]".
func indexed(field string, i int) string { return fmt.Sprintf("%s[%d]", field, i) }
