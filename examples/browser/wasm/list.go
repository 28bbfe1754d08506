package main

import (
	"errors"
	"fmt"
	"strconv"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// mostRows is the greatest number of rows of one kind on the page. A browser could show more,
// but no row could be found among them.
const mostRows = 1000

// list is a cut list as rows of the form, or its faults by line.
type list struct {
	Rows   []pieceRow  `json:"rows"`
	Faults []lineFault `json:"faults,omitempty"`
}

type lineFault struct {
	Line    int    `json:"line"` // from 1; 0 for the whole
	Message string `json:"message"`
}

// readList reads lines such as 3 @ 41 1/2. Equal ones are merged if there would be too many
// rows.
func readList(text string) list {
	pieces, err := stock.ParsePieces(text, measure.Parser{Unit: measure.Inch})
	if err != nil {
		return list{Faults: lineFaults(err)}
	}
	if len(pieces) > mostRows {
		pieces = together(pieces)
	}
	switch {
	case len(pieces) == 0:
		return list{Faults: []lineFault{{Message: "There is no piece in this list."}}}
	case len(pieces) > mostRows:
		return list{Faults: []lineFault{{Message: fmt.Sprintf("The list has %d different pieces. This page holds %d; the library itself takes more.", len(pieces), mostRows)}}}
	}
	var l list
	for _, p := range pieces {
		row := pieceRow{Label: p.Label, Length: exact(p.Length)}
		if p.Quantity != 1 {
			row.Quantity = strconv.Itoa(p.Quantity)
		}
		l.Rows = append(l.Rows, row)
	}
	return l
}

// together merges equal pieces at the position of the first.
func together(pieces []stock.Piece) []stock.Piece {
	type kind struct {
		label  string
		length measure.Length
	}
	at := map[kind]int{}
	var all []stock.Piece
	for _, p := range pieces {
		k := kind{p.Label, p.Length}
		i, ok := at[k]
		if !ok {
			at[k] = len(all)
			all = append(all, p)
			continue
		}
		all[i].Quantity += p.Quantity
	}
	return all
}

// lineFaults returns the faults of a list by line.
func lineFaults(err error) []lineFault {
	var faults []lineFault
	for bad := range stock.LineErrors(err) {
		f := lineFault{bad.Line, bad.Err.Error()}
		if p := (*measure.ParseError)(nil); errors.As(bad.Err, &p) {
			f.Message = sentence(p.Reason)
		}
		faults = append(faults, f)
	}
	if faults == nil {
		faults = []lineFault{{Message: err.Error()}}
	}
	return faults
}
