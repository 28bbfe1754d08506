package main

import (
	"fmt"
	"strings"
	"testing"
)

const pieces = `[...document.querySelectorAll("#pieces .row")].map((r) => ["quantity", "length", "label"].map((f) => r.querySelector("[data-field=" + f + "]").value).join(" ").trim()).join("|")`

// Several lines become rows; unreadable lines are reported one by one.
func TestBrowserList(t *testing.T) {
	b := page(t)
	before := value[string](b, pieces)
	value[any](b, "document.querySelector('#pieces .add').click()")
	b.Paste("`3 @ 41 1/2 closet\\r\\n\\n# a comment\\n2x 7' 4-3/4\" hall N\\n(4) 12 ½ 廊下`")
	b.note("3 pieces were added")
	if got, want := value[string](b, pieces), before+`|3 3' 5-1/2" closet|2 7' 4-3/4" hall N|4 1' 1/2" 廊下`; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if got := b.focus(); got != "piece 4: Name" {
		t.Errorf("the focus is in %q", got)
	}
	b.Press("Enter")
	b.settled("done")
	b.sheet("closet", "廊下")
	value[any](b, "document.querySelector('#note button').click()")
	if got := value[string](b, pieces); got != before+"|" {
		t.Errorf("after undoing, it is %s", got)
	}

	// One line is the field's own.
	value[any](b, "document.querySelector('#pieces .row:last-child input').focus()")
	b.Paste("`one line\\n`")
	if got := value[string](b, "document.activeElement.value"); got != "one line" {
		t.Errorf("the field holds %q", got)
	}

	// Faults by line, and the keyboard in the first.
	b.Paste("`3 @ 41 1/2 closet\\n2x4\\nlong\\n12' 3\"`")
	b.Until("!document.getElementById('list-faults').hidden")
	if got := value[string](b, "document.getElementById('list-faults').innerText"); !strings.Contains(got, "Line 2") || !strings.Contains(got, "Line 3") || strings.Contains(got, "Line 4") {
		t.Errorf("the faults are %q", got)
	}
	selected := "((l) => l.value.slice(l.selectionStart, l.selectionEnd))(document.activeElement)"
	if got := value[string](b, selected); got != "2x4" {
		t.Errorf("%q is selected", got)
	}
	b.shot("list")
	value[any](b, "document.querySelectorAll('#list-faults button')[1].click()")
	if got := value[string](b, selected); got != "long" {
		t.Errorf("%q is selected", got)
	}
	b.Insert("6 ft")
	value[any](b, "document.querySelectorAll('#list-faults button')[0].click()")
	b.Insert("2 @ 4")
	value[any](b, "document.getElementById('take').click(), document.getElementById('take').click()") // a double click
	b.note("4 pieces were added")
	if got := value[int](b, "document.querySelectorAll('#pieces .row').length"); got != 8 {
		t.Errorf("%d rows", got)
	}
	b.quiet()
}

// A malformed list is rejected or repaired, and the page keeps working.
func TestBrowserHugeList(t *testing.T) {
	b := page(t)
	value[any](b, "document.querySelector('#pieces .add').click()")
	refused := func(list, says string) {
		t.Helper()
		value[any](b, "document.querySelector('#pieces input').focus()")
		b.Paste(list)
		b.Until(fmt.Sprintf("document.getElementById('list-faults').innerText.includes(%q)", says))
		if got := value[int](b, "document.querySelectorAll('#pieces .row').length"); got != 4 {
			t.Errorf("%d rows", got)
		}
	}
	refused("Array.from({ length: 100000 }, (_, i) => '3 @ ' + (i + 1) + ' wall ' + i).join('\\n')", "100000 different pieces")
	refused("Array.from({ length: 100000 }, (_, i) => 'bad').join('\\n')", "And 80 more")
	refused("'1\\n'.repeat(5000000)", "too long")
	refused("'\\n# nothing\\n// at all\\n'", "no piece")
	refused("Array.from({ length: 999 }, (_, i) => i + 1).join('\\n')", "more than 1000 rows")

	value[any](b, "document.querySelector('#pieces .row:last-child input').focus()")
	b.Paste("'3 @ 41 1/2 closet\\n2 @ 30\\n'.repeat(50000)")
	b.note("2 pieces were added")
	if got := value[string](b, pieces); !strings.HasSuffix(got, `|150000 3' 5-1/2" closet|100000 2' 6"`) {
		t.Errorf("got %s", got)
	}
	// As many as there may be.
	value[any](b, "document.querySelector('#pieces .add').click()")
	b.Paste("Array.from({ length: 995 }, (_, i) => i % 90 + 1 + ' wall ' + i).join('\\n')")
	b.note("995 pieces were added")
	value[any](b, "document.querySelector('#pieces .add').click()")
	if got := value[int](b, "document.querySelectorAll('#pieces .row').length"); got != 1000 {
		t.Errorf("%d rows", got)
	}
	b.quiet()
}
