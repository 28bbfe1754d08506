package main

import (
	"encoding"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock"
)

// length reads a required length.
func (f *form) length(field, text string) measure.Length {
	l, bad := readLength(text)
	if bad != nil {
		f.fault(field, bad.Message, bad.Choices...)
	}
	return l
}

// none reads an optional length: empty means zero.
func (f *form) none(field, text string) measure.Length {
	if strings.TrimSpace(text) == "" {
		return 0
	}
	return f.length(field, text)
}

// over reads a length whose zero would mean something else.
func (f *form) over(field, text, empty string) measure.Length {
	l := f.none(field, text)
	if l == 0 && strings.TrimSpace(text) != "" && !f.faulty(field) {
		f.fault(field, "Write more than zero, or leave it empty for "+empty+".")
	}
	return l
}

// readLength reads a written or spoken length; a bare number is inches.
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
		// Only the person who measured knows the amount of strong or light.
		near := spoken + measure.Length(side)*measure.Inch/32
		return 0, &fault{Message: "A little over or under the mark: how much?", Choices: []string{exact(spoken), exact(near)}}
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

// exact formats a length for a field, where it is read again.
func exact(l measure.Length) string { return l.String() }

func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// read says how a length is understood, or nothing if it is not.
func read(text string) string {
	l, bad := readLength(text)
	if bad != nil {
		return ""
	}
	return l.About()
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

const soldOut = "sold out"

func (f *form) limit(field, text string) int {
	if strings.EqualFold(strings.TrimSpace(text), soldOut) {
		return stock.SoldOut
	}
	return f.count(field, text)
}

// grade reads a number that may be negative.
func (f *form) grade(field, text string) int {
	if text = strings.TrimSpace(text); text == "" {
		return 0
	}
	n, err := strconv.ParseInt(text, 10, 32)
	if err != nil {
		f.fault(field, "Write a whole number, the higher the better, or leave it empty.")
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

func (f *form) angle(field, text string) measure.Angle {
	if strings.TrimSpace(text) == "" {
		return 0
	}
	a, err := measure.ParseAngle(text)
	switch {
	case err != nil:
		bad := fault{Message: "Write degrees, such as 90 or 22.5."}
		if p := (*measure.ParseError)(nil); errors.As(err, &p) && len(p.Choices) > 0 {
			bad.Message, bad.Choices = sentence(p.Reason), p.Choices
		}
		f.fault(field, bad.Message, bad.Choices...)
	case a == 0:
		f.fault(field, "Write more than 0°, or leave it empty for the usual one.")
	}
	return a
}

// choice reads a choice from a list; empty is the first one.
func (f *form) choice(field, text string, v encoding.TextUnmarshaler) {
	if text == "" {
		return
	}
	if err := v.UnmarshalText([]byte(text)); err != nil {
		f.fault(field, "Choose one of the list.")
	}
}

func (f *form) end(at, kind, angle, setback string) stock.End {
	var e stock.End
	f.choice(at+"kind", kind, &e.Kind)
	e.Angle = f.angle(at+"angle", angle)
	e.Setback = f.none(at+"setback", setback)
	return e
}

// parts returns the texts between semicolons or line breaks that are not blank.
func parts(text string) []string {
	var list []string
	for _, s := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' || r == '\r' }) {
		if s = strings.TrimSpace(s); s != "" {
			list = append(list, s)
		}
	}
	return list
}

// cut cuts text at a separate word, in any case.
func cut(text, word string) (before, after string, ok bool) {
	fields := strings.Fields(text)
	for i, s := range fields {
		if strings.EqualFold(s, word) {
			return strings.Join(fields[:i], " "), strings.Join(fields[i+1:], " "), true
		}
	}
	return text, "", false
}

// most is the greatest number of positions or defects in a field, far above any real number.
const most = 10_000

func (f *form) defects(field, text string) []stock.Defect {
	var list []stock.Defect
	for _, s := range parts(text) {
		from, to, ok := cut(s, "to")
		if !ok || len(list) == most {
			f.fault(field, "Write where each begins and ends, from the stick's start, such as 12 to 14 1/2; 80 to 81.")
			return nil
		}
		d := stock.Defect{From: f.length(field, from), To: f.length(field, to)}
		if f.faulty(field) {
			return nil
		}
		list = append(list, d)
	}
	return list
}

// places reads the splice positions of a run: a list, or a step with a start.
func (f *form) places(field, text string, length measure.Length) []measure.Length {
	var list []measure.Length
	if before, step, ok := cut(text, "every"); ok && before == "" {
		first, given := step, false
		if step, first, given = cut(step, "from"); !given {
			first = step
		}
		x, each := f.length(field, first), f.length(field, step)
		switch {
		case f.faulty(field):
		case each <= 0 || x <= 0 || length/each > most:
			f.fault(field, fmt.Sprintf("Write steps of more than zero, and no more than %d of them.", most))
		default:
			for ; x < length; x += each {
				list = append(list, x)
			}
		}
		return list
	}
	for _, s := range parts(text) {
		x := f.length(field, s)
		if f.faulty(field) || len(list) == most {
			return nil
		}
		list = append(list, x)
	}
	return list
}
