package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/optimize"
	"example.com/longpoint/optimize/cutsheet"
	"example.com/longpoint/stock"
)

// request is the form as somebody filled it in: text, and rows may be empty.
type request struct {
	Title  string     `json:"title"`
	Kerf   string     `json:"kerf"`
	Sticks []stickRow `json:"sticks"`
	Pieces []pieceRow `json:"pieces"`
}

type stickRow struct {
	Length string `json:"length"`
	Price  string `json:"price"`
	Limit  string `json:"limit"`
}

type pieceRow struct {
	Label    string `json:"label"`
	Length   string `json:"length"`
	Quantity string `json:"quantity"`
}

// answer is a sheet with what the page says above it, or the faults of the form.
type answer struct {
	Faults []fault `json:"faults,omitempty"`
	Sheet  string  `json:"sheet,omitempty"` // a page of its own
	Sticks int64   `json:"sticks"`
	Pieces int64   `json:"pieces"`
	Cost   string  `json:"cost"`
	Gap    string  `json:"gap,omitempty"` // how much cheaper another plan could be at most
	Proven bool    `json:"proven"`
}

// fault is what is wrong with one field, in words for who filled it in.
type fault struct {
	Field   string   `json:"field"` // such as pieces[2].length, by rows of the form; empty for the whole
	Message string   `json:"message"`
	Choices []string `json:"choices,omitempty"` // what may have been meant, to be put in its place
}

// steps limits a solve: a few seconds in a browser. A deadline would be kept here
// too, but with steps the same form gets the same sheet on every machine.
const steps = 200_000_000

var dollars = measure.Currency{Symbol: "$"}

// headway is how far a search is, as the page shows it.
type headway struct {
	Cost  string  `json:"cost"`  // of the best plan so far
	Gap   string  `json:"gap"`   // how much cheaper another plan could be at most
	Open  float64 `json:"open"`  // the same as a part of the cost
	Spent float64 `json:"spent"` // part of the steps that the search may take
}

// respond answers a request that is JSON with an answer that is JSON, and tells on the way
// how far it is, in JSON too.
func respond(text string, tell func(string)) string {
	var r request
	a := answer{Faults: []fault{{Message: "The page sent something that cannot be read."}}}
	if json.Unmarshal([]byte(text), &r) == nil {
		a = r.answer(tell)
	}
	out, err := json.Marshal(a)
	if err != nil {
		return `{"faults": [{"field": "", "message": "The answer cannot be written."}]}`
	}
	return string(out)
}

func (r *request) answer(tell func(string)) answer {
	f := form{request: r}
	p := f.problem()
	if len(f.faults) > 0 {
		return answer{Faults: f.faults}
	}
	amount := length
	if slices.ContainsFunc(p.Sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
		amount = money
	}
	plan, err := optimize.Solve(context.Background(), p, &optimize.Options{Work: steps, Progress: func(now optimize.Progress) bool {
		if now.Found {
			h := headway{amount(now.Cost), amount(now.Cost - now.Bound), float64(now.Cost-now.Bound) / float64(max(now.Cost, 1)), float64(now.Work) / steps}
			if text, err := json.Marshal(h); err == nil {
				tell(string(text))
			}
		}
		return true
	}})
	if err != nil {
		return answer{Faults: []fault{f.blame(err)}}
	}
	sheet, err := cutsheet.New(context.Background(), p, plan, &cutsheet.Options{Title: r.Title, Locale: measure.Locale{Currency: dollars}})
	if err != nil {
		return answer{Faults: []fault{{Message: err.Error()}}}
	}
	var page bytes.Buffer
	if err := sheet.HTML(&page); err != nil {
		return answer{Faults: []fault{{Message: err.Error()}}}
	}
	a := answer{Sheet: page.String(), Sticks: plan.Sticks(), Cost: amount(plan.Cost), Proven: plan.Proven}
	for _, x := range p.Pieces {
		a.Pieces += int64(max(1, x.Quantity))
	}
	if !plan.Proven {
		a.Gap = amount(plan.Cost - plan.Bound)
	}
	return a
}

// money writes what a plan costs.
func money(n int64) string { return fmt.Sprintf("$%d.%02d", n/100, n%100) }

// length writes the same where nothing has a price and so length counts.
func length(n int64) string { return measure.Length(n).About(measure.Inch) }

// form reads the fields and remembers which row became what.
type form struct {
	*request
	faults             []fault
	stickRow, pieceRow []int
}

func (f *form) problem() optimize.Problem {
	p := optimize.Problem{}
	// Nothing written is no saw that takes nothing: whoever has that writes 0.
	if strings.TrimSpace(f.Kerf) == "" {
		f.fault("kerf", `Write how much a saw cut takes, such as 1/8". Write 0 if it takes nothing.`)
	} else {
		p.Kerf = f.length("kerf", f.Kerf)
	}
	for i, row := range f.Sticks {
		if blank(row.Length, row.Price, row.Limit) {
			continue
		}
		at := fmt.Sprintf("sticks[%d].", i)
		f.stickRow = append(f.stickRow, i)
		p.Sticks = append(p.Sticks, stock.Stick{
			Length: f.length(at+"length", row.Length), Price: f.price(at+"price", row.Price), Limit: f.count(at+"limit", row.Limit),
		})
	}
	for i, row := range f.Pieces {
		if blank(row.Label, row.Length, row.Quantity) {
			continue
		}
		at := fmt.Sprintf("pieces[%d].", i)
		piece := stock.Piece{Label: strings.TrimSpace(row.Label), Length: f.length(at+"length", row.Length), Quantity: f.count(at+"quantity", row.Quantity)}
		f.pieceRow = append(f.pieceRow, i)
		p.Pieces = append(p.Pieces, piece)
	}
	f.unpriced(p.Sticks)
	if len(p.Sticks) == 0 {
		f.fault("sticks[0].length", "Give at least one length that can be bought.")
	}
	if len(p.Pieces) == 0 {
		f.fault("pieces[0].length", "Give at least one piece to cut.")
	}
	return p
}

func blank(texts ...string) bool { return strings.TrimSpace(strings.Join(texts, "")) == "" }

func (f *form) fault(field, message string, choices ...string) {
	f.faults = append(f.faults, fault{field, message, choices})
}

func (f *form) length(field, text string) measure.Length {
	l, bad := readLength(text)
	if bad != nil {
		f.fault(field, bad.Message, bad.Choices...)
	}
	return l
}

// readLength reads what is written or said; a number alone is inches.
func readLength(text string) (measure.Length, *fault) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0, &fault{Message: `Write a length, such as 7' 4-3/4".`}
	}
	l, err := measure.Parser{Unit: measure.Inch}.Parse(text)
	if err == nil {
		return l, nil
	}
	spoken, side, also := measure.ParseSpoken(text)
	switch {
	case also == nil && side == 0:
		return spoken, nil
	case also == nil:
		// How much strong or light is, only who measured knows.
		near := spoken + measure.Length(side)*measure.Inch/32
		return 0, &fault{Message: "A little over or under the mark: how much?", Choices: []string{spoken.String(), near.String()}}
	}
	bad := &fault{Message: err.Error()}
	for _, e := range []error{err, also} {
		if p := (*measure.ParseError)(nil); errors.As(e, &p) && (len(bad.Choices) == 0) {
			if e == err || len(p.Choices) > 0 {
				bad.Message, bad.Choices = sentence(p.Reason), p.Choices
			}
		}
	}
	return 0, bad
}

func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

func (f *form) count(field, text string) int {
	if text = strings.TrimSpace(text); text == "" {
		return 0
	}
	n, err := strconv.ParseInt(text, 10, 32)
	if err != nil || n < 1 {
		f.fault(field, "Write a whole number from 1, or leave it empty.")
		return 0
	}
	return int(n)
}

// price reads dollars and cents, exactly.
func (f *form) price(field, text string) int64 {
	text = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "$"))
	if text == "" {
		return 0
	}
	whole, part, dot := strings.Cut(text, ".")
	if dot && len(part) == 1 {
		part += "0"
	}
	n, err := strconv.ParseUint(whole, 10, 32)
	c, err2 := uint64(0), error(nil)
	if dot {
		c, err2 = strconv.ParseUint(part, 10, 32)
	}
	if err != nil || err2 != nil || dot && len(part) != 2 || n > math.MaxInt32 {
		f.fault(field, "Write dollars and cents, such as 19.08.")
		return 0
	}
	return int64(n)*100 + int64(c)
}

// unpriced finds the sticks without a price beside others that have one.
func (f *form) unpriced(sticks []stock.Stick) {
	if !slices.ContainsFunc(sticks, func(s stock.Stick) bool { return s.Price != 0 }) {
		return
	}
	for k, s := range sticks {
		field := fmt.Sprintf("sticks[%d].price", f.stickRow[k])
		if s.Price == 0 && !slices.ContainsFunc(f.faults, func(x fault) bool { return x.Field == field }) {
			f.fault(field, "Write what it costs: either every stick has a price, or none.")
		}
	}
}

// blame finds the row that an error is about.
func (f *form) blame(err error) fault {
	var (
		bad   *measure.FieldError
		never *optimize.InfeasibleError
	)
	switch {
	case errors.As(err, &never) && never.Reason == optimize.ReasonPieceTooLong:
		return fault{
			Field:   fmt.Sprintf("pieces[%d].length", f.pieceRow[never.Piece]),
			Message: fmt.Sprintf("Too long by %s: the longest stick has %s to use.", (never.Need - never.Have).About(never.Have), never.Have.About()),
		}
	case errors.As(err, &never):
		return fault{Message: "The sticks that can be had are not enough: " + string(never.Reason) + "."}
	case errors.As(err, &bad):
		field := strings.ToLower(bad.Field)
		var i int
		var name string
		switch {
		case scan(field, "sticks[%d].%s", &i, &name) && i < len(f.stickRow):
			field = fmt.Sprintf("sticks[%d].%s", f.stickRow[i], name)
		case scan(field, "pieces[%d].%s", &i, &name) && i < len(f.pieceRow):
			field = fmt.Sprintf("pieces[%d].%s", f.pieceRow[i], name)
		}
		return fault{Field: field, Message: fmt.Sprintf("It is %s: want %s.", bad.Value, bad.Want)}
	}
	return fault{Message: err.Error()}
}

func scan(text, format string, i *int, name *string) bool {
	n, _ := fmt.Sscanf(text, format, i, name)
	return n == 2
}

// read says how a length is understood, or nothing where it is not.
func read(text string) string {
	l, bad := readLength(text)
	if bad != nil {
		return ""
	}
	return l.About()
}
