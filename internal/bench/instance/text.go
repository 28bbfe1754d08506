package instance

import (
	"fmt"
	"io"
	"strconv"
	"strings"
)

// ReadText reads a class of bin packing instances. A line that starts with #
// is a comment; every other line is one instance, blanks between fields:
//
//	name capacity best_lb best_ub optimal length*demand length*demand ...
//
// All but the name are integers and lengths decrease. optimal is 1 when best_lb
// equals best_ub, otherwise 0. The cost is the number of bins.
func ReadText(class string, r io.Reader) ([]*Instance, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("class %s: %w", class, err)
	}
	var out []*Instance
	known := map[string]bool{}
	number := 0
	for line := range strings.Lines(string(text)) {
		number++
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		in, err := parseLine(line)
		if err == nil && known[in.Name] {
			err = fmt.Errorf("a second instance %s", in.Name)
		}
		if err != nil {
			return nil, fmt.Errorf("class %s, line %d: %w", class, number, err)
		}
		in.Class = class
		known[in.Name] = true
		out = append(out, in)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("class %s: no instances", class)
	}
	return out, nil
}

func parseLine(line string) (*Instance, error) {
	f := strings.Fields(line)
	if len(f) < 6 {
		return nil, fmt.Errorf("%d fields, want name, capacity, two bounds, optimal and at least one length", len(f))
	}
	in := &Instance{Name: f[0], Tick: 1}
	var head [4]int64
	for i, name := range []string{"capacity", "best_lb", "best_ub", "optimal"} {
		v, err := strconv.ParseInt(f[i+1], 10, 64)
		if err != nil {
			return nil, fmt.Errorf("%s is %q, want an integer", name, f[i+1])
		}
		head[i] = v
	}
	in.Sticks = []Source{{Length: head[0], Cost: 1, Limit: -1}}
	in.Lower, in.Upper = head[1], head[2]
	if head[0] <= 0 || head[0] >= totalLimit {
		return nil, fmt.Errorf("capacity is %d, want 1 to 1<<60-1", head[0])
	}
	if closed := in.Lower == in.Upper; head[3] != 0 && head[3] != 1 || closed != (head[3] == 1) {
		return nil, fmt.Errorf("optimal is %d with bounds %d and %d", head[3], in.Lower, in.Upper)
	}
	for _, s := range f[5:] {
		length, demand, ok := strings.Cut(s, "*")
		l, err1 := strconv.ParseInt(length, 10, 64)
		d, err2 := strconv.ParseInt(demand, 10, 64)
		if !ok || err1 != nil || err2 != nil {
			return nil, fmt.Errorf("%q, want length*demand", s)
		}
		in.Pieces = append(in.Pieces, Entry{l, d})
	}
	return in, in.check()
}
