package paper

import "slices"

// A pen writes a document: as text, or as a page. What the documents consist of, and in which
// order, is said once, for both.
type pen interface {
	// title heads the document, with lines below it.
	title(text string, lines []string)
	// day begins a sheet of several, each on a page of its own. Who works may be empty.
	day(heading, who string, first bool)
	// section begins a part with a heading. One that is whole stays on one page.
	section(heading string, whole bool)
	// end ends the section or the day that was begun last.
	end()
	// para writes a paragraph; a small one is a remark on what stands before it.
	para(text string, small bool)
	// facts writes names and what each stands for, in lines.
	facts(all []fact)
	// lists writes texts below each other, each with a box to tick or without.
	lists(all []list, boxes bool)
	// care writes cautions so that nobody overlooks them.
	care(all []Caution)
	// table writes rows.
	table(t *table)
	// sign writes where somebody signs, and when.
	sign(who string)
}

// fact is a name and what it stands for, in lines.
type fact struct {
	name  string
	lines []string
}

// list is texts under a heading, which may be empty.
type list struct {
	heading string
	items   []string
}

// column is one of a table.
type column struct {
	name  string
	kind  columnKind
	label bool // where rows are stacked, the name stands before each text: it does not say what it is by itself
}

type columnKind uint8

const (
	columnText  columnKind = iota
	columnShort            // as narrow as its longest text
	columnMoney            // so, and to the right
	columnTick             // with a box to tick in each row
)

// table is rows under a head, in groups with a heading or without.
type table struct {
	caption string // what the table is of, which stands above the rows of each group on each page; may be empty
	columns []column
	groups  []group
	foot    []row
	plain   bool // without a visible head: the texts say themselves what they are
}

type group struct {
	heading string // empty for none
	rows    []row
}

// row is a line of a table, with what must be read before it.
type row struct {
	before []Caution
	cells  []cell
}

// cell is a text with lists below it.
type cell struct {
	text   string
	strong bool     // text stands out
	box    string   // what a box to tick in the place of text is for; empty for no box
	lines  []string // below the text
	ticks  []string // below that, each with a box to tick
}

// words are cells of a text each.
func words(texts ...string) (cells []cell) {
	for _, t := range texts {
		cells = append(cells, cell{text: t})
	}
	return cells
}

// withoutEmpty takes the columns away of which no row says anything; one is left.
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
