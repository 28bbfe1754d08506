package paper

import "slices"

// A pen writes a document as text or as a page, so that the contents and the order of the
// documents are defined once for both.
type pen interface {
	// title heads the document, with lines below it.
	title(text string, lines []string)
	// day begins one of several sheets, each on a separate page. who may be empty.
	day(heading, who string, first bool)
	// section begins a part with a heading. One that is whole stays on one page.
	section(heading string, whole bool)
	// end ends the section or the day begun last.
	end()
	// para writes a paragraph; a small one is a remark on the preceding text.
	para(text string, small bool)
	// facts writes names and their values, in lines.
	facts(all []fact)
	// lists writes texts below each other, with or without boxes to tick.
	lists(all []list, boxes bool)
	// care writes cautions prominently.
	care(all []Caution)
	// table writes rows.
	table(t *table)
	// sign writes the lines for a signature and its date.
	sign(who string)
}

// fact is a name and its value, in lines.
type fact struct {
	name  string
	lines []string
}

// list is texts under a heading, which may be empty.
type list struct {
	heading string
	items   []string
}

// column is one column of a table.
type column struct {
	name  string
	kind  columnKind
	label bool // in stacked rows, the name precedes each text, which is not clear by itself
}

type columnKind uint8

const (
	columnText  columnKind = iota
	columnShort            // as narrow as its longest text
	columnMoney            // the same, aligned right
	columnTick             // with a box to tick in each row
)

// table is rows under a head, in groups with or without headings.
type table struct {
	caption string // title above the rows of each group on each page; may be empty
	columns []column
	groups  []group
	foot    []row
	plain   bool // without a visible head: the texts explain themselves
}

type group struct {
	heading string // empty for none
	rows    []row
}

// row is a line of a table, with the cautions to read before it.
type row struct {
	before []Caution
	cells  []cell
}

// cell is a text with lists below it.
type cell struct {
	text   string
	strong bool     // text stands out
	box    string   // label of a box to tick instead of text; empty for no box
	lines  []string // below the text
	ticks  []string // below that, each with a box to tick
}

// words returns cells of one text each.
func words(texts ...string) (cells []cell) {
	for _, t := range texts {
		cells = append(cells, cell{text: t})
	}
	return cells
}

// withoutEmpty removes the columns that are empty in all rows, but leaves at least one.
func (t *table) withoutEmpty() {
	for k := len(t.columns) - 1; k >= 0; k-- {
		said := t.columns[k].kind == columnTick || len(t.columns) == 1
		for _, g := range t.groups {
			for _, r := range g.rows {
				c := &r.cells[k]
				said = said || c.text != "" || len(c.lines) > 0 || len(c.ticks) > 0
			}
		}
		if said {
			continue
		}
		t.columns = slices.Delete(t.columns, k, k+1)
		for _, g := range t.groups {
			for i := range g.rows {
				g.rows[i].cells = slices.Delete(g.rows[i].cells, k, k+1)
			}
		}
	}
}
