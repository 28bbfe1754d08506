package main

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
)

// fault is the fault of one field, in words for the user.
type fault struct {
	Field   string   `json:"field"` // such as pieces[2].length, by rows of the form; empty for the whole form
	Message string   `json:"message"`
	Choices []string `json:"choices,omitempty"` // possible meanings, to be put in its place
}

// blame finds the fields of an error.
func (f *form) blame(err error) []fault {
	if never := (*optimize.InfeasibleError)(nil); errors.As(err, &never) {
		return []fault{f.infeasible(never)}
	}
	if limit := (*optimize.LimitError)(nil); errors.As(err, &limit) {
		return []fault{{Message: "No plan was found yet: " + limit.Stop.String() + "."}}
	}
	var all []fault
	for bad := range measure.FieldErrors(err) {
		field, rest := f.place(strings.ToLower(bad.Field))
		message := fmt.Sprintf("It is %s: want %s.", bad.Value, bad.Want)
		if rest != "" {
			message = fmt.Sprintf("%s is %s: want %s.", rest, bad.Value, bad.Want)
		}
		all = append(all, fault{Field: field, Message: message})
	}
	if len(all) == 0 {
		all = append(all, fault{Message: err.Error()})
	}
	return all
}

func (f *form) infeasible(e *optimize.InfeasibleError) fault {
	missing := fmt.Sprintf("Too long by %s: the longest stick has %s to use.", (e.Need - e.Have).About(e.Have), e.Have.About())
	switch {
	case e.Reason == optimize.ReasonPieceTooLong && e.Stick >= 0:
		return fault{Field: fmt.Sprintf("pieces[%d].length", f.pieceRow[e.Piece]), Message: missing}
	case e.Reason == optimize.ReasonPieceTooLong:
		return fault{Field: fmt.Sprintf("pieces[%d].grade", f.pieceRow[e.Piece]), Message: "No stick that can be had is good enough for it."}
	case e.Reason == optimize.ReasonRunTooLong && strings.TrimSpace(f.Runs[f.runRow[e.Run]].At) == "":
		return fault{Field: fmt.Sprintf("runs[%d].at", f.runRow[e.Run]), Message: "The run is longer than every stick: say where it may be spliced, such as every 16 from 7 1/4."}
	case e.Reason == optimize.ReasonRunTooLong:
		return fault{Field: fmt.Sprintf("runs[%d].at", f.runRow[e.Run]), Message: "However it is spliced at these places, some part is longer than every stick."}
	case e.Group >= 0:
		return fault{Field: f.group(e.Group), Message: "The pieces of this set cannot be cut together: " + string(e.Reason) + "."}
	}
	return fault{Message: "The sticks that can be had are not enough: " + string(e.Reason) + "."}
}

// group returns the field of the first piece of a set.
func (f *form) group(g int) string {
	seen := map[string]bool{}
	for _, i := range f.pieceRow {
		name := strings.TrimSpace(f.Pieces[i].Set)
		if name == "" || seen[name] {
			continue
		}
		if len(seen) == g {
			return fmt.Sprintf("pieces[%d].set", i)
		}
		seen[name] = true
	}
	return "pieces"
}

var (
	rowPath  = regexp.MustCompile(`^(sticks|pieces|runs)\[(\d+)\]\.(.+)$`)
	numbered = regexp.MustCompile(`\[\d+\].*$`)
)

// fields maps the fields of a row to their names in a problem.
var fields = map[string]map[string]string{
	"sticks": {"length": "length", "price": "price", "limit": "limit", "label": "label", "trim_start": "trim_start", "trim_end": "trim_end", "defects": "defects", "grade": "grade", "lot": "lot", "rack": "rack"},
	"pieces": {"label": "label", "length": "length", "quantity": "quantity", "symmetry": "symmetry", "grade": "grade",
		"left": "left_angle", "right": "right_angle", "left.kind": "left_kind", "left.angle": "left_angle", "left.setback": "left_setback", "right.kind": "right_kind", "right.angle": "right_angle", "right.setback": "right_setback"},
	"runs": {"label": "label", "length": "length", "splice.at": "at", "splice.overlap": "overlap", "splice.bevel": "bevel", "splice.min_part": "min_part", "splice.max_splices": "most", "splice.price": "price",
		"left": "left_angle", "right": "right_angle", "left.kind": "left_kind", "left.angle": "left_angle", "left.setback": "left_setback", "right.kind": "right_kind", "right.angle": "right_angle", "right.setback": "right_setback"},
}

// place finds the field of the form for a path of the problem. If the form has none, it is the
// length of the row, and rest names the field.
func (f *form) place(path string) (field, rest string) {
	var g int
	if n, _ := fmt.Sscanf(path, "rules.groups[%d]", &g); n == 1 {
		return f.group(g), ""
	}
	m := rowPath.FindStringSubmatch(path)
	if m == nil {
		return path, ""
	}
	k, err := strconv.Atoi(m[2])
	rows := map[string][]int{"sticks": f.stickRow, "pieces": f.pieceRow, "runs": f.runRow}[m[1]]
	if err != nil || k >= len(rows) {
		return path, ""
	}
	row := fmt.Sprintf("%s[%d].", m[1], rows[k])
	if name := fields[m[1]][numbered.ReplaceAllString(m[3], "")]; name != "" {
		return row + name, ""
	}
	return row + "length", m[3]
}
