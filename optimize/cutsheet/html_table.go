package cutsheet

import (
	"strings"

	"example.com/longpoint/internal/typeset"
)

// heads writes the head of a table: names of columns, each with its class.
func (h *page) heads(columns ...string) {
	h.Open("thead")
	h.headRow(columns...)
	h.Close()
	h.Line()
}

// headRow writes the row of it.
func (h *page) headRow(columns ...string) {
	h.columns = columns
	h.Open("tr")
	for i := 0; i < len(columns); i += 2 {
		attrs := []string{"scope", "col"}
		if columns[i+1] != "" {
			attrs = append(attrs, "class", columns[i+1])
		}
		h.Leaf("th", columns[i], attrs...)
	}
	h.Close()
}

// tr begins a row of a table, of a class or none.
func (h *page) tr(class string) {
	h.column = 0
	if class == "" {
		h.Open("tr")
		return
	}
	h.Open("tr", "class", class)
}

// td begins a cell. It carries the name of its column, for screens too narrow for columns; a
// box to tick needs none.
func (h *page) td(class string) {
	var attrs []string
	if class != "" {
		attrs = append(attrs, "class", class)
	}
	if i := 2 * h.column; i < len(h.columns) && !strings.HasPrefix(h.columns[i+1], "tick") {
		attrs = append(attrs, "data-column", h.columns[i])
	}
	h.column++
	h.Open("td", attrs...)
}

func (h *page) cell(text, class string) {
	h.td(class)
	h.Chars(text)
	h.Close()
}

// lengthCell writes a length, which is kept on one line unless it is in words.
func (h *page) lengthCell(length, class string) {
	if typeset.Cells(length) > typeset.KeptMost {
		h.cell(length, strings.TrimSuffix("num "+class, " "))
		return
	}
	h.td(strings.TrimSuffix("n "+class, " "))
	h.Raw(typeset.Escape(typeset.Unmarked(length))) // the cell keeps it
	h.Close()
}

// label writes foreign text so that its direction does not affect the rest.
func (h *page) label(text string) {
	h.td("")
	h.Leaf("bdi", text)
	h.Close()
}

// box writes a box to tick, with its purpose.
func (h *page) box(purpose string) {
	h.Void("input", "type", "checkbox", "aria-label", purpose, "autocomplete", "off")
}
