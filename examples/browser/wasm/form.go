package main

import (
	"fmt"
	"slices"
	"strings"

	"example.com/longpoint/optimize"
	"example.com/longpoint/stock"
)

// request is the form as filled in: text, and rows may be empty. Names are those of the fields
// of a problem in JSON, with _ as the separator.
type request struct {
	Title      string     `json:"title"`
	Date       string     `json:"date"` // of the sheet
	Kerf       string     `json:"kerf"`
	MinRemnant string     `json:"min_remnant"`
	Sticks     []stickRow `json:"sticks"`
	Pieces     []pieceRow `json:"pieces"`
	Runs       []runRow   `json:"runs"`
	Rules      ruleFields `json:"rules"`
	More       string     `json:"more"` // JSON: the rest of a file about the problem
}

type stickRow struct {
	Length    string `json:"length"`
	Price     string `json:"price"`
	Limit     string `json:"limit"`
	Label     string `json:"label"`
	TrimStart string `json:"trim_start"`
	TrimEnd   string `json:"trim_end"`
	Defects   string `json:"defects"` // such as 12 to 14 1/2; 80 to 81
	Grade     string `json:"grade"`
	Lot       string `json:"lot"`
	Rack      string `json:"rack"` // "yes" where it is owned
	More      string `json:"more"` // JSON: the rest of a file about the stick
}

type pieceRow struct {
	Label        string `json:"label"`
	Length       string `json:"length"`
	Quantity     string `json:"quantity"`
	LeftKind     string `json:"left_kind"`
	LeftAngle    string `json:"left_angle"`
	LeftSetback  string `json:"left_setback"`
	RightKind    string `json:"right_kind"`
	RightAngle   string `json:"right_angle"`
	RightSetback string `json:"right_setback"`
	Symmetry     string `json:"symmetry"`
	Grade        string `json:"grade"`
	SetKind      string `json:"set_kind"` // how pieces of the same set belong together
	Set          string `json:"set"`
	More         string `json:"more"`
}

type runRow struct {
	Label        string `json:"label"`
	Length       string `json:"length"`
	At           string `json:"at"` // such as every 16 from 7 1/4, or 32; 48
	Overlap      string `json:"overlap"`
	Bevel        string `json:"bevel"`
	MinPart      string `json:"min_part"`
	Most         string `json:"most"`
	Price        string `json:"price"`
	LeftKind     string `json:"left_kind"`
	LeftAngle    string `json:"left_angle"`
	LeftSetback  string `json:"left_setback"`
	RightKind    string `json:"right_kind"`
	RightAngle   string `json:"right_angle"`
	RightSetback string `json:"right_setback"`
	More         string `json:"more"`
}

type ruleFields struct {
	MaxPieces    string `json:"max_pieces"`
	MinHold      string `json:"min_hold"`
	Nest         string `json:"nest"` // "yes" where neighbors share a cut
	MaxTransport string `json:"max_transport"`
	YardCut      string `json:"yard_cut"`
	Spare        string `json:"spare"`
}

// form reads the fields and records the row of each piece and stick.
type form struct {
	*request
	faults                     []fault
	stickRow, pieceRow, runRow []int
}

// blank reports whether a row of texts is empty.
func blank[T comparable](row T, texts ...string) bool {
	var none T
	return row == none || strings.TrimSpace(strings.Join(texts, "")) == ""
}

func (f *form) problem() optimize.Problem {
	p := optimize.Problem{}
	f.extra("", f.More, &p)
	// An empty kerf does not mean zero: that must be written as 0.
	if strings.TrimSpace(f.Kerf) == "" {
		f.fault("kerf", `Write how much a saw cut takes, such as 1/8". Write 0 if it takes nothing.`)
	} else {
		p.Kerf = f.length("kerf", f.Kerf)
	}
	p.MinRemnant = f.over("min_remnant", f.MinRemnant, "8 inches")
	for i, row := range f.Sticks {
		if !blank(row, row.Length, row.Price, row.Limit, row.Label, row.TrimStart, row.TrimEnd, row.Defects, row.Grade, row.Lot, row.Rack, row.More) {
			f.stickRow = append(f.stickRow, i)
			p.Sticks = append(p.Sticks, f.stick(fmt.Sprintf("sticks[%d].", i), row))
		}
	}
	for i, row := range f.Pieces {
		if !row.blank() {
			f.pieceRow = append(f.pieceRow, i)
			p.Pieces = append(p.Pieces, f.piece(fmt.Sprintf("pieces[%d].", i), row))
		}
	}
	for i, row := range f.Runs {
		if !row.blank() {
			f.runRow = append(f.runRow, i)
			p.Runs = append(p.Runs, f.run(fmt.Sprintf("runs[%d].", i), row))
		}
	}
	f.rules(&p.Rules)
	p.Rules.Groups = f.sets()
	f.unpriced(p.Sticks)
	if len(p.Sticks) == 0 {
		f.fault("sticks[0].length", "Give at least one length that can be bought.")
	}
	if len(p.Pieces) == 0 && len(p.Runs) == 0 {
		f.fault("pieces[0].length", "Give at least one piece to cut.")
	}
	return p
}

// Choices from a list are never blank, so they are ignored here.
func (row *pieceRow) blank() bool {
	return blank(*row, row.Label, row.Length, row.Quantity, row.LeftAngle, row.LeftSetback, row.RightAngle, row.RightSetback, row.Grade, row.Set, row.More)
}

func (row *runRow) blank() bool {
	return blank(*row, row.Label, row.Length, row.At, row.Overlap, row.Bevel, row.MinPart, row.Most, row.Price, row.LeftAngle, row.LeftSetback, row.RightAngle, row.RightSetback, row.More)
}

func (f *form) stick(at string, row stickRow) stock.Stick {
	var s stock.Stick
	f.extra(at, row.More, &s)
	s.Length = f.length(at+"length", row.Length)
	s.Price = f.price(at+"price", row.Price)
	s.Limit = f.limit(at+"limit", row.Limit)
	s.Label = strings.TrimSpace(row.Label)
	s.TrimStart = f.none(at+"trim_start", row.TrimStart)
	s.TrimEnd = f.none(at+"trim_end", row.TrimEnd)
	s.Defects = f.defects(at+"defects", row.Defects)
	s.Grade = f.grade(at+"grade", row.Grade)
	s.Lot = strings.TrimSpace(row.Lot)
	s.Rack = row.Rack != ""
	return s
}

func (f *form) piece(at string, row pieceRow) stock.Piece {
	var p stock.Piece
	f.extra(at, row.More, &p)
	p.Label = strings.TrimSpace(row.Label)
	p.Length = f.length(at+"length", row.Length)
	p.Quantity = f.count(at+"quantity", row.Quantity)
	p.Left = f.end(at+"left_", row.LeftKind, row.LeftAngle, row.LeftSetback)
	p.Right = f.end(at+"right_", row.RightKind, row.RightAngle, row.RightSetback)
	f.choice(at+"symmetry", row.Symmetry, &p.Symmetry)
	p.Grade = f.grade(at+"grade", row.Grade)
	return p
}

func (f *form) run(at string, row runRow) stock.Run {
	var r stock.Run
	f.extra(at, row.More, &r)
	r.Label = strings.TrimSpace(row.Label)
	r.Length = f.length(at+"length", row.Length)
	r.Left = f.end(at+"left_", row.LeftKind, row.LeftAngle, row.LeftSetback)
	r.Right = f.end(at+"right_", row.RightKind, row.RightAngle, row.RightSetback)
	r.Splice.At = f.places(at+"at", row.At, r.Length)
	r.Splice.Overlap = f.none(at+"overlap", row.Overlap)
	r.Splice.Bevel = f.angle(at+"bevel", row.Bevel)
	r.Splice.MinPart = f.none(at+"min_part", row.MinPart)
	r.Splice.MaxSplices = f.count(at+"most", row.Most)
	r.Splice.Price = f.price(at+"price", row.Price)
	return r
}

func (f *form) rules(r *optimize.Rules) {
	x := &f.Rules
	r.MaxPieces = f.count("rules.max_pieces", x.MaxPieces)
	r.MinHold = f.none("rules.min_hold", x.MinHold)
	r.Nest = x.Nest != ""
	r.MaxTransport = f.over("rules.max_transport", x.MaxTransport, "no limit")
	r.YardCut = f.price("rules.yard_cut", x.YardCut)
	r.Spare = f.count("rules.spare", x.Spare)
}

// sets makes groups of the pieces that name the same set, in the order of their first pieces.
func (f *form) sets() []optimize.Group {
	var groups []optimize.Group
	number := map[string]int{}
	for k, i := range f.pieceRow {
		name := strings.TrimSpace(f.Pieces[i].Set)
		if name == "" {
			continue
		}
		kind := optimize.GroupOneStick
		f.choice(fmt.Sprintf("pieces[%d].set_kind", i), f.Pieces[i].SetKind, &kind)
		g, ok := number[name]
		if !ok {
			g, number[name] = len(groups), len(groups)
			groups = append(groups, optimize.Group{Kind: kind})
		}
		if groups[g].Kind != kind {
			f.fault(fmt.Sprintf("pieces[%d].set_kind", i), fmt.Sprintf("The pieces of set %s before this one belong together in another way: %s.", name, groups[g].Kind))
		}
		groups[g].Pieces = append(groups[g].Pieces, k)
	}
	return groups
}

// unpriced finds the sticks without a price beside others that have one.
func (f *form) unpriced(sticks []stock.Stick) {
	if !slices.ContainsFunc(sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
		return
	}
	for k, s := range sticks {
		field := fmt.Sprintf("sticks[%d].price", f.stickRow[k])
		if s.Price == 0 && !s.Rack && !f.faulty(field) {
			f.fault(field, "Write what it costs: either every stick has a price, or none.")
		}
	}
}

func (f *form) fault(field, message string, choices ...string) {
	f.faults = append(f.faults, fault{field, message, choices})
}

func (f *form) faulty(field string) bool {
	return slices.ContainsFunc(f.faults, func(x fault) bool { return x.Field == field })
}
