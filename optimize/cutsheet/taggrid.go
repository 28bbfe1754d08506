package cutsheet

import (
	"fmt"
	"strconv"

	"example.com/longpoint/internal/fault"
	"example.com/longpoint/measure"
)

// A TagGrid is the layout of tags on a page, as the package of adhesive label paper gives it:
// columns and rows of equal tags between the margins. The zero value means plain paper that is
// cut apart: 3 columns and 8 rows with margins of 1/2 in, or 12 mm if lengths are metric. If
// Columns and Rows are given, only the page size has a default: zero margins and gaps mean
// none.
type TagGrid struct {
	// Columns and Rows are the numbers of tags side by side and one below the other: 1 to 100,
	// or zero for both. A tag must be at least 1 in wide and 1/2 in high.
	Columns, Rows int

	// PageWidth and PageHeight are the size of the page; zero for both means Letter, 8-1/2 x 11
	// in, or A4, 210 x 297 mm, if lengths are metric. No length here may be negative or over
	// 100 in.
	PageWidth, PageHeight measure.Length

	// The margins between the edges of the page and the outer tags, and the gaps between tags.
	Top, Bottom, Left, Right measure.Length
	ColumnGap, RowGap        measure.Length

	// Skip is the number of used places on the first page, row by row.
	Skip int

	// ByRoom orders the tags by room and wall, as they are handed out, instead of by cut.
	ByRoom bool
}

// The least size at which a tag is useful. Derived: the length in 12 pt letters and three lines
// in 6 pt, the smallest that can be read at arm's length.
const leastTagWidth, leastTagHeight = measure.Inch, measure.Inch / 2

const (
	mostTags = 100 // columns, or rows, of a page
	mostPage = 100 * measure.Inch
)

// filled returns the grid with its defaults.
func (g TagGrid) filled(metric bool) TagGrid {
	if g.PageWidth == 0 && g.PageHeight == 0 {
		g.PageWidth, g.PageHeight = 17*measure.Inch/2, 11*measure.Inch
		if metric {
			g.PageWidth, g.PageHeight = 210*measure.Millimeter, 297*measure.Millimeter
		}
	}
	if g.Columns == 0 && g.Rows == 0 {
		g.Columns, g.Rows = 3, 8
		edge := measure.Inch / 2
		if metric {
			edge = 12 * measure.Millimeter
		}
		g.Top, g.Bottom, g.Left, g.Right, g.ColumnGap, g.RowGap = edge, edge, edge, edge, 0, 0
	}
	return g
}

// check returns all faults of the grid.
func (g TagGrid) check(metric bool) error {
	var f fault.List
	if (g.Columns != 0) != (g.Rows != 0) || g.Columns < 0 || g.Columns > mostTags || g.Rows < 0 || g.Rows > mostTags {
		f.Add("columns", fmt.Sprintf("%d columns and %d rows", g.Columns, g.Rows), fmt.Sprintf("1 to %d of both, or zero of both", mostTags))
	}
	if (g.PageWidth == 0) != (g.PageHeight == 0) {
		name := "page_height"
		if g.PageWidth == 0 {
			name = "page_width"
		}
		f.Add(name, "", "a length, since the other one is given")
	}
	for _, l := range [...]struct {
		name   string
		length measure.Length
	}{
		{"page_width", g.PageWidth}, {"page_height", g.PageHeight}, {"top", g.Top}, {"bottom", g.Bottom}, {"left", g.Left}, {"right", g.Right},
		{"column_gap", g.ColumnGap}, {"row_gap", g.RowGap},
	} {
		if l.length < 0 || l.length > mostPage {
			f.Add(l.name, l.length.About(), "zero or more, and at most "+mostPage.About())
		}
	}
	if g.Skip < 0 {
		f.Add("skip", strconv.Itoa(g.Skip), "zero or more")
	}
	if len(f) > 0 {
		return f.Err()
	}
	g = g.filled(metric)
	if w := g.width(); w < leastTagWidth {
		f.Add("columns", strconv.Itoa(g.Columns)+" columns that leave a tag a width of "+w.About(), "at least "+leastTagWidth.About())
	}
	if h := g.height(); h < leastTagHeight {
		f.Add("rows", strconv.Itoa(g.Rows)+" rows that leave a tag a height of "+h.About(), "at least "+leastTagHeight.About())
	}
	if g.Skip >= g.Columns*g.Rows {
		f.Add("skip", strconv.Itoa(g.Skip), fmt.Sprintf("less than the %d tags of a page", g.Columns*g.Rows))
	}
	return f.Err()
}

// width and height return the size of a tag.
func (g *TagGrid) width() measure.Length {
	n := measure.Length(g.Columns)
	return (g.PageWidth - g.Left - g.Right - (n-1)*g.ColumnGap) / n
}

func (g *TagGrid) height() measure.Length {
	n := measure.Length(g.Rows)
	return (g.PageHeight - g.Top - g.Bottom - (n-1)*g.RowGap) / n
}

// left and top return the start of a column and a row: each by itself, so that rounding errors
// do not add up.
func (g *TagGrid) left(column int) measure.Length {
	n, k := measure.Length(g.Columns), measure.Length(column)
	return g.Left + k*g.ColumnGap + (g.PageWidth-g.Left-g.Right-(n-1)*g.ColumnGap)*k/n
}

func (g *TagGrid) top(row int) measure.Length {
	n, k := measure.Length(g.Rows), measure.Length(row)
	return g.Top + k*g.RowGap + (g.PageHeight-g.Top-g.Bottom-(n-1)*g.RowGap)*k/n
}
