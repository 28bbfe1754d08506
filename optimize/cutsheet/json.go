package cutsheet

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// The identification of the JSON; see the package comment for the schema.
const (
	format  = "longpoint cut sheet"
	version = 3 // the newest, and the one that is written
)

// document is the JSON of a sheet, version 1 to 3.
type document struct {
	Format   string            `json:"format"`
	Version  *int64            `json:"version"`
	Title    string            `json:"title,omitempty"`
	Job      string            `json:"job,omitempty"`
	Date     string            `json:"date,omitempty"`
	Revision string            `json:"revision,omitempty"`
	Hold     []Hold            `json:"hold,omitempty"`
	Money    measure.Currency  `json:"money,omitzero"`
	Profile  *stock.Profile    `json:"profile,omitempty"`
	Problem  *optimize.Problem `json:"problem"`
	Plan     *optimize.Plan    `json:"plan"`
	Care     []shortRemnant    `json:"care,omitempty"`
}

// shortRemnant is a piece of a pattern that is cut from a remnant shorter than
// Problem.MinRemnant.
type shortRemnant struct {
	Pattern int            `json:"pattern"`
	Place   int            `json:"place"` // in Pattern.Pieces
	Remnant measure.Length `json:"remnant"`
}

// shortRemnants lists them, pattern by pattern.
func (s *Sheet) shortRemnants() (all []shortRemnant) {
	for k := range s.patterns {
		p := &s.patterns[k]
		for n := range p.bays {
			for j := p.bays[n].first; j < p.bays[n].end; j++ {
				if r, ok := p.remnant(&p.bays[n], j); ok && r < s.least() {
					all = append(all, shortRemnant{k, j, r})
				}
			}
		}
	}
	return all
}

// WriteJSON writes everything from which the sheet was made, except the options that belong to
// the reader: [ReadJSON] reads back the same problem and plan. The error is that of w.
func (s *Sheet) WriteJSON(w io.Writer) error {
	s = s.orEmpty()
	v := int64(version)
	o := &s.options
	d := document{
		Format: format, Version: &v, Title: o.Title, Job: o.Job, Date: o.Date, Revision: o.Revision, Hold: o.Hold,
		Money: o.Locale.Currency, Profile: o.Profile, Problem: &s.problem, Plan: s.plan, Care: s.shortRemnants(),
	}
	return json.NewEncoder(w).Encode(&d) // one write
}

// ReadJSON reads the output of [Sheet.WriteJSON]: a problem, a plan for it, and options with
// the title, the job, its date and revision, the rooms that wait, the money and the profile. It
// does not check the plan; [New], which makes the sheet again, does.
//
// Unknown fields are ignored. From versions 1 and 2, whose proofs had a different form, the
// plan is read without its proof: see [optimize.Plan.WithoutProof]. The errors are a
// [*FormatError] for text that is not a cut sheet, in which Err joins a [*measure.FieldError]
// for each value that cannot be read (plan.stop); a [*VersionError] for another version; and
// that of r.
func ReadJSON(r io.Reader) (optimize.Problem, *optimize.Plan, *Options, error) {
	fail := func(err error) (optimize.Problem, *optimize.Plan, *Options, error) {
		return optimize.Problem{}, nil, nil, err
	}
	data, err := io.ReadAll(r)
	if err != nil {
		return fail(err)
	}
	// First the fields that all versions have; the others may have changed their form.
	var head struct {
		Format  any          `json:"format"`
		Version *json.Number `json:"version"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return fail(&FormatError{"the text is no JSON object with a format and a version", err})
	}
	if head.Format == nil {
		return fail(&FormatError{fmt.Sprintf("there is no format, want %q", format), nil})
	}
	if head.Format != format {
		return fail(&FormatError{fmt.Sprintf("the format is %.40q, want %q", fmt.Sprint(head.Format), format), nil})
	}
	if head.Version == nil {
		return fail(&VersionError{})
	}
	switch v, err := head.Version.Int64(); {
	case err != nil:
		return fail(&FormatError{"the version is no whole number", err})
	case v < 1 || v > version:
		return fail(&VersionError{v})
	case v < 3:
		data = newNames(data)
	}
	var d document
	if head.Version.String() == "1" || head.Version.String() == "2" {
		err = d.readOld(data)
	} else if err = json.Unmarshal(data, &d); err != nil {
		err = cmp.Or(placed(data), err)
	}
	if err != nil {
		return fail(&FormatError{"the text is no cut sheet of version " + head.Version.String(), err})
	}
	if d.Problem == nil || d.Plan == nil {
		return fail(&FormatError{"the problem or the plan is missing", nil})
	}
	return *d.Problem, d.Plan, &Options{
		Title: d.Title, Job: d.Job, Date: d.Date, Revision: d.Revision, Hold: d.Hold,
		Locale: measure.Locale{Currency: d.Money}, Profile: d.Profile,
	}, nil
}

// placed returns a fault for each value of a document that cannot be read, with its path, or
// nil if there is none. It ignores unknown names.
func placed(data []byte) error {
	var f fault.List
	for e := range measure.FieldErrors(measure.UnmarshalStrict(data, new(document))) {
		if !strings.HasPrefix(e.Want, "one of the names here: ") && e.Want != "a name that occurs here once" {
			f.Under("", e)
		}
	}
	return f.Err()
}
