package stock

import (
	"errors"
	"fmt"
	"iter"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// Limits of a cut list: a plan can hold the counts, a person can read the error report, and a
// person may have written the line.
const (
	maxListCount  = 1_000_000_000
	maxListErrors = 100
	maxLineBytes  = 4096

	// Longer text is not a length: a parser reads 64 characters of up to four bytes.
	maxLengthBytes = 256
)

// ParsePieces reads a cut list as people write it, with one item per line:
//
//	3 @ 41-1/2"          2x 7' 4-3/4" hall N     41-1/2" (3)
//	3 pcs 41-1/2"        (3) 41 1/2" closet      88-3/4", 2nd floor
//	# a line of comment  12' 1-3/8" // and a comment at its end
//
// A count is a whole number up to 1,000,000,000, before the length with "@", "x", "×", "pc", "pcs",
// "piece", "pieces" or "ea" between them or in parentheses, or after the length in parentheses; the
// default is 1. The length is the longest text that in reads, so a number without a unit takes
// in.Unit, and the rest is the label. A label needs a comma or a colon before it if it begins with
// a digit, a dash, the name of a unit or text that could be a count. Blank lines are skipped,
// blanks at the start of a line too, and a comment after an item needs a blank before its slashes.
//
// Text that people read in more than one way is an error: "2x4", because the 4 could be the size of
// a board, "41 1/2 12 hall", or "12' x 3" and "3 legs 41-1/2", because the 3 could be a count. A
// length of zero or less is an error, too.
//
// The error joins a [*LineError] for each line that cannot be read, up to 100 of them, and the
// pieces are nil; [LineErrors] lists them. Ends and grades are not part of the text.
func ParsePieces(text string, in measure.Parser) ([]Piece, error) {
	var pieces []Piece
	var bad []error
	n := 0
	for line := range strings.Lines(text) {
		n++
		line = strings.TrimRight(line, "\r\n")
		if n == 1 {
			line = strings.TrimPrefix(line, "\ufeff") // some editors begin a file with it
		}
		p, ok, err := parseItem(line, in)
		switch {
		case err != nil:
			err.Line = n
			if bad = append(bad, err); len(bad) == maxListErrors {
				return nil, errors.Join(bad...)
			}
		case ok:
			pieces = append(pieces, p)
		}
	}
	if len(bad) > 0 {
		return nil, errors.Join(bad...)
	}
	return pieces, nil
}

// FormatPieces writes pieces as a cut list that [ParsePieces] reads back to the same
// lengths, quantities and labels. It has one item per line, with lengths in the style s
// (the parser needs a DecimalComma if s has one). A Quantity of 0 means 1 and is written
// and read back as 1.
//
// The error is a [*measure.FieldError] for every length of zero or less, for every length
// that the style rounds or writes as text that does not read back, for every quantity out
// of range, and for every label that a line cannot hold, such as one with a line break or
// with blanks at its ends; several are joined, at most 100.
func FormatPieces(pieces []Piece, s measure.Style) (string, error) {
	var b strings.Builder
	var bad fault.List
	for i, p := range pieces {
		line, err := formatItem(p, s)
		if err != nil {
			if bad.Under(fmt.Sprintf("pieces[%d]", i), err); len(bad) == fault.Max {
				break
			}
			continue
		}
		b.WriteString(line + "\n")
	}
	if err := bad.Err(); err != nil {
		return "", err
	}
	return b.String(), nil
}

// formatItem writes the line of a piece.
func formatItem(p Piece, s measure.Style) (string, error) {
	var bad fault.List
	in := measure.Parser{DecimalComma: s.DecimalComma}
	length, quantity := p.Length, max(p.Quantity, 1)
	text := length.Format(s)
	exact, err := in.Parse(text)
	wrong := length <= 0 || err != nil || exact != length
	if wrong {
		length, text = measure.Inch, "1in" // to test the label
	}
	line, ok := itemLine(p.Label, text, length, quantity, in)
	if !ok {
		bad.Add("label", p.Label, fmt.Sprintf("text of one line of less than %d bytes, without blanks at its ends and without slashes that begin a comment", maxLineBytes))
	}
	switch {
	case p.Length <= 0:
		bad.Add("length", p.Length.About(), "a length above zero")
	case wrong:
		bad.Add("length", p.Length.About(), "a style that writes it exactly, such as the zero Style; this one writes "+p.Length.Format(s))
	}
	if p.Quantity < 0 || p.Quantity > maxListCount {
		bad.Add("quantity", strconv.Itoa(p.Quantity), "0 to 1,000,000,000")
	}
	return line, bad.Err()
}

// itemLine assembles an item with the shortest separator between length and label that
// makes it read back; ok is false if no separator does.
func itemLine(label, text string, length measure.Length, quantity int, in measure.Parser) (line string, ok bool) {
	if strings.ContainsFunc(label, breaks) {
		return "", false
	}
	quantity = min(quantity, maxListCount)
	if quantity > 1 {
		text = strconv.Itoa(quantity) + " @ " + text
	}
	for _, between := range []string{" ", ", ", ": "} {
		if label == "" {
			between = ""
		}
		line = text + between + label
		p, some, err := parseItem(line, in)
		if err == nil && some && p.Label == label && p.Length == length && p.Quantity == quantity {
			return line, true
		}
	}
	return "", false
}

// A LineError reports a line of a cut list that cannot be read.
type LineError struct {
	Line   int    // number of the line, from 1
	Column int    // position in the line, in characters from 1
	Text   string // the line, cut to 100 bytes
	Err    error  // the reason: a [*measure.ParseError]
}

// Error names the line, the column, the text there and the reason.
func (e *LineError) Error() string {
	reason := fmt.Sprint(e.Err)
	if p := (*measure.ParseError)(nil); errors.As(e.Err, &p) && p.Err != nil && p.Reason != "" {
		reason = p.Err.Error()
		if p.Part != "" {
			reason += fmt.Sprintf(" at %q", p.Part)
		}
		reason += ": " + p.Reason
	}
	return fmt.Sprintf("line %d, column %d: %s", e.Line, e.Column, reason)
}

// Unwrap returns Err.
func (e *LineError) Unwrap() error { return e.Err }

// LineErrors returns every [LineError] in the tree of errors that err joins and wraps, in
// order.
func LineErrors(err error) iter.Seq[*LineError] {
	return func(yield func(*LineError) bool) { lineErrors(err, yield) }
}

func lineErrors(err error, yield func(*LineError) bool) bool {
	switch e := err.(type) {
	case *LineError:
		return e == nil || yield(e)
	case interface{ Unwrap() error }:
		return lineErrors(e.Unwrap(), yield)
	case interface{ Unwrap() []error }:
		for _, err := range e.Unwrap() {
			if !lineErrors(err, yield) {
				return false
			}
		}
	}
	return true
}

// item is the state of reading a line.
type item struct {
	line  string // without its comment
	whole string // with it
	at    int    // byte offset of the unread text
}

// parseItem reads a line; ok is false if it holds no item.
func parseItem(line string, in measure.Parser) (p Piece, ok bool, _ *LineError) {
	it := item{line: line, whole: line}
	switch {
	case len(line) > maxLineBytes:
		return p, false, it.fail(maxLineBytes, measure.ErrSyntax, "a line longer than "+strconv.Itoa(maxLineBytes)+" bytes")
	case !utf8.ValidString(line):
		at := strings.IndexFunc(strings.ToValidUTF8(line, "\uFFFD"), func(r rune) bool { return r == utf8.RuneError })
		return p, false, it.fail(at, measure.ErrSyntax, "not UTF-8 text")
	case strings.HasPrefix(strings.TrimLeftFunc(line, unicode.IsSpace), "#"):
		return p, false, nil
	}
	if i := strings.IndexFunc(line, breaks); i >= 0 {
		return p, false, it.fail(i, measure.ErrSyntax, "a control character or a line break within a line")
	}
	if i := comment(line); i >= 0 {
		it.line = line[:i]
	}
	it.line, it.whole = strings.TrimRightFunc(it.line, unicode.IsSpace), line
	if it.blanks(); it.rest() == "" {
		return p, false, nil
	}

	p.Quantity = 1
	counted, lumber, err := it.countBefore(&p)
	if err != nil {
		return p, false, err
	}
	start := it.at
	if err := it.length(&p, in); err != nil {
		return p, false, err
	}
	if lumber && lumberSize(it.line[start:it.at]) {
		return p, false, it.fail(start, measure.ErrAmbiguous,
			`"x" before a small whole number could give the size of a board; write @ before a length, or its unit`)
	}
	bare, whole := false, false
	if !counted {
		at := it.at
		whole = digits(it.line[start:at]) == at-start
		if err := it.countAfter(&p); err != nil {
			return p, false, err
		}
		bare = it.at == at && unitless(it.line[start:at], in)
	}
	if err := it.label(&p); err != nil {
		return p, false, err
	}
	if at := len(it.line) - len(p.Label); bare && number(p.Label, in) {
		return p, false, it.fail(at, measure.ErrAmbiguous, "a length without a unit and another number: one of them could be a count; write 3 @ 41, or give the length its unit")
	}
	if at, ok := lengthAtEnd(p.Label, in); bare && whole && ok {
		return p, false, it.fail(len(it.line)-len(p.Label)+at, measure.ErrAmbiguous, "a whole number without a unit, and a length at the end: the number could be a count; write 3 @ 41-1/2 legs, or give the number its unit")
	}
	return p, true, nil
}

// breaks reports whether a character cannot occur within a line.
func breaks(r rune) bool {
	return r != '\t' && unicode.IsControl(r) || r == '\u2028' || r == '\u2029'
}

// comment returns where a comment begins: at slashes at the start of the line or after a blank, so
// that a web address in a label is not a comment. It returns -1 if there is none.
func comment(line string) int {
	for i := 0; i < len(line); {
		j := strings.Index(line[i:], "//")
		if j < 0 {
			return -1
		}
		i += j
		if r, _ := utf8.DecodeLastRuneInString(line[:i]); i == 0 || unicode.IsSpace(r) {
			return i
		}
		i++
	}
	return -1
}

func (it *item) rest() string { return it.line[it.at:] }

func (it *item) blanks() {
	it.at = len(it.line) - len(strings.TrimLeftFunc(it.rest(), unicode.IsSpace))
}

// fail returns the error at a byte offset of the line.
func (it *item) fail(at int, class error, reason string) *LineError {
	at = min(at, len(it.line))
	part := it.line[at:]
	if i := strings.IndexFunc(part, unicode.IsSpace); i > 0 {
		part = part[:i]
	}
	return it.failed(at, &measure.ParseError{Kind: "cut list line", Input: it.line, Offset: at, Part: part, Err: class, Reason: reason})
}

func (it *item) failed(at int, err error) *LineError {
	text := it.whole
	if len(text) > 100 {
		text = strings.ToValidUTF8(text[:100], "")
	}
	return &LineError{Column: utf8.RuneCountInString(it.line[:at]) + 1, Text: text, Err: err}
}

// countBefore reads a count before the length. lumber reports that "x" separates the two, as it
// does the sizes of a board.
func (it *item) countBefore(p *Piece) (found, lumber bool, _ *LineError) {
	s := it.rest()
	if n, size := parenthesized(s); size > 0 {
		if err := it.count(p, n, it.at+1); err != nil {
			return false, false, err
		}
		it.at += size
		it.blanks()
		return true, false, nil
	}
	n := digits(s)
	if n == 0 {
		return false, false, nil
	}
	after := strings.TrimLeftFunc(s[n:], unicode.IsSpace)
	sep, lumber := separator(after)
	if sep == 0 {
		return false, false, nil
	}
	if err := it.count(p, s[:n], it.at); err != nil {
		return false, false, err
	}
	it.at = len(it.line) - len(after) + sep
	it.blanks()
	return true, lumber, nil
}

// countAfter reads a count in parentheses after the length.
func (it *item) countAfter(p *Piece) *LineError {
	s := strings.TrimLeftFunc(it.rest(), unicode.IsSpace)
	n, size := parenthesized(s)
	if size == 0 {
		return nil
	}
	at := len(it.line) - len(s)
	if err := it.count(p, n, at+1); err != nil {
		return err
	}
	it.at = at + size
	return nil
}

func (it *item) count(p *Piece, s string, at int) *LineError {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > maxListCount {
		return it.fail(at, measure.ErrRange, "a count is 1 to 1,000,000,000; leave the line out where nothing is wanted")
	}
	p.Quantity = n
	return nil
}

// parenthesized reads "(digits)" and returns the number and the size of the whole text.
func parenthesized(s string) (n string, size int) {
	if !strings.HasPrefix(s, "(") {
		return "", 0
	}
	in, _, ok := strings.Cut(s[1:], ")")
	n = strings.TrimSpace(in)
	if !ok || n == "" || digits(n) != len(n) {
		return "", 0
	}
	return n, len(in) + 2
}

// digits returns how many ASCII digits s begins with.
func digits(s string) int { return len(s) - len(strings.TrimLeft(s, "0123456789")) }

// separator returns the size of the separator between a count and a length, and whether it is an
// "x".
func separator(s string) (size int, x bool) {
	if strings.HasPrefix(s, "@") {
		return 1, false
	}
	for _, times := range []string{"x", "X", "×"} {
		if after, ok := strings.CutPrefix(s, times); ok {
			r, _ := utf8.DecodeRuneInString(after)
			if unicode.IsSpace(r) || unicode.IsNumber(r) || r == '.' {
				return len(times), true
			}
			return 0, false
		}
	}
	word := len(s) - len(strings.TrimLeftFunc(s, unicode.IsLetter))
	switch strings.ToLower(s[:word]) {
	case "pc", "pcs", "piece", "pieces", "ea":
		size = word
		if strings.HasPrefix(s[size:], ".") {
			size++
		}
		after := strings.TrimLeftFunc(s[size:], unicode.IsSpace)
		if strings.HasPrefix(after, "@") {
			size = len(s) - len(after) + 1
		}
		return size, false
	}
	return 0, false
}

// countLike reports whether people could take the beginning of a label for a count: "x 3", "@ 3",
// "pcs" (in 12' 3 pcs, the 3 would be inches) or a second "(3)".
func countLike(s string) bool {
	if _, size := parenthesized(s); size > 0 {
		return true
	}
	size, _ := separator(s)
	if size == 0 {
		return false
	}
	if r, _ := utf8.DecodeRuneInString(s); unicode.IsLetter(r) && r != 'x' && r != 'X' {
		return true // pc, pcs, pieces, ea
	}
	r, _ := utf8.DecodeRuneInString(strings.TrimLeftFunc(s[size:], unicode.IsSpace))
	return unicode.IsNumber(r) || r == '.'
}

// lumberSize reports whether the text of a length is a bare whole number that could be the width or
// thickness of a board in inches.
func lumberSize(s string) bool {
	n, err := strconv.Atoi(s)
	return err == nil && n <= 12
}

// unitless reports whether the text of a length leaves its unit to the parser.
func unitless(s string, in measure.Parser) bool {
	in.Unit = 0
	_, err := in.Parse(s)
	return err != nil
}

// number reports whether a label begins with a number or a length, such as "41 1/2" or "at
// 41": people write "3, 41 1/2" for three pieces, and say "3 at 41".
func number(s string, in measure.Parser) bool {
	if len(s) > 3 && strings.EqualFold(s[:3], "at ") {
		s = strings.TrimLeftFunc(s[3:], unicode.IsSpace)
	}
	for end := 1; end <= min(len(s), maxLengthBytes); end++ {
		if ends(s, end) {
			if _, err := in.Parse(s[:end]); err == nil || errors.Is(err, measure.ErrAmbiguous) {
				return true
			}
		}
	}
	return false
}

// lengthAtEnd returns where a length with a unit or a fraction begins that ends a label, as in "legs
// 41-1/2": people write "3 legs 41-1/2" for three legs. A whole number there is mostly that of a room.
func lengthAtEnd(s string, in measure.Parser) (at int, ok bool) {
	for at := range s {
		if at == 0 || s[at-1] != ' ' && s[at-1] != '\t' || len(s)-at > maxLengthBytes || digits(s[at:]) == len(s)-at {
			continue
		}
		if r, _ := utf8.DecodeRuneInString(s[at:]); !unicode.IsNumber(r) && r != '.' {
			continue
		}
		if _, err := in.Parse(s[at:]); err == nil {
			return at, true
		}
	}
	return 0, false
}

// length reads the longest text that in accepts and that is followed by a label, a count or
// nothing.
func (it *item) length(p *Piece, in measure.Parser) *LineError {
	s := it.rest()
	first := error(nil)
	best := -1
	for end := 1; end <= min(len(s), maxLengthBytes); end++ {
		if !ends(s, end) {
			continue
		}
		l, err := in.Parse(s[:end])
		if err == nil {
			best, p.Length = end, l
		} else if first == nil {
			first = err
		}
	}
	switch {
	case s == "":
		return it.fail(it.at, measure.ErrSyntax, "a length is missing")
	case best < 0:
		at := it.at
		var e *measure.ParseError
		if errors.As(first, &e) {
			at += e.Offset
		}
		return it.failed(at, first)
	case p.Length <= 0:
		return it.fail(it.at, measure.ErrRange, "a length is above zero")
	}
	it.at += best
	return nil
}

// ends reports whether a length may end before byte i of s: the end, a blank, a comma, a colon or a
// parenthesis follows.
func ends(s string, i int) bool {
	if i == len(s) {
		return true
	}
	if !utf8.RuneStart(s[i]) {
		return false
	}
	r, _ := utf8.DecodeRuneInString(s[i:])
	return r == ',' || r == ':' || r == '(' || unicode.IsSpace(r)
}

// label reads the rest of the line.
func (it *item) label(p *Piece) *LineError {
	s := it.rest()
	r, _ := utf8.DecodeRuneInString(strings.TrimLeftFunc(s, unicode.IsSpace))
	switch {
	case s == "":
		return nil
	case r == ',' || r == ':':
		it.blanks()
		if at := it.at; r == ',' && digits(it.line[at+1:]) > 0 {
			return it.fail(at, measure.ErrAmbiguous, "a comma before a digit could be a decimal point; put a blank behind it before a label")
		}
		it.at++
		it.blanks()
	default:
		it.blanks()
		if unicode.IsNumber(r) || unicode.Is(unicode.Dash, r) || r == '−' || r == '+' || r == '/' {
			return it.fail(it.at, measure.ErrAmbiguous, "a second number or a dash behind the length; put a comma before a label that begins so")
		}
		if countLike(it.rest()) {
			return it.fail(it.at, measure.ErrAmbiguous, "this could be a count; put it before the length, as in 3 @ 41in, or a comma before a label that begins so")
		}
	}
	p.Label = it.rest()
	return nil
}
