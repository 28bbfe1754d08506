package cutsheet

import (
	"io"
	"strconv"
)

var tagColumns = []string{
	"Room", "Wall", "Piece", "Length", "Left end", "Right end", "Pattern", "Cut", "Stick", "Pieces", "Work", "On hold", "Job", "Date", "Revision", "Fingerprint",
}

// WriteTagsCSV writes the contents of the tags of [Sheet.WriteTags] as a table, a row for each
// in the same order, for programs that print their own labels. It follows the rules of
// [Sheet.WriteCSV], so it begins with a byte order mark. Left end and Right end have the readings
// of the saw; Stick counts the sticks of the pattern from 1, and is empty if a row is for the
// Pieces of all of them. The error is that of w.
func (s *Sheet) WriteTagsCSV(w io.Writer) error {
	s = s.orEmpty()
	c := csvSheet{Sheet: s}
	c.begin(tagColumns)
	for _, g := range s.tagsOf() {
		cut := &g.p.cuts[g.cut]
		pc := s.piece(cut.piece)
		room, wall := s.place(cut.piece)
		c.text(room)
		c.text(wall)
		c.text(s.pieceName(cut.piece))
		c.text(s.length(pc.Length))
		c.text(s.endName(pc.Left))
		c.text(s.endName(pc.Right))
		c.text(g.p.key)
		c.number(strconv.Itoa(g.cut + 1))
		if g.stick > 0 {
			c.number(strconv.Itoa(g.stick))
		} else {
			c.none(1)
		}
		c.number(strconv.FormatInt(g.count, 10))
		c.text(s.only(cut.piece, g.count))
		c.text(s.why(cut))
		for _, text := range [...]string{s.options.Job, s.options.Date, s.options.Revision, s.fingerprint} {
			c.text(text)
		}
		c.end()
	}
	_, err := io.WriteString(w, c.b.String())
	return err
}
