package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// saved is a problem as the text of a file, or the faults of the form.
type saved struct {
	Text   string  `json:"text"`
	Faults []fault `json:"faults,omitempty"`
}

// save writes the JSON that optimize.Problem reads. The form must only be readable: solving
// checks whether the job is valid.
func (r *request) save() saved {
	f := form{request: r}
	p := f.problem()
	if len(f.faults) > 0 {
		return saved{Faults: f.faults}
	}
	text, err := json.MarshalIndent(p, "", "\t")
	if err != nil {
		return saved{Faults: []fault{{Message: err.Error()}}}
	}
	return saved{Text: string(text) + "\n"}
}

// opened is a file as a form, or its faults.
type opened struct {
	Form   *request `json:"form,omitempty"`
	Faults []fault  `json:"faults,omitempty"` // by path in the file
}

// openFile reads the JSON of a problem strictly. Data without a field in the form is kept: as
// More of its row, or of the whole.
func openFile(text string) opened {
	var p optimize.Problem
	if err := measure.UnmarshalStrict([]byte(strings.TrimPrefix(text, "\ufeff")), &p); err != nil {
		var all []fault
		for bad := range measure.FieldErrors(err) {
			all = append(all, fault{Field: bad.Field, Message: bad.Error()})
		}
		if len(all) == 0 {
			all = []fault{{Message: err.Error()}}
		}
		return opened{Faults: all}
	}
	for _, rows := range []struct {
		name string
		n    int
	}{{"sticks", len(p.Sticks)}, {"pieces", len(p.Pieces)}, {"runs", len(p.Runs)}} {
		if rows.n > mostRows {
			return opened{Faults: []fault{{Field: rows.name, Message: fmt.Sprintf("%s are %d: this page holds %d; the library itself takes more.", rows.name, rows.n, mostRows)}}}
		}
	}
	r := &request{Kerf: exact(p.Kerf), MinRemnant: text0(p.MinRemnant), Sticks: []stickRow{}, Pieces: []pieceRow{}, Runs: []runRow{}}
	for _, s := range p.Sticks {
		r.Sticks = append(r.Sticks, rowOfStick(s))
	}
	for _, x := range p.Pieces {
		r.Pieces = append(r.Pieces, rowOfPiece(x))
	}
	for _, x := range p.Runs {
		r.Runs = append(r.Runs, rowOfRun(x))
	}
	x := &p.Rules
	r.Rules = ruleFields{number(x.MaxPieces), text0(x.MinHold), yes(x.Nest), text0(x.MaxTransport), cents(x.YardCut), number(x.Spare)}
	if faults := r.nameSets(x.Groups); len(faults) > 0 {
		return opened{Faults: faults}
	}
	p.Sticks, p.Pieces, p.Runs, p.Kerf, p.MinRemnant = nil, nil, nil, 0, 0
	x.MaxPieces, x.MinHold, x.Nest, x.MaxTransport, x.YardCut, x.Spare, x.Groups = 0, 0, false, 0, 0, 0, nil
	r.More = more(p)
	return opened{Form: r}
}

func rowOfStick(s stock.Stick) stickRow {
	row := stickRow{
		Length: exact(s.Length), Price: cents(s.Price), Limit: number(s.Limit), Label: s.Label,
		TrimStart: text0(s.TrimStart), TrimEnd: text0(s.TrimEnd), Grade: number(s.Grade), Lot: s.Lot, Rack: yes(s.Rack),
	}
	if s.Limit == stock.SoldOut {
		row.Limit = soldOut
	}
	var defects []string
	for _, d := range s.Defects {
		defects = append(defects, exact(d.From)+" to "+exact(d.To))
	}
	row.Defects = strings.Join(defects, "; ")
	s.Length, s.Price, s.Limit, s.Label, s.TrimStart, s.TrimEnd, s.Defects, s.Grade, s.Lot, s.Rack = 0, 0, 0, "", 0, 0, nil, 0, "", false
	row.More = more(s)
	return row
}

func rowOfPiece(p stock.Piece) pieceRow {
	row := pieceRow{Label: p.Label, Length: exact(p.Length), Quantity: number(p.Quantity), Symmetry: word(p.Symmetry != 0, p.Symmetry), Grade: number(p.Grade)}
	row.LeftKind, row.LeftAngle, row.LeftSetback = textsOfEnd(p.Left)
	row.RightKind, row.RightAngle, row.RightSetback = textsOfEnd(p.Right)
	p.Label, p.Length, p.Quantity, p.Left, p.Right, p.Symmetry, p.Grade = "", 0, 0, stock.End{}, stock.End{}, 0, 0
	row.More = more(p)
	return row
}

func rowOfRun(r stock.Run) runRow {
	s := &r.Splice
	row := runRow{Label: r.Label, Length: exact(r.Length), Overlap: text0(s.Overlap), Bevel: word(s.Bevel != 0, s.Bevel), MinPart: text0(s.MinPart), Most: number(s.MaxSplices), Price: cents(s.Price)}
	row.LeftKind, row.LeftAngle, row.LeftSetback = textsOfEnd(r.Left)
	row.RightKind, row.RightAngle, row.RightSetback = textsOfEnd(r.Right)
	var at []string
	for _, x := range s.At {
		at = append(at, exact(x))
	}
	row.At = strings.Join(at, "; ")
	r.Label, r.Length, r.Left, r.Right = "", 0, stock.End{}, stock.End{}
	s.At, s.Overlap, s.Bevel, s.MinPart, s.MaxSplices, s.Price = nil, 0, 0, 0, 0, 0
	row.More = more(r)
	return row
}

func textsOfEnd(e stock.End) (kind, angle, setback string) {
	return word(e.Kind != 0, e.Kind), word(e.Angle != 0, e.Angle), text0(e.Setback)
}

// nameSets gives the pieces of each group a set. The form lists pieces in the order of its rows
// and has no started sets.
func (r *request) nameSets(groups []optimize.Group) (faults []fault) {
	for g, x := range groups {
		at := fmt.Sprintf("rules.groups[%d]", g)
		add := func(format string, args ...any) {
			faults = append(faults, fault{Field: at, Message: at + fmt.Sprintf(format, args...)})
		}
		if x.Started || x.Lot != "" {
			add(".started: this page cannot hold a group that is cut in part.")
		}
		if x.Kind == optimize.GroupInSequence && !slices.IsSorted(x.Pieces) {
			add(".pieces: this page can hold a sequence only in the order of the pieces.")
		}
		for _, i := range x.Pieces {
			switch {
			case i < 0 || i >= len(r.Pieces):
				add(".pieces names piece %d, and there are %d, counted from 0.", i, len(r.Pieces))
			case r.Pieces[i].Set != "":
				add(".pieces names piece %d, which belongs to a group already.", i)
			default:
				r.Pieces[i].Set, r.Pieces[i].SetKind = strconv.Itoa(g+1), word(x.Kind != 0, x.Kind)
			}
		}
	}
	return faults
}

// text0 formats a length, and zero as empty.
func text0(l measure.Length) string { return word(l != 0, exact(l)) }

func number(n int) string { return word(n != 0, n) }

func yes(is bool) string {
	if is {
		return "yes"
	}
	return ""
}

// cents formats a price for its field.
func cents(n int64) string {
	if n == 0 {
		return ""
	}
	sign, u := "", uint64(n)
	if n < 0 {
		sign, u = "-", -u
	}
	return fmt.Sprintf("%s%d.%02d", sign, u/100, u%100)
}

// word formats a value, or nothing if said is false.
func word(said bool, v any) string {
	if !said {
		return ""
	}
	return fmt.Sprint(v)
}

// more returns as JSON the nonzero parts of a value, or "" if there are none.
func more[T any](v T) string {
	var none T
	all, nothing := object(v), object(none)
	for name, raw := range nothing {
		if bytes.Equal(all[name], raw) {
			delete(all, name)
		}
	}
	if len(all) == 0 {
		return ""
	}
	text, _ := json.Marshal(all) // of texts that are JSON; names are sorted
	return string(text)
}

func object(v any) map[string]json.RawMessage {
	var o map[string]json.RawMessage
	if text, err := json.Marshal(v); err == nil {
		_ = json.Unmarshal(text, &o) // it was written a line before
	}
	return o
}

// extra reads the rest of a file into a stick, a piece, a run or the problem.
func (f *form) extra(at, text string, v any) {
	if text == "" {
		return
	}
	if err := measure.UnmarshalStrict([]byte(text), v); err != nil {
		field := at + "length"
		if at == "" {
			field = "more"
		}
		f.fault(field, "What a file said besides cannot be read: "+err.Error()+".")
	}
}
