package paper

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Identification of the JSON of the two documents.
const (
	proposalFormat = "longpoint proposal"
	sheetsFormat   = "longpoint day sheets"
	version        = 1
)

// proposalFile is the JSON of a proposal.
type proposalFile struct {
	Format   string    `json:"format"`
	Version  int64     `json:"version"`
	Proposal *Proposal `json:"proposal"`
}

// sheetsFile is the JSON of day sheets.
type sheetsFile struct {
	Format  string     `json:"format"`
	Version int64      `json:"version"`
	Sheets  *DaySheets `json:"day_sheets"`
}

// WriteJSON writes the complete proposal, for [ReadProposal] to read back: an object with
// the fields format ("longpoint proposal"), version (1) and proposal, in which lengths are
// text with their unit, amounts are minor units and dates are like "2026-12-01".
func (p *Proposal) WriteJSON(w io.Writer) error {
	if p == nil {
		p = new(Proposal)
	}
	if err := p.Validate(); err != nil {
		return err
	}
	return json.NewEncoder(w).Encode(&proposalFile{proposalFormat, version, p}) // one write
}

// WriteJSON writes the complete sheets, for [ReadDaySheets] to read back: an object with
// the fields format ("longpoint day sheets"), version (1) and day_sheets. Times are as in
// RFC 3339: they keep the clock time, but not the name of the location.
func (s *DaySheets) WriteJSON(w io.Writer) error {
	if s == nil {
		s = new(DaySheets)
	}
	if err := s.Validate(); err != nil {
		return err
	}
	return json.NewEncoder(w).Encode(&sheetsFile{sheetsFormat, version, s})
}

// ReadProposal reads the output of [Proposal.WriteJSON] and validates it. Every fault is a
// *[measure.FieldError] with its path in the file, all joined; unknown names, duplicate
// names and another format or version are faults, too. The other errors are those of r.
func ReadProposal(r io.Reader) (*Proposal, error) {
	var f proposalFile
	if err := read(r, proposalFormat, &f); err != nil {
		return nil, err
	}
	if f.Proposal == nil {
		return nil, fault.Field("proposal", "null", "an object")
	}
	if err := f.Proposal.Validate(); err != nil {
		return nil, fault.Under("proposal", err)
	}
	return f.Proposal, nil
}

// ReadDaySheets reads the output of [DaySheets.WriteJSON], as [ReadProposal] does.
func ReadDaySheets(r io.Reader) (*DaySheets, error) {
	var f sheetsFile
	if err := read(r, sheetsFormat, &f); err != nil {
		return nil, err
	}
	if f.Sheets == nil {
		return nil, fault.Field("day_sheets", "null", "an object")
	}
	if err := f.Sheets.Validate(); err != nil {
		return nil, fault.Under("day_sheets", err)
	}
	return f.Sheets, nil
}

// read reads a file of a format. It checks format and version first, since the field names
// of another format or version are not faults.
func read(r io.Reader, format string, file any) error {
	data, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	var head struct {
		Format  any `json:"format"`
		Version any `json:"version"`
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if d.Decode(&head) == nil {
		var l fault.List
		if head.Format != format {
			l.Add("format", said(head.Format), strconv.Quote(format))
		}
		if head.Version != json.Number(strconv.Itoa(version)) {
			l.Add("version", said(head.Version), strconv.Itoa(version))
		}
		if err := l.Err(); err != nil {
			return err
		}
	}
	return measure.UnmarshalStrict(data, file)
}

// said returns a JSON value as text, or "" if there is none.
func said(v any) string {
	if v == nil {
		return ""
	}
	return fmt.Sprint(v)
}
