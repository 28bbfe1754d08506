package takeoff

import (
	"fmt"
	"strconv"
)

// openingName returns the name of opening i of the wall: its own, or its kind
// with a number where the wall has several of that kind.
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
	if count == 1 {
		return o.Kind.String()
	}
	return o.Kind.String() + " " + strconv.Itoa(rank)
}

// numbered returns the label itself where there is one of n, else the label with
// "k/n" behind it. The label ends in the name of the trim, so no two differ only
// in what a wall is called.
func numbered(label string, k, n int) string {
	if n == 1 {
		return label
	}
	return fmt.Sprintf("%s %d/%d", label, k, n)
}

// indexed returns the path of one element, such as "walls[2]".
func indexed(field string, i int) string { return fmt.Sprintf("%s[%d]", field, i) }
